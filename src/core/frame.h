/* Where a rigid part is, and how that changes with crank angle.
 *
 * Lengths are mm, angles radians. "Time" is the crank angle t in radians, so a velocity is mm/rad,
 * a spin (angular velocity) rad/rad and an acceleration mm/rad^2. Multiply by the crank's rad/s
 * (squared for accelerations) for SI rates. */
#pragma once

#include "core/vec.h"

/* An orthonormal frame in world coordinates. The frame of a left-hand member is the mirror image
 * of its twin's and so left-handed; a rigid motion is described the same way for both. */
typedef struct
{
  FwVec3 origin;  /* mm */
  FwVec3 u, v, w; /* unit vectors; for the body x, y, z */
} FwFrame;

/* A frame with its first and second derivative by crank angle. */
typedef struct
{
  FwFrame at;
  FwVec3 velocity;     /* of the origin, mm/rad */
  FwVec3 spin;         /* angular velocity, rad/rad, a true right-handed vector even if the frame is not */
  FwVec3 acceleration; /* of the origin, mm/rad^2 */
  FwVec3 spin_rate;    /* angular acceleration, rad/rad^2 */
} FwMotion;

/* A point with its first and second derivative by crank angle. */
typedef struct
{
  FwVec3 at, velocity, acceleration;
} FwPointMotion;

/* A direction given in the frame, in world axes. */
static inline FwVec3
fw_frame_turn (const FwFrame *f, FwVec3 p)
{
  return fw_vec3 (f->u.x * p.x + f->v.x * p.y + f->w.x * p.z,
                  f->u.y * p.x + f->v.y * p.y + f->w.y * p.z,
                  f->u.z * p.x + f->v.z * p.y + f->w.z * p.z);
}

/* A point given in the frame, in world coordinates. */
static inline FwVec3
fw_frame_to_world (const FwFrame *f, FwVec3 p)
{
  return fw_vec3_add (f->origin, fw_frame_turn (f, p));
}

/* A world direction, in the frame's axes. */
static inline FwVec3
fw_frame_unturn (const FwFrame *f, FwVec3 p)
{
  return fw_vec3 (fw_vec3_dot (f->u, p), fw_vec3_dot (f->v, p), fw_vec3_dot (f->w, p));
}

/* A world point, in the frame's coordinates. */
static inline FwVec3
fw_frame_to_local (const FwFrame *f, FwVec3 p)
{
  return fw_frame_unturn (f, fw_vec3_sub (p, f->origin));
}

/* A point that moves with the frame; `local` is in the frame's coordinates, mm. */
static inline FwPointMotion
fw_motion_point (const FwMotion *m, FwVec3 local)
{
  FwVec3 arm = fw_frame_turn (&m->at, local);
  FwVec3 swing = fw_vec3_cross (m->spin, arm);
  FwVec3 acc = fw_vec3_add (fw_vec3_cross (m->spin_rate, arm), fw_vec3_cross (m->spin, swing));
  return (FwPointMotion) { .at = fw_vec3_add (m->at.origin, arm),
                           .velocity = fw_vec3_add (m->velocity, swing),
                           .acceleration = fw_vec3_add (m->acceleration, acc) };
}
