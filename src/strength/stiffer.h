/* What mends a part that is too weak or swings: thicker stock or a slower turn, tried. */
#pragma once

#include "strength/strengthtrouble.h"

/* Remedies for may-buckle, over-stress and resonance, best (smallest relative change) first: the
 * diameter of the rod, crank or post, the thickness of the panel, the speed. Each was applied to a copy
 * (whose weight follows where it came from stock), solved over the whole turn, and found free of
 * that trouble on this part and its twin, with no trouble of equal or worse severity that was not
 * there before. Multiples of half a millimetre or of one turn a minute. None for other kinds.
 * `stop` may be NULL. Allocates. Returns how many were written. */
int fw_strength_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list,
                          int capacity, FwStop stop, void *stop_data);
