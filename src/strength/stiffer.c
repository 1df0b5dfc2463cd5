#include "strength/stiffer.h"

#include <stdlib.h>

#include "core/loadtrial.h"
#include "strength/section.h"

#define THICKEST 3.0 /* times what it is */
#define SLOWEST 0.2  /* of the speed */
#define SAME 1e-6

static bool
alike (double a, double b)
{
  return fabs (a - b) <= SAME * fmax (fabs (a), fabs (b));
}

static double
rod_from_stock (const FwRod *rod)
{
  return rod->stuff.density_kgm3 * fw_section_stock (rod->diameter_mm, rod->wall_mm).area
         * rod->length_mm;
}

/* Sets a number, and the weight with it where that was the stock's own. */
static void
set_with_weight (FwDesign *d, FwParam param, double value)
{
  FwRod *rod = param.kind == FW_PARAM_ROD_DIAMETER ? &d->rods[param.index] : NULL;
  FwPanel *panel = param.kind == FW_PARAM_PANEL_THICKNESS ? &d->panels[param.index] : NULL;
  bool rod_follows = rod != NULL && alike (rod->mass_g, rod_from_stock (rod));
  bool panel_follows
      = panel != NULL && alike (panel->areal_gm2, panel->stuff.density_kgm3 * panel->thickness_mm);
  fw_param_set (d, param, value);
  if (rod_follows)
    rod->mass_g = rod_from_stock (rod);
  if (panel_follows)
    panel->areal_gm2 = panel->stuff.density_kgm3 * panel->thickness_mm;
}

static bool
run (FwLoadTrial *trial, int steps)
{
  if (!fw_load_trial_run (trial, steps))
    return false;
  fw_strength_trouble_find (trial->forces, trial->mech, &trial->list);
  return !trial->list.full;
}

static bool
mends (FwLoadMending *m, FwParam param, double value, int steps)
{
  double kept = fw_param_get (m->trial.design, param);
  set_with_weight (m->trial.design, param, value);
  bool good = run (&m->trial, steps) && fw_load_mended (m);
  set_with_weight (m->trial.design, param, kept);
  return good;
}

/* Away from the present value in whole steps until it mends, quickly first. */
static bool
first_that_mends (FwLoadMending *m, FwParam param, double step, double furthest, FwRemedy *remedy)
{
  double now = fw_param_get (m->trial.design, param), lower, upper;
  fw_param_limits (m->trial.design, param, &lower, &upper);
  double sign = furthest > now ? 1 : -1;
  double value = (sign > 0 ? floor (now / step + SAME) : ceil (now / step - SAME)) * step;
  for (;;)
    {
      value += sign * step;
      if (sign * (value - furthest) > 0 || value < lower || value > upper || fw_load_stopped (m))
        return false;
      if (mends (m, param, value, FW_QUICK_STEPS) && mends (m, param, value, FW_SURE_STEPS))
        break;
    }
  *remedy = (FwRemedy){ param, now, value };
  return true;
}

static bool
thicken (FwLoadMending *m, FwRemedy *remedy)
{
  FwPart part = m->trouble.part;
  const FwMechanism *mech = m->now.mech;
  FwParam param = { FW_PARAM_CRANK_DIAMETER, 0, 0 };
  if (part.kind == FW_PART_BODY)
    param = (FwParam){ FW_PARAM_BODY_DIAMETER, 0, 0 };
  if (part.kind == FW_PART_BODY && mech->design->body.ride == FW_RIDE_FIXED)
    return false; /* it has no post */
  if (part.kind == FW_PART_LINK)
    param = (FwParam){ FW_PARAM_ROD_DIAMETER, mech->links[part.index].rod, 0 };
  if (part.kind == FW_PART_MEMBER)
    param = (FwParam){ FW_PARAM_PANEL_THICKNESS, mech->members[part.index].panel, 0 };
  double now = fw_param_get (m->trial.design, param);
  return first_that_mends (m, param, 0.5, fmax (THICKEST * now, now + 2), remedy);
}

static bool
slow_down (FwLoadMending *m, FwRemedy *remedy)
{
  FwParam param = { FW_PARAM_SPEED, 0, 0 };
  double now = fw_param_get (m->trial.design, param);
  return now > 1 && first_that_mends (m, param, fmax (1, round (now / 40)), SLOWEST * now, remedy);
}

int
fw_strength_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list,
                      int capacity, FwStop stop, void *stop_data)
{
  bool ours = trouble->kind == FW_MAY_BUCKLE || trouble->kind == FW_OVER_STRESS
              || trouble->kind == FW_RESONANCE;
  FwLoadMending *m = ours ? calloc (1, sizeof *m) : NULL;
  int n = 0;
  if (m == NULL)
    return 0;
  if (fw_load_mending_open (m, design, trouble, stop, stop_data))
    {
      FwRemedy found[2];
      fw_strength_trouble_find (m->now.forces, m->now.mech, &m->now.list);
      n += thicken (m, &found[n]);
      n += slow_down (m, &found[n]);
      bool slower_first
          = n == 2 && 1 - found[1].to / found[1].from < found[0].to / found[0].from - 1;
      for (int i = 0; i < n && i < capacity; i++)
        list[i] = found[slower_first ? 1 - i : i];
      n = n < capacity ? n : capacity;
    }
  fw_load_mending_close (m);
  free (m);
  return n;
}
