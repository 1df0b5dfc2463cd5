/* First natural frequencies of a mechanism's parts. SI, rad/s.
 *
 * Parts move with the turn, so what resists and what gives is averaged over it: 1/omega^2, the mean
 * of mass times give, is added up pose by pose (Dunkerley's rule adds the parts, and errs low). */
#pragma once

#include "strength/crank.h"
#include "strength/parts.h"
#include "strength/strip.h"

/* Adds to `masses`, of each pin (kg), what its circle must carry along in this pose: the kinetic energy of every
 * part that it drives, as that of a mass on the pin. Body, members, half-rods; pins without radius
 * get none. */
void fw_masses_at_pins (const FwMechanism *mechanism, const FwPose *pose, const FwLoads *loads,
                        double *masses);

/* Rad/s, of the crank in torsion (and bending along its circles) with these masses (kg) on its pins, and
 * its own counterweights. */
double fw_natural_crank (const FwCrankFlex *flex, const double *masses);

/* 1/omega^2 of the post with body and panels on top, swaying in its plane, in one pose: give of
 * their common centre of mass times mass; of the post itself 33/140 beyond the guide. */
double fw_slowness_post (const FwPostFlex *post, const FwPostBend *bend,
                         const FwMechanism *mechanism, const FwPose *pose, const FwLoads *loads);

/* 1/omega^2 of a stiff panel swinging on its rod's stretch, in one pose. */
double fw_slowness_on_rod (const FwRodFlex *rod, const FwMechanism *mechanism, const FwPose *pose,
                           const FwLoads *loads, int member);

/* Rad/s, of the bending panel: the sheet, and half of the mass of each panel with a rod of its own that it
 * carries (all of one without). */
double fw_natural_strip (const FwStripFlex *strip, const FwMechanism *mechanism,
                         const FwLoads *loads);
