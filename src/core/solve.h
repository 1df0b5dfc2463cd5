/* Inside the core: the steps of solving one pose. */
#pragma once

#include "core/pose.h"

#define FW_PI 3.14159265358979323846

/* An angle in degrees as radians, and back. */
static inline double
fw_radians (double degrees)
{
  return degrees * (FW_PI / 180);
}

/* An angle in radians as degrees. */
static inline double
fw_degrees (double radians)
{
  return radians * (180 / FW_PI);
}

/* The lesser of two in one unit: as fmin () with `held` in place of NaN, but no call: `a` may be NaN, `held` is not. */
static inline double
fw_lesser (double a, double held)
{
  return a < held ? a : held;
}

/* The greater of two in one unit, likewise. */
static inline double
fw_greater (double a, double held)
{
  return a > held ? a : held;
}

/* The angle within half a turn of `near`. */
static inline double
fw_wrap_near (double angle, double near)
{
  double away = angle - near;
  if (away > FW_PI || away <= -FW_PI)
    angle -= 2 * FW_PI * ceil (away / (2 * FW_PI) - 0.5);
  return angle;
}

/* The same crank angle within the turn, [0, 2 pi). */
static inline double
fw_into_turn (double crank)
{
  crank -= 2 * FW_PI * floor (crank / (2 * FW_PI));
  return crank < 2 * FW_PI ? crank : 0;
}

/* A size rounded up so that what follows in one piece of memory is aligned for anything. */
static inline size_t
fw_padded (size_t size)
{
  return (size + 63) & ~(size_t)63;
}

/* All derivatives 0. */
static inline void
fw_stand_still (FwMotion *motion)
{
  const FwVec3 zero = { 0, 0, 0 };
  motion->velocity = motion->acceleration = motion->spin = motion->spin_rate = zero;
}

/* Pins and body. */
void fw_solve_ground (FwPose *pose, const FwMechanism *mechanism, double cosine, double sine, bool derivatives);

/* Finds which left-hand members mirror their twins. The order must be known. */
void fw_find_mirrors (FwMechanism *mechanism);

/* A member that mirrors its twin, when the twin is done. */
void fw_mirror_member (FwPose *pose, const FwMechanism *mechanism, int member, bool derivatives);

/* One driven member and its link, when its parent and its link's anchor are done. */
void fw_solve_driven (FwPose *pose, const FwMechanism *mechanism, int member, bool derivatives);

/* The hanging member at place k of the order and those that hang on it, which follow it there. */
void fw_solve_hanging (FwPose *pose, const FwMechanism *mechanism, int k, bool derivatives);

/* One hanging member at a given angle, rad, with given rates by the crank angle, when its parent is done. */
void fw_solve_free (FwPose *pose, const FwMechanism *mechanism, int member, double angle, double rate, double rate2);

/* What a member is carried by. */
static inline const FwMotion *
fw_parent_motion (const FwPose *pose, const FwMember *member)
{
  return member->parent == FW_ON_BODY ? &pose->body.motion : &pose->members[member->parent].motion;
}

/* Whether what carries a member closes. */
static inline FwClosure
fw_parent_closure (const FwPose *pose, const FwMember *member)
{
  return member->parent == FW_ON_BODY ? pose->body.closure : pose->members[member->parent].closure;
}

/* Sets frame and axis of a member from its parent's frame and its angle's cosine and sine. */
void fw_place_member (FwMemberPose *m, const FwMember *member, const FwMotion *parent, double cosine, double sine);

/* Motion of a member whose frame, axis and rates are set; `hinge` is its hinge point on the parent. */
void fw_move_member (FwMemberPose *m, const FwMotion *parent, const FwPointMotion *hinge);

/* How far a loop is from coming apart, mm: what its length may grow or shrink before it cannot be
 * assembled; negative by as much as is missing. Member -1: the body. Smooth through 0.
 * INFINITY for what always closes, NaN for a member that is adrift. */
double fw_pose_slack (const FwPose *pose, const FwMechanism *mechanism, int member);

/* Chooses every root. */
FwStatus fw_assemble (FwMechanism *mechanism);
