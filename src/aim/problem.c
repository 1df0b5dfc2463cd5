#include "aim/problem.h"

#include <math.h>
#include <string.h>

#define DEGREES (180 / G_PI)
#define MISSING_PER_MM 3.0 /* a rod too short counts more than an angle missed */
#define MISSING_AT_ALL 0.3
#define DIFFERENCE 1e-4    /* file units: for torque and the shift of an extreme */
#define TROUBLE_DIFFERENCE 0.02

/* ---- Holding wishes against a design ---- */

static int
free_index (const FwProblem *p, FwParam param)
{
  for (int i = 0; i < p->n; i++)
    if (fw_param_equal (p->params[i], param))
      return i;
  return -1;
}

static double
rows_per_unit (const FwWish *wish)
{
  double scale = wish->kind == FW_WISH_AFTER ? 0.3 : 1;
  if (wish->kind == FW_WISH_TORQUE)
    {
      double limit = isfinite (wish->most) ? wish->most : wish->least;
      scale = 50 / fmax (fabs (limit), 1e-3); /* two percent count as a degree */
    }
  if (wish->kind == FW_WISH_SAME || wish->kind == FW_WISH_NUMBER)
    scale = 3;
  return scale * sqrt (wish->weight);
}

static void
set_goal (FwProblem *p, FwGoal *goal, const FwWish *wish, const FwMechanism *mech)
{
  *goal = (FwGoal) { .wish = wish, .link = -1, .per_unit = rows_per_unit (wish) };
  if (wish->part != NULL && wish->kind == FW_WISH_PUSH)
    goal->link = fw_wish_link (mech, wish->part);
  else if (wish->part != NULL)
    goal->member = fw_wish_member (mech, wish->part);
  if (wish->other != NULL)
    goal->other = fw_wish_member (mech, wish->other);
  goal->n_params = wish->numbers != NULL ? (int)g_strv_length (wish->numbers) : 0;
  goal->params = g_new0 (FwParam, goal->n_params + 1);
  goal->free = g_new0 (int, goal->n_params + 1);
  for (int i = 0; i < goal->n_params; i++)
    {
      fw_param_from_path (p->design, wish->numbers[i], &goal->params[i]);
      goal->free[i] = free_index (p, goal->params[i]);
    }
  p->torque = p->torque || wish->kind == FW_WISH_TORQUE;
  if (wish->kind == FW_WISH_WITHOUT)
    {
      p->trouble = TRUE;
      p->load_trouble = p->load_trouble || wish->kinds >> FW_LOAD_REVERSAL != 0;
    }
}

static int
by_size (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* A list narrows the limits to its own ends. */
static void
use_list (FwProblem *p, int i, const double *values, int n)
{
  double *kept = g_new (double, n);
  int count = 0;
  for (int k = 0; k < n; k++)
    if (values[k] >= p->lower[i] && values[k] <= p->upper[i])
      kept[count++] = values[k];
  if (count == 0)
    {
      g_free (kept);
      return;
    }
  qsort (kept, (size_t)count, sizeof *kept, by_size);
  g_free (p->among[i]);
  p->among[i] = kept;
  p->n_among[i] = count;
  p->lower[i] = kept[0];
  p->upper[i] = kept[count - 1];
}

static void
set_free (FwProblem *p, int i, const FwFree *item)
{
  fw_param_from_path (p->design, item->number, &p->params[i]);
  double value = fw_param_get (p->design, p->params[i]), least, most;
  fw_param_range (p->design, p->params[i], &p->lower[i], &p->upper[i]);
  fw_param_limits (p->design, p->params[i], &least, &most);
  if (!isnan (item->least))
    p->lower[i] = item->least;
  if (!isnan (item->most))
    p->upper[i] = item->most;
  if (p->lower[i] > p->upper[i]) /* one limit was given, on the far side of what a slider spans */
    *(isnan (item->least) ? &p->lower[i] : &p->upper[i]) = isnan (item->least) ? p->upper[i] - fmax (20, fabs (p->upper[i]))
                                                                             : p->lower[i] + fmax (20, fabs (p->lower[i]));
  p->lower[i] = fmax (p->lower[i], least);
  p->upper[i] = fmin (p->upper[i], most);
  if (item->n_among > 0)
    {
      p->lower[i] = least;
      p->upper[i] = most;
      use_list (p, i, item->among, item->n_among);
    }
  p->start[i] = CLAMP (value, p->lower[i], p->upper[i]);
}

FwProblem *
fw_problem_new (const FwDesign *design, const FwWishes *wishes)
{
  FwMechanism *mech = NULL;
  if (fw_mechanism_build (design, &mech, NULL) != FW_OK)
    return NULL;
  FwProblem *p = g_new0 (FwProblem, 1);
  p->design = fw_design_copy (design);
  p->wishes = fw_wishes_copy (wishes);
  p->n = wishes->n_free;
  p->n_members = mech->n_members;
  p->params = g_new0 (FwParam, p->n);
  p->lower = g_new0 (double, p->n);
  p->upper = g_new0 (double, p->n);
  p->start = g_new0 (double, p->n);
  p->among = g_new0 (double *, p->n);
  p->n_among = g_new0 (int, p->n);
  for (int i = 0; i < p->n; i++)
    set_free (p, i, &wishes->free[i]);
  p->n_goals = wishes->n_list;
  p->goals = g_new0 (FwGoal, p->n_goals);
  for (int i = 0; i < p->n_goals; i++)
    {
      FwGoal *goal = &p->goals[i];
      set_goal (p, goal, &p->wishes->list[i], mech);
      if (goal->wish->kind == FW_WISH_NUMBER && goal->wish->n_among > 0 && goal->free[0] >= 0)
        use_list (p, goal->free[0], goal->wish->among, goal->wish->n_among);
    }
  fw_mechanism_free (mech);
  return p;
}

void
fw_problem_free (FwProblem *p)
{
  if (p == NULL)
    return;
  for (int i = 0; i < p->n_goals; i++)
    {
      g_free (p->goals[i].params);
      g_free (p->goals[i].free);
    }
  for (int i = 0; i < p->n; i++)
    g_free (p->among[i]);
  fw_design_free (p->design);
  fw_wishes_free (p->wishes);
  g_free (p->goals);
  g_free (p->params);
  g_free (p->lower);
  g_free (p->upper);
  g_free (p->start);
  g_free (p->among);
  g_free (p->n_among);
  g_free (p);
}

FwDesign *
fw_problem_design (const FwProblem *p, const double *x)
{
  FwDesign *design = fw_design_copy (p->design);
  for (int i = 0; design != NULL && i < p->n; i++)
    fw_param_set (design, p->params[i], x[i]);
  return design;
}

/* ---- Judging ---- */

double
fw_wish_miss (const FwWish *wish, double got)
{
  if (wish->n_among > 0)
    {
      double miss = INFINITY;
      for (int i = 0; i < wish->n_among; i++)
        if (fabs (got - wish->among[i]) < fabs (miss))
          miss = got - wish->among[i];
      return miss;
    }
  if (wish->kind == FW_WISH_AFTER && wish->least == wish->most)
    return remainder (got - wish->least, 360);
  return got < wish->least ? got - wish->least : got > wish->most ? got - wish->most : 0;
}

double
fw_wish_allowance (const FwWish *wish)
{
  switch (wish->kind)
    {
    case FW_WISH_TORQUE:
      return 0.005 * fmax (fabs (isfinite (wish->most) ? wish->most : wish->least), 1e-3);
    case FW_WISH_WITHOUT:
      return 0;
    case FW_WISH_SAME:
    case FW_WISH_NUMBER:
      return 1e-3;
    default:
      return 0.05;
    }
}

FwJudge *
fw_judge_new (const FwProblem *p)
{
  FwJudge *j = g_new0 (FwJudge, 1);
  j->problem = p;
  j->design = fw_design_copy (p->design);
  if (j->design == NULL || fw_mechanism_build (j->design, &j->mech, NULL) != FW_OK)
    g_error ("the design could not be copied"); /* as GLib does where memory runs out */
  size_t members = (size_t)p->n_members, links = (size_t)j->mech->n_links;
  j->pose = fw_pose_new (j->mech);
  j->by = fw_sensitivity_new (j->mech, p->params, p->n);
  j->loads = p->torque ? fw_loads_new (j->mech) : NULL;
  j->turn = p->trouble ? fw_turn_new (j->mech, 72) : NULL;
  j->forces = p->load_trouble ? fw_load_turn_new (j->mech, 72) : NULL;
  if (j->pose == NULL || j->by == NULL || (p->torque && j->loads == NULL) || (p->trouble && j->turn == NULL)
      || (p->load_trouble && j->forces == NULL))
    g_error ("out of memory for a search");
  j->angles = g_new0 (double, members * FW_AIM_STEPS + 1);
  j->others = g_new0 (double, (2 + links) * FW_AIM_STEPS);
  j->readings = g_new0 (FwReading, p->n_goals + 1);
  j->missing = g_new0 (double, members + 1);
  j->missing_at = g_new0 (double, members + 1);
  j->got = g_new0 (double, p->n_goals + 1);
  j->spare = g_new0 (double, fw_problem_rows (p));
  j->slope = g_new0 (double, p->n + 1);
  for (int i = 0; i < FW_AIM_STEPS; i++)
    {
      j->cosine[i] = cos (2 * G_PI * i / FW_AIM_STEPS);
      j->sine[i] = sin (2 * G_PI * i / FW_AIM_STEPS);
    }
  return j;
}

void
fw_judge_free (FwJudge *j)
{
  if (j == NULL)
    return;
  fw_mechanism_free (j->mech);
  fw_design_free (j->design);
  free (j->pose);
  free (j->turn);
  free (j->forces);
  free (j->loads);
  free (j->by);
  g_free (j->angles);
  g_free (j->others);
  g_free (j->readings);
  g_free (j->missing);
  g_free (j->missing_at);
  g_free (j->got);
  g_free (j->spare);
  g_free (j->slope);
  g_free (j);
}

static gboolean
build_at (FwJudge *j, const double *x)
{
  for (int i = 0; i < j->problem->n; i++)
    fw_param_set (j->design, j->problem->params[i], x[i]);
  FwMechanism *mech = NULL;
  if (fw_mechanism_build (j->design, &mech, NULL) != FW_OK)
    return FALSE;
  fw_mechanism_free (j->mech);
  j->mech = mech;
  if (j->loads != NULL) /* weights are read when placed, and may be among the free numbers */
    j->loads = fw_loads_place (j->loads, mech);
  if (j->forces != NULL)
    j->forces = fw_load_turn_place (j->forces, mech, 72);
  return TRUE;
}

/* From the greatest number to the least, of SAME. */
static void
ends_of (const FwJudge *j, const FwGoal *goal, int *high, int *low)
{
  *high = *low = 0;
  for (int i = 1; i < goal->n_params; i++)
    {
      double value = fw_param_get (j->design, goal->params[i]);
      if (value > fw_param_get (j->design, goal->params[*high]))
        *high = i;
      if (value < fw_param_get (j->design, goal->params[*low]))
        *low = i;
    }
}

/* What a goal got; `miss` where it is not the wish's own (trouble is judged by its excess). */
static double
got_of (FwJudge *j, int goal_index, double *miss)
{
  const FwGoal *goal = &j->problem->goals[goal_index];
  const FwReading *reading = &j->readings[goal_index];
  int spots, high, low;
  double got = 0;
  switch (goal->wish->kind)
    {
    case FW_WISH_TORQUE:
      got = fw_judge_torque (j);
      break;
    case FW_WISH_WITHOUT:
      *miss = fw_judge_trouble (j, goal->wish->kinds, &spots);
      return spots;
    case FW_WISH_NUMBER:
      got = fw_param_get (j->design, goal->params[0]);
      break;
    case FW_WISH_SAME:
      ends_of (j, goal, &high, &low);
      got = fw_param_get (j->design, goal->params[high]) - fw_param_get (j->design, goal->params[low]);
      break;
    case FW_WISH_AFTER:
      got = remainder ((reading->terms[0].crank - reading->terms[1].crank) * DEGREES, 360);
      break;
    case FW_WISH_PUSH:
      got = reading->n > 0 ? reading->terms[0].value : 90;
      break;
    default:
      for (int i = 0; i < reading->n; i++)
        got += reading->terms[i].sign * reading->terms[i].value;
    }
  *miss = fw_wish_miss (goal->wish, got);
  return got;
}

gboolean
fw_judge_rows (FwJudge *j, const double *x, double *rows, double *got)
{
  const FwProblem *p = j->problem;
  if (!build_at (j, x))
    return FALSE;
  fw_judge_measure (j);
  for (int i = 0; i < p->n_goals; i++)
    {
      double miss;
      j->got[i] = got_of (j, i, &miss);
      rows[i] = isfinite (miss) ? p->goals[i].per_unit * miss : 1e3;
      if (got != NULL)
        got[i] = j->got[i];
    }
  for (int i = 0; i <= p->n_members; i++)
    {
      double missing = fabs (j->missing[i]);
      rows[p->n_goals + i] = missing > 0 ? MISSING_PER_MM * missing + MISSING_AT_ALL : 0;
    }
  return TRUE;
}

/* ---- Slopes ---- */

/* In j->slope: of a quantity at a crank angle, by the free numbers; degrees or mm per file unit. */
static void
slope_at (FwJudge *j, FwQuantity q, double crank)
{
  fw_pose_solve (j->pose, j->mech, crank);
  fw_sensitivity_solve (j->by, j->mech, j->pose);
  fw_sensitivity_quantity (j->by, j->mech, j->pose, q, j->slope);
  if (q.kind == FW_Q_BODY_Z)
    return;
  for (int k = 0; k < j->problem->n; k++)
    j->slope[k] *= DEGREES;
}

/* Of the crank angle of an extreme, where the rate is 0: d crank = - (d rate / d x) / second rate, and
 * the rate's derivative is that of the angle's derivative along the turn. In degrees. */
static void
add_shift (FwJudge *j, const FwTerm *term, double factor, double *slopes, int stride)
{
  int n = j->problem->n;
  g_autofree double *after = g_new (double, n);
  slope_at (j, term->quantity, term->crank + DIFFERENCE);
  memcpy (after, j->slope, sizeof (double) * (size_t)n);
  slope_at (j, term->quantity, term->crank - DIFFERENCE);
  fw_pose_solve (j->pose, j->mech, term->crank);
  double rate2 = j->pose->members[term->quantity.index].rate2;
  for (int k = 0; k < n && rate2 != 0; k++)
    slopes[k * stride] += factor * -(after[k] - j->slope[k]) / (2 * DIFFERENCE) / rate2;
}

static void
reading_slopes (FwJudge *j, const FwGoal *goal, const FwReading *reading, double factor, double *slopes, int stride)
{
  for (int t = 0; t < reading->n; t++)
    {
      const FwTerm *term = &reading->terms[t];
      if (goal->wish->kind == FW_WISH_AFTER)
        {
          add_shift (j, term, factor * term->sign, slopes, stride);
          continue;
        }
      slope_at (j, term->quantity, term->crank);
      for (int k = 0; k < j->problem->n; k++)
        slopes[k * stride] += factor * term->sign * j->slope[k];
    }
}

/* By differences of the exact solution: torque where it peaks (envelope theorem), trouble as a whole. */
static void
difference_slopes (FwJudge *j, const FwGoal *goal, const double *x, double here, double factor, double *slopes, int stride)
{
  gboolean torque = goal->wish->kind == FW_WISH_TORQUE;
  g_autofree double *moved = g_memdup2 (x, sizeof (double) * (gsize)j->problem->n);
  for (int k = 0; k < j->problem->n; k++)
    {
      double step = torque ? DIFFERENCE : TROUBLE_DIFFERENCE;
      step = x[k] + step > j->problem->upper[k] ? -step : step;
      moved[k] = x[k] + step;
      if (build_at (j, moved))
        {
          int spots;
          double there;
          if (torque)
            {
              fw_pose_solve (j->pose, j->mech, j->torque_at);
              fw_loads_solve (j->loads, j->mech, j->pose, fw_crank_speed (j->design));
              there = j->torque_sign * j->loads->torque;
            }
          else
            there = fw_judge_trouble (j, goal->wish->kinds, &spots);
          if (isfinite (there))
            slopes[k * stride] += factor * (there - here) / step;
        }
      moved[k] = x[k];
    }
  build_at (j, x);
}

static void
number_slopes (FwJudge *j, const FwGoal *goal, double factor, double *slopes, int stride)
{
  int high = 0, low = -1;
  if (goal->wish->kind == FW_WISH_SAME)
    ends_of (j, goal, &high, &low);
  if (goal->free[high] >= 0)
    slopes[goal->free[high] * stride] += factor;
  if (low >= 0 && goal->free[low] >= 0)
    slopes[goal->free[low] * stride] -= factor;
}

static void
goal_slopes (FwJudge *j, int i, const double *x, double *slopes, int stride)
{
  const FwGoal *goal = &j->problem->goals[i];
  double miss = fw_wish_miss (goal->wish, j->got[i]);
  switch (goal->wish->kind)
    {
    case FW_WISH_WITHOUT:
      {
        int spots;
        double here = j->got[i] > 0 ? fw_judge_trouble (j, goal->wish->kinds, &spots) : 0;
        if (here > 0)
          difference_slopes (j, goal, x, here, goal->per_unit, slopes, stride);
        return;
      }
    case FW_WISH_TORQUE:
      if (miss != 0)
        difference_slopes (j, goal, x, j->got[i], goal->per_unit, slopes, stride);
      return;
    case FW_WISH_NUMBER:
    case FW_WISH_SAME:
      if (miss != 0)
        number_slopes (j, goal, goal->per_unit, slopes, stride);
      return;
    default:
      if (miss != 0 || goal->wish->least == goal->wish->most)
        reading_slopes (j, goal, &j->readings[i], goal->per_unit, slopes, stride);
    }
}

static void
missing_slopes (FwJudge *j, int part, double *slopes, int stride)
{
  if (j->missing[part] == 0)
    return;
  double factor = j->missing[part] < 0 ? -MISSING_PER_MM : MISSING_PER_MM;
  fw_pose_solve (j->pose, j->mech, j->missing_at[part]);
  fw_sensitivity_solve (j->by, j->mech, j->pose);
  for (int k = 0; k < j->problem->n; k++)
    slopes[k * stride] += factor * j->by->missing[part * j->problem->n + k];
}

void
fw_judge_slopes (FwJudge *j, const double *x, double *slopes)
{
  const FwProblem *p = j->problem;
  int rows = fw_problem_rows (p);
  memset (slopes, 0, sizeof (double) * (size_t)(rows * p->n));
  for (int i = 0; i <= p->n_members; i++)
    missing_slopes (j, i, slopes + p->n_goals + i, rows);
  for (int i = 0; i < p->n_goals; i++)
    goal_slopes (j, i, x, slopes + i, rows);
  for (int i = 0; i < rows * p->n; i++)
    if (!isfinite (slopes[i]))
      slopes[i] = 0;
}
