#include "aim/helps.h"

#include <math.h>
#include <string.h>

#include "core/loadtrouble.h"
#include "core/reach.h"
#include "core/sensitivity.h"
#include "doc/words.h"
#include "strength/strengthtrouble.h"
#include "swing/swingtrouble.h"

#define STEPS 72       /* of trials */
#define SURE_STEPS 360 /* of the design as it is */
#define STEP 1e-3      /* of differences of one pose, file units */
#define TROUBLE_STEP 0.02
#define DEAD 0.01 /* sine of a push angle that is as good as none */
#define DEGREES (180 / G_PI)

/* A design solved over its turn, with its trouble. */
typedef struct
{
  FwMechanism *mech;
  FwTurn *turn;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
} Solved;

static void
clear (Solved *s)
{
  free (s->turn);
  fw_mechanism_free (s->mech);
  s->turn = NULL;
  s->mech = NULL;
}

static gboolean
solve (Solved *s, const FwDesign *design, int steps)
{
  s->mech = NULL;
  s->turn = NULL;
  s->list = (FwTroubleList) { .items = s->room, .capacity = FW_TROUBLE_ROOM };
  if (fw_mechanism_build (design, &s->mech, NULL) != FW_OK)
    return FALSE;
  s->turn = fw_turn_new (s->mech, steps);
  if (s->turn == NULL)
    return FALSE;
  s->turn->rough = steps == STEPS;
  fw_turn_solve (s->turn, s->mech);
  return TRUE;
}

static void
find_load_trouble (Solved *s, int steps)
{
  FwLoadTurn *forces = fw_load_turn_new (s->mech, steps);
  if (forces == NULL)
    return;
  fw_load_turn_solve (forces, s->mech, fw_crank_speed (s->mech->design));
  fw_strength_trouble_find (forces, s->mech, &s->list);
  fw_load_trouble_find (forces, s->mech, &s->list);
  free (forces);
}

/* ---- Values ---- */

static double
torque_of (const Solved *s)
{
  FwLoadTurn *forces = fw_load_turn_new (s->mech, STEPS);
  FwExtreme least[1], most[1];
  double speed = fw_crank_speed (s->mech->design);
  if (forces == NULL)
    return NAN;
  fw_load_peaks_of (s->mech, forces->pose, forces->loads, speed, STEPS, 1, least, most); /* torque comes first */
  free (forces);
  return fmax (fabs (least[0].value), fabs (most[0].value));
}

/* Of the same trouble in another design of the same shape; NAN: gone. */
static double
trouble_of (Solved *s, const FwHelpOf *of)
{
  const FwTrouble *trouble = &of->trouble;
  fw_trouble_find (s->turn, s->mech, &s->list);
  if (trouble->kind >= FW_THROW_TOO_SHORT)
    {
      if (of->find_making != NULL)
        of->find_making (s->mech, &s->list);
    }
  else if (trouble->kind == FW_SLAMS)
    fw_swing_trouble_of (s->mech, &s->list, NULL, NULL);
  else if (trouble->kind >= FW_LOAD_REVERSAL)
    find_load_trouble (s, s->turn->steps);
  double nearest = INFINITY, value = NAN;
  for (int i = 0; i < s->list.n; i++)
    {
      const FwTrouble *t = &s->room[i];
      double away = fabs (remainder (t->worst - trouble->worst, 2 * G_PI));
      if (!fw_trouble_same (t, trouble) || t->unit != trouble->unit || away >= nearest)
        continue;
      nearest = away;
      value = t->value;
    }
  return value;
}

/* Where the quantity is looked at: its crank angle, or that of its peak. False: it is nowhere. */
static gboolean
crank_of (const Solved *s, const FwHelpOf *of, double *crank)
{
  FwExtreme least, most;
  *crank = of->crank;
  if (of->kind == FW_HELP_POSE)
    return TRUE;
  if (!fw_turn_extremes (s->turn, s->mech, of->quantity, &least, &most))
    return FALSE;
  *crank = of->kind == FW_HELP_LEAST ? least.crank : most.crank;
  return TRUE;
}

static double
quantity_at (const Solved *s, FwQuantity q, double crank)
{
  double factor;
  fw_words_quantity_unit (q, &factor);
  fw_pose_solve (s->turn->scratch, s->mech, crank);
  return factor * fw_quantity_value (s->turn->scratch, s->mech, q);
}

double
fw_help_value (const FwDesign *design, const FwHelpOf *of)
{
  Solved s;
  double crank, value = NAN;
  if (of->kind == FW_HELP_TROUBLE)
    return of->trouble.value;
  if (solve (&s, design, SURE_STEPS))
    value = of->kind == FW_HELP_TORQUE        ? torque_of (&s)
            : crank_of (&s, of, &crank)       ? quantity_at (&s, of->quantity, crank)
                                              : NAN;
  clear (&s);
  return value;
}

FwUnit
fw_help_unit (const FwHelpOf *of)
{
  double factor;
  if (of->kind == FW_HELP_TROUBLE)
    return of->trouble.unit;
  return of->kind == FW_HELP_TORQUE ? FW_UNIT_NM : fw_words_quantity_unit (of->quantity, &factor);
}

double
fw_help_better (const FwTrouble *t)
{
  switch (t->kind)
    {
    case FW_WEAK_PUSH:
    case FW_MAY_FLIP:
    case FW_HITS:
    case FW_MAY_TIP:
    case FW_PINCH:
    case FW_THROW_TOO_SHORT:
    case FW_THROWS_COLLIDE:
      return 1;
    case FW_CANNOT_CLOSE:
      return t->value < 0 ? 1 : -1;
    case FW_PAST_STOP:
    case FW_RESONANCE:
      return t->value < t->limit ? (t->kind == FW_RESONANCE ? -1 : 1) : (t->kind == FW_RESONANCE ? 1 : -1);
    default:
      return -1;
    }
}

/* ---- Exact effects ---- */

/* The quantity that a trouble of motion is about. FALSE: none that has exact derivatives. */
static gboolean
trouble_quantity (const FwMechanism *mech, const FwTrouble *t, FwQuantity *q)
{
  int link = t->part.kind == FW_PART_LINK ? t->part.index : t->part.kind == FW_PART_MEMBER ? mech->members[t->part.index].rod : -1;
  int member = t->part.kind == FW_PART_MEMBER ? t->part.index : link >= 0 ? mech->links[link].member : -1;
  FwQuantityKind kind = t->kind == FW_WEAK_PUSH    ? FW_Q_PUSH
                        : t->kind == FW_LEAN_LIMIT ? FW_Q_LEAN
                        : t->kind == FW_BEND_LIMIT ? FW_Q_BEND
                        : t->kind == FW_MAY_FLIP   ? FW_Q_OTHER_ROOT
                        : t->kind == FW_PAST_STOP  ? FW_Q_ANGLE
                                                   : FW_N_Q_KINDS;
  if (kind == FW_N_Q_KINDS)
    return FALSE;
  gboolean of_link = kind == FW_Q_PUSH || kind == FW_Q_LEAN || kind == FW_Q_BEND;
  *q = (FwQuantity) { kind, of_link ? link : member };
  return q->index >= 0;
}

/* Exact derivatives by all numbers in `out`. FALSE: the thing has none. */
static gboolean
exact_effects (const Solved *s, const FwHelpOf *of, const FwParam *params, int n, double *out)
{
  FwQuantity q = of->quantity;
  double crank = of->trouble.worst, factor;
  gboolean missing = of->kind == FW_HELP_TROUBLE && of->trouble.kind == FW_CANNOT_CLOSE;
  if (of->kind == FW_HELP_TORQUE || (of->kind == FW_HELP_TROUBLE && !missing && !trouble_quantity (s->mech, &of->trouble, &q)))
    return FALSE;
  if (of->kind != FW_HELP_TROUBLE && (q.kind > FW_Q_BEND || q.kind == FW_Q_RATE || q.kind == FW_Q_RATE2 || !crank_of (s, of, &crank)))
    return FALSE;
  FwSensitivity *by = fw_sensitivity_new (s->mech, params, n);
  if (by == NULL)
    return FALSE;
  fw_pose_solve (s->turn->scratch, s->mech, crank);
  /* At the edge of what can be assembled the panel turns without measure; that edge itself moves. */
  gboolean dead = (q.kind == FW_Q_ANGLE || q.kind == FW_Q_OTHER_ROOT) && !missing && s->mech->members[q.index].rod >= 0
                  && !(s->turn->scratch->members[q.index].squareness > DEAD);
  gboolean good = !dead && fw_sensitivity_solve (by, s->mech, s->turn->scratch);
  if (good && missing)
    {
      int part = of->trouble.part.kind == FW_PART_BODY ? 0
                 : of->trouble.part.kind == FW_PART_LINK ? s->mech->links[of->trouble.part.index].member + 1
                                                         : of->trouble.part.index + 1;
      memcpy (out, by->missing + part * n, sizeof (double) * (size_t)n);
    }
  else if (good)
    {
      fw_sensitivity_quantity (by, s->mech, s->turn->scratch, q, out);
      fw_words_quantity_unit (q, &factor);
      for (int k = 0; k < n; k++)
        out[k] *= factor;
    }
  free (by);
  return good;
}

/* ---- Effects by difference ---- */

static double
value_with (FwDesign *design, FwParam param, double value, const FwHelpOf *of, double crank)
{
  Solved s;
  double kept = fw_param_get (design, param), got = NAN;
  fw_param_set (design, param, value);
  if (solve (&s, design, of->kind == FW_HELP_TROUBLE ? SURE_STEPS : STEPS))
    got = of->kind == FW_HELP_TORQUE    ? torque_of (&s)
          : of->kind == FW_HELP_TROUBLE ? trouble_of (&s, of)
                                        : quantity_at (&s, of->quantity, crank);
  clear (&s);
  fw_param_set (design, param, kept);
  return got;
}

/* Central where both sides are there; a trouble that a small step mends is looked at from the other. */
static double
differenced (FwDesign *design, FwParam param, const FwHelpOf *of, double here, double crank)
{
  double value = fw_param_get (design, param), lower, upper;
  double step = of->kind == FW_HELP_TROUBLE ? TROUBLE_STEP : STEP;
  fw_param_limits (design, param, &lower, &upper);
  double less = value - step >= lower ? value_with (design, param, value - step, of, crank) : NAN;
  double more = value + step <= upper ? value_with (design, param, value + step, of, crank) : NAN;
  if (!isnan (less) && !isnan (more))
    return (more - less) / (2 * step);
  return !isnan (more) ? (more - here) / step : !isnan (less) ? (here - less) / step : NAN;
}

/* What the trouble's parts stand on; what stands on nothing asks for all. */
static FwNeeded
needed_by (const FwMechanism *mech, const FwHelpOf *of)
{
  FwPart part = of->trouble.part, other = of->trouble.has_other ? of->trouble.other : part;
  FwNeeded needed = { .all = TRUE };
  if (of->kind == FW_HELP_TROUBLE && (part.kind == FW_PART_MEMBER || part.kind == FW_PART_LINK) && other.kind != FW_PART_CRANK)
    needed = fw_needed_by (mech, part, other);
  return needed;
}

/* What the two values of one difference cost, in turns of 72 poses with their trouble, roughly. */
static int
turns_of (const FwHelpOf *of)
{
  gboolean of_forces = of->kind == FW_HELP_TROUBLE && of->trouble.kind >= FW_LOAD_REVERSAL;
  return of_forces ? 24 : of->kind == FW_HELP_TROUBLE ? 8 : 2;
}

static gboolean
told_to_stop (FwStop stop, gpointer data, int turns)
{
  for (int i = 0; stop != NULL && i < turns; i++)
    if (stop (data))
      return TRUE;
  return FALSE;
}

/* All effects by difference. Numbers of the parts at fault come first, in case it has to stop; of a trouble of motion no
 * others have any. */
static void
difference_all (const Solved *now, FwDesign *design, const FwHelpOf *of, const FwParam *params, int n, double here, double crank,
                double *effects, FwStop stop, gpointer stop_data)
{
  FwNeeded needed = needed_by (now->mech, of);
  gboolean others = of->kind != FW_HELP_TROUBLE || of->trouble.kind >= FW_LOAD_REVERSAL;
  for (int own = 1; own >= (others ? 0 : 1); own--)
    for (int k = 0; k < n; k++)
      if (fw_needed_moves (&needed, now->mech, params[k]) == own && !told_to_stop (stop, stop_data, turns_of (of)))
        effects[k] = differenced (design, params[k], of, here, crank);
}

/* ---- How far ---- */

typedef struct
{
  const Solved *now;
  FwDesign *design;
  FwParam param;
  FwStop stop;
  gpointer stop_data;
} Reach;

/* Trouble, warning or worse, that the design as it is does not have (or not so badly). */
static gboolean
is_worse (const Reach *r, double value)
{
  Solved s;
  double kept = fw_param_get (r->design, r->param);
  fw_param_set (r->design, r->param, value);
  gboolean worse = !solve (&s, r->design, STEPS);
  fw_param_set (r->design, r->param, kept);
  if (!worse)
    fw_trouble_find (s.turn, s.mech, &s.list);
  for (int i = 0; i < s.list.n && !worse; i++)
    {
      const FwTrouble *t = &s.room[i];
      gboolean known = t->severity < FW_WARNING;
      for (int k = 0; k < r->now->list.n && !known; k++)
        known = fw_trouble_twins (r->now->mech, t, &r->now->room[k]) && r->now->room[k].severity >= t->severity;
      worse = !known;
    }
  clear (&s);
  return worse;
}

/* The end of what is free of new trouble, from the present value to `limit`. */
static double
free_up_to (const Reach *r, double limit, gboolean *open)
{
  double value = fw_param_get (r->design, r->param), good = value, bad = limit, range = fabs (limit - value);
  double direction = limit < value ? -1 : 1;
  *open = TRUE;
  for (double step = range / 64; *open && good != limit; step *= 1.4)
    {
      double next = fabs (limit - good) <= step * 1.05 ? limit : good + direction * step;
      if (r->stop != NULL && r->stop (r->stop_data))
        return good;
      if (is_worse (r, next))
        {
          *open = FALSE;
          bad = next;
        }
      else
        good = next;
    }
  for (int i = 0; i < 8 && !*open; i++)
    {
      double middle = (good + bad) / 2;
      if (r->stop != NULL && r->stop (r->stop_data))
        return good;
      *(is_worse (r, middle) ? &bad : &good) = middle;
    }
  return good;
}

static void
find_reach (const Solved *now, FwDesign *design, FwHelp *help, FwStop stop, gpointer stop_data)
{
  Reach r = { now, design, help->param, stop, stop_data };
  double lower, upper;
  fw_param_range (design, help->param, &lower, &upper);
  help->from = free_up_to (&r, lower, &help->from_open);
  help->to = free_up_to (&r, upper, &help->to_open);
  help->has_reach = stop == NULL || !stop (stop_data);
}

/* ---- The list ---- */

/* A millimetre and a degree are what a maker moves; of anything else a hundredth of the value. */
static double
strength (const FwHelp *h)
{
  FwUnit unit = fw_param_unit (h->param);
  double step = unit == FW_UNIT_MM || unit == FW_UNIT_DEG ? 1 : fabs (h->value) / 100;
  return fabs (h->effect) * step;
}

static int
insert (FwHelp *list, int n, int capacity, FwHelp help)
{
  int k = MIN (n, capacity);
  for (; k > 0 && strength (&list[k - 1]) < strength (&help); k--)
    if (k < capacity)
      list[k] = list[k - 1];
  if (k < capacity)
    list[k] = help;
  return MIN (n + 1, capacity);
}

static gboolean
counts (const FwHelpOf *of, FwParam param, double effect, double largest)
{
  gboolean of_motion = of->kind != FW_HELP_TORQUE && (of->kind != FW_HELP_TROUBLE || of->trouble.kind < FW_LOAD_REVERSAL);
  if (of_motion && !fw_param_moves (param) && of->kind != FW_HELP_TROUBLE)
    return FALSE;
  return isfinite (effect) && fabs (effect) > 1e-9 * largest && fabs (effect) > 1e-12;
}

int
fw_helps (const FwDesign *design, const FwHelpOf *of, FwHelp *list, int capacity, int n_reach, FwStop stop, void *stop_data)
{
  Solved *now = g_new0 (Solved, 1);
  FwDesign *copy = fw_design_copy (design);
  int n_params = fw_design_params (design, NULL, 0), n = -1;
  g_autofree FwParam *params = g_new (FwParam, n_params);
  g_autofree double *effects = g_new0 (double, n_params);
  double here = fw_help_value (design, of), crank = 0, largest = 0;
  if (copy != NULL && solve (now, design, SURE_STEPS) && !isnan (here))
    {
      n = 0;
      fw_design_params (design, params, n_params);
      fw_trouble_find (now->turn, now->mech, &now->list);
      gboolean exact = exact_effects (now, of, params, n_params, effects);
      if (of->kind == FW_HELP_POSE || of->kind == FW_HELP_LEAST || of->kind == FW_HELP_GREATEST)
        crank_of (now, of, &crank);
      if (!exact)
        difference_all (now, copy, of, params, n_params, here, crank, effects, stop, stop_data);
      for (int k = 0; k < n_params; k++)
        largest = fmax (largest, isfinite (effects[k]) ? fabs (effects[k]) : 0);
      for (int k = 0; k < n_params; k++)
        if (counts (of, params[k], effects[k], largest))
          n = insert (list, n, capacity, (FwHelp) { .param = params[k], .value = fw_param_get (design, params[k]),
                                                    .effect = effects[k], .exact = exact });
      for (int k = 0; k < MIN (n, n_reach); k++)
        find_reach (now, copy, &list[k], stop, stop_data);
    }
  clear (now);
  g_free (now);
  fw_design_free (copy);
  return n;
}
