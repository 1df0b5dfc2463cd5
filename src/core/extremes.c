/* Extremes of a quantity, refined between the steps by solving further poses. */
#include <string.h>

#include "core/search.h"
#include "core/solve.h"
#include "core/turn.h"

typedef struct
{
  const FwTurn *turn;
  const FwMechanism *mech;
  FwQuantity quantity;
  double sign; /* +1 seeks the least, -1 the greatest */
} Seek;

static double
signed_value (void *context, double crank)
{
  const Seek *s = context;
  fw_pose_solve (s->turn->scratch, s->mech, crank);
  return s->sign * fw_quantity_value (s->turn->scratch, s->mech, s->quantity);
}

static double
rate_value (void *context, double crank)
{
  const Seek *s = context;
  fw_pose_solve (s->turn->scratch, s->mech, crank);
  const FwMemberPose *m = &s->turn->scratch->members[s->quantity.index];
  return m->closure == FW_CLOSES ? m->rate : NAN;
}

static bool
is_defined (void *context, double crank)
{
  return !isnan (signed_value (context, crank));
}

static double
crank_of (const FwTurn *turn, int step)
{
  return 2 * FW_PI * step / turn->steps;
}

static int
around (const FwTurn *turn, int step)
{
  return (step % turn->steps + turn->steps) % turn->steps;
}

/* The extreme beside a step that is no worse than its neighbours. Beside a gap the extreme may be
 * at the gap's edge. */
static FwExtreme
refine (Seek *s, int step, const double *row)
{
  const FwTurn *turn = s->turn;
  double b = crank_of (turn, step), width = 2 * FW_PI / turn->steps;
  double a = b - width, c = b + width;
  bool left = !isnan (row[around (turn, step - 1)]), right = !isnan (row[around (turn, step + 1)]);
  if (!left)
    a = fw_edge (is_defined, s, a, b);
  if (!right)
    c = fw_edge (is_defined, s, c, b);
  if (s->quantity.kind == FW_Q_ANGLE && left && right)
    {
      double slope_a = rate_value (s, a), slope_c = rate_value (s, c);
      if ((slope_a < 0) != (slope_c < 0) && !isnan (slope_a) && !isnan (slope_c))
        {
          double crank = fw_root (rate_value, s, a, c);
          return (FwExtreme) { fw_into_turn (crank), s->sign * signed_value (s, crank) };
        }
    }
  double value, crank = fw_least (signed_value, s, a, b, c, &value);
  const double ends[2] = { a, c };
  for (int i = 0; i < 2; i++)
    {
      double at_end = (i == 0 ? left : right) ? NAN : signed_value (s, ends[i]);
      if (at_end < value)
        {
          value = at_end;
          crank = ends[i];
        }
    }
  return (FwExtreme) { fw_into_turn (crank), s->sign * value };
}

bool
fw_turn_extremes (const FwTurn *turn, const FwMechanism *mech, FwQuantity q, FwExtreme *least, FwExtreme *greatest)
{
  const double *row = fw_turn_row (turn, mech, q);
  int low = -1, high = -1;
  for (int i = 0; i < turn->steps; i++)
    {
      if (isnan (row[i]))
        continue;
      if (low < 0 || row[i] < row[low])
        low = i;
      if (high < 0 || row[i] > row[high])
        high = i;
    }
  if (low < 0)
    return false;
  Seek down = { turn, mech, q, 1 }, up = { turn, mech, q, -1 };
  *least = refine (&down, low, row);
  *greatest = refine (&up, high, row);
  return true;
}

int
fw_turn_turning_points (const FwTurn *turn, const FwMechanism *mech, FwQuantity q, FwExtreme *points, int capacity)
{
  const double *row = fw_turn_row (turn, mech, q);
  double low = INFINITY, high = -INFINITY;
  for (int i = 0; i < turn->steps; i++)
    {
      low = fw_lesser (row[i], low);
      high = fw_greater (row[i], high);
    }
  double ripple = 1e-9 * (high - low) + 1e-12 * fabs (high); /* rounding is not a turning point */
  int n = 0;
  for (int i = 0; i < turn->steps; i++)
    {
      double before = row[around (turn, i - 1)], here = row[i], after = row[around (turn, i + 1)];
      bool is_high = here >= before && here > after, is_low = here <= before && here < after;
      if ((!is_high && !is_low) || fabs (2 * here - before - after) < ripple)
        continue;
      Seek s = { turn, mech, q, is_low ? 1 : -1 };
      FwExtreme point = refine (&s, i, row);
      int k = n < capacity ? n : capacity;
      for (; k > 0 && points[k - 1].crank > point.crank; k--)
        if (k < capacity)
          points[k] = points[k - 1];
      if (k < capacity)
        points[k] = point;
      n++;
    }
  return n < capacity ? n : capacity;
}
