#include "shop/trouble.h"

#include "core/loadtrouble.h"
#include "shop/build.h"
#include "strength/strengthtrouble.h"
#include "swing/swingtrouble.h"

static gboolean
told (FwStop stop, void *stop_data)
{
  return stop != NULL && stop (stop_data);
}

gboolean
fw_all_trouble_but_slams (const FwTurn *turn, const FwLoadTurn *forces, const FwStrength *strength,
                          const FwMechanism *mechanism, FwTroubleList *list, FwBounce *bounces,
                          int *n_bounces, FwStop stop, void *stop_data)
{
  fw_trouble_find (turn, mechanism, list);
  if (told (stop, stop_data))
    return FALSE;
  if (strength != NULL)
    fw_strength_troubles (strength, list);
  else
    list->full = true;
  *n_bounces = fw_load_trouble_and_bounces (forces, mechanism, bounces, list);
  fw_shop_trouble_find (mechanism, list);
  return !told (stop, stop_data);
}

gboolean
fw_all_trouble_find (const FwTurn *turn, const FwLoadTurn *forces, const FwMechanism *mechanism,
                     FwTroubleList *list, FwStop stop, void *stop_data)
{
  FwStrength *strength = fw_strength_new (mechanism);
  FwBounce bounces[FW_MOST_BOUNCES];
  int n_bounces;
  if (strength != NULL)
    fw_strength_solve (strength, forces);
  gboolean done = fw_all_trouble_but_slams (turn, forces, strength, mechanism, list, bounces,
                                            &n_bounces, stop, stop_data)
                  && fw_swing_trouble_of (mechanism, list, stop, stop_data);
  fw_strength_free (strength);
  return done;
}
