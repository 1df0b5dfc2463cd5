/* Flat faces cut into triangles: holes are joined to the rim by a cut there and back, then ears are
 * clipped, the best shaped first. */
#include "shop/mesh.h"

#include <stdlib.h>

typedef struct
{
  double x, y;
  int point; /* in the mesh */
} Corner;

static double
turn (const Corner *a, const Corner *b, const Corner *c)
{
  return (b->x - a->x) * (c->y - a->y) - (b->y - a->y) * (c->x - a->x);
}

static double
loop_area (const Corner *loop, int n)
{
  double twice = 0;
  for (int i = 0; i < n; i++)
    {
      const Corner *a = &loop[i], *b = &loop[(i + 1) % n];
      twice += a->x * b->y - b->x * a->y;
    }
  return twice / 2;
}

static void
reverse (Corner *loop, int n)
{
  for (int i = 0; i < n / 2; i++)
    {
      Corner keep = loop[i];
      loop[i] = loop[n - 1 - i];
      loop[n - 1 - i] = keep;
    }
}

static int
rightmost (const Corner *loop, int n)
{
  int best = 0;
  for (int i = 1; i < n; i++)
    if (loop[i].x > loop[best].x)
      best = i;
  return best;
}

static gboolean
in_triangle (const Corner *p, const Corner *a, const Corner *b, const Corner *c)
{
  double s = turn (a, b, p), t = turn (b, c, p), u = turn (c, a, p);
  return (s >= 0 && t >= 0 && u >= 0) || (s <= 0 && t <= 0 && u <= 0);
}

/* The corner of the rim that can be seen from `from` and lies to its right: a ray to the right meets
 * an edge, whose farther end is taken unless a corner stands in between (after D. Eberly,
 * "Triangulation by ear clipping"). -1: nothing there, so the hole is not inside. */
static int
visible_corner (const Corner *rim, int n, const Corner *from)
{
  int best = -1;
  Corner hit = { INFINITY, from->y, -1 };
  for (int i = 0; i < n; i++)
    {
      const Corner *a = &rim[i], *b = &rim[(i + 1) % n];
      if (a->y > from->y || b->y < from->y || a->y == b->y) /* edges that go up: the inside is left */
        continue;
      double x = a->x + (b->x - a->x) * (from->y - a->y) / (b->y - a->y);
      if (x < from->x || x >= hit.x)
        continue;
      hit.x = x;
      best = a->x > b->x ? i : (i + 1) % n;
      if (b->y == from->y)
        best = (i + 1) % n;
      else if (a->y == from->y)
        best = i;
    }
  if (best < 0 || (rim[best].x == hit.x && rim[best].y == hit.y))
    return best;
  const Corner end = rim[best];
  double least = fabs (end.y - from->y) / (end.x - from->x), nearest = end.x - from->x;
  for (int i = 0; i < n; i++)
    {
      const Corner *p = &rim[i];
      if (p->x <= from->x || turn (&rim[(i + n - 1) % n], p, &rim[(i + 1) % n]) > 0
          || !in_triangle (p, from, &hit, &end))
        continue;
      double slope = fabs (p->y - from->y) / (p->x - from->x);
      if (slope > least || (slope == least && p->x - from->x >= nearest))
        continue;
      least = slope;
      nearest = p->x - from->x;
      best = i;
    }
  return best;
}

/* True if `to` lies in the opening of the rim at corner i. */
static gboolean
opens_to (const Corner *rim, int n, int i, const Corner *to)
{
  const Corner *a = &rim[(i + n - 1) % n], *p = &rim[i], *c = &rim[(i + 1) % n];
  gboolean in = turn (a, p, to) >= 0, out = turn (p, c, to) >= 0;
  return turn (a, p, c) > 0 ? in && out : in || out;
}

/* A corner that earlier cuts use stands in the rim several times: the copy that opens to the hole. */
static int
right_copy (const Corner *rim, int n, int at, const Corner *from)
{
  for (int i = 0; i < n; i++)
    if (rim[i].point == rim[at].point && opens_to (rim, n, i, from))
      return i;
  return at;
}

/* Joins a hole (clockwise) to the rim; both corners of the cut come twice. */
static gboolean
join_hole (Corner *rim, int *n, const Corner *hole, int n_hole)
{
  int start = rightmost (hole, n_hole), at = visible_corner (rim, *n, &hole[start]);
  if (at < 0)
    return FALSE;
  at = right_copy (rim, *n, at, &hole[start]);
  for (int i = *n - 1; i > at; i--)
    rim[i + n_hole + 2] = rim[i];
  for (int i = 0; i <= n_hole; i++)
    rim[at + 1 + i] = hole[(start + i) % n_hole];
  rim[at + 2 + n_hole] = rim[at];
  *n += n_hole + 2;
  return TRUE;
}

/* How well shaped an ear is: its area over its longest edge squared; 0 or less: no ear. */
static double
ear_shape (const Corner *ring, const int *next, const int *before, int i, int scale_n)
{
  const Corner *a = &ring[before[i]], *b = &ring[i], *c = &ring[next[i]];
  double area = turn (a, b, c);
  double longest = fmax (hypot (b->x - a->x, b->y - a->y),
                         fmax (hypot (c->x - b->x, c->y - b->y), hypot (a->x - c->x, a->y - c->y)));
  if (!(area > 1e-12 * longest * longest) || longest <= 0)
    return 0;
  int seen = 0;
  for (int k = next[next[i]]; k != before[i] && seen < scale_n; k = next[k], seen++)
    {
      const Corner *p = &ring[k];
      if (p->point == a->point || p->point == b->point || p->point == c->point)
        continue;
      if (in_triangle (p, a, b, c))
        return 0;
    }
  return area / (longest * longest);
}

static gboolean
clip_ears (FwMesh *mesh, const Corner *ring, int n)
{
  int *next = g_new (int, n), *before = g_new (int, n), left = n, at = 0;
  double *shape = g_new (double, n);
  gboolean good = TRUE;
  g_assert (n >= 3);
  for (int i = 0; i < n; i++)
    {
      next[i] = (i + 1) % n;
      before[i] = (i + n - 1) % n;
    }
  for (int i = 0; i < n; i++)
    shape[i] = ear_shape (ring, next, before, i, n);
  while (left > 3 && good)
    {
      int best = -1;
      for (int k = 0, i = at; k < left; k++, i = next[i])
        if (shape[i] > 0 && (best < 0 || shape[i] > shape[best]))
          best = i;
      good = best >= 0;
      if (!good)
        break;
      fw_mesh_triangle (mesh, ring[before[best]].point, ring[best].point, ring[next[best]].point);
      next[before[best]] = next[best];
      before[next[best]] = before[best];
      at = next[best];
      left--;
      /* What was hindered by the corner that is gone may now be an ear: all are looked at anew. */
      for (int k = 0, i = at; k < left; k++, i = next[i])
        shape[i] = shape[i] > 0 && i != at && i != before[at]
                       ? shape[i]
                       : ear_shape (ring, next, before, i, left);
    }
  if (good && turn (&ring[before[at]], &ring[at], &ring[next[at]]) > 0)
    fw_mesh_triangle (mesh, ring[before[at]].point, ring[at].point, ring[next[at]].point);
  else
    good = FALSE;
  g_free (next);
  g_free (before);
  g_free (shape);
  return good;
}

static void
flatten (const FwMesh *mesh, FwVec3 normal, const int *loop, int n, Corner *out)
{
  FwVec3 away = fabs (normal.x) < 0.6 ? fw_vec3 (1, 0, 0) : fw_vec3 (0, 1, 0);
  FwVec3 v = fw_vec3_cross (normal, away);
  v = fw_vec3_scale (v, 1 / fw_vec3_length (v));
  FwVec3 u = fw_vec3_cross (v, normal);
  for (int i = 0; i < n; i++)
    {
      FwVec3 p = mesh->points[loop[i]];
      out[i] = (Corner){ fw_vec3_dot (p, u), fw_vec3_dot (p, v), loop[i] };
    }
}

typedef struct
{
  Corner *corners;
  int n;
  double right; /* greatest x */
} Hole;

static int
by_right (const void *a, const void *b)
{
  double x = ((const Hole *)a)->right, y = ((const Hole *)b)->right;
  return x < y ? 1 : x > y ? -1 : 0;
}

gboolean
fw_mesh_face (FwMesh *mesh, FwVec3 normal, const int *const *loops, const int *sizes, int n_loops)
{
  int room = 0, n = sizes[0], n_holes = n_loops - 1;
  for (int i = 0; i < n_loops; i++)
    room += sizes[i] + 2;
  Corner *rim = g_new (Corner, room);
  Hole *holes = g_new0 (Hole, n_loops);
  double length = fw_vec3_length (normal);
  normal = fw_vec3_scale (normal, 1 / length);
  flatten (mesh, normal, loops[0], n, rim);
  if (loop_area (rim, n) < 0)
    reverse (rim, n);
  for (int i = 0; i < n_holes; i++)
    {
      Hole *hole = &holes[i];
      hole->n = sizes[i + 1];
      g_assert (hole->n >= 3);
      hole->corners = g_new (Corner, hole->n);
      flatten (mesh, normal, loops[i + 1], hole->n, hole->corners);
      if (loop_area (hole->corners, hole->n) > 0)
        reverse (hole->corners, hole->n);
      hole->right = hole->corners[rightmost (hole->corners, hole->n)].x;
    }
  qsort (holes, (size_t)n_holes, sizeof *holes, by_right);
  gboolean good = TRUE;
  for (int i = 0; i < n_holes && good; i++)
    good = join_hole (rim, &n, holes[i].corners, holes[i].n);
  good = good && clip_ears (mesh, rim, n);
  for (int i = 0; i < n_holes; i++)
    g_free (holes[i].corners);
  g_free (holes);
  g_free (rim);
  return good;
}
