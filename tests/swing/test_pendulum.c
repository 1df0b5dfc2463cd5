/* One hanging panel on a body that stands still, against closed forms. */
#include <string.h>

#include "swing_rig.h"

#define DOWN (-G_PI / 2)

/* ---- The pendulum at large amplitudes ---- */

/* T = 2 pi sqrt (L / g) / agm (1, cos (amplitude / 2)), from T = 4 sqrt (L / g) K (sin (amplitude / 2)) and
 * Gauss's mean for K: Abramowitz and Stegun, Handbook of Mathematical Functions, 17.6.3. */
static double
period (double length_m, double amplitude)
{
  double a = 1, b = cos (amplitude / 2);
  for (int i = 0; i < 40; i++)
    {
      double mean = (a + b) / 2;
      b = sqrt (a * b);
      a = mean;
    }
  return 2 * G_PI * sqrt (length_m / G) / a;
}

static void
one_period (gconstpointer data)
{
  double amplitude = GPOINTER_TO_INT (data) * RAD;
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  add_pendulum (d, FW_ON_BODY, 40, 200, 80);
  SwingRig r = swing_rig_new (d, 8);
  const double start = DOWN + amplitude, still = 0;
  swing_rig_run (&r, period (0.2, amplitude), &start, &still);
  const FwSwingMember *m = &r.swing->members[0];
  g_assert_cmpint (m->fate, ==, FW_FATE_REPEATS);
  g_assert_cmpint (m->period, ==, 1);
  assert_near (m->angle[0], start, 1e-7);
  /* At 170 degrees it passes the bottom fast and waits long at the top. */
  assert_near (m->angle[90], DOWN, 1e-5);
  assert_near (m->angle[180], DOWN - amplitude, 1e-6);
  assert_near (m->angle[270], DOWN, 1e-5);
  swing_rig_free (&r);
}

/* K at modular angle 45 degrees, 1.85407 46773 (Abramowitz and Stegun, table 17.2): swinging from level. */
static void
published_elliptic_integral (void)
{
  assert_near (period (0.2, G_PI / 2), 4 * sqrt (0.2 / G) * 1.8540746773, 1e-10);
}

/* A body with inertia swings as a pendulum of length J / (m s). */
static void
compound (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  int i = build_panel (d, "p", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 200);
  build_mass (d, i, 120, 90, 12, 0);
  d->panels[i].inertia_gmm2[1] = 3e5; /* about v: the hinge line lies along it */
  SwingRig r = swing_rig_new (d, 8);
  double length = (3e5 / 120 + 90 * 90) / 90 / 1000;
  const double start = DOWN + 1, still = 0;
  swing_rig_run (&r, period (length, 1), &start, &still);
  g_assert_cmpint (r.swing->members[0].period, ==, 1);
  assert_near (r.swing->members[0].angle[180], DOWN - 1, 2e-6);
  swing_rig_free (&r);
}

/* A hinge line that leans by c from level swings under g cos c. */
static void
leaning_hinge (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  int i = add_pendulum (d, FW_ON_BODY, 0, 200, 120);
  d->panels[i].cant_deg = 35;
  SwingRig r = swing_rig_new (d, 8);
  const double start = DOWN + 0.7, still = 0;
  swing_rig_run (&r, period (0.2 / cos (35 * RAD), 0.7), &start, &still);
  g_assert_cmpint (r.swing->members[0].period, ==, 1);
  assert_near (r.swing->members[0].angle[180], DOWN - 0.7, 2e-6);
  swing_rig_free (&r);
}

/* ---- Bouncing ---- */

/* Level at its stop and dropped from a small height h: a fall of sqrt (2 h / a), then rebounds of 2 e, 2 e^2,
 * ... times that, with speeds e, e^2, ... times sqrt (2 a h); a = g / L (times cos h, 5e-5 here). */
static void
bouncing (void)
{
  const double e = 0.5, h = 0.01, length = 0.25, still = 0;
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_stops (d, add_pendulum (d, FW_ON_BODY, 40, 250, 80), 0, 45);
  SwingRig r = swing_rig_new (d, 1);
  r.swing->restitution = e;
  swing_rig_run (&r, 1, &h, &still);
  const FwSwings *s = r.swing;
  double a = G / length, fall = sqrt (2 * h / a), speed = sqrt (2 * a * h), at = fall;
  g_assert_cmpint (s->n_blows, ==, 7); /* a rise of h e^14 is below FW_SWING_CALM, 1e-6 */
  for (int i = 0; i < s->n_blows; i++)
    {
      const FwSwingBlow *b = &s->blows[i];
      g_assert_false (b->high);
      assert_near (b->crank / (2 * G_PI), at, 3e-5 * at);
      assert_near (b->speed_mps, speed * length, 3e-5 * speed);
      assert_near (b->energy_J, 0.080 * b->speed_mps * b->speed_mps / 2, 1e-12);
      assert_near (b->impulse_Ns, 0.080 * (1 + e) * b->speed_mps, 1e-12);
      assert_near (b->turning_Nms, b->impulse_Ns * length, 1e-12);
      speed *= e;
      at += 2 * fall * pow (e, i + 1);
    }
  for (int step = (int)(360 * fall * (1 + e) / (1 - e)) + 1; step < 360; step++)
    g_assert_cmpfloat (s->members[0].angle[step], ==, 0);
  swing_rig_free (&r);
}

/* Restitution 1 loses nothing: it comes back to where it fell from, for ever. */
static void
bouncing_for_ever (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_stops (d, add_pendulum (d, FW_ON_BODY, 40, 250, 80), -60, 80);
  SwingRig r = swing_rig_new (d, 8);
  const double start = 0.4, still = 0;
  r.swing->restitution = 1;
  swing_rig_run (&r, 1.37, &start, &still);
  const FwSwings *s = r.swing;
  g_assert_cmpint (s->n_blows, >=, 20);
  for (int i = 0; i < s->n_blows; i++)
    {
      double fallen = 0.25 * (sin (0.4) - sin (-60 * RAD));
      assert_near (s->blows[i].speed_mps, sqrt (2 * G * fallen), 1e-6);
      assert_near (s->blows[i].energy_J, 0.080 * G * fallen, 1e-6);
    }
  swing_rig_free (&r);
}

/* ---- Friction ---- */

/* Small swings about the bottom with a friction moment that equals the weight's at the angle f: every half
 * swing loses 2 f and takes as long as without, and it sticks at the first turning point within f.
 * (The classic result for dry friction; e.g. Rao, Mechanical Vibrations, "free vibration with Coulomb
 * damping", from memory.) */
static void
dry_friction (void)
{
  const double length = 0.3, f = 6e-4, still = 0;
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  add_pendulum (d, FW_ON_BODY, 40, 300, 80);
  SwingRig r = swing_rig_new (d, 1);
  r.swing->friction_mm = f * 300;
  double half = G_PI * sqrt (length / G), size = 0.0065;
  const double start = DOWN + size;
  swing_rig_run (&r, 9 * half, &start, &still); /* a half swing is 40 rows */
  const double *angle = r.swing->members[0].angle;
  for (int i = 0; i <= 8; i++)
    {
      /* 6.5, -5.3, 4.1, -2.9, 1.7, -0.5 thousandths: there it sticks. */
      double left = size - 2 * f * MIN (i, 5);
      assert_near (angle[40 * i], DOWN + (i % 2 && i < 5 ? -1 : i >= 5 ? -1 : 1) * left, 2e-7);
    }
  g_assert_cmpfloat (angle[359], ==, angle[210]);
  swing_rig_free (&r);
}

/* A pin as stiff as the lever is long holds the panel level; a shade less does not. */
static void
holding_friction (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  add_pendulum (d, FW_ON_BODY, 40, 150, 80);
  SwingRig r = swing_rig_new (d, 8);
  const double level = 0, still = 0;
  r.swing->friction_mm = 150.001;
  swing_rig_run (&r, 1, &level, &still);
  g_assert_cmpint (r.swing->members[0].fate, ==, FW_FATE_REPEATS);
  g_assert_cmpfloat (r.swing->members[0].least.value, ==, 0);
  g_assert_cmpfloat (r.swing->members[0].greatest.value, ==, 0);
  r.swing->friction_mm = 149.9;
  swing_rig_run (&r, 1, &level, &still);
  g_assert_cmpfloat (r.swing->members[0].least.value, <, -0.01);
  swing_rig_free (&r);
}

/* ---- Energy ---- */

/* Of two point pendulums, one on the other, by their places and speeds; from the rows. */
static double
energy (const FwSwings *s, int row)
{
  double w = s->speed, a = s->members[0].angle[row], b = a + s->members[1].angle[row];
  double ad = s->members[0].rate[row] * w, bd = ad + s->members[1].rate[row] * w;
  double x = -0.2 * sin (a) * ad, z = 0.2 * cos (a) * ad;
  double x2 = x - 0.15 * sin (b) * bd, z2 = z + 0.15 * cos (b) * bd;
  return 0.08 * ((x * x + z * z) / 2 + G * 0.2 * sin (a))
         + 0.05 * ((x2 * x2 + z2 * z2) / 2 + G * (0.2 * sin (a) + 0.15 * sin (b)));
}

static void
energy_is_kept (gconstpointer stops)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  add_pendulum (d, FW_ON_BODY, 0, 200, 80);
  add_pendulum (d, 0, 200, 150, 50);
  if (stops)
    {
      build_stops (d, 0, -130, 60);
      build_stops (d, 1, -70, 80);
    }
  SwingRig r = swing_rig_new (d, 8);
  const double start[] = { 0.3, 0.6 }, still[] = { 0, 0 };
  r.swing->restitution = 1;
  swing_rig_run (&r, 1, start, still);
  g_assert_cmpint (r.swing->members[0].period, ==, 8);
  if (stops)
    g_assert_cmpint (r.swing->n_blows, >, 10);
  double first = energy (r.swing, 0);
  for (int row = 0; row < 8 * 360; row++)
    assert_near (energy (r.swing, row), first, 2e-6);
  swing_rig_free (&r);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/pendulum/period at 20 degrees", GINT_TO_POINTER (20), one_period);
  g_test_add_data_func ("/pendulum/period at 90 degrees", GINT_TO_POINTER (90), one_period);
  g_test_add_data_func ("/pendulum/period at 170 degrees", GINT_TO_POINTER (170), one_period);
  g_test_add_func ("/pendulum/the mean of Gauss gives the tabled elliptic integral", published_elliptic_integral);
  g_test_add_func ("/pendulum/a panel with inertia is as long as J over m s", compound);
  g_test_add_func ("/pendulum/a leaning hinge line swings under less weight", leaning_hinge);
  g_test_add_func ("/bounce/times and speeds on a stop are geometric series", bouncing);
  g_test_add_func ("/bounce/a perfect stop gives everything back", bouncing_for_ever);
  g_test_add_func ("/friction/dry friction takes the same off every half swing, then holds", dry_friction);
  g_test_add_func ("/friction/what the pin can hold stays", holding_friction);
  g_test_add_data_func ("/energy/a chain keeps it without friction", GINT_TO_POINTER (0), energy_is_kept);
  g_test_add_data_func ("/energy/and through perfect blows", GINT_TO_POINTER (1), energy_is_kept);
  return g_test_run ();
}
