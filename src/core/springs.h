/* Springs and cords, and counterweights on the crank: what they give in one pose. */
#pragma once

#include "core/loads.h"

/* A spring in one pose: its ends in the world, mm, how long it is, and its pull, N (negative: it
 * pushes its ends apart; 0: a slack cord). */
typedef struct
{
  FwVec3 from, to;
  double length_mm, pull_N;
} FwCoilPose;

/* A coil in a solved pose: its ends in the world, mm, and its pull, positive where it draws them together; a cord's
 * is never below 0. */
FwCoilPose fw_coil_pose (const FwMechanism *mechanism, const FwPose *pose, int coil);

/* Least and greatest pull of a coil over a turn, N; further poses are solved. False where something
 * cannot be assembled. */
bool fw_coil_pulls (const FwMechanism *mechanism, FwPose *pose, int coil, int steps, double *least_N, double *most_N);

/* Where a counterweight of the crank is, mm, and its derivatives by the crank angle, rad. */
FwPointMotion fw_crank_weight_at (const FwDesign *design, int weight, double crank);

/* Its name on one side: NAME, NAME.right or NAME.left; free () it. NULL: out of memory. */
char *fw_side_name (const char *name, bool twin, bool left);

/* Inside the core: writes both sides of every spring out (members, links and their order are known). */
FwStatus fw_build_coils (FwMechanism *mechanism, FwFault *fault);

/* Inside the core: adds what springs ask of the parts at their ends, their energy (J) and its slope
 * by the crank (N m); and what counterweights ask of the crank. */
void fw_load_springs (FwLoads *loads, const FwMechanism *mechanism, const FwPose *pose);
void fw_load_weights (FwLoads *loads, const FwMechanism *mechanism, const FwPose *pose, double speed);
