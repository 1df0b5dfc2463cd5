/* What is solved of one mechanism over a whole turn: motion, forces, strength, trouble, joints that knock. No
 * widget and nothing of the main thread inside, so that a large one is solved beside it. */
#pragma once

#include "app/room.h"
#include "core/loadtrouble.h"
#include "draw/view.h"
#include "strength/strength.h"

G_BEGIN_DECLS

#define FW_SOLVED_STEPS 360
#define FW_SOLVED_BOUNCES FW_MOST_BOUNCES

typedef struct
{
  FwMechanism *own;     /* owned: what the rest was solved for; NULL: the caller keeps that */
  FwTurn *turn;         /* laid out in turn_room */
  FwLoadTurn *forces;   /* at the design's own speed; laid out in forces_room */
  FwStrength *strength; /* owned; reads the mechanism; NULL when memory ran out */
  FwTroubleList troubles;
  FwTrouble trouble_room[FW_TROUBLE_ROOM];
  FwBounce bounces[FW_SOLVED_BOUNCES]; /* of joints with play alone */
  int n_bounces;
  FwBearingLoads bearings; /* none: not asked for, or not known */
  FwRoom turn_room, forces_room, bearings_room;
} FwWhole;

/* Solves it anew, in the same memory where that is large enough. `bearings`: also what they bear, which costs a tenth
 * of the rest. The mechanism must stay as long as what was solved. `stop`, which may be NULL, is asked between pieces of
 * work; false: it was told to stop, and nothing of it may be read. */
gboolean fw_whole_solve (FwWhole *self, const FwMechanism *mechanism, gboolean bearings, FwStop stop, void *stop_data);

/* What the bearings bear, if it was left out. */
void fw_whole_find_bearings (FwWhole *self, const FwMechanism *mechanism);

/* What solving one pose costs, in parts of an ordinary design. */
double fw_whole_parts (const FwMechanism *mechanism);

/* Too much to be solved between two frames: decided by the parts alone, so that the same design is always treated
 * alike. */
gboolean fw_whole_is_large (const FwMechanism *mechanism);

/* NULL: nothing to do. */
void fw_whole_free (FwWhole *self);

/* Empties it and keeps its memory. */
void fw_whole_empty (FwWhole *self);

G_END_DECLS
