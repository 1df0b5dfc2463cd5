/* Forces in one pose at a steady crank speed: inverse dynamics, panel by panel from the tips inwards.
 *
 * N, N m, world axes. Masses, gravity (9.80665 m/s^2, down), springs and, where the drive has a coefficient,
 * the friction of every joint. A panel without a rod is taken along its quasi-static motion; what moment its hinge would have to
 * give for that (zero at rest) is passed on as a hinge moment; its hinge has no friction. */
#pragma once

#include "core/inertia.h"
#include "core/pose.h"

#define FW_GRAVITY 9.80665 /* m/s^2, standard (ISO 80000-3) */

/* What a joint gives to the part that it carries. */
typedef struct
{
  FwVec3 force;  /* N */
  FwVec3 moment; /* N m, about the joint's point */
} FwReaction;

/* Adds to what a part must give about its origin what it gives elsewhere: a force at a point `arm` from there, world axes, in the
 * units of both. */
static inline void
fw_reaction_add (FwReaction *reaction, FwVec3 arm, FwVec3 force)
{
  reaction->force = fw_vec3_add (reaction->force, force);
  reaction->moment = fw_vec3_add (reaction->moment, fw_vec3_cross (arm, force));
}

typedef struct
{
  double torque;        /* N m; positive where the hand must push forward */
  double torque_energy; /* the same from power: d(kinetic + potential)/d(crank) and what friction takes; agrees
                         * to rounding */
  double weight_torque; /* of it, what the crank's counterweights take, N m */
  FwVec3 *weights;      /* force that the crank gives to each counterweight, N */
  double stored;        /* of `potential`, what the springs hold, J */
  double loss;          /* N m: what friction takes of the torque; negative where the crank turns backwards */
  double kinetic, potential; /* J; potential from the height of the crank axis, and springs */
  double *tension;      /* of each link, N; negative: it is pushed */
  FwReaction *hinges;   /* of each member: from parent to member */
  FwVec3 *pins;         /* force that each pin gives to all that it carries, N */
  FwReaction carrier;   /* fixed: from the base; rail: from the slide (force along h, and moment) */
  FwVec3 post_pin;      /* rail: from rail rod to body; sleeve, rocker: from the pin to the post, N */
  double guide;         /* sleeve: from guide to post, square to the post, forward positive; rocker: link
                         * tension, N */
  bool known;           /* false where something cannot be assembled or locks: then all are NaN */
  double grip;          /* greatest of the joints: friction a joint's own load adds to it, for each 1 of it; 0 without
                         * friction. From 1 on the joint locks itself: no push moves it */
  int grip_at;          /* of which member's rod; -1: the body's guide, slide or link */
  FwReaction *demand;   /* room for the solving */
  FwReaction *own;      /* body, then members: what moves each against gravity and inertia, about its
                         * origin; in g mm/s^2 and g mm^2/s^2 */
  FwVec3 *own_pins;     /* the same of the half-rods on each pin */
  int *like;            /* body, then members: part whose own demand is its exact mirror image; -1: none */
  int *image;           /* body, then members: not 0 where the part is, in this pose, the mirror image of the one before it */
  double *own_energy;   /* room: kinetic energy, power and potential energy of each part, g mm^2/s^2; power a second of it */
  FwInertia *inertia;   /* body, then members: taken from the design when placed */
  double *pin_mass;     /* g */
  double friction, pin_radius, crank_radius; /* coefficient and mm, taken from the design when placed */
  double way;           /* +1: the crank turns forward (or stands), -1: backwards */
  double drag;          /* room: moment of friction that the crank must overcome */
  double *stations;     /* of the bearings, ascending, mm */
  FwVec3 *bearings;     /* room: load of each */
  int n_bearings;
} FwLoads;

size_t fw_loads_size (const FwMechanism *mechanism);
FwLoads *fw_loads_place (void *memory, const FwMechanism *mechanism);
/* malloc + place; NULL when memory runs out; free () releases it. */
FwLoads *fw_loads_new (const FwMechanism *mechanism);

/* Adds a force on the crank at a station to the bearings beside it, as though the crank were cut at
 * every bearing; beyond the outer ones by the lever. */
void fw_bearing_share (FwLoads *loads, double station_mm, FwVec3 force);

/* Forces in a pose from fw_pose_solve () (or with its `crank` set), with derivatives, at a crank speed in rad/s; below 0 it turns backwards
 * (the pose's derivatives still go by the crank angle). No allocation. */
void fw_loads_solve (FwLoads *loads, const FwMechanism *mechanism, const FwPose *pose, double speed);

/* The design's own speed, rad/s. */
double fw_crank_speed (const FwDesign *design);
