/* Rods in space: a crank, a rod free to turn at both ends and a hinge that is neither parallel nor
 * square to the crank (an RSSR linkage). No worked number of one was found in print; a published
 * law that it must reduce to, and closed geometry, stand in. */
#include "build_design.h"
#include "core/angle.h"
#include "near.h"

/* Hinge line square to nothing: its direction in the panel's axes at angle 0. */
static FwVec3
hinge_line (double sweep, double cant)
{
  return fw_vec3 (sin (sweep) * cos (cant), cos (sweep) * cos (cant), sin (cant));
}

/* Hooke's joint: crank and hinge lines meet at the origin under the angle beta, pin and rod end are
 * both square to their lines at the same radius, and a rod sqrt (2) of that long keeps them square
 * to each other, as the cross of the joint does. `roll` turns hinge, body and phase about the
 * crank. The law: x1 . x2 = 0 gives tan psi = tan alpha cos beta (Shigley; Norton; the arms and the
 * condition were read in an encyclopedia's derivation). */
static Rig
hooke (double beta_deg, double roll_deg)
{
  const double r = 80, beta = beta_deg * RAD, roll = roll_deg * RAD;
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "t", r, -roll_deg, 0);
  build_fixed (d, 0, 0, 0, 0);
  build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 2 * r);
  /* Hinge line (cos b, sin b cos roll, sin b sin roll), rod end square to it in the plane of both.
   */
  double cant = asin (sin (beta) * sin (roll));
  double sweep = atan2 (cos (beta), sin (beta) * cos (roll));
  d->panels[0].sweep_deg = sweep / RAD;
  d->panels[0].cant_deg = cant / RAD;
  FwVec3 line = hinge_line (sweep, cant);
  assert_near (line.x, cos (beta), 1e-12);
  FwVec3 arm = fw_vec3 (-sin (beta), cos (beta) * cos (roll), cos (beta) * sin (roll));
  build_rod (d, "rod", FW_SIDE_RIGHT, from_throw (0), 0, fw_vec3_scale (arm, r), r * sqrt (2), 0);
  return rig_new (d);
}

static void
test_hooke_table (void)
{
  /* beta = 30 degrees (recomputed from the law). */
  static const double table[][2]
      = { { 15, 13.0643 }, { 30, 26.5651 }, { 45, 40.8934 }, { 60, 56.3099 }, { 75, 72.8079 } };
  for (int roll = 0; roll < 90; roll += 25)
    {
      Rig rig = hooke (30, roll);
      for (size_t i = 0; i < G_N_ELEMENTS (table); i++)
        assert_near (rig_angle_deg (&rig, 0, table[i][0]), table[i][1], 0.00005);
      rig_free (&rig);
    }
}

static void
test_hooke_law (void)
{
  for (int beta = 5; beta <= 70; beta += 5)
    {
      Rig rig = hooke (beta, 20);
      double cb = cos (beta * RAD), sb = sin (beta * RAD);
      for (int deg = 0; deg < 360; deg += 7)
        {
          double a = deg * RAD, law = atan2 (sin (a) * cb, cos (a));
          double angle = rig_angle_deg (&rig, 0, deg) * RAD;
          assert_near (remainder (angle - law, 2 * G_PI), 0, 1e-12);
          /* d psi / d alpha = cos b / (1 - sin^2 b sin^2 alpha), and its derivative. */
          double k = 1 - sb * sb * sin (a) * sin (a);
          assert_near (rig.pose->members[0].rate, cb / k, 1e-11);
          assert_near (rig.pose->members[0].rate2, cb * sb * sb * sin (2 * a) / (k * k), 1e-10);
        }
      rig_free (&rig);
    }
}

/* Rate from cos beta to 1 / cos beta, twice a turn; greatest lag (recomputed from the law). */
static void
test_hooke_extremes (void)
{
  static const double table[][3]
      = { { 10, 1.01543, .4386 },  { 15, 1.03528, .9931 },  { 20, 1.06418, 1.7817 },
          { 25, 1.10338, 2.8171 }, { 30, 1.15470, 4.1172 }, { 45, 1.41421, 9.8793 } };
  for (size_t i = 0; i < G_N_ELEMENTS (table); i++)
    {
      Rig rig = hooke (table[i][0], 0);
      FwTurn *turn = fw_turn_new (rig.mechanism, 72);
      FwExtreme low, high, turning[8];
      FwQuantity rate = { FW_Q_RATE, 0 };
      fw_turn_solve (turn, rig.mechanism);
      g_assert_true (fw_turn_extremes (turn, rig.mechanism, rate, &low, &high));
      assert_near (high.value, table[i][1], 0.0000051);
      assert_near (low.value * high.value, 1, 1e-9);
      g_assert_cmpint (fw_turn_turning_points (turn, rig.mechanism, rate, turning, 8), ==, 4);
      double lag = 0;
      for (double a = 0; a < 90; a += 0.01)
        lag = fmax (lag, a - rig_angle_deg (&rig, 0, a));
      assert_near (lag, table[i][2], 0.000051);
      free (turn);
      rig_free (&rig);
    }
}

/* With the hinge turned parallel to the crank this is the planar four-bar; in between, the root
 * must move smoothly from one to the other. Here the hinge swings from square to parallel in 200
 * steps. */
static void
test_between (void)
{
  double last = NAN, last_step = NAN;
  for (int i = 0; i <= 200; i++)
    {
      FwDesign *d = build_design (FW_RUNS_ALONG);
      build_throw (d, "t", 40, 0, 30);
      build_fixed (d, 0, 0, 180, 0);
      build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (30, 0, 0), 160);
      d->panels[0].sweep_deg = 40 - i * 0.2;
      d->panels[0].cant_deg = 15 - i * 0.075;
      build_rod (d, "rod", FW_SIDE_RIGHT, from_throw (0), 0, fw_vec3 (90, 10, -10), 190, 0);
      Rig rig = rig_new (d);
      double angle = rig_angle_deg (&rig, 0, 50), step = angle - last;
      if (i > 1)
        assert_near (step, last_step, 0.005);
      last = angle;
      last_step = step;
      if (i == 200)
        {
          FwVec3 pin = fw_vec3 (40 * sin (50 * RAD), 30, 40 * cos (50 * RAD));
          double a = angle * RAD;
          FwVec3 end
              = fw_vec3 (30 + 90 * cos (a) + 10 * sin (a), 10, 180 + 90 * sin (a) - 10 * cos (a));
          assert_near (fw_vec3_distance (pin, end), 190, 1e-9);
        }
      rig_free (&rig);
    }
}

/* A positive angle raises the panel whatever its reach, side, sweep and cant. */
static void
test_positive_raises (void)
{
  static const FwReach reaches[] = { FW_REACH_SIDE, FW_REACH_FORWARD, FW_REACH_BACK };
  for (int k = 0; k < 3; k++)
    for (int left = 0; left < 2; left++)
      {
        FwDesign *d = build_design (FW_RUNS_ACROSS);
        build_fixed (d, 0, 0, 300, 0);
        FwSide side
            = reaches[k] == FW_REACH_SIDE ? (left ? FW_SIDE_LEFT : FW_SIDE_RIGHT) : FW_SIDE_MIDDLE;
        build_panel (d, "p", side, FW_ON_BODY, fw_vec3 (0, 0, 0), 100);
        d->panels[0].reach = reaches[k];
        d->panels[0].sweep_deg = 20;
        d->panels[0].cant_deg = 10;
        build_rod (d, "rod", side, from_base (60, 60, 0), 0, fw_vec3 (80, 0, 0), 310, 30);
        Rig rig = rig_new (d);
        const FwPose *pose = rig_solve (&rig, 0);
        double a = fw_pose_angle (rig.pose, rig.mechanism, 0);
        g_assert_cmpint (pose->members[0].closure, ==, FW_CLOSES);
        g_assert_cmpint (pose->members[0].motion.at.u.z > 0, ==, sin (a) > 0);
        FwVec3 u = pose->members[0].motion.at.u;
        double out = reaches[k] == FW_REACH_SIDE      ? (left ? -u.x : u.x)
                     : reaches[k] == FW_REACH_FORWARD ? u.y
                                                      : -u.y;
        g_assert_cmpfloat (out, >, 0);
        rig_free (&rig);
      }
}

/* A swept hinge (front end outward) makes the panel twist as it rises: for a wing that rises by a,
 * the chord v leaves the level by what the turn about the swept line makes of it. */
static void
test_sweep_twists (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_fixed (d, 0, 0, 300, 0);
  build_panel (d, "p", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (20, 0, 0), 100);
  d->panels[0].sweep_deg = 30;
  build_rod (d, "rod", FW_SIDE_BOTH, from_base (80, 0, 0), 0, fw_vec3 (60, 0, 0), 330, 30);
  Rig rig = rig_new (d);
  const FwPose *pose = rig_solve (&rig, 0);
  double a = fw_pose_angle (rig.pose, rig.mechanism, 0), s = 30 * RAD;
  g_assert_cmpfloat (a, >, 0.1);
  for (int side = 0; side < 2; side++)
    {
      const FwFrame *f = &pose->members[side].motion.at;
      /* Rodrigues about the line (sin s, cos s, 0) by -a: u rises by cos s sin a, v sinks by sin s
       * sin a. */
      assert_near (f->v.z, -sin (s) * sin (a), 1e-12);
      assert_near (f->u.z, cos (s) * sin (a), 1e-12);
      assert_near (f->w.z, cos (a), 1e-12);
      assert_near (pose->members[side].axis.z, 0, 1e-12);
    }
  rig_free (&rig);
}

/* Against the C library, which rounds correctly to within a unit; at directions of any length, on the axes and where one
 * piece of the function goes over into the next. */
static void
test_angle_of_direction (void)
{
  for (int i = -180000; i <= 180000; i++)
    {
      double a = i * (G_PI / 180000), r = 1 + i % 7 * 1000.0, y = r * sin (a), x = r * cos (a);
      g_assert_cmpfloat (fabs (fw_angle_of (y, x) - atan2 (y, x)), <, 5e-16);
    }
  for (int i = -3; i <= 3; i++)
    for (int k = -3; k <= 3; k++)
      if (i != 0 || k != 0)
        g_assert_cmpfloat (fabs (fw_angle_of (i, k) - atan2 (i, k)), <, 5e-16);
  g_assert_cmpfloat (fw_angle_of (-0.0, -1), ==, -fw_angle_of (0, -1));
  g_assert_true (isnan (fw_angle_of (NAN, 1)) && isnan (fw_angle_of (1, NAN)));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func (
      "/spatial/a rod between lines that meet at 30 degrees gives the table of Hooke's joint",
      test_hooke_table);
  g_test_add_func (
      "/spatial/Hooke's law and its two derivatives hold at every angle between the lines",
      test_hooke_law);
  g_test_add_func (
      "/spatial/the rate of Hooke's joint swings between cos beta and 1 over cos beta twice a turn",
      test_hooke_extremes);
  g_test_add_func (
      "/spatial/turning the hinge parallel to the crank leads smoothly to the planar linkage",
      test_between);
  g_test_add_func ("/spatial/a positive angle raises the panel on every side and reach",
                   test_positive_raises);
  g_test_add_func ("/spatial/a swept hinge twists the panel as it rises", test_sweep_twists);
  g_test_add_func ("/spatial/the angle of a direction is the library's, all round", test_angle_of_direction);
  return g_test_run ();
}
