/* Rounded solids: body, head, arms. */
#include "draw/skin.h"

/* Which way the skin looks where an eye sits on it (along the reach, across, up): square to the
 * slope of the half width, so that an owl's eyes look ahead and a heron's to the sides. */
static FwVec3
skin_normal (const FwSolid *solid, double at, double up, double half, double step)
{
  double along
      = fw_form_half_width (solid, at + step, up) - fw_form_half_width (solid, at - step, up);
  double rise
      = fw_form_half_width (solid, at, up + step) - fw_form_half_width (solid, at, up - step);
  FwVec3 normal
      = half > 0 ? fw_vec3 (-along / (2 * step), 1, -rise / (2 * step)) : fw_vec3 (0, 1, 0);
  return fw_vec3_scale (normal, 1 / fw_vec3_length (normal));
}

static void
add_eye (FwDrawing *d, const FwSolid *solid, const FwFrame *frame, gboolean body, FwPart part,
         double depth)
{
  double at = solid->eye_mm[0], up = solid->eye_mm[1], radius = solid->eye_mm[2];
  double half = fw_form_half_width (solid, at, up);
  FwVec3 normal = skin_normal (solid, at, up, half, 0.4 * radius);
  for (int side = -1; side <= 1; side += 2)
    {
      FwVec3 out = fw_frame_turn (
          frame, fw_skin_in_frame (fw_vec3 (normal.x, side * normal.y, normal.z), body));
      FwVec3 centre
          = fw_frame_to_world (frame, fw_skin_in_frame (fw_vec3 (at, side * half, up), body));
      if (fw_vec3_dot (out, d->axes.toward) < 0.12 || radius * d->camera.scale < 0.4)
        continue;
      for (int ring = 0; ring < 2; ring++)
        {
          double r = ring == 0 ? radius * 1.35 : radius * 0.95;
          FwPiece *eye = fw_drawing_cylinder (d, part, ring == 0 ? "paper" : "jet", centre,
                                              fw_vec3_along (centre, 0.1, out), 2 * r);
          eye->depth = depth + 0.3 + 0.1 * ring;
        }
    }
}

/* How many px its girth and length take up decides how fine the net must be to look round. */
static int
fineness (const FwDrawing *d, const FwSolid *solid)
{
  double girth = 0,
         length = solid->sections[solid->n_sections - 1].at_mm - solid->sections[0].at_mm;
  for (int i = 0; i < solid->n_sections; i++)
    girth = fmax (girth, fmax (2 * solid->sections[i].half_width_mm,
                               solid->sections[i].high_mm - solid->sections[i].low_mm));
  double seen = d->camera.scale * fmax (girth, 0.3 * fabs (length)) / (d->line / 1.5);
  return seen < 26 ? 0 : seen < 130 ? 1 : 2;
}

/* The net of a solid is the same for both members of a pair and for every pose, but cheap. */
static void
add_solid (FwDrawing *d, const FwSolid *solid, const FwFrame *frame, gboolean body, FwPart part,
           const char *material)
{
  FwNet net;
  FwSkin skin;
  fw_form_net (solid, fineness (d, solid), &net);
  if (net.rings < 3)
    return;
  fw_skin_lay (d, &net, frame, body, &skin);
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_SOLID, part, FW_LAYER_WORK, material);
  double depth = 0, girth = 0;
  for (int s = 0; s < net.rings; s++)
    {
      depth += (skin.depth[s][0] + skin.depth[s][net.round / 2]) / 2;
      girth = fmax (girth, fabs (net.points[s][0].y));
    }
  piece->depth = depth / net.rings;
  fw_skin_trace (d, piece, &skin, &net, fmax (0.8 * girth, 1));
  if (solid->has_eye)
    add_eye (d, solid, frame, body, part, piece->depth);
}

void
fw_drawing_add_solids (FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  FwSection buffer[FW_FORM_SECTIONS];
  FwSolid body = fw_form_body (m->design, buffer);
  guint from = d->pieces->len;
  add_solid (d, &body, &d->scene->pose->body.motion.at, TRUE, (FwPart){ FW_PART_BODY, 0 }, "paper");
  /* The post ends inside the body, so the body is drawn over it. */
  for (guint i = 0; i < from && from < d->pieces->len; i++)
    {
      FwPiece *p = &g_array_index (d->pieces, FwPiece, i),
              *solid = &g_array_index (d->pieces, FwPiece, from);
      if (p->part.kind == FW_PART_BODY && p->kind == FW_PIECE_TUBE)
        p->depth = fmin (p->depth, solid->depth - 1);
    }
  for (int i = 0; i < m->n_members; i++)
    {
      const FwPanel *panel = &m->design->panels[m->members[i].panel];
      if (panel->solid.n_sections >= 2)
        add_solid (d, &panel->solid, &d->scene->pose->members[i].motion.at, FALSE,
                   (FwPart){ FW_PART_MEMBER, i }, panel->material);
    }
}
