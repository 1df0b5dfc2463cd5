/* A part to cut: its lines, holes and bounds. */
#include "shop/templatebuild.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/shapes.h"

FwCutPart *
fw_cut_part_new (FwTemplateKind kind, const FwMade *made, const char *name, int count,
                 const char *material, double thickness_mm)
{
  FwCutPart *part = g_new0 (FwCutPart, 1);
  part->kind = kind;
  part->letter = g_strdup (made == NULL ? "" : made->letter);
  part->name = g_strdup (name);
  part->count = count;
  part->material = g_strdup (material);
  part->thickness_mm = thickness_mm;
  part->points = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  part->lines = g_array_new (FALSE, FALSE, sizeof (FwCutLine));
  part->holes = g_array_new (FALSE, FALSE, sizeof (FwCutHole));
  part->texts = g_array_new (FALSE, FALSE, sizeof (FwCutText));
  return part;
}

void
fw_cut_part_free (FwCutPart *part)
{
  if (part == NULL)
    return;
  for (guint i = 0; i < part->texts->len; i++)
    g_free (g_array_index (part->texts, FwCutText, i).text);
  g_array_free (part->points, TRUE);
  g_array_free (part->lines, TRUE);
  g_array_free (part->holes, TRUE);
  g_array_free (part->texts, TRUE);
  g_free (part->letter);
  g_free (part->name);
  g_free (part->material);
  g_free (part);
}

void
fw_cut_line (FwCutPart *part, FwLineKind kind, gboolean closed, const FwVec2 *points, int n)
{
  FwCutLine line = { kind, closed, (int)part->points->len, n };
  g_array_append_vals (part->points, points, (guint)n);
  g_array_append_val (part->lines, line);
}

void
fw_cut_segment (FwCutPart *part, FwLineKind kind, FwVec2 a, FwVec2 b)
{
  const FwVec2 points[2] = { a, b };
  fw_cut_line (part, kind, FALSE, points, 2);
}

void
fw_cut_hole (FwCutPart *part, FwVec2 centre, double diameter_mm)
{
  FwCutHole hole = { centre, diameter_mm };
  g_array_append_val (part->holes, hole);
}

void
fw_cut_arrow (FwCutPart *part, FwVec2 a, FwVec2 b)
{
  double length = fw_vec2_distance (a, b);
  if (length <= 0)
    return;
  FwVec2 along = fw_vec2 ((b.x - a.x) / length, (b.y - a.y) / length);
  double head = fmin (3, 0.3 * length);
  FwVec2 foot = fw_vec2 (b.x - head * along.x, b.y - head * along.y);
  const FwVec2 barbs[3] = { fw_vec2 (foot.x - 0.3 * head * along.y, foot.y + 0.3 * head * along.x), b,
                            fw_vec2 (foot.x + 0.3 * head * along.y, foot.y - 0.3 * head * along.x) };
  fw_cut_segment (part, FW_LINE_MARK, a, b);
  fw_cut_line (part, FW_LINE_MARK, FALSE, barbs, 3);
}

/* ---- Bounds ---- */

static void
reach_to (FwVec2 *low, FwVec2 *high, FwVec2 p, double rx, double ry)
{
  low->x = fmin (low->x, p.x - rx);
  low->y = fmin (low->y, p.y - ry);
  high->x = fmax (high->x, p.x + rx);
  high->y = fmax (high->y, p.y + ry);
}

static void
measure (FwCutPart *part)
{
  part->low = part->cut_low = fw_vec2 (INFINITY, INFINITY);
  part->high = part->cut_high = fw_vec2 (-INFINITY, -INFINITY);
  for (guint i = 0; i < part->lines->len; i++)
    {
      const FwCutLine *line = &g_array_index (part->lines, FwCutLine, i);
      const FwVec2 *points = fw_cut_line_points (part, line);
      for (int k = 0; k < line->n; k++)
        {
          reach_to (&part->low, &part->high, points[k], 0, 0);
          if (line->kind == FW_LINE_CUT)
            reach_to (&part->cut_low, &part->cut_high, points[k], 0, 0);
        }
    }
  for (guint i = 0; i < part->texts->len; i++)
    {
      const FwCutText *text = &g_array_index (part->texts, FwCutText, i);
      const FwTilted box = { text->at_mm, text->half_mm.x, text->half_mm.y, text->turn_rad };
      double rx, ry;
      fw_tilted_reach (&box, &rx, &ry);
      reach_to (&part->low, &part->high, text->at_mm, rx, ry);
    }
}

void
fw_cut_part_add (FwTemplateJob *job, FwCutPart *part)
{
  measure (part);
  g_ptr_array_add (job->tmpl->parts, part);
}

/* ---- In and out of an outline ---- */

gboolean
fw_cut_holds (const FwVec2 *outline, int n, FwVec2 p)
{
  return fw_polygon_holds (outline, n, p);
}

double
fw_cut_edge_distance (const FwVec2 *outline, int n, FwVec2 p)
{
  double least = INFINITY;
  for (int i = 0; i < n; i++)
    least = fmin (least, fw_page_segment_distance (p, outline[i], outline[(i + 1) % n]));
  return least;
}

static int
ascending (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* Shares of ab at which it meets edge cd: the crossing, or both ends where they run together. */
static void
add_meets (GArray *shares, FwVec2 a, FwVec2 b, FwVec2 c, FwVec2 d)
{
  FwVec2 r = fw_vec2 (b.x - a.x, b.y - a.y), s = fw_vec2 (d.x - c.x, d.y - c.y);
  FwVec2 q = fw_vec2 (c.x - a.x, c.y - a.y);
  double cross = r.x * s.y - r.y * s.x, r2 = r.x * r.x + r.y * r.y;
  if (r2 <= 0)
    return;
  if (fabs (cross) <= 1e-9 * r2)
    {
      double t[2] = { (q.x * r.x + q.y * r.y) / r2, 0 };
      t[1] = t[0] + (s.x * r.x + s.y * r.y) / r2;
      g_array_append_vals (shares, t, 2);
      return;
    }
  double t = (q.x * s.y - q.y * s.x) / cross, u = (q.x * r.y - q.y * r.x) / cross;
  if (u >= -1e-9 && u <= 1 + 1e-9)
    g_array_append_val (shares, t);
}

int
fw_cut_clip (const FwVec2 *outline, int n, FwVec2 a, FwVec2 b, FwVec2 *pairs, int capacity)
{
  GArray *shares = g_array_new (FALSE, FALSE, sizeof (double));
  const double ends[2] = { 0, 1 };
  int count = 0;
  gboolean open = FALSE;
  g_array_append_vals (shares, ends, 2);
  for (int i = 0; i < n; i++)
    add_meets (shares, a, b, outline[i], outline[(i + 1) % n]);
  g_array_sort (shares, ascending);
  for (guint i = 0; i + 1 < shares->len; i++)
    {
      double t0 = CLAMP (g_array_index (shares, double, i), 0, 1);
      double t1 = CLAMP (g_array_index (shares, double, i + 1), 0, 1);
      if (t1 - t0 < 1e-9)
        continue;
      FwVec2 middle = fw_vec2_mix (a, b, (t0 + t1) / 2);
      gboolean in = fw_polygon_holds (outline, n, middle)
                    || fw_cut_edge_distance (outline, n, middle) < 1e-6;
      if (!in)
        open = FALSE;
      else if (open)
        pairs[2 * count - 1] = fw_vec2_mix (a, b, t1);
      else if (count < capacity)
        {
          pairs[2 * count] = fw_vec2_mix (a, b, t0);
          pairs[2 * count++ + 1] = fw_vec2_mix (a, b, t1);
          open = TRUE;
        }
    }
  g_array_free (shares, TRUE);
  return count;
}
