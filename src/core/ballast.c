/* Springs and counterweights that keep a joint from knocking. */
#include <stdlib.h>
#include <string.h>

#include "core/loadremedy.h"
#include "core/loadtrial.h"
#include "core/solve.h"

/* ---- Springs ---- */

static double
load_along (const FwLoadTurn *turn, const FwMechanism *mech, FwPart part, int step)
{
  if (part.kind == FW_PART_BODY && mech->design->body.ride == FW_RIDE_RAIL)
    return fw_vec3_dot (turn->carrier[step], fw_crank_h (mech->design->crank.runs));
  FwLoad load = { part.kind == FW_PART_LINK ? FW_LOAD_TENSION : FW_LOAD_GUIDE, part.index };
  return fw_load_turn_row (turn, mech, load)[step];
}

bool
fw_spring_for (const FwLoadTurn *turn, const FwMechanism *mech, FwPart part, FwSpring *out)
{
  bool line = part.kind == FW_PART_LINK
              || (part.kind == FW_PART_BODY && mech->design->body.ride != FW_RIDE_FIXED);
  double low = INFINITY, high = -INFINITY;
  for (int i = 0; line && i < turn->steps; i++)
    {
      double load = load_along (turn, mech, part, i);
      if (isnan (load))
        return false;
      low = fmin (low, load);
      high = fmax (high, load);
    }
  if (!line || !(low < 0 && high > 0))
    return false;
  bool pulls = high <= -low;
  *out = (FwSpring){ .part = part,
                     .force_N = pulls ? high : -low,
                     .pulls = pulls,
                     .peak_N = high - low,
                     .peak_before_N = fmax (high, -low) };
  return true;
}

/* ---- Counterweights ---- */

/* A lump at the height of the panel's own centre leaves products with w at nothing, as the design's
 * inertia has none. */
static void
fit_on_panel (FwPanel *p, double mass, FwVec3 at)
{
  FwInertia sum = fw_inertia_add (fw_inertia_panel (p), fw_inertia_point (mass, at));
  FwVec3 centre = fw_vec3_scale (sum.moment_gmm, 1 / sum.mass_g);
  FwInertia gathered = fw_inertia_point (sum.mass_g, centre);
  p->has_mass = true;
  p->mass_g = sum.mass_g;
  p->centre_mm = centre;
  p->inertia_gmm2[0] = sum.uu - gathered.uu;
  p->inertia_gmm2[1] = sum.vv - gathered.vv;
  p->inertia_gmm2[2] = sum.ww - gathered.ww;
  p->inertia_gmm2[3] = sum.uv - gathered.uv;
}

bool
fw_counterweight_fit (FwDesign *d, const FwCounterweight *w)
{
  if (w->panel != FW_ON_BODY)
    {
      fit_on_panel (&d->panels[w->panel], w->mass_g, w->at_mm);
      return true;
    }
  FwBody *b = &d->body;
  FwLump *more = realloc (b->lumps, ((size_t)b->n_lumps + 1) * sizeof *more);
  if (more == NULL)
    return false;
  b->lumps = more;
  char *name = malloc (sizeof "counterweight");
  if (name == NULL)
    return false;
  memcpy (name, "counterweight", sizeof "counterweight");
  b->lumps[b->n_lumps++] = (FwLump){ name, w->mass_g, w->at_mm };
  // cppcheck-suppress memleak ; the lump owns its name
  return true;
}

double
fw_load_peak_of (const FwLoadTurn *turn, const FwMechanism *mech, FwPart part)
{
  double peak = 0;
  for (int i = 0; i < turn->steps; i++)
    peak = fmax (peak, part.kind == FW_PART_MEMBER
                           ? fw_load_turn_row (turn, mech, (FwLoad){ FW_LOAD_HINGE, part.index })[i]
                           : fabs (load_along (turn, mech, part, i)));
  return peak;
}

bool
fw_load_keeps_sign (const FwLoadTrial *t, FwPart part)
{
  FwBounce bounces[64];
  int n = fw_bounces (t->forces, t->mech, bounces, 64);
  for (int i = 0; i < n && i < 64; i++)
    if (bounces[i].part.kind == part.kind && bounces[i].part.index == part.index)
      return false;
  return n <= 64;
}

/* Fits the weight to the design as it is and runs it. */
static bool
weigh (FwLoadMending *m, FwCounterweight *w, double mass, int steps)
{
  FwDesign *kept = m->trial.design, *copy = fw_design_copy (kept);
  if (copy == NULL)
    return false;
  w->mass_g = mass;
  m->trial.design = copy;
  bool good = fw_counterweight_fit (copy, w) && fw_load_trial_run (&m->trial, steps)
              && fw_load_mended (m);
  m->trial.design = kept;
  fw_design_free (copy);
  return good;
}

/* The lightest that mends at one place, no heavier than `most`. */
static bool
lightest_at (FwLoadMending *m, FwCounterweight *w, double most)
{
  double failed = 0, good = 0;
  for (double mass = most / 64; mass <= most * 1.0001 && good == 0; mass *= 1.4142135623730951)
    {
      if (fw_load_stopped (m))
        return false;
      if (weigh (m, w, mass, FW_QUICK_STEPS))
        good = mass;
      else
        failed = mass;
    }
  if (good == 0)
    return false;
  for (int i = 0; i < 7; i++)
    {
      double middle = (good + failed) / 2;
      *(weigh (m, w, middle, FW_QUICK_STEPS) ? &good : &failed) = middle;
    }
  double grid = good < 20 ? 1 : 5;
  if (!weigh (m, w, ceil (good / grid) * grid, FW_SURE_STEPS))
    return false;
  w->keeps_sign = fw_load_keeps_sign (&m->trial, m->trouble.part);
  w->peak_N = fw_load_peak_of (m->trial.forces, m->trial.mech, m->trouble.part);
  return true;
}

/* Where a counterweight can go. */
static int
places (const FwMechanism *mech, FwPart part, FwCounterweight *list)
{
  const FwDesign *d = mech->design;
  if (part.kind == FW_PART_BODY)
    {
      double far = fmax (60, d->body.gyration_mm);
      const FwVec3 ways[6] = { { 0, far, 0 },  { 0, -far, 0 }, { 0, 0, far },
                               { 0, 0, -far }, { far, 0, 0 },  { -far, 0, 0 } };
      int n = d->crank.runs == FW_RUNS_ALONG
                  ? 6
                  : 4; /* it tilts sideways only if the crank runs along */
      for (int i = 0; i < n; i++)
        list[i] = (FwCounterweight){ .panel = FW_ON_BODY, .at_mm = ways[i] };
      return n;
    }
  int member = part.kind == FW_PART_LINK ? mech->links[part.index].member : part.index;
  int panel = mech->members[member].panel;
  FwInertia own = fw_inertia_panel (&d->panels[panel]);
  FwVec3 centre
      = own.mass_g > 0 ? fw_vec3_scale (own.moment_gmm, 1 / own.mass_g) : fw_vec3 (0, 0, 0);
  const double shares[5] = { -0.5, -0.25, 0.25, 0.5, 1 };
  for (int i = 0; i < 5; i++)
    list[i] = (FwCounterweight){ .panel = panel,
                                 .at_mm
                                 = { shares[i] * d->panels[panel].span_mm, centre.y, centre.z } };
  return 5;
}

bool
fw_counterweight_for (const FwDesign *design, const FwTrouble *trouble, FwCounterweight *weight,
                      FwStop stop, void *stop_data)
{
  FwLoadMending *m = trouble->kind == FW_LOAD_REVERSAL ? calloc (1, sizeof *m) : NULL;
  bool any = false;
  if (m == NULL)
    return false;
  if (fw_load_mending_open (m, design, trouble, stop, stop_data))
    {
      FwCounterweight list[6];
      int n = places (m->now.mech, trouble->part, list);
      double most = 2 * m->now.forces->mass_g; /* beyond that it is another sculpture */
      for (int i = 0; i < n; i++)
        {
          list[i].peak_before_N = fw_load_peak_of (m->now.forces, m->now.mech, trouble->part);
          if (most > 0 && lightest_at (m, &list[i], most)
              && (!any || list[i].mass_g < weight->mass_g))
            {
              *weight = list[i];
              any = true;
            }
        }
    }
  fw_load_mending_close (m);
  free (m);
  return any;
}
