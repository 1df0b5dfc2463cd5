/* The crankshaft as a frame of its webs and pins: how it sags, winds up and is stressed.
 *
 * Its line is fw_crank_line (), one bar of its stock all along. Bearings hold it sideways and let
 * it tilt; the end at the lowest station (where the handle is) is held in turning and along the
 * axis. Worked out once per design: being linear, every later load is a sum of unit answers. */
#pragma once

#include "core/mechanism.h"
#include "strength/frame.h"

/* A counterweight, on a stiff arm from the place of the line that is nearest to its station on the
 * axis. */
typedef struct
{
  int node;
  double mass; /* kg */
  FwVec3 at;   /* its centre, m, world axes at crank angle 0 */
} FwFlexWeight;

typedef struct
{
  int n_pins;          /* as in the mechanism */
  int n_bearings;      /* that stand on the axis */
  double *bearings_mm; /* their stations */
  int *pin_nodes, *bearing_nodes;
  FwSpaceFrame *frame; /* nodes in world axes at crank angle 0, m */
  FwRuns runs;
  FwFrameStatus status;
  const FwPin *pins; /* the mechanism's */
  FwFlexWeight *weights;
  int n_weights;
  double weights_slowness; /* s^2: of the counterweights alone, 1/omega^2 along their circles */
  double allowed;    /* half of yield, Pa; 0: not known */
  int n_cases, n_rows;
  double *answers; /* [case][row]; cases: force on each pin along axis, h and z, then weight along h
                    * and z per m/s^2, then whirling per (rad/s)^2, counterweights included */
  double *rows; /* [row] of the present load: per pin axis, h, z, turn, lag; per bearing h, z; per
                 * bar pull, two bendings, torsion at either end */
} FwCrankFlex;

/* A number of its stock or material is known and given. */
bool fw_crank_flex_known (const FwDesign *design);

/* NULL when memory runs out. Otherwise look at `status`: FW_FRAME_BAD where stock or stuff is not
 * known (fw_crank_flex_known ()), FW_FRAME_LOOSE with less than two bearings. The mechanism must
 * outlive it. */
FwCrankFlex *fw_crank_flex_new (const FwMechanism *mechanism);
void fw_crank_flex_free (FwCrankFlex *flex);

/* Loads it at a crank angle and speed (rad/s) with `forces`: what the crank gives at each pin (N,
 * world, as FwLoadTurn.pins). Own weight and whirling included, of pipe and counterweights. NaN in, NaN out. No allocation. */
void fw_crank_flex_load (FwCrankFlex *flex, const FwVec3 *forces, double cosine, double sine,
                         double speed);

/* Of the present load. */
FwVec3 fw_crank_flex_moved (const FwCrankFlex *flex,
                            int pin); /* m, axes of crank angle 0 (turn them back) */
double fw_crank_flex_sag (const FwCrankFlex *flex, int pin); /* m, square to the axis */
double fw_crank_flex_wind_up (const FwCrankFlex *flex,
                              int pin); /* rad: the pin's turn, positive behind the handle */
double fw_crank_flex_lag (const FwCrankFlex *flex,
                          int pin); /* rad: how far behind its place the pin is on its
                                     * circle, bending included; without radius the wind-up */
double fw_crank_flex_reaction (const FwCrankFlex *flex, int bearing, double *h,
                               double *z); /* N, size; what it gives, axes of crank angle 0 */

/* Greatest equivalent stress (bending, pull and torsion, von Mises), Pa; `at`: the node, may be
 * NULL. */
double fw_crank_flex_stress (const FwCrankFlex *flex, int *at);

/* How far a pin falls behind per N that pushes it backwards along its circle, m/N. */
double fw_crank_flex_give (const FwCrankFlex *flex, int pin);
