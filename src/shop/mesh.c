#include "shop/mesh.h"

#include <string.h>

FwMesh *
fw_mesh_new (void)
{
  return g_new0 (FwMesh, 1);
}

void
fw_mesh_free (FwMesh *mesh)
{
  if (mesh == NULL)
    return;
  g_free (mesh->points);
  g_free (mesh->triangles);
  g_free (mesh);
}

FwMesh *
fw_mesh_copy (const FwMesh *mesh)
{
  FwMesh *copy = g_new (FwMesh, 1);
  *copy = *mesh;
  copy->room_points = mesh->n_points;
  copy->room_triangles = mesh->n_triangles;
  copy->points = g_memdup2 (mesh->points, sizeof *mesh->points * (gsize)mesh->n_points);
  copy->triangles = g_memdup2 (mesh->triangles, sizeof *mesh->triangles * (gsize)mesh->n_triangles);
  return copy;
}

int
fw_mesh_point (FwMesh *mesh, FwVec3 at)
{
  if (mesh->n_points == mesh->room_points)
    {
      mesh->room_points = MAX (64, 2 * mesh->room_points);
      mesh->points = g_renew (FwVec3, mesh->points, mesh->room_points);
    }
  mesh->points[mesh->n_points] = at;
  return mesh->n_points++;
}

void
fw_mesh_triangle (FwMesh *mesh, int a, int b, int c)
{
  if (mesh->n_triangles == mesh->room_triangles)
    {
      mesh->room_triangles = MAX (64, 2 * mesh->room_triangles);
      mesh->triangles
          = g_realloc_n (mesh->triangles, (gsize)mesh->room_triangles, sizeof *mesh->triangles);
    }
  int *t = mesh->triangles[mesh->n_triangles++];
  t[0] = a;
  t[1] = b;
  t[2] = c;
}

void
fw_mesh_band (FwMesh *mesh, const int *a, const int *b, int n)
{
  for (int i = 0; i < n; i++)
    {
      int next = (i + 1) % n;
      fw_mesh_triangle (mesh, a[i], a[next], b[next]);
      fw_mesh_triangle (mesh, a[i], b[next], b[i]);
    }
}

/* ---- Measures ---- */

static void
corners (const FwMesh *mesh, int triangle, FwVec3 p[3])
{
  for (int k = 0; k < 3; k++)
    p[k] = mesh->points[mesh->triangles[triangle][k]];
}

static FwVec3
twice_area (const FwMesh *mesh, int triangle)
{
  FwVec3 p[3];
  corners (mesh, triangle, p);
  return fw_vec3_cross (fw_vec3_sub (p[1], p[0]), fw_vec3_sub (p[2], p[0]));
}

double
fw_mesh_volume (const FwMesh *mesh)
{
  double six = 0;
  FwVec3 near = mesh->n_points > 0 ? mesh->points[0] : fw_vec3 (0, 0, 0); /* keeps the terms small */
  for (int i = 0; i < mesh->n_triangles; i++)
    {
      FwVec3 p[3];
      corners (mesh, i, p);
      for (int k = 0; k < 3; k++)
        p[k] = fw_vec3_sub (p[k], near);
      six += fw_vec3_dot (p[0], fw_vec3_cross (p[1], p[2]));
    }
  return six / 6;
}

double
fw_mesh_area (const FwMesh *mesh)
{
  double area = 0;
  for (int i = 0; i < mesh->n_triangles; i++)
    area += fw_vec3_length (twice_area (mesh, i)) / 2;
  return area;
}

void
fw_mesh_bounds (const FwMesh *mesh, FwVec3 *low, FwVec3 *high)
{
  *low = *high = mesh->n_points > 0 ? mesh->points[0] : fw_vec3 (0, 0, 0);
  for (int i = 1; i < mesh->n_points; i++)
    {
      FwVec3 p = mesh->points[i];
      *low = fw_vec3 (fmin (low->x, p.x), fmin (low->y, p.y), fmin (low->z, p.z));
      *high = fw_vec3 (fmax (high->x, p.x), fmax (high->y, p.y), fmax (high->z, p.z));
    }
}

FwVec3
fw_mesh_normal (const FwMesh *mesh, int triangle)
{
  FwVec3 n = twice_area (mesh, triangle);
  double length = fw_vec3_length (n);
  return length > 0 ? fw_vec3_scale (n, 1 / length) : fw_vec3 (0, 0, 0);
}

/* Solid angle by Van Oosterom and Strackee, "The solid angle of a plane triangle" (1983). */
gboolean
fw_mesh_holds (const FwMesh *mesh, FwVec3 at)
{
  double half = 0;
  for (int i = 0; i < mesh->n_triangles; i++)
    {
      FwVec3 p[3];
      double l[3];
      corners (mesh, i, p);
      for (int k = 0; k < 3; k++)
        {
          p[k] = fw_vec3_sub (p[k], at);
          l[k] = fw_vec3_length (p[k]);
        }
      double above = fw_vec3_dot (p[0], fw_vec3_cross (p[1], p[2]));
      double below = l[0] * l[1] * l[2] + fw_vec3_dot (p[0], p[1]) * l[2]
                     + fw_vec3_dot (p[1], p[2]) * l[0] + fw_vec3_dot (p[2], p[0]) * l[1];
      half += atan2 (above, below);
    }
  return half > G_PI; /* of 2 pi inside, 0 outside */
}

/* ---- Check ---- */

static gint64
edge_key (int from, int to)
{
  return ((gint64)from << 32) | (gint64)to;
}

static gint64 *
new_key (gint64 key)
{
  gint64 *stored = g_new (gint64, 1);
  *stored = key;
  return stored;
}

/* Which triangle has the directed edge, + 1; a second one with the same edge counts as open. */
static GHashTable *
edges_of (const FwMesh *mesh, int *twice)
{
  GHashTable *edges = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (int i = 0; i < mesh->n_triangles; i++)
    for (int k = 0; k < 3; k++)
      {
        gint64 key = edge_key (mesh->triangles[i][k], mesh->triangles[i][(k + 1) % 3]);
        if (!g_hash_table_insert (edges, new_key (key), GINT_TO_POINTER (i + 1)))
          ++*twice;
      }
  return edges;
}

static int
across (GHashTable *edges, const FwMesh *mesh, int triangle, int k)
{
  gint64 back = edge_key (mesh->triangles[triangle][(k + 1) % 3], mesh->triangles[triangle][k]);
  return GPOINTER_TO_INT (g_hash_table_lookup (edges, &back)) - 1;
}

int *
fw_mesh_neighbours (const FwMesh *mesh)
{
  int twice = 0, *list = g_new (int, MAX (3 * mesh->n_triangles, 1));
  GHashTable *edges = edges_of (mesh, &twice);
  for (int i = 0; i < 3 * mesh->n_triangles; i++)
    list[i] = across (edges, mesh, i / 3, i % 3);
  g_hash_table_unref (edges);
  return list;
}

static int
count_shells (const FwMesh *mesh, GHashTable *edges)
{
  int shells = 0, *stack = g_new (int, MAX (mesh->n_triangles, 1));
  gboolean *seen = g_new0 (gboolean, MAX (mesh->n_triangles, 1));
  for (int start = 0; start < mesh->n_triangles; start++)
    {
      int depth = 0;
      if (seen[start])
        continue;
      shells++;
      seen[start] = TRUE;
      stack[depth++] = start;
      while (depth > 0)
        {
          int t = stack[--depth];
          for (int k = 0; k < 3; k++)
            {
              int next = across (edges, mesh, t, k);
              if (next < 0 || seen[next])
                continue;
              seen[next] = TRUE;
              stack[depth++] = next;
            }
        }
    }
  g_free (stack);
  g_free (seen);
  return shells;
}

/* Walks round each point from one of its triangles; a point is pinched if that does not meet all of
 * its triangles. Only for surfaces without open edges. */
static int
count_pinched (const FwMesh *mesh, GHashTable *edges)
{
  int pinched = 0, *fans = g_new0 (int, MAX (mesh->n_points, 1));
  int *first = g_new (int, MAX (mesh->n_points, 1));
  for (int i = 0; i < mesh->n_triangles; i++)
    for (int k = 0; k < 3; k++)
      {
        int p = mesh->triangles[i][k];
        fans[p]++;
        first[p] = i;
      }
  for (int p = 0; p < mesh->n_points; p++)
    {
      int t = fans[p] > 0 ? first[p] : -1, met = 0;
      while (t >= 0 && met <= fans[p])
        {
          const int *v = mesh->triangles[t];
          int k = v[0] == p ? 0 : v[1] == p ? 1 : 2;
          met++;
          t = across (edges, mesh, t, (k + 2) % 3);
          if (t == first[p])
            break;
        }
      if (fans[p] > 0 && met != fans[p])
        pinched++;
    }
  g_free (fans);
  g_free (first);
  return pinched;
}

FwMeshCheck
fw_mesh_check (const FwMesh *mesh)
{
  FwMeshCheck check = { .triangles = mesh->n_triangles };
  gboolean *used = g_new0 (gboolean, MAX (mesh->n_points, 1));
  GHashTable *edges = edges_of (mesh, &check.open_edges);
  int halves = 0;
  for (int i = 0; i < mesh->n_triangles; i++)
    {
      if (fw_vec3_length (twice_area (mesh, i)) < 1e-9)
        check.flat++;
      for (int k = 0; k < 3; k++)
        {
          used[mesh->triangles[i][k]] = TRUE;
          if (across (edges, mesh, i, k) >= 0)
            halves++;
          else
            check.open_edges++;
        }
    }
  for (int p = 0; p < mesh->n_points; p++)
    check.points += used[p] ? 1 : 0;
  check.edges = halves / 2 + check.open_edges;
  check.euler = check.points - check.edges + check.triangles;
  check.shells = count_shells (mesh, edges);
  if (check.open_edges == 0)
    check.pinched = count_pinched (mesh, edges);
  check.closed = mesh->n_triangles > 0 && check.open_edges == 0 && check.pinched == 0;
  check.outward = check.closed && fw_mesh_volume (mesh) > 0;
  g_hash_table_unref (edges);
  g_free (used);
  return check;
}

/* ---- Moving ---- */

void
fw_mesh_place (FwMesh *mesh, const FwFrame *frame)
{
  for (int i = 0; i < mesh->n_points; i++)
    mesh->points[i] = fw_frame_to_world (frame, mesh->points[i]);
  if (fw_vec3_dot (fw_vec3_cross (frame->u, frame->v), frame->w) > 0)
    return;
  for (int i = 0; i < mesh->n_triangles; i++)
    {
      int keep = mesh->triangles[i][1];
      mesh->triangles[i][1] = mesh->triangles[i][2];
      mesh->triangles[i][2] = keep;
    }
}

void
fw_mesh_settle (FwMesh *mesh)
{
  FwVec3 low, high;
  fw_mesh_bounds (mesh, &low, &high);
  for (int i = 0; i < mesh->n_points; i++)
    mesh->points[i] = fw_vec3_sub (mesh->points[i], low);
}
