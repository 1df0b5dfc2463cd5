#include "draw/photo.h"

#include "draw/forms.h"
#include "draw/projection.h"
#include "draw/shapes.h"

#define LEAST_SEEN 0.2 /* of a panel's length: less of its turning seen in the view says too little */

/* ---- Where it lies ---- */

FwVec2
fw_photo_to_plane (const FwPhotoPlace *t, FwVec2 p)
{
  return fw_vec2 (t->c * p.x - t->s * p.y + t->x0, t->s * p.x + t->c * p.y + t->y0);
}

FwVec2
fw_photo_from_plane (const FwPhotoPlace *t, FwVec2 q)
{
  double x = q.x - t->x0, y = q.y - t->y0, size2 = t->c * t->c + t->s * t->s;
  return fw_vec2 ((t->c * x + t->s * y) / size2, (t->c * y - t->s * x) / size2);
}

double
fw_photo_scale (const FwPhotoPlace *t)
{
  return hypot (t->c, t->s);
}

double
fw_photo_tilt_deg (const FwPhotoPlace *t)
{
  return atan2 (t->s, t->c) * 180 / G_PI;
}

FwPhotoPlace
fw_photo_place_in (double width, double height, FwBox extent)
{
  double scale = fmin (extent.width / fmax (width, 1), extent.height / fmax (height, 1));
  return (FwPhotoPlace){ scale, 0, extent.x + (extent.width - scale * width) / 2,
                         extent.y + (extent.height - scale * height) / 2 };
}

gboolean
fw_photo_place_by_points (const FwVec2 pixels[2], const FwVec2 plane[2], FwPhotoPlace *place)
{
  double x = pixels[1].x - pixels[0].x, y = pixels[1].y - pixels[0].y;
  double u = plane[1].x - plane[0].x, v = plane[1].y - plane[0].y, length2 = x * x + y * y;
  if (!(length2 > 1e-6) || !(u * u + v * v > 1e-6) || !isfinite (length2 + u + v))
    return FALSE;
  /* The quotient (u + iv) / (x + iy). */
  double c = (u * x + v * y) / length2, s = (v * x - u * y) / length2;
  *place = (FwPhotoPlace){ c, s, plane[0].x - (c * pixels[0].x - s * pixels[0].y),
                           plane[0].y - (s * pixels[0].x + c * pixels[0].y) };
  return TRUE;
}

gboolean
fw_photo_place_by_distance (const FwVec2 pixels[2], double mm, FwPhotoPlace *place)
{
  double apart = fw_vec2_distance (pixels[0], pixels[1]), size = fw_photo_scale (place);
  if (!(mm > 0) || !isfinite (mm) || !(apart > 1e-3) || !(size > 0))
    return FALSE;
  FwVec2 kept = fw_photo_to_plane (place, pixels[0]);
  double grow = mm / apart / size;
  *place = (FwPhotoPlace){ place->c * grow, place->s * grow, 0, 0 };
  FwVec2 now = fw_photo_to_plane (place, pixels[0]);
  place->x0 = kept.x - now.x;
  place->y0 = kept.y - now.y;
  return TRUE;
}

FwVec2
fw_plane_of_page (const FwCamera *camera, FwVec2 page)
{
  return fw_vec2 ((page.x - camera->x) / camera->scale, (page.y - camera->y) / camera->scale);
}

/* ---- What can be read off it ---- */

static FwVec3
turned (FwVec3 p, FwVec3 axis, double angle)
{
  FwVec3 along = fw_vec3_scale (axis, fw_vec3_dot (axis, p)), across = fw_vec3_sub (p, along);
  return fw_vec3_add (along, fw_vec3_add (fw_vec3_scale (across, cos (angle)),
                                          fw_vec3_scale (fw_vec3_cross (axis, p), sin (angle))));
}

/* Direction `p` of a member's pose as what carries it was measured, from the outermost hinge inwards. */
static FwVec3
carried (const FwMechanism *m, const FwPose *pose, const double *known, int member, FwVec3 p)
{
  for (int i = m->members[member].parent; i >= 0; i = m->members[i].parent)
    if (known != NULL && isfinite (known[i]))
      p = turned (p, pose->members[i].axis, known[i] - fw_pose_angle (pose, m, i));
  return p;
}

gboolean
fw_photo_read_angle (const FwMechanism *m, const FwPose *pose, const double *known, FwView view, int member,
                     FwVec2 hinge, FwVec2 tip, double *angle)
{
  const FwMemberPose *at = &pose->members[member];
  FwViewAxes axes = fw_view_axes (view);
  FwVec2 d = fw_vec2 (tip.x - hinge.x, tip.y - hinge.y), local = fw_form_tip (m->design, m->members[member].panel);
  double length = hypot (d.x, d.y);
  if (at->closure != FW_CLOSES || !(length > 1e-6))
    return FALSE;
  FwVec3 axis = carried (m, pose, known, member, at->axis);
  FwVec3 reach = carried (m, pose, known, member, fw_frame_turn (&at->motion.at, fw_vec3 (local.x, local.y, 0)));
  FwVec3 still = fw_vec3_scale (axis, fw_vec3_dot (axis, reach));
  const FwVec3 parts[3] = { still, fw_vec3_sub (reach, still), fw_vec3_cross (axis, reach) };
  double side[3], ahead[3]; /* across and along the line that was clicked */
  for (int i = 0; i < 3; i++)
    {
      double x = fw_vec3_dot (axes.right, parts[i]), y = -fw_vec3_dot (axes.up, parts[i]);
      side[i] = (x * d.y - y * d.x) / length;
      ahead[i] = (x * d.x + y * d.y) / length;
    }
  /* side0 + side1 cos a + side2 sin a = 0 */
  double swing = hypot (side[1], side[2]), lead = atan2 (side[2], side[1]);
  if (swing < LEAST_SEEN * sqrt (fw_vec3_dot (reach, reach)) || fabs (side[0]) > swing)
    return FALSE;
  double half = acos (-side[0] / swing), best = INFINITY;
  for (int root = -1; root <= 1; root += 2)
    {
      double a = remainder (lead + root * half, 2 * G_PI);
      if (ahead[0] + ahead[1] * cos (a) + ahead[2] * sin (a) > 0 && fabs (a) < fabs (best))
        best = a;
    }
  if (!isfinite (best))
    return FALSE;
  *angle = fw_pose_angle (pose, m, member) + best;
  return TRUE;
}

/* ---- Paint ---- */

void
fw_photo_paint (cairo_t *cr, const FwPhoto *photo, const FwCamera *camera)
{
  if (photo == NULL || photo->picture == NULL || photo->view != camera->view || photo->opacity <= 0)
    return;
  const FwPhotoPlace *t = &photo->place;
  const cairo_matrix_t place = { t->c, t->s, -t->s, t->c, t->x0, t->y0 };
  cairo_save (cr);
  cairo_translate (cr, camera->x, camera->y);
  cairo_scale (cr, camera->scale, camera->scale);
  cairo_transform (cr, &place);
  cairo_set_source_surface (cr, photo->picture, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
  cairo_paint_with_alpha (cr, fmin (photo->opacity, 1));
  cairo_restore (cr);
}

static void
path_cross (cairo_t *cr, FwVec2 at, double inner, double outer)
{
  for (int i = 0; i < 4; i++)
    {
      double x = i == 0 ? 1 : i == 1 ? -1 : 0, y = i == 2 ? 1 : i == 3 ? -1 : 0;
      cairo_move_to (cr, at.x + inner * x, at.y + inner * y);
      cairo_line_to (cr, at.x + outer * x, at.y + outer * y);
    }
}

/* A light rim below, so that it is seen on any picture. */
static void
stroke_seen (cairo_t *cr, const FwStyle *style)
{
  fw_set_colour (cr, fw_colour_fade (style->ground, 0.85));
  cairo_set_line_width (cr, 2.4 * style->wide);
  cairo_stroke_preserve (cr);
  fw_set_colour (cr, style->motion);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
}

void
fw_photo_paint_marks (cairo_t *cr, const FwPhoto *photo, const FwCamera *camera, const FwStyle *style)
{
  if (photo == NULL || photo->view != camera->view)
    return;
  double r = 4.5 * style->wide;
  cairo_save (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  for (int i = 0; i < photo->n_marks; i++)
    {
      FwVec2 at = fw_vec2 (camera->x + photo->marks[i].x * camera->scale, camera->y + photo->marks[i].y * camera->scale);
      cairo_new_sub_path (cr);
      cairo_arc (cr, at.x, at.y, r, 0, 2 * G_PI);
      path_cross (cr, at, 0.35 * r, r);
    }
  stroke_seen (cr, style);
  if (photo->has_cross)
    {
      path_cross (cr, fw_vec2 (camera->x + photo->cross.x * camera->scale, camera->y + photo->cross.y * camera->scale),
                  0.6 * r, 3 * r);
      stroke_seen (cr, style);
    }
  cairo_restore (cr);
}
