/* The rail ride is a slider-crank: published formulas and values.
 * Crank angle 0 is the top dead centre, so the datum's height is the textbooks' x. */
#include "build_design.h"
#include "near.h"

static Rig
slider (double r, double l, double offset)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "mid", r, 0, 0), l, offset);
  return rig_new (d);
}

/* Exact motion: x = r cos t + sqrt (l^2 - r^2 sin^2 t) and its derivatives (any Theory of Machines
 * text; seen in the piston motion equations of an online encyclopedia and of an open engine model).
 */
static void
test_formula (void)
{
  const double r = 37, l = 121, n = l / r;
  Rig rig = slider (r, l, 0);
  for (int deg = 0; deg < 360; deg++)
    {
      double t = deg * RAD, s = sqrt (n * n - sin (t) * sin (t));
      const FwMotion *m = &rig_solve (&rig, deg)->body.motion;
      assert_near (m->at.origin.z, r * cos (t) + sqrt (l * l - r * r * sin (t) * sin (t)), 1e-11);
      assert_near (m->velocity.z, -r * (sin (t) + sin (2 * t) / (2 * s)), 1e-11);
      assert_near (m->acceleration.z,
                   -r * (cos (t) + cos (2 * t) / s + pow (sin (2 * t), 2) / (4 * s * s * s)),
                   1e-10);
      assert_near (m->velocity.y, 0, 1e-12);
      assert_near (m->acceleration.y, 0, 1e-12);
    }
  rig_free (&rig);
}

/* A course sheet "Slider-crank analysis" prints, at 45 degrees and 1 rad/s: rod at 159.295 degrees,
 * v = 9.744 in/s, rod speed 0.378 rad/s. Its lengths were not seen; r = 10 in and l = 20 in are
 * inferred and give all three. */
static void
test_course_sheet (void)
{
  Rig rig = slider (10, 20, 0);
  const FwPose *pose = rig_solve (&rig, 45);
  assert_near (-pose->body.motion.velocity.z, 9.744, 0.0005);
  FwVec3 pin = pose->pins[0].at, datum = pose->body.motion.at.origin;
  /* From the slider's side, as the sheet counts it. */
  assert_near (180 - atan2 (pin.y, datum.z - pin.z) / RAD, 159.295, 0.0005);
  double rod_speed = (pose->pins[0].velocity.y) / (datum.z - pin.z);
  assert_near (rod_speed, 0.378, 0.0005);
  rig_free (&rig);
}

/* Worked example in FOSSEE Scilab-TBC-Uploads folder 1835, Ex 5.2: r = 0.3 m,
 * l = 1.5 m, 180 rpm, 40 degrees. Inputs seen; exact values recomputed (the companion prints
 * series). */
static void
test_companion_1835_5_2 (void)
{
  Rig rig = slider (300, 1500, 0);
  double w = 180 * 2 * G_PI / 60;
  const FwMotion *m = &rig_solve (&rig, 40)->body.motion;
  assert_near (-m->velocity.z * w / 1000, 4.1964, 0.00005);
  assert_near (-m->acceleration.z * w * w / 1000, 85.599, 0.0005);
  rig_free (&rig);
}

/* The same collection, Ex 5.1: r = 0.3 m, l = 1 m, 200 rpm. Greatest speed 6.5617 m/s at 74.53
 * degrees (inputs seen, exact values recomputed). */
static void
test_companion_1835_5_1 (void)
{
  Rig rig = slider (300, 1000, 0);
  double w = 200 * 2 * G_PI / 60, a = 60, b = 90;
  while (b - a > 1e-9)
    {
      double m = 0.5 * (a + b);
      if (rig_solve (&rig, m)->body.motion.acceleration.z < 0)
        a = m;
      else
        b = m;
    }
  assert_near (a, 74.53, 0.005);
  assert_near (-rig_solve (&rig, a)->body.motion.velocity.z * w / 1000, 6.5617, 0.00005);
  rig_free (&rig);
}

/* Travel of the slider as a share of the stroke for l / r = 4, every 15 degrees. Engineering
 * handbooks print this table to 3 or 4 digits (from memory: 90 degrees, .5635); recomputed. */
static void
test_travel_table (void)
{
  static const double travel[] = { 0,      .02123, .08267, .17794, .29744, .42978, .56351,
                                   .68860, .79744, .88505, .94870, .98715, 1 };
  static const double speed[] = { 0,      .32145, .60911, .83411, .97691, 1.03033, 1,
                                  .90152, .75514, .58011, .39089, .19619, 0 };
  static const double acceleration[]
      = { 1.25,    1.18387, .99501,  .71120,  .37511,  .03678, -.25820,
          -.48086, -.62489, -.70301, -.73704, -.74798, -.75 };
  Rig rig = slider (25, 100, 0);
  for (int i = 0; i <= 12; i++)
    {
      const FwMotion *m = &rig_solve (&rig, 15 * i)->body.motion;
      assert_near ((125 - m->at.origin.z) / 50, travel[i], 0.0000051);
      assert_near (-m->velocity.z / 25, speed[i], 0.0000051);
      assert_near (-m->acceleration.z / 25, acceleration[i], 0.0000051);
    }
  rig_free (&rig);
}

/* Offset slider: stroke = sqrt ((l+r)^2 - e^2) - sqrt ((l-r)^2 - e^2), time ratio (180 + a) / (180
 * - a) with a = asin (e / (l-r)) - asin (e / (l+r)); Norton, Design of Machinery, ch. 3 (formula
 * from memory, numbers recomputed). */
static void
test_offset_stroke (void)
{
  Rig rig = slider (40, 120, 20);
  FwTurn *turn = fw_turn_new (rig.mechanism, 72);
  FwExtreme low, high;
  fw_turn_solve (turn, rig.mechanism);
  g_assert_true (
      fw_turn_extremes (turn, rig.mechanism, (FwQuantity){ FW_Q_BODY_Z, 0 }, &low, &high));
  assert_near (high.value - low.value, sqrt (160 * 160 - 400) - sqrt (80 * 80 - 400), 1e-9);
  assert_near (high.value - low.value, 81.2854, 0.00005);
  double down = fmod (low.crank - high.crank + 2 * G_PI, 2 * G_PI) / RAD;
  double ratio = fmax (down, 360 - down) / fmin (down, 360 - down);
  assert_near (ratio, 1.08450, 0.000005);
  assert_near (fabs (down - 180), 7.2968, 0.0001);
  free (turn);
  rig_free (&rig);
}

/* Norton, Design of Machinery, Ex 4-2: a = 40, b = 120, c = -20, 60 degrees: d = 126.84 in the open
 * way (from memory, recomputed). Its crossed way, -86.84, has the slider below the crank, which a
 * rail never has: the datum is above the pin. */
static void
test_offset_position (void)
{
  Rig rig = slider (40, 120, -20);
  const FwPose *pose = rig_solve (&rig, 60);
  assert_near (pose->body.z_mm, 126.84, 0.005);
  assert_near (pose->body.h_mm, -20, 1e-12);
  FwVec3 pin = pose->pins[0].at;
  assert_near (90 + atan2 (pose->body.z_mm - pin.z, pin.y + 20) / RAD, 152.91, 0.005);
  rig_free (&rig);
}

/* The crank goes all round exactly when the rod is at least radius + |offset|; with no offset the
 * stroke is twice the radius (any text; from memory). */
static void
test_limits (void)
{
  GRand *rand = g_rand_new_with_seed (5);
  for (int i = 0; i < 400; i++)
    {
      double r = g_rand_double_range (rand, 5, 60), e = g_rand_double_range (rand, -60, 60);
      bool goes = g_rand_boolean (rand);
      double l = (r + fabs (e))
                 * (goes ? g_rand_double_range (rand, 1.001, 4)
                         : g_rand_double_range (rand, 0.5, 0.999));
      Rig rig = slider (r, l, e);
      FwTurn *turn = fw_turn_new (rig.mechanism, 360);
      fw_turn_solve (turn, rig.mechanism);
      g_assert_cmpint (fw_turn_closes (turn, rig.mechanism), ==, goes);
      free (turn);
      rig_free (&rig);
    }
  g_rand_free (rand);
  Rig rig = slider (33, 100, 0);
  FwTurn *turn = fw_turn_new (rig.mechanism, 72);
  FwExtreme low, high;
  fw_turn_solve (turn, rig.mechanism);
  g_assert_true (
      fw_turn_extremes (turn, rig.mechanism, (FwQuantity){ FW_Q_BODY_Z, 0 }, &low, &high));
  assert_near (high.value - low.value, 66, 1e-10);
  free (turn);
  rig_free (&rig);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/slider-crank/place, speed and acceleration follow the exact formula",
                   test_formula);
  g_test_add_func ("/slider-crank/the course sheet's point at 45 degrees is met",
                   test_course_sheet);
  g_test_add_func (
      "/slider-crank/speed and acceleration of example 5.2 are met exactly, not by series",
      test_companion_1835_5_2);
  g_test_add_func ("/slider-crank/the greatest speed of example 5.1 lies where it should",
                   test_companion_1835_5_1);
  g_test_add_func ("/slider-crank/the handbook table of travel, speed and acceleration is met",
                   test_travel_table);
  g_test_add_func ("/slider-crank/an offset slider has the published stroke and time ratio",
                   test_offset_stroke);
  g_test_add_func ("/slider-crank/an offset slider stands where Norton's example does",
                   test_offset_position);
  g_test_add_func ("/slider-crank/it goes round exactly when the rod is long enough", test_limits);
  return g_test_run ();
}
