/* A whole turn: every quantity of a mechanism at equal steps of the crank, in memory the caller owns. */
#pragma once

#include "core/pose.h"

/* An upright box in world coordinates, mm. */
typedef struct
{
  FwVec3 low, high;
} FwReachBox;

typedef enum
{
  FW_Q_BODY_H,       /* mm */
  FW_Q_BODY_Z,       /* mm */
  FW_Q_BODY_TILT,    /* rad */
  FW_Q_ANGLE,        /* member: rad */
  FW_Q_RATE,         /* member: rad/rad */
  FW_Q_RATE2,        /* member: rad/rad^2 */
  FW_Q_OTHER_ROOT,   /* member: size of the turn to the other root, rad, 0..pi */
  FW_Q_PUSH,         /* link: rad */
  FW_Q_LEAN,         /* link: rad */
  FW_Q_BEND,         /* link: rad */
  FW_N_Q_KINDS,
  /* Beyond the motion: loads. A turn has no rows of them; they come from FwLoadTurn and from
   * strength, and fw_quantity_value () does not know them. */
  FW_Q_TORQUE = FW_N_Q_KINDS, /* crank: N m */
  FW_Q_HANDLE,       /* crank: N at the handle */
  FW_Q_FORCE,        /* link: N, pull positive */
  FW_Q_GUIDE,        /* body: N, of guide, slide or link */
  FW_Q_FOOT,         /* body: N, at the post's or rail rod's foot, size */
  FW_Q_HINGE,        /* member: N, size */
  FW_Q_PIN,          /* pin: N, size */
  FW_Q_BEARING,      /* crank bearing, from the lowest station: N, size */
  FW_Q_STRESS,       /* Pa; index: 0 crank, 1 post or rail rod, then links, then members */
  FW_Q_SAG,          /* m, signed; index as of stress; crank: how far a pin lags along its circle */
  FW_Q_SWING,        /* hanging member: rad, where it really is (swing/swing.h); over the first turn of its rows */
  FW_N_CURVE_KINDS
} FwQuantityKind;

typedef struct
{
  FwQuantityKind kind;
  int index; /* member or link in the mechanism; 0 for the body */
} FwQuantity;

typedef struct
{
  int steps;
  bool rough;       /* set by the caller: edges and worst values of trouble only to the nearest step,
                     * which is enough, and faster, for trials */
  int n_quantities;
  double *values;   /* [quantity][step]; NaN where it cannot be assembled */
  double *missing;  /* [1 + members][step]: missing_mm of the body, then of each member; 0 where it
                     * closes; NaN where it is adrift */
  FwPose *scratch;
  int stride;       /* every so many steps the frames are kept too, for the search for collisions */
  double *frames;   /* [kept step][links * 6 (from, to) + members * 12 (origin, u, v, w)] */
  FwReachBox *boxes; /* room for the search for collisions: links, then members */
} FwTurn;

/* How many quantities a mechanism has, and which the i-th is: body h, z, tilt; then angle, rate,
 * rate2, other root member by member; then push, lean, bend link by link. */
int fw_quantity_count (const FwMechanism *mechanism);
FwQuantity fw_quantity_nth (const FwMechanism *mechanism, int i);
int fw_quantity_index (const FwMechanism *mechanism, FwQuantity quantity);

/* Value of one quantity in one pose, in the unit of its kind; NaN where it cannot be assembled. */
double fw_quantity_value (const FwPose *pose, const FwMechanism *mechanism, FwQuantity quantity);

size_t fw_turn_size (const FwMechanism *mechanism, int steps);
FwTurn *fw_turn_place (void *memory, const FwMechanism *mechanism, int steps);
/* malloc + place; NULL when memory runs out; free () releases it. */
FwTurn *fw_turn_new (const FwMechanism *mechanism, int steps);

/* Solves all steps; step i is at crank angle 2 pi i / steps. No allocation. */
void fw_turn_solve (FwTurn *turn, const FwMechanism *mechanism);

/* Keeps the pose in `scratch`, with derivatives, as one step: for who solves more from the same poses. */
void fw_turn_keep (FwTurn *turn, const FwMechanism *mechanism, int step);

/* The row of one quantity, `steps` values in the unit of its kind. */
const double *fw_turn_row (const FwTurn *turn, const FwMechanism *mechanism, FwQuantity quantity);

typedef struct
{
  double crank; /* rad, [0, 2 pi) */
  double value;
} FwExtreme;

/* Least and greatest value over the turn, refined between the steps by solving further poses.
 * False where the quantity is never defined. */
bool fw_turn_extremes (const FwTurn *turn, const FwMechanism *mechanism, FwQuantity quantity,
                       FwExtreme *least, FwExtreme *greatest);

/* Crank angles (rad, ascending) at which the quantity turns (local extremes), refined. Writes at
 * most `capacity`, returns how many there are. */
int fw_turn_turning_points (const FwTurn *turn, const FwMechanism *mechanism, FwQuantity quantity,
                            FwExtreme *points, int capacity);

typedef struct
{
  double from, to; /* rad; 0 <= from < 2 pi, from < to <= from + 2 pi; a whole turn is [0, 2 pi] */
  double worst;    /* crank angle of the worst value, rad, in [0, 2 pi) */
  double value;    /* there */
} FwInterval;

/* Where the body or a member itself cannot be assembled (not where it is adrift); member -1: the
 * body. Edges to better than 1e-5 rad. Worst value: the greatest missing length, signed, mm. */
int fw_turn_gaps (const FwTurn *turn, const FwMechanism *mechanism, int member,
                  FwInterval *intervals, int capacity);

/* True if everything is assembled at all steps. */
bool fw_turn_closes (const FwTurn *turn, const FwMechanism *mechanism);
