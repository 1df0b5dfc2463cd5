#include "shop/meshdraw.h"

#define MOST_CORNERS 24
#define SHARP_COSINE 0.9 /* about 26 degrees: facets of a round form stay smooth */
#define TO_RAD (G_PI / 180)

typedef enum { EDGE_NONE, EDGE_SHARP, EDGE_RIM } Edge;

/* A flat convex piece of a face that turns to the eye. In view axes: x right, y up, z towards. */
typedef struct
{
  int n;
  FwVec3 at[MOST_CORNERS];
  Edge edge[MOST_CORNERS]; /* from corner i to i + 1 */
  FwVec3 normal;
} Piece;

typedef struct Node
{
  GPtrArray *flat; /* Piece: in this plane */
  struct Node *behind, *before;
} Node;

typedef struct
{
  FwVec3 right, up, toward;
} Eye;

static Eye
eye_of (const FwMeshView *view)
{
  double yaw = view->yaw_deg * TO_RAD, pitch = view->pitch_deg * TO_RAD;
  FwVec3 level = fw_vec3 (sin (yaw), -cos (yaw), 0), z = fw_vec3 (0, 0, 1);
  return (Eye){ fw_vec3 (cos (yaw), sin (yaw), 0),
                fw_vec3_along (fw_vec3_scale (z, cos (pitch)), -sin (pitch), level),
                fw_vec3_along (fw_vec3_scale (level, cos (pitch)), sin (pitch), z) };
}

static FwVec3
seen (const Eye *eye, FwVec3 p)
{
  return fw_vec3 (fw_vec3_dot (p, eye->right), fw_vec3_dot (p, eye->up), fw_vec3_dot (p, eye->toward));
}

/* ---- Pieces ---- */

static GPtrArray *
front_pieces (const FwMesh *mesh, const Eye *eye)
{
  GPtrArray *list = g_ptr_array_new ();
  int *beside = fw_mesh_neighbours (mesh);
  FwVec3 *normals = g_new (FwVec3, MAX (mesh->n_triangles, 1));
  for (int i = 0; i < mesh->n_triangles; i++)
    normals[i] = seen (eye, fw_mesh_normal (mesh, i));
  for (int i = 0; i < mesh->n_triangles; i++)
    {
      if (normals[i].z <= 1e-9)
        continue;
      Piece *piece = g_new0 (Piece, 1);
      piece->n = 3;
      piece->normal = normals[i];
      for (int k = 0; k < 3; k++)
        {
          int other = beside[3 * i + k];
          piece->at[k] = seen (eye, mesh->points[mesh->triangles[i][k]]);
          piece->edge[k] = other < 0 || normals[other].z <= 1e-9 ? EDGE_RIM
                           : fw_vec3_dot (normals[other], normals[i]) < SHARP_COSINE ? EDGE_SHARP
                                                                                     : EDGE_NONE;
        }
      g_ptr_array_add (list, piece);
    }
  g_free (beside);
  g_free (normals);
  return list;
}

/* ---- Order ---- */

typedef enum { IN_PLANE, BEFORE, BEHIND, ACROSS } Place;

static Place
place_of (const Piece *piece, const Piece *plane, double slack, double *heights)
{
  gboolean before = FALSE, behind = FALSE;
  for (int i = 0; i < piece->n; i++)
    {
      heights[i] = fw_vec3_dot (plane->normal, fw_vec3_sub (piece->at[i], plane->at[0]));
      before = before || heights[i] > slack;
      behind = behind || heights[i] < -slack;
    }
  return before && behind ? ACROSS : before ? BEFORE : behind ? BEHIND : IN_PLANE;
}

static void
put_corner (Piece *piece, FwVec3 at, Edge edge)
{
  if (piece->n == MOST_CORNERS)
    return;
  piece->edge[piece->n] = edge;
  piece->at[piece->n++] = at;
}

/* Cuts a piece in two along a plane; the cut itself is no edge. */
static void
split (const Piece *piece, const double *heights, Piece *before, Piece *behind)
{
  before->normal = behind->normal = piece->normal;
  before->n = behind->n = 0;
  for (int i = 0; i < piece->n; i++)
    {
      int next = (i + 1) % piece->n;
      double h = heights[i], k = heights[next];
      if (h >= 0)
        put_corner (before, piece->at[i], h == 0 && k < 0 ? EDGE_NONE : piece->edge[i]);
      if (h <= 0)
        put_corner (behind, piece->at[i], h == 0 && k > 0 ? EDGE_NONE : piece->edge[i]);
      if ((h > 0 && k < 0) || (h < 0 && k > 0))
        {
          FwVec3 cut = fw_vec3_along (piece->at[i], h / (h - k),
                                      fw_vec3_sub (piece->at[next], piece->at[i]));
          put_corner (before, cut, h > 0 ? EDGE_NONE : piece->edge[i]);
          put_corner (behind, cut, h > 0 ? piece->edge[i] : EDGE_NONE);
        }
    }
}

/* Of a few pieces the one whose plane cuts the fewest others. */
static const Piece *
choose_plane (const GPtrArray *list, double slack)
{
  const Piece *best = list->pdata[0];
  guint least = G_MAXUINT, tries = MIN (list->len, 8);
  double heights[MOST_CORNERS];
  for (guint t = 0; t < tries && least > 0; t++)
    {
      const Piece *plane = list->pdata[t * list->len / tries];
      guint cuts = 0;
      for (guint i = 0; i < list->len && cuts < least; i++)
        cuts += place_of (list->pdata[i], plane, slack, heights) == ACROSS ? 1 : 0;
      if (cuts >= least)
        continue;
      least = cuts;
      best = plane;
    }
  return best;
}

/* Takes the list and the pieces in it. */
static Node *
build (GPtrArray *list, double slack)
{
  if (list->len == 0)
    {
      g_ptr_array_unref (list);
      return NULL;
    }
  Node *node = g_new0 (Node, 1);
  GPtrArray *before = g_ptr_array_new (), *behind = g_ptr_array_new ();
  const Piece *plane = choose_plane (list, slack);
  double heights[MOST_CORNERS];
  node->flat = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < list->len; i++)
    {
      Piece *piece = list->pdata[i];
      Place place = piece == plane ? IN_PLANE : place_of (piece, plane, slack, heights);
      if (place == ACROSS && piece->n + 1 < MOST_CORNERS)
        {
          Piece *near = g_new0 (Piece, 1), *far = g_new0 (Piece, 1);
          split (piece, heights, near, far);
          g_ptr_array_add (before, near);
          g_ptr_array_add (behind, far);
          g_free (piece);
        }
      else
        g_ptr_array_add (place == IN_PLANE ? node->flat : place == BEHIND ? behind : before, piece);
    }
  g_ptr_array_unref (list);
  node->before = build (before, slack);
  node->behind = build (behind, slack);
  return node;
}

static void
free_node (Node *node)
{
  if (node == NULL)
    return;
  free_node (node->behind);
  free_node (node->before);
  g_ptr_array_unref (node->flat);
  g_free (node);
}

/* ---- Paint ---- */

typedef struct
{
  cairo_t *cr;
  double scale, x, y; /* page place of the view's origin */
  const FwStyle *style;
  FwMaterialLook look;
} Brush;

/* Light comes over the left shoulder. */
static FwColour
tone (const Brush *b, FwVec3 normal)
{
  double lit = -0.42 * normal.x + 0.56 * normal.y + 0.71 * normal.z;
  if (lit < 0.62)
    return fw_colour_mix (fw_colour_mix (b->look.fill, b->look.shade, 0.62), b->look.fill,
                          CLAMP (lit / 0.62, 0, 1));
  return fw_colour_mix (b->look.fill, b->look.light, CLAMP ((lit - 0.62) / 0.34, 0, 1));
}

static void
move (const Brush *b, FwVec3 p, gboolean start)
{
  double x = b->x + b->scale * p.x, y = b->y - b->scale * p.y;
  if (start)
    cairo_move_to (b->cr, x, y);
  else
    cairo_line_to (b->cr, x, y);
}

static void
paint_edges (const Brush *b, const GPtrArray *flat, Edge kind, double width)
{
  for (guint i = 0; i < flat->len; i++)
    {
      const Piece *piece = flat->pdata[i];
      for (int k = 0; k < piece->n; k++)
        if (piece->edge[k] == kind)
          {
            move (b, piece->at[k], TRUE);
            move (b, piece->at[(k + 1) % piece->n], FALSE);
          }
    }
  fw_set_colour (b->cr, b->look.edge);
  cairo_set_line_width (b->cr, width);
  cairo_stroke (b->cr);
}

static void
paint_flat (const Brush *b, const GPtrArray *flat)
{
  const Piece *first = flat->pdata[0];
  for (guint i = 0; i < flat->len; i++)
    {
      const Piece *piece = flat->pdata[i];
      for (int k = 0; k < piece->n; k++)
        move (b, piece->at[k], k == 0);
      cairo_close_path (b->cr);
    }
  fw_set_colour (b->cr, tone (b, first->normal));
  cairo_set_line_width (b->cr, 0.5 * b->style->thin); /* closes the seams between neighbours */
  cairo_fill_preserve (b->cr);
  cairo_stroke (b->cr);
  paint_edges (b, flat, EDGE_SHARP, b->style->thin);
  paint_edges (b, flat, EDGE_RIM, b->style->wide);
}

/* The eye is before every plane that turns to it. */
static void
paint (const Brush *b, const Node *node)
{
  if (node == NULL)
    return;
  paint (b, node->behind);
  paint_flat (b, node->flat);
  paint (b, node->before);
}

static void
page_bounds (const FwMesh *mesh, const Eye *eye, FwVec3 *low, FwVec3 *high)
{
  for (int i = 0; i < mesh->n_points; i++)
    {
      FwVec3 p = seen (eye, mesh->points[i]);
      *low = i == 0 ? p : fw_vec3 (fmin (low->x, p.x), fmin (low->y, p.y), 0);
      *high = i == 0 ? p : fw_vec3 (fmax (high->x, p.x), fmax (high->y, p.y), 0);
    }
}

/* Page px per mm at which the mesh fills the box, from any yaw at this pitch it still fits. */
static double
mesh_fit (const FwMesh *mesh, const FwMeshView *view)
{
  FwVec3 low, high;
  fw_mesh_bounds (mesh, &low, &high);
  FwVec3 box = fw_vec3_sub (high, low);
  double pitch = view->pitch_deg * TO_RAD, wide = hypot (box.x, box.y);
  double tall = box.z * cos (pitch) + wide * fabs (sin (pitch));
  return fmin (view->box.width / fmax (wide, 1e-6), view->box.height / fmax (tall, 1e-6));
}

void
fw_mesh_draw (cairo_t *cr, const FwMesh *mesh, const FwMeshView *view, const FwStyle *style)
{
  Eye eye = eye_of (view);
  FwVec3 low = { 0 }, high = { 0 };
  if (mesh->n_triangles == 0)
    return;
  page_bounds (mesh, &eye, &low, &high);
  double scale = view->scale > 0 ? view->scale : mesh_fit (mesh, view);
  Brush brush = { .cr = cr,
                  .scale = scale,
                  .x = view->box.x + view->box.width / 2 - scale * (low.x + high.x) / 2,
                  .y = view->box.y + view->box.height / 2 + scale * (low.y + high.y) / 2,
                  .style = style,
                  .look = fw_material_look (view->material == NULL ? "plastic" : view->material,
                                            style->theme) };
  double size = fmax (high.x - low.x, high.y - low.y);
  Node *root = build (front_pieces (mesh, &eye), 1e-7 * size);
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  paint (&brush, root);
  cairo_restore (cr);
  free_node (root);
}
