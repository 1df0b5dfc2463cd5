#include "swing/swingtrouble.h"

#include "core/hits.h"
#include "core/loads.h"

#define STEPS 360
#define A_MOMENT 1e-4 /* rad: a blow takes no time */

/* Worse: the more energy, and with equal energy (none has any) the faster. */
static bool
harder (const FwSwingBlow *a, const FwSwingBlow *b)
{
  return a->energy_J > b->energy_J || (a->energy_J == b->energy_J && a->speed_mps > b->speed_mps);
}

static const FwSwingBlow *
hardest (const FwSwings *s, int member, bool high)
{
  const FwSwingBlow *worst = NULL;
  for (int i = 0; i < s->n_blows; i++)
    {
      const FwSwingBlow *b = &s->blows[i];
      if (b->member == member && b->high == high && (worst == NULL || harder (b, worst)))
        worst = b;
    }
  return worst;
}

void
fw_swing_trouble_find (const FwSwings *s, FwTroubleList *list)
{
  for (int i = 0; i < 2 * s->mechanism->n_members; i++)
    {
      const FwSwingBlow *b = hardest (s, i / 2, i % 2 == 1);
      if (b == NULL)
        continue;
      bool hard = b->energy_J > FW_SLAM_J;
      if (!hard && !(b->speed_mps > FW_SLAM_MPS))
        continue;
      fw_trouble_add (list, (FwTrouble) { .kind = FW_SLAMS,
                                          .severity = hard ? FW_WARNING : FW_REMARK,
                                          .part = { FW_PART_MEMBER, b->member },
                                          .from = b->crank,
                                          .to = b->crank + A_MOMENT,
                                          .worst = b->crank,
                                          .value = hard ? b->energy_J : b->speed_mps,
                                          .limit = hard ? FW_SLAM_J : FW_SLAM_MPS,
                                          .unit = hard ? FW_UNIT_J : FW_UNIT_MPS });
    }
  fw_trouble_sort (list);
}

bool
fw_swing_trouble_of (const FwMechanism *mech, FwTroubleList *list, FwStop stop, void *stop_data)
{
  if (!fw_mechanism_hangs (mech))
    return true;
  FwSwings *s = fw_swing_new (mech, STEPS);
  bool done = s != NULL && fw_swing_solve (s, fw_crank_speed (mech->design), stop, stop_data) == FW_SWING_OK;
  if (done)
    fw_swing_trouble_find (s, list);
  fw_swing_free (s);
  return done;
}
