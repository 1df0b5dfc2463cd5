#include "draw/helpsplot.h"

#include "draw/paint.h"

#define EDGE 8.0 /* px at the sides */

double
fw_helps_row_height (const FwStyle *style)
{
  return 4.1 * style->text;
}

static double
share_of (double value, double lower, double upper)
{
  return upper > lower ? CLAMP ((value - lower) / (upper - lower), 0, 1) : 0.5;
}

FwHelpPlace
fw_helps_place (const FwStyle *style, FwBox page, const FwHelpBar *bar, int i)
{
  double height = fw_helps_row_height (style), edge = EDGE * style->size, gap = 2 * edge;
  FwHelpPlace p = { .row = { page.x, page.y + i * height, page.width, height } };
  double half = (page.width - 2 * edge - gap) / 2, top = p.row.y + 1.95 * style->text, thick = 0.62 * style->text;
  double left = page.x + edge;
  p.zero = left + half / 2;
  double reach = half / 2 * fabs (CLAMP (bar->share, -1, 1));
  p.fill = (FwBox) { bar->share < 0 ? p.zero - reach : p.zero, top, reach, thick };
  if (bar->reach == NULL)
    return p;
  p.range = (FwBox) { left + half + gap, top, half, thick };
  double from = share_of (bar->from, bar->lower, bar->upper), to = share_of (bar->to, bar->lower, bar->upper);
  p.free = (FwBox) { p.range.x + from * half, top, (to - from) * half, thick };
  p.now = p.range.x + share_of (bar->value, bar->lower, bar->upper) * half;
  return p;
}

int
fw_helps_row_at (const FwStyle *style, FwBox page, int n, double x, double y)
{
  int row = (int)floor ((y - page.y) / fw_helps_row_height (style));
  return x >= page.x && x <= page.x + page.width && row >= 0 && row < n ? row : -1;
}

static void
path_box (cairo_t *cr, FwBox b)
{
  cairo_rectangle (cr, b.x, b.y, b.width, b.height);
}

static void
hatch_box (cairo_t *cr, const FwStyle *style, FwBox b, double angle)
{
  const FwVec2 corners[4] = { { b.x, b.y }, { b.x + b.width, b.y }, { b.x + b.width, b.y + b.height }, { b.x, b.y + b.height } };
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  fw_polygon_hatch (corners, 4, angle, 3 * style->wide, pairs);
  fw_path_pairs (cr, (const FwVec2 *)(void *)pairs->data, (int)pairs->len / 2);
  g_array_unref (pairs);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
}

/* Filled where it is a derivative, hatched where it is a difference. */
static void
paint_effect (cairo_t *cr, const FwStyle *style, const FwHelpPlace *p, const FwHelpBar *bar)
{
  double reach = p->zero - (p->row.x + EDGE * style->size);
  path_box (cr, (FwBox) { p->zero - reach, p->fill.y + p->fill.height / 2 - style->thin / 2, 2 * reach, style->thin });
  fw_set_colour (cr, style->grid);
  cairo_fill (cr);
  if (p->fill.width > 0)
    {
      path_box (cr, p->fill);
      fw_set_colour (cr, bar->exact ? style->motion : fw_colour_fade (style->motion, 0.18));
      cairo_fill (cr);
      fw_set_colour (cr, style->motion);
      if (!bar->exact)
        {
          hatch_box (cr, style, p->fill, -G_PI / 4);
          path_box (cr, p->fill);
          cairo_stroke (cr);
        }
    }
  cairo_move_to (cr, p->zero, p->fill.y - 0.25 * style->text);
  cairo_line_to (cr, p->zero, p->fill.y + p->fill.height + 0.25 * style->text);
  fw_set_colour (cr, style->ink);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
}

static void
end_mark (cairo_t *cr, const FwStyle *style, double x, FwBox range)
{
  cairo_move_to (cr, x, range.y - 0.12 * style->text);
  cairo_line_to (cr, x, range.y + range.height + 0.12 * style->text);
  fw_set_colour (cr, style->trouble);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
}

/* What a slider spans; beyond the ends of what is free trouble begins. */
static void
paint_reach (cairo_t *cr, const FwStyle *style, const FwHelpPlace *p, const FwHelpBar *bar)
{
  if (bar->reach == NULL)
    return;
  fw_set_colour (cr, fw_colour_fade (style->trouble, 0.6));
  if (!bar->from_open)
    hatch_box (cr, style, (FwBox) { p->range.x, p->range.y, p->free.x - p->range.x, p->range.height }, -G_PI / 4);
  double end = p->free.x + p->free.width;
  fw_set_colour (cr, fw_colour_fade (style->trouble, 0.6));
  if (!bar->to_open)
    hatch_box (cr, style, (FwBox) { end, p->range.y, p->range.x + p->range.width - end, p->range.height }, -G_PI / 4);
  path_box (cr, p->free);
  fw_set_colour (cr, fw_colour_mix (style->panel_ground, style->ink, 0.16));
  cairo_fill (cr);
  path_box (cr, p->range);
  fw_set_colour (cr, style->faint_ink);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  if (!bar->from_open)
    end_mark (cr, style, p->free.x, p->range);
  if (!bar->to_open)
    end_mark (cr, style, end, p->range);
  fw_mark_path (cr, FW_MARK_DIAMOND, fw_vec2 (p->now, p->range.y + p->range.height / 2), 0.52 * style->text);
  fw_set_colour (cr, style->motion);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, style->panel_ground);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
}

static void
say (FwLabels *labels, const char *words, FwVec2 at, double dx, double size, FwColour colour, gboolean bold)
{
  const FwWording wording = { .size = size, .colour = colour, .bare = TRUE, .bold = bold };
  const FwSpot spot = { at, dx, 0, 0, 0 };
  fw_labels_add (labels, words, &wording, &spot, 1);
}

/* The name above both bars, and below each what it says. */
static void
lay_row_words (FwLabels *labels, const FwStyle *style, const FwHelpPlace *p, const FwHelpBar *bar)
{
  double left = p->row.x + EDGE * style->size, right = p->row.x + p->row.width - EDGE * style->size;
  double line = p->row.y + 1.05 * style->text, below = p->row.y + 3.25 * style->text;
  const FwWording plain = { .size = 0.95, .bold = TRUE };
  g_autofree char *name = fw_labels_fit (labels, bar->name, &plain, right - left);
  say (labels, name, fw_vec2 (left, line), 1, 0.95, style->ink, TRUE);
  say (labels, bar->effect, fw_vec2 (left, below), 1, 0.85, style->ink, FALSE);
  if (bar->reach != NULL)
    say (labels, bar->reach, fw_vec2 (right, below), -1, 0.85, style->faint_ink, FALSE);
}

void
fw_draw_helps (cairo_t *cr, const FwStyle *style, FwBox page, const FwHelpBar *bars, int n, int marked)
{
  FwLabels labels;
  cairo_save (cr);
  fw_labels_open (&labels, cr, style, page, NULL);
  for (int i = 0; i < n; i++)
    {
      FwHelpPlace p = fw_helps_place (style, page, &bars[i], i);
      if (i == marked)
        {
          path_box (cr, p.row);
          fw_set_colour (cr, fw_colour_fade (style->motion, 0.1));
          cairo_fill (cr);
        }
      else if (i > 0)
        {
          path_box (cr, (FwBox) { p.row.x + EDGE * style->size, p.row.y, p.row.width - 2 * EDGE * style->size, style->thin });
          fw_set_colour (cr, style->grid);
          cairo_fill (cr);
        }
      paint_effect (cr, style, &p, &bars[i]);
      paint_reach (cr, style, &p, &bars[i]);
      lay_row_words (&labels, style, &p, &bars[i]);
    }
  fw_labels_paint (&labels);
  fw_labels_close (&labels);
  cairo_restore (cr);
}

/* ---- The bar of a wish ---- */

FwMissPlace
fw_miss_place (const FwStyle *style, FwBox box, double least, double most, double now)
{
  double low = isfinite (least) ? least : most, high = isfinite (most) ? most : least;
  double from = isfinite (now) ? fmin (low, now) : low, to = isfinite (now) ? fmax (high, now) : high;
  double room = fmax (0.25 * (to - from), 0.05 * fmax (fabs (low), fabs (high)));
  room = room > 0 ? room : 1;
  double lower = from - room, upper = to + room, per = box.width / (upper - lower);
  double left = isfinite (least) ? box.x + (least - lower) * per : box.x;
  double right = isfinite (most) ? box.x + (most - lower) * per : box.x + box.width;
  FwMissPlace p = { .now = isfinite (now) ? box.x + (now - lower) * per : NAN };
  double widen = fmax (3 * style->wide - (right - left), 0) / 2;
  p.asked = (FwBox) { left - widen, box.y, right - left + 2 * widen, box.height };
  p.miss_from = p.miss_to = p.now;
  if (now < least)
    p.miss_to = left;
  else if (now > most)
    p.miss_from = right;
  return p;
}

void
fw_draw_miss (cairo_t *cr, const FwStyle *style, FwBox box, double least, double most, double now, gboolean met)
{
  FwMissPlace p = fw_miss_place (style, box, least, most, now);
  cairo_save (cr);
  path_box (cr, (FwBox) { box.x, box.y + box.height / 2 - style->thin / 2, box.width, style->thin });
  fw_set_colour (cr, style->grid);
  cairo_fill (cr);
  path_box (cr, p.asked);
  fw_set_colour (cr, fw_colour_fade (style->motion, 0.35));
  cairo_fill (cr);
  if (!met && p.miss_to > p.miss_from)
    {
      FwBox miss = { p.miss_from, box.y + 0.25 * box.height, p.miss_to - p.miss_from, 0.5 * box.height };
      fw_set_colour (cr, style->trouble);
      hatch_box (cr, style, miss, -G_PI / 4);
    }
  if (isfinite (p.now))
    {
      fw_mark_path (cr, FW_MARK_DIAMOND, fw_vec2 (p.now, box.y + box.height / 2), 0.45 * box.height);
      fw_set_colour (cr, met ? style->motion : style->trouble);
      cairo_fill (cr);
    }
  cairo_restore (cr);
}
