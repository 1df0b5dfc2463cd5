/* Where a loop cannot be assembled, with its edges and the greatest missing length. */
#include "core/search.h"
#include "core/solve.h"
#include "core/turn.h"

typedef struct
{
  const FwTurn *turn;
  const FwMechanism *mech;
  int member;
} Seek;

static void
solve (const Seek *s, double crank)
{
  fw_pose_solve_at (s->turn->scratch, s->mech, cos (crank), sin (crank), false);
}

static FwClosure
closure_at (const Seek *s, double crank, double *missing)
{
  solve (s, crank);
  const FwPose *pose = s->turn->scratch;
  *missing = s->member < 0 ? pose->body.missing_mm : pose->members[s->member].missing_mm;
  return s->member < 0 ? pose->body.closure : pose->members[s->member].closure;
}

static bool
is_short (void *context, double crank)
{
  double missing;
  return closure_at (context, crank, &missing) == FW_SHORT;
}

static double
slack (void *context, double crank)
{
  const Seek *s = context;
  solve (s, crank);
  return fw_pose_slack (s->turn->scratch, s->mech, s->member);
}

static double
crank_of (const FwTurn *turn, int step)
{
  return 2 * FW_PI * step / turn->steps;
}

static FwInterval
interval (const Seek *s, double from, double to, double worst)
{
  double missing;
  closure_at (s, worst, &missing);
  double start = fw_into_turn (from);
  return (FwInterval) { start, start + (to - from), fw_into_turn (worst), missing };
}

/* The worst point of a run of short steps: the least slack, refined. */
static double
worst_of_run (Seek *s, const double *row, int first, int count, double from, double to)
{
  int steps = s->turn->steps, worst = first;
  for (int i = first; i < first + count; i++)
    if (fabs (row[i % steps]) > fabs (row[worst % steps]))
      worst = i;
  double b = crank_of (s->turn, worst), width = 2 * FW_PI / steps, value;
  return fw_least (slack, s, fmax (from, b - width), b, fmin (to, b + width), &value);
}

static FwInterval
run_interval (Seek *s, const double *row, int first, int count)
{
  int steps = s->turn->steps;
  if (count == steps && !s->turn->rough)
    {
      double worst = worst_of_run (s, row, 0, steps, 0, 2 * FW_PI);
      return interval (s, 0, 2 * FW_PI, worst);
    }
  if (s->turn->rough)
    {
      double begin = crank_of (s->turn, first);
      return interval (s, begin, begin + crank_of (s->turn, count), begin);
    }
  double from = fw_edge (is_short, s, crank_of (s->turn, first - 1), crank_of (s->turn, first));
  int last = first + count - 1;
  double to = fw_edge (is_short, s, crank_of (s->turn, last + 1), crank_of (s->turn, last));
  return interval (s, from, to, worst_of_run (s, row, first, count, from, to));
}

/* Closeness to coming apart at a step, cheaply: small where a gap may hide between the steps. The
 * members' other root is at hand; the body's slack is a few operations. */
static double
closeness (const Seek *s, int step)
{
  if (s->member >= 0)
    return fw_turn_row (s->turn, s->mech, (FwQuantity) { FW_Q_OTHER_ROOT, s->member })[step];
  if (s->mech->design->body.ride == FW_RIDE_SLEEVE)
    return INFINITY; /* comes apart only where the pin meets the guide, at a point */
  double crank = crank_of (s->turn, step);
  fw_solve_ground (s->turn->scratch, s->mech, cos (crank), sin (crank), false);
  return fw_pose_slack (s->turn->scratch, s->mech, -1);
}

/* A gap too narrow to hold a step: slack dips below zero between two that close. */
static bool
hidden_gap (Seek *s, int step, FwInterval *out)
{
  double width = 2 * FW_PI / s->turn->steps, b = crank_of (s->turn, step), value;
  double worst = fw_least (slack, s, b - width, b, b + width, &value);
  if (!(value < 0) || !is_short (s, worst))
    return false;
  double from = fw_edge (is_short, s, worst > b ? b : b - width, worst);
  double to = fw_edge (is_short, s, worst > b ? b + width : b, worst);
  *out = interval (s, from, to, worst);
  return true;
}

static bool
is_adrift (void *context, double crank)
{
  double missing;
  return closure_at (context, crank, &missing) == FW_ADRIFT;
}

/* A gap between a step that closes and one that is adrift: before what carries it came apart, the
 * loop may have come apart itself. `closing` and `adrift` are neighbouring steps (either order). */
static bool
gap_before_adrift (Seek *s, int closing, int adrift, FwInterval *out)
{
  double good = crank_of (s->turn, closing);
  double lost = fw_edge (is_adrift, s, good, crank_of (s->turn, adrift));
  double inside = lost + (good > lost ? 1e-7 : -1e-7);
  if (!is_short (s, inside))
    return false;
  double begin = fw_edge (is_short, s, good, inside);
  double from = fmin (begin, lost), to = fmax (begin, lost), value;
  *out = interval (s, from, to, fw_least (slack, s, from, inside, to, &value));
  return true;
}

static bool
may_come_apart (const FwMechanism *mech, int member)
{
  if (member >= 0)
    return mech->members[member].rod >= 0;
  return mech->design->body.ride != FW_RIDE_FIXED;
}

/* Slack changes by no more than the parts move in a step: where the other root is further off, rad, at two steps, nothing
 * comes apart between them. Ours. */
#define NEAR_ROOT 0.35

/* Nothing is missing at any step, and nothing can be between them. */
static bool
never_near (const Seek *s, const double *missing)
{
  int steps = s->turn->steps;
  for (int i = 0; i < steps; i++)
    if (missing[i] != 0)
      return false;
  if (s->member < 0)
    return s->mech->design->body.ride == FW_RIDE_SLEEVE;
  const double *root = fw_turn_row (s->turn, s->mech, (FwQuantity) { FW_Q_OTHER_ROOT, s->member });
  for (int i = 0; i < steps; i++)
    if (!(root[i] >= NEAR_ROOT))
      return false;
  return true;
}

int
fw_turn_gaps (const FwTurn *turn, const FwMechanism *mech, int member, FwInterval *intervals, int capacity)
{
  if (!may_come_apart (mech, member))
    return 0;
  Seek s = { turn, mech, member };
  int steps = turn->steps, n = 0;
  const double *row = turn->missing + (size_t)(member + 1) * (size_t)steps;
  if (never_near (&s, row))
    return 0;
  int start = 0; /* begin at a step that is not short, so that no run is cut in two */
  while (start < steps && row[start] != 0 && !isnan (row[start]))
    start++;
  if (start == steps)
    {
      if (capacity > 0)
        intervals[0] = run_interval (&s, row, 0, steps);
      return capacity > 0 ? 1 : 0;
    }
  double before = closeness (&s, (start + steps - 1) % steps), here = closeness (&s, start);
  for (int i = start; i < start + steps && n < capacity; i++)
    {
      int run = 0;
      while (run < steps && row[(i + run) % steps] != 0 && !isnan (row[(i + run) % steps]))
        run++;
      if (run > 0)
        {
          intervals[n++] = run_interval (&s, row, i, run);
          i += run - 1;
          before = NAN;
          here = closeness (&s, (i + 1) % steps);
          continue;
        }
      double after = closeness (&s, (i + 1) % steps);
      bool dips = here < before && here <= after && isfinite (here);
      bool near = member < 0 || here < NEAR_ROOT;
      if (dips && near && hidden_gap (&s, i % steps, &intervals[n]))
        n++;
      bool lost = isnan (row[(i + 1) % steps]) && row[i % steps] == 0;
      bool found = isnan (row[i % steps]) && row[(i + 1) % steps] == 0;
      if ((lost || found) && n < capacity
          && gap_before_adrift (&s, lost ? i : i + 1, lost ? i + 1 : i, &intervals[n]))
        n++;
      before = here;
      here = after;
    }
  return n;
}
