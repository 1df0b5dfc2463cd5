/* What the bearings of the crank bear, over a turn. */
#pragma once

#include "core/loadturn.h"
#include "strength/crank.h"

/* What each bearing gives to the crank, N, world axes, at `steps` equal steps of the turn, of which
 * turn->steps must be a multiple: forces[bearing * steps + step], for flex->n_bearings bearings. NaN
 * where the pose cannot be assembled. The flex must be FW_FRAME_OK; its present load is overwritten.
 * False: no memory. */
bool fw_bearing_forces (FwCrankFlex *flex, const FwMechanism *mechanism, const FwLoadTurn *turn,
                        int steps, FwVec3 *forces);
