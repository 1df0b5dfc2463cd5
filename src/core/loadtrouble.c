#include "core/loadtrouble.h"

#include "core/hits.h"
#include "core/search.h"
#include "core/solve.h"

static int
find_reversals (const FwLoadTurn *turn, const FwMechanism *mech, FwBounce *bounces,
                FwTroubleList *list)
{
  int found = fw_bounces (turn, mech, bounces, FW_MOST_BOUNCES);
  int n = found < FW_MOST_BOUNCES ? found : FW_MOST_BOUNCES;
  list->full = list->full || found > n;
  for (int i = 0; i < n; i++)
    {
      const FwBounce *b = &bounces[i];
      bool hard = b->energy_J > FW_KNOCK_J;
      if (!hard && !(b->speed_mps > FW_KNOCK_MPS))
        continue;
      fw_trouble_add (list, (FwTrouble){ .kind = FW_LOAD_REVERSAL,
                                         .severity = hard ? FW_WARNING : FW_REMARK,
                                         .part = b->part,
                                         .from = b->crank,
                                         .to = b->crank + b->cross_s * turn->speed,
                                         .worst = b->knock,
                                         .value = hard ? b->energy_J : b->speed_mps,
                                         .limit = hard ? FW_KNOCK_J : FW_KNOCK_MPS,
                                         .unit = hard ? FW_UNIT_J : FW_UNIT_MPS });
    }
  return n;
}

/* ---- Stretches of the steps in which something exceeds its limit ---- */

typedef double (*Excess) (const FwLoadTurn *turn, const FwMechanism *mech, int step);

static double
crossing (double a, double b)
{
  return a == b ? 0.5 : a / (a - b);
}

/* Adds the model for every stretch in which the excess is above zero; its ends lie where the
 * straight line between two steps crosses, its worst where the excess is greatest. */
static void
add_stretches (const FwLoadTurn *turn, const FwMechanism *mech, Excess excess,
               const FwTrouble *model, FwTroubleList *list)
{
  int steps = turn->steps, start = 0;
  double width = 2 * FW_PI / steps;
  while (start < steps && excess (turn, mech, start) > 0)
    start++;
  for (int i = start; i < start + steps;)
    {
      bool whole = start == steps;
      if (!whole && !(excess (turn, mech, i % steps) > 0))
        {
          i++;
          continue;
        }
      int first = i, worst = i;
      for (; i < first + steps && excess (turn, mech, i % steps) > 0; i++)
        if (excess (turn, mech, i % steps) > excess (turn, mech, worst % steps))
          worst = i;
      double most = excess (turn, mech, worst % steps);
      double into = crossing (excess (turn, mech, (first + steps - 1) % steps),
                              excess (turn, mech, first % steps));
      double out
          = crossing (excess (turn, mech, (i + steps - 1) % steps), excess (turn, mech, i % steps));
      FwTrouble t = *model;
      t.from = whole ? 0 : (first - 1 + into) * width;
      t.to = whole ? 2 * FW_PI : (i - 1 + out) * width;
      double turns = floor (t.from / (2 * FW_PI)) * 2 * FW_PI;
      t.from -= turns;
      t.to -= turns;
      t.worst = (worst % steps) * width;
      t.value = model->limit + (model->unit == FW_UNIT_DEG ? -most : most);
      fw_trouble_add (list, t);
      if (whole)
        return;
    }
}

static double
push_back (const FwLoadTurn *turn, const FwMechanism *mech, int step)
{
  double torque = fw_load_turn_row (turn, mech, (FwLoad){ FW_LOAD_TORQUE, 0 })[step];
  return -torque * 1000 / mech->design->base.handle_mm - FW_HAND_LIGHT_N;
}

static void
find_over_run (const FwLoadTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  FwHand hand;
  if (mech->design->drive.motor || !fw_hand (turn, mech, &hand) || !(hand.back_N > FW_HAND_LIGHT_N))
    return;
  const FwTrouble model = { .kind = FW_OVER_RUN,
                            .severity = FW_REMARK,
                            .part = { FW_PART_CRANK, 0 },
                            .limit = FW_HAND_LIGHT_N,
                            .unit = FW_UNIT_N };
  add_stretches (turn, mech, push_back, &model, list);
}

/* In degrees below the limit, of the worst rim. */
static double
tilt_lacking (const FwLoadTurn *turn, const FwMechanism *mech, int step)
{
  double least = INFINITY;
  for (int rim = 0; rim < 4; rim++)
    least = fmin (least, fw_degrees (fw_stand_tilt (turn, mech, step, rim)));
  return FW_STAND_TILT_DEG - least;
}

static void
find_tipping (const FwLoadTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  FwStand stand;
  if (!fw_stand (turn, mech, &stand) || !(stand.tilt_deg < FW_STAND_TILT_DEG))
    return;
  const FwTrouble model = { .kind = FW_MAY_TIP,
                            .severity = stand.tilt_deg > 0 ? FW_WARNING : FW_FAILURE,
                            .part = { FW_PART_BASE, 0 },
                            .limit = FW_STAND_TILT_DEG,
                            .unit = FW_UNIT_DEG };
  add_stretches (turn, mech, tilt_lacking, &model, list);
}

/* Near locking, push and friction grow without bound, so the edge is sharp in the forces but the grip
 * itself is smooth. */
static double
gripping (const FwLoadTurn *turn, const FwMechanism *mech, int step)
{
  (void)mech;
  return fmin (turn->grip[step], 1e6) - 1;
}

static FwPart
gripped_part (const FwLoadTurn *turn, const FwMechanism *mech)
{
  int worst = 0;
  for (int i = 1; i < turn->steps; i++)
    if (turn->grip[i] > turn->grip[worst])
      worst = i;
  int member = turn->grip_at[worst];
  return member < 0 ? (FwPart){ FW_PART_BODY, 0 } : (FwPart){ FW_PART_LINK, mech->members[member].rod };
}

static void
find_locking (const FwLoadTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  bool locks = false;
  for (int i = 0; i < turn->steps && !locks; i++)
    locks = turn->grip[i] >= 1;
  if (!locks)
    return;
  const FwTrouble model = { .kind = FW_SELF_LOCKS,
                            .severity = FW_FAILURE,
                            .part = gripped_part (turn, mech),
                            .limit = 1,
                            .unit = FW_UNIT_NONE };
  add_stretches (turn, mech, gripping, &model, list);
}

int
fw_load_trouble_and_bounces (const FwLoadTurn *turn, const FwMechanism *mech, FwBounce *bounces,
                             FwTroubleList *list)
{
  int n = find_reversals (turn, mech, bounces, list);
  find_over_run (turn, mech, list);
  find_tipping (turn, mech, list);
  find_locking (turn, mech, list);
  fw_trouble_sort (list);
  return n;
}

void
fw_load_trouble_find (const FwLoadTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  FwBounce bounces[FW_MOST_BOUNCES];
  fw_load_trouble_and_bounces (turn, mech, bounces, list);
}
