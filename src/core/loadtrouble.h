/* What the forces of a turn do wrong. */
#pragma once

#include "core/bounce.h"
#include "core/people.h"

/* A knock that is heard, m/s: our own mark, a drop from 0.02 mm. */
#define FW_KNOCK_MPS 0.02
/* A knock that wears its joint, J: our own mark, 100 g dropped from 1 mm. */
#define FW_KNOCK_J 1e-3

/* Appends load-reversal (of joints with play whose knock is above a mark), over-run (a hand-turned
 * crank that must be held back by more than FW_HAND_LIGHT_N) and may-tip to the list, and sorts it.
 * The turn must be solved; its pose and loads are overwritten. No allocation. */
void fw_load_trouble_find (const FwLoadTurn *turn, const FwMechanism *mechanism,
                           FwTroubleList *list);

/* Bounces that are looked for at most; more are said by a full list of trouble. */
#define FW_MOST_BOUNCES 128

/* The same, and hands out the bounces that the knocks are made of, as fw_bounces () finds them: they are the dearest
 * part. `bounces` has room for FW_MOST_BOUNCES; returns how many there are in it. */
int fw_load_trouble_and_bounces (const FwLoadTurn *turn, const FwMechanism *mechanism, FwBounce *bounces,
                                 FwTroubleList *list);
