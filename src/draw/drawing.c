#include "draw/drawing.h"

#include <stdlib.h>

FwVec2
fw_drawing_project (const FwDrawing *d, FwVec3 world)
{
  return (FwVec2){ d->camera.x + d->camera.scale * fw_vec3_dot (d->axes.right, world),
                   d->camera.y - d->camera.scale * fw_vec3_dot (d->axes.up, world) };
}

double
fw_drawing_depth (const FwDrawing *d, FwVec3 world)
{
  return fw_vec3_dot (d->axes.toward, world);
}

void
fw_drawing_open (FwDrawing *d, const FwScene *scene, const FwCamera *camera, const FwStyle *style)
{
  *d = (FwDrawing){ .scene = scene,
                    .camera = *camera,
                    .axes = fw_view_axes (camera->view),
                    .theme = style->theme,
                    .line = style->wide,
                    .points = g_array_sized_new (FALSE, FALSE, sizeof (FwVec2), 2048),
                    .faces = g_array_sized_new (FALSE, FALSE, sizeof (FwFace), 512),
                    .pieces = g_array_sized_new (FALSE, FALSE, sizeof (FwPiece), 128) };
}

void
fw_drawing_clear (FwDrawing *d)
{
  g_array_unref (d->points);
  g_array_unref (d->faces);
  g_array_unref (d->pieces);
}

static int
back_to_front (const void *a, const void *b)
{
  const FwPiece *p = a, *q = b;
  if (p->layer != q->layer)
    return p->layer < q->layer ? -1 : 1;
  return (p->depth > q->depth) - (p->depth < q->depth);
}

static gboolean
same_shape (const FwDrawing *d, const FwPiece *a, const FwPiece *b)
{
  const double least = 0.02; /* px */
  if (a->kind != b->kind || (a->kind != FW_PIECE_TUBE && a->kind != FW_PIECE_ROUND)
      || a->part.kind != b->part.kind || a->faint != b->faint || a->n != b->n
      || a->n_faces != b->n_faces || a->width != b->width
      || fabs (a->bounds.x - b->bounds.x) > least || fabs (a->bounds.y - b->bounds.y) > least
      || fabs (a->bounds.width - b->bounds.width) > least
      || fabs (a->bounds.height - b->bounds.height) > least)
    return FALSE;
  for (int i = 0; i < a->n; i++)
    if (fw_vec2_distance (fw_drawing_points (d, a->first)[i], fw_drawing_points (d, b->first)[i])
        > least)
      return FALSE;
  return TRUE;
}

/* Seen from the side, left-hand rods and webs lie exactly behind their twins: nothing of them
 * shows. */
static void
drop_covered (FwDrawing *d)
{
  guint kept = 0, n = d->pieces->len;
  for (guint i = 0; i < n; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      gboolean covered = FALSE;
      for (guint k = i + 1; k < n && !covered; k++)
        covered = same_shape (d, piece, &g_array_index (d->pieces, FwPiece, k));
      if (!covered)
        g_array_index (d->pieces, FwPiece, kept++) = *piece;
    }
  g_array_set_size (d->pieces, kept);
}

void
fw_drawing_build (FwDrawing *d, const FwScene *scene, const FwCamera *camera, const FwStyle *style)
{
  fw_drawing_open (d, scene, camera, style);
  fw_drawing_add_stand (d);
  fw_drawing_add_crank (d);
  fw_drawing_add_post (d);
  fw_drawing_add_solids (d);
  fw_drawing_add_panels (d);
  fw_drawing_add_rods (d);
  fw_drawing_add_springs (d);
  fw_drawing_add_weights (d);
  fw_drawing_sort (d);
}

/* The piece stays where it is until the next one begins. */
FwPiece *
fw_drawing_begin (FwDrawing *d, FwPieceKind kind, FwPart part, FwLayer layer, const char *material)
{
  FwPiece piece = { .kind = kind,
                    .part = part,
                    .layer = layer,
                    .look = fw_material_look (material, d->theme),
                    .first_face = (int)d->faces->len,
                    .first = (int)d->points->len,
                    .covers = TRUE };
  g_array_append_val (d->pieces, piece);
  return &g_array_index (d->pieces, FwPiece, d->pieces->len - 1);
}

void
fw_drawing_point (FwDrawing *d, FwVec2 point)
{
  g_array_append_val (d->points, point);
}

/* Light from the upper left, before the page. */
double
fw_drawing_tone (const FwDrawing *d, FwVec3 normal)
{
  double right = fw_vec3_dot (normal, d->axes.right), up = fw_vec3_dot (normal, d->axes.up);
  double toward = fabs (fw_vec3_dot (normal, d->axes.toward));
  if (fw_vec3_dot (normal, d->axes.toward) < 0)
    {
      right = -right;
      up = -up;
    }
  double lit = -0.35 * right + 0.6 * up + 0.72 * toward;
  return CLAMP (1.25 * lit - 0.72, -0.75, 0.5);
}

void
fw_drawing_face (FwDrawing *d, FwPiece *piece, const FwVec3 *points, int n, double tone)
{
  FwFace face = { .first = (int)d->points->len, .n = n, .tone = tone };
  for (int i = 0; i < n; i++)
    fw_drawing_point (d, fw_drawing_project (d, points[i]));
  g_array_append_val (d->faces, face);
  piece->n_faces++;
}

FwPiece *
fw_drawing_bar (FwDrawing *d, FwPart part, const char *material, FwVec3 a, FwVec3 b,
                double diameter_mm)
{
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_TUBE, part, FW_LAYER_WORK, material);
  fw_drawing_point (d, fw_drawing_project (d, a));
  fw_drawing_point (d, fw_drawing_project (d, b));
  piece->n = 2;
  piece->width = diameter_mm * d->camera.scale;
  piece->depth = (fw_drawing_depth (d, a) + fw_drawing_depth (d, b)) / 2;
  return piece;
}

/* Half an oval: from centre + side by way of centre + along to centre - side. */
static void
add_half_oval (FwDrawing *d, FwVec2 centre, FwVec2 side, FwVec2 along, double sign, int steps)
{
  for (int i = 0; i <= steps; i++)
    {
      double c = sign * cos (G_PI * i / steps), s = sign * sin (G_PI * i / steps);
      fw_drawing_point (
          d, fw_vec2 (centre.x + c * side.x + s * along.x, centre.y + c * side.y + s * along.y));
    }
}

/* The hull of two ovals, or one oval where a and b are the same. */
static void
add_hull (FwDrawing *d, FwPiece *piece, FwVec2 a, FwVec2 b, FwVec2 side, FwVec2 along, double grow,
          double tone)
{
  double r = hypot (side.x, side.y), scale = r > 0 ? (r + grow) / r : 1;
  double end = hypot (along.x, along.y), stretch = end > 0.3 ? (end + grow) / end : 0;
  int steps = stretch > 0 ? (int)CLAMP (2 + 0.6 * r, 3, 9) : 1;
  FwVec2 dir = r > 0 ? fw_vec2 (side.y / r * grow, -side.x / r * grow) : fw_vec2 (0, 0);
  side = fw_vec2 (side.x * scale, side.y * scale);
  along = fw_vec2 (along.x * stretch, along.y * stretch);
  if (stretch == 0) /* flat ends: the ink stands out beyond them */
    {
      a = fw_vec2 (a.x - dir.x, a.y - dir.y);
      b = fw_vec2 (b.x + dir.x, b.y + dir.y);
    }
  FwFace face = { .first = (int)d->points->len, .n = 2 * (steps + 1), .tone = tone };
  add_half_oval (d, b, side, along, 1, steps);
  add_half_oval (d, a, side, along, -1, steps);
  g_array_append_val (d->faces, face);
  piece->n_faces++;
}

FwPiece *
fw_drawing_cylinder (FwDrawing *d, FwPart part, const char *material, FwVec3 a, FwVec3 b,
                     double diameter_mm)
{
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_ROUND, part, FW_LAYER_WORK, material);
  if (fw_drawing_depth (d, a) > fw_drawing_depth (d, b))
    {
      FwVec3 swap = a;
      a = b;
      b = swap;
    }
  FwVec3 line = fw_vec3_sub (b, a);
  double length = fw_vec3_length (line), r = diameter_mm / 2 * d->camera.scale;
  double toward = length > 0 ? fw_vec3_dot (line, d->axes.toward) / length : 1;
  FwVec2 pa = fw_drawing_project (d, a), pb = fw_drawing_project (d, b);
  double seen = fw_vec2_distance (pa, pb);
  FwVec2 dir = seen > 1e-6 ? fw_vec2 ((pb.x - pa.x) / seen, (pb.y - pa.y) / seen) : fw_vec2 (0, -1);
  FwVec2 side = fw_vec2 (-dir.y * r, dir.x * r);
  FwVec2 along = fw_vec2 (dir.x * r * toward, dir.y * r * toward);
  double ink = fmin (2 * r, seen + 2 * r * toward) < 8 * d->line ? d->line / 2 : d->line;
  add_hull (d, piece, pa, pb, side, along, ink, -1);
  add_hull (d, piece, pa, pb, side, along, 0, -0.1);
  if (r * toward > 0.4)
    {
      add_hull (d, piece, pb, pb, side, along, 0, -0.6);
      add_hull (d, piece, pb, pb, side, along, fmax (-0.5 * d->line, -0.4 * r * toward), 0.3);
    }
  piece->depth = (fw_drawing_depth (d, a) + fw_drawing_depth (d, b)) / 2;
  return piece;
}

FwPiece *
fw_drawing_block (FwDrawing *d, FwPart part, FwLayer layer, const char *material, FwVec3 centre,
                  FwVec3 a, FwVec3 b, FwVec3 c)
{
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_FACES, part, layer, material);
  const FwVec3 edges[3] = { a, b, c };
  for (int k = 0; k < 3; k++)
    {
      FwVec3 out = edges[k], p = edges[(k + 1) % 3], q = edges[(k + 2) % 3];
      double toward = fw_vec3_dot (out, d->axes.toward), length = fw_vec3_length (out);
      if (fabs (toward) < 1e-3 * length || length == 0)
        continue;
      if (toward < 0)
        out = fw_vec3_scale (out, -1);
      FwVec3 middle = fw_vec3_add (centre, out);
      FwVec3 corners[4]
          = { fw_vec3_add (fw_vec3_add (middle, p), q), fw_vec3_sub (fw_vec3_add (middle, p), q),
              fw_vec3_sub (fw_vec3_sub (middle, p), q), fw_vec3_add (fw_vec3_sub (middle, p), q) };
      fw_drawing_face (d, piece, corners, 4, fw_drawing_tone (d, fw_vec3_scale (out, 1 / length)));
    }
  piece->depth = fw_drawing_depth (d, centre);
  return piece;
}

static void
stretch (FwBox *box, const FwVec2 *points, int n, double margin)
{
  for (int i = 0; i < n; i++)
    {
      double right = fmax (box->x + box->width, points[i].x + margin);
      double bottom = fmax (box->y + box->height, points[i].y + margin);
      box->x = fmin (box->x, points[i].x - margin);
      box->y = fmin (box->y, points[i].y - margin);
      box->width = right - box->x;
      box->height = bottom - box->y;
    }
}

static void
bounds_of (FwDrawing *d, FwPiece *piece)
{
  int first = piece->kind == FW_PIECE_TUBE ? piece->first
              : piece->n_faces > 0 ? g_array_index (d->faces, FwFace, piece->first_face).first
                                   : -1;
  if (first < 0 || first >= (int)d->points->len)
    {
      piece->bounds = (FwBox){ 0, 0, -1, -1 };
      return;
    }
  const FwVec2 *p = fw_drawing_points (d, first);
  piece->bounds = (FwBox){ p->x, p->y, 0, 0 };
  if (piece->kind == FW_PIECE_TUBE)
    stretch (&piece->bounds, p, piece->n, piece->width / 2);
  for (int i = 0; i < piece->n_faces; i++)
    {
      const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
      stretch (&piece->bounds, fw_drawing_points (d, face->first), face->n, 0);
    }
}

void
fw_drawing_sort (FwDrawing *d)
{
  for (guint i = 0; i < d->pieces->len; i++)
    bounds_of (d, &g_array_index (d->pieces, FwPiece, i));
  g_array_sort (d->pieces, back_to_front);
  drop_covered (d);
}

gboolean
fw_piece_holds (const FwDrawing *d, const FwPiece *piece, FwVec2 p)
{
  const FwBox *b = &piece->bounds;
  if (p.x < b->x || p.y < b->y || p.x > b->x + b->width || p.y > b->y + b->height)
    return FALSE;
  if (piece->kind == FW_PIECE_TUBE)
    {
      const FwVec2 *line = fw_drawing_points (d, piece->first);
      for (int i = 0; i + 1 < piece->n; i++)
        if (fw_page_segment_distance (p, line[i], line[i + 1]) <= piece->width / 2)
          return TRUE;
      return FALSE;
    }
  if (piece->kind == FW_PIECE_SOLID)
    {
      int turns = 0;
      for (int i = 0; i < piece->n_faces; i++)
        {
          const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
          turns += fw_polygon_turns (fw_drawing_points (d, face->first), face->n, p);
        }
      return turns != 0;
    }
  for (int i = 0; i < piece->n_faces; i++)
    {
      const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
      if (fw_polygon_holds (fw_drawing_points (d, face->first), face->n, p))
        return TRUE;
    }
  return FALSE;
}

double
fw_piece_distance (const FwDrawing *d, const FwPiece *piece, FwVec2 p)
{
  if (fw_piece_holds (d, piece, p))
    return 0;
  double least = INFINITY;
  if (piece->kind == FW_PIECE_TUBE)
    {
      const FwVec2 *line = fw_drawing_points (d, piece->first);
      for (int i = 0; i + 1 < piece->n; i++)
        least = fmin (least, fw_page_segment_distance (p, line[i], line[i + 1]) - piece->width / 2);
      return fmax (least, 0);
    }
  for (int i = 0; i < piece->n_faces; i++)
    {
      const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
      const FwVec2 *q = fw_drawing_points (d, face->first);
      for (int k = 0, j = face->n - 1; k < face->n; j = k++)
        least = fmin (least, fw_page_segment_distance (p, q[j], q[k]));
    }
  return least;
}
