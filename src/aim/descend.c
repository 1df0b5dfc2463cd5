/* From a start down to the nearest least sum of squares. */
#include <math.h>
#include <string.h>

#include <cminpack.h>

#include "aim/runs.h"

#define PULL 1e-4 /* toward the start, over the range: decides where the wishes leave a choice */
#define MOST_CALLS 60

typedef struct
{
  FwJudge *judge;
  const gboolean *active;
  const double *x0; /* start */
  double *x;        /* all numbers */
  double *rows, *slopes, *judged; /* judged: where the judge stands */
  gboolean stands;
  int *loose;       /* numbers that may move */
  int n_loose;
  int *n_tried;
} Descent;

double
fw_cost (const FwProblem *p, const gboolean *active, const double *rows)
{
  double sum = 0;
  for (int i = 0; i < fw_problem_rows (p); i++)
    if (i >= p->n_goals || active == NULL || active[i])
      sum += rows[i] * rows[i];
  return sum;
}

/* Limits are kept by a change of variable: x = middle + half sin y. */
static double
to_y (const FwProblem *p, int i, double x)
{
  double half = (p->upper[i] - p->lower[i]) / 2;
  double s = half > 0 ? (x - p->lower[i]) / half - 1 : 0;
  return asin (CLAMP (s, -0.999, 0.999)); /* on the limit itself the slope would be 0 */
}

static double
to_x (const FwProblem *p, int i, double y)
{
  double half = (p->upper[i] - p->lower[i]) / 2;
  return CLAMP (p->lower[i] + half * (1 + sin (y)), p->lower[i], p->upper[i]);
}

static void
judge_at (Descent *d, const double *y)
{
  const FwProblem *p = d->judge->problem;
  for (int k = 0; k < d->n_loose; k++)
    d->x[d->loose[k]] = to_x (p, d->loose[k], y[k]);
  if (d->stands && memcmp (d->judged, d->x, sizeof (double) * (size_t)p->n) == 0)
    return;
  if (!fw_judge_rows (d->judge, d->x, d->rows, NULL))
    for (int i = 0; i < fw_problem_rows (p); i++)
      d->rows[i] = 1e6;
  memcpy (d->judged, d->x, sizeof (double) * (size_t)p->n);
  d->stands = TRUE;
  (*d->n_tried)++;
}

static int
residuals (void *data, int m, int n, const double *y, double *f, double *jac, int ld, int flag)
{
  Descent *d = data;
  const FwProblem *p = d->judge->problem;
  int rows = fw_problem_rows (p);
  judge_at (d, y);
  if (flag == 1)
    {
      for (int i = 0; i < rows; i++)
        f[i] = i >= p->n_goals || d->active == NULL || d->active[i] ? d->rows[i] : 0;
      for (int k = 0; k < n; k++)
        {
          int i = d->loose[k];
          f[rows + k] = PULL * (d->x[i] - d->x0[i]) / (p->upper[i] - p->lower[i]);
        }
      return 0;
    }
  fw_judge_slopes (d->judge, d->x, d->slopes);
  for (int k = 0; k < n; k++)
    {
      int number = d->loose[k];
      double half = (p->upper[number] - p->lower[number]) / 2, by = half * cos (y[k]);
      for (int i = 0; i < m; i++)
        jac[k * ld + i] = 0;
      for (int i = 0; i < rows; i++)
        if (i >= p->n_goals || d->active == NULL || d->active[i])
          jac[k * ld + i] = d->slopes[number * rows + i] * by;
      jac[k * ld + rows + k] = PULL * by / (2 * half);
    }
  return 0;
}

/* One descent with some numbers held. */
static double
descend_loose (Descent *d)
{
  const FwProblem *p = d->judge->problem;
  int n = d->n_loose, m = fw_problem_rows (p) + n;
  g_autofree double *room = g_new0 (double, n * (m + 7) + 2 * m);
  g_autofree int *pivots = g_new0 (int, n + 1);
  double *y = room, *f = y + n, *jac = f + m, *diag = jac + n * m, *qtf = diag + n, *w1 = qtf + n, *w2 = w1 + n,
         *w3 = w2 + n, *w4 = w3 + n;
  int calls, slopes;
  for (int k = 0; k < n; k++)
    y[k] = to_y (p, d->loose[k], d->x[d->loose[k]]);
  if (n > 0)
    lmder (residuals, d, m, n, y, f, jac, m, 1e-10, 1e-10, 0, MOST_CALLS, diag, 1, 10, 0, &calls, &slopes, pivots, qtf, w1, w2,
           w3, w4);
  judge_at (d, y);
  return fw_cost (p, d->active, d->rows);
}

static double
nearest_in_list (const FwProblem *p, int i, double x)
{
  double best = p->among[i][0];
  for (int k = 1; k < p->n_among[i]; k++)
    if (fabs (p->among[i][k] - x) < fabs (best - x))
      best = p->among[i][k];
  return best;
}

/* The number with a list, among those still loose, that is nearest to one of its values; -1: none. */
static int
next_to_hold (const Descent *d)
{
  const FwProblem *p = d->judge->problem;
  int best = -1;
  double nearest = INFINITY;
  for (int k = 0; k < d->n_loose; k++)
    {
      int i = d->loose[k];
      if (p->among[i] == NULL)
        continue;
      double away = fabs (nearest_in_list (p, i, d->x[i]) - d->x[i]) / fmax (p->upper[i] - p->lower[i], 1e-9);
      if (away < nearest)
        {
          nearest = away;
          best = k;
        }
    }
  return best;
}

double
fw_descend (FwJudge *judge, const gboolean *active, double *x, int *n_tried)
{
  const FwProblem *p = judge->problem;
  int rows = fw_problem_rows (p);
  g_autofree double *room = g_new0 (double, 2 * p->n + rows + rows * p->n);
  g_autofree int *loose = g_new (int, p->n);
  Descent d = { .judge = judge, .active = active, .x0 = room, .judged = room + p->n, .rows = room + 2 * p->n,
                .slopes = room + 2 * p->n + rows, .x = x, .loose = loose, .n_tried = n_tried };
  memcpy (room, x, sizeof (double) * (size_t)p->n);
  for (int i = 0; i < p->n; i++)
    if (p->upper[i] > p->lower[i])
      loose[d.n_loose++] = i;
    else
      x[i] = p->lower[i];
  double cost = descend_loose (&d);
  /* Numbers with a list are put on it one by one, the surest first, and the others follow. */
  for (int k = next_to_hold (&d); k >= 0; k = next_to_hold (&d))
    {
      x[loose[k]] = nearest_in_list (p, loose[k], x[loose[k]]);
      loose[k] = loose[--d.n_loose];
      cost = descend_loose (&d);
    }
  return cost;
}
