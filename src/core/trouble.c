#include "core/trouble.h"

#include "core/hits.h"
#include "core/reach.h"
#include "core/search.h"
#include "core/solve.h"

/* Common practice (Alt's transmission angle: least 40 to 45 degrees): below REMARK the rod works
 * sideways more than along, below WARNING it can jam in its own friction. */
#define PUSH_REMARK fw_radians (45)
#define PUSH_WARNING fw_radians (30)
/* Our own marks, common practice: play and flex of a hand-made joint reach the other root from here. */
#define FLIP_LIMIT fw_radians (30)
/* A plain sine has a peak 1.57 times its mean size. */
#define SNAP_RATE 3.0
#define SNAP_RATE2 6.0
#define STILL_RANGE fw_radians (1) /* a panel that swings less does not snap */

/* One thing that must not rise above zero: excess = sign * (value - limit). */
typedef struct
{
  const FwTurn *turn;
  const FwMechanism *mech;
  FwQuantity quantity;
  const double *row;
  double sign;  /* +1: must stay below the limit, -1: above */
  double limit; /* core unit */
  bool size;    /* of the absolute value */
  int flips;    /* member whose other root this is; -1. Barred by a stop, it cannot flip. */
  FwNeeded needed; /* by the part that the quantity is of */
} Watch;

void
fw_trouble_add (FwTroubleList *list, FwTrouble trouble)
{
  if (list->n < list->capacity)
    list->items[list->n++] = trouble;
  else
    list->full = true;
}

/* A stop stands between here and the dead position that the joint must pass to snap over. */
static bool
barred (const Watch *w, double angle, double other_root)
{
  const FwMember *member = &w->mech->members[w->flips];
  if (!member->has_stops)
    return false;
  double dead = angle + other_root / 2;
  return dead > member->stop_max || dead < member->stop_min;
}

static double
excess_of (const Watch *w, double value)
{
  return w->sign * ((w->size ? fabs (value) : value) - w->limit);
}

static FwNeeded
needed_by (const FwMechanism *mech, FwQuantity q)
{
  bool of_link = q.kind == FW_Q_PUSH || q.kind == FW_Q_LEAN || q.kind == FW_Q_BEND;
  FwPart part = { of_link ? FW_PART_LINK : FW_PART_MEMBER, q.index };
  return fw_needed_by (mech, part, part);
}

static void
solve (const Watch *w, double crank)
{
  FwPose *pose = w->turn->scratch;
  bool turns = w->quantity.kind == FW_Q_RATE || w->quantity.kind == FW_Q_RATE2 || w->quantity.kind == FW_Q_BEND;
  pose->crank = crank;
  fw_needed_solve (&w->needed, pose, w->mech, cos (crank), sin (crank), turns);
}

static double
excess (void *context, double crank)
{
  const Watch *w = context;
  const FwPose *pose = w->turn->scratch;
  solve (w, crank);
  double value = fw_quantity_value (pose, w->mech, w->quantity);
  if (w->flips >= 0 && !isnan (value)
      && barred (w, fw_pose_angle (pose, w->mech, w->flips), fw_pose_other_root (pose, w->mech, w->flips)))
    return NAN;
  return excess_of (w, value);
}

static double
less_excess (void *context, double crank)
{
  return -excess (context, crank);
}

static bool
exceeds (void *context, double crank)
{
  return excess (context, crank) > 0;
}

/* The same from the rows, for a step. */
static double
row_excess (const Watch *w, int step)
{
  double value = w->row[step];
  if (w->flips >= 0 && value < w->limit)
    return excess ((void *)w, 2 * FW_PI * step / w->turn->steps); /* rare: a stop may bar the way */
  return excess_of (w, value);
}

static void
report (const Watch *w, FwTroubleList *list, const FwTrouble *model, double from, double to, double worst)
{
  FwTrouble t = *model;
  solve (w, worst);
  double value = fw_quantity_value (w->turn->scratch, w->mech, w->quantity);
  t.value = w->size ? fabs (value) : value;
  t.limit = w->limit;
  if (t.unit == FW_UNIT_DEG)
    {
      t.value = fw_degrees (t.value);
      t.limit = fw_degrees (t.limit);
    }
  t.from = fw_into_turn (from);
  t.to = t.from + (to - from);
  t.worst = fw_into_turn (worst);
  fw_trouble_add (list, t);
}

static double
crank_of (const Watch *w, int step)
{
  return 2 * FW_PI * step / w->turn->steps;
}

static double
worst_near (Watch *w, int step, double from, double to)
{
  double b = crank_of (w, step), width = 2 * FW_PI / w->turn->steps, value;
  return fw_least (less_excess, w, fmax (from, b - width), b, fmin (to, b + width), &value);
}

/* From a crank angle that does not exceed to one that does. Where the quantity is defined on both
 * sides its zero is quickly found; beside a gap, or a stop, only bisection will do. */
static double
edge (Watch *w, double outside, double inside)
{
  bool smooth = isfinite (excess (w, outside)) && isfinite (excess (w, inside));
  return smooth ? fw_root (excess, w, outside, inside) : fw_edge (exceeds, w, outside, inside);
}

/* A run of `count` steps from `first` that exceed. */
static void
report_run (Watch *w, FwTroubleList *list, const FwTrouble *model, int first, int count)
{
  int steps = w->turn->steps, worst = first;
  for (int i = first; i < first + count; i++)
    if (row_excess (w, i % steps) > row_excess (w, worst % steps))
      worst = i;
  double from = 0, to = 2 * FW_PI;
  if (w->turn->rough)
    {
      from = crank_of (w, first);
      report (w, list, model, from, count < steps ? from + crank_of (w, count) : to, crank_of (w, worst));
      return;
    }
  if (count < steps)
    {
      from = edge (w, crank_of (w, first - 1), crank_of (w, first));
      to = edge (w, crank_of (w, first + count), crank_of (w, first + count - 1));
    }
  double room = count < steps ? 0 : 2 * FW_PI;
  report (w, list, model, from, to, worst_near (w, worst, from - room, to + room));
}

/* A peak between the steps: the parabola through three of them says whether to look. */
static void
look_between (Watch *w, FwTroubleList *list, const FwTrouble *model, int step, double before, double here, double after)
{
  double bend = before - 2 * here + after, slope = (after - before) / 2;
  double top = bend < 0 ? here - slope * slope / (2 * bend) : here;
  if (!(top + 0.25 * fabs (top - here) > 0))
    return;
  double b = crank_of (w, step), width = 2 * FW_PI / w->turn->steps, value;
  double worst = fw_least (less_excess, w, b - width, b, b + width, &value);
  if (!(value < 0))
    return;
  double from = edge (w, worst > b ? b : b - width, worst);
  double to = edge (w, worst > b ? b + width : b, worst);
  report (w, list, model, from, to, worst);
}

/* A first look: the highest step and the widest jump between two. A peak between steps does not
 * stand above its neighbours by more than the curve jumps elsewhere. */
static bool
far_below (const Watch *w)
{
  double top = -INFINITY, jump = 0, before = w->row[w->turn->steps - 1];
  for (int i = 0; i < w->turn->steps; i++)
    {
      double value = w->row[i], step = value - before;
      double e = w->sign * ((w->size ? fabs (value) : value) - w->limit);
      top = e > top ? e : top;
      step = step < 0 ? -step : step;
      jump = step > jump ? step : jump;
      before = value;
    }
  return top + jump < 0;
}

static void
watch (Watch *w, FwTroubleList *list, const FwTrouble *model)
{
  int steps = w->turn->steps, start = 0;
  w->row = fw_turn_row (w->turn, w->mech, w->quantity);
  if (far_below (w))
    return;
  w->needed = needed_by (w->mech, w->quantity);
  while (start < steps && row_excess (w, start) > 0)
    start++;
  if (start == steps)
    {
      report_run (w, list, model, 0, steps);
      return;
    }
  double before = row_excess (w, (start + steps - 1) % steps), here = row_excess (w, start);
  for (int i = start; i < start + steps; i++)
    {
      double after = row_excess (w, (i + 1) % steps);
      if (after > 0 && i + 1 < start + steps)
        {
          int run = 1;
          while (row_excess (w, (i + 1 + run) % steps) > 0)
            run++;
          report_run (w, list, model, i + 1, run);
          i += run;
          before = NAN;
          here = row_excess (w, (i + 1) % steps);
          continue;
        }
      if (here > before && here >= after && here <= 0)
        look_between (w, list, model, i, before, here, after);
      before = here;
      here = after;
    }
}

static void
find_gaps (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  for (int member = -1; member < mech->n_members; member++)
    {
      if (member >= 0 && mech->members[member].mirror_of >= 0)
        continue;
      FwInterval gaps[16];
      int n = fw_turn_gaps (turn, mech, member, gaps, 16);
      FwPart part = { member < 0 ? FW_PART_BODY : FW_PART_LINK, member < 0 ? 0 : mech->members[member].rod };
      for (int i = 0; i < n; i++)
        fw_trouble_add (list, (FwTrouble) { .kind = FW_CANNOT_CLOSE,
                                            .severity = FW_FAILURE,
                                            .part = part,
                                            .from = gaps[i].from,
                                            .to = gaps[i].to,
                                            .worst = gaps[i].worst,
                                            .value = gaps[i].value,
                                            .unit = FW_UNIT_MM });
    }
}

static void
find_past_stops (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  for (int i = 0; i < mech->n_members; i++)
    {
      const FwMember *member = &mech->members[i];
      if (!member->has_stops || member->rod < 0 || member->mirror_of >= 0)
        continue;
      const FwTrouble model = { .kind = FW_PAST_STOP,
                                .severity = FW_FAILURE,
                                .part = { FW_PART_MEMBER, i },
                                .unit = FW_UNIT_DEG };
      for (int end = 0; end < 2; end++)
        {
          Watch w = { .turn = turn, .mech = mech, .quantity = { FW_Q_ANGLE, i }, .flips = -1 };
          w.sign = end == 0 ? -1 : 1;
          w.limit = end == 0 ? member->stop_min : member->stop_max;
          watch (&w, list, &model);
        }
    }
}

/* A remark where it only falls below the upper mark, a warning (and no remark on top) where it falls
 * below the lower one. */
static void
find_weak_push (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  for (int i = 0; i < mech->n_links; i++)
    {
      if (mech->links[i].mirror_of >= 0)
        continue;
      Watch w = { .turn = turn, .mech = mech, .quantity = { FW_Q_PUSH, i }, .sign = -1, .flips = -1 };
      FwTrouble model = { .kind = FW_WEAK_PUSH,
                          .severity = FW_WARNING,
                          .part = { FW_PART_LINK, i },
                          .unit = FW_UNIT_DEG };
      int before = list->n;
      w.limit = PUSH_WARNING;
      watch (&w, list, &model);
      if (list->n > before)
        continue;
      model.severity = FW_REMARK;
      w.limit = PUSH_REMARK;
      watch (&w, list, &model);
    }
}

static void
find_flips (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  for (int i = 0; i < mech->n_members; i++)
    {
      if (mech->members[i].rod < 0 || mech->members[i].mirror_of >= 0)
        continue;
      Watch w = { .turn = turn,
                  .mech = mech,
                  .quantity = { FW_Q_OTHER_ROOT, i },
                  .sign = -1,
                  .limit = FLIP_LIMIT,
                  .flips = i };
      const FwTrouble model = { .kind = FW_MAY_FLIP,
                                .severity = FW_WARNING,
                                .part = { FW_PART_MEMBER, i },
                                .unit = FW_UNIT_DEG };
      watch (&w, list, &model);
    }
}

static double
mean_size (const double *row, int steps)
{
  double sum = 0;
  for (int i = 0; i < steps; i++)
    sum += fabs (row[i]);
  return sum / steps;
}

static bool
closes_all_round (const double *row, int steps)
{
  for (int i = 0; i < steps; i++)
    if (isnan (row[i]))
      return false;
  return true;
}

static double
swing (const double *row, int steps)
{
  double low = INFINITY, high = -INFINITY;
  for (int i = 0; i < steps; i++)
    {
      low = fw_lesser (row[i], low);
      high = fw_greater (row[i], high);
    }
  return high - low;
}

static void
find_snaps (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  for (int i = 0; i < mech->n_members; i++)
    {
      if (mech->members[i].mirror_of >= 0)
        continue;
      const double *angle = fw_turn_row (turn, mech, (FwQuantity) { FW_Q_ANGLE, i });
      bool all_round = closes_all_round (angle, turn->steps); /* rates grow without bound beside a gap */
      if (mech->members[i].rod < 0 || !all_round || !(swing (angle, turn->steps) > STILL_RANGE))
        continue;
      for (int second = 0; second < 2; second++)
        {
          FwQuantity q = { second ? FW_Q_RATE2 : FW_Q_RATE, i };
          double mean = mean_size (fw_turn_row (turn, mech, q), turn->steps);
          double most = second ? SNAP_RATE2 : SNAP_RATE;
          Watch w = { .turn = turn, .mech = mech, .quantity = q, .sign = 1, .size = true, .flips = -1 };
          w.limit = most * mean;
          const FwTrouble model = { .kind = FW_SNAP,
                                    .severity = FW_WARNING,
                                    .part = { FW_PART_MEMBER, i },
                                    .unit = FW_UNIT_NONE,
                                    .second = second == 1 };
          int first = list->n;
          watch (&w, list, &model);
          for (int k = first; k < list->n; k++)
            {
              list->items[k].value /= mean; /* as a ratio to the mean */
              list->items[k].limit = most;
            }
        }
    }
}

static void
find_fitting_limits (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  for (int i = 0; i < mech->n_links; i++)
    {
      if (mech->links[i].mirror_of >= 0)
        continue;
      const FwRod *rod = &mech->design->rods[mech->links[i].rod];
      for (int bend = 0; bend < 2; bend++)
        {
          Watch w = { .turn = turn,
                      .mech = mech,
                      .quantity = { bend ? FW_Q_BEND : FW_Q_LEAN, i },
                      .sign = 1,
                      .limit = fw_radians (bend ? rod->bend_limit_deg : rod->lean_limit_deg),
                      .flips = -1 };
          const FwTrouble model = { .kind = bend ? FW_BEND_LIMIT : FW_LEAN_LIMIT,
                                    .severity = FW_WARNING,
                                    .part = { FW_PART_LINK, i },
                                    .unit = FW_UNIT_DEG };
          watch (&w, list, &model);
        }
    }
}

/* The pin goes round a circle, so the way from pin to guide along the post is a closed form:
 * distance^2 = g^2 + r^2 - 2 g r cos (angle between). */
static void
find_leaving_guide (const FwMechanism *mech, FwTroubleList *list)
{
  const FwBody *body = &mech->design->body;
  if (body->ride != FW_RIDE_SLEEVE)
    return;
  const FwPin *pin = &mech->pins[mech->body_pin];
  double g = hypot (body->guide_mm.x, body->guide_mm.y), r = pin->radius_mm;
  if (g + r <= body->post_mm)
    return;
  double toward = atan2 (body->guide_mm.x, body->guide_mm.y) - atan2 (pin->sin_phase, pin->cos_phase);
  double cosine = g * r > 0 ? (g * g + r * r - body->post_mm * body->post_mm) / (2 * g * r) : -2;
  /* The cosine falls from 1 (pin towards the guide) to -1; the post is too short where it is below. */
  double half = FW_PI - acos (fmax (-1, fmin (1, cosine)));
  bool always = g * r == 0 || cosine >= 1;
  double worst = fw_into_turn (toward + FW_PI), from = fw_into_turn (worst - half);
  fw_trouble_add (list, (FwTrouble) { .kind = FW_LEAVES_GUIDE,
                                      .severity = FW_FAILURE,
                                      .part = { FW_PART_BODY, 0 },
                                      .from = always ? 0 : from,
                                      .to = always ? 2 * FW_PI : from + 2 * half,
                                      .worst = worst,
                                      .value = g + r - body->post_mm,
                                      .unit = FW_UNIT_MM });
}

/* A part's mirror image, whichever side it is on; the part itself where it has none. */
static FwPart
image_of (const FwMechanism *mech, FwPart part)
{
  int image = -1;
  if (part.kind == FW_PART_MEMBER)
    image = mech->members[part.index].image >= 0 ? mech->members[part.index].image : mech->members[part.index].mirror_of;
  else if (part.kind == FW_PART_LINK)
    image = mech->links[part.index].image >= 0 ? mech->links[part.index].image : mech->links[part.index].mirror_of;
  return image >= 0 ? (FwPart) { part.kind, image } : part;
}

/* Panels and rods move; what has no image of its own has been looked at on both sides. */
static bool
moves_alone (FwPart part, FwPart image)
{
  return (part.kind == FW_PART_MEMBER || part.kind == FW_PART_LINK) && fw_part_equal (part, image);
}

/* What goes wrong on the right goes wrong on the left. */
static void
mirror_trouble (const FwMechanism *mech, FwTroubleList *list)
{
  for (int i = 0, n = list->n; i < n; i++)
    {
      FwTrouble twin = list->items[i];
      twin.part = image_of (mech, twin.part);
      twin.other = twin.has_other ? image_of (mech, twin.other) : twin.other;
      /* A rod that meets its own twin is its own image. */
      bool crossed = twin.has_other && fw_part_equal (twin.part, list->items[i].other);
      bool alone = twin.has_other
                   && (moves_alone (list->items[i].part, twin.part) || moves_alone (list->items[i].other, twin.other));
      if (!crossed && !alone && !fw_trouble_same (&twin, &list->items[i]))
        fw_trouble_add (list, twin);
    }
}

/* By how much the limit is passed, as a share of it, for ranking within a severity. */
static double
weight (const FwTrouble *t)
{
  double scale = t->unit == FW_UNIT_MM ? 20 : t->unit == FW_UNIT_DEG ? 45 : fmax (t->limit, 1);
  if (t->unit >= FW_UNIT_N && t->limit > 0)
    scale = t->limit; /* of forces: some limits are far below 1 */
  return fabs (t->value - t->limit) / scale;
}

static int
worse_first (const FwTrouble *x, const FwTrouble *y)
{
  if (x->severity != y->severity)
    return x->severity > y->severity ? -1 : 1;
  bool open_x = x->kind == FW_CANNOT_CLOSE, open_y = y->kind == FW_CANNOT_CLOSE;
  if (open_x != open_y)
    return open_x ? -1 : 1;
  double wx = weight (x), wy = weight (y);
  if (fabs (wx - wy) > 1e-6) /* twins differ by rounding only */
    return wx > wy ? -1 : 1;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  if (x->part.index != y->part.index)
    return x->part.index < y->part.index ? -1 : 1;
  return x->from < y->from ? -1 : x->from > y->from ? 1 : 0;
}

/* Lists are short, and qsort () may allocate. */
void
fw_trouble_sort (FwTroubleList *list)
{
  for (int i = 1; i < list->n; i++)
    {
      FwTrouble t = list->items[i];
      int k = i;
      for (; k > 0 && worse_first (&t, &list->items[k - 1]) < 0; k--)
        list->items[k] = list->items[k - 1];
      list->items[k] = t;
    }
}

void
fw_trouble_find (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  list->n = 0;
  list->full = false;
  find_gaps (turn, mech, list);
  find_past_stops (turn, mech, list);
  find_leaving_guide (mech, list);
  find_weak_push (turn, mech, list);
  find_flips (turn, mech, list);
  find_snaps (turn, mech, list);
  find_fitting_limits (turn, mech, list);
  fw_find_hits (turn, mech, list);
  mirror_trouble (mech, list);
  fw_trouble_sort (list);
}

const char *
fw_trouble_name (FwTroubleKind kind)
{
  static const char *const names[FW_N_TROUBLE_KINDS] = {
    [FW_CANNOT_CLOSE] = "cannot-close", [FW_PAST_STOP] = "past-stop",   [FW_WEAK_PUSH] = "weak-push",
    [FW_MAY_FLIP] = "may-flip",         [FW_SNAP] = "snap",             [FW_LEAN_LIMIT] = "lean-limit",
    [FW_BEND_LIMIT] = "bend-limit",     [FW_HITS] = "hits",             [FW_LEAVES_GUIDE] = "leaves-guide",
    [FW_LOAD_REVERSAL] = "load-reversal", [FW_OVER_RUN] = "over-run",   [FW_MAY_BUCKLE] = "may-buckle",
    [FW_RESONANCE] = "resonance",       [FW_OVER_STRESS] = "over-stress", [FW_MAY_TIP] = "may-tip",
    [FW_PINCH] = "pinch",
    [FW_THROW_TOO_SHORT] = "throw-too-short", [FW_THROWS_COLLIDE] = "throws-collide", [FW_NO_WAY_IN] = "no-way-in",               [FW_SELF_LOCKS] = "self-locks", [FW_SLAMS] = "slams",
  };
  return names[kind];
}

const char *
fw_part_name (const FwMechanism *mech, FwPart part)
{
  switch (part.kind)
    {
    case FW_PART_MEMBER:
      return mech->members[part.index].name;
    case FW_PART_LINK:
      return mech->links[part.index].name;
    case FW_PART_BODY:
      return "body";
    case FW_PART_CRANK:
      return part.index > 0 ? mech->design->crank.throws[part.index - 1].name : "crank";
    case FW_PART_BASE:
      return "base";
    case FW_PART_SPRING:
      return mech->coils[part.index].name;
    case FW_PART_WEIGHT:
      return mech->design->crank.weights[part.index].name;
    default:
      return "floor";
    }
}

bool
fw_trouble_same (const FwTrouble *a, const FwTrouble *b)
{
  return a->kind == b->kind && a->part.kind == b->part.kind && a->part.index == b->part.index
         && a->has_other == b->has_other
         && (!a->has_other || (a->other.kind == b->other.kind && a->other.index == b->other.index))
         && a->second == b->second;
}
