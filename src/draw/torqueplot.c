#include "draw/torqueplot.h"

#include <glib/gi18n.h>

#include "doc/loadwords.h"
#include "draw/forcerows.h"
#include "draw/labels.h"
#include "draw/paint.h"

#define HOLE 0.2 /* of the outermost ring: so far in reaches the deepest holding back */

/* ---- Layout ---- */

/* The least of 1, 2, 5 times a power of ten that is not below `least`. */
static double
round_up (double least)
{
  double power = pow (10, floor (log10 (least)));
  double share = least / power;
  return power * (share <= 1 + 1e-9 ? 1 : share <= 2 + 1e-9 ? 2 : share <= 5 + 1e-9 ? 5 : 10);
}

/* Round values that take in both ends, four or so of them. */
static void
lay_rings (FwTorquePlot *p)
{
  double high = fmax (p->greatest.value, 0), low = fmin (p->least.value, 0);
  double step = round_up (fmax (high - low, 1e-6) / 4);
  int first = (int)floor (low / step + 1e-9), last = (int)ceil (high / step - 1e-9);
  if (first == last)
    last = first + 1;
  p->n_rings = 0;
  for (int i = first; i <= last && p->n_rings < FW_MOST_RINGS; i++)
    p->rings_Nm[p->n_rings++] = i * step;
}

static FwRow
torque_row (const FwScene *s)
{
  return fw_scene_row (s, (FwQuantity){ FW_Q_TORQUE, 0 });
}

gboolean
fw_torque_plot_lay (const FwScene *s, const FwStyle *style, FwBox page, FwTorquePlot *plot)
{
  FwTorquePlot p = { .least = { 0, INFINITY }, .greatest = { 0, -INFINITY } };
  FwRow row = { 0 };
  if (s->loads != NULL)
    row = torque_row (s);
  for (int i = 0; i < row.steps; i++)
    {
      double crank = 2 * G_PI * i / row.steps;
      if (row.values[i] < p.least.value)
        p.least = (FwExtreme){ crank, row.values[i] };
      if (row.values[i] > p.greatest.value)
        p.greatest = (FwExtreme){ crank, row.values[i] };
    }
  if (!isfinite (p.least.value))
    return FALSE;
  lay_rings (&p);
  double low = p.rings_Nm[0], high = p.rings_Nm[p.n_rings - 1];
  p.centre = fw_vec2 (page.x + page.width / 2, page.y + page.height / 2);
  p.outer = fmax (fmin (page.width - 6 * style->text, page.height - 3.6 * style->text) / 2, 4);
  double hole = HOLE * p.outer;
  p.px_per_Nm = (p.outer - hole) / (high - low);
  p.zero = hole - low * p.px_per_Nm;
  *plot = p;
  return TRUE;
}

static FwVec2
on_ray (const FwTorquePlot *p, double crank, double radius)
{
  return fw_vec2 (p->centre.x + radius * sin (crank), p->centre.y - radius * cos (crank));
}

FwVec2
fw_torque_plot_point (const FwTorquePlot *p, double crank, double torque)
{
  return on_ray (p, crank, p->zero + p->px_per_Nm * torque);
}

double
fw_torque_plot_crank (const FwTorquePlot *p, FwVec2 at)
{
  double crank = atan2 (at.x - p->centre.x, p->centre.y - at.y);
  return crank < 0 ? crank + 2 * G_PI : crank;
}

/* ---- Fields of one sign ---- */

static double
crossing (double a, double b)
{
  return a == b ? 0 : a / (a - b);
}

/* From the first step of the sign `sign` at or after `i` the curve as far as the sign holds, then the
 * zero circle back. Returns the step after it; points is empty where there is none. */
static int
next_field (const FwTorquePlot *p, const FwRow *row, int sign, int i, int end, GArray *points)
{
  int n = row->steps;
  double step = 2 * G_PI / n;
  g_array_set_size (points, 0);
  while (i < end && !(sign * row->values[i % n] > 0))
    i++;
  if (i >= end)
    return end;
  int first = i;
  double before = row->values[(first + n - 1) % n];
  double from = isfinite (before) && sign * before <= 0
                    ? first - 1 + crossing (before, row->values[first % n])
                    : first;
  FwVec2 q = on_ray (p, from * step, p->zero);
  g_array_append_val (points, q);
  for (; i < first + n && sign * row->values[i % n] > 0; i++)
    {
      q = fw_torque_plot_point (p, i * step, row->values[i % n]);
      g_array_append_val (points, q);
    }
  double after = row->values[i % n];
  double to = isfinite (after) && sign * after <= 0
                  ? i - 1 + crossing (row->values[(i - 1) % n], after)
                  : i - (i < first + n);
  for (double t = to; t > from; t -= 1)
    {
      q = on_ray (p, t * step, p->zero);
      g_array_append_val (points, q);
    }
  return i;
}

/* A step before which the sign changes, so that no field is cut in two; 0 where it never does. */
static int
cut_step (const FwRow *row)
{
  for (int i = 1; i < row->steps; i++)
    if ((row->values[i] > 0) != (row->values[i - 1] > 0))
      return i;
  return 0;
}

static void
paint_fields (cairo_t *cr, const FwTorquePlot *p, const FwRow *row, const FwStyle *style)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  int start = cut_step (row), end = start + row->steps;
  for (int sign = 1; sign >= -1; sign -= 2)
    for (int i = start; i < end;)
      {
        i = next_field (p, row, sign, i, end, points);
        if (points->len < 3)
          continue;
        const FwVec2 *q = (const FwVec2 *)(void *)points->data;
        fw_path_polygon (cr, q, (int)points->len);
        fw_set_colour (cr, fw_colour_fade (sign > 0 ? style->motion : style->trouble,
                                           sign > 0 ? 0.24 : 0.08));
        cairo_fill (cr);
        if (sign < 0)
          fw_polygon_hatch (q, (int)points->len, -G_PI / 4, 3.6 * style->wide, pairs);
      }
  fw_path_pairs (cr, (const FwVec2 *)(void *)pairs->data, (int)pairs->len / 2);
  fw_set_colour (cr, style->trouble);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  g_array_unref (points);
  g_array_unref (pairs);
}

/* ---- Paint ---- */

static void
paint_rings (cairo_t *cr, const FwTorquePlot *p, const FwStyle *style)
{
  cairo_arc (cr, p->centre.x, p->centre.y, p->outer, 0, 2 * G_PI);
  fw_set_colour (cr, style->panel_ground);
  cairo_fill (cr);
  for (int i = 0; i < p->n_rings; i++)
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, p->centre.x, p->centre.y, p->zero + p->px_per_Nm * p->rings_Nm[i], 0,
                 2 * G_PI);
    }
  for (int i = 0; i < 12; i++)
    {
      FwVec2 a = on_ray (p, i * G_PI / 6, i % 3 == 0 ? HOLE * p->outer : 0.94 * p->outer),
             b = on_ray (p, i * G_PI / 6, p->outer);
      cairo_move_to (cr, a.x, a.y);
      cairo_line_to (cr, b.x, b.y);
    }
  fw_set_colour (cr, style->grid);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
}

static void
paint_zero (cairo_t *cr, const FwTorquePlot *p, const FwStyle *style)
{
  const double dashes[2] = { 4 * style->wide, 2.5 * style->wide };
  cairo_save (cr);
  cairo_set_dash (cr, dashes, 2, 0);
  cairo_arc (cr, p->centre.x, p->centre.y, p->zero, 0, 2 * G_PI);
  fw_set_colour (cr, style->ink);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
paint_curve (cairo_t *cr, const FwTorquePlot *p, const FwRow *row, const FwStyle *style)
{
  gboolean drawing = FALSE;
  g_assert (row->steps > 0); /* the plot is laid by the least and the greatest of them */
  for (int i = 0; i <= row->steps; i++)
    {
      double value = row->values[i % row->steps];
      FwVec2 q = fw_torque_plot_point (p, 2 * G_PI * i / row->steps, value);
      if (isfinite (value) && drawing)
        cairo_line_to (cr, q.x, q.y);
      else if (isfinite (value))
        cairo_move_to (cr, q.x, q.y);
      drawing = isfinite (value);
    }
  fw_set_colour (cr, style->ink);
  cairo_set_line_width (cr, style->wide);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
}

/* From the hole to the rim, with a bead on the curve. */
static void
paint_hand (cairo_t *cr, const FwTorquePlot *p, const FwScene *s, const FwStyle *style)
{
  double crank = s->pose->crank, torque = fw_scene_value (s, (FwQuantity){ FW_Q_TORQUE, 0 });
  FwVec2 tip = on_ray (p, crank, p->outer);
  cairo_move_to (cr, p->centre.x, p->centre.y);
  cairo_line_to (cr, tip.x, tip.y);
  fw_set_colour (cr, style->motion);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
  cairo_arc (cr, p->centre.x, p->centre.y, 2 * style->wide, 0, 2 * G_PI);
  cairo_fill (cr);
  if (!isfinite (torque))
    return;
  FwVec2 at = fw_torque_plot_point (p, crank, torque);
  cairo_arc (cr, at.x, at.y, 0.28 * style->text, 0, 2 * G_PI);
  fw_set_colour (cr, style->panel_ground);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, style->motion);
  cairo_stroke (cr);
}

static void
paint_peak (cairo_t *cr, const FwTorquePlot *p, const FwStyle *style, FwExtreme peak)
{
  FwVec2 at = fw_torque_plot_point (p, peak.crank, peak.value);
  fw_mark_path (cr, FW_MARK_DIAMOND, at, 0.26 * style->text);
  fw_set_colour (cr, style->ink);
  cairo_fill (cr);
}

/* ---- Words ---- */

#define BESIDE 11

/* Outside the rings, nearest to the ray of the peak first. */
static void
spots_outside (const FwTorquePlot *p, double crank, double gap, FwSpot spots[BESIDE])
{
  for (int i = 0; i < BESIDE; i++)
    {
      double ray = crank + (i + 1) / 2 * (i % 2 == 0 ? 1 : -1) * G_PI / 18;
      spots[i] = (FwSpot){ on_ray (p, ray, p->outer + gap), sin (ray) < 0 ? -1 : 1, cos (ray) > 0 ? -1 : 1, 0, 0 };
    }
}

/* Where it covers neither curve nor hand if there is room, on one line or on two; else beside the peak. */
static void
word_peak (FwLabels *labels, const FwTorquePlot *p, FwExtreme peak, double size)
{
  const FwStyle *style = labels->style;
  char *torque = fw_units_format (peak.value, FW_UNIT_NM, style->lengths, fw_load_digits (size));
  char *angle = fw_units_format (peak.crank * 180 / G_PI, FW_UNIT_DEG, style->lengths, 0);
  /* Translators: greatest torque, and the crank angle where it stands. */
  char *text = g_strdup_printf (_ ("%s at %s"), torque, angle);
  char *lines = g_strdup_printf ("%s\n%s", torque, angle);
  FwVec2 at = fw_torque_plot_point (p, peak.crank, peak.value);
  FwSpot beside[BESIDE], spots[16];
  int n = fw_spots_around (at, 0.5 * style->text, spots);
  n += fw_spots_around (at, 1.8 * style->text, spots + n);
  spots_outside (p, peak.crank, 0.3 * style->text, beside);
  FwWording wording = { .size = 0.92, .bold = TRUE, .colour = style->ink, .leader = TRUE,
                        .from = at };
  if (fw_labels_add (labels, text, &wording, beside, BESIDE)
      || fw_labels_add (labels, lines, &wording, beside, BESIDE) || fw_labels_add (labels, text, &wording, spots, n))
    fw_labels_line (labels, at, g_array_index (labels->labels, FwLabel, labels->labels->len - 1).box.centre);
  g_free (text);
  g_free (lines);
  g_free (torque);
  g_free (angle);
}

static void
word_rings (FwLabels *labels, const FwTorquePlot *p)
{
  static const double rays[6] = { 45, 135, 225, 315, 20, 160 };
  const FwStyle *style = labels->style;
  double step = p->rings_Nm[1] - p->rings_Nm[0];
  int digits = step >= 1 ? 0 : (int)ceil (-log10 (step) - 1e-9);
  for (int i = p->n_rings - 1; i >= 0; i--)
    {
      gboolean outermost = i == p->n_rings - 1;
      gboolean zero = fabs (p->rings_Nm[i]) < 0.01 * step;
      char *text = outermost
                       ? fw_units_format (p->rings_Nm[i], FW_UNIT_NM, style->lengths, digits)
                       : fw_units_format_bare (p->rings_Nm[i], FW_UNIT_NM, style->lengths,
                                               zero ? 0 : digits);
      FwSpot spots[6];
      for (int k = 0; k < 6; k++)
        spots[k] = (FwSpot){ on_ray (p, rays[k] * G_PI / 180,
                                     p->zero + p->px_per_Nm * p->rings_Nm[i]),
                             0, 0, 0, 0 };
      FwWording wording = { .size = 0.78, .colour = style->faint_ink };
      fw_labels_add (labels, text, &wording, spots, 6);
      g_free (text);
    }
}

static void
word_angles (FwLabels *labels, const FwTorquePlot *p)
{
  static const int sides[4][2] = { { 0, -1 }, { 1, 0 }, { 0, 1 }, { -1, 0 } };
  for (int i = 0; i < 4; i++)
    {
      char text[16];
      g_snprintf (text, sizeof text, "%d°", 90 * i);
      FwSpot spot = { on_ray (p, i * G_PI / 2, p->outer), sides[i][0], sides[i][1],
                      0.25 * labels->style->text, 0 };
      FwWording wording = { .size = 0.85, .colour = labels->style->faint_ink, .bare = TRUE };
      fw_labels_add (labels, text, &wording, &spot, 1);
    }
}

/* Swatches in the lower corners: what the two fields mean. */
static void
lay_key (cairo_t *cr, FwLabels *labels, FwBox page)
{
  const FwStyle *style = labels->style;
  const char *const words[2] = { C_ ("torque", "drives"), C_ ("torque", "holds back") };
  double side = 0.85 * style->text, y = page.y + page.height - 0.4 * style->text - side;
  for (int i = 0; i < 2; i++)
    {
      double width, height;
      FwWording wording = { .size = 0.85, .colour = style->ink, .bare = TRUE };
      fw_labels_measure (labels, words[i], &wording, &width, &height);
      double x = i == 0 ? page.x + 0.4 * style->text
                        : page.x + page.width - 0.8 * style->text - side - width;
      const FwVec2 box[4]
          = { { x, y }, { x + side, y }, { x + side, y + side }, { x, y + side } };
      fw_path_polygon (cr, box, 4);
      fw_set_colour (cr, fw_colour_fade (i == 0 ? style->motion : style->trouble,
                                         i == 0 ? 0.24 : 0.08));
      cairo_fill (cr);
      GArray *pairs = g_array_new (FALSE, FALSE, sizeof (FwVec2));
      if (i == 1)
        fw_polygon_hatch (box, 4, -G_PI / 4, 3.6 * style->wide, pairs);
      fw_path_pairs (cr, (const FwVec2 *)(void *)pairs->data, (int)pairs->len / 2);
      fw_path_polygon (cr, box, 4);
      g_array_unref (pairs);
      fw_set_colour (cr, i == 0 ? style->motion : style->trouble);
      cairo_set_line_width (cr, style->thin);
      cairo_stroke (cr);
      FwSpot spot = { fw_vec2 (x + side, y + side / 2), 1, 0, 0.3 * style->text, 0 };
      fw_labels_add (labels, words[i], &wording, &spot, 1);
    }
}

/* Words had better not lie on the curve, nor on the hand. */
static void
keep_off_curve (FwLabels *labels, const FwTorquePlot *p, const FwRow *row, double crank)
{
  for (int i = 0, stride = MAX (row->steps / 36, 1); i < row->steps; i += stride)
    {
      double a = row->values[i], b = row->values[(i + stride) % row->steps];
      if (isfinite (a) && isfinite (b))
        fw_labels_line (labels, fw_torque_plot_point (p, 2 * G_PI * i / row->steps, a),
                        fw_torque_plot_point (p, 2 * G_PI * (i + stride) / row->steps, b));
    }
  fw_labels_line (labels, p->centre, on_ray (p, crank, p->outer));
}

static void
lay_words (cairo_t *cr, FwLabels *labels, const FwTorquePlot *p, FwBox page)
{
  double size = fmax (fabs (p->least.value), fabs (p->greatest.value));
  lay_key (cr, labels, page);
  word_angles (labels, p);
  if (p->outer < 4 * labels->style->text)
    return;
  if (p->greatest.value > 0)
    word_peak (labels, p, p->greatest, size);
  if (p->least.value < 0)
    word_peak (labels, p, p->least, size);
  word_rings (labels, p);
}

static FwBox
below_title (FwLabels *labels, FwBox page, const char *title)
{
  const FwStyle *style = labels->style;
  if (title == NULL || *title == '\0')
    return page;
  FwWording wording = { .size = 1.1, .bold = TRUE, .colour = style->ink, .bare = TRUE };
  FwSpot spot = { fw_vec2 (page.x + 0.4 * style->text, page.y + 0.4 * style->text), 1, 1, 0, 0 };
  fw_labels_add (labels, title, &wording, &spot, 1);
  double room = fmin (1.8 * style->text, 0.2 * page.height);
  return (FwBox){ page.x, page.y + room, page.width, page.height - room };
}

void
fw_draw_torque_plot (cairo_t *cr, const FwScene *s, const FwStyle *style, FwBox page,
                     const char *title)
{
  FwTorquePlot p;
  FwLabels labels;
  cairo_save (cr);
  cairo_rectangle (cr, page.x, page.y, page.width, page.height);
  fw_set_colour (cr, style->ground);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  if (s->mechanism == NULL || !(page.width >= 24) || !(page.height >= 24))
    {
      cairo_restore (cr);
      return;
    }
  fw_labels_open (&labels, cr, style, page, NULL);
  FwBox field = below_title (&labels, page, title);
  if (fw_torque_plot_lay (s, style, field, &p))
    {
      FwRow row = torque_row (s);
      paint_rings (cr, &p, style);
      paint_fields (cr, &p, &row, style);
      paint_zero (cr, &p, style);
      paint_curve (cr, &p, &row, style);
      paint_hand (cr, &p, s, style);
      paint_peak (cr, &p, style, p.greatest);
      paint_peak (cr, &p, style, p.least);
      keep_off_curve (&labels, &p, &row, s->pose->crank);
      lay_words (cr, &labels, &p, field);
      g_free (row.owned);
    }
  fw_labels_paint (&labels);
  fw_labels_close (&labels);
  cairo_restore (cr);
}

int
fw_torque_plot_label_boxes (const FwScene *s, const FwStyle *style, FwBox page, FwTilted *boxes, int capacity)
{
  FwTorquePlot p;
  if (!fw_torque_plot_lay (s, style, page, &p))
    return 0;
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  FwRow row = torque_row (s);
  FwLabels labels;
  fw_labels_open (&labels, cr, style, page, NULL);
  keep_off_curve (&labels, &p, &row, s->pose->crank);
  lay_words (cr, &labels, &p, page);
  int n = (int)labels.labels->len;
  for (int i = 0; i < MIN (n, capacity); i++)
    boxes[i] = g_array_index (labels.labels, FwLabel, i).box;
  fw_labels_close (&labels);
  g_free (row.owned);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return n;
}
