/* The crankshaft as it is drawn and made, and the loads that it carries, one by one. */
#include "build_design.h"
#include "core/making.h"
#include "core/peaks.h"
#include "near.h"

/* ---- The centre line ---- */

static void
assert_point (FwVec3 p, double x, double y, double z)
{
  assert_near (p.x, x, 1e-9);
  assert_near (p.y, y, 1e-9);
  assert_near (p.z, z, 1e-9);
}

/* One throw of 40 at 90 degrees, 20 wide: out and back. h is +y across and +x along. */
static void
test_one_throw (void)
{
  for (int along = 0; along < 2; along++)
    {
      FwDesign *d = build_design (along ? FW_RUNS_ALONG : FW_RUNS_ACROSS);
      build_throw (d, "t", 40, 90, 10);
      d->crank.throws[0].width_mm = 20;
      d->crank.diameter_mm = 8;
      FwVec3 p[8];
      double ends[2];
      g_assert_cmpint (fw_design_bearings (d, ends, 2), ==, 2);
      g_assert_cmpint (fw_crank_line (d, p, 8), ==, 6);
      const double stations[] = { ends[0] - 20, 0, 0, 20, 20, ends[1] + 20 };
      for (int i = 0; i < 6; i++)
        {
          double h = i == 2 || i == 3 ? 40 : 0;
          if (along)
            assert_point (p[i], h, stations[i], 0);
          else
            assert_point (p[i], stations[i], h, 0);
        }
      /* Told how many there are, whatever the room. */
      FwVec3 few[2];
      g_assert_cmpint (fw_crank_line (d, few, 2), ==, 6);
      assert_point (few[1], p[1].x, p[1].y, p[1].z);
      fw_design_free (d);
    }
}

/* Throws given out of order, twins between them: stations never run backwards, and between two that touch the line
 * goes straight from pin to pin, half-way. */
static void
test_order_of_throws (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_twin_throw (d, "outer", 30, 180, 150);
  build_throw (d, "mid", 40, 0, 0);
  build_throw (d, "beside", 40, 180, 16);
  build_twin_throw (d, "own twin", 10, 0, -80);
  for (int i = 0; i < 4; i++)
    d->crank.throws[i].width_mm = 20;
  FwVec3 p[64];
  int n = fw_crank_line (d, p, 64), straight = 0;
  /* Six pins; two ends; each goes out to the pin and back, but for the pair that touches. */
  g_assert_cmpint (n, ==, 2 + 6 * 4 - 2);
  for (int i = 1; i < n; i++)
    {
      g_assert_cmpfloat (p[i].x, >=, p[i - 1].x - 1e-9);
      if (p[i].z * p[i - 1].z < 0)
        {
          straight++;
          assert_near (p[i].x, 8, 1e-9); /* half-way between the ends 10 and 6 */
          assert_near (p[i - 1].x, 8, 1e-9);
        }
    }
  g_assert_cmpint (straight, ==, 1);
  fw_design_free (d);
}

static void
test_no_throws (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  FwVec3 p[2];
  g_assert_cmpint (fw_crank_line (d, p, 2), ==, 0);
  g_assert_cmpint (fw_design_bearings (d, NULL, 0), ==, 0);
  fw_design_free (d);
}

/* More throws and bearings than anyone makes: the line is still sorted, and ends beyond its pins. */
static void
test_more_than_fit (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  for (int i = 0; i < 300; i++)
    {
      char name[16];
      g_snprintf (name, sizeof name, "t%d", i);
      build_throw (d, name, 10, 15 * i, 60 * (i % 2 ? -i : i));
    }
  d->base.bearings_mm = calloc (70, sizeof (double));
  d->base.n_bearings = 70;
  for (int i = 0; i < 70; i++)
    d->base.bearings_mm[i] = 7 * i;
  FwVec3 p[1100];
  int n = fw_crank_line (d, p, 1100);
  g_assert_cmpint (n, >, 256 * 3);
  g_assert_cmpint (n, <=, 2 + 256 * 4);
  for (int i = 1; i < n; i++)
    g_assert_cmpfloat (p[i].x, >=, p[i - 1].x - 1e-9);
  fw_design_free (d);
}

/* Forward moves the top toward +h, and a pin drawn and turned stands where the pose has it. */
static void
test_turned (void)
{
  for (int along = 0; along < 2; along++)
    {
      FwDesign *d = build_design (along ? FW_RUNS_ALONG : FW_RUNS_ACROSS);
      build_rail (d, build_throw (d, "t", 40, 25, 0), 120, 0);
      FwVec3 p[8];
      fw_crank_line (d, p, 8);
      Rig rig = rig_new (d);
      for (int deg = 0; deg < 360; deg += 15)
        {
          FwVec3 pin = fw_crank_turn (d->crank.runs, p[2], cos (deg * RAD), sin (deg * RAD));
          double h = fw_vec3_dot (pin, fw_crank_h (d->crank.runs));
          assert_near (h, 40 * sin ((deg + 25) * RAD), 1e-9);
          assert_near (pin.z, 40 * cos ((deg + 25) * RAD), 1e-9);
          assert_near (fw_vec3_dot (pin, fw_crank_axis (d->crank.runs)),
                       fw_vec3_dot (p[2], fw_crank_axis (d->crank.runs)), 1e-12);
          rig_solve (&rig, deg);
          FwVec3 body = rig.pose->body.motion.at.origin; /* the rail's rod is 120 long from there */
          double across = fw_vec3_dot (body, fw_crank_h (d->crank.runs)) - h;
          assert_near (hypot (across, body.z - pin.z), 120, 1e-9);
        }
      rig_free (&rig);
    }
}

/* ---- Making ---- */

/* Mass per length as makers print it is that of the section in copper, 8.94 g/cm3 (any handbook), to the last digit
 * printed or the tolerance of the wall. */
static void
test_tubes (void)
{
  int published = 0;
  for (int i = 0; i < fw_tube_count (); i++)
    {
      const FwTube *t = fw_tube_nth (i);
      g_assert_true (fw_tube_find (t->name) == t);
      g_assert_cmpfloat (t->wall_mm, <, t->outside_mm / 2);
      double own = G_PI * (t->outside_mm - t->wall_mm) * t->wall_mm * 8.94e-3;
      if (t->published_kgm > 0)
        {
          published++;
          assert_near (own / t->published_kgm, 1, 0.02);
        }
    }
  g_assert_cmpint (published, >, 10);
  g_assert_null (fw_tube_find ("1/2 in"));
}

static void
test_making_defaults (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.build.given = false;
  d->crank.diameter_mm = 4; /* wire: bent */
  d->crank.wall_mm = 0;
  FwCrankBuild make = fw_making (d);
  g_assert_cmpint (make.make, ==, FW_MAKE_BENT);
  g_assert_true (make.returns);
  assert_near (make.pipe_mm, 4, 0);
  assert_near (make.bend_radius_mm, 6, 1e-12); /* solid: 1.5 diameters */
  assert_near (make.leg_mm, 4, 1e-12);
  d->crank.diameter_mm = 4.1;
  g_assert_cmpint (fw_making (d).make, ==, FW_MAKE_BOLTED);
  d->crank.diameter_mm = 16;
  d->crank.wall_mm = 1; /* thin tube kinks sooner: 3 diameters */
  make = fw_making (d);
  assert_near (make.bend_radius_mm, 48, 1e-12);
  assert_near (make.leg_mm, 32, 1e-12);
  d->crank.wall_mm = 8; /* no hole left */
  assert_near (fw_making (d).bend_radius_mm, 24, 1e-12);
  fw_design_free (d);
}

/* A known tube brings its fitting's sizes; one whose fitting is unknown, or a tube of no name, the sizes of the half
 * inch; what the design gives stands. */
static void
test_making_tube (void)
{
  FwCrankBuild make = { .given = true, .pipe = (char *)"3/4 in M", .pipe_mm = 22.2, .wall_mm = 0.8 };
  fw_making_complete (&make);
  assert_near (make.take_off_mm, 17.0 / 32 * 25.4, 1e-9);
  assert_near (make.cup_mm, 0.75 * 25.4, 1e-9);
  assert_near (make.eye_bore_mm, 22.6, 1e-9);
  const char *unknown[] = { "15 x 1", "no such tube", NULL };
  for (int i = 0; i < 3; i++)
    {
      make = (FwCrankBuild){ .given = true, .pipe = (char *)unknown[i], .pipe_mm = 15, .wall_mm = 1, .clamp_mm = 11 };
      fw_making_complete (&make);
      assert_near (make.take_off_mm, 0.375 * 25.4, 1e-9);
      assert_near (make.cup_mm, 0.5 * 25.4, 1e-9);
      assert_near (make.clamp_mm, 11, 0);
    }
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.diameter_mm = 12;
  d->crank.build = (FwCrankBuild){ .given = true, .make = FW_MAKE_ELBOWS, .pipe_mm = 15 };
  assert_near (fw_making (d).pipe_mm, 15, 0);
  g_assert_cmpint (fw_making (d).make, ==, FW_MAKE_ELBOWS);
  fw_design_free (d);
}

/* ---- Peaks ---- */

static FwDesign *
heavy (FwRide ride)
{
  FwDesign *d = build_heron ();
  for (int i = 0; i < d->n_panels; i++)
    build_mass (d, i, 150, 90, 5, 0);
  d->body.mass_g = 900;
  if (ride == FW_RIDE_RAIL)
    build_rail (d, 0, 420, 0);
  if (ride == FW_RIDE_ROCKER)
    build_rocker (d, 0, 420, 220, 300, 225, 300);
  if (ride == FW_RIDE_FIXED)
    build_fixed (d, 0, 0, 420, 0);
  return d;
}

/* Every force of every ride against a thousand samples: as extreme as any of them, taken where it says, and no
 * more than what a curve can rise between samples. */
static void
test_peaks (gconstpointer data)
{
  FwRide ride = (FwRide)GPOINTER_TO_INT (data);
  Rig rig = rig_new (heavy (ride));
  FwLoads *loads = fw_loads_new (rig.mechanism);
  int n = fw_load_count (rig.mechanism), kinds[6] = { 0 };
  FwExtreme *least = g_new (FwExtreme, n), *most = g_new (FwExtreme, n);
  const double speed = 5;
  fw_load_peaks (rig.mechanism, rig.pose, loads, speed, 72, least, most);
  double mean = 0;
  for (int k = 0; k < n; k++)
    {
      FwLoad load = fw_load_nth (rig.mechanism, k);
      double low = INFINITY, high = -INFINITY;
      kinds[load.kind]++;
      for (int i = 0; i < 1000; i++)
        {
          fw_pose_solve (rig.pose, rig.mechanism, 2 * G_PI * i / 1000);
          fw_loads_solve (loads, rig.mechanism, rig.pose, speed);
          double v = fw_load_value (loads, load);
          low = fmin (low, v);
          high = fmax (high, v);
          mean += k == 0 ? fabs (v) / 1000 : 0;
        }
      double small = 1e-9 * (1 + fabs (low) + fabs (high)), corner = small + 5e-3 * (high - low);
      g_assert_true (least[k].value <= low + small && least[k].value >= low - corner);
      g_assert_true (most[k].value >= high - small && most[k].value <= high + corner);
      fw_pose_solve (rig.pose, rig.mechanism, most[k].crank);
      fw_loads_solve (loads, rig.mechanism, rig.pose, speed);
      assert_near (fw_load_value (loads, load), most[k].value, small);
      g_assert_true (most[k].crank >= 0 && most[k].crank < 2 * G_PI);
    }
  assert_near (fw_load_mean_size (rig.mechanism, rig.pose, loads, speed, 1000), mean, 1e-9);
  g_assert_cmpint (kinds[FW_LOAD_TORQUE], ==, 1);
  g_assert_cmpint (kinds[FW_LOAD_TENSION], ==, rig.mechanism->n_links);
  g_assert_cmpint (kinds[FW_LOAD_HINGE], ==, rig.mechanism->n_members);
  g_assert_cmpint (kinds[FW_LOAD_PIN], ==, rig.mechanism->n_pins);
  g_assert_cmpint (kinds[FW_LOAD_POST], ==, ride != FW_RIDE_FIXED);
  g_assert_cmpint (kinds[FW_LOAD_GUIDE], ==, ride == FW_RIDE_SLEEVE || ride == FW_RIDE_ROCKER);
  g_free (least);
  g_free (most);
  free (loads);
  rig_free (&rig);
}

/* Torque of a mass on a slider-crank, N m by mm, g and rad/s: how its energy changes, m z' (g + w^2 z''). */
static double
slider_torque (double r, double l, double mass, double speed, double t)
{
  double s = r * sin (t), c = r * cos (t), root = sqrt (l * l - s * s);
  double by = -s - s * c / root; /* dz/dt of z = c + root */
  double by2 = -c - (c * c - s * s) / root - s * s * c * c / (root * root * root);
  return mass * 1e-3 * by * 1e-3 * (9.80665 + speed * speed * by2 * 1e-3);
}

/* A mass that is thrown up and down fast has two peaks of torque in a turn, nearly alike. With few steps the higher one
 * stands between two of them, and the other beside one. */
static void
test_two_peaks (void)
{
  const double r = 40, l = 4000, mass = 1000, speed = 120;
  enum { STEPS = 9, DENSE = 36000 };
  double high = -INFINITY, seen = -INFINITY, at = 0, seen_at = 0;
  for (int i = 0; i < DENSE; i++)
    {
      double t = 2 * G_PI * i / DENSE, value = slider_torque (r, l, mass, speed, t);
      if (value > high)
        high = value, at = t;
      if (i % (DENSE / STEPS) == 0 && value > seen)
        seen = value, seen_at = t;
    }
  g_assert_cmpfloat (fabs (at - seen_at), >, 2.5); /* or it would prove nothing */

  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "t", r, 0, 0), l, 0);
  d->body.mass_g = mass;
  Rig rig = rig_new (d);
  FwLoads *loads = fw_loads_new (rig.mechanism);
  FwExtreme least[8], most[8];
  g_assert_cmpint (fw_load_count (rig.mechanism), <=, 8);
  fw_load_peaks (rig.mechanism, rig.pose, loads, speed, STEPS, least, most);
  assert_near (most[0].value, high, 1e-6 * high);
  assert_near (most[0].crank, at, 1e-3);
  free (loads);
  rig_free (&rig);
}

/* Each panel lies level on a prop under its weight: the prop carries all of it and the hinge nothing, all the turn. */
static void
test_many_loads (void)
{
  enum { PANELS = 40 };
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  for (int i = 0; i < PANELS; i++)
    {
      char *name = g_strdup_printf ("p%d", i);
      int panel = build_panel (d, name, FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (10, 20 * i, 0), 200);
      build_mass (d, panel, 10 + i, 100, 0, 0);
      build_rod (d, name, FW_SIDE_RIGHT, from_base (110, 20 * i, -80), panel, fw_vec3 (100, 0, 0), 80, 0);
      g_free (name);
    }
  Rig rig = rig_new (d);
  FwLoads *loads = fw_loads_new (rig.mechanism);
  int n = fw_load_count (rig.mechanism);
  g_assert_cmpint (n, >=, 2 * PANELS + 1);
  FwExtreme *least = g_new (FwExtreme, n), *most = g_new (FwExtreme, n);
  fw_load_peaks (rig.mechanism, rig.pose, loads, 5, 12, least, most);
  for (int k = 0; k < n; k++)
    {
      FwLoad load = fw_load_nth (rig.mechanism, k);
      double is = load.kind == FW_LOAD_TENSION
                      ? -1e-3 * d->panels[d->rods[rig.mechanism->links[load.index].rod].panel].mass_g * 9.80665
                      : 0;
      assert_near (least[k].value, is, 1e-9);
      assert_near (most[k].value, is, 1e-9);
    }
  g_free (least);
  g_free (most);
  free (loads);
  rig_free (&rig);
}

/* What never closes has no load: nothing is made up. */
static void
test_peaks_of_open (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "t", 40, 0, 0), 30, 80);
  Rig rig = rig_new (d);
  FwLoads *loads = fw_loads_new (rig.mechanism);
  FwExtreme least[8], most[8];
  g_assert_cmpint (fw_load_count (rig.mechanism), <=, 8);
  fw_load_peaks (rig.mechanism, rig.pose, loads, 5, 36, least, most);
  g_assert_true (isnan (least[0].value) && isnan (most[0].value));
  g_assert_true (isnan (fw_load_mean_size (rig.mechanism, rig.pose, loads, 5, 36)));
  free (loads);
  rig_free (&rig);
}

int
main (int argc, char **argv)
{
  static const char *rides[] = { "a fixed body", "a body on a rail", "a body in a sleeve", "a body on a rocker" };
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/crankshaft/a throw is a step out to its pin and back", test_one_throw);
  g_test_add_func ("/crankshaft/throws are sorted, and those that touch are joined directly", test_order_of_throws);
  g_test_add_func ("/crankshaft/no throws, no line", test_no_throws);
  g_test_add_func ("/crankshaft/more throws than fit leave a line that is sorted", test_more_than_fit);
  g_test_add_func ("/crankshaft/its pin turns as the pose turns", test_turned);
  g_test_add_func ("/crankshaft/tubes weigh what their makers print", test_tubes);
  g_test_add_func ("/crankshaft/wire is bent, thicker is bolted, and tube is bent more gently", test_making_defaults);
  g_test_add_func ("/crankshaft/a known tube brings its fitting and what is given stands", test_making_tube);
  for (int i = 0; i < 4; i++)
    {
      char *path = g_strdup_printf ("/crankshaft/every load peaks where a thousand samples say, with %s", rides[i]);
      g_test_add_data_func (path, GINT_TO_POINTER (i), test_peaks);
      g_free (path);
    }
  g_test_add_func ("/crankshaft/of two peaks nearly as high the higher is found between few steps", test_two_peaks);
  g_test_add_func ("/crankshaft/each of many props carries its panel, and no more at its peak", test_many_loads);
  g_test_add_func ("/crankshaft/what does not close has no peaks", test_peaks_of_open);
  return g_test_run ();
}
