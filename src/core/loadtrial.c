#include "core/loadtrial.h"

#include <math.h>
#include <stdlib.h>

static void
trial_clear (FwLoadTrial *t)
{
  fw_mechanism_free (t->mech);
  free (t->turn);
  free (t->forces);
  t->mech = NULL;
  t->turn = NULL;
  t->forces = NULL;
}

/* All trouble of the design as it stands, of motion and of forces. False: it cannot be built. */
bool
fw_load_trial_run (FwLoadTrial *t, int steps)
{
  trial_clear (t);
  t->list = (FwTroubleList){ .items = t->room, .capacity = FW_TROUBLE_ROOM };
  if (fw_mechanism_build (t->design, &t->mech, NULL) != FW_OK)
    return false;
  t->turn = fw_turn_new (t->mech, steps);
  t->forces = fw_load_turn_new (t->mech, steps);
  if (t->turn == NULL || t->forces == NULL)
    return false;
  t->turn->rough = true;
  fw_load_turn_solve_both (t->forces, t->turn, t->mech, fw_crank_speed (t->design));
  fw_trouble_find (t->turn, t->mech, &t->list);
  fw_load_trouble_find (t->forces, t->mech, &t->list);
  return true;
}

static bool
trial_open (FwLoadTrial *t, const FwDesign *design)
{
  *t = (FwLoadTrial){ .design = fw_design_copy (design) };
  return t->design != NULL;
}

static void
trial_close (FwLoadTrial *t)
{
  trial_clear (t);
  fw_design_free (t->design);
}

bool
fw_load_mending_open (FwLoadMending *m, const FwDesign *design, const FwTrouble *trouble,
                      FwStop stop, void *stop_data)
{
  m->trouble = *trouble;
  m->stop = stop;
  m->stop_data = stop_data;
  bool both = trial_open (&m->now, design);
  both = trial_open (&m->trial, design) && both;
  return both && fw_load_trial_run (&m->now, FW_SURE_STEPS);
}

void
fw_load_mending_close (FwLoadMending *m)
{
  trial_close (&m->now);
  trial_close (&m->trial);
}

bool
fw_load_stopped (const FwLoadMending *m)
{
  return m->stop != NULL && m->stop (m->stop_data);
}

static bool
known_before (const FwLoadMending *m, const FwTrouble *t)
{
  const FwTroubleList *known = &m->now.list;
  for (int i = 0; i < known->n; i++)
    if (known->items[i].severity >= t->severity
        && fw_trouble_twins (m->now.mech, t, &known->items[i]))
      return true;
  return false;
}

/* Parts keep their places when numbers change, so one mechanism names them for both lists. */
bool
fw_load_mended (const FwLoadMending *m)
{
  const FwTroubleList *list = &m->trial.list;
  for (int i = 0; i < list->n; i++)
    {
      const FwTrouble *t = &list->items[i];
      if (fw_trouble_twins (m->now.mech, t, &m->trouble))
        return false;
      if (t->severity >= m->trouble.severity && !known_before (m, t))
        return false;
    }
  return true;
}

static bool
round_away (FwLoadMending *m, FwLoadMends mends, FwParam param, const FwLoadReach *reach, double good,
            double direction, FwRemedy *out)
{
  double value = fw_param_get (m->trial.design, param);
  for (int i = 0; i < 3; i++)
    {
      double aim = good / reach->grid[i];
      double rounded = (direction > 0 ? ceil (aim - 1e-9) : floor (aim + 1e-9)) * reach->grid[i];
      bool near = fabs (rounded - value) <= 1.25 * fabs (good - value) + 2 * reach->grid[2];
      if (near && mends (m, param, rounded, FW_SURE_STEPS))
        {
          *out = (FwRemedy){ param, value, rounded };
          return true;
        }
    }
  return false;
}

bool
fw_load_smallest_change (FwLoadMending *m, FwLoadMends mends, FwParam param, const FwLoadReach *reach,
                         double direction, FwRemedy *out)
{
  double value = fw_param_get (m->trial.design, param), unit = reach->share ? fabs (value) : 1;
  double failed = 0, good = 0;
  if (!(unit > 0))
    return false;
  for (double change = reach->most / 32; change <= reach->most * 1.0001 && good == 0;
       change *= 1.4142135623730951)
    {
      if (mends (m, param, value + direction * change * unit, FW_QUICK_STEPS))
        good = change;
      else
        failed = change;
    }
  if (good == 0)
    return false;
  for (int i = 0; i < reach->finest && (good - failed) * unit > reach->grid[2] / 4; i++)
    {
      double middle = (good + failed) / 2;
      *(mends (m, param, value + direction * middle * unit, FW_QUICK_STEPS) ? &good : &failed)
          = middle;
    }
  return round_away (m, mends, param, reach, value + direction * good * unit, direction, out);
}

int
fw_load_keep_best (FwRemedy *list, int n, int capacity, FwRemedy remedy, FwEffort effort)
{
  int k = n < capacity ? n : capacity;
  for (; k > 0 && effort (&list[k - 1]) > effort (&remedy); k--)
    if (k < capacity)
      list[k] = list[k - 1];
  if (k < capacity)
    list[k] = remedy;
  return n < capacity ? n + 1 : n;
}

bool
fw_load_with (FwLoadMending *m, FwParam param, double value, int steps,
              bool (*good) (FwLoadMending *m, int steps))
{
  double lower, upper, kept = fw_param_get (m->trial.design, param);
  fw_param_limits (m->trial.design, param, &lower, &upper);
  if (value < lower || value > upper || fw_load_stopped (m))
    return false;
  fw_param_set (m->trial.design, param, value);
  bool mends = good (m, steps);
  fw_param_set (m->trial.design, param, kept);
  return mends;
}
