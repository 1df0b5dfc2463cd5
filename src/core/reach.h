/* Where the parts are over a turn, and what they stand on, for the searches for what comes close. */
#pragma once

#include "core/distance.h"
#include "core/trouble.h"
#include "core/turn.h"

/* Frames and rods as they stand at one crank angle: of a kept step, or of a pose. */
typedef struct
{
  const FwMechanism *mech;
  const double *kept; /* the step's row of `frames`; NULL: of the pose */
  const FwPose *pose;
} FwInstant;

/* The k-th kept step; parts that do not stand there are NaN. */
FwInstant fw_instant_kept (const FwTurn *turn, const FwMechanism *mechanism, int k);

/* How many steps a turn keeps. */
int fw_turn_kept (const FwTurn *turn);

/* World, mm. */
FwSegment fw_instant_rod (const FwInstant *now, int link);
FwFrame fw_instant_frame (const FwInstant *now, int member);

/* Fills the turn's boxes (links, then members): the room each takes at all kept steps, its thickness and 5 mm for what
 * happens between them included. Empty for what never stands. */
void fw_reach_boxes (const FwTurn *turn, const FwMechanism *mechanism);

/* True if there is more than `gap` mm between two boxes along one axis of the world, or one is empty. */
bool fw_boxes_apart (const FwReachBox *a, const FwReachBox *b, double gap);

#define FW_MOST_NEEDED 24

/* What two parts stand on: places in the mechanism's solve order, ascending. A design may have hundreds of other
 * panels, which need not be solved with them. */
typedef struct
{
  int place[FW_MOST_NEEDED], n;
  bool all; /* too many: the whole pose is solved */
} FwNeeded;

/* `mechanism` with two parts of it; what is neither rod nor panel stands on nothing. */
FwNeeded fw_needed_by (const FwMechanism *mechanism, FwPart a, FwPart b);

/* Whether a number of the design can change how the two move and where they are: false only where it surely cannot. */
bool fw_needed_moves (const FwNeeded *needed, const FwMechanism *mechanism, FwParam param);

/* What fw_pose_solve_at () gives, of pins, body and what is needed alone. */
void fw_needed_solve (const FwNeeded *needed, FwPose *pose, const FwMechanism *mechanism, double cosine, double sine,
                      bool derivatives);
