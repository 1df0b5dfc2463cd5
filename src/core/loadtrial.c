#include "core/loadtrial.h"

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
