#include "core/distance.h"
#include "core/solve.h"

static double
clamp01 (double t)
{
  return t < 0 ? 0 : t > 1 ? 1 : t;
}

double
fw_segment_distance (FwSegment p, FwSegment q)
{
  FwVec3 d1 = fw_vec3_sub (p.b, p.a), d2 = fw_vec3_sub (q.b, q.a), r = fw_vec3_sub (p.a, q.a);
  double a = fw_vec3_dot (d1, d1), e = fw_vec3_dot (d2, d2), f = fw_vec3_dot (d2, r);
  double c = fw_vec3_dot (d1, r), b = fw_vec3_dot (d1, d2), denominator = a * e - b * b;
  double s = denominator > 1e-12 * a * e ? clamp01 ((b * f - c * e) / denominator) : 0;
  double t = e > 0 ? (b * s + f) / e : 0;
  if (t < 0 || t > 1 || e == 0)
    {
      t = clamp01 (t);
      s = a > 0 ? clamp01 ((b * t - c) / a) : 0;
    }
  return fw_vec3_distance (fw_vec3_along (p.a, s, d1), fw_vec3_along (q.a, t, d2));
}

bool
fw_inside_outline (FwVec2 p, const FwVec2 *outline, int n)
{
  bool inside = false;
  for (int i = 0, j = n - 1; i < n; j = i++)
    {
      FwVec2 a = outline[i], b = outline[j];
      if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x)
        inside = !inside;
    }
  return inside;
}

/* Least distance to the polygon's rim, in the polygon's own coordinates. */
static double
rim_distance (FwSegment local, const FwVec2 *outline, int n)
{
  double least = INFINITY;
  for (int i = 0; i < n; i++)
    {
      FwVec2 a = outline[i], b = outline[(i + 1) % n];
      FwSegment edge = { { a.x, a.y, 0 }, { b.x, b.y, 0 } };
      least = fw_lesser (fw_segment_distance (local, edge), least);
    }
  return least;
}

double
fw_segment_plate_distance (FwSegment s, const FwFrame *frame, const FwVec2 *outline, int n)
{
  FwSegment local = { fw_frame_to_local (frame, s.a), fw_frame_to_local (frame, s.b) };
  double wa = local.a.z, wb = local.b.z;
  if ((wa > 0) != (wb > 0))
    {
      double t = wa / (wa - wb);
      FwVec2 through = { local.a.x + t * (local.b.x - local.a.x), local.a.y + t * (local.b.y - local.a.y) };
      if (fw_inside_outline (through, outline, n))
        return 0;
    }
  double least = rim_distance (local, outline, n);
  if (fabs (wa) < least && fw_inside_outline ((FwVec2) { local.a.x, local.a.y }, outline, n))
    least = fabs (wa);
  if (fabs (wb) < least && fw_inside_outline ((FwVec2) { local.b.x, local.b.y }, outline, n))
    least = fabs (wb);
  return least;
}

/* Cuts the segment a-b to |x| <= half_x, |y| <= half_y (method of Liang and Barsky); false: outside. */
static bool
clip_to_rectangle (FwVec3 *a, FwVec3 *b, double half_x, double half_y)
{
  FwVec3 d = fw_vec3_sub (*b, *a);
  const double p[4] = { -d.x, d.x, -d.y, d.y };
  const double q[4] = { a->x + half_x, half_x - a->x, a->y + half_y, half_y - a->y };
  double from = 0, to = 1;
  for (int i = 0; i < 4; i++)
    {
      if (p[i] == 0 && q[i] < 0)
        return false;
      if (p[i] < 0)
        from = fmax (from, q[i] / p[i]);
      else if (p[i] > 0)
        to = fmin (to, q[i] / p[i]);
    }
  if (from > to)
    return false;
  FwVec3 start = *a;
  *a = fw_vec3_along (start, from, d);
  *b = fw_vec3_along (start, to, d);
  return true;
}

double
fw_plate_height_over (const FwFrame *frame, const FwVec2 *outline, int n, double half_x, double half_y, double floor)
{
  double least = INFINITY;
  for (int i = 0; i < n; i++)
    {
      FwVec2 p = outline[i], q = outline[(i + 1) % n];
      FwVec3 a = fw_frame_to_world (frame, fw_vec3 (p.x, p.y, 0));
      FwVec3 b = fw_frame_to_world (frame, fw_vec3 (q.x, q.y, 0));
      if (clip_to_rectangle (&a, &b, half_x, half_y))
        least = fmin (least, fmin (a.z, b.z) - floor);
    }
  if (fabs (frame->w.z) < 1e-9)
    return least; /* on edge: its rim is all there is */
  for (int corner = 0; corner < 4; corner++)
    {
      double x = corner & 1 ? half_x : -half_x, y = corner & 2 ? half_y : -half_y;
      FwVec3 o = frame->origin, w = frame->w;
      double z = o.z - ((x - o.x) * w.x + (y - o.y) * w.y) / w.z;
      FwVec3 local = fw_frame_to_local (frame, fw_vec3 (x, y, z));
      if (fw_inside_outline ((FwVec2) { local.x, local.y }, outline, n))
        least = fmin (least, z - floor);
    }
  return least;
}
