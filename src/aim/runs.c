#include "aim/runs.h"

#include <math.h>
#include <string.h>

#include <nlopt.h>

#define ROUND 16  /* runs between looks at what has been found: fixed, so that threads do not matter */
#define BATCH 40  /* points drawn for one start */
#define CLOSED 4  /* of these, brought onto two positions */
#define GLOBAL_CALLS 400 /* of NLopt's global methods, a run */
#define POLISH_CALLS 300

/* ---- NLopt ---- */

typedef struct
{
  FwJudge *judge;
  const gboolean *active;
  double *x, *rows, *slopes;
  int *n_tried;
  gint *stop;
  nlopt_opt opt;
} Search;

/* In shares of the range. */
static double
objective (unsigned n, const double *share, double *slope, void *data)
{
  Search *s = data;
  const FwProblem *p = s->judge->problem;
  int rows = fw_problem_rows (p);
  if (g_atomic_int_get (s->stop))
    nlopt_force_stop (s->opt);
  for (unsigned i = 0; i < n; i++)
    s->x[i] = p->lower[i] + share[i] * (p->upper[i] - p->lower[i]);
  (*s->n_tried)++;
  if (!fw_judge_rows (s->judge, s->x, s->rows, NULL))
    return 1e12;
  if (slope != NULL)
    {
      fw_judge_slopes (s->judge, s->x, s->slopes);
      for (unsigned k = 0; k < n; k++)
        {
          slope[k] = 0;
          for (int i = 0; i < rows; i++)
            if (i >= p->n_goals || s->active == NULL || s->active[i])
              slope[k] += 2 * s->rows[i] * s->slopes[(int)k * rows + i] * (p->upper[k] - p->lower[k]);
        }
    }
  return fw_cost (p, s->active, s->rows);
}

static double
with_nlopt (FwStartRuns *r, FwJudge *judge, nlopt_algorithm algorithm, guint32 seed, int calls, double *x, int *n_tried)
{
  const FwProblem *p = r->problem;
  int rows = fw_problem_rows (p);
  g_autofree double *room = g_new0 (double, 2 * p->n + rows + rows * p->n);
  Search s = { judge, r->active, room, room + 2 * p->n, room + 2 * p->n + rows, n_tried, &r->stop, NULL };
  double *share = room + p->n, cost = INFINITY;
  for (int i = 0; i < p->n; i++)
    {
      double range = p->upper[i] - p->lower[i];
      share[i] = range > 0 ? CLAMP ((x[i] - p->lower[i]) / range, 0, 1) : 0;
    }
  nlopt_srand (seed);
  nlopt_opt opt = nlopt_create (algorithm, (unsigned)p->n);
  s.opt = opt;
  nlopt_set_lower_bounds1 (opt, 0);
  nlopt_set_upper_bounds1 (opt, 1);
  nlopt_set_min_objective (opt, objective, &s);
  nlopt_set_maxeval (opt, calls);
  nlopt_set_stopval (opt, 1e-9);
  nlopt_set_ftol_rel (opt, 1e-9);
  nlopt_set_xtol_abs1 (opt, 1e-7);
  nlopt_opt local = NULL;
  if (algorithm == NLOPT_G_MLSL_LDS)
    {
      local = nlopt_create (NLOPT_LD_SLSQP, (unsigned)p->n);
      nlopt_set_maxeval (local, 60);
      nlopt_set_ftol_rel (local, 1e-9);
      nlopt_set_local_optimizer (opt, local);
    }
  nlopt_optimize (opt, share, &cost);
  for (int i = 0; i < p->n; i++)
    x[i] = p->lower[i] + share[i] * (p->upper[i] - p->lower[i]);
  nlopt_destroy (opt);
  if (local != NULL)
    nlopt_destroy (local);
  return cost;
}

/* ---- One run ---- */

typedef struct
{
  FwStartRuns *runs;
  GAsyncQueue *judges;
  FwPoint *points;
  GMutex lock;
  GCond done_one;
  int n_done;
} Crew;

static void
draw (const FwProblem *p, GRand *rand, double *x)
{
  for (int i = 0; i < p->n; i++)
    {
      double share = g_rand_double (rand); /* always drawn, so that lists do not shift what follows */
      x[i] = p->among[i] != NULL ? p->among[i][(int)(share * p->n_among[i])]
                                 : p->lower[i] + share * (p->upper[i] - p->lower[i]);
    }
}

static void
best_of_batch (const FwStartRuns *r, FwJudge *judge, GRand *rand, double *x, int *n_tried)
{
  const FwProblem *p = r->problem;
  g_autofree double *trial = g_new (double, p->n);
  g_autofree double *rows = g_new (double, fw_problem_rows (p));
  double best = INFINITY;
  for (int i = 0; i < BATCH; i++)
    {
      draw (p, rand, trial);
      if (i < CLOSED)
        fw_start_on_two_positions (judge, g_rand_int_range (rand, 0, 8), trial);
      (*n_tried)++;
      double cost = fw_judge_rows (judge, trial, rows, NULL) ? fw_cost (p, r->active, rows) : INFINITY;
      if (!(cost < best) && i > 0)
        continue;
      best = cost;
      memcpy (x, trial, sizeof (double) * (size_t)p->n);
    }
}

static void
find_start (FwStartRuns *r, FwJudge *judge, int index, GRand *rand, double *x, int *n_tried)
{
  const FwProblem *p = r->problem;
  const double *given = index == 1 ? r->first : NULL;
  memcpy (x, given != NULL ? given : p->start, sizeof (double) * (size_t)p->n);
  if (index == 0 || given != NULL)
    return;
  if (index <= 3) /* the present design, brought onto two positions in up to three ways */
    {
      if (fw_start_on_two_positions (judge, index - 1, x))
        return;
    }
  if (r->starts == FW_STARTS_BATCH)
    {
      best_of_batch (r, judge, rand, x, n_tried);
      return;
    }
  draw (p, rand, x);
  with_nlopt (r, judge,
              r->starts == FW_STARTS_CRS      ? NLOPT_GN_CRS2_LM
              : r->starts == FW_STARTS_DIRECT ? NLOPT_GN_ORIG_DIRECT_L
                                              : NLOPT_G_MLSL_LDS,
              g_rand_int (rand), GLOBAL_CALLS, x, n_tried);
}

/* Trouble comes and goes in corners, at which slopes mislead: a method without slopes goes on from there. */
static void
polish (FwStartRuns *r, FwJudge *judge, FwPoint *point, int *n_tried)
{
  const FwProblem *p = r->problem;
  gboolean lists = FALSE, cornered = FALSE;
  for (int i = 0; i < p->n; i++)
    lists = lists || p->among[i] != NULL;
  for (int i = 0; i < p->n_goals; i++)
    cornered = cornered || ((r->active == NULL || r->active[i])
                            && (p->goals[i].wish->kind == FW_WISH_WITHOUT || p->goals[i].wish->kind == FW_WISH_PUSH
                                || p->goals[i].wish->kind == FW_WISH_TORQUE));
  if (!cornered || lists || point->cost < 1e-6 || !isfinite (point->cost) || g_atomic_int_get (&r->stop))
    return;
  g_autofree double *x = g_memdup2 (point->x, sizeof (double) * (gsize)p->n);
  double cost = with_nlopt (r, judge, NLOPT_LN_SBPLX, 1, POLISH_CALLS, x, n_tried);
  if (!(cost < point->cost))
    return;
  point->cost = cost;
  memcpy (point->x, x, sizeof (double) * (size_t)p->n);
}

static void
run_one (gpointer task, gpointer data)
{
  Crew *crew = data;
  FwStartRuns *r = crew->runs;
  int index = GPOINTER_TO_INT (task) - 1, n_tried = 0;
  FwPoint *point = &crew->points[index];
  if (!g_atomic_int_get (&r->stop))
    {
      FwJudge *judge = g_async_queue_pop (crew->judges);
      GRand *rand = g_rand_new_with_seed_array ((guint32[]) { r->seed, (guint32)index }, 2);
      double *x = g_new (double, r->problem->n);
      find_start (r, judge, index, rand, x, &n_tried);
      FwPoint found = { x, fw_descend (judge, r->active, x, &n_tried) };
      polish (r, judge, &found, &n_tried);
      g_rand_free (rand);
      g_async_queue_push (crew->judges, judge);
      g_atomic_int_add (&r->n_tried, n_tried);
      g_mutex_lock (&crew->lock);
      *point = found;
      g_mutex_unlock (&crew->lock);
    }
  g_mutex_lock (&crew->lock);
  crew->n_done++;
  g_cond_signal (&crew->done_one);
  g_mutex_unlock (&crew->lock);
}

/* ---- Rounds ---- */

/* The best so far is copied out of the lock's reach before anyone is told. */
static void
tell (Crew *crew, int n)
{
  FwStartRuns *r = crew->runs;
  FwPoint best = { NULL, INFINITY };
  for (int i = 0; i < n; i++)
    if (crew->points[i].x != NULL && crew->points[i].cost < best.cost)
      best = crew->points[i];
  int done = crew->n_done;
  g_mutex_unlock (&crew->lock);
  gboolean onward = r->watch == NULL || r->watch (best.x != NULL ? &best : NULL, done, r->data);
  if (!onward || (r->deadline > 0 && g_get_monotonic_time () > r->deadline))
    g_atomic_int_set (&r->stop, 1);
  g_mutex_lock (&crew->lock);
}

static void
wait_for (Crew *crew, int n)
{
  g_mutex_lock (&crew->lock);
  while (crew->n_done < n)
    {
      g_cond_wait_until (&crew->done_one, &crew->lock, g_get_monotonic_time () + 40 * G_TIME_SPAN_MILLISECOND);
      tell (crew, n);
    }
  g_mutex_unlock (&crew->lock);
}

int
fw_runs (FwStartRuns *r, FwPoint *points, int n)
{
  int threads = r->threads > 0 ? r->threads : (int)g_get_num_processors (), started = 0;
  Crew crew = { .runs = r, .judges = g_async_queue_new_full ((GDestroyNotify)fw_judge_free), .points = points };
  for (int i = 0; i < n; i++)
    points[i] = (FwPoint) { NULL, INFINITY };
  g_mutex_init (&crew.lock);
  g_cond_init (&crew.done_one);
  for (int i = 0; i < threads; i++)
    g_async_queue_push (crew.judges, fw_judge_new (r->problem));
  GThreadPool *pool = g_thread_pool_new (run_one, &crew, threads, FALSE, NULL);
  while (started < n && !g_atomic_int_get (&r->stop))
    {
      int until = MIN (started + ROUND, n);
      for (; started < until; started++)
        g_thread_pool_push (pool, GINT_TO_POINTER (started + 1), NULL);
      wait_for (&crew, started);
      if (r->enough != NULL && r->enough (points, started, r->data))
        break;
    }
  g_thread_pool_free (pool, FALSE, TRUE);
  g_async_queue_unref (crew.judges);
  g_cond_clear (&crew.done_one);
  g_mutex_clear (&crew.lock);
  return started;
}
