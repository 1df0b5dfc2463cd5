/* Hanging panels that slam onto their stops, as trouble. */
#pragma once

#include "swing/swing.h"

/* Our own marks. A tip that meets its stop at 0.2 m/s has fallen by 2 mm, and is heard; ten millijoules
 * are 100 g dropped by 10 mm, ten times what wears a joint loose (core/loadtrouble.h), and a card or
 * glued hinge takes it at every turn. */
#define FW_SLAM_MPS 0.2
#define FW_SLAM_J 0.01

/* Adds FW_SLAMS for the hardest blow of every member on each of its stops: a warning beyond FW_SLAM_J,
 * else a remark beyond FW_SLAM_MPS. The swing must be solved. Sorts the list. No allocation. */
void fw_swing_trouble_find (const FwSwings *swing, FwTroubleList *list);

/* Solves the swing of a mechanism at its own speed for as long as `check` likes to wait, then the
 * above. False where memory ran out or it was stopped; nothing is added then. */
bool fw_swing_trouble_of (const FwMechanism *mechanism, FwTroubleList *list, FwStop stop, void *stop_data);
