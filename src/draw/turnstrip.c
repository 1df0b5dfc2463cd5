#include "draw/turnstrip.h"

#include <glib/gi18n.h>
#include <string.h>

#include "doc/words.h"
#include "draw/forcerows.h"
#include "draw/ghost.h"
#include "draw/overlay.h"
#include "draw/spreadbands.h"
#include "draw/still.h"
#include "draw/striplayout.h"

#define MOST_LANES 4
#define CURVE_STEPS 180
#define MOST_BOUNCES 256

static FwColour
curve_colour (const FwStyle *style, int i)
{
  static const unsigned int light[FW_STRIP_CURVES]
      = { 0x0b6e75, 0x7a3f92, 0x8a5a00, 0x1d5aa6, 0x7b2f47, 0x51611a };
  static const unsigned int dark[FW_STRIP_CURVES]
      = { 0x62cdd0, 0xd0a2e6, 0xe3b85c, 0x8fc0ff, 0xf09aaf, 0xbccb7a };
  unsigned int c = fw_theme_is_dark (style->theme) ? dark[i] : light[i];
  FwColour colour = { ((c >> 16) & 255) / 255.0, ((c >> 8) & 255) / 255.0, (c & 255) / 255.0, 1 };
  gboolean darker = style->theme == FW_THEME_PRINT || fw_theme_is_contrast (style->theme);
  return darker ? fw_colour_mix (colour, style->ink, 0.35) : colour;
}

static int
curve_dashes (const FwStyle *style, int i, double dashes[6])
{
  static const double patterns[FW_STRIP_CURVES][6]
      = { { 0 },        { 6, 3 },  { 8, 2.5, 1.2, 2.5 },
          { 1.2, 2.4 }, { 12, 3 }, { 6, 2.2, 1.2, 2.2, 1.2, 2.2 } };
  static const int counts[FW_STRIP_CURVES] = { 0, 2, 4, 2, 2, 6 };
  for (int k = 0; k < counts[i]; k++)
    dashes[k] = patterns[i][k] * style->wide;
  return counts[i];
}

/* ---- Layout ---- */

/* Rows of the motion where no turn is given. */
static void
solve_rows (FwStrip *s)
{
  const FwMechanism *m = s->scene->mechanism;
  for (int c = 0; c < s->n_curves; c++)
    if (!fw_quantity_is_load (s->state->curves[c]))
      {
        s->curves[c].row = s->curves[c].owned = g_new (double, CURVE_STEPS);
        s->curves[c].steps = CURVE_STEPS;
      }
  for (int i = 0; i < CURVE_STEPS; i++)
    {
      fw_pose_solve (s->scene->scratch, m, 2 * G_PI * i / CURVE_STEPS);
      for (int c = 0; c < s->n_curves; c++)
        if (!fw_quantity_is_load (s->state->curves[c]))
          s->curves[c].owned[i] = fw_quantity_value (s->scene->scratch, m, s->state->curves[c]);
    }
}

static void
fetch_rows (FwStrip *s)
{
  for (int c = 0; c < s->n_curves; c++)
    {
      FwRow row = fw_scene_row (s->scene, s->state->curves[c]);
      s->curves[c].row = row.values;
      s->curves[c].steps = row.steps;
      s->curves[c].owned = row.owned;
    }
  if (s->scene->turn == NULL && s->scene->scratch != NULL)
    solve_rows (s);
}

static void
clear_rows (FwStrip *s)
{
  for (int c = 0; c < s->n_curves; c++)
    g_free (s->curves[c].owned);
}

static void
measure_curves (FwStrip *s)
{
  for (int c = 0; c < s->n_curves; c++)
    {
      FwCurve *k = &s->curves[c];
      k->unit = fw_words_quantity_unit (s->state->curves[c], &k->factor);
      k->least = INFINITY;
      k->most = -INFINITY;
      for (int i = 0; i < k->steps; i++)
        if (isfinite (k->row[i]))
          {
            k->least = fmin (k->least, k->row[i] * k->factor);
            k->most = fmax (k->most, k->row[i] * k->factor);
          }
      const FwSpreadBand *band = fw_spread_band_of (s->scene, s->state->curves[c]);
      double least, most;
      if (band != NULL && fw_spread_reach (band, &least, &most))
        {
          k->least = fmin (k->least, least * k->factor);
          k->most = fmax (k->most, most * k->factor);
        }
      fw_strip_reach_ghosts (s, c);
      k->colour = curve_colour (s->style, c);
    }
  /* Curves of one unit share one scale. */
  for (int c = 0; c < s->n_curves; c++)
    for (int o = 0; o < s->n_curves; o++)
      if (s->curves[o].unit == s->curves[c].unit)
        {
          s->curves[c].least = fmin (s->curves[c].least, s->curves[o].least);
          s->curves[c].most = fmax (s->curves[c].most, s->curves[o].most);
        }
}

/* Units whose values lie on both sides of zero share one zero line; the others fill the height. */
static void
scale_curves (FwStrip *s)
{
  double top = s->field.top + 0.7 * s->style->text, bottom = s->field.bottom - 0.7 * s->style->text,
         below = 0;
  double height = fmax (bottom - top, 1);
  s->zero = NAN;
  for (int c = 0; c < s->n_curves; c++)
    {
      const FwCurve *k = &s->curves[c];
      if (k->least < 0 && k->most > 0)
        below = fmax (below, -k->least / (k->most - k->least));
    }
  if (below > 0)
    s->zero = bottom - height * below;
  for (int c = 0; c < s->n_curves; c++)
    {
      FwCurve *k = &s->curves[c];
      if (k->least < 0 && k->most > 0)
        {
          double up = below < 1 ? height * (1 - below) / k->most : INFINITY;
          k->scale = fmin (up, height * below / -k->least);
          k->base = s->zero;
        }
      else if (k->most - k->least > 1e-9 * (1 + fabs (k->most)))
        {
          k->scale = height / (k->most - k->least);
          k->base = bottom + k->scale * k->least;
        }
      else
        {
          k->scale = 0;
          k->base = (top + bottom) / 2;
        }
    }
}

static int
lay_bands (FwStrip *s, FwLabels *labels, FwBox page)
{
  const FwTroubleList *list = s->scene->troubles;
  if (list == NULL || list->n == 0)
    return 0;
  FwWording w = fw_strip_lane_wording (s->style);
  double *widths = g_new0 (double, list->n);
  /* Only so many can ever find a lane. */
  for (int i = 0; i < list->n && i < FW_MOST_BANDS / 2; i++)
    {
      char *text = fw_strip_band_words (s, i);
      double height;
      fw_labels_measure (labels, text, &w, &widths[i], &height);
      g_free (text);
    }
  int most = (int)CLAMP (0.36 * page.height / (1.5 * s->style->text), 1, MOST_LANES), lanes;
  s->n_bands = fw_strip_bands (list, s->style, page, widths, most, s->bands, FW_MOST_BANDS, &lanes);
  g_free (widths);
  return lanes;
}

static void
lay_out (FwStrip *s, FwLabels *labels, const FwScene *scene, const FwStripState *state,
         const FwStyle *style, FwBox page)
{
  *s = (FwStrip){ .scene = scene,
                  .state = state,
                  .style = style,
                  .n_curves = CLAMP (state->n_curves, 0, FW_STRIP_CURVES) };
  s->field = fw_strip_field (style, page, lay_bands (s, labels, page));
  fetch_rows (s);
  measure_curves (s);
  scale_curves (s);
}

/* The state with those curves that the mechanism still has. */
static FwStripState
known_state (const FwScene *scene, const FwStripState *state)
{
  FwStripState known = *state;
  known.n_curves = 0;
  for (int i = 0; i < CLAMP (state->n_curves, 0, FW_STRIP_CURVES); i++)
    if (fw_quantity_known (scene->mechanism, state->curves[i]))
      known.curves[known.n_curves++] = state->curves[i];
  return known;
}

/* ---- Paint ---- */

static void
paint_field (cairo_t *cr, const FwStrip *s)
{
  const FwStripField *f = &s->field;
  const FwStyle *style = s->style;
  cairo_rectangle (cr, f->left, f->top, f->right - f->left, f->ruler - f->top);
  fw_set_colour (cr, style->panel_ground);
  cairo_fill (cr);
  double pitch = (f->right - f->left) / 12,
         minor = pitch > 9 * style->thin * 5 ? pitch / 6 : pitch / 3;
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  for (int i = 1; i < 12; i++)
    {
      cairo_move_to (cr, f->left + pitch * i, f->top);
      cairo_line_to (cr, f->left + pitch * i, f->ruler);
    }
  fw_set_colour (cr, style->grid);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  for (int i = 0; i * minor <= f->right - f->left + 0.5; i++)
    {
      gboolean major = fabs (remainder (i * minor, pitch)) < 0.01 * pitch;
      cairo_move_to (cr, f->left + i * minor, f->ruler);
      cairo_line_to (cr, f->left + i * minor, f->ruler + (major ? 0.42 : 0.22) * style->text);
    }
  fw_set_colour (cr, style->faint_ink);
  cairo_stroke (cr);
  cairo_move_to (cr, f->left, f->ruler);
  cairo_line_to (cr, f->right, f->ruler);
  fw_set_colour (cr, style->ink);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
  if (!isfinite (s->zero))
    return;
  cairo_move_to (cr, f->left, s->zero);
  cairo_line_to (cr, f->right, s->zero);
  fw_set_colour (cr, fw_colour_fade (style->faint_ink, 0.7));
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
}

/* One veil over all failures together, so that several at once do not darken the field. */
static void
paint_veil (cairo_t *cr, const FwStrip *s, gboolean picked)
{
  const FwStripField *f = &s->field;
  for (int i = 0; i < s->n_bands; i++)
    {
      const FwStripBand *b = &s->bands[i];
      if (picked ? b->trouble == s->state->picked_trouble
                 : s->scene->troubles->items[b->trouble].severity == FW_FAILURE)
        cairo_rectangle (cr, b->from, f->top, b->to - b->from, f->bottom - f->top);
    }
  fw_set_colour (cr, fw_colour_fade (s->style->trouble, picked ? 0.12 : 0.07));
  cairo_fill (cr);
}

static void
paint_bands (cairo_t *cr, const FwStrip *s)
{
  const FwStyle *style = s->style;
  const FwStripField *f = &s->field;
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  for (int i = 0; i < s->n_bands; i++)
    {
      const FwStripBand *b = &s->bands[i];
      const FwTrouble *t = &s->scene->troubles->items[b->trouble];
      FwColour colour = t->severity == FW_REMARK ? style->remark : style->trouble;
      gboolean picked = b->trouble == s->state->picked_trouble;
      if (b->lane < 0)
        continue;
      double top = f->bottom + b->lane * f->lane_height + 0.12 * f->lane_height,
             low = top + 0.76 * f->lane_height;
      const FwVec2 box[4] = { { b->from, top }, { b->to, top }, { b->to, low }, { b->from, low } };
      fw_path_polygon (cr, box, 4);
      fw_set_colour (cr, fw_colour_fade (colour, picked ? 0.3 : 0.13));
      cairo_fill (cr);
      g_array_set_size (pairs, 0);
      fw_polygon_hatch (box, 4, t->severity == FW_REMARK ? -G_PI / 3 : -G_PI / 4,
                        (t->severity == FW_FAILURE ? 3.4 : 5) * style->wide, pairs);
      fw_path_pairs (cr, (const FwVec2 *)(void *)pairs->data, (int)pairs->len / 2);
      fw_path_polygon (cr, box, 4);
      fw_set_colour (cr, fw_colour_fade (colour, picked ? 1 : 0.75));
      cairo_set_line_width (cr, picked ? style->wide : style->thin);
      cairo_stroke (cr);
    }
  g_array_unref (pairs);
}

static void
paint_worst (cairo_t *cr, const FwStrip *s)
{
  for (int i = 0; i < s->n_bands; i++)
    {
      const FwStripBand *b = &s->bands[i];
      if (b->lane < 0 || !isfinite (b->worst))
        continue;
      const FwTrouble *t = &s->scene->troubles->items[b->trouble];
      double y = s->field.bottom + b->lane * s->field.lane_height + 0.12 * s->field.lane_height;
      fw_mark_path (cr, FW_MARK_DIAMOND, fw_vec2 (b->worst, y), 0.3 * s->style->text);
      fw_set_colour (cr, t->severity == FW_REMARK ? s->style->remark : s->style->trouble);
      cairo_fill_preserve (cr);
      fw_set_colour (cr, s->style->panel_ground);
      cairo_set_line_width (cr, s->style->thin);
      cairo_stroke (cr);
    }
}

static void
path_curve (cairo_t *cr, const FwStrip *s, const FwCurve *k)
{
  gboolean drawing = FALSE;
  double width = s->field.right - s->field.left;
  /* A point each 12 px is as smooth to the eye as all of them; beside a gap every one is kept. */
  int stride = (int)CLAMP (12 * s->style->size * k->steps / fmax (width, 1), 1, 8);
  for (int i = 0; i <= k->steps; i++)
    {
      if (i % stride != 0 && i != k->steps && isfinite (k->row[i - 1])
          && isfinite (k->row[(i + 1) % k->steps]))
        continue;
      double value = k->row[i % k->steps];
      if (!isfinite (value))
        {
          drawing = FALSE;
          continue;
        }
      double x = s->field.left + width * i / k->steps, y = fw_curve_y (k, value);
      if (drawing)
        cairo_line_to (cr, x, y);
      else
        cairo_move_to (cr, x, y);
      drawing = TRUE;
    }
}

static void
paint_curves (cairo_t *cr, const FwStrip *s)
{
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, 1.15 * s->style->wide);
  for (int c = 0; c < s->n_curves; c++)
    {
      double dashes[6];
      int n = curve_dashes (s->style, c, dashes);
      if (s->curves[c].steps == 0)
        continue;
      cairo_set_dash (cr, dashes, n, 0);
      path_curve (cr, s, &s->curves[c]);
      fw_set_colour (cr, s->curves[c].colour);
      cairo_stroke (cr);
    }
  cairo_restore (cr);
}

/* A piece of each curve's line before its name, and a thin line from the curve's end to it. */
static void
paint_samples (cairo_t *cr, const FwStrip *s, const FwLabels *labels)
{
  double from = s->field.right + 0.7 * s->style->text, to = from + 2.1 * s->style->text;
  cairo_save (cr);
  for (int c = 0; c < s->n_curves; c++)
    {
      if (s->named[c] < 0)
        continue;
      const FwLabel *label = &g_array_index (labels->labels, FwLabel, (guint)s->named[c]);
      const FwCurve *k = &s->curves[c];
      double y = label->box.centre.y, dashes[6];
      cairo_set_dash (cr, dashes, curve_dashes (s->style, c, dashes), 0);
      cairo_move_to (cr, from, y);
      cairo_line_to (cr, to, y);
      fw_set_colour (cr, k->colour);
      cairo_set_line_width (cr, 1.15 * s->style->wide);
      cairo_stroke (cr);
      if (k->steps == 0 || !isfinite (k->row[0]))
        continue;
      cairo_set_dash (cr, NULL, 0, 0);
      cairo_move_to (cr, s->field.right, fw_curve_y (k, k->row[0]));
      cairo_line_to (cr, from, y);
      fw_set_colour (cr, fw_colour_fade (k->colour, 0.55));
      cairo_set_line_width (cr, s->style->thin);
      cairo_stroke (cr);
    }
  cairo_restore (cr);
}

static void
paint_flags (cairo_t *cr, const FwStrip *s, FwBox page, const FwFlag *flags, int n)
{
  double size = 0.36 * s->style->text;
  for (int i = 0; i < n; i++)
    {
      if (flags[i].kind != FW_FLAG_TURNING)
        continue;
      const FwCurve *k = &s->curves[flags[i].curve];
      double x = fw_strip_x (s->style, page, flags[i].crank), y = fw_curve_y (k, flags[i].value);
      cairo_move_to (cr, x, y - 0.3 * size);
      cairo_line_to (cr, x + size, y - 1.7 * size);
      cairo_line_to (cr, x - size, y - 1.7 * size);
      cairo_close_path (cr);
      fw_set_colour (cr, k->colour);
      cairo_fill (cr);
    }
}

static void
paint_scrub (cairo_t *cr, const FwStrip *s, FwBox page)
{
  const FwStyle *style = s->style;
  double x = fw_strip_x (style, page, s->state->crank), y = page.y + 0.85 * style->text;
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x, s->field.ruler);
  fw_set_colour (cr, style->motion);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
  cairo_arc (cr, x, y, 0.42 * style->text, 0, 2 * G_PI);
  cairo_fill (cr);
  for (int c = 0; c < s->n_curves; c++)
    {
      double value = fw_scene_value (s->scene, s->state->curves[c]);
      if (!isfinite (value))
        continue;
      cairo_arc (cr, x, fw_curve_y (&s->curves[c], value), 0.26 * style->text, 0, 2 * G_PI);
      fw_set_colour (cr, style->panel_ground);
      cairo_fill_preserve (cr);
      fw_set_colour (cr, s->curves[c].colour);
      cairo_stroke (cr);
    }
}

static gboolean
can_draw (const FwScene *scene, FwBox page)
{
  return scene->mechanism != NULL && scene->pose != NULL && page.width >= 24 && page.height >= 24
         && page.width < 1e5 && page.height < 1e5;
}

/* What does not move with the scrub line. Words do: they make room for its own. */
typedef struct
{
  const FwStrip *s;
  FwBox page;
} StillPart;

static void
paint_still (cairo_t *cr, const void *data)
{
  const StillPart *p = data;
  paint_field (cr, p->s);
  paint_veil (cr, p->s, FALSE);
  paint_veil (cr, p->s, TRUE);
  paint_bands (cr, p->s);
  fw_strip_paint_spreads (cr, p->s);
  fw_strip_paint_ghosts (cr, p->s);
  paint_curves (cr, p->s);
}

/* Curves and bands as they are drawn, so that nobody need tell when some of them arrive later. */
static double
drawn_sum (const FwStrip *s)
{
  double sum = 0;
  for (int c = 0; c < s->n_curves; c++)
    {
      const FwCurve *k = &s->curves[c];
      const double scale[] = { k->base, k->scale, k->factor, k->steps };
      sum = fw_still_sum (sum, scale, G_N_ELEMENTS (scale));
      sum = fw_still_sum (sum, k->row, k->steps);
    }
  for (int i = 0; i < s->n_bands; i++)
    {
      const FwStripBand *b = &s->bands[i];
      const double band[] = { b->from, b->to, b->lane, b->trouble, s->scene->troubles->items[b->trouble].severity };
      sum = fw_still_sum (sum, band, G_N_ELEMENTS (band));
    }
  return sum;
}

static FwStillKey
still_key (const StillPart *p)
{
  FwStillKey key = { 0 };
  const FwStripState *state = p->s->state;
  const double place[] = { p->page.x, p->page.y, p->page.width, p->page.height, state->picked_trouble };
  memcpy (key.numbers, place, sizeof place);
  int at = fw_still_key_style (&key, G_N_ELEMENTS (place), p->s->style);
  for (int i = 0; i < state->n_curves; i++)
    {
      key.numbers[at++] = state->curves[i].kind;
      key.numbers[at++] = state->curves[i].index;
    }
  G_STATIC_ASSERT (G_N_ELEMENTS (place) + 6 + 2 * FW_STRIP_CURVES + 1 <= FW_STILL_NUMBERS);
  key.numbers[at] = drawn_sum (p->s);
  return key;
}

void
fw_draw_turn_strip_kept (cairo_t *cr, FwStill *still, const FwScene *scene, const FwStripState *state,
                         const FwStyle *style, FwBox page)
{
  cairo_save (cr);
  cairo_rectangle (cr, page.x, page.y, page.width, page.height);
  cairo_clip (cr);
  if (!can_draw (scene, page))
    {
      fw_set_colour (cr, style->ground);
      cairo_paint (cr);
      cairo_restore (cr);
      return;
    }
  FwStrip s;
  FwLabels labels;
  FwFlag flags[FW_STRIP_CURVES * 16 + 3 * FW_TROUBLE_ROOM + MOST_BOUNCES];
  fw_labels_open (&labels, cr, style, page, still);
  FwStripState known = known_state (scene, state);
  lay_out (&s, &labels, scene, &known, style, page);
  int n_flags = fw_strip_flags (scene, &known, flags, G_N_ELEMENTS (flags));
  fw_strip_words (&s, &labels, flags, n_flags);
  const StillPart part = { &s, page };
  const FwStillKey key = still_key (&part);
  fw_still_paint (still, cr, page, style->ground, &key, paint_still, &part);
  paint_samples (cr, &s, &labels);
  paint_flags (cr, &s, page, flags, n_flags);
  fw_strip_pennants (cr, &s, page, flags, n_flags);
  paint_scrub (cr, &s, page);
  fw_labels_paint (&labels);
  paint_worst (cr, &s);
  fw_labels_close (&labels);
  clear_rows (&s);
  cairo_restore (cr);
}

void
fw_draw_turn_strip (cairo_t *cr, const FwScene *scene, const FwStripState *state, const FwStyle *style, FwBox page)
{
  fw_draw_turn_strip_kept (cr, NULL, scene, state, style, page);
}

int
fw_turn_strip_label_boxes (const FwScene *scene, const FwStripState *state, const FwStyle *style,
                           FwBox page, FwTilted *boxes, int capacity)
{
  if (!can_draw (scene, page))
    return 0;
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  FwStrip s;
  FwLabels labels;
  FwFlag flags[FW_STRIP_CURVES * 16 + 3 * FW_TROUBLE_ROOM + MOST_BOUNCES];
  fw_labels_open (&labels, cr, style, page, NULL);
  FwStripState known = known_state (scene, state);
  lay_out (&s, &labels, scene, &known, style, page);
  fw_strip_words (&s, &labels, flags, fw_strip_flags (scene, &known, flags, G_N_ELEMENTS (flags)));
  int n = (int)labels.labels->len;
  for (int i = 0; i < n && i < capacity; i++)
    boxes[i] = g_array_index (labels.labels, FwLabel, (guint)i).box;
  fw_labels_close (&labels);
  clear_rows (&s);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return n;
}
