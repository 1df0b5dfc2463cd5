/* Two positions of one hinge asked for: rod length and one more number in closed form.
 *
 * Derivation and when it holds: docs/aim.md. mm. */
#pragma once

#include <stdbool.h>

#include "core/vec.h"

/* A held point as seen from the axis of the crank, in the cylinder about that axis whose middle is
 * the pin's station: how far along the axis, and how far square to it. */
typedef struct
{
  double along, across;
} FwSeenFromCrank;

/* Throw radius and rod length with which a hinge that stands still has its two ends of swing at the
 * two places of the held point. Exact, also for a hinge line that is not parallel to the crank axis:
 * at an end of swing the rod's projection along the crank axis goes through the axis, so
 *   length^2 = along^2 + (across -+ radius)^2,
 * radius taken off at the place that is farther from the pin circle's middle and added at the nearer.
 * Planar (along = 0) it is the classical two-position construction of a rocker's dead centres:
 * length is the mean of both distances and radius half their difference (R. L. Norton, Design of
 * Machinery, chapter 3, rocker output, two positions; from memory).
 * False: both are equally far (radius 0), or no such rod; outputs untouched. */
bool fw_two_dead_positions (FwSeenFromCrank one, FwSeenFromCrank other, double *radius_mm,
                            double *length_mm);

/* From a rod's anchor to where it holds, as one number x of the design moves it: base + x * grows. */
typedef struct
{
  FwVec3 base, grows;
} FwReachLine;

/* The number x and the rod length that fit both: |base + x grows| is the same, |grows| being equal in
 * both. The squares of x cancel, so there is one answer. False: none (any x or no x fits). */
bool fw_two_positions (const FwReachLine *one, const FwReachLine *other, double *x,
                       double *length_mm);
