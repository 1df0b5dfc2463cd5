#include "draw/shapes.h"

#include <stdlib.h>

#define MOST_LINES 400

double
fw_polygon_area (const FwVec2 *p, int n)
{
  double twice = 0;
  for (int i = 0, j = n - 1; i < n; j = i++)
    twice += p[j].x * p[i].y - p[i].x * p[j].y;
  return twice / 2;
}

int
fw_polygon_turns (const FwVec2 *p, int n, FwVec2 q)
{
  int turns = 0;
  for (int i = 0, j = n - 1; i < n; j = i++)
    {
      gboolean above = p[i].y > q.y;
      if (above == (p[j].y > q.y))
        continue;
      double side = (p[i].x - p[j].x) * (q.y - p[j].y) - (p[i].y - p[j].y) * (q.x - p[j].x);
      if (above && side > 0)
        turns++;
      else if (!above && side < 0)
        turns--;
    }
  return turns;
}

gboolean
fw_polygon_holds (const FwVec2 *p, int n, FwVec2 q)
{
  gboolean inside = FALSE;
  for (int i = 0, j = n - 1; i < n; j = i++)
    if ((p[i].y > q.y) != (p[j].y > q.y)
        && q.x < (p[j].x - p[i].x) * (q.y - p[i].y) / (p[j].y - p[i].y) + p[i].x)
      inside = !inside;
  return inside;
}

double
fw_page_segment_distance (FwVec2 p, FwVec2 a, FwVec2 b)
{
  double dx = b.x - a.x, dy = b.y - a.y, l2 = dx * dx + dy * dy;
  double t = l2 > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / l2 : 0;
  t = CLAMP (t, 0, 1);
  return hypot (p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static int
ascending (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* Where the line at distance `level` along the normal cuts the polygon: positions along the line.
 */
static int
cuts (const FwVec2 *p, int n, FwVec2 along, double level, double *at, int capacity)
{
  int found = 0;
  for (int i = 0, j = n - 1; i < n; j = i++)
    {
      double di = -along.y * p[i].x + along.x * p[i].y - level;
      double dj = -along.y * p[j].x + along.x * p[j].y - level;
      if ((di > 0) == (dj > 0) || found == capacity)
        continue;
      double t = dj / (dj - di);
      FwVec2 q = fw_vec2_mix (p[j], p[i], t);
      at[found++] = along.x * q.x + along.y * q.y;
    }
  // cppcheck-suppress uninitvar ; as many as were found are set
  qsort (at, (size_t)found, sizeof *at, ascending);
  return found & ~1;
}

void
fw_polygon_hatch (const FwVec2 *p, int n, double angle, double spacing, GArray *pairs)
{
  if (n < 3 || !(spacing > 0))
    return;
  FwVec2 along = fw_vec2 (cos (angle), sin (angle));
  double least = INFINITY, most = -INFINITY;
  for (int i = 0; i < n; i++)
    {
      double d = -along.y * p[i].x + along.x * p[i].y;
      least = fmin (least, d);
      most = fmax (most, d);
    }
  if (!isfinite (least) || !isfinite (most))
    return;
  spacing = fmax (spacing, (most - least) / MOST_LINES);
  for (double k = ceil (least / spacing); k * spacing < most; k++)
    {
      double at[32];
      double level = k * spacing;
      int found = cuts (p, n, along, level, at, 32);
      for (int i = 0; i < found; i++)
        {
          FwVec2 q = fw_vec2 (along.x * at[i] - along.y * level, along.y * at[i] + along.x * level);
          g_array_append_val (pairs, q);
        }
    }
}

void
fw_tilted_reach (const FwTilted *box, double *half_x, double *half_y)
{
  double c = fabs (cos (box->angle)), s = fabs (sin (box->angle));
  *half_x = c * box->half_width + s * box->half_height;
  *half_y = s * box->half_width + c * box->half_height;
}

/* True if a line square to the given direction lies between them. */
static gboolean
apart_along (const FwTilted *a, const FwTilted *b, double angle)
{
  double c = cos (angle), s = sin (angle);
  double gap = fabs (c * (b->centre.x - a->centre.x) + s * (b->centre.y - a->centre.y));
  double reach = 0;
  for (int k = 0; k < 2; k++)
    {
      const FwTilted *box = k == 0 ? a : b;
      double turn = angle - box->angle;
      reach += fabs (cos (turn)) * box->half_width + fabs (sin (turn)) * box->half_height;
    }
  return gap >= reach;
}

gboolean
fw_tilted_overlap (const FwTilted *a, const FwTilted *b)
{
  return !apart_along (a, b, a->angle) && !apart_along (a, b, a->angle + G_PI_2)
         && !apart_along (a, b, b->angle) && !apart_along (a, b, b->angle + G_PI_2);
}

gboolean
fw_tilted_meets_segment (const FwTilted *box, FwVec2 a, FwVec2 b)
{
  FwTilted line = { .centre = fw_vec2_mix (a, b, 0.5),
                    .half_width = fw_vec2_distance (a, b) / 2,
                    .angle = atan2 (b.y - a.y, b.x - a.x) };
  return fw_tilted_overlap (box, &line);
}

double
fw_round_length (double most)
{
  if (!(most > 0) || !isfinite (most))
    return 0;
  double power = pow (10, floor (log10 (most)));
  double lead = most / power * (1 + 1e-12);
  return power * (lead >= 5 ? 5 : lead >= 2 ? 2 : 1);
}
