/* How a pose changes with the numbers of the design: exact derivatives at a fixed crank angle, of all
 * parts by any set of numbers at once.
 *
 * Each loop's constraint |W - P| = length is differentiated implicitly and the result carried down the
 * tree (forward mode); nothing is differenced, but for panels that hang: their angle is differenced
 * from the exact solution, and what they carry follows from it. Derivation: docs/aim.md.
 * A derivative is per file unit of the number (mm, degree, g) of a quantity in the core's (rad, mm).
 * Of what is not assembled it is that of the nearest approach, as the pose is. */
#pragma once

#include "core/turn.h"

/* A rigid part's displacement per unit of a number. */
typedef struct
{
  FwVec3 move; /* of its origin, mm */
  FwVec3 turn; /* rotation vector, rad */
} FwTwist;

typedef struct
{
  int n; /* numbers */
  FwParam *params;
  int n_members, n_links;
  FwTwist *body;    /* [n] */
  double *tilt;     /* [n] of the body, rad */
  FwTwist *members; /* [member][n] */
  FwVec3 *axes;     /* [member][n]: of the hinge line's direction */
  double *angles;   /* [member][n], rad */
  FwVec3 *from, *to; /* [link][n], mm */
  double *missing;  /* [1 + members][n]: of missing_mm of the body, then the members; 0 where it closes */
} FwSensitivity;

/* Room for `n` numbers of designs of this shape; NULL when memory runs out; free () releases it. */
FwSensitivity *fw_sensitivity_new (const FwMechanism *mechanism, const FwParam *params, int n);

/* Derivatives in a pose solved by fw_pose_solve () of a mechanism of the same shape. Allocates only
 * where panels hang. False: memory ran out. */
bool fw_sensitivity_solve (FwSensitivity *sensitivity, const FwMechanism *mechanism, const FwPose *pose);

/* Of one quantity by all numbers, in `out` [n]. False, and 0 everywhere, for rates, which are not
 * covered. At an extreme over the turn this is also the derivative of the extreme (envelope theorem). */
bool fw_sensitivity_quantity (const FwSensitivity *sensitivity, const FwMechanism *mechanism,
                              const FwPose *pose, FwQuantity quantity, double *out);
