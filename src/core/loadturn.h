/* The forces of a whole turn, in memory the caller owns: what bounce, flex, tip-over and the curves
 * are read from. N, N m, world axes; step i at crank angle 2 pi i / steps; NaN where the pose cannot
 * be assembled. */
#pragma once

#include "core/peaks.h"

typedef struct
{
  int steps;
  double speed;        /* of the crank, rad/s */
  double *values;      /* [load][step]: fw_load_count () rows, as fw_load_nth () */
  FwVec3 *pins;        /* [pin][step]: force the pin gives to what it carries */
  FwVec3 *hinges;      /* [member][step]: force from parent to member */
  FwVec3 *carrier;     /* [step]: force of guide, slide, link or base on the body */
  double *kinetic;     /* [step], J */
  double *stored;      /* [step], J: in the springs */
  double *loss;        /* [step], N m: what friction takes of the torque */
  double *grip;        /* [step]: as FwLoads; from 1 on a joint locks there; 0 where something cannot be assembled */
  int *grip_at;        /* [step]: member whose rod has it; -1: the body's guide, slide or link */
  FwVec3 *centre;      /* [step]: centre of mass of everything but base and crank pipe, mm */
  FwVec3 *push;        /* [step]: force the base gives to everything, N: weight and inertia together */
  FwVec3 *moment;      /* [step]: moment of it about the origin, N m */
  double mass_g;       /* of everything but the base */
  FwPose *pose;        /* overwritten */
  FwLoads *loads;
} FwLoadTurn;

size_t fw_load_turn_size (const FwMechanism *mechanism, int steps);
FwLoadTurn *fw_load_turn_place (void *memory, const FwMechanism *mechanism, int steps);
/* malloc + place; NULL when memory runs out; free () releases it. */
FwLoadTurn *fw_load_turn_new (const FwMechanism *mechanism, int steps);

/* Solves all steps at a crank speed, rad/s. No allocation. */
void fw_load_turn_solve (FwLoadTurn *turn, const FwMechanism *mechanism, double speed);

/* The same, and the motion of the turn with it, from the same poses; both have the same number of
 * steps. Gives what fw_turn_solve () and fw_load_turn_solve () give, in less time. */
void fw_load_turn_solve_both (FwLoadTurn *turn, FwTurn *motion, const FwMechanism *mechanism, double speed);

/* The same, at a crank speed, rad/s, for the steps from..to - 1 alone: for who may have to stop between them. All must
 * have been solved before any is read. `motion` may be NULL: without it. */
void fw_load_turn_solve_some (FwLoadTurn *turn, FwTurn *motion, const FwMechanism *mechanism, double speed, int from, int to);

/* The row of one force, `steps` values in its unit (FwLoadKind); NaN where it cannot be assembled. */
const double *fw_load_turn_row (const FwLoadTurn *turn, const FwMechanism *mechanism, FwLoad load);
