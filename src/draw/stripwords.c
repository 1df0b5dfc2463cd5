/* The words of the turn strip, placed before anything is painted. */
#include <glib/gi18n.h>

#include "doc/loadwords.h"
#include "draw/forcerows.h"
#include "draw/striplayout.h"

const char *
fw_part_plain_name (const FwMechanism *m, FwPart part)
{
  if (part.kind == FW_PART_MEMBER)
    return m->design->panels[m->members[part.index].panel].name;
  if (part.kind == FW_PART_LINK)
    return m->design->rods[m->links[part.index].rod].name;
  return fw_words_part (m, part);
}

char *
fw_strip_band_words (const FwStrip *s, int trouble)
{
  const FwTrouble *t = &s->scene->troubles->items[trouble];
  const FwMechanism *m = s->scene->mechanism;
  const char *name = fw_part_plain_name (m, t->part);
  /* Translators: kind of trouble, then the part's name. */
  return g_strdup_printf (_ ("%s: %s"), fw_words_trouble_short (t->kind), name == NULL ? "" : name);
}

FwWording
fw_strip_lane_wording (const FwStyle *style)
{
  return (FwWording){ .size = 0.85, .colour = style->ink, .bare = TRUE };
}

static void
word_ruler (const FwStrip *s, FwLabels *labels)
{
  double pitch = (s->field.right - s->field.left) / 12;
  int every = pitch > 3.2 * s->style->text ? 1 : pitch > 1.6 * s->style->text ? 3 : 6;
  for (int i = 0; i <= 12; i += every)
    {
      char text[16];
      g_snprintf (text, sizeof text, "%d°", 30 * i);
      FwSpot spot = { fw_vec2 (s->field.left + pitch * i, s->field.ruler + 0.35 * s->style->text),
                      0, 1, 0, 0 };
      FwWording w = { .size = 0.85, .colour = s->style->faint_ink, .bare = TRUE };
      fw_labels_add (labels, text, &w, &spot, 1);
    }
}

static void
word_scrub (const FwStrip *s, FwLabels *labels)
{
  double x = fw_strip_x (s->style, labels->page, s->state->crank);
  char *text = fw_units_format (s->state->crank * 180 / G_PI, FW_UNIT_DEG, s->state->lengths, -1);
  double up = labels->page.y + 0.85 * s->style->text, gap = 0.55 * s->style->text;
  FwSpot spots[2] = { { fw_vec2 (x, up), 1, 0, gap, 0 }, { fw_vec2 (x, up), -1, 0, gap, 0 } };
  FwWording w = { .bold = TRUE, .colour = s->style->motion, .bare = TRUE };
  fw_labels_add (labels, text, &w, spots, 2);
  g_free (text);
}

static char *
value_words (const FwStrip *s, int curve, double core_value)
{
  const FwCurve *k = &s->curves[curve];
  int digits = k->unit == FW_UNIT_PER_RAD || k->unit == FW_UNIT_PER_RAD2 || k->unit == FW_UNIT_NONE
                   ? 2
                   : -1;
  if (fw_quantity_is_load (s->state->curves[curve]))
    digits = fw_load_digits (fmax (fabs (k->least), fabs (k->most)));
  return fw_units_format (core_value * k->factor, k->unit, s->state->lengths, digits);
}

/* Words of the field stay in it, so that they do not run into the names of the curves: above or below a point they
 * are moved along, beside it they must have room. Returns how many of the spots remain. */
static int
keep_in_field (const FwStrip *s, FwLabels *labels, const char *text, const FwWording *wording, FwSpot *spots, int n)
{
  double width, height, left = s->field.left, right = s->field.right;
  int kept = 0;
  fw_labels_measure (labels, text, wording, &width, &height);
  for (int i = 0; i < n; i++)
    {
      FwSpot spot = spots[i];
      if (spot.dx == 0)
        spot.anchor.x = fmax (left + width / 2, fmin (spot.anchor.x, right - width / 2));
      double middle = spot.anchor.x + spot.dx * (width / 2 + spot.gap);
      if (middle - width / 2 >= left - 0.01 && middle + width / 2 <= right + 0.01)
        spots[kept++] = spot;
    }
  return kept;
}

/* Px on the page: where the scrub line crosses the curve; NaN where the curve is not. */
static FwVec2
bead (const FwStrip *s, const FwLabels *labels, int curve)
{
  double value = fw_scene_value (s->scene, s->state->curves[curve]);
  double y = isfinite (value) ? fw_curve_y (&s->curves[curve], value) : NAN;
  return fw_vec2 (fw_strip_x (s->style, labels->page, s->state->crank), y);
}

/* A value so high would seem to be that of another curve. */
static gboolean
beside_another (const FwStrip *s, const FwLabels *labels, int curve, double y)
{
  double own = fabs (bead (s, labels, curve).y - y);
  for (int c = 0; c < s->n_curves; c++)
    {
      double other = fabs (bead (s, labels, c).y - y);
      if (c != curve && other < 0.6 * s->style->text && other < own)
        return TRUE;
    }
  return FALSE;
}

#define VALUE_SPOTS 18

/* In columns of words `width` px wide, the first beside the bead. */
static int
value_spots (const FwStrip *s, const FwLabels *labels, int curve, int column, double width, FwSpot spots[VALUE_SPOTS])
{
  static const double lifts[9] = { -0.9, 0.9, 0, -1.9, 1.9, -3, 3, 4.1, -4.1 };
  FwVec2 at = bead (s, labels, curve);
  int n = 0;
  for (int k = 0; k < 9; k++)
    for (int side = 1; side >= -1; side -= 2)
      {
        double y = at.y + lifts[k] * s->style->text;
        if (column > 0 || !beside_another (s, labels, curve, y))
          spots[n++] = (FwSpot){ fw_vec2 (at.x, y), side, 0, 0.45 * s->style->text + column * width, 0 };
      }
  return n;
}

static void
word_values (const FwStrip *s, FwLabels *labels)
{
  for (int c = 0; c < s->n_curves; c++)
    {
      double value = fw_scene_value (s->scene, s->state->curves[c]), width, height;
      if (!isfinite (value))
        continue;
      char *text = value_words (s, c, value);
      FwSpot spots[VALUE_SPOTS];
      FwWording w = { .size = 0.9, .bold = TRUE, .colour = s->curves[c].colour };
      fw_labels_measure (labels, text, &w, &width, &height);
      gboolean placed = FALSE;
      for (int column = 0; column < 3 && !placed; column++)
        {
          int n = value_spots (s, labels, c, column, width, spots);
          n = keep_in_field (s, labels, text, &w, spots, n);
          placed = fw_labels_add (labels, text, &w, spots, n);
        }
      g_free (text);
    }
}

static void
word_bands (const FwStrip *s, FwLabels *labels)
{
  for (int i = 0; i < s->n_bands; i++)
    {
      const FwStripBand *b = &s->bands[i];
      if (b->lane < 0 || !b->worded)
        continue;
      char *text = fw_strip_band_words (s, b->trouble);
      FwSpot spot = { fw_vec2 (b->word_x, s->field.bottom + (b->lane + 0.5) * s->field.lane_height),
                      1, 0, 0, 0 };
      FwWording w = fw_strip_lane_wording (s->style);
      w.bare = FALSE;
      fw_labels_add (labels, text, &w, &spot, 1);
      g_free (text);
    }
}

/* Names of the curves in the right-hand margin, each as near to its curve's end as the others
 * allow. */
static void
word_curves (FwStrip *s, FwLabels *labels, double sample)
{
  double x = s->field.right + 0.7 * s->style->text + sample,
         room = labels->page.x + labels->page.width - x;
  for (int c = 0; c < s->n_curves; c++)
    {
      g_autofree char *whole = fw_words_quantity (s->scene->mechanism, s->state->curves[c]);
      const FwCurve *k = &s->curves[c];
      double last = k->steps > 0 ? k->row[0] : NAN;
      double y = isfinite (last) ? fw_curve_y (k, last) : (s->field.top + s->field.bottom) / 2;
      FwWording w = { .size = 0.9, .colour = k->colour, .bare = TRUE };
      double width, height;
      g_autofree char *name = fw_labels_fit (labels, whole, &w, room);
      fw_labels_measure (labels, name, &w, &width, &height);
      FwSpot spots[33];
      int n = 0;
      double top = labels->page.y + height / 2,
             bottom = labels->page.y + labels->page.height - height / 2;
      for (int step = 0; n < 32; step++)
        {
          double away = (step + 1) / 2 * (step % 2 == 0 ? 1 : -1) * 0.55 * height;
          spots[n++] = (FwSpot){ fw_vec2 (x, CLAMP (y + away, top, bottom)), 1, 0, 0, 0 };
        }
      s->named[c] = fw_labels_add (labels, name, &w, spots, n) ? (int)labels->labels->len - 1 : -1;
    }
}

static void
word_flags (const FwStrip *s, FwLabels *labels, const FwFlag *flags, int n)
{
  for (int i = 0; i < n; i++)
    {
      if (flags[i].kind != FW_FLAG_TURNING)
        continue;
      const FwCurve *k = &s->curves[flags[i].curve];
      char *text = value_words (s, flags[i].curve, flags[i].value);
      FwVec2 at = fw_vec2 (fw_strip_x (s->style, labels->page, flags[i].crank),
                           fw_curve_y (k, flags[i].value));
      FwSpot spots[8];
      int spots_n = 0;
      double gap = 0.75 * s->style->text;
      static const double sides[6][2]
          = { { 0, -1 }, { 0, 1 }, { 1, -1 }, { -1, -1 }, { 1, 1 }, { -1, 1 } };
      for (int side = 0; side < 6; side++)
        spots[spots_n++]
            = (FwSpot){ at, sides[side][0], sides[side][1], side < 2 ? gap : 0.4 * gap, 0 };
      FwWording w = { .size = 0.82, .colour = k->colour };
      spots_n = keep_in_field (s, labels, text, &w, spots, spots_n);
      fw_labels_add (labels, text, &w, spots, spots_n);
      g_free (text);
    }
}

void
fw_strip_words (FwStrip *s, FwLabels *labels, const FwFlag *flags, int n_flags)
{
  const FwStripField *f = &s->field;
  double x = fw_strip_x (s->style, labels->page, s->state->crank);
  word_ruler (s, labels);
  word_scrub (s, labels);
  word_bands (s, labels);
  fw_labels_keep_off (
      labels, (FwTilted){ fw_vec2 ((f->left + f->right) / 2, f->ruler + s->style->text),
                          (f->right - f->left) / 2 + 2 * s->style->text, s->style->text, 0 });
  for (int i = 0; i < s->n_bands; i++)
    if (s->bands[i].lane >= 0)
      fw_labels_keep_off (labels,
                          (FwTilted){ fw_vec2 ((s->bands[i].from + s->bands[i].to) / 2, f->bottom + (s->bands[i].lane + 0.5) * f->lane_height),
                                      (s->bands[i].to - s->bands[i].from) / 2, f->lane_height / 2, 0 });
  fw_labels_keep_off (labels, (FwTilted){ fw_vec2 (x, (f->top + f->bottom) / 2), s->style->thin,
                                          (f->bottom - f->top) / 2, 0 });
  for (int c = 0; c < s->n_curves; c++)
    {
      const FwCurve *k = &s->curves[c];
      for (int i = 0, stride = MAX (k->steps / 36, 1); i < k->steps; i += stride)
        {
          double a = k->row[i], b = k->row[(i + stride) % k->steps];
          if (isfinite (a) && isfinite (b))
            fw_labels_line (
                labels, fw_vec2 (f->left + (f->right - f->left) * i / k->steps, fw_curve_y (k, a)),
                fw_vec2 (f->left + (f->right - f->left) * MIN (i + stride, k->steps) / k->steps,
                         fw_curve_y (k, b)));
        }
    }
  fw_strip_keep_off_pennants (s, labels, flags, n_flags);
  word_values (s, labels);
  /* What is read off at the scrub line may stand on a lane that is free there; other words keep off the lanes. */
  if (f->lanes > 0)
    fw_labels_keep_off (labels,
                        (FwTilted){ fw_vec2 ((f->left + f->right) / 2, (f->bottom + f->ruler) / 2),
                                    (f->right - f->left) / 2, (f->ruler - f->bottom) / 2, 0 });
  word_flags (s, labels, flags, n_flags);
  word_curves (s, labels, 2.4 * s->style->text);
}
