/* Gauges: a disc on the crank that sets the phase of every throw, and a strip with a hole for every
 * distance between joint centres. */
#include "shop/templatebuild.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/shapes.h"

#define THICKNESS 3.0       /* mm of ply */
#define NOTCH 3.0           /* mm deep, and half as wide to either side */
#define RIM 14.0            /* mm of disc beyond the largest throw */
#define LEAST_RADIUS 38.0  /* mm: names fit on it */
#define ARC_STEP 1.0        /* degrees */
#define APART 4.0           /* mm between holes of the rod gauge */
#define MARGIN 10.0         /* mm from its holes to its ends */

/* ---- Phase gauge ---- */

/* Clockwise from up, on the page. */
static FwVec2
polar (double radius, double angle_rad)
{
  return fw_vec2 (radius * sin (angle_rad), -radius * cos (angle_rad));
}

static int
ascending (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double
in_turn (double deg)
{
  double rest = fmod (deg, 360);
  return rest < 0 ? rest + 360 : rest;
}

/* The rim, with a notch at every phase. */
static void
add_rim (FwCutPart *part, const FwCrank *crank, double radius)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  double *phases = g_new (double, crank->n_throws + 1);
  double half_deg = atan2 (NOTCH / 2, radius) * 180 / G_PI;
  for (int i = 0; i < crank->n_throws; i++)
    phases[i] = in_turn (crank->throws[i].phase_deg);
  qsort (phases, (size_t)crank->n_throws, sizeof (double), ascending);
  double first = crank->n_throws > 0 ? phases[0] : 0, at = first;
  for (int i = 0; i < crank->n_throws; i++)
    {
      if (i > 0 && phases[i] - phases[i - 1] < 2.5 * half_deg)
        continue; /* one notch serves both */
      if (first + 360 - phases[i] < 2.5 * half_deg && i > 0)
        continue;
      for (double a = floor (at) + ARC_STEP; a < phases[i] - half_deg; a += ARC_STEP)
        if (a > at)
          {
            FwVec2 p = polar (radius, a * G_PI / 180);
            g_array_append_val (points, p);
          }
      const FwVec2 notch[3] = { polar (radius, (phases[i] - half_deg) * G_PI / 180),
                                polar (radius - NOTCH, phases[i] * G_PI / 180),
                                polar (radius, (phases[i] + half_deg) * G_PI / 180) };
      g_array_append_vals (points, notch, 3);
      at = phases[i] + half_deg;
    }
  for (double a = floor (at) + ARC_STEP; a < first + 360 - half_deg; a += ARC_STEP)
    if (a > at)
      {
        FwVec2 p = polar (radius, a * G_PI / 180);
        g_array_append_val (points, p);
      }
  fw_cut_line (part, FW_LINE_CUT, TRUE, (const FwVec2 *)(void *)points->data, (int)points->len);
  g_array_free (points, TRUE);
  g_free (phases);
}

/* Degrees round the rim: every 5, longer every 10 and 30. */
static void
add_scale (FwCutPart *part, double radius)
{
  double rim = radius - NOTCH - 0.5;
  for (int deg = 0; deg < 360; deg += 5)
    {
      double a = deg * G_PI / 180, tick = deg % 30 == 0 ? 3.4 : deg % 10 == 0 ? 2.2 : 1.2;
      fw_cut_segment (part, FW_LINE_MARK, polar (rim, a), polar (rim - tick, a));
    }
}

/* Figures every 30 degrees, where no throw has its line. */
static void
add_figures (FwCutPart *part, double radius, FwLengths lengths)
{
  for (int deg = 0; deg < 360; deg += 30)
    {
      double a = deg * G_PI / 180, turn = deg > 90 && deg < 270 ? a + G_PI : a;
      g_autofree char *figure = fw_units_format (deg, FW_UNIT_DEG, lengths, 0);
      FwVec2 half = fw_cut_text_half (figure, 2.6, FALSE), at = polar (radius - NOTCH - 5.2 - half.y, a);
      if (fw_cut_words_fit (part, at, half, turn, TRUE))
        fw_cut_words_at (part, figure, at, 2.6, turn);
    }
}

/* The throw's name, phase and radius beside its line: on either side of it, out or in. */
static void
name_throw (FwCutPart *part, const FwThrow *t, double bore, double radius, FwLengths lengths)
{
  g_autofree char *phase = fw_units_format (in_turn (t->phase_deg), FW_UNIT_DEG, lengths,
                                            t->phase_deg == floor (t->phase_deg) ? 0 : 1);
  g_autofree char *length = fw_cut_length (t->radius_mm, lengths);
  g_autofree char *text = g_strdup_printf (_ ("%s  %s  r %s"), t->name, phase, length);
  double a = in_turn (t->phase_deg) * G_PI / 180;
  double turn = a - G_PI_2;
  if (sin (a) < -1e-9)
    turn += G_PI;
  double inner = bore / 2 + 3, outer = radius - NOTCH - 9;
  for (double size = 3; size > 1.5; size *= 0.85)
    {
      FwVec2 half = fw_cut_text_half (text, size, FALSE);
      for (int k = 0; k < 6; k++)
        {
          double out = k < 2 ? outer - half.x : k < 4 ? (outer + inner) / 2 : inner + half.x;
          double beside = (k % 2 == 0 ? -1 : 1) * (half.y + 0.9);
          FwVec2 on = polar (out, a);
          FwVec2 at = fw_vec2 (on.x + beside * cos (a), on.y + beside * sin (a));
          if (out - half.x < inner - 0.5 || out + half.x > outer + 0.5
              || !fw_cut_words_fit (part, at, half, turn, FALSE))
            continue;
          fw_cut_words_at (part, text, at, size, turn);
          return;
        }
    }
  fw_cut_words_below (part, text, 2.8, FALSE);
}

static void
add_phase_gauge (FwTemplateJob *job)
{
  const FwCrank *crank = &job->mechanism->design->crank;
  double largest = 0, bore = crank->diameter_mm + FW_HOLE_CLEARANCE;
  for (int i = 0; i < crank->n_throws; i++)
    largest = fmax (largest, crank->throws[i].radius_mm);
  double radius = fmax (fmax (largest + RIM, LEAST_RADIUS), bore / 2 + 18);
  FwCutPart *part = fw_cut_part_new (FW_TEMPLATE_PHASE_GAUGE, NULL, _ ("Phase gauge"), 1, "birch ply",
                                     THICKNESS);
  add_rim (part, crank, radius);
  fw_cut_hole (part, fw_vec2 (0, 0), bore);
  add_scale (part, radius);
  for (int i = 0; i < crank->n_throws; i++)
    {
      const FwThrow *t = &crank->throws[i];
      double a = in_turn (t->phase_deg) * G_PI / 180, arm = fmin (2.5, 0.3 * t->radius_mm);
      fw_cut_segment (part, FW_LINE_MARK, polar (bore / 2 + 0.5, a), polar (radius - NOTCH, a));
      FwVec2 pin = polar (t->radius_mm, a), across = fw_vec2 (arm * cos (a), arm * sin (a));
      if (t->radius_mm > bore / 2 + 0.5)
        fw_cut_segment (part, FW_LINE_MARK, fw_vec2 (pin.x - across.x, pin.y - across.y),
                        fw_vec2 (pin.x + across.x, pin.y + across.y));
    }
  for (int i = 0; i < crank->n_throws; i++)
    name_throw (part, &crank->throws[i], bore, radius, job->lengths);
  add_figures (part, radius, job->lengths);
  g_autofree char *stock = fw_cut_part_stock (part, job->lengths);
  g_autofree char *text = g_strdup_printf (
      crank->runs == FW_RUNS_ACROSS
          ? _ ("%s\n%s\nseen from the sculpture's right; turns clockwise; 0° is up at crank angle 0")
          : _ ("%s\n%s\nseen from behind; turns clockwise; 0° is up at crank angle 0"),
      part->name, stock);
  fw_cut_words_below (part, text, 2.8, TRUE);
  fw_cut_part_add (job, part);
}

/* ---- Rod gauge ---- */

typedef struct
{
  double length_mm, diameter_mm;
  char *words;
  int row;
} Measure;

static void
add_measure (GArray *measures, const FwMade *made, const char *name, double length_mm,
             double diameter_mm, FwLengths lengths)
{
  g_autofree char *length = fw_cut_length (length_mm, lengths);
  g_autofree char *who = g_strdup_printf ("%s %s", made == NULL ? "" : made->letter, name);
  Measure m = { length_mm, diameter_mm, g_strdup_printf ("%s  %s", g_strstrip (who), length), 0 };
  g_array_append_val (measures, m);
}

static int
shorter_first (const void *a, const void *b)
{
  const Measure *p = a, *q = b;
  return (p->length_mm > q->length_mm) - (p->length_mm < q->length_mm);
}

static GArray *
gather_measures (const FwTemplateJob *job)
{
  const FwDesign *d = job->mechanism->design;
  GArray *measures = g_array_new (FALSE, FALSE, sizeof (Measure));
  for (int i = 0; i < d->n_rods; i++)
    add_measure (measures, fw_made_find (job->made, FW_MADE_ROD, i, 0), d->rods[i].name,
                 d->rods[i].length_mm, d->rods[i].diameter_mm, job->lengths);
  if (d->body.ride == FW_RIDE_RAIL)
    add_measure (measures, fw_made_find (job->made, FW_MADE_POST, 0, 0), C_ ("a part", "rail rod"), d->body.rod_mm,
                 d->body.diameter_mm, job->lengths);
  if (d->body.ride == FW_RIDE_ROCKER)
    add_measure (measures, fw_made_find (job->made, FW_MADE_LINK, 0, 0), C_ ("a part", "link"), d->body.link_mm,
                 d->body.diameter_mm, job->lengths);
  g_array_sort (measures, shorter_first);
  return measures;
}

/* Lengths that share a row share its first hole: they need one diameter, and room between their far
 * holes. Returns how many rows. */
static int
share_rows (GArray *measures)
{
  int rows = 0;
  for (guint i = 0; i < measures->len; i++)
    {
      Measure *m = &g_array_index (measures, Measure, i);
      m->row = -1;
      for (int row = 0; row < rows && m->row < 0; row++)
        {
          gboolean fits = TRUE;
          for (guint k = 0; k < i && fits; k++)
            {
              const Measure *other = &g_array_index (measures, Measure, k);
              fits = other->row != row
                     || (other->diameter_mm == m->diameter_mm
                         && fabs (other->length_mm - m->length_mm) >= m->diameter_mm + APART);
            }
          m->row = fits ? row : -1;
        }
      if (m->row < 0)
        m->row = rows++;
    }
  return rows;
}

static void
name_measure (FwCutPart *part, const Measure *m, double y, double line)
{
  FwVec2 half = fw_cut_text_half (m->words, 2.8, FALSE);
  double out = m->diameter_mm / 2 + 2.4 + half.x;
  for (int level = -1; level <= 1; level++)
    for (int side = -1; side <= 1; side += 2)
      {
        FwVec2 at = fw_vec2 (m->length_mm + side * out, y + level * line);
        if (!fw_cut_words_fit (part, at, half, 0, FALSE))
          continue;
        fw_cut_words_at (part, m->words, at, 2.8, 0);
        return;
      }
  if (!fw_cut_words (part, m->words, fw_vec2 (m->length_mm - out, y), 2.8, 1.8, FALSE))
    fw_cut_words_below (part, m->words, 2.8, FALSE);
}

static void
add_rod_gauge (FwTemplateJob *job)
{
  GArray *measures = gather_measures (job);
  int rows = share_rows (measures);
  double longest = 0, widest = 0, pitch;
  for (guint i = 0; i < measures->len; i++)
    {
      const Measure *m = &g_array_index (measures, Measure, i);
      longest = fmax (longest, m->length_mm);
      widest = fmax (widest, m->diameter_mm + FW_HOLE_CLEARANCE);
    }
  pitch = fmax (16, widest + 8);
  double left = -MARGIN - widest / 2, right = longest + MARGIN + widest / 2;
  if (measures->len > 0)
    {
      FwCutPart *part
          = fw_cut_part_new (FW_TEMPLATE_ROD_GAUGE, NULL, _ ("Rod gauge"), 1, "birch ply", THICKNESS);
      const FwVec2 strip[4] = { fw_vec2 (left, 0), fw_vec2 (right, 0), fw_vec2 (right, rows * pitch),
                                fw_vec2 (left, rows * pitch) };
      fw_cut_line (part, FW_LINE_CUT, TRUE, strip, 4);
      for (int row = 0; row < rows; row++)
        for (guint i = 0; i < measures->len; i++)
          if (g_array_index (measures, Measure, i).row == row)
            {
              fw_cut_hole (part, fw_vec2 (0, (row + 0.5) * pitch),
                           g_array_index (measures, Measure, i).diameter_mm + FW_HOLE_CLEARANCE);
              break;
            }
      for (guint i = 0; i < measures->len; i++)
        {
          const Measure *m = &g_array_index (measures, Measure, i);
          fw_cut_hole (part, fw_vec2 (m->length_mm, (m->row + 0.5) * pitch),
                       m->diameter_mm + FW_HOLE_CLEARANCE);
        }
      for (guint i = 0; i < measures->len; i++)
        {
          const Measure *m = &g_array_index (measures, Measure, i);
          name_measure (part, m, (m->row + 0.5) * pitch, fmin (pitch / 2 - 2.4, 5));
        }
      g_autofree char *stock = fw_cut_part_stock (part, job->lengths);
      g_autofree char *text = g_strdup_printf (_ ("%s\nbetween joint centres,\nfrom the first hole of a row\n%s"),
                                               part->name, stock);
      if (!fw_cut_words (part, text, fw_vec2 (0.35 * longest, rows * pitch / 2), 3, 2.4, TRUE))
        fw_cut_words_below (part, text, 2.8, TRUE);
      fw_cut_part_add (job, part);
    }
  for (guint i = 0; i < measures->len; i++)
    g_free (g_array_index (measures, Measure, i).words);
  g_array_free (measures, TRUE);
}

void
fw_template_gauges (FwTemplateJob *job)
{
  if (job->mechanism->design->crank.n_throws > 0)
    add_phase_gauge (job);
  add_rod_gauge (job);
}
