#include "aim/aim.h"

#include <math.h>
#include <string.h>

#include "aim/conflict.h"
#include "aim/runs.h"
#include "core/turn.h"

#define RUNS 128
#define ANSWERS 3
#define UNLIKE 0.1   /* of a number's range: nearer answers count as one */
#define SURE_STEPS 360
#define DEGREES (180 / G_PI)

/* ---- One answer ---- */

static void
clear_answer (FwAnswer *answer)
{
  fw_design_free (answer->design);
  g_free (answer->values);
  g_free (answer->got);
}

void
fw_aimed_free (FwAimed *aimed)
{
  if (aimed == NULL)
    return;
  for (int i = 0; i < aimed->n_answers; i++)
    clear_answer (&aimed->answers[i]);
  g_free (aimed->answers);
  g_free (aimed->conflict);
  g_free (aimed->limited);
  g_free (aimed);
}

/* Over the whole turn, finely: that it goes round, its weakest push, its trouble. */
static void
look_closely (FwAnswer *answer)
{
  FwMechanism *mech = NULL;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  answer->least_push_deg = NAN;
  if (fw_mechanism_build (answer->design, &mech, NULL) != FW_OK)
    return;
  FwTurn *turn = fw_turn_new (mech, SURE_STEPS);
  if (turn == NULL)
    g_error ("out of memory for a turn");
  fw_turn_solve (turn, mech);
  FwInterval gap;
  answer->goes_round = fw_turn_closes (turn, mech);
  for (int i = -1; i < mech->n_members && answer->goes_round; i++)
    answer->goes_round = fw_turn_gaps (turn, mech, i, &gap, 1) == 0;
  for (int i = 0; i < mech->n_links; i++)
    {
      FwExtreme least, most;
      if (fw_turn_extremes (turn, mech, (FwQuantity) { FW_Q_PUSH, i }, &least, &most)
          && !(least.value * DEGREES > answer->least_push_deg))
        answer->least_push_deg = least.value * DEGREES;
    }
  fw_trouble_find (turn, mech, &list);
  for (int i = 0; i < list.n; i++)
    answer->n_troubles += room[i].severity >= FW_WARNING;
  free (turn);
  fw_mechanism_free (mech);
}

static FwAnswer
make_answer (FwJudge *judge, const double *x)
{
  const FwProblem *p = judge->problem;
  g_autofree double *rows = g_new (double, fw_problem_rows (p));
  g_autofree double *got = g_new (double, p->n_goals);
  FwAnswer a = { .design = fw_problem_design (p, x), .values = g_memdup2 (x, sizeof (double) * (gsize)p->n),
                 .got = g_new0 (FwGot, p->n_goals), .cost = INFINITY };
  if (a.design == NULL)
    g_error ("out of memory for an answer");
  if (!fw_judge_rows (judge, x, rows, got))
    return a;
  a.cost = fw_cost (p, NULL, rows);
  look_closely (&a);
  a.all_met = a.goes_round;
  for (int i = 0; i < p->n_goals; i++)
    {
      const FwWish *wish = p->goals[i].wish;
      double miss = fw_wish_miss (wish, got[i]);
      gboolean met = fabs (miss) <= fw_wish_allowance (wish);
      a.got[i] = (FwGot) { got[i], miss, met };
      a.all_met = a.all_met && met;
    }
  for (int i = 0; i < p->n; i++)
    {
      double range = p->upper[i] - p->lower[i];
      // NOLINTNEXTLINE(clang-analyzer-core.UndefinedBinaryOperatorResult): x has n numbers, as the problem has
      a.change = fmax (a.change, range > 0 ? fabs (x[i] - p->start[i]) / range : 0);
    }
  return a;
}

/* ---- Which are kept ---- */

static gboolean
alike (const FwProblem *p, const double *a, const double *b)
{
  for (int i = 0; i < p->n; i++)
    {
      double range = p->upper[i] - p->lower[i], apart = fabs (a[i] - b[i]);
      if (p->among[i] != NULL ? apart > 0 : apart > UNLIKE * range)
        return FALSE;
    }
  return TRUE;
}

/* All wishes met comes first, then going round, then less trouble and less change; the cost decides
 * among those that miss something. */
static int
by_worth (const void *one, const void *other)
{
  const FwAnswer *a = one, *b = other;
  if (a->all_met != b->all_met)
    return a->all_met ? -1 : 1;
  if (a->goes_round != b->goes_round)
    return a->goes_round ? -1 : 1;
  if (!a->all_met && a->cost != b->cost)
    return a->cost < b->cost ? -1 : 1;
  if (a->n_troubles != b->n_troubles)
    return a->n_troubles < b->n_troubles ? -1 : 1;
  return a->change != b->change ? (a->change < b->change ? -1 : 1) : 0;
}

static int
by_cost (const void *one, const void *other)
{
  const FwPoint *a = one, *b = other;
  return (a->cost > b->cost) - (a->cost < b->cost);
}

/* Within a thousandth of what counts as met, the order of runs must not be decided by rounding. */
static double
rank_cost (double cost)
{
  return cost < 1e-6 ? 0 : cost;
}

/* The unlike ones among the points, cheapest first, at most `most`; then in order of worth. */
static void
keep_answers (FwAimed *aimed, const FwProblem *p, const FwPoint *points, int n, int wanted)
{
  int most = 4 * wanted, kept = 0;
  g_autofree FwPoint *order = g_new (FwPoint, n);
  int count = 0;
  for (int i = 0; i < n; i++)
    if (points[i].x != NULL && isfinite (points[i].cost))
      order[count++] = (FwPoint) { points[i].x, rank_cost (points[i].cost) };
  /* A stable order: by cost, then by run. */
  for (int i = 1; i < count; i++)
    for (int k = i; k > 0 && by_cost (&order[k - 1], &order[k]) > 0; k--)
      {
        FwPoint swap = order[k];
        order[k] = order[k - 1];
        order[k - 1] = swap;
      }
  FwJudge *judge = fw_judge_new (p);
  aimed->answers = g_new0 (FwAnswer, most + 1);
  for (int i = 0; i < count && kept < most; i++)
    {
      gboolean known = FALSE;
      for (int k = 0; k < kept && !known; k++)
        known = alike (p, order[i].x, aimed->answers[k].values);
      if (!known)
        aimed->answers[kept++] = make_answer (judge, order[i].x);
    }
  qsort (aimed->answers, (size_t)kept, sizeof (FwAnswer), by_worth);
  int good = 0; /* beside one that meets every wish, or at least goes round, no worse one is shown */
  while (good < MIN (kept, wanted) && aimed->answers[good].all_met == aimed->answers[0].all_met
         && aimed->answers[good].goes_round == aimed->answers[0].goes_round)
    good++;
  for (int i = good; i < kept; i++)
    clear_answer (&aimed->answers[i]);
  aimed->n_answers = good;
  fw_judge_free (judge);
}

/* ---- The search ---- */

typedef struct
{
  const FwProblem *problem;
  FwStartRuns runs;
  FwAimWatch watch;
  gpointer data;
  int n_runs, wanted;
} Aiming;

static gboolean
on_watch (const FwPoint *best, int done, gpointer data)
{
  Aiming *a = data;
  if (a->watch == NULL)
    return TRUE;
  FwDesign *design = best != NULL ? fw_problem_design (a->problem, best->x) : NULL;
  double share = 0.8 * done / a->n_runs; /* the rest for what is said about misses */
  gboolean onward = a->watch (share, best != NULL ? best->cost : INFINITY, design, a->data);
  fw_design_free (design);
  return onward;
}

/* Enough unlike answers that cost nothing, or a second half that has brought nothing new. */
static gboolean
on_round (const FwPoint *points, int n, gpointer data)
{
  const Aiming *a = data;
  g_autofree int *found = g_new (int, n);
  int count = 0;
  for (int i = 0; i < n; i++)
    {
      gboolean fresh = points[i].x != NULL && points[i].cost < 1e-6;
      for (int k = 0; k < count && fresh; k++)
        fresh = !alike (a->problem, points[i].x, points[found[k]].x);
      if (fresh)
        found[count++] = i;
    }
  return count >= 2 * a->wanted || (count > 0 && n >= 32 && found[count - 1] < n / 2);
}

static void
free_points (FwPoint *points, int n)
{
  for (int i = 0; i < n; i++)
    g_free (points[i].x);
  g_free (points);
}

/* Numbers that stand at a limit in the best answer, where going on would lessen the cost. */
static void
find_limited (FwAimed *aimed, const FwProblem *p)
{
  const FwAnswer *best = &aimed->answers[0];
  int rows = fw_problem_rows (p);
  g_autofree double *r = g_new (double, rows);
  g_autofree double *slopes = g_new (double, rows * p->n);
  FwJudge *judge = fw_judge_new (p);
  aimed->limited = g_new0 (int, p->n + 1);
  if (fw_judge_rows (judge, best->values, r, NULL))
    {
      fw_judge_slopes (judge, best->values, slopes);
      for (int k = 0; k < p->n; k++)
        {
          double range = p->upper[k] - p->lower[k], slope = 0;
          for (int i = 0; i < rows; i++)
            slope += r[i] * slopes[k * rows + i];
          gboolean low = best->values[k] < p->lower[k] + 0.005 * range, high = best->values[k] > p->upper[k] - 0.005 * range;
          if (range > 0 && ((low && slope > 1e-6) || (high && slope < -1e-6)))
            aimed->limited[aimed->n_limited++] = k;
        }
    }
  fw_judge_free (judge);
}

static FwAimed *
aim (Aiming *a)
{
  const FwProblem *p = a->problem;
  FwAimed *aimed = g_new0 (FwAimed, 1);
  FwPoint *points = g_new0 (FwPoint, a->n_runs);
  aimed->n_wishes = p->n_goals;
  aimed->n_free = p->n;
  int n = fw_runs (&a->runs, points, a->n_runs);
  aimed->stopped = g_atomic_int_get (&a->runs.stop) != 0;
  keep_answers (aimed, p, points, n, a->wanted);
  free_points (points, a->n_runs);
  if (aimed->n_answers > 0 && !aimed->answers[0].all_met)
    {
      find_limited (aimed, p);
      if (!aimed->stopped)
        fw_find_conflict (aimed, &a->runs, a->n_runs);
    }
  aimed->n_tried = g_atomic_int_get (&a->runs.n_tried);
  if (a->watch != NULL && aimed->n_answers > 0)
    a->watch (1, aimed->answers[0].cost, aimed->answers[0].design, a->data);
  return aimed;
}

FwAimed *
fw_aim (const FwDesign *design, const FwWishes *wishes, const FwAimOptions *options, FwAimWatch watch, gpointer data,
        GError **error)
{
  if (!fw_wishes_check (wishes, design, error))
    return NULL;
  FwProblem *p = fw_problem_new (design, wishes);
  Aiming a = { .problem = p, .watch = watch, .data = data,
               .n_runs = options->runs > 0 ? options->runs : RUNS,
               .wanted = options->answers > 0 ? options->answers : ANSWERS };
  a.runs = (FwStartRuns) { .problem = p, .seed = options->seed, .threads = options->threads,
                           .watch = on_watch, .enough = on_round, .data = &a };
  if (options->seconds > 0)
    a.runs.deadline = g_get_monotonic_time () + (gint64)(options->seconds * G_TIME_SPAN_SECOND);
  FwAimed *aimed = aim (&a);
  fw_problem_free (p);
  return aimed;
}

FwAimed *
fw_aim_look (const FwDesign *design, const FwWishes *wishes, GError **error)
{
  if (!fw_wishes_check (wishes, design, error))
    return NULL;
  FwProblem *p = fw_problem_new (design, wishes);
  FwJudge *judge = fw_judge_new (p);
  g_autofree double *now = g_new (double, p->n);
  for (int i = 0; i < p->n; i++)
    now[i] = fw_param_get (design, p->params[i]);
  FwAimed *aimed = g_new0 (FwAimed, 1);
  *aimed = (FwAimed) { .answers = g_new0 (FwAnswer, 1), .n_answers = 1, .n_wishes = p->n_goals, .n_free = p->n, .n_tried = 1 };
  aimed->answers[0] = make_answer (judge, now);
  fw_judge_free (judge);
  fw_problem_free (p);
  return aimed;
}

FwChange *
fw_answer_changes (const FwAimed *aimed, int answer, const FwDesign *design, const FwWishes *wishes, int *n_changes)
{
  FwChange *changes = g_new0 (FwChange, aimed->n_free + 1);
  *n_changes = 0;
  for (int i = 0; i < aimed->n_free; i++)
    if (fw_param_from_path (design, wishes->free[i].number, &changes[*n_changes].param))
      changes[(*n_changes)++].value = aimed->answers[answer].values[i];
  return changes;
}
