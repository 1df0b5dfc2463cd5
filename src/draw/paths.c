/* Paths of lines and polygons, and outlines of what a stroke would cover: filling those costs a fraction. */
#include "draw/paint.h"

void
fw_path_line (cairo_t *cr, const FwVec2 *p, int n)
{
  for (int i = 0; i < n; i++)
    if (i == 0)
      cairo_move_to (cr, p[i].x, p[i].y);
    else
      cairo_line_to (cr, p[i].x, p[i].y);
}

void
fw_path_polygon (cairo_t *cr, const FwVec2 *p, int n)
{
  fw_path_line (cr, p, n);
  if (n > 0)
    cairo_close_path (cr);
}

void
fw_path_pairs (cairo_t *cr, const FwVec2 *p, int pairs)
{
  for (int i = 0; i < pairs; i++)
    {
      cairo_move_to (cr, p[2 * i].x, p[2 * i].y);
      cairo_line_to (cr, p[2 * i + 1].x, p[2 * i + 1].y);
    }
}

/* The corner of a grown outline, round, as short steps that leave the circle by a tenth of a px at most. */
static void
path_corner (cairo_t *cr, FwVec2 at, double from, double turn, double grow)
{
  int steps = (int)ceil (fabs (turn) * sqrt (grow) / 0.9);
  for (int i = 1; i < steps; i++)
    cairo_line_to (cr, at.x + grow * cos (from + turn * i / steps),
                   at.y + grow * sin (from + turn * i / steps));
}

/* At corners that look inward the path runs by way of the corner itself: so it is the sum of the polygon, of a band
 * beside each edge and of a sector at each corner, all in one sense of turning, and no part of it cancels. */
void
fw_path_grown (cairo_t *cr, const FwVec2 *p, int n, double grow)
{
  double sense = fw_polygon_area (p, n) > 0 ? 1 : -1, last = NAN;
  gboolean open = FALSE;
  for (int i = -n; i < n; i++) /* the first time round only for the direction of the last edge */
    {
      FwVec2 a = p[(i + n) % n], b = p[(i + n + 1) % n];
      double length = fw_vec2_distance (a, b);
      if (length < 1e-9)
        continue;
      FwVec2 out = fw_vec2 (sense * (b.y - a.y) / length * grow, -sense * (b.x - a.x) / length * grow);
      double angle = atan2 (out.y, out.x), turn = remainder (angle - last, 2 * G_PI);
      last = angle;
      if (i < 0)
        continue;
      if (!open)
        cairo_new_sub_path (cr);
      open = TRUE;
      if (sense * turn > 0 || fabs (turn) > G_PI - 1e-6)
        path_corner (cr, a, angle - turn, sense * fabs (turn), grow);
      else
        cairo_line_to (cr, a.x, a.y);
      cairo_line_to (cr, a.x + out.x, a.y + out.y);
      cairo_line_to (cr, b.x + out.x, b.y + out.y);
    }
  if (open)
    cairo_close_path (cr);
}

/* ---- Bars with bends ---- */

/* A bar's middle line without steps of no length. */
typedef struct
{
  int n;
  FwVec2 p[FW_MOST_BAR], dir[FW_MOST_BAR]; /* dir[i]: from p[i] to p[i + 1] */
  double length[FW_MOST_BAR];
  /* At a corner: how far the edge on its inner side stands back from it along both steps, px for each px of half the
   * width; positive where the inner side is that of (-dir.y, dir.x). */
  double back[FW_MOST_BAR];
} Bar;

static void
lay_bar (Bar *bar, const FwVec2 *p, int n)
{
  bar->n = 0;
  for (int i = 0; i < n; i++)
    {
      int last = bar->n - 1;
      double length = last < 0 ? 0 : fw_vec2_distance (bar->p[last], p[i]);
      if (last >= 0 && length < 1e-9)
        continue;
      if (last >= 0)
        {
          bar->length[last] = length;
          bar->dir[last] = fw_vec2 ((p[i].x - bar->p[last].x) / length, (p[i].y - bar->p[last].y) / length);
        }
      bar->back[bar->n] = 0;
      bar->p[bar->n++] = p[i];
    }
  for (int i = 1; i + 1 < bar->n; i++)
    {
      FwVec2 in = bar->dir[i - 1], out = bar->dir[i];
      double across = in.x * out.y - in.y * out.x, along = 1 + in.x * out.x + in.y * out.y;
      /* Where it turns back on itself no distance is enough. */
      bar->back[i] = along > 1e-9 ? across / along : copysign (INFINITY, across);
    }
}

static FwVec2
beside (const Bar *bar, int i, int step, double away)
{
  return fw_vec2 (bar->p[i].x - away * bar->dir[step].y, bar->p[i].y + away * bar->dir[step].x);
}

/* True if the two edges on the inner side of corner i meet before either ends. */
static gboolean
meets_inside (const Bar *bar, int i, double away)
{
  double here = bar->back[i] * away;
  return here + fmax (bar->back[i - 1] * away, 0) < bar->length[i - 1]
         && here + fmax (bar->back[i + 1] * away, 0) < bar->length[i];
}

/* One edge of the bar, `away` px to the side of (-dir.y, dir.x), in the line's direction or (`sense` -1) against it. */
static void
path_edge (cairo_t *cr, const Bar *bar, double away, int sense)
{
  int last = bar->n - 1;
  for (int k = 0; k <= last; k++)
    {
      int i = sense > 0 ? k : last - k;
      int near = sense > 0 ? i - 1 : i, far = sense > 0 ? i : i - 1; /* steps before and after, on this way */
      gboolean inside = bar->back[i] * away > 0;
      gboolean cut = bar->back[i] * bar->back[i] > 1.25; /* a turn of over 96 degrees is cut, not drawn out */
      if (k > 0 && k < last && !cut && (!inside || meets_inside (bar, i, away)))
        {
          /* The mitre: on the edge of the step before, drawn out or stood back. */
          FwVec2 foot = beside (bar, i, i - 1, away), dir = bar->dir[i - 1];
          double on = -bar->back[i] * away;
          cairo_line_to (cr, foot.x + on * dir.x, foot.y + on * dir.y);
          continue;
        }
      FwVec2 from = beside (bar, i, k > 0 ? near : far, away), to = beside (bar, i, k < last ? far : near, away);
      cairo_line_to (cr, from.x, from.y);
      if (k == 0 || k == last)
        continue;
      if (inside)
        cairo_line_to (cr, bar->p[i].x, bar->p[i].y);
      cairo_line_to (cr, to.x, to.y);
    }
}

/* Where the edges on the inner side do not meet they run by way of the corner, as in a grown outline. */
gboolean
fw_path_bar (cairo_t *cr, const FwVec2 *p, int n, double width, gboolean round)
{
  Bar bar;
  if (n > FW_MOST_BAR)
    return FALSE;
  lay_bar (&bar, p, n);
  if (bar.n < 2)
    return FALSE;
  double half = width / 2;
  FwVec2 first = bar.dir[0], last = bar.dir[bar.n - 2];
  cairo_new_sub_path (cr);
  path_edge (cr, &bar, half, 1);
  if (round)
    path_corner (cr, bar.p[bar.n - 1], atan2 (last.x, -last.y), -G_PI, half);
  path_edge (cr, &bar, -half, -1);
  if (round)
    path_corner (cr, bar.p[0], atan2 (-first.x, first.y), -G_PI, half);
  cairo_close_path (cr);
  return TRUE;
}
