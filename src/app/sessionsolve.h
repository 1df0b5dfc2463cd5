/* Everything that is solved from one design: mechanism, pose, turn, forces, strength, trouble. Kept in
 * memory that only grows, so that a drag solves in the same place again and again. */
#pragma once

#include "app/room.h"
#include "draw/view.h"
#include "strength/strength.h"
#include "swing/swing.h"

G_BEGIN_DECLS

#define FW_SOLVED_STEPS 360
#define FW_SOLVED_BOUNCES 128

typedef struct
{
  gboolean bearings; /* wanted: they cost a tenth of the whole */
  double arrow_N;    /* see FwScene; 0: from the turn */

  FwMechanism *mech; /* owned; NULL before the first design */
  FwPose *pose;      /* at the crank angle shown; laid out in pose_room */
  FwTurn *turn;
  FwLoadTurn *forces;   /* at the design's own speed */
  FwStrength *strength; /* owned; NULL when memory ran out */
  FwTroubleList troubles;
  FwScene scene; /* of all of these */

  const FwSwings *swings; /* borrowed; NULL: not known (yet), or nothing hangs */
  gboolean show_swing;
  FwPose *swung; /* at the crank angle shown; laid out in swung_room */
  int turns;     /* that the crank has gone on since the design was taken */

  FwTrouble trouble_room[FW_TROUBLE_ROOM];
  FwBounce bounces[FW_SOLVED_BOUNCES];
  FwRoom pose_room, scratch_room, turn_room, forces_room, rows_room, bearings_room, swung_room, swing_room;
} FwSolved;

/* Takes a mechanism over, frees the one before and solves everything, the pose at `crank` (rad). Bounce
 * points are those of joints with play alone. */
void fw_solved_take (FwSolved *self, FwMechanism *mech, double crank);

/* The pose alone. */
void fw_solved_turn_to (FwSolved *self, double crank);

/* How hanging panels really move: their pose, their curves, and trouble of those that slam. They must
 * stay until the next mechanism is taken. */
void fw_solved_take_swings (FwSolved *self, const FwSwings *swings);
void fw_solved_show_swing (FwSolved *self, gboolean show);

/* Bounce points of all joints, those without play as if worn, found elsewhere for this design. */
void fw_solved_take_worn (FwSolved *self, const FwBounce *list, int n);

/* What the bearings bear, if it was left out. */
void fw_solved_find_bearings (FwSolved *self);

void fw_solved_clear (FwSolved *self);

G_END_DECLS
