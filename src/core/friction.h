/* Inside the core: Coulomb friction of the joints in one pose (docs/forces.md, "Friction").
 *
 * A pin joint takes the moment coefficient * radius * force against the turning of its two parts, a
 * guide or slide the force coefficient * normal force against sliding. What turns on the crank (rods
 * and posts on throws, the crank in its bearings) turns on the crank's own stock, so its radius is
 * half the crank's diameter; all other pins have the drive's pin radius. Units as inside loads.c. */
#pragma once

#include "core/loads.h"

/* Turning slower than this, rad or mm to a radian of the crank, counts as standing still: no friction. */
#define FW_STILL 1e-9

/* One joint's equation: x lever + |x| drag - rub |load - x a - |x| b| = wanted. */
typedef struct
{
  double lever, drag, wanted, rub;
  FwVec3 load, a, b;
} FwBalance;

/* A member held by a rod, with friction at its hinge and both ends of the rod. `given`: what must
 * act on the member; becomes what its hinge gives. `force`: what the rod gives it. False: it locks. */
bool fw_rub_member (FwLoads *loads, const FwMechanism *mechanism, const FwPose *pose, int member, FwReaction *given,
                    FwVec3 *force);

/* What the body's guide, slide or link gives in the plane of the crank, h and z, with friction; and
 * `about_pin`: the moment that must act on the body about the pin, z toward h. False: it locks. */
bool fw_rub_body (FwLoads *loads, const FwMechanism *mechanism, const FwPose *pose, FwVec2 force, double about_pin,
                  FwVec2 *side);

/* Friction of the crank in its bearings, when all pin forces are known. */
void fw_rub_bearings (FwLoads *loads, const FwMechanism *mechanism);

/* Unit vector about which the crank turns forward by the right-hand rule; a positive tilt is about it too. */
static inline FwVec3
fw_crank_spin (FwRuns runs)
{
  return runs == FW_RUNS_ACROSS ? fw_vec3 (-1, 0, 0) : fw_vec3 (0, 1, 0);
}
