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
                          const FwMechanism *mechanism, FwTroubleList *list, FwStop stop,
                          void *stop_data)
{
  fw_trouble_find (turn, mechanism, list);
  if (told (stop, stop_data))
    return FALSE;
  if (strength != NULL)
    fw_strength_troubles (strength, list);
  else
    list->full = true;
  fw_load_trouble_find (forces, mechanism, list);
  fw_shop_trouble_find (mechanism, list);
  return !told (stop, stop_data);
}

gboolean
fw_all_trouble_find (const FwTurn *turn, const FwLoadTurn *forces, const FwMechanism *mechanism,
                     FwTroubleList *list, FwStop stop, void *stop_data)
{
  FwStrength *strength = fw_strength_new (mechanism);
  if (strength != NULL)
    fw_strength_solve (strength, forces);
  gboolean done
      = fw_all_trouble_but_slams (turn, forces, strength, mechanism, list, stop, stop_data)
        && fw_swing_trouble_of (mechanism, list, stop, stop_data);
  fw_strength_free (strength);
  return done;
}
