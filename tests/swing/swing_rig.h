/* Hanging point masses on a fixed or riding body, and their swing from a given start. */
#pragma once

#include "build_design.h"
#include "near.h"
#include "swing/swing.h"

#define G 9.80665 /* m/s^2, standard (ISO 80000-3) */

typedef struct
{
  FwDesign *design;
  FwMechanism *mech;
  FwSwings *swing;
} SwingRig;

/* A panel to the right whose mass is a point at its tip: a simple pendulum, level at angle 0. */
static inline int
add_pendulum (FwDesign *d, int on, double from_mm, double length_mm, double mass_g)
{
  int i = build_panel (d, "p", FW_SIDE_RIGHT, on, fw_vec3 (from_mm, 0, 0), length_mm);
  build_mass (d, i, mass_g, length_mm, 0, 0);
  char name[8];
  g_snprintf (name, sizeof name, "p%d", i);
  free (d->panels[i].name);
  d->panels[i].name = strdup (name);
  return i;
}

/* Frictionless and springy unless the test says otherwise. */
static inline SwingRig
swing_rig_new (FwDesign *d, int turns)
{
  SwingRig r = { .design = d };
  g_assert_cmpint (fw_mechanism_build (d, &r.mech, NULL), ==, FW_OK);
  r.swing = fw_swing_new (r.mech, 360);
  g_assert_nonnull (r.swing);
  r.swing->most_turns = turns;
  r.swing->tolerance = 1e-6;
  return r;
}

static inline void
swing_rig_run (SwingRig *r, double turn_s, const double *start, const double *rate)
{
  r->swing->start = start;
  r->swing->start_rate = rate;
  g_assert_cmpint (fw_swing_solve (r->swing, 2 * G_PI / turn_s, NULL, NULL), ==, FW_SWING_OK);
}

static inline void
swing_rig_free (SwingRig *r)
{
  fw_swing_free (r->swing);
  fw_mechanism_free (r->mech);
  fw_design_free (r->design);
}
