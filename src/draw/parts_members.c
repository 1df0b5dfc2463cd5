/* Panels with their hinges, rods with their fittings. */
#include "draw/drawing.h"
#include "draw/stand.h"

static void
mark_faint (FwDrawing *d, guint from, gboolean faint)
{
  for (guint i = from; i < d->pieces->len; i++)
    g_array_index (d->pieces, FwPiece, i).faint = faint;
}

/* ---- Sheets ---- */

#define LEAST_FACING 1e-3 /* a side that looks less towards the viewer is not seen */

typedef struct
{
  const FwFrame *frame;
  const FwVec2 *outline;
  int n;
  double half; /* of the thickness, mm, as drawn */
} Sheet;

static FwVec3
sheet_point (const Sheet *s, int i, double w)
{
  return fw_frame_to_world (s->frame, fw_vec3 (s->outline[i].x, s->outline[i].y, w));
}

typedef struct
{
  int edge;
  double depth, tone;
} Side;

/* How far the side along edge i looks towards the viewer, -1 .. 1; 0 for an edge of no length. `out`: its normal, or 0. */
static double
side_facing (const FwDrawing *d, const Sheet *s, double turn, int i, FwVec3 *out)
{
  FwVec2 a = s->outline[i], b = s->outline[(i + 1) % s->n];
  double length = fw_vec2_distance (a, b);
  *out = fw_vec3 (0, 0, 0);
  if (length <= 0)
    return 0;
  *out = fw_frame_turn (s->frame,
                        fw_vec3 (turn * (b.y - a.y) / length, -turn * (b.x - a.x) / length, 0));
  return fw_vec3_dot (*out, d->axes.toward);
}

static int
far_first (const void *a, const void *b)
{
  const Side *p = a, *q = b;
  return (p->depth > q->depth) - (p->depth < q->depth);
}

static void
add_sides (FwDrawing *d, FwPiece *piece, const Sheet *s)
{
  Side sides[FW_MOST_OUTLINE];
  int n = 0;
  double turn = fw_polygon_area (s->outline, s->n) > 0 ? 1 : -1;
  for (int i = 0; i < s->n; i++)
    {
      FwVec3 out;
      if (side_facing (d, s, turn, i, &out) <= LEAST_FACING)
        continue;
      FwVec3 middle = fw_vec3_scale (
          fw_vec3_add (sheet_point (s, i, 0), sheet_point (s, (i + 1) % s->n, 0)), 0.5);
      sides[n++] = (Side){ i, fw_drawing_depth (d, middle), fw_drawing_tone (d, out) };
    }
  // cppcheck-suppress uninitvar ; n of them are set
  qsort (sides, (size_t)n, sizeof *sides, far_first);
  for (int k = 0; k < n; k++)
    {
      int i = sides[k].edge, j = (i + 1) % s->n;
      const FwVec3 quad[4] = { sheet_point (s, i, s->half), sheet_point (s, j, s->half),
                               sheet_point (s, j, -s->half), sheet_point (s, i, -s->half) };
      fw_drawing_face (d, piece, quad, 4, sides[k].tone - 0.25);
    }
}

/* The outline around the near face and all sides that are seen: along the far face where a side is, else along the
 * near one. Of an edge of no length the side before it goes on. */
static void
add_rim (FwDrawing *d, FwPiece *piece, const Sheet *s, double w)
{
  double turn = fw_polygon_area (s->outline, s->n) > 0 ? 1 : -1;
  gboolean seen = FALSE;
  FwVec3 out;
  for (int i = 0; i < s->n; i++)
    {
      double facing = side_facing (d, s, turn, i, &out);
      seen = facing == 0 ? seen : facing > LEAST_FACING;
    }
  piece->first_rim = (int)d->points->len;
  for (int i = 0; i < s->n; i++)
    {
      double facing = side_facing (d, s, turn, i, &out);
      gboolean next = facing == 0 ? seen : facing > LEAST_FACING;
      fw_drawing_point (d, fw_drawing_project (d, sheet_point (s, i, seen ? -w : w)));
      if (next != seen)
        fw_drawing_point (d, fw_drawing_project (d, sheet_point (s, i, next ? -w : w)));
      seen = next;
    }
  piece->n_rim = (int)d->points->len - piece->first_rim;
}

/* Where the line across the sheet at `u` along its reach crosses the outline: the highest and lowest place, and the
 * nearest one below `from`. FALSE: nowhere, or `from` is not on the sheet. */
static gboolean
score_ends (const Sheet *s, double u, double share, double *from, double *to)
{
  double low = INFINITY, high = -INFINITY, edge = -INFINITY;
  gboolean inside = FALSE;
  for (int pass = 0; pass < 2; pass++)
    {
      for (int i = 0; i < s->n; i++)
        {
          FwVec2 a = s->outline[i], b = s->outline[(i + 1) % s->n];
          if ((a.x > u) == (b.x > u))
            continue;
          double v = a.y + (b.y - a.y) * (u - a.x) / (b.x - a.x);
          low = fmin (low, v);
          high = fmax (high, v);
          if (pass == 0 || v >= *from)
            continue;
          edge = fmax (edge, v);
          inside = !inside;
        }
      *from = high - share * (high - low);
    }
  *to = fmax (low, edge) + 0.05 * (high - low);
  return inside && *to < *from;
}

/* Score lines from behind the leading edge to the trailing edge, as a paper wing is creased; none runs on over a
 * notch. */
static void
add_scores (FwDrawing *d, FwPiece *piece, const Sheet *s, double w, double span)
{
  double least = INFINITY, most = -INFINITY;
  for (int i = 0; i < s->n; i++)
    {
      least = fmin (least, s->outline[i].x);
      most = fmax (most, s->outline[i].x);
    }
  int lines = (int)CLAMP ((most - least) * d->camera.scale / 16, 0, 12);
  piece->first_rib = (int)d->faces->len;
  for (int k = 1; k <= lines; k++)
    {
      double u = least + (most - least) * k / (lines + 1), from = NAN, to, lean = 0.03 * span;
      if (!score_ends (s, u, 0.34, &from, &to))
        continue;
      FwFace score = { .first = (int)d->points->len, .n = 2 };
      fw_drawing_point (
          d, fw_drawing_project (d, fw_frame_to_world (s->frame, fw_vec3 (u - lean, from, w))));
      fw_drawing_point (d,
                        fw_drawing_project (d, fw_frame_to_world (s->frame, fw_vec3 (u, to, w))));
      g_array_append_val (d->faces, score);
      piece->n_ribs++;
    }
}

static void
add_sheet (FwDrawing *d, int member, const Sheet *given)
{
  const FwMechanism *m = d->scene->mechanism;
  const FwPanel *panel = &m->design->panels[m->members[member].panel];
  Sheet s = *given;
  double seen = 2 * s.half * d->camera.scale, least = 1.7 * d->line;
  if (seen < least)
    s.half *= least / fmax (seen, 1e-6);
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_SHEET, (FwPart){ FW_PART_MEMBER, member },
                                     FW_LAYER_WORK, panel->material);
  add_sides (d, piece, &s);
  double facing = fw_vec3_dot (s.frame->w, d->axes.toward);
  double w = facing >= 0 ? s.half : -s.half, depth = 0;
  FwVec3 *face = g_new (FwVec3, s.n);
  for (int i = 0; i < s.n; i++)
    {
      face[i] = sheet_point (&s, i, w);
      depth += fw_drawing_depth (d, face[i]);
    }
  fw_drawing_face (d, piece, face, s.n,
                   fw_drawing_tone (d, facing >= 0 ? s.frame->w : fw_vec3_scale (s.frame->w, -1)));
  g_free (face);
  add_rim (d, piece, &s, w);
  piece->depth = depth / s.n;
  if (fabs (facing) > 0.12)
    add_scores (d, piece, &s, w, panel->span_mm);
}

/* ---- Hinges ---- */

static void
add_hinge (FwDrawing *d, int member, const FwVec2 *outline, int n)
{
  const FwMechanism *m = d->scene->mechanism;
  const FwMemberPose *pose = &d->scene->pose->members[member];
  double span = m->members[member].span_mm, front = 0.06 * span, back = -0.06 * span;
  for (int i = 0; i < n; i++)
    if (outline[i].x < 0.12 * span)
      {
        front = fmax (front, outline[i].y);
        back = fmin (back, outline[i].y);
      }
  FwVec3 axis = pose->axis;
  if (fw_vec3_dot (axis, pose->motion.at.v) < 0)
    axis = fw_vec3_scale (axis, -1);
  double diameter = CLAMP (0.03 * span, 3, 9), depth = -INFINITY;
  if (diameter * d->camera.scale < 1.2)
    return;
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *p = &g_array_index (d->pieces, FwPiece, i);
      if (p->part.kind == FW_PART_MEMBER
          && (p->part.index == member || p->part.index == m->members[member].parent))
        depth = fmax (depth, p->depth);
    }
  int knuckles = (front - back) * d->camera.scale > 40 ? 3 : 2;
  double pitch = (front - back) / knuckles;
  for (int k = 0; k < knuckles; k++)
    {
      double middle = back + pitch * (k + 0.5), half = fmin (0.28 * pitch, 0.09 * span);
      FwVec3 at = fw_vec3_along (pose->motion.at.origin, middle, axis);
      FwPiece *knuckle = fw_drawing_cylinder (d, (FwPart){ FW_PART_MEMBER, member }, "brass",
                                              fw_vec3_along (at, -half, axis),
                                              fw_vec3_along (at, half, axis), diameter);
      if (isfinite (depth))
        knuckle->depth = depth + 0.1 + 0.01 * k;
    }
}

void
fw_drawing_add_panels (FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  for (int i = 0; i < m->n_members; i++)
    {
      guint from = d->pieces->len;
      const FwMemberPose *pose = &d->scene->pose->members[i];
      FwVec2 buffer[FW_FORM_OUTLINE];
      int n;
      const FwVec2 *outline = fw_form_outline (m->design, m->members[i].panel, buffer, &n);
      if (outline != NULL && n >= 3 && n <= FW_MOST_OUTLINE)
        {
          Sheet sheet = { &pose->motion.at, outline, n,
                          m->design->panels[m->members[i].panel].thickness_mm / 2 };
          add_sheet (d, i, &sheet);
          add_hinge (d, i, outline, n);
        }
      mark_faint (d, from, pose->closure != FW_CLOSES);
    }
}

/* ---- Rods ---- */

gboolean
fw_link_broken (const FwScene *scene, int link, FwVec3 *end)
{
  const FwMechanism *m = scene->mechanism;
  const FwMemberPose *member = &scene->pose->members[m->links[link].member];
  if (member->closure != FW_SHORT)
    return FALSE;
  const FwLinkPose *pose = &scene->pose->links[link];
  FwVec3 line = fw_vec3_sub (pose->to.at, pose->from.at);
  double length = fw_vec3_length (line);
  *end = length > 0 ? fw_vec3_along (pose->from.at, m->links[link].length_mm / length, line)
                    : pose->to.at;
  return TRUE;
}

/* The depth that puts a rod on the right side of the sheet it holds. */
static double
beside_sheet (const FwDrawing *d, int link, double depth)
{
  const FwMechanism *m = d->scene->mechanism;
  int member = m->links[link].member;
  const FwFrame *f = &d->scene->pose->members[member].motion.at;
  double seen = fw_vec3_dot (f->w, d->axes.toward) * m->links[link].at_mm.z;
  if (fabs (seen) < 0.05 * fabs (m->links[link].at_mm.z) + 1e-9)
    return depth;
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *p = &g_array_index (d->pieces, FwPiece, i);
      if (p->part.kind == FW_PART_MEMBER && p->part.index == member && p->kind == FW_PIECE_SHEET)
        return seen > 0 ? fmax (depth, p->depth + 0.5) : fmin (depth, p->depth - 0.5);
    }
  return depth;
}

void
fw_drawing_add_foot (FwDrawing *d, FwVec3 at)
{
  const FwPart base = { FW_PART_BASE, 0 };
  const FwDesign *design = d->scene->mechanism->design;
  double plate[3], top, width = fw_stand_upright (design);
  fw_design_base (design, plate, &top);
  if (at.z <= top)
    return;
  FwVec2 foot = fw_stand_anchor (design, at);
  FwVec3 inside = fw_vec3 (foot.x, foot.y, top + width / 2);
  FwVec3 below = fw_vec3 (at.x, at.y, top + width / 2);
  if (fw_vec3_distance (inside, below) > width)
    fw_drawing_bar (d, base, "birch", inside,
                    fw_vec3_along (below, 0.5 * width / fw_vec3_distance (inside, below),
                                   fw_vec3_sub (below, inside)),
                    width)
        ->flat_ends
        = TRUE;
  below.z = top;
  fw_drawing_bar (d, base, "birch", below, at, 0.8 * width)->flat_ends = TRUE;
}

static void
add_lower_fitting (FwDrawing *d, int link, FwVec3 at, double diameter, double depth)
{
  const FwMechanism *m = d->scene->mechanism;
  FwPart part = { FW_PART_LINK, link };
  if (m->links[link].from == FW_FROM_BASE)
    fw_drawing_add_foot (d, at);
  if (m->links[link].from != FW_FROM_THROW)
    {
      fw_drawing_bar (d, part, "steel", at, at, 2.6 * diameter)->depth = depth + 0.2;
      return;
    }
  FwVec3 axis = fw_crank_axis (m->design->crank.runs);
  double half
      = fmin (0.3 * m->design->crank.throws[m->pins[m->links[link].index].throw_index].width_mm,
              1.6 * diameter);
  FwPiece *eye = fw_drawing_cylinder (d, part, "brass", fw_vec3_along (at, -half, axis),
                                      fw_vec3_along (at, half, axis),
                                      m->design->crank.diameter_mm + 2 * diameter);
  eye->depth = fmax (eye->depth, depth) + 0.2;
}

static void
add_upper_joint (FwDrawing *d, int link, FwVec3 end, double diameter, double depth)
{
  const FwMechanism *m = d->scene->mechanism;
  FwPart part = { FW_PART_LINK, link };
  const FwLink *l = &m->links[link];
  const FwFrame *frame = &d->scene->pose->members[l->member].motion.at;
  FwVec3 seat = fw_frame_to_world (frame, fw_vec3 (l->at_mm.x, l->at_mm.y, 0));
  FwPiece *tab = fw_drawing_bar (d, part, "steel", seat, fw_frame_to_world (frame, l->at_mm),
                                 1.5 * diameter);
  tab->depth = depth - 0.1;
  fw_drawing_bar (d, part, "steel", end, end, 2.4 * diameter)->depth = depth + 0.2;
}

void
fw_drawing_add_rods (FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  for (int i = 0; i < m->n_links; i++)
    {
      guint first = d->pieces->len;
      const FwRod *rod = &m->design->rods[m->links[i].rod];
      FwVec3 from = d->scene->pose->links[i].from.at, to = d->scene->pose->links[i].to.at, end = to;
      fw_link_broken (d->scene, i, &end);
      FwPiece *bar = fw_drawing_bar (d, (FwPart){ FW_PART_LINK, i }, rod->material, from, end,
                                     rod->diameter_mm);
      bar->shows_through = TRUE;
      bar->depth = beside_sheet (d, i, bar->depth);
      double depth = bar->depth,
             seen = fmax (rod->diameter_mm, 1.6 * d->line / fmax (d->camera.scale, 1e-6));
      add_lower_fitting (d, i, from, seen, depth);
      add_upper_joint (d, i, end, seen, depth);
      mark_faint (d, first, d->scene->pose->members[m->links[i].member].closure == FW_ADRIFT);
    }
}

int
fw_panel_on_page (const FwScene *scene, const FwCamera *camera, const FwPose *pose, int member,
                  FwVec2 *out)
{
  const FwMechanism *m = scene->mechanism;
  FwVec2 buffer[FW_FORM_OUTLINE];
  int n;
  const FwVec2 *outline = fw_form_outline (m->design, m->members[member].panel, buffer, &n);
  if (outline == NULL || n > FW_MOST_OUTLINE)
    return 0;
  for (int i = 0; i < n; i++)
    out[i] = fw_camera_project (camera,
                                fw_frame_to_world (&pose->members[member].motion.at,
                                                   fw_vec3 (outline[i].x, outline[i].y, 0)),
                                NULL);
  return n;
}
