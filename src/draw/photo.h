/* A photograph of the real thing under a view: where it lies, and what can be read off it.
 *
 * The view's plane is measured in mm from the projection of the world's origin, x to the right and y down, as the
 * page is; a photograph in its own px, x to the right and y down from its upper left corner. */
#pragma once

#include "draw/style.h"
#include "draw/view.h"

G_BEGIN_DECLS

/* From the photograph to the plane: x' = c x - s y + x0, y' = s x + c y + y0. Never mirrored. */
typedef struct
{
  double c, s;   /* mm per px, times the cosine and sine of its tilt */
  double x0, y0; /* mm: where its upper left corner lies */
} FwPhotoPlace;

#define FW_PHOTO_MARKS 4

typedef struct FwPhoto
{
  cairo_surface_t *picture; /* an image surface; NULL: none */
  FwView view;              /* the view it lies under: front or side */
  FwPhotoPlace place;
  double opacity;           /* 0..1 */
  FwVec2 marks[FW_PHOTO_MARKS]; /* points clicked so far, mm in the plane */
  int n_marks;
  gboolean has_cross; /* the place that the keys move */
  FwVec2 cross;       /* mm in the plane */
} FwPhoto;

FwVec2 fw_photo_to_plane (const FwPhotoPlace *place, FwVec2 pixel);
FwVec2 fw_photo_from_plane (const FwPhotoPlace *place, FwVec2 plane);
double fw_photo_scale (const FwPhotoPlace *place);    /* mm per px */
double fw_photo_tilt_deg (const FwPhotoPlace *place); /* clockwise on the page, -180..180 */

/* A photograph of width by height px: level, as large as fits, in the middle of a box of the plane (fw_view_extent ()). */
FwPhotoPlace fw_photo_place_in (double width, double height, FwBox extent);

/* So that two points of the photograph (px) come to lie on two points of the plane (mm). FALSE, and nothing
 * written, where either pair is one point. */
gboolean fw_photo_place_by_points (const FwVec2 pixels[2], const FwVec2 plane[2], FwPhotoPlace *place);

/* Keeps the tilt and the place of the first point; the two points are so many mm apart. FALSE as above, and
 * where `mm` is not above 0. */
gboolean fw_photo_place_by_distance (const FwVec2 pixels[2], double mm, FwPhotoPlace *place);

/* The point of the view's plane at a point of the page. */
FwVec2 fw_plane_of_page (const FwCamera *camera, FwVec2 page);

/* The angle (rad) of a member whose hinge and tip are seen at two points of the plane, in a view and in the pose of
 * its crank angle. `known`: angles of the other members as measured there, rad, or NaN (as drawn); may be NULL.
 * FALSE where the panel is seen along its hinge's plane, so that this view cannot tell, or no angle looks so. */
gboolean fw_photo_read_angle (const FwMechanism *mechanism, const FwPose *pose, const double *known, FwView view,
                              int member, FwVec2 hinge, FwVec2 tip, double *angle);

/* Under the work, and its marks over it. Nothing in other views. */
void fw_photo_paint (cairo_t *cr, const FwPhoto *photo, const FwCamera *camera);
void fw_photo_paint_marks (cairo_t *cr, const FwPhoto *photo, const FwCamera *camera, const FwStyle *style);

G_END_DECLS
