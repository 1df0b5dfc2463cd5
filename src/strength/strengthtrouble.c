#include "strength/strengthtrouble.h"

#define STEPS FW_STRENGTH_STEPS
#define TURN 6.28318530717958647692
#define MEGA 1e6

static void
add (FwTroubleList *list, FwTrouble trouble)
{
  if (list->n < list->capacity)
    list->items[list->n++] = trouble;
  else
    list->full = true;
}

/* Where a row passes its mark between two steps, in steps beyond the first. */
static double
crossing (double inside, double outside, double mark)
{
  return isnan (outside) ? 0 : (inside - mark) / (inside - outside);
}

/* The stretch around the greatest value in which a row is above the mark. */
static bool
stretch_above (const double *row, double mark, FwTrouble *t)
{
  int worst = -1;
  for (int i = 0; i < STEPS; i++)
    if (row[i] > mark && (worst < 0 || row[i] > row[worst]))
      worst = i;
  if (worst < 0)
    return false;
  int before = 0, after = 0;
  while (before < STEPS && row[(worst - before + STEPS) % STEPS] > mark)
    before++;
  while (after < STEPS && row[(worst + after) % STEPS] > mark)
    after++;
  const double step = TURN / STEPS;
  t->worst = worst * step;
  if (before == STEPS)
    {
      t->from = 0;
      t->to = TURN;
      return true;
    }
  int first = worst - before + 1, last = worst + after - 1;
  t->from
      = first * step
        - step * crossing (row[(first + STEPS) % STEPS], row[(first - 1 + STEPS) % STEPS], mark);
  t->to = last * step + step * crossing (row[last % STEPS], row[(last + 1) % STEPS], mark);
  if (t->from < 0)
    {
      t->from += TURN;
      t->to += TURN;
    }
  return true;
}

static void
find_buckling (const FwPartStrength *p, FwTroubleList *list)
{
  FwTrouble t = { .kind = FW_MAY_BUCKLE, .part = p->part, .unit = FW_UNIT_N };
  if (p->pushes == NULL || !stretch_above (p->pushes, 1 / FW_BUCKLING_FACTOR, &t))
    return;
  t.value = p->push.value;
  t.limit = p->bears / FW_BUCKLING_FACTOR;
  t.severity = p->push.value > p->bears ? FW_FAILURE : FW_WARNING;
  add (list, t);
}

static void
find_over_stress (const FwPartStrength *p, FwTroubleList *list)
{
  FwTrouble t = { .kind = FW_OVER_STRESS, .part = p->part, .unit = FW_UNIT_MPA };
  /* Beyond Euler's load stress has no number, and may-buckle says so already. */
  if (!(p->allowed > 0) || isinf (p->stress.value) || !stretch_above (p->stresses, p->allowed, &t))
    return;
  t.value = p->stress.value / MEGA;
  t.limit = p->allowed / MEGA;
  t.severity = t.value > 2 * t.limit ? FW_FAILURE : FW_WARNING;
  add (list, t);
}

static void
find_resonance (const FwPartStrength *p, double speed, FwTroubleList *list)
{
  const FwSwing *s = &p->swing;
  if (!(p->natural > 0 && s->harmonic > 0 && s->swing > FW_SWING_GROWTH * s->still
        && s->swing - s->still > FW_SWING_LEAST_MM / 1000))
    return;
  add (list, (FwTrouble){ .kind = FW_RESONANCE,
                          .severity = FW_WARNING,
                          .part = p->part,
                          .from = 0,
                          .to = TURN,
                          .worst = s->at * TURN / STEPS,
                          .value = p->natural / TURN,
                          .limit = s->harmonic * speed / TURN,
                          .unit = FW_UNIT_HZ });
}

void
fw_strength_troubles (const FwStrength *strength, FwTroubleList *list)
{
  if (strength->n_open > 0) /* beside a gap forces grow without bound */
    return;
  for (int i = 0; i < strength->n_parts; i++)
    {
      find_buckling (&strength->parts[i], list);
      find_over_stress (&strength->parts[i], list);
      find_resonance (&strength->parts[i], strength->speed, list);
    }
}

void
fw_strength_trouble_find (const FwLoadTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  FwStrength *strength = fw_strength_new (mech);
  if (strength == NULL)
    {
      list->full = true;
      return;
    }
  fw_strength_solve (strength, turn);
  fw_strength_troubles (strength, list);
  fw_strength_free (strength);
}
