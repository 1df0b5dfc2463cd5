/* Rounded solids: body, head, arms. A net is laid over the form; the quads that face the eye make its
 * silhouette, and the line where the skin turns away makes its contour, as a draughtsman would draw it. */
#include "draw/drawing.h"

typedef struct
{
  FwVec2 page[FW_NET_LONG][FW_NET_ROUND];
  double depth[FW_NET_LONG][FW_NET_ROUND];
  double facing[FW_NET_LONG][FW_NET_ROUND]; /* of the outward skin, towards the viewer */
  int rings, round;
} Skin;

static FwVec3
in_frame (FwVec3 p, gboolean body)
{
  return body ? fw_vec3 (p.y, p.x, p.z) : p;
}

/* Normals from the net itself. Their common sense, outward, is settled by the majority: where a form bends
 * sharply a single one may seem to look inward. */
static void
lay_facing (const FwDrawing *d, const FwNet *net, FwVec3 world[FW_NET_LONG][FW_NET_ROUND], Skin *skin)
{
  double outward = 0;
  int last = net->rings - 1;
  for (int s = 0; s < net->rings; s++)
    {
      FwVec3 middle = fw_vec3_scale (fw_vec3_add (world[s][0], world[s][net->round / 2]), 0.5);
      for (int k = 0; k < net->round; k++)
        {
          FwVec3 along = fw_vec3_sub (world[MIN (s + 1, last)][k], world[MAX (s - 1, 0)][k]);
          FwVec3 round = fw_vec3_sub (world[s][(k + 1) % net->round], world[s][(k + net->round - 1) % net->round]);
          FwVec3 normal = fw_vec3_cross (along, round);
          double length = fw_vec3_length (normal);
          if (length < 1e-9)
            {
              skin->facing[s][k] = NAN; /* the point of an end: it looks away from the other end */
              continue;
            }
          skin->facing[s][k] = fw_vec3_dot (normal, d->axes.toward) / length;
          outward += fw_vec3_dot (normal, fw_vec3_sub (world[s][k], middle)) / length;
        }
    }
  FwVec3 ends = fw_vec3_sub (world[last][0], world[0][0]);
  double tip = fw_vec3_dot (ends, d->axes.toward) / fmax (fw_vec3_length (ends), 1e-9);
  for (int s = 0; s < net->rings; s++)
    for (int k = 0; k < net->round; k++)
      skin->facing[s][k] = isnan (skin->facing[s][k]) ? (s < last / 2 ? -tip : tip)
                                                      : skin->facing[s][k] * (outward < 0 ? -1 : 1);
}

static void
lay_skin (const FwDrawing *d, const FwNet *net, const FwFrame *frame, gboolean body, Skin *skin)
{
  FwVec3 world[FW_NET_LONG][FW_NET_ROUND];
  skin->rings = net->rings;
  skin->round = net->round;
  for (int s = 0; s < net->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        world[s][k] = fw_frame_to_world (frame, in_frame (net->points[s][k], body));
        skin->page[s][k] = fw_drawing_project (d, world[s][k]);
        skin->depth[s][k] = fw_drawing_depth (d, world[s][k]);
      }
  lay_facing (d, net, world, skin);
}

static void
add_quads (FwDrawing *d, FwPiece *piece, const Skin *skin)
{
  for (int s = 0; s + 1 < skin->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        int j = (k + 1) % skin->round;
        double a = skin->facing[s][k], b = skin->facing[s][j], c = skin->facing[s + 1][j],
               e = skin->facing[s + 1][k];
        if (a <= 0 && b <= 0 && c <= 0 && e <= 0)
          continue;
        FwVec2 quad[4] = { skin->page[s][k], skin->page[s][j], skin->page[s + 1][j], skin->page[s + 1][k] };
        double area = fw_polygon_area (quad, 4);
        if (fabs (area) < 1e-4)
          continue;
        FwFace face = { .first = (int)d->points->len, .n = 4 };
        /* One sense of turning for all, so that overlapping quads add up and never cancel. */
        for (int i = 0; i < 4; i++)
          fw_drawing_point (d, quad[area > 0 ? i : 3 - i]);
        g_array_append_val (d->faces, face);
        piece->n_faces++;
      }
}

/* True if a quad that faces the eye lies clearly before the point. */
static gboolean
behind_skin (const Skin *skin, FwVec2 p, double depth, double clear)
{
  for (int s = 0; s + 1 < skin->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        int j = (k + 1) % skin->round;
        if (skin->facing[s][k] <= 0 || skin->depth[s][k] < depth + clear
            || skin->depth[s + 1][j] < depth + clear)
          continue;
        const FwVec2 quad[4] = { skin->page[s][k], skin->page[s][j], skin->page[s + 1][j], skin->page[s + 1][k] };
        double low = fmin (fmin (quad[0].y, quad[1].y), fmin (quad[2].y, quad[3].y));
        double high = fmax (fmax (quad[0].y, quad[1].y), fmax (quad[2].y, quad[3].y));
        if (p.y >= low && p.y <= high && fw_polygon_holds (quad, 4, p))
          return TRUE;
      }
  return FALSE;
}

typedef struct
{
  FwVec2 page;
  double depth;
} Crossing;

static gboolean
crossing (const Skin *skin, int s0, int k0, int s1, int k1, Crossing *out)
{
  double a = skin->facing[s0][k0], b = skin->facing[s1][k1];
  if ((a > 0) == (b > 0))
    return FALSE;
  double t = a / (a - b);
  out->page = fw_vec2_mix (skin->page[s0][k0], skin->page[s1][k1], t);
  out->depth = skin->depth[s0][k0] + t * (skin->depth[s1][k1] - skin->depth[s0][k0]);
  return TRUE;
}

static void
add_pair (FwDrawing *d, const Skin *skin, Crossing a, Crossing b, double clear, int *count)
{
  if (behind_skin (skin, fw_vec2_mix (a.page, b.page, 0.5), (a.depth + b.depth) / 2, clear))
    return;
  fw_drawing_point (d, a.page);
  fw_drawing_point (d, b.page);
  (*count)++;
}

static void
add_contours (FwDrawing *d, FwPiece *piece, const Skin *skin, double clear)
{
  piece->first_contour = (int)d->points->len;
  for (int s = 0; s + 1 < skin->rings; s++)
    for (int k = 0; k < skin->round; k++)
      {
        int j = (k + 1) % skin->round, n = 0;
        Crossing c[4];
        n += crossing (skin, s, k, s, j, &c[n]);
        n += crossing (skin, s, j, s + 1, j, &c[n]);
        n += crossing (skin, s + 1, j, s + 1, k, &c[n]);
        n += crossing (skin, s + 1, k, s, k, &c[n]);
        if (n >= 2)
          add_pair (d, skin, c[0], c[1], clear, &piece->n_contours);
        if (n == 4)
          add_pair (d, skin, c[2], c[3], clear, &piece->n_contours);
      }
}

static Crossing
node (const Skin *skin, int s, int k)
{
  return (Crossing) { skin->page[s][k], skin->depth[s][k] };
}

/* The seams of a paper hull: rings at the sections the design gives, and gores along it. */
static void
add_ribs (FwDrawing *d, FwPiece *piece, const Skin *skin, const FwNet *net, double clear)
{
  piece->first_rib = (int)d->points->len;
  for (int s = 0; s < skin->rings; s++)
    for (int k = 0; net->given[s] && k < skin->round; k++)
      {
        int j = (k + 1) % skin->round;
        if (skin->facing[s][k] > 0.05 && skin->facing[s][j] > 0.05)
          add_pair (d, skin, node (skin, s, k), node (skin, s, j), clear, &piece->n_ribs);
      }
  for (int k = 0; k < skin->round; k += skin->round / (skin->round > 12 ? 10 : 6))
    for (int s = 2; s + 3 < skin->rings; s++)
      if (skin->facing[s][k] > 0.05 && skin->facing[s + 1][k] > 0.05)
        add_pair (d, skin, node (skin, s, k), node (skin, s + 1, k), clear, &piece->n_ribs);
}

/* Which way the skin looks where an eye sits on it (along the reach, across, up): square to the slope of
 * the half width, so that an owl's eyes look ahead and a heron's to the sides. */
static FwVec3
skin_normal (const FwSolid *solid, double at, double up, double half, double step)
{
  double along = fw_form_half_width (solid, at + step, up) - fw_form_half_width (solid, at - step, up);
  double rise = fw_form_half_width (solid, at, up + step) - fw_form_half_width (solid, at, up - step);
  FwVec3 normal = half > 0 ? fw_vec3 (-along / (2 * step), 1, -rise / (2 * step)) : fw_vec3 (0, 1, 0);
  return fw_vec3_scale (normal, 1 / fw_vec3_length (normal));
}

static void
add_eye (FwDrawing *d, const FwSolid *solid, const FwFrame *frame, gboolean body, FwPart part, double depth)
{
  double at = solid->eye_mm[0], up = solid->eye_mm[1], radius = solid->eye_mm[2];
  double half = fw_form_half_width (solid, at, up);
  FwVec3 normal = skin_normal (solid, at, up, half, 0.4 * radius);
  for (int side = -1; side <= 1; side += 2)
    {
      FwVec3 out = fw_frame_turn (frame, in_frame (fw_vec3 (normal.x, side * normal.y, normal.z), body));
      FwVec3 centre = fw_frame_to_world (frame, in_frame (fw_vec3 (at, side * half, up), body));
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
  double girth = 0, length = solid->sections[solid->n_sections - 1].at_mm - solid->sections[0].at_mm;
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
  Skin skin;
  fw_form_net (solid, fineness (d, solid), &net);
  if (net.rings < 3)
    return;
  lay_skin (d, &net, frame, body, &skin);
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_SOLID, part, FW_LAYER_WORK, material);
  double depth = 0, girth = 0;
  for (int s = 0; s < net.rings; s++)
    {
      depth += (skin.depth[s][0] + skin.depth[s][net.round / 2]) / 2;
      girth = fmax (girth, fabs (net.points[s][0].y));
    }
  piece->depth = depth / net.rings;
  double clear = fmax (0.8 * girth, 1);
  add_quads (d, piece, &skin);
  add_contours (d, piece, &skin, clear);
  add_ribs (d, piece, &skin, &net, clear);
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
  add_solid (d, &body, &d->scene->pose->body.motion.at, TRUE, (FwPart) { FW_PART_BODY, 0 }, "paper");
  /* The post ends inside the body, so the body is drawn over it. */
  for (guint i = 0; i < from && from < d->pieces->len; i++)
    {
      FwPiece *p = &g_array_index (d->pieces, FwPiece, i), *solid = &g_array_index (d->pieces, FwPiece, from);
      if (p->part.kind == FW_PART_BODY && p->kind == FW_PIECE_TUBE)
        p->depth = fmin (p->depth, solid->depth - 1);
    }
  for (int i = 0; i < m->n_members; i++)
    {
      const FwPanel *panel = &m->design->panels[m->members[i].panel];
      if (panel->solid.n_sections >= 2)
        add_solid (d, &panel->solid, &d->scene->pose->members[i].motion.at, FALSE,
                   (FwPart) { FW_PART_MEMBER, i }, panel->material);
    }
}
