#include "draw/ghost.h"

#include <string.h>

#include "draw/overlay.h"
#include "draw/striplayout.h"

#define APART_PX 1.2 /* nearer than this a ghost line would only blur the edge */
#define VEIL 0.16

/* ---- Parts of the same name ---- */

static int
member_named (const FwMechanism *m, const char *name)
{
  for (int i = 0; i < m->n_members; i++)
    if (strcmp (m->members[i].name, name) == 0)
      return i;
  return -1;
}

static int
link_named (const FwMechanism *m, const char *name)
{
  for (int i = 0; i < m->n_links; i++)
    if (strcmp (m->links[i].name, name) == 0)
      return i;
  return -1;
}

gboolean
fw_ghost_quantity (const FwGhost *ghost, const FwMechanism *m, FwQuantity q, FwQuantity *out)
{
  int index = q.index;
  if (q.kind >= FW_N_Q_KINDS)
    return FALSE;
  if (q.kind >= FW_Q_PUSH)
    index = q.index < m->n_links ? link_named (ghost->mechanism, m->links[q.index].name) : -1;
  else if (q.kind >= FW_Q_ANGLE)
    index = q.index < m->n_members ? member_named (ghost->mechanism, m->members[q.index].name) : -1;
  if (index < 0)
    return FALSE;
  *out = (FwQuantity) { q.kind, index };
  return TRUE;
}

const double *
fw_ghost_row (const FwGhost *ghost, const FwMechanism *m, FwQuantity q, int *steps)
{
  FwQuantity own;
  if (ghost->turn == NULL || ghost->member >= 0 || !fw_ghost_quantity (ghost, m, q, &own))
    return NULL;
  *steps = ghost->turn->steps;
  return fw_turn_row (ghost->turn, ghost->mechanism, own);
}

/* ---- Layout ---- */

gboolean
fw_ghost_carries (const FwMechanism *m, int panel, int member)
{
  for (int i = member; i >= 0; i = m->members[i].parent)
    if (i == panel)
      return TRUE;
  return FALSE;
}

/* The line or loop by which two pieces are compared. */
static const FwVec2 *
piece_points (const FwDrawing *d, const FwPiece *piece, int *n)
{
  if (piece->kind == FW_PIECE_TUBE)
    {
      *n = piece->n;
      return fw_drawing_points (d, piece->first);
    }
  *n = 0;
  if (piece->n_faces == 0)
    return NULL;
  const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + piece->n_faces - 1);
  *n = face->n;
  return fw_drawing_points (d, face->first);
}

static gboolean
near_each_other (FwBox a, FwBox b)
{
  return fabs (a.x - b.x) < APART_PX && fabs (a.y - b.y) < APART_PX
         && fabs (a.x + a.width - b.x - b.width) < APART_PX && fabs (a.y + a.height - b.y - b.height) < APART_PX;
}

static gboolean
stands_where (const FwDrawing *a, const FwPiece *p, const FwDrawing *b, const FwPiece *q)
{
  int n, m;
  const FwVec2 *x = piece_points (a, p, &n), *y = piece_points (b, q, &m);
  if (p->kind != q->kind || p->part.kind != q->part.kind || !near_each_other (p->bounds, q->bounds))
    return FALSE;
  if (n != m)
    return p->kind == FW_PIECE_SOLID; /* its silhouette may have a corner more or less */
  for (int i = 0; i < n; i++)
    if (fw_vec2_distance (x[i], y[i]) > APART_PX)
      return p->kind == FW_PIECE_SOLID;
  return TRUE;
}

/* Panels, body and rods can be told by the part; pins and throws are told by where they stand. */
static gboolean
is_shown (const FwDrawing *ghost, const FwPiece *piece, const FwGhost *of, const FwDrawing *present)
{
  if (piece->part.kind == FW_PART_BASE || piece->part.kind == FW_PART_FLOOR)
    return FALSE;
  if (of->member >= 0)
    return piece->part.kind == FW_PART_MEMBER && fw_ghost_carries (of->mechanism, of->member, piece->part.index);
  for (guint i = 0; present != NULL && i < present->pieces->len; i++)
    if (stands_where (ghost, piece, present, &g_array_index (present->pieces, FwPiece, i)))
      return FALSE;
  return TRUE;
}

void
fw_ghost_build (FwDrawing *ghost, FwScene *room, const FwGhost *of, const FwDrawing *present, const FwStyle *style)
{
  *room = (FwScene) { .mechanism = of->mechanism, .pose = of->pose };
  fw_drawing_open (ghost, room, &present->camera, style);
  if (of->member < 0)
    fw_drawing_add_post (ghost);
  fw_drawing_add_solids (ghost);
  fw_drawing_add_panels (ghost);
  if (of->member < 0)
    fw_drawing_add_rods (ghost);
  fw_drawing_sort (ghost);
  for (guint i = ghost->pieces->len; i-- > 0;)
    if (!is_shown (ghost, &g_array_index (ghost->pieces, FwPiece, i), of, present))
      g_array_remove_index (ghost->pieces, i);
}

/* ---- Paint ---- */

/* What lies nearer wipes out what lies behind, so that a ghost reads as one body and not as a tangle. */
static void
paint_pieces (cairo_t *cr, const FwDrawing *ghost, const FwStyle *style, FwGhostStyle kind)
{
  gboolean first = kind == FW_GHOST_FIRST;
  FwColour line = first ? style->motion : style->ink, veil = fw_colour_fade (first ? style->motion : style->ink, first ? VEIL : 0.05);
  double edge = first ? style->thin : 0.8 * style->thin;
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  for (guint i = 0; i < ghost->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (ghost->pieces, FwPiece, i);
      if (piece->kind != FW_PIECE_TUBE && piece->n_faces == 0)
        continue;
      cairo_set_operator (cr, CAIRO_OPERATOR_SOURCE);
      fw_set_colour (cr, fw_colour_fade (line, first ? 0.9 : 0.6));
      fw_paint_outline (cr, ghost, piece, edge);
      fw_set_colour (cr, veil);
      if (piece->kind != FW_PIECE_TUBE)
        fw_paint_outline (cr, ghost, piece, 0.01);
      else if (piece->width > 2 * edge)
        fw_paint_outline (cr, ghost, piece, 0);
      cairo_set_operator (cr, CAIRO_OPERATOR_OVER);
    }
}

void
fw_overlay_designs (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  for (int i = 0; i < d->scene->n_ghosts; i++)
    {
      const FwGhost *of = &d->scene->ghosts[i];
      FwDrawing ghost;
      FwScene room;
      fw_ghost_build (&ghost, &room, of, d, style);
      cairo_save (cr);
      cairo_push_group (cr);
      paint_pieces (cr, &ghost, style, of->style);
      cairo_pop_group_to_source (cr);
      cairo_paint (cr);
      cairo_restore (cr);
      fw_drawing_clear (&ghost);
    }
}

/* Beside the part of the ghost that stands out farthest from the middle of the picture. */
static gboolean
farthest_point (const FwDrawing *ghost, FwVec2 middle, FwVec2 *out)
{
  double best = -1;
  for (guint i = 0; i < ghost->pieces->len; i++)
    {
      int n;
      const FwVec2 *p = piece_points (ghost, &g_array_index (ghost->pieces, FwPiece, i), &n);
      for (int k = 0; k < n; k++)
        {
          double away = fw_vec2_distance (p[k], middle);
          if (away <= best)
            continue;
          best = away;
          *out = p[k];
        }
    }
  return best >= 0;
}

void
fw_words_designs (FwLabels *labels, const FwDrawing *d)
{
  for (int i = 0; i < d->scene->n_ghosts; i++)
    {
      const FwGhost *of = &d->scene->ghosts[i];
      FwDrawing ghost;
      FwScene room;
      FwVec2 at;
      if (of->name == NULL)
        continue;
      fw_ghost_build (&ghost, &room, of, d, labels->style);
      if (farthest_point (&ghost, fw_vec2 (d->camera.x, d->camera.y), &at))
        {
          FwSpot spots[16];
          double gap = 0.5 * labels->style->text;
          // NOLINTNEXTLINE(clang-analyzer-core.CallAndMessage): set where a farthest point is found
          int n = fw_spots_around (at, gap, spots);
          n += fw_spots_around (at, 4 * gap, spots + n);
          const FwWording wording = { .size = 0.95, .bold = TRUE, .leader = TRUE, .from = at,
                                      .colour = of->style == FW_GHOST_FIRST ? labels->style->motion : labels->style->ink };
          fw_labels_add (labels, of->name, &wording, spots, n);
        }
      fw_drawing_clear (&ghost);
    }
}

/* ---- A panel turned by hand ---- */

/* Rodrigues. */
static FwVec3
turned (FwVec3 p, FwVec3 axis, double cosine, double sine)
{
  FwVec3 along = fw_vec3_scale (axis, fw_vec3_dot (axis, p) * (1 - cosine));
  return fw_vec3_add (fw_vec3_add (fw_vec3_scale (p, cosine), fw_vec3_scale (fw_vec3_cross (axis, p), sine)), along);
}

void
fw_ghost_turn_panel (FwPose *pose, const FwMechanism *m, int member, double angle)
{
  double by = angle - fw_pose_angle (pose, m, member), cosine = cos (by), sine = sin (by);
  FwVec3 hinge = pose->members[member].motion.at.origin, axis = pose->members[member].axis;
  for (int i = 0; i < m->n_members; i++)
    {
      FwFrame *f = &pose->members[i].motion.at;
      if (!fw_ghost_carries (m, member, i))
        continue;
      f->origin = fw_vec3_add (hinge, turned (fw_vec3_sub (f->origin, hinge), axis, cosine, sine));
      f->u = turned (f->u, axis, cosine, sine);
      f->v = turned (f->v, axis, cosine, sine);
      f->w = turned (f->w, axis, cosine, sine);
      pose->members[i].closure = FW_CLOSES;
    }
}

typedef struct
{
  const FwCamera *camera;
  FwVec3 hinge, axis, arm; /* arm: to the held point, at the beginning */
  FwVec2 grip, hand;       /* grip: from the held point to where the hand took hold */
  double angle;            /* at the beginning */
} Pull;

static double
off_hand (const Pull *p, double angle)
{
  double by = angle - p->angle;
  FwVec3 at = fw_vec3_add (p->hinge, turned (p->arm, p->axis, cos (by), sin (by)));
  FwVec2 on_page = fw_camera_project (p->camera, at, NULL);
  return fw_vec2_distance (fw_vec2 (on_page.x + p->grip.x, on_page.y + p->grip.y), p->hand);
}

/* Of the local minima the one next to `near`; then narrowed by thirds. */
static double
pulled_angle (const Pull *p, double near, double low, double high)
{
  const int steps = 240;
  double step = (high - low) / steps, best = INFINITY, found = near;
  for (int i = 0; i <= steps; i++)
    {
      double a = low + i * step, here = off_hand (p, a);
      gboolean least = (i == 0 || off_hand (p, a - step) >= here) && (i == steps || off_hand (p, a + step) >= here);
      if (least && fabs (a - near) < best)
        {
          best = fabs (a - near);
          found = a;
        }
    }
  double from = fmax (found - step, low), to = fmin (found + step, high);
  for (int i = 0; i < 40; i++)
    {
      double a = from + (to - from) / 3, b = to - (to - from) / 3;
      if (off_hand (p, a) < off_hand (p, b))
        to = b;
      else
        from = a;
    }
  return (from + to) / 2;
}

double
fw_ghost_pulled (const FwScene *scene, const FwCamera *camera, int member, FwVec2 from, FwVec2 to, double near)
{
  const FwMember *m = &scene->mechanism->members[member];
  const FwFrame *f = &scene->pose->members[member].motion.at;
  Pull p = { .camera = camera, .hinge = f->origin, .axis = scene->pose->members[member].axis, .hand = to,
             .angle = fw_pose_angle (scene->pose, scene->mechanism, member) };
  /* The held point lies along the span, as far out as the hand took hold; not at the hinge, where nothing turns. */
  FwVec2 root = fw_camera_project (camera, f->origin, NULL);
  FwVec2 tip = fw_camera_project (camera, fw_vec3_along (f->origin, m->span_mm, f->u), NULL);
  FwVec2 along = fw_vec2 (tip.x - root.x, tip.y - root.y);
  double length2 = along.x * along.x + along.y * along.y;
  double share = length2 > 1 ? ((from.x - root.x) * along.x + (from.y - root.y) * along.y) / length2 : 1;
  p.arm = fw_vec3_scale (f->u, m->span_mm * CLAMP (share, 0.3, 1.2));
  FwVec2 held = fw_camera_project (camera, fw_vec3_add (p.hinge, p.arm), NULL);
  p.grip = fw_vec2 (from.x - held.x, from.y - held.y);
  double low = m->has_stops ? m->stop_min : p.angle - G_PI, high = m->has_stops ? m->stop_max : p.angle + G_PI;
  return pulled_angle (&p, CLAMP (near, low, high), low, high);
}
