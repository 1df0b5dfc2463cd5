/* Panels that hang together and what moves with them: their equations of motion at a steady crank.
 *
 * The angles of the hanging panels, to their parents, are the coordinates q (rad). The crank's motion
 * is given, so that with M the masses felt along the coordinates and b what the rest of the motion
 * and gravity ask for,
 *   M q'' + b = Q,    Q the moments of friction and stops about the hinge lines.
 * Derivation: docs/swing.md. Inside: g, mm, s, so that M is in g mm^2 and moments in g mm^2/s^2. */
#pragma once

#include "core/loads.h"

#define FW_SWING_NM 1e-9 /* N m in a g mm^2/s^2; J too */

/* Hanging members that feel each other: on one another, through members that depend on several, or
 * through a spring. */
typedef struct
{
  const FwMechanism *mech;
  int n;           /* coordinates */
  int *coordinate; /* [n]: members, in solve order */
  int n_needed;
  int *needed; /* every member whose place matters, in solve order */
  int n_moving;
  int *moving;        /* those that the coordinates move, in solve order */
  int n_coils;
  int *coils;         /* springs with an end on one of them */
  FwInertia *inertia; /* [moving] */
  double speed;       /* of the crank, rad/s, above 0 */

  /* Of the state last given to fw_free_at (): */
  FwPose *pose;
  FwVec3 *shift;      /* [coordinate][member]: velocity of the origin for one rad/s of the coordinate */
  FwVec3 *turn;       /* the same of the spin; both 0 for what is not moved */
  FwReaction *own;    /* [moving]: what must act on it with all q'' 0, about its origin */
  FwReaction *gain;   /* [coordinate][moving]: and more for each unit of q'' */
  double *mass;       /* M, [n][n], g mm^2 */
  double *bias;       /* b, [n], g mm^2/s^2 */
  FwReaction *demand; /* [member]: room */
  double *angle, *rate, *rate2; /* [member]: room, rad, and by the crank angle */
} FwFree;

/* The group of each member (the index of a hanging member in it), -1 for what no hanging panel moves. */
void fw_free_groups (const FwMechanism *mechanism, int *group);

/* One group, by a label of fw_free_groups (), at a crank speed in rad/s. NULL when memory runs out; free () releases it. The
 * mechanism must outlive it. */
FwFree *fw_free_new (const FwMechanism *mechanism, const int *group, int label, double speed);

/* Masses and biases at a crank angle (rad), angles and rates (rad/s). False where something it needs
 * cannot be assembled there; what it has filled in is then not to be used. No allocation. */
bool fw_free_at (FwFree *f, double crank, const double *q, const double *qd);

/* Size of the force in the hinge of every coordinate, g mm/s^2, given the second rates at the state
 * last set. No allocation. */
void fw_free_hinge_forces (FwFree *f, const double *qdd, double *size);

/* Distance of a member's tip (u = span) from its own hinge line, mm. */
double fw_free_tip_mm (const FwMechanism *mechanism, int member);
