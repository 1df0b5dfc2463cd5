#include "aim/fit.h"

#include <cminpack-1/cminpack.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "aim/fitmodel.h"

#define MOST FW_FIT_MOST
#define FARTHEST 40.0   /* spreads from the drawing: beyond, it is another design */
#define FLOOR 0.05      /* standard deviations: what no measurement is better than */
#define GAIN 6.0        /* of the Bayesian information criterion (Schwarz, 1978) for one number more: strong, after
                         * Kass and Raftery (1995), from memory */
#define AS_GOOD 2.0     /* a difference in it that says nothing (the same) */
#define SINGULAR 1e-8   /* of columns of unit length: least pivot that tells them apart */

/* A set of numbers that may be off, fitted. */
typedef struct
{
  int chosen[MOST];
  int n;
  double x[MOST]; /* search units */
  double squares; /* sum of the weighted misses' */
} Trial;

typedef struct
{
  FwFitModel *model;
  const Trial *trial;
  gboolean failed;
} Job;

/* ---- One fit ---- */

/* Sets the chosen numbers and puts all others back to the drawing. */
static gboolean
set_all (FwFitModel *m, const int *chosen, int n, const double *x)
{
  gboolean good = TRUE;
  for (int i = 0; i < n; i++)
    good = fabs (x[i]) <= FARTHEST && fw_fit_model_set (m, chosen[i], x[i]) && good;
  return good;
}

static void
put_back (FwFitModel *m, const int *chosen, int n)
{
  for (int i = 0; i < n; i++)
    fw_fit_model_set (m, chosen[i], 0);
}

static int
evaluate (void *data, int m, int n, const double *x, double *misses, double *slopes, int stride, int what)
{
  Job *job = data;
  double *scratch = what == 2 ? calloc ((size_t)m, sizeof *scratch) : NULL;
  gboolean inside = set_all (job->model, job->trial->chosen, n, x);

  (void)stride;
  if (inside && what == 1)
    inside = fw_fit_model_solve (job->model, job->trial->chosen, n, misses, NULL);
  if (inside && what == 2)
    inside = scratch && fw_fit_model_solve (job->model, job->trial->chosen, n, scratch, slopes);
  free (scratch);
  if (!inside && what == 1)
    for (int i = 0; i < m; i++)
      misses[i] = 1e6; /* a step that far is taken back */
  if (!inside && what == 2)
    return -1;
  return 0;
}

static double
sum_of_squares (const double *v, int n)
{
  double sum = 0;
  for (int i = 0; i < n; i++)
    sum += v[i] * v[i];
  return sum;
}

/* Levenberg and Marquardt (cminpack) from t->x. Leaves the model as drawn. FALSE: no memory. */
static gboolean
fit_one (FwFitModel *model, Trial *t)
{
  int m = model->n, n = t->n, evaluations, derivatives, pivots[MOST];
  double diagonal[MOST], qtf[MOST], wa1[MOST], wa2[MOST], wa3[MOST];
  double *misses = calloc ((size_t)m * 2, sizeof *misses), *slopes = calloc ((size_t)(m * MAX (n, 1)), sizeof *slopes);
  Job job = { .model = model, .trial = t };
  gboolean good = misses && slopes;

  if (good && n > 0 && m >= n)
    lmder (evaluate, &job, m, n, t->x, misses, slopes, m, 1e-12, 1e-12, 0, 60, diagonal, 1, 1, 0, &evaluations,
           &derivatives, pivots, qtf, wa1, wa2, wa3, misses + m);
  if (good && evaluate (&job, m, n, t->x, misses, NULL, m, 1) == 0)
    t->squares = sum_of_squares (misses, m);
  put_back (model, t->chosen, n);
  free (misses);
  free (slopes);
  return good;
}

/* The information criterion: less is better. */
static double
criterion (const FwFitModel *model, const Trial *t)
{
  int m = model->n;
  return m * log (t->squares / m + FLOOR * FLOOR) + t->n * log (m);
}

static gboolean
has (const Trial *t, int name)
{
  for (int i = 0; i < t->n; i++)
    if (t->chosen[i] == name)
      return TRUE;
  return FALSE;
}

/* ---- Sure by how much ---- */

/* Cholesky of the columns' products, scaled to unit length; FALSE and the pair most alike where they cannot
 * be told apart. inverse: [n][n] of the scaled. */
static gboolean
invert (const double *slopes, int m, int n, double inverse[MOST][MOST], double length[MOST], int alike[2])
{
  double a[MOST][MOST], lower[MOST][MOST] = { { 0 } }, most = -1;

  for (int j = 0; j < n; j++)
    length[j] = sqrt (sum_of_squares (slopes + j * m, m));
  for (int j = 0; j < n; j++)
    for (int k = 0; k < n; k++)
      {
        double sum = 0;
        for (int i = 0; i < m; i++)
          sum += slopes[j * m + i] * slopes[k * m + i];
        a[j][k] = length[j] > 0 && length[k] > 0 ? sum / (length[j] * length[k]) : 0;
        if (j < k && fabs (a[j][k]) > most)
          {
            most = fabs (a[j][k]);
            alike[0] = j;
            alike[1] = k;
          }
      }
  for (int j = 0; j < n; j++)
    for (int k = 0; k <= j; k++)
      {
        double sum = a[j][k];
        for (int i = 0; i < k; i++)
          sum -= lower[j][i] * lower[k][i];
        if (j == k && !(sum > SINGULAR))
          {
            if (!(length[j] > 0))
              alike[0] = alike[1] = j;
            return FALSE;
          }
        lower[j][k] = j == k ? sqrt (sum) : sum / lower[k][k];
      }
  for (int c = 0; c < n; c++)
    {
      double y[MOST];
      for (int j = 0; j < n; j++)
        {
          y[j] = j == c;
          for (int i = 0; i < j; i++)
            y[j] -= lower[j][i] * y[i];
          y[j] /= lower[j][j];
        }
      for (int j = n - 1; j >= 0; j--)
        {
          for (int i = j + 1; i < n; i++)
            y[j] -= lower[i][j] * inverse[i][c];
          inverse[j][c] = y[j] / lower[j][j];
        }
    }
  return TRUE;
}

/* Half of each number's 95 % interval, file units, with the noise taken from the misses themselves. */
static FwFitStatus
be_sure (FwFitModel *model, const Trial *t, double sure[MOST], int alike[2])
{
  int m = model->n, n = t->n;
  double *misses = calloc ((size_t)m, sizeof *misses), *slopes = calloc ((size_t)m * MOST, sizeof *slopes);
  double inverse[MOST][MOST], length[MOST];
  FwFitStatus status = FW_FIT_FAILED;

  if (misses && slopes && set_all (model, t->chosen, n, t->x)
      && fw_fit_model_solve (model, t->chosen, n, misses, slopes))
    status = invert (slopes, m, n, inverse, length, alike) ? FW_FIT_FOUND : FW_FIT_CANNOT_TELL;
  double noise = sqrt (t->squares / MAX (m - n, 1));
  for (int j = 0; j < n && status == FW_FIT_FOUND; j++)
    sure[j] = fw_student_975 (m - n) * noise * sqrt (inverse[j][j]) / length[j] * model->scale[t->chosen[j]];
  put_back (model, t->chosen, n);
  free (misses);
  free (slopes);
  return status;
}

/* ---- Which numbers ---- */

static gboolean
stopped (const FwFitWish *wish)
{
  return wish->stop && wish->stop (wish->data);
}

/* Adds the number that explains most, while one does. */
static FwFitStatus
look_for_numbers (FwFitModel *model, const FwFitWish *wish, Trial *best)
{
  if (!fit_one (model, best))
    return FW_FIT_FAILED;
  while (best->n < MOST && best->n + 2 < model->n)
    {
      Trial better = { .squares = INFINITY };
      for (int name = 0; name < model->n_names; name++)
        {
          Trial t = *best;
          if (stopped (wish))
            return FW_FIT_STOPPED;
          if (has (best, name))
            continue;
          t.chosen[t.n] = name;
          t.x[t.n++] = 0;
          if (!fit_one (model, &t))
            return FW_FIT_FAILED;
          if (t.squares < better.squares)
            better = t;
        }
      double sure[MOST];
      int alike[2];
      if (!(criterion (model, &better) < criterion (model, best) - GAIN)
          || be_sure (model, &better, sure, alike) != FW_FIT_FOUND)
        break;
      *best = better;
    }
  return best->n > 0 ? FW_FIT_FOUND : FW_FIT_AS_DRAWN;
}

/* Numbers that would do as well in the place of number k. */
static FwFitStatus
look_for_others (FwFitModel *model, const FwFitWish *wish, const Trial *best, int k, FwFitNumber *number)
{
  for (int name = 0; name < model->n_names && number->n_others < FW_FIT_OTHERS; name++)
    {
      Trial t = *best;
      if (stopped (wish))
        return FW_FIT_STOPPED;
      if (has (best, name))
        continue;
      t.chosen[k] = name;
      t.x[k] = 0;
      if (!fit_one (model, &t))
        return FW_FIT_FAILED;
      if (!(criterion (model, &t) < criterion (model, best) + AS_GOOD))
        continue;
      number->others[number->n_others] = model->names[name];
      number->others_to[number->n_others++] = model->drawn[name] + t.x[k] * model->scale[name];
    }
  return FW_FIT_FOUND;
}

/* ---- The whole ---- */

static void
mean_misses (FwFitModel *model, const Trial *t, double *angle, double *length)
{
  double *misses = calloc ((size_t)model->n, sizeof *misses), sums[2] = { 0 };
  int counts[2] = { 0 };

  if (misses && set_all (model, t->chosen, t->n, t->x) && fw_fit_model_solve (model, t->chosen, 0, misses, NULL))
    for (int i = 0; i < model->n; i++)
      {
        int kind = fw_measured_is_length (model->list[i].kind);
        double miss = misses[i] / model->weights[i];
        sums[kind] += miss * miss;
        counts[kind]++;
      }
  *angle = counts[0] ? sqrt (sums[0] / counts[0]) : NAN;
  *length = counts[1] ? sqrt (sums[1] / counts[1]) : NAN;
  put_back (model, t->chosen, t->n);
  free (misses);
}

static FwFitStatus
fit_chosen (FwFitModel *model, const FwFitWish *wish, Trial *best)
{
  if (!wish->numbers)
    return model->n < 3 ? FW_FIT_TOO_FEW : look_for_numbers (model, wish, best);
  if (model->n < wish->n_numbers + 1)
    return FW_FIT_TOO_FEW;
  best->n = model->n_names;
  for (int i = 0; i < best->n; i++)
    best->chosen[i] = i;
  return fit_one (model, best) ? FW_FIT_FOUND : FW_FIT_FAILED;
}

static FwFitStatus
describe (FwFitModel *model, const FwFitWish *wish, const Trial *best, FwFit *fit)
{
  double sure[MOST];
  int alike[2] = { 0 };
  FwFitStatus status = be_sure (model, best, sure, alike);

  if (status == FW_FIT_CANNOT_TELL)
    {
      fit->n = 2;
      for (int i = 0; i < 2; i++)
        fit->numbers[i].name = model->names[best->chosen[alike[i]]];
    }
  for (int k = 0; k < best->n && status == FW_FIT_FOUND; k++)
    {
      FwFitNumber *number = &fit->numbers[fit->n++];
      int name = best->chosen[k];
      *number = (FwFitNumber){ .name = model->names[name], .from = model->drawn[name],
                               .to = model->drawn[name] + best->x[k] * model->scale[name], .sure = sure[k] };
      if (!wish->numbers)
        status = look_for_others (model, wish, best, k, number);
    }
  return status;
}

FwFitStatus
fw_fit (const FwDesign *design, const FwMeasurement *list, int n, const FwFitWish *wish, FwFit *fit)
{
  FwFitModel model;
  Trial drawn = { .n = 0 }, best = { .n = 0 };

  memset (fit, 0, sizeof *fit);
  fit->n_measurements = n;
  fit->status = wish->numbers && wish->n_numbers > MOST ? FW_FIT_TOO_FEW : FW_FIT_FAILED;
  if (fit->status == FW_FIT_FAILED && fw_fit_model_open (&model, design, list, n, wish))
    {
      fit->status = fit_chosen (&model, wish, &best);
      if (fit->status == FW_FIT_FOUND)
        fit->status = describe (&model, wish, &best, fit);
      mean_misses (&model, &drawn, &fit->angle_before_deg, &fit->length_before_mm);
      mean_misses (&model, &best, &fit->angle_after_deg, &fit->length_after_mm);
      fw_fit_model_close (&model);
    }
  else if (fit->status == FW_FIT_FAILED)
    fw_fit_model_close (&model);
  return fit->status;
}

double
fw_student_975 (int freedom)
{
  const double x = 1.959963984540054, v = freedom;

  if (freedom <= 1)
    return tan (G_PI * 0.475);
  if (freedom == 2)
    return 0.95 * sqrt (2 / (1 - 0.95 * 0.95));
  double x2 = x * x, x3 = x2 * x, x5 = x3 * x2, x7 = x5 * x2, x9 = x7 * x2;
  return x + (x3 + x) / (4 * v) + (5 * x5 + 16 * x3 + 3 * x) / (96 * v * v)
         + (3 * x7 + 19 * x5 + 17 * x3 - 15 * x) / (384 * v * v * v)
         + (79 * x9 + 776 * x7 + 1482 * x5 - 1920 * x3 - 945 * x) / (92160 * v * v * v * v);
}
