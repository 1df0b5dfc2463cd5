/* All trouble of a design, of whatever kind: one list, the same wherever it is shown or counted. */
#pragma once

#include <glib.h>

#include "core/loadtrouble.h"
#include "strength/strength.h"

G_BEGIN_DECLS

/* What `check` finds, worst first: of motion, of strength, of forces, of the crank as it is made,
 * and what slams. Both turns must be solved, the forces at the design's own speed; pose and loads
 * of `forces` are overwritten. `stop`, which may be NULL, is asked between pieces of work. FALSE:
 * it was told to stop, or no memory; the list is then not whole. */
gboolean fw_all_trouble_find (const FwTurn *turn, const FwLoadTurn *forces,
                              const FwMechanism *mechanism, FwTroubleList *list, FwStop stop,
                              void *stop_data);

/* The same but for what slams, for who solves strength and swings by himself: `strength` solved
 * from those forces (NULL: there was no memory for it, and the list is marked as full);
 * fw_swing_trouble_find () adds the rest. `bounces` takes those that the knocks are made of: room
 * for FW_MOST_BOUNCES. */
gboolean fw_all_trouble_but_slams (const FwTurn *turn, const FwLoadTurn *forces,
                                   const FwStrength *strength, const FwMechanism *mechanism,
                                   FwTroubleList *list, FwBounce *bounces, int *n_bounces,
                                   FwStop stop, void *stop_data);

G_END_DECLS
