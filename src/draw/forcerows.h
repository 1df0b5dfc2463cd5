/* Any quantity of a scene over the turn, be it of the motion or a load: its row, its value at the
 * pose, where it turns round. Plain numbers in the core's units. */
#pragma once

#include "draw/view.h"

G_BEGIN_DECLS

typedef struct
{
  const double *values; /* [steps]; NaN where it cannot be assembled */
  int steps;            /* 0: the scene does not know it */
  double *owned;        /* g_free it */
} FwRow;

/* True for loads (FW_Q_TORQUE and above). */
static inline gboolean
fw_quantity_is_load (FwQuantity quantity)
{
  return quantity.kind >= FW_Q_TORQUE;
}

/* Its values over the turn, in the core's unit. Those of motion and most loads are the scene's; free `owned` all the same. */
FwRow fw_scene_row (const FwScene *scene, FwQuantity quantity);

/* At the pose, in the core's unit; NaN where it is not known. */
double fw_scene_value (const FwScene *scene, FwQuantity quantity);

/* As fw_turn_turning_points (), of any quantity; those of loads to a parabola through three steps. */
int fw_scene_turning_points (const FwScene *scene, FwQuantity quantity, FwExtreme *points,
                             int capacity);

/* The loads that a scene has rows of: torque first. Writes at most `capacity`, returns how many. */
int fw_scene_loads (const FwScene *scene, FwQuantity *list, int capacity);

/* False for a quantity of a part that the mechanism does not have. */
gboolean fw_quantity_known (const FwMechanism *mechanism, FwQuantity quantity);

/* The joint has play, so that a bounce of it is a real knock. */
gboolean fw_bounce_is_real (const FwMechanism *mechanism, const FwBounce *bounce);

/* The pose stands between where the load turns round and where it knocks, or within 1.5 degrees. */
gboolean fw_bounce_holds (const FwBounce *bounce, double crank);

G_END_DECLS
