#include "swing/swingremedy.h"

#include <math.h>
#include <stdlib.h>

#include "core/loadtrial.h"

#define FINEST 5      /* halvings: a swing takes milliseconds to follow */
#define MOST_IDEAS 8
#define WHOLE_STOP 60 /* degrees that count as much as the whole of another number */
#define MOST_FRICTION 0.5

typedef struct
{
  FwParam param;
  double direction;
  FwLoadReach reach;
} Idea;

/* What needs no swing is looked at first: it fails most trials, and fast. */
static bool
good (FwLoadMending *m, int steps)
{
  return fw_load_trial_run (&m->trial, steps) && fw_load_mended (m)
         && fw_swing_trouble_of (m->trial.mech, &m->trial.list, m->stop, m->stop_data)
         && !m->trial.list.full && fw_load_mended (m);
}

static bool
mends (FwLoadMending *m, FwParam param, double value, int steps)
{
  return fw_load_with (m, param, value, steps, good);
}

/* Both stops, either way: the other one can keep it from falling as far. */
static bool
stop_ideas (const FwLoadMending *m, Idea *ideas)
{
  int panel = m->now.mech->members[m->trouble.part.index].panel;
  if (!m->now.design->panels[panel].has_stops)
    return false;
  for (int i = 0; i < 4; i++)
    ideas[i] = (Idea) { { FW_PARAM_PANEL_STOP, panel, i / 2 }, i % 2 ? 1 : -1,
                        { false, WHOLE_STOP, { 5, 1, 0.5 }, FINEST } };
  return true;
}

static int
think (const FwLoadMending *m, Idea *ideas)
{
  const FwDesign *d = m->now.design;
  int n = stop_ideas (m, ideas) ? 4 : 0, panel = m->now.mech->members[m->trouble.part.index].panel;
  ideas[n++] = (Idea) { { FW_PARAM_SPEED, 0, 0 }, -1, { true, 0.9, { 1, 0.5, 0.1 }, FINEST } };
  if (d->drive.pin_radius_mm > 0)
    ideas[n++] = (Idea) { { FW_PARAM_FRICTION, 0, 0 }, 1, { false, MOST_FRICTION, { 0.05, 0.01, 0.01 }, FINEST } };
  double out = d->panels[panel].centre_mm.x;
  if (d->panels[panel].has_mass && out != 0)
    ideas[n++] = (Idea) { { FW_PARAM_PANEL_CENTRE, panel, 0 }, out > 0 ? -1 : 1,
                          { true, 0.95, { 5, 1, 0.5 }, FINEST } };
  return n;
}

static double
effort (const FwRemedy *r)
{
  double change = fabs (r->to - r->from);
  if (r->param.kind == FW_PARAM_PANEL_STOP)
    return change / WHOLE_STOP;
  return change / (r->param.kind == FW_PARAM_FRICTION ? MOST_FRICTION : fmax (fabs (r->from), 1e-9));
}

/* One stop brought so near to the other that the panel has no way to fall: it lies where it rests. */
static bool
held (FwLoadMending *m, int component, FwRemedy *out)
{
  static const double gaps_deg[] = { 2, 1, 0.5 };
  int panel = m->now.mech->members[m->trouble.part.index].panel;
  const FwPanel *p = &m->now.design->panels[panel];
  const FwParam param = { FW_PARAM_PANEL_STOP, panel, component };
  for (int i = 0; i < 3 && p->has_stops && !fw_load_stopped (m); i++)
    {
      double to = component == 1 ? p->stops_deg[0] + gaps_deg[i] : p->stops_deg[1] - gaps_deg[i];
      if (!mends (m, param, to, FW_SURE_STEPS))
        continue;
      *out = (FwRemedy) { param, p->stops_deg[component], to };
      return true;
    }
  return false;
}

static bool
listed (const FwRemedy *list, int n, int component)
{
  for (int i = 0; i < n; i++)
    if (list[i].param.kind == FW_PARAM_PANEL_STOP && list[i].param.component == component)
      return true;
  return false;
}

static int
try_all (FwLoadMending *m, FwRemedy *list, int capacity)
{
  Idea ideas[MOST_IDEAS];
  int n = 0, n_ideas = think (m, ideas);
  FwRemedy remedy;
  for (int i = 0; i < n_ideas && !fw_load_stopped (m); i++)
    {
      const Idea *idea = &ideas[i];
      if (fw_load_smallest_change (m, mends, idea->param, &idea->reach, idea->direction, &remedy))
        n = fw_load_keep_best (list, n, capacity, remedy, effort);
    }
  for (int component = 0; component < 2; component++)
    if (!listed (list, n, component) && held (m, component, &remedy))
      n = fw_load_keep_best (list, n, capacity, remedy, effort);
  return n;
}

int
fw_swing_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity,
                   FwStop stop, void *stop_data)
{
  FwLoadMending *m = trouble->kind == FW_SLAMS ? calloc (1, sizeof *m) : NULL;
  int n = 0;
  if (m == NULL)
    return 0;
  if (fw_load_mending_open (m, design, trouble, stop, stop_data)
      && fw_swing_trouble_of (m->now.mech, &m->now.list, stop, stop_data))
    n = try_all (m, list, capacity);
  fw_load_mending_close (m);
  free (m);
  return n;
}
