/* Inside the core: what runs into what over the turn. */
#pragma once

#include "core/trouble.h"

/* Adds an FW_HITS for every pair of parts that meet and every stretch of the turn in which they do. */
void fw_find_hits (const FwTurn *turn, const FwMechanism *mechanism, FwTroubleList *list);

/* Adds one, or marks the list full. */
void fw_trouble_add (FwTroubleList *list, FwTrouble trouble);
