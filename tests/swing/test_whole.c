/* Whole designs: what carries what, twins, what cannot swing, blows in a chain, and what is refused. */
#include <string.h>

#include "core/loads.h"
#include "swing/contact.h"
#include "swing_rig.h"

/* ---- Twins ---- */

/* A body that tilts, with a chain of two on each side. */
static FwDesign *
twin_design (FwRuns runs)
{
  FwDesign *d = build_design (runs);
  build_throw (d, "mid", 40, 0, 0);
  build_sleeve (d, 0, 420, 0, 180);
  int a = build_panel (d, "a", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (40, 10, 0), 150);
  build_mass (d, a, 60, 80, 20, 3);
  d->panels[a].inertia_gmm2[0] = d->panels[a].inertia_gmm2[1] = 5e4;
  d->panels[a].sweep_deg = 12;
  int b = build_panel (d, "b", FW_SIDE_BOTH, a, fw_vec3 (150, 0, 0), 100);
  build_mass (d, b, 30, 50, -10, 0);
  build_stops (d, a, -70, 20);
  build_stops (d, b, -40, 40);
  d->drive.friction = 0.2;
  d->drive.pin_radius_mm = 2;
  d->drive.restitution = 0.3;
  return d;
}

/* Solved each for itself (a start is given) both do the same, and the same as one copied from the other. */
static void
mirrored_twins (void)
{
  SwingRig r = swing_rig_new (twin_design (FW_RUNS_ACROSS), 3), copied = swing_rig_new (twin_design (FW_RUNS_ACROSS), 3);
  double start[4], rate[4];
  FwPose *pose = fw_pose_new (r.mech);
  fw_pose_solve (pose, r.mech, 0);
  for (int i = 0; i < 4; i++)
    {
      start[i] = fw_pose_angle (pose, r.mech, i);
      rate[i] = pose->members[i].rate * 15;
    }
  swing_rig_run (&r, 2 * G_PI / 15, start, rate);
  swing_rig_run (&copied, 2 * G_PI / 15, NULL, NULL);
  g_assert_cmpint (r.swing->n_blows, >, 3);
  g_assert_cmpint (r.swing->n_blows, ==, copied.swing->n_blows);
  for (int i = 0; i < 4; i++)
    {
      const FwSwingMember *m = &r.swing->members[i], *twin = &r.swing->members[i ^ 1], *c = &copied.swing->members[i];
      g_assert_cmpint (m->period, ==, c->period);
      g_assert_cmpfloat (m->greatest.value - m->least.value, >, 0.05);
      for (int row = 0; row < 360 * m->period; row++)
        {
          assert_near (m->angle[row], twin->angle[row], 1e-6);
          assert_near (m->angle[row], c->angle[row], 1e-6);
        }
    }
  free (pose);
  swing_rig_free (&r);
  swing_rig_free (&copied);
}

/* With the crank along, the left does at -t what the right does at t as far as the body goes, but falls
 * forward in time: they differ. */
static void
twins_along (void)
{
  SwingRig r = swing_rig_new (twin_design (FW_RUNS_ALONG), 20);
  r.swing->tolerance = 1e-4;
  swing_rig_run (&r, 2 * G_PI / 7, NULL, NULL);
  double most = 0;
  for (int row = 0; row < 360; row++)
    most = fmax (most, fabs (r.swing->members[0].angle[row] - r.swing->members[1].angle[row]));
  g_assert_cmpfloat (most, >, 0.05);
  swing_rig_free (&r);
}

/* ---- A hanging panel that carries driven ones ---- */

/* On a still body, a hanging panel carries one that a rod from the body drives. */
static FwDesign *
carrier_design (double rod)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  int a = build_panel (d, "a", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 150);
  int b = build_panel (d, "b", FW_SIDE_RIGHT, a, fw_vec3 (150, 0, 0), 100);
  build_mass (d, a, 60, 75, 0, 0);
  build_mass (d, b, 40, 60, 0, 5);
  d->panels[a].inertia_gmm2[1] = 1e5;
  d->panels[b].inertia_gmm2[1] = 4e4;
  build_rod (d, "rod", FW_SIDE_RIGHT, from_body (0, 0, 7), b, fw_vec3 (-40, 0, 7), rod, 90);
  d->rods[0].mass_g = 12;
  return d;
}

/* Kinetic and potential energy as core/loads.c has them, along the motion. */
static void
carried_energy (void)
{
  SwingRig r = swing_rig_new (carrier_design (152), 4);
  const double start[] = { -45 * RAD, 0 }, still[] = { 0, 0 };
  swing_rig_run (&r, 1, start, still);
  g_assert_cmpint (r.swing->members[0].fate, ==, FW_FATE_UNSETTLED);
  g_assert_cmpint (r.swing->members[1].fate, ==, FW_FATE_DRIVEN);
  FwPose *pose = fw_pose_new (r.mech);
  FwLoads *loads = fw_loads_new (r.mech);
  double room[6], first = NAN;
  for (int row = 0; row < 1440; row++)
    {
      fw_swing_pose (r.swing, pose, row * RAD, room);
      fw_loads_solve (loads, r.mech, pose, r.swing->speed);
      g_assert_true (loads->known);
      double e = loads->kinetic + loads->potential;
      if (row == 0)
        first = e;
      assert_near (e, first, 1e-6); /* of 0.2 J that go to and fro */
    }
  g_assert_cmpfloat (r.swing->members[0].greatest.value - r.swing->members[0].least.value, >, 0.4);
  free (pose);
  free (loads);
  swing_rig_free (&r);
}

/* Thrown round, it comes to where the rod is too long. */
static void
binds (void)
{
  SwingRig r = swing_rig_new (carrier_design (165), 4);
  const double start[] = { -45 * RAD, 0 }, thrown[] = { -25, 0 };
  swing_rig_run (&r, 1, start, thrown);
  g_assert_cmpint (r.swing->members[0].fate, ==, FW_FATE_BINDS);
  g_assert_cmpint (r.swing->members[0].period, ==, 0);
  g_assert_true (isnan (fw_swing_angle (r.swing, 0, 1, NULL)));
  swing_rig_free (&r);
}

/* ---- What cannot swing ---- */

static void
weightless (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 0, 0);
  build_sleeve (d, 0, 420, 0, 180);
  int sheet = build_panel (d, "sheet", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 100);
  build_sheet (d, sheet, 30);
  d->panels[sheet].reach = FW_REACH_FORWARD; /* in the plane in which the body tilts */
  int bare = build_panel (d, "bare", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 90, 0), 100);
  build_stops (d, bare, 10, 30);
  int lined = build_panel (d, "lined", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 190, 0), 100);
  build_mass (d, lined, 50, 0, 25, 0);
  SwingRig r = swing_rig_new (d, 3);
  swing_rig_run (&r, 1, NULL, NULL);
  /* A sheet without weight swings as any sheet. */
  g_assert_cmpfloat (r.swing->members[sheet].greatest.value - r.swing->members[sheet].least.value, >, 0.02);
  /* What has nothing to turn stays. */
  for (int i = bare; i <= lined; i++)
    {
      g_assert_cmpint (r.swing->members[i].fate, ==, FW_FATE_REPEATS);
      g_assert_cmpfloat (r.swing->members[i].least.value, ==, r.swing->members[i].greatest.value);
      g_assert_cmpfloat (r.swing->members[i].astray, ==, 0);
    }
  swing_rig_free (&r);
}

/* Its lower stop is the very angle at which it would hang: it touches and does not chatter. */
static void
stop_at_rest (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  int p = add_pendulum (d, FW_ON_BODY, 40, 150, 80);
  build_stops (d, p, -90, 0);
  SwingRig r = swing_rig_new (d, 4);
  swing_rig_run (&r, 1, NULL, NULL);
  g_assert_cmpint (r.swing->members[p].fate, ==, FW_FATE_REPEATS);
  assert_near (r.swing->members[p].least.value, -G_PI / 2, 1e-9);
  assert_near (r.swing->members[p].greatest.value, -G_PI / 2, 1e-9);
  g_assert_cmpint (r.swing->n_blows, ==, 0);
  swing_rig_free (&r);
}

/* On a stop all the time. */
static void
lies_still (void)
{
  FwDesign *d = twin_design (FW_RUNS_ACROSS);
  build_stops (d, 0, -10, 20);
  build_stops (d, 1, -5, 20);
  SwingRig r = swing_rig_new (d, 64);
  swing_rig_run (&r, 6, NULL, NULL);
  for (int i = 0; i < 4; i++)
    {
      g_assert_cmpint (r.swing->members[i].fate, ==, FW_FATE_REPEATS);
      g_assert_cmpint (r.swing->members[i].turns, ==, 1);
      g_assert_true (r.swing->members[i].on_low);
      g_assert_false (r.swing->members[i].on_high);
    }
  g_assert_cmpint (r.swing->n_blows, ==, 0);
  swing_rig_free (&r);
}

/* What carries it cannot be assembled in part of the turn. */
static void
open_linkage (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 0, 0);
  build_fixed (d, 0, 0, 400, 0);
  int a = build_panel (d, "a", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 150);
  build_rod (d, "rod", FW_SIDE_RIGHT, from_throw (0), a, fw_vec3 (30, 0, 0), 380, 0);
  int b = add_pendulum (d, a, 150, 100, 50);
  int c = add_pendulum (d, FW_ON_BODY, 40, 100, 50);
  SwingRig r = swing_rig_new (d, 4);
  swing_rig_run (&r, 1, NULL, NULL);
  g_assert_cmpint (r.swing->members[a].fate, ==, FW_FATE_DRIVEN);
  g_assert_cmpint (r.swing->members[b].fate, ==, FW_FATE_OPEN);
  g_assert_cmpint (r.swing->members[b].period, ==, 0);
  g_assert_cmpfloat (r.swing->members[b].at, >, 0);
  g_assert_cmpint (r.swing->members[c].fate, ==, FW_FATE_REPEATS);
  FwPose *pose = fw_pose_new (r.mech);
  double room[9];
  fw_swing_pose (r.swing, pose, 1, room);
  g_assert_true (isfinite (pose->members[b].motion.at.origin.z));
  free (pose);
  swing_rig_free (&r);
}

/* The crank stands: rest, row by row. */
static void
standing_crank (void)
{
  SwingRig r = swing_rig_new (twin_design (FW_RUNS_ACROSS), 4);
  g_assert_cmpint (fw_swing_solve (r.swing, 0, NULL, NULL), ==, FW_SWING_OK);
  FwPose *pose = fw_pose_new (r.mech);
  for (int row = 0; row < 360; row += 15)
    {
      fw_pose_solve (pose, r.mech, row * RAD);
      for (int i = 0; i < 4; i++)
        {
          g_assert_cmpint (r.swing->members[i].fate, ==, FW_FATE_STILL);
          assert_near (r.swing->members[i].angle[row], fw_pose_angle (pose, r.mech, i), 1e-12);
        }
    }
  free (pose);
  swing_rig_free (&r);
}

/* ---- Does it repeat? ---- */

/* Without friction and stops nothing takes the swing out, and it says so with the spread it saw. */
static void
unsettled (void)
{
  FwDesign *d = twin_design (FW_RUNS_ACROSS);
  d->panels[0].has_stops = d->panels[1].has_stops = false;
  d->drive.friction = 0;
  SwingRig r = swing_rig_new (d, 12);
  swing_rig_run (&r, 1, NULL, NULL);
  g_assert_cmpint (r.swing->members[0].fate, ==, FW_FATE_UNSETTLED);
  g_assert_cmpint (r.swing->members[0].turns, ==, 12);
  g_assert_cmpint (r.swing->members[0].period, ==, FW_SWING_KEPT);
  g_assert_cmpfloat (r.swing->members[0].spread, >, 1e-3);
  swing_rig_free (&r);
}

/* With friction it does, and following it longer changes nothing. */
static void
settles (void)
{
  FwDesign *d = twin_design (FW_RUNS_ACROSS);
  d->panels[0].has_stops = d->panels[1].has_stops = false;
  d->panels[0].reach = FW_REACH_FORWARD; /* in the plane in which the body tilts */
  d->drive.friction = 0.5;
  d->drive.pin_radius_mm = 4;
  SwingRig r = swing_rig_new (d, 200);
  r.swing->tolerance = 1e-4;
  swing_rig_run (&r, 1, NULL, NULL);
  g_assert_cmpint (r.swing->members[0].fate, ==, FW_FATE_REPEATS);
  g_assert_cmpint (r.swing->members[0].turns, <, 60);
  const FwSwingMember *m = &r.swing->members[0];
  g_assert_cmpint (m->period, <, FW_SWING_KEPT);
  g_assert_cmpfloat (m->greatest.value - m->least.value, >, 0.02);
  SwingRig longer = swing_rig_new (fw_design_copy (d), 120);
  longer.swing->tolerance = -1;
  swing_rig_run (&longer, 1, NULL, NULL);
  /* Its first row is that of turn 112 from the start; ours that of turn `turns` - `period`. */
  int first = (112 + 120 * m->period - m->turns) % m->period * 360;
  for (int row = 0; row < 8 * 360; row++)
    assert_near (longer.swing->members[0].angle[row], m->angle[(first + row) % (m->period * 360)], 1e-3);
  swing_rig_free (&r);
  swing_rig_free (&longer);
}

/* ---- Blows in a chain ---- */

/* The outer panel meets its stop, which the inner one bears: angular momentum about the inner hinge stays,
 * and with restitution 1 so does the energy; the outer panel's rate turns round. */
static void
blow_inside_a_chain (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  add_pendulum (d, FW_ON_BODY, 0, 200, 80);
  int outer = add_pendulum (d, 0, 200, 150, 50);
  build_stops (d, outer, -40, 30);
  FwMechanism *mech;
  g_assert_cmpint (fw_mechanism_build (d, &mech, NULL), ==, FW_OK);
  int group[2];
  fw_free_groups (mech, group);
  FwFree *f = fw_free_new (mech, group, group[0], 5);
  FwContact *c = fw_contact_new (f);
  for (int soft = 0; soft < 2; soft++)
    {
      const double q[] = { -0.5, 30 * RAD };
      double qd[] = { 1.5, 4 }, before[2], impulse[2], felt[2];
      c->restitution = soft ? 0.25 : 1;
      g_assert_true (fw_contact_begin (c, 0, q));
      g_assert_true (fw_contact_blow (c, 0, q, qd, before, impulse, felt));
      const double *m = f->mass;
      assert_near (m[0] * qd[0] + m[1] * qd[1], m[0] * 1.5 + m[1] * 4, 1e-9 * m[0]);
      assert_near (qd[1], -4 * c->restitution, 1e-12);
      double was = m[0] * 1.5 * 1.5 + 2 * m[1] * 1.5 * 4 + m[3] * 16;
      double is = m[0] * qd[0] * qd[0] + 2 * m[1] * qd[0] * qd[1] + m[3] * qd[1] * qd[1];
      /* What is lost: the inertia felt by the outer panel alone times (1 - e^2) of its speed squared. */
      assert_near (was - is, felt[1] * 16 * (1 - c->restitution * c->restitution), 1e-9 * was);
      assert_near (fabs (impulse[1]), felt[1] * 4 * (1 + c->restitution), 1e-9 * fabs (impulse[1]));
    }
  free (c);
  free (f);
  fw_mechanism_free (mech);
  fw_design_free (d);
}

/* ---- Being stopped ---- */

static bool
at_once (void *data)
{
  (*(int *)data)++;
  return true;
}

static void
stopped (void)
{
  SwingRig r = swing_rig_new (twin_design (FW_RUNS_ACROSS), 64);
  int asked = 0;
  g_assert_cmpint (fw_swing_solve (r.swing, 5, at_once, &asked), ==, FW_SWING_STOPPED);
  g_assert_cmpint (asked, ==, 1);
  swing_rig_free (&r);
}

/* Nothing hangs: nothing to follow. */
static void
nothing_hangs (void)
{
  SwingRig r = swing_rig_new (build_heron (), 4);
  g_assert_false (fw_mechanism_hangs (r.mech));
  swing_rig_run (&r, 1, NULL, NULL);
  g_assert_cmpint (r.swing->members[0].fate, ==, FW_FATE_DRIVEN);
  g_assert_cmpint ((int)r.swing->looks, ==, 0);
  swing_rig_free (&r);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/twins/mirror images swing alike", mirrored_twins);
  g_test_add_func ("/twins/with the crank along they do not", twins_along);
  g_test_add_func ("/carrier/energy with a driven panel on a hanging one", carried_energy);
  g_test_add_func ("/carrier/where the driven one binds is a result", binds);
  g_test_add_func ("/results/weightless, empty and balanced on the hinge line", weightless);
  g_test_add_func ("/results/a stop at the very angle of rest", stop_at_rest);
  g_test_add_func ("/results/lying on a stop all the time", lies_still);
  g_test_add_func ("/results/a carrier that cannot be assembled all round", open_linkage);
  g_test_add_func ("/results/a crank that stands", standing_crank);
  g_test_add_func ("/results/no loss, no end: says that it does not settle", unsettled);
  g_test_add_func ("/results/with friction it settles, and stays so", settles);
  g_test_add_func ("/blow/inside a chain", blow_inside_a_chain);
  g_test_add_func ("/stop/stops when asked", stopped);
  g_test_add_func ("/stop/nothing hangs, nothing to do", nothing_hangs);
  return g_test_run ();
}
