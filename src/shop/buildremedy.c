/* What makes a crank that cannot be made makeable: numbers that are tried, other ways of making, and
 * what the motion then is. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/loadtrial.h"
#include "core/making.h"
#include "shop/build.h"
#include "strength/strengthtrouble.h"

static void
add_all (const FwMechanism *mech, FwTroubleList *list)
{
  FwBuild *build = fw_build_new (mech);
  for (int i = 0; i < build->troubles.n; i++)
    if (list->n < list->capacity)
      list->items[list->n++] = build->troubles.items[i];
    else
      list->full = true;
  fw_build_free (build);
}

void
fw_shop_trouble_find (const FwMechanism *mechanism, FwTroubleList *list)
{
  if (!mechanism->design->crank.build.given)
    return;
  add_all (mechanism, list);
  fw_trouble_sort (list);
}

static gboolean
is_of_making (FwTroubleKind kind)
{
  return kind == FW_THROW_TOO_SHORT || kind == FW_THROWS_COLLIDE || kind == FW_NO_WAY_IN;
}

/* ---- Numbers ---- */

static gboolean
run (FwLoadTrial *trial, int steps)
{
  if (!fw_load_trial_run (trial, steps))
    return FALSE;
  fw_strength_trouble_find (trial->forces, trial->mech, &trial->list);
  fw_shop_trouble_find (trial->mech, &trial->list);
  return !trial->list.full;
}

/* Without the turn: is this trouble gone, as far as making goes? */
static gboolean
made (FwLoadMending *m, FwParam param, double value)
{
  FwMechanism *mech = NULL;
  double kept = fw_param_get (m->trial.design, param);
  fw_param_set (m->trial.design, param, value);
  gboolean good = fw_mechanism_build (m->trial.design, &mech, NULL) == FW_OK;
  fw_param_set (m->trial.design, param, kept);
  if (!good)
    return FALSE;
  FwBuild *build = fw_build_new (mech);
  for (int i = 0; i < build->troubles.n; i++)
    good = good && !fw_trouble_same (&build->troubles.items[i], &m->trouble);
  fw_build_free (build);
  fw_mechanism_free (mech);
  return good;
}

static gboolean
mends (FwLoadMending *m, FwParam param, double value)
{
  double kept = fw_param_get (m->trial.design, param);
  fw_param_set (m->trial.design, param, value);
  gboolean good = run (&m->trial, FW_QUICK_STEPS) && fw_load_mended (m) && run (&m->trial, FW_SURE_STEPS) && fw_load_mended (m);
  fw_param_set (m->trial.design, param, kept);
  return good;
}

/* The nearest value on a half-millimetre (5 degree) grid that can be made, and a little beyond it. */
static gboolean
nearest (FwLoadMending *m, FwParam param, double direction, double furthest, FwRemedy *remedy)
{
  gboolean angle = fw_param_unit (param) == FW_UNIT_DEG;
  double now = fw_param_get (m->trial.design, param), lower, upper, grid = angle ? 5 : 0.5;
  int more = 3;
  fw_param_limits (m->trial.design, param, &lower, &upper);
  if (param.kind == FW_PARAM_THROW_RADIUS || param.kind == FW_PARAM_HANDLE)
    lower = fmax (lower, grid); /* no throw or handle at all is no remedy */
  for (double k = 1; k * grid <= furthest && more > 0; k++)
    {
      double value = (direction > 0 ? floor (now / grid) + k : ceil (now / grid) - k) * grid;
      if (value < lower || value > upper || fw_load_stopped (m))
        return FALSE;
      if (!made (m, param, value))
        continue;
      more--;
      if (!mends (m, param, value))
        continue;
      *remedy = (FwRemedy) { param, now, value };
      return TRUE;
    }
  return FALSE;
}

typedef struct
{
  FwParam param;
  double furthest;
} Idea;

static int
think (const FwTrouble *t, Idea *ideas)
{
  int n = 0, throws[2] = { t->part.index - 1, t->has_other ? t->other.index - 1 : -1 };
  if (t->kind == FW_THROW_TOO_SHORT && throws[0] < 0)
    ideas[n++] = (Idea) { { FW_PARAM_HANDLE, 0, 0 }, 100 };
  for (int i = 0; i < 2; i++)
    {
      if (throws[i] < 0 || (i == 1 && (t->other.kind != FW_PART_CRANK || throws[1] == throws[0])))
        continue;
      if (t->kind == FW_THROW_TOO_SHORT)
        {
          ideas[n++] = (Idea) { { FW_PARAM_THROW_RADIUS, throws[i], 0 }, 60 };
          if (t->has_other)
            ideas[n++] = (Idea) { { FW_PARAM_THROW_PHASE, throws[i], 0 }, 60 };
          continue;
        }
      ideas[n++] = (Idea) { { FW_PARAM_THROW_STATION, throws[i], 0 }, 60 };
      ideas[n++] = (Idea) { { FW_PARAM_THROW_WIDTH, throws[i], 0 }, 60 };
    }
  return n;
}

static double
effort (const FwRemedy *r)
{
  return fabs (r->to - r->from) / (fw_param_unit (r->param) == FW_UNIT_DEG ? 90 : 100);
}

int
fw_shop_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity, FwStop stop,
                  void *stop_data)
{
  if (!is_of_making (trouble->kind) || trouble->kind == FW_NO_WAY_IN)
    return 0;
  FwLoadMending *m = calloc (1, sizeof *m);
  int n = 0;
  if (m == NULL)
    return 0;
  if (fw_load_mending_open (m, design, trouble, stop, stop_data))
    {
      Idea ideas[8];
      int n_ideas = think (trouble, ideas);
      fw_strength_trouble_find (m->now.forces, m->now.mech, &m->now.list);
      fw_shop_trouble_find (m->now.mech, &m->now.list);
      for (int i = 0; i < n_ideas; i++)
        for (double direction = -1; direction <= 1; direction += 2)
          {
            FwRemedy remedy;
            if (!fw_load_stopped (m) && nearest (m, ideas[i].param, direction, ideas[i].furthest, &remedy))
              n = fw_load_keep_best (list, n, capacity, remedy, effort);
          }
    }
  fw_load_mending_close (m);
  free (m);
  return n;
}

/* ---- Other ways of making ---- */

static gboolean
has_kind (const FwMechanism *mech, const FwTrouble *trouble)
{
  FwBuild *build = fw_build_new (mech);
  gboolean found = FALSE;
  for (int i = 0; i < build->troubles.n; i++)
    {
      const FwTrouble *t = &build->troubles.items[i];
      found = found || (t->kind == trouble->kind && fw_part_equal (t->part, trouble->part));
    }
  fw_build_free (build);
  return found;
}

int
fw_shop_other_makes (const FwDesign *design, const FwTrouble *trouble, FwMake *makes)
{
  if (!is_of_making (trouble->kind))
    return 0;
  FwDesign *copy = fw_design_copy (design);
  int n = 0;
  for (int make = FW_MAKE_ELBOWS; copy != NULL && make <= FW_MAKE_BENT; make++)
    {
      FwMechanism *mech = NULL;
      if (make == (int)design->crank.build.make)
        continue;
      copy->crank.build.make = (FwMake)make; /* its own pipe; other fittings are the defaults */
      if (fw_mechanism_build (copy, &mech, NULL) == FW_OK && !has_kind (mech, trouble))
        makes[n++] = (FwMake)make;
      fw_mechanism_free (mech);
    }
  fw_design_free (copy);
  return n;
}

/* ---- What the motion becomes ---- */

static double *
swings (const FwMechanism *mech)
{
  FwTurn *turn = fw_turn_new (mech, FW_SURE_STEPS);
  if (turn == NULL)
    return NULL;
  double *swing = g_new0 (double, MAX (mech->n_members, 1));
  fw_turn_solve (turn, mech);
  for (int i = 0; i < mech->n_members; i++)
    {
      const double *row = fw_turn_row (turn, mech, (FwQuantity) { FW_Q_ANGLE, i });
      double low = INFINITY, high = -INFINITY;
      for (int k = 0; k < turn->steps; k++)
        {
          low = fmin (low, row[k]);
          high = fmax (high, row[k]);
        }
      swing[i] = high >= low ? (high - low) * 180 / G_PI : NAN;
    }
  free (turn);
  return swing;
}

FwSwingChange *
fw_shop_swing_change (const FwMechanism *mechanism, FwParam param, double value)
{
  FwDesign *copy = fw_design_copy (mechanism->design);
  FwMechanism *changed = NULL;
  FwSwingChange *change = NULL;
  if (copy == NULL)
    return NULL;
  fw_param_set (copy, param, value);
  if (fw_mechanism_build (copy, &changed, NULL) == FW_OK && changed->n_members == mechanism->n_members)
    {
      double *before = swings (mechanism), *after = swings (changed);
      change = before != NULL && after != NULL ? g_new0 (FwSwingChange, MAX (mechanism->n_members, 1)) : NULL;
      for (int i = 0; change != NULL && i < mechanism->n_members; i++)
        change[i] = (FwSwingChange) { before[i], after[i] };
      g_free (before);
      g_free (after);
    }
  fw_mechanism_free (changed);
  fw_design_free (copy);
  return change;
}
