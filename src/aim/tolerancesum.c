/* What comes of all the runs. */
#include "aim/toleranceprivate.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { STEPS = FW_TOLERANCE_STEPS };

/* ---- What comes of it ---- */

/* All chunks in order; those that were not run count nothing. */
static void
gather (const FwToleranceWork *w, FwToleranceSums *all)
{
  int n = w->n_drawn, outputs = w->n_outputs;

  for (int c = 0; c < w->n_chunks; c++)
    {
      const FwToleranceSums *s = &w->chunks[c];
      if (!s->sum)
        continue;
      all->runs += s->runs;
      all->round += s->round;
      all->fine += s->fine;
      for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
        all->kinds[k] += s->kinds[k];
      int length = 2 * outputs + (n + 1) * (5 + outputs);
      for (int i = 0; i < length; i++)
        all->sum[i] += s->sum[i];
    }
}

/* The k-th least of n values, which are shuffled: Hoare, 1961. */
static float
kth_least (float *v, int n, int k)
{
  int low = 0, high = n - 1;

  while (low < high)
    {
      float pivot = v[low + (high - low) / 2];
      int i = low, j = high;
      while (i <= j)
        {
          while (v[i] < pivot)
            i++;
          while (v[j] > pivot)
            j--;
          if (i <= j)
            {
              float kept = v[i];
              v[i++] = v[j];
              v[j--] = kept;
            }
        }
      if (k <= j)
        high = j;
      else if (k >= i)
        low = i;
      else
        break;
    }
  return v[k];
}

static void
make_band (const FwToleranceWork *w, int i, int kept, FwToleranceBand *band)
{
  band->quantity = w->watches[i].quantity;
  for (int k = 0; k < STEPS; k++)
    {
      float *v = w->kept + ((size_t)i * STEPS + (size_t)k) * (size_t)w->n_kept;
      int n = 0;
      for (int run = 0; run < kept; run++)
        if (!isnan (v[run]))
          v[n++] = v[run];
      band->low[k] = n ? kth_least (v, n, (int)(0.05 * (n - 1) + 0.5)) : NAN;
      band->middle[k] = n ? kth_least (v, n, (n - 1) / 2) : NAN;
      band->high[k] = n ? kth_least (v, n, (int)(0.95 * (n - 1) + 0.5)) : NAN;
    }
}

static void
mean_and_sd (const FwToleranceSums *all, int output, double from, double *mean, double *sd)
{
  double n = all->round, average = all->sum[output] / n;
  *mean = n > 0 ? from + average : NAN;
  *sd = n > 1 ? sqrt (fmax (0, (all->square[output] - n * average * average) / (n - 1))) : NAN;
}

/* Squared covariance of a number with an output over the number's variance: the part of the output's
 * variance that goes along with it. */
static double
goes_along (double n, double x, double xx, double y, double xy)
{
  double variance = xx - x * x / n, covariance = xy - x * y / n;
  return n > 1 && variance > 0 ? covariance * covariance / variance : 0;
}

static int
by_share (const void *a, const void *b)
{
  const FwToleranceCause *x = a, *y = b;
  double of_x = x->share + x->stops * 1e-6, of_y = y->share + y->stops * 1e-6;
  return (of_x < of_y) - (of_x > of_y);
}

static void
find_causes (const FwToleranceWork *w, const FwToleranceSums *all, FwTolerance *t)
{
  int last = w->n_outputs - 1;
  double n = all->round, whole = 0;

  for (int k = 0; k < last; k++)
    if (w->watches[k / 2].counts)
      whole += all->square[k] - all->sum[k] * all->sum[k] / n;
  double odds = all->square[last] - all->sum[last] * all->sum[last] / all->runs;
  for (int j = 0; j < w->n_drawn; j++)
    {
      FwToleranceCause *cause = &t->causes[j];
      cause->param = fw_split_origin (w->split, w->drawn[j].param, &cause->side);
      cause->spread = w->drawn[j].spread;
      double part = 0;
      for (int k = 0; k < last && n > 1; k++)
        if (w->watches[k / 2].counts)
          part += goes_along (n, all->x[j], all->xx[j], all->sum[k], all->xy[j * w->n_outputs + k]);
      cause->share = n > 1 && whole > 0 ? part / whole : 0;
      cause->stops = odds > 0 ? goes_along (all->runs, all->every_x[j], all->every_xx[j], all->sum[last],
                                            all->every_xy[j]) / odds
                              : 0;
    }
  t->n_causes = w->n_drawn;
  qsort (t->causes, (size_t)t->n_causes, sizeof *t->causes, by_share);
}

/* The runs of the first chunks that were all run: what the bands are made of. */
static int
runs_in_a_row (const FwToleranceWork *w)
{
  int kept = 0;
  for (int c = 0; c < w->n_chunks && w->chunks[c].sum; c++)
    kept += w->chunks[c].runs;
  return MIN (kept, w->n_kept);
}

gboolean
fw_tolerance_sum_up (const FwToleranceWork *w, FwTolerance *t)
{
  FwToleranceSums all = { 0 };

  t->bands = calloc ((size_t)w->n_watches, sizeof *t->bands);
  t->extremes = calloc ((size_t)w->n_watches, sizeof *t->extremes);
  t->causes = calloc ((size_t)w->n_drawn + 1, sizeof *t->causes);
  if (!fw_tolerance_sums_open (&all, w) || !t->bands || !t->extremes || !t->causes)
    {
      free (all.sum);
      return FALSE;
    }
  gather (w, &all);
  t->runs = all.runs;
  t->goes_round = all.round;
  t->fine = all.fine;
  memcpy (t->kinds, all.kinds, sizeof t->kinds);
  t->stopped = w->stopped;
  int kept = runs_in_a_row (w);
  for (int i = 0; i < w->n_watches; i++)
    {
      const FwToleranceWatch *watch = &w->watches[i];
      FwToleranceExtreme *e = &t->extremes[i];
      make_band (w, i, kept, &t->bands[i]);
      *e = (FwToleranceExtreme){ .quantity = watch->quantity, .least = watch->least, .greatest = watch->greatest };
      mean_and_sd (&all, 2 * i, isfinite (watch->least) ? watch->least : 0, &e->least_mean, &e->least_sd);
      mean_and_sd (&all, 2 * i + 1, isfinite (watch->greatest) ? watch->greatest : 0, &e->greatest_mean,
                   &e->greatest_sd);
    }
  t->n_bands = t->n_extremes = w->n_watches;
  find_causes (w, &all, t);
  free (all.sum);
  return TRUE;
}

void
fw_share_interval (int k, int n, double *low, double *high)
{
  const double z = 1.959963984540054;
  double p = (double)k / n, spread = z * z / n;
  double middle = (p + spread / 2) / (1 + spread);
  double half = z / (1 + spread) * sqrt (p * (1 - p) / n + spread / (4 * n));
  *low = fmax (0, middle - half);
  *high = fmin (1, middle + half);
}
