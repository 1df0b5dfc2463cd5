/* Everything that is solved from one design: mechanism, pose, and what is known of its whole turn. Kept in memory
 * that only grows, so that a drag solves in the same place again and again.
 *
 * The pose is solved at once. The whole turn of a large design comes later, from beside the main loop (wholejob.h);
 * until then nothing of it is known: the scene has no turn, no loads and an empty list of trouble. */
#pragma once

#include "app/whole.h"
#include "swing/swing.h"

G_BEGIN_DECLS

typedef struct
{
  gboolean bearings; /* wanted: they cost a tenth of the whole */
  double arrow_N;    /* see FwScene; 0: from the turn */

  FwMechanism *mech; /* owned; NULL before the first design */
  FwPose *pose;      /* at the crank angle shown; laid out in pose_room */
  FwWhole *whole;    /* owned; NULL before the first design */
  gboolean known;    /* of the whole turn; FALSE: `whole` is of another design, and not to be read */
  FwTroubleList troubles; /* worst first, kept in the whole; none while it is not known */
  FwScene scene;          /* of all of these */

  const FwSwings *swings; /* borrowed; NULL: not known (yet), or nothing hangs */
  gboolean show_swing;
  FwPose *swung; /* at the crank angle shown; laid out in swung_room */
  int turns;     /* that the crank has gone on since the design was taken */

  gboolean worn; /* `bounces` are those of all joints */
  FwBounce bounces[FW_SOLVED_BOUNCES];
  FwRoom pose_room, scratch_room, rows_room, swung_room, swing_room;
} FwSolved;

/* Takes a mechanism over, frees the one before and solves everything, the pose at `crank` (rad). Bounce
 * points are those of joints with play alone. */
void fw_solved_take (FwSolved *self, FwMechanism *mech, double crank);

/* The same, but for the whole turn, which is not known yet. */
void fw_solved_take_pose (FwSolved *self, FwMechanism *mech, double crank);

/* The whole turn of the mechanism that was taken last, solved elsewhere for one that is built alike; it is taken
 * over. */
void fw_solved_take_whole (FwSolved *self, FwWhole *whole);

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
