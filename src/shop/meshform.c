#include "shop/meshform.h"

#define FLAT_MM 0.01

int
fw_facets (double radius_mm)
{
  double half = acos (1 - fmin (FLAT_MM / fmax (radius_mm, FLAT_MM), 0.5));
  return CLAMP (4 * (int)ceil (G_PI / half / 4), 24, FW_MOST_FACETS);
}

double
fw_bore_corner (double radius_mm, int n)
{
  return radius_mm / cos (G_PI / n);
}

void
fw_mesh_ring (FwMesh *mesh, FwVec3 centre, FwVec3 u, FwVec3 v, double radius_mm, int n, int *ring)
{
  for (int i = 0; i < n; i++)
    {
      double angle = 2 * G_PI * i / n;
      FwVec3 p = fw_vec3_along (centre, radius_mm * cos (angle), u);
      ring[i] = fw_mesh_point (mesh, fw_vec3_along (p, radius_mm * sin (angle), v));
    }
}

double
fw_outline_area (const FwVec2 *points, int n)
{
  double twice = 0;
  for (int i = 0; i < n; i++)
    {
      FwVec2 a = points[i], b = points[(i + 1) % n];
      twice += a.x * b.y - b.x * a.y;
    }
  return twice / 2;
}

/* The corner where the edges a-p and p-b meet once both are moved to their left by `distance`. */
static gboolean
moved_corner (FwVec2 a, FwVec2 p, FwVec2 b, double distance, FwVec2 *out)
{
  double ex = p.x - a.x, ey = p.y - a.y, fx = b.x - p.x, fy = b.y - p.y;
  double e = hypot (ex, ey), f = hypot (fx, fy);
  if (e <= 0 || f <= 0)
    return FALSE;
  /* Unit normals to the left; the mitre is (n1 + n2) / (1 + n1 . n2). */
  double n1x = -ey / e, n1y = ex / e, n2x = -fy / f, n2y = fx / f;
  double share = 1 + n1x * n2x + n1y * n2y;
  if (share < 1e-3)
    return FALSE;
  *out = (FwVec2){ p.x + distance * (n1x + n2x) / share, p.y + distance * (n1y + n2y) / share };
  return TRUE;
}

/* The polygon with every edge moved inward by `distance` (outward: below 0), corners mitred. Points
 * anticlockwise. FALSE: an edge would vanish or turn round. */
static gboolean
outline_inset (const FwVec2 *points, int n, double distance_mm, FwVec2 *out)
{
  for (int i = 0; i < n; i++)
    if (!moved_corner (points[(i + n - 1) % n], points[i], points[(i + 1) % n], distance_mm, &out[i]))
      return FALSE;
  for (int i = 0; i < n; i++)
    {
      FwVec2 a = points[i], b = points[(i + 1) % n], c = out[i], d = out[(i + 1) % n];
      if ((b.x - a.x) * (d.x - c.x) + (b.y - a.y) * (d.y - c.y) <= 0)
        return FALSE;
    }
  return TRUE;
}

static void
add_outline (FwMesh *mesh, const FwFrame *frame, const FwVec2 *points, int n, double height, int *ring)
{
  for (int i = 0; i < n; i++)
    ring[i] = fw_mesh_point (mesh, fw_frame_to_world (frame, fw_vec3 (points[i].x, points[i].y, height)));
}

static void
wall (FwMesh *mesh, const int *low, const int *high, int i, int n, gboolean hole)
{
  int next = (i + 1) % n, a = low[i], b = low[next], c = high[next], d = high[i];
  fw_mesh_triangle (mesh, a, hole ? c : b, hole ? b : c);
  fw_mesh_triangle (mesh, a, hole ? d : c, hole ? c : d);
}

gboolean
fw_mesh_prism (FwMesh *mesh, const FwFrame *frame, const FwVec2 *points, int n, double length_mm,
               double chamfer_mm, gboolean hole, const gboolean *open, FwPrism *prism)
{
  FwVec2 inset[FW_MOST_PROFILE];
  gboolean chamfered = chamfer_mm > 0;
  g_return_val_if_fail (n <= FW_MOST_PROFILE, FALSE);
  if (chamfered
      && (2 * chamfer_mm >= length_mm
          || !outline_inset (points, n, hole ? -chamfer_mm : chamfer_mm, inset)))
    return FALSE;
  prism->n = n;
  add_outline (mesh, frame, points, n, chamfer_mm, prism->rings[1]);
  add_outline (mesh, frame, points, n, length_mm - chamfer_mm, prism->rings[2]);
  if (chamfered)
    {
      add_outline (mesh, frame, inset, n, 0, prism->rings[0]);
      add_outline (mesh, frame, inset, n, length_mm, prism->rings[3]);
    }
  for (int i = 0; i < n; i++)
    {
      if (!chamfered)
        {
          prism->rings[0][i] = prism->rings[1][i];
          prism->rings[3][i] = prism->rings[2][i];
        }
      if (open == NULL || !open[i])
        wall (mesh, prism->rings[1], prism->rings[2], i, n, hole);
    }
  for (int i = 0; i < n && chamfered; i++)
    {
      wall (mesh, prism->rings[0], prism->rings[1], i, n, hole);
      wall (mesh, prism->rings[2], prism->rings[3], i, n, hole);
    }
  return TRUE;
}

void
fw_mesh_bore (FwMesh *mesh, FwVec3 a, FwVec3 b, FwVec3 u, double radius_mm, double chamfer_a_mm,
              double chamfer_b_mm, FwBore *bore)
{
  FwVec3 along = fw_vec3_sub (b, a);
  double length = fw_vec3_length (along);
  along = fw_vec3_scale (along, 1 / length);
  FwVec3 v = fw_vec3_cross (along, u);
  int n = fw_facets (radius_mm), low[FW_MOST_FACETS], high[FW_MOST_FACETS];
  bore->n = n;
  double corner = fw_bore_corner (radius_mm, n);
  fw_mesh_ring (mesh, fw_vec3_along (a, chamfer_a_mm, along), u, v, corner, n, low);
  fw_mesh_ring (mesh, fw_vec3_along (b, -chamfer_b_mm, along), u, v, corner, n, high);
  fw_mesh_band (mesh, high, low, n);
  for (int i = 0; i < n; i++)
    {
      bore->from[i] = low[i];
      bore->to[i] = high[i];
    }
  if (chamfer_a_mm > 0)
    {
      fw_mesh_ring (mesh, a, u, v, fw_bore_corner (radius_mm + chamfer_a_mm, n), n, bore->from);
      fw_mesh_band (mesh, low, bore->from, n);
    }
  if (chamfer_b_mm > 0)
    {
      fw_mesh_ring (mesh, b, u, v, fw_bore_corner (radius_mm + chamfer_b_mm, n), n, bore->to);
      fw_mesh_band (mesh, bore->to, high, n);
    }
}

void
fw_mesh_lathe (FwMesh *mesh, const FwVec2 *profile, int n, int facets)
{
  int first[FW_MOST_FACETS], low[FW_MOST_FACETS], high[FW_MOST_FACETS];
  g_return_if_fail (facets <= FW_MOST_FACETS);
  fw_mesh_ring (mesh, fw_vec3 (0, 0, profile[0].y), fw_vec3 (1, 0, 0), fw_vec3 (0, 1, 0),
                profile[0].x, facets, first);
  for (int k = 0; k < facets; k++)
    low[k] = first[k];
  for (int i = 1; i < n; i++)
    {
      fw_mesh_ring (mesh, fw_vec3 (0, 0, profile[i].y), fw_vec3 (1, 0, 0), fw_vec3 (0, 1, 0),
                    profile[i].x, facets, high);
      fw_mesh_band (mesh, low, high, facets);
      for (int k = 0; k < facets; k++)
        low[k] = high[k];
    }
  fw_mesh_band (mesh, low, first, facets);
}
