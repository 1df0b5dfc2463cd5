/* One pose: the mechanism at one crank angle, with first and second derivatives by crank angle.
 *
 * mm and radians; derivatives are by the crank angle in radians (see frame.h). */
#pragma once

#include "core/mechanism.h"

typedef enum
{
  FW_CLOSES,  /* assembled */
  FW_SHORT,   /* its own loop cannot be assembled here; see missing_mm */
  FW_ADRIFT,  /* its own loop is not at fault, but one it depends on cannot be assembled */
} FwClosure;

/* How a member sits. `motion` is always filled, so that it can be drawn: where the loop cannot be
 * assembled it is the nearest approach, at rest (derivatives 0), and not a solution. */
typedef struct
{
  FwMotion motion;
  FwVec3 axis;      /* world, unit: a growing angle turns by the right-hand rule about it */
  double cosine, sine; /* of the angle */
  double rate;      /* d(angle)/d(crank), rad to a radian */
  double rate2;     /* second derivative */
  double squareness; /* driven: sin of the push angle, 0..1; hanging: 1 */
  double gap_cosine, gap_sine; /* driven: of half the angle from this root to the other, both times the
                                * same positive length^2 (C and sqrt (A^2 + B^2 - C^2)) */
  double missing_mm; /* FW_SHORT: what the rod's length lacks; negative: what it has too much */
  FwClosure closure;
  bool on_stop;     /* hanging, and resting on a stop */
  double load_g;    /* hanging: mass of it and of what hangs on it */
  FwVec3 load[3];   /* hanging: their first moment about its hinge, world axes, g mm; and its derivatives,
                     * or room for sums */
} FwMemberPose;

typedef struct
{
  FwPointMotion from; /* the anchor: lower end as a rule */
  FwPointMotion to;   /* the point held on the panel */
} FwLinkPose;

typedef struct
{
  FwMotion motion; /* origin at the datum */
  double h_mm, z_mm, tilt;
  double missing_mm;
  FwClosure closure; /* CLOSES or SHORT */
  double guide_mm;   /* sleeve: pin to guide along the post; the post leaves its guide where this exceeds `post` */
} FwBodyPose;

typedef struct
{
  double crank;       /* rad */
  FwBodyPose body;
  FwPointMotion *pins;
  FwMemberPose *members;
  FwLinkPose *links;
} FwPose;

/* Bytes that a pose of this mechanism takes. */
size_t fw_pose_size (const FwMechanism *mechanism);

/* Lays a pose out in memory that the caller owns (aligned for double, fw_pose_size () bytes). */
FwPose *fw_pose_place (void *memory, const FwMechanism *mechanism);

/* malloc + place; NULL when memory runs out; free () releases it. */
FwPose *fw_pose_new (const FwMechanism *mechanism);

/* Solves the pose at a crank angle, rad. Never fails: what cannot be assembled says so in its
 * `closure`, and the rest is still solved. No allocation. */
void fw_pose_solve (FwPose *pose, const FwMechanism *mechanism, double crank);

/* The same with cos and sin of the crank angle at hand. `derivatives` false solves positions only:
 * axes and derivatives are then left as they were, and mean nothing. */
void fw_pose_solve_at (FwPose *pose, const FwMechanism *mechanism, double cosine, double sine,
                       bool derivatives);

/* Hanging panels as they are said to stand and move, not at rest. Arrays by member; those of driven
 * members are not read. Angles are functions of time, not of the crank alone: at a steady crank
 * speed w (rad/s, not 0) give rate = (da/dt) / w and rate2 = (d2a/dt2) / w^2, and every derivative
 * by crank angle comes out right, so that time derivatives follow with w and w^2 as ever. */
typedef struct
{
  const double *angle;        /* rad; stops are not looked at, but for on_stop */
  const double *rate, *rate2; /* by crank angle */
  const int *order;           /* the members to solve, each after its parent and its rod's anchor;
                               * NULL: all. Others are left as they were. */
  int n;                      /* of order */
} FwFreeState;

/* A pose with derivatives in which hanging members are where `free` says; what hangs on them, or is
 * driven from them, follows. Twins are solved each for itself. No allocation. */
void fw_pose_solve_free (FwPose *pose, const FwMechanism *mechanism, double cosine, double sine,
                         const FwFreeState *free);

/* True if body and all members are assembled. */
bool fw_pose_closes (const FwPose *pose, const FwMechanism *mechanism);

/* Angle of a member, rad, within half a turn of its `near`. */
double fw_pose_angle (const FwPose *pose, const FwMechanism *mechanism, int member);

/* The other root of a driven member, as a signed turn from the present angle, rad, in (-pi, pi];
 * 0 at a dead position; NaN for a member that hangs or cannot be assembled. */
double fw_pose_other_root (const FwPose *pose, const FwMechanism *mechanism, int member);

/* Of a rod, rad, 0..pi/2; NaN where it cannot be assembled.
 * push: transmission angle, pi/2 square to the panel's motion, 0 at a dead position.
 * lean: out of the plane square to the crank axis (what its lower fitting must allow).
 * bend: out of the plane square to the panel's hinge line (what its upper joint must allow). */
double fw_pose_push (const FwPose *pose, const FwMechanism *mechanism, int link);
double fw_pose_lean (const FwPose *pose, const FwMechanism *mechanism, int link);
double fw_pose_bend (const FwPose *pose, const FwMechanism *mechanism, int link);

/* Unit vector of the crank axis (+x across, +y along) and of h (+y across, +x along). */
FwVec3 fw_crank_axis (FwRuns runs);
FwVec3 fw_crank_h (FwRuns runs);

/* The crankshaft's centre line at crank angle 0, in world coordinates, from the left (or rear) end
 * to the right (or front): straight along the axis between throws, out to each pin and back.
 * Turn it by the crank angle with fw_crank_turn (). Writes at most `capacity` points, returns how
 * many there are. Ends reach a little beyond the outer bearings. */
int fw_crank_line (const FwDesign *design, FwVec3 *points, int capacity);
FwVec3 fw_crank_turn (FwRuns runs, FwVec3 point, double cosine, double sine);
