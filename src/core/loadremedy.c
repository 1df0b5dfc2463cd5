#include "core/loadremedy.h"

#include <stdlib.h>

#include "core/loadtrial.h"
#include "core/solve.h"

#define FINEST 24 /* halvings between a value that fails and one that mends */

static bool
good (FwLoadMending *m, int steps)
{
  return fw_load_trial_run (&m->trial, steps) && fw_load_mended (m);
}

static bool
mends (FwLoadMending *m, FwParam param, double value, int steps)
{
  return fw_load_with (m, param, value, steps, good);
}

/* ---- One number ---- */

static FwLoadReach
reach_of (FwParam param)
{
  switch (param.kind)
    {
    case FW_PARAM_SPEED:
      return (FwLoadReach){ true, 0.9, { 1, 0.5, 0.1 }, FINEST };
    case FW_PARAM_ROD_PLAY:
    case FW_PARAM_BODY_PLAY:
    case FW_PARAM_PANEL_PLAY:
      return (FwLoadReach){ true, 0.99, { 0.1, 0.05, 0.01 }, FINEST };
    case FW_PARAM_FRICTION:
      return (FwLoadReach){ true, 0.9, { 0.05, 0.01, 0.005 }, FINEST };
    case FW_PARAM_PIN_RADIUS:
      return (FwLoadReach){ true, 0.9, { 1, 0.5, 0.1 }, FINEST };
    case FW_PARAM_BODY_MASS:
    case FW_PARAM_PANEL_MASS:
    case FW_PARAM_PANEL_AREAL:
    case FW_PARAM_WEIGHT_MASS:
      return (FwLoadReach){ true, 2, { 10, 5, 1 }, FINEST };
    case FW_PARAM_BASE_MASS:
      return (FwLoadReach){ true, 9, { 100, 50, 10 }, FINEST };
    case FW_PARAM_PLATE:
      return (FwLoadReach){ true, 2, { 10, 5, 1 }, FINEST };
    case FW_PARAM_HANDLE:
      return (FwLoadReach){ true, 2, { 5, 1, 0.5 }, FINEST };
    case FW_PARAM_THROW_PHASE:
      return (FwLoadReach){ false, 90, { 5, 1, 0.5 }, FINEST };
    default:
      return (FwLoadReach){ false, 60, { 1, 0.5, 0.1 }, FINEST };
    }
}

/* ---- Which numbers ---- */

typedef struct
{
  FwParam param;
  double direction; /* 0: both */
} Idea;

typedef struct
{
  Idea list[96];
  int n;
} Ideas;

static void
idea (Ideas *ideas, FwParamKind kind, int index, int component, double direction)
{
  if (ideas->n < 96)
    ideas->list[ideas->n++] = (Idea){ { kind, index, component }, direction };
}

static void
fit_idea (Ideas *ideas, const FwMechanism *mech, FwPart part)
{
  if (part.kind == FW_PART_LINK)
    idea (ideas, FW_PARAM_ROD_PLAY, mech->links[part.index].rod, 0, -1);
  else if (part.kind == FW_PART_MEMBER)
    idea (ideas, FW_PARAM_PANEL_PLAY, mech->members[part.index].panel, 0, -1);
  else
    idea (ideas, FW_PARAM_BODY_PLAY, 0, 0, -1);
}

/* What it stands on: heavier, wider, deeper, nearer to the axis. */
static void
stand_ideas (Ideas *ideas)
{
  idea (ideas, FW_PARAM_BASE_MASS, 0, 0, 1);
  idea (ideas, FW_PARAM_PLATE, 0, 0, 1);
  idea (ideas, FW_PARAM_PLATE, 0, 1, 1);
  idea (ideas, FW_PARAM_PLATE_TOP, 0, 0, 1);
}

/* A body that does not move loads nothing but the stand. */
static void
mass_ideas (Ideas *ideas, const FwDesign *d, bool stand)
{
  if ((stand || d->body.ride != FW_RIDE_FIXED) && d->body.mass_g > 0)
    {
      idea (ideas, FW_PARAM_BODY_MASS, 0, 0, 0);
      for (int k = 0; k < 3; k++)
        idea (ideas, FW_PARAM_BODY_CENTRE, 0, k, 0);
    }
  for (int i = 0; i < d->n_panels; i++)
    if (d->panels[i].has_mass && d->panels[i].mass_g > 0)
      {
        idea (ideas, FW_PARAM_PANEL_MASS, i, 0, 0);
        idea (ideas, FW_PARAM_PANEL_CENTRE, i, 0, 0);
      }
    else if (!d->panels[i].has_mass && d->panels[i].areal_gm2 > 0)
      idea (ideas, FW_PARAM_PANEL_AREAL, i, 0, 0);
}

/* Less friction, or a push and a guide that it gains less on. */
static void
grip_ideas (Ideas *ideas, const FwMechanism *mech, FwPart part)
{
  idea (ideas, FW_PARAM_FRICTION, 0, 0, -1);
  idea (ideas, FW_PARAM_PIN_RADIUS, 0, 0, -1);
  if (part.kind == FW_PART_LINK)
    {
      int rod = mech->links[part.index].rod;
      for (int k = 0; k < 3; k++)
        idea (ideas, FW_PARAM_ROD_AT, rod, k, 0);
      idea (ideas, FW_PARAM_ROD_LENGTH, rod, 0, 0);
    }
  else if (mech->design->body.ride == FW_RIDE_SLEEVE)
    idea (ideas, FW_PARAM_BODY_GUIDE, 0, 1, 0);
  else if (mech->design->body.ride == FW_RIDE_RAIL)
    {
      idea (ideas, FW_PARAM_BODY_OFFSET, 0, 0, 0);
      idea (ideas, FW_PARAM_BODY_ROD, 0, 0, 0);
    }
}

static void
think (Ideas *ideas, const FwMechanism *mech, const FwTrouble *trouble)
{
  const FwDesign *d = mech->design;
  if (trouble->kind == FW_SELF_LOCKS)
    {
      grip_ideas (ideas, mech, trouble->part);
      return;
    }
  idea (ideas, FW_PARAM_SPEED, 0, 0, -1);
  if (trouble->kind == FW_MAY_TIP)
    stand_ideas (ideas);
  else if (trouble->kind == FW_LOAD_REVERSAL)
    fit_idea (ideas, mech, trouble->part);
  else
    {
      idea (ideas, FW_PARAM_HANDLE, 0, 0, 1);
      for (int i = 0; i < d->crank.n_weights; i++)
        idea (ideas, FW_PARAM_WEIGHT_MASS, i, 0, 0);
    }
  mass_ideas (ideas, d, trouble->kind == FW_MAY_TIP);
  for (int i = 0; i < d->crank.n_throws; i++)
    idea (ideas, FW_PARAM_THROW_PHASE, i, 0, 0);
}

static double
effort (const FwRemedy *r)
{
  double change = fabs (r->to - r->from);
  return reach_of (r->param).share ? change / fmax (fabs (r->from), 1e-9) : change / 90;
}

int
fw_load_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity,
                  FwStop stop, void *stop_data)
{
  bool ours = trouble->kind == FW_LOAD_REVERSAL || trouble->kind == FW_OVER_RUN
              || trouble->kind == FW_MAY_TIP || trouble->kind == FW_SELF_LOCKS;
  FwLoadMending *m = ours ? calloc (1, sizeof *m) : NULL;
  int n = 0;
  if (m == NULL)
    return 0;
  if (fw_load_mending_open (m, design, trouble, stop, stop_data))
    {
      Ideas ideas = { .n = 0 };
      think (&ideas, m->now.mech, trouble);
      for (int i = 0; i < ideas.n && !fw_load_stopped (m); i++)
        for (double direction = -1; direction <= 1; direction += 2)
          {
            FwRemedy remedy;
            bool wanted = ideas.list[i].direction == 0 || ideas.list[i].direction == direction;
            const FwLoadReach reach = reach_of (ideas.list[i].param);
            if (wanted && fw_load_smallest_change (m, mends, ideas.list[i].param, &reach, direction, &remedy))
              n = fw_load_keep_best (list, n, capacity, remedy, effort);
          }
    }
  fw_load_mending_close (m);
  free (m);
  return n;
}
