/* Springs of the design that keep a joint from knocking: ends, rate and free length, tried. */
#include <stdlib.h>
#include <string.h>

#include "core/loadremedy.h"
#include "core/loadtrial.h"
#include "core/solve.h"
#include "core/springs.h"

#define SOFT 0.4   /* free length of a cord to its shortest: long and soft, so that its pull stays even */
#define LONG 1.5   /* free length of a spring that spreads, to what it is pressed to */
#define ASIDE 200  /* mm, of a spring's foot beside the guide */
#define MOST 4     /* places that are tried */

static bool
name_taken (const FwDesign *d, const char *name)
{
  for (int i = 0; i < d->n_springs; i++)
    if (strcmp (d->springs[i].name, name) == 0)
      return true;
  return false;
}

/* "spring", "spring 2", ... "spring 9999". */
static void
new_name (const FwDesign *d, char name[16])
{
  memcpy (name, "spring", sizeof "spring");
  for (int i = 2; name_taken (d, name) && i < 10000; i++)
    {
      char digits[5];
      int n = 0, at = 7;
      for (int rest = i; rest > 0; rest /= 10)
        digits[n++] = (char)('0' + rest % 10);
      name[6] = ' ';
      while (n > 0)
        name[at++] = digits[--n];
      name[at] = 0;
    }
}

bool
fw_spring_fit (FwDesign *d, const FwSpringFit *fit)
{
  char name[16];
  new_name (d, name);
  FwSpringPart *more = realloc (d->springs, ((size_t)d->n_springs + 1) * sizeof *more);
  if (more == NULL)
    return false;
  d->springs = more;
  char *own = malloc (strlen (name) + 1);
  if (own == NULL)
    return false;
  memcpy (own, name, strlen (name) + 1);
  d->springs[d->n_springs] = fit->spring;
  d->springs[d->n_springs++].name = own;
  return true;
}

/* ---- Where ---- */

/* From the rod's foot, where that can hold a spring: then it is as long as the rod all the turn, and its
 * pull is steady. Else from the crank's line below, drawing down, or from the body above the hinge, up. */
static int
places_of_link (const FwMechanism *m, const FwSpring *need, int link, FwSpringPart *list)
{
  const FwDesign *d = m->design;
  const FwRod *rod = &d->rods[m->links[link].rod];
  const FwAnchor held = { .kind = FW_FROM_PANEL, .index = rod->panel, .at_mm = rod->at_mm };
  if (rod->from.kind != FW_FROM_THROW)
    {
      list[0] = (FwSpringPart){ .side = rod->side, .from = rod->from, .to = held, .cord = need->pulls };
      return 1;
    }
  const FwThrow *t = &d->crank.throws[rod->from.index];
  const FwPanel *p = &d->panels[rod->panel];
  bool across = d->crank.runs == FW_RUNS_ACROSS;
  FwAnchor below = { .kind = FW_FROM_BASE, .at_mm = { across ? t->station_mm : 0, across ? 0 : t->station_mm, 0 } };
  FwAnchor above = { .kind = FW_FROM_BODY, .at_mm = { 0, 0, 0.6 * p->span_mm } };
  if (p->on == FW_ON_BODY)
    above.at_mm = fw_vec3 (p->hinge_mm.x, p->hinge_mm.y, p->hinge_mm.z + 0.6 * p->span_mm);
  list[0] = (FwSpringPart){ .side = rod->side, .from = below, .to = held, .cord = true };
  list[1] = (FwSpringPart){ .side = rod->side, .from = above, .to = held, .cord = true };
  return 2;
}

/* Across the post where its guide is, from either side. */
static int
places_of_body (const FwMechanism *m, FwPose *pose, FwSpringPart *list)
{
  const FwBody *b = &m->design->body;
  FwVec3 h = fw_crank_h (m->design->crank.runs);
  fw_pose_solve (pose, m, FW_PI / 2);
  double level = b->ride == FW_RIDE_SLEEVE   ? b->post_mm - pose->body.guide_mm
                 : b->ride == FW_RIDE_ROCKER ? b->post_mm - b->on_mm
                                             : 0;
  const FwAnchor held = { .kind = FW_FROM_BODY, .at_mm = { 0, 0, -level } };
  FwVec3 at = fw_frame_to_world (&pose->body.motion.at, held.at_mm);
  for (int i = 0; i < 2; i++)
    {
      FwAnchor foot = { .kind = FW_FROM_BASE, .at_mm = fw_vec3_along (at, i == 0 ? ASIDE : -ASIDE, h) };
      list[i] = (FwSpringPart){ .side = FW_SIDE_MIDDLE, .from = foot, .to = held, .cord = true };
    }
  return 2;
}

/* ---- How strong ---- */

static bool
fitted (FwLoadMending *m, FwSpringFit *fit, int steps)
{
  FwDesign *kept = m->trial.design, *copy = fw_design_copy (kept);
  if (copy == NULL)
    return false;
  m->trial.design = copy;
  bool good = fw_spring_fit (copy, fit) && fw_load_trial_run (&m->trial, steps);
  int coil = good ? m->trial.mech->n_coils - 1 : 0;
  good = good && fw_coil_pulls (m->trial.mech, m->trial.turn->scratch, coil, steps, &fit->least_N, &fit->most_N);
  m->trial.design = kept;
  fw_design_free (copy);
  return good;
}

/* How long it is over the turn: what a spring of next to no stiffness pulls. */
static bool
lengths (FwLoadMending *m, FwSpringFit fit, double *least, double *most)
{
  const double faint = 1e-9;
  fit.spring.rate_Npmm = faint;
  fit.spring.free_mm = 0;
  if (!fitted (m, &fit, FW_QUICK_STEPS))
    return false;
  *least = fit.least_N / faint;
  *most = fit.most_N / faint;
  return *least > 1;
}

static double
three_digits (double value)
{
  double unit = pow (10, floor (log10 (value)) - 2);
  return round (value / unit) * unit;
}

/* Pull (or push) in the middle of its travel. */
static bool
mends_with (FwLoadMending *m, FwSpringFit *fit, double force, double least, double most, int steps)
{
  double middle = (least + most) / 2;
  FwSpringPart *s = &fit->spring;
  s->free_mm = s->cord ? round (SOFT * least) : round (LONG * most);
  s->rate_Npmm = three_digits (force / fabs (middle - s->free_mm));
  return fitted (m, fit, steps) && fw_load_mended (m);
}

/* The weakest that mends at one place. */
static bool
weakest_at (FwLoadMending *m, FwSpringFit *fit, double needed)
{
  double least, most, failed = 0, good = 0;
  if (!lengths (m, *fit, &least, &most))
    return false;
  for (double force = needed / 16; force <= needed * 8.001 && good == 0; force *= 1.4142135623730951)
    {
      if (fw_load_stopped (m))
        return false;
      if (mends_with (m, fit, force, least, most, FW_QUICK_STEPS))
        good = force;
      else
        failed = force;
    }
  for (int i = 0; i < 6 && good > 0; i++)
    {
      double middle = (good + failed) / 2;
      *(mends_with (m, fit, middle, least, most, FW_QUICK_STEPS) ? &good : &failed) = middle;
    }
  /* Between the quick steps it may lack a little. */
  if (good == 0 || !mends_with (m, fit, good * 1.03, least, most, FW_SURE_STEPS))
    return false;
  fit->keeps_sign = fw_load_keeps_sign (&m->trial, m->trouble.part);
  fit->peak_N = fw_load_peak_of (m->trial.forces, m->trial.mech, m->trouble.part);
  return true;
}

bool
fw_spring_fit_for (const FwDesign *design, const FwTrouble *trouble, FwSpringFit *out, FwStop stop, void *stop_data)
{
  FwLoadMending *m = trouble->kind == FW_LOAD_REVERSAL ? calloc (1, sizeof *m) : NULL;
  bool any = false;
  if (m == NULL)
    return false;
  FwSpring need;
  if (fw_load_mending_open (m, design, trouble, stop, stop_data)
      && fw_spring_for (m->now.forces, m->now.mech, trouble->part, &need))
    {
      FwSpringPart list[MOST];
      int n = trouble->part.kind == FW_PART_LINK ? places_of_link (m->now.mech, &need, trouble->part.index, list)
                                                 : places_of_body (m->now.mech, m->now.turn->scratch, list);
      for (int i = 0; i < n; i++)
        {
          FwSpringFit fit = { .spring = list[i], .peak_before_N = need.peak_before_N };
          if (!weakest_at (m, &fit, need.force_N))
            continue;
          double size = fmax (fabs (fit.least_N), fabs (fit.most_N));
          if (any && size >= fmax (fabs (out->least_N), fabs (out->most_N)))
            continue;
          *out = fit;
          any = true;
        }
    }
  fw_load_mending_close (m);
  free (m);
  return any;
}
