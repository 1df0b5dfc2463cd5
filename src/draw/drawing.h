/* A picture laid out as plain numbers: everything that will be painted, in page px, before any
 * paint. Painting, picking and hidden lines all read the same pieces. */
#pragma once

#include "draw/forms.h"
#include "draw/projection.h"
#include "draw/shapes.h"

G_BEGIN_DECLS

typedef enum
{
  FW_PIECE_FACES, /* flat faces with one outline around all of them */
  FW_PIECE_ROUND, /* a short cylinder: its ink, its hull, the ink of its near end, its near end */
  FW_PIECE_TUBE,  /* a round bar along a line */
  FW_PIECE_SHEET, /* flat faces of a panel, with score lines */
  FW_PIECE_SOLID, /* the silhouette of a skin, its contours and ribs */
} FwPieceKind;

/* Back to front first by layer, then by depth. */
typedef enum
{
  FW_LAYER_GROUND,
  FW_LAYER_BASE,
  FW_LAYER_WORK,
  FW_LAYER_TOP
} FwLayer;

typedef struct
{
  int first, n; /* in FwDrawing.points */
  double tone;  /* -1 deepest shade .. 0 .. +1 light */
} FwFace;

typedef struct
{
  FwPieceKind kind;
  FwPart part;
  FwLayer layer;
  double depth; /* mm towards the viewer */
  FwMaterialLook look;
  int first_face, n_faces; /* FACES, SHEET; loops of a SOLID, filled as one */
  int first, n;            /* TUBE: its line */
  double width;            /* TUBE: px */
  gboolean flat_ends;      /* TUBE: cut square; else round */
  int joint;               /* TUBE: 0, or its place in a chain of pieces that go on in each other */
  int first_strip, n_strips;     /* SOLID: toned strips between its seams, in FwDrawing.faces */
  int first_contour, n_contours; /* SOLID: open lines, in FwDrawing.faces */
  int first_rib, n_ribs;         /* SOLID, SHEET: open lines, in FwDrawing.faces */
  int first_rim, n_rim;          /* SHEET: the outline around all its faces, in FwDrawing.points */
  gboolean faint;                /* not assembled here: drawn thin */
  gboolean shows_through;        /* dashed where something covers it */
  gboolean covers;               /* hides what is behind it */
  FwBox bounds;
} FwPiece;

typedef struct
{
  const FwScene *scene;
  FwCamera camera;
  FwViewAxes axes;
  FwTheme theme;
  double line;    /* px of a wide line: what is thinner than a few of these is left out */
  GArray *points; /* FwVec2 */
  GArray *faces;  /* FwFace */
  GArray *pieces; /* FwPiece, sorted back to front once built */
} FwDrawing;

/* Lays the sculpture out. Free with fw_drawing_clear (). */
void fw_drawing_build (FwDrawing *drawing, const FwScene *scene, const FwCamera *camera,
                       const FwStyle *style);
void fw_drawing_clear (FwDrawing *drawing);

/* The same, part by part, for those who need only some. */
void fw_drawing_open (FwDrawing *drawing, const FwScene *scene, const FwCamera *camera,
                      const FwStyle *style);
void fw_drawing_add_stand (FwDrawing *drawing);
void fw_drawing_add_crank (FwDrawing *drawing);
void fw_drawing_add_post (FwDrawing *drawing);
void fw_drawing_add_solids (FwDrawing *drawing);
void fw_drawing_add_panels (FwDrawing *drawing);
void fw_drawing_add_rods (FwDrawing *drawing);
void fw_drawing_add_springs (FwDrawing *drawing);
void fw_drawing_add_weights (FwDrawing *drawing);
/* What carries a point of the base: an upright, on an arm where it stands beyond the plate. */
void fw_drawing_add_foot (FwDrawing *drawing, FwVec3 at);
void fw_drawing_sort (FwDrawing *drawing);

/* Building blocks. */
FwPiece *fw_drawing_begin (FwDrawing *drawing, FwPieceKind kind, FwPart part, FwLayer layer,
                           const char *material);
void fw_drawing_point (FwDrawing *drawing, FwVec2 point);
FwVec2 fw_drawing_project (const FwDrawing *drawing, FwVec3 world);
double fw_drawing_depth (const FwDrawing *drawing, FwVec3 world);
/* A face from world points; tone by its outward normal. */
void fw_drawing_face (FwDrawing *drawing, FwPiece *piece, const FwVec3 *points, int n, double tone);
double fw_drawing_tone (const FwDrawing *drawing, FwVec3 normal);
/* A round bar between two points, ends round (long thin parts). */
FwPiece *fw_drawing_bar (FwDrawing *drawing, FwPart part, const char *material, FwVec3 a, FwVec3 b,
                         double diameter_mm);
/* A short cylinder with flat ends that show as ellipses. */
FwPiece *fw_drawing_cylinder (FwDrawing *drawing, FwPart part, const char *material, FwVec3 a,
                              FwVec3 b, double diameter_mm);
/* A box by its centre and three half edges. */
FwPiece *fw_drawing_block (FwDrawing *drawing, FwPart part, FwLayer layer, const char *material,
                           FwVec3 centre, FwVec3 a, FwVec3 b, FwVec3 c);

/* The points from `first` on, page px; the drawing's own, and good until a point is added. */
static inline FwVec2 *
fw_drawing_points (const FwDrawing *drawing, int first)
{
  return &g_array_index (drawing->points, FwVec2, first);
}

/* True if the piece covers the page point. */
gboolean fw_piece_holds (const FwDrawing *drawing, const FwPiece *piece, FwVec2 p);
/* Distance from the page point to the piece, page px; 0 inside. */
double fw_piece_distance (const FwDrawing *drawing, const FwPiece *piece, FwVec2 p);

/* Where a panel's sheet lies on the page: its middle plane, n points written to `out` (capacity
 * FW_MOST_OUTLINE). Returns n; 0 if the panel is a solid only. */
#define FW_MOST_OUTLINE 256
int fw_panel_on_page (const FwScene *scene, const FwCamera *camera, const FwPose *pose, int member,
                      FwVec2 *out);

/* A link that cannot be assembled: where its rod ends, given its true length. FALSE if it closes.
 */
gboolean fw_link_broken (const FwScene *scene, int link, FwVec3 *end);

G_END_DECLS
