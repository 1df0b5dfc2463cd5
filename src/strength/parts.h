/* Rods and the post: buckling, bending from a crooked start, stress, tip sag. SI. */
#pragma once

#include "core/loads.h"

/* Common practice, without source: no rod is straight. Bow over length. */
#define FW_CROOKED 500.0

typedef struct
{
  bool known; /* stock and stuff are given; else all is 0 */
  double length, bending, area, modulus; /* m; E I, N m^2; m^2; section modulus, m^3 */
  double stretching; /* E A, N */
  double per_length; /* kg/m */
  double euler;      /* N, pin-ended */
  double allowed;    /* half of yield, Pa; 0: not known */
} FwRodFlex;

/* A link's rod; pin-ended. */
FwRodFlex fw_rod_flex (const FwMechanism *mechanism, int link);

typedef struct
{
  double push; /* N; negative: it is pulled */
  double bow;  /* m: of its middle, crooked start grown by the push, and sideways swing together */
  double
      swing; /* m: of its middle by its own weight and acceleration, signed, in the crank's plane */
  double stress; /* Pa: push and bending */
} FwRodBend;

/* In a pose solved with derivatives, at a crank speed (rad/s) and a tension of the link (N). */
FwRodBend fw_rod_bend (const FwRodFlex *rod, const FwMechanism *mechanism, const FwPose *pose,
                       int link, double tension, double speed);

/* Post of a sleeve or rocker: on the pin, held by guide or link at `back`, free beyond, with the
 * body on its tip. Rod of a rail: a pin-ended strut. A fixed body has none. */
typedef struct
{
  bool known;
  bool strut; /* rail */
  double length, bending, area, modulus, twist_modulus; /* m; E I, N m^2; m^2; m^3; torque over greatest shear stress, m^3 */
  double allowed;    /* half of yield, Pa; 0: not known */
  double per_length; /* kg/m */
} FwPostFlex;

/* What its `known` says is false for a fixed body, and where stock or stuff is not given. */
FwPostFlex fw_post_flex (const FwMechanism *mechanism);

typedef struct
{
  double back, out;   /* m: pin to guide, guide to tip */
  double push, bears; /* N: along the post, and Euler's load as it stands */
  double sag;      /* m: tip, from the straight line through pin and guide, forward (+h) positive */
  double side_sag; /* m: tip along the crank axis, the post clamped in its guide that way */
  double stress;   /* Pa */
} FwPostBend;

/* In a pose whose forces are solved. All NaN where it cannot be assembled. */
FwPostBend fw_post_bend (const FwPostFlex *post, const FwMechanism *mechanism, const FwPose *pose,
                         const FwLoads *loads);
