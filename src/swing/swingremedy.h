/* What keeps a hanging panel from slamming onto its stop: tried, as every remedy. */
#pragma once

#include "swing/swingtrouble.h"

/* Remedies for slams, the smallest change first: a stop moved either way (up to 60 degrees, or up
 * to the other one, so that the panel lies where it rests), a slower turn, more friction in the joints (up to 0.5 more; where the drive has a pin radius), the panel's centre
 * nearer its hinge (where its mass is given). Each was applied to a copy, whose swing and forces were
 * solved, and found free of that trouble on this panel and its twin, with no trouble of equal or worse
 * severity that was not there before. None for other kinds. `stop` may be NULL: it is asked between
 * trials, and inside the solving of a swing. Allocates. Returns how many were written. */
int fw_swing_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity,
                       FwStop stop, void *stop_data);
