/* Whether a panel's outline is a simple polygon. */
#include "doc/read.h"

static double
cross (FwVec2 o, FwVec2 a, FwVec2 b)
{
  return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

static int
sign (double x)
{
  return (x > 0) - (x < 0);
}

static gboolean
same (FwVec2 a, FwVec2 b)
{
  return a.x == b.x && a.y == b.y;
}

static gboolean
overlap (double a0, double a1, double b0, double b1)
{
  return MAX (MIN (a0, a1), MIN (b0, b1)) <= MIN (MAX (a0, a1), MAX (b0, b1));
}

/* Segments ab and cd share at least one point. */
static gboolean
segments_meet (FwVec2 a, FwVec2 b, FwVec2 c, FwVec2 d)
{
  if (!overlap (a.x, b.x, c.x, d.x) || !overlap (a.y, b.y, c.y, d.y))
    return FALSE;
  /* With the boxes overlapping, points that lie in one line do meet: a product of 0 says so too. */
  return sign (cross (a, b, c)) * sign (cross (a, b, d)) <= 0
         && sign (cross (c, d, a)) * sign (cross (c, d, b)) <= 0;
}

/* Edges that share the point `b` (a to b, b to c) must not fold back onto each other. */
static gboolean
folds_back (FwVec2 a, FwVec2 b, FwVec2 c)
{
  double along = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y);
  return cross (a, b, c) == 0 && along < 0;
}

static gboolean
edges_clash (const FwVec2 *p, int n, int i, int j)
{
  FwVec2 a = p[i], b = p[(i + 1) % n], c = p[j], d = p[(j + 1) % n];

  if (j == i + 1)
    return folds_back (a, b, d);
  if (i == 0 && j == n - 1)
    return folds_back (c, d, b);
  return segments_meet (a, b, c, d);
}

FwOutlineFault
fw_outline_check (const FwVec2 *points, int n, int *a, int *b)
{
  double area = 0;

  for (int i = 0; i < n; i++)
    {
      if (same (points[i], points[(i + n - 1) % n]))
        {
          *a = i;
          return FW_OUTLINE_REPEATS;
        }
      area += cross (points[0], points[i], points[(i + 1) % n]);
    }
  if (n == 3 && area == 0)
    return FW_OUTLINE_FLAT;
  for (int i = 0; i < n; i++)
    for (int j = i + 1; j < n; j++)
      if (edges_clash (points, n, i, j))
        {
          *a = i;
          *b = j;
          return FW_OUTLINE_CROSSES;
        }
  return area == 0 ? FW_OUTLINE_FLAT : FW_OUTLINE_SIMPLE;
}
