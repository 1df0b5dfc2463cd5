/* A panel of sheet as a beam from its hinge over its rod to its tip. SI.
 *
 * Its width at every station is that of the outline, its load its own weight and acceleration
 * square to the sheet, and what other panels, rods and springs put on it. It rests on hinge and rod and
 * sticks out beyond; torsion is left out. Only panels with an outline, a thickness, a rod and a
 * known stuff are known. */
#pragma once

#include "core/loads.h"

#define FW_STRIP_SPANS 16                          /* of each of its two parts */
#define FW_STRIP_STATIONS (2 * FW_STRIP_SPANS + 1) /* hinge 0, rod FW_STRIP_SPANS, tip the last */
#define FW_STRIP_POINTS 12
#define FW_STRIP_CASES (2 + FW_STRIP_POINTS)

typedef struct
{
  bool known;
  double length, hold; /* m, from the hinge: tip, rod */
  double u[FW_STRIP_STATIONS], width[FW_STRIP_STATIONS], bending[FW_STRIP_STATIONS],
      modulus[FW_STRIP_STATIONS];
  double areal;   /* kg/m^2 */
  double allowed; /* half of the yield or allowed stress, Pa; 0: not known */
  int n_points;   /* where something else weighs on it */
  double point_u[FW_STRIP_POINTS]; /* m from the hinge */
  int child[FW_STRIP_POINTS]; /* member; or -1 - link whose anchor it is; springs: -1 */
  int coil[FW_STRIP_POINTS];  /* spring whose end is there; -1: none */
  int end[FW_STRIP_POINTS];   /* which of its ends */
  const FwMechanism *mechanism;
  /* Per unit of: acceleration against gravity at the hinge (m/s^2), its growth along u (1/s^2),
   * force on each point. */
  double tip[FW_STRIP_CASES];
  double moment[FW_STRIP_CASES][FW_STRIP_STATIONS];
} FwStripFlex;

/* The mechanism must outlive it. */
void fw_strip_flex (FwStripFlex *strip, const FwMechanism *mechanism, int member);

typedef struct
{
  double sag;    /* m: tip from the straight line through hinge and rod, away from w positive */
  double stress; /* Pa */
} FwStripBend;

/* In a pose whose forces are solved, at a crank speed in rad/s. */
FwStripBend fw_strip_bend (const FwStripFlex *strip, const FwPose *pose, const FwLoads *loads,
                           int member, double speed);

/* First natural frequency of the bending strip, rad/s, with a mass (kg) at each point. */
double fw_strip_frequency (const FwStripFlex *strip, const double masses[FW_STRIP_POINTS]);
