/* A panel hinged on a fixed body and driven from a throw of a crank along is a planar four-bar; so
 * is a body on a rocker. Textbook angles are counted from "up" toward +x here, as the crank's is.
 *
 * Norton, Design of Machinery, Ex 4-1 (from memory, verified by calculation): a = 40, b = 120,
 * c = 80, d = 100; at 40 degrees the output stands at 57.33 (open) or -98.01 (crossed), the
 * coupler at 20.30 or -60.98, and the transmission angle is 37.03. */
#include "build_design.h"
#include "near.h"

/* Output angle th4 from "up" toward +x is 90 degrees less the panel's angle. */
static Rig
four_bar (double a, double b, double c, double d, double near_deg, double aside)
{
  FwDesign *design = build_design (FW_RUNS_ALONG);
  build_throw (design, "t", a, 0, 0);
  build_fixed (design, 0, 0, d, 0);
  build_panel (design, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, aside, 0), c);
  build_rod (design, "rod", FW_SIDE_RIGHT, from_throw (0), 0, fw_vec3 (c, 0, 0), hypot (b, aside),
             near_deg);
  return rig_new (design);
}

static const double open_near = -27.28, crossed_near = 207.28; /* the two roots at crank angle 0 */

static void
test_both_roots (void)
{
  Rig open = four_bar (40, 120, 80, 100, open_near, 0),
      crossed = four_bar (40, 120, 80, 100, crossed_near, 0);
  assert_near (remainder (90 - rig_angle_deg (&open, 0, 40), 360), 57.3249, 0.00005);
  assert_near (remainder (90 - rig_angle_deg (&crossed, 0, 40), 360), -98.0050, 0.00005);
  assert_near (remainder (90 - rig_angle_deg (&open, 0, 40), 360), 57.33, 0.0052);
  rig_free (&open);
  rig_free (&crossed);
}

static void
test_coupler (void)
{
  Rig open = four_bar (40, 120, 80, 100, open_near, 0),
      crossed = four_bar (40, 120, 80, 100, crossed_near, 0);
  const FwLinkPose *rod = &rig_solve (&open, 40)->links[0];
  assert_near (atan2 (rod->to.at.x - rod->from.at.x, rod->to.at.z - rod->from.at.z) / RAD, 20.2979,
               0.00005);
  rod = &rig_solve (&crossed, 40)->links[0];
  assert_near (atan2 (rod->to.at.x - rod->from.at.x, rod->to.at.z - rod->from.at.z) / RAD, -60.9780,
               0.00005);
  rig_free (&open);
  rig_free (&crossed);
}

static void
test_transmission (void)
{
  Rig open = four_bar (40, 120, 80, 100, open_near, 0),
      crossed = four_bar (40, 120, 80, 100, crossed_near, 0);
  rig_solve (&open, 40);
  assert_near (fw_pose_push (open.pose, open.mechanism, 0) / RAD, 37.03, 0.005);
  assert_near (fw_pose_lean (open.pose, open.mechanism, 0), 0, 1e-9);
  assert_near (fw_pose_bend (open.pose, open.mechanism, 0), 0, 1e-9);
  rig_solve (&crossed, 40);
  assert_near (fw_pose_push (crossed.pose, crossed.mechanism, 0) / RAD, 37.03, 0.005);
  rig_free (&open);
  rig_free (&crossed);
}

static void
test_other_root (void)
{
  Rig open = four_bar (40, 120, 80, 100, open_near, 0),
      crossed = four_bar (40, 120, 80, 100, crossed_near, 0);
  rig_solve (&open, 40);
  rig_solve (&crossed, 40);
  /* From 57.3249 to -98.0050 is 155.3299 degrees either way round. */
  double there = fw_pose_other_root (open.pose, open.mechanism, 0) / RAD;
  double back = fw_pose_other_root (crossed.pose, crossed.mechanism, 0) / RAD;
  assert_near (there, 155.3299, 0.0001);
  assert_near (back, -there, 1e-9);
  rig_free (&open);
  rig_free (&crossed);
}

/* Freudenstein 1955, Trans. ASME 77:853-861: K1 cos th4 - K2 cos th2 + K3 = cos (th2 - th4). */
static void
test_freudenstein (void)
{
  Rig open = four_bar (40, 120, 80, 100, open_near, 0);
  const double k1 = 100.0 / 40, k2 = 100.0 / 80,
               k3 = (1600.0 - 14400 + 6400 + 10000) / (2 * 40 * 80);
  assert_near (k3, 0.5625, 1e-12);
  for (int deg = 0; deg < 360; deg++)
    {
      double th2 = deg * RAD, th4 = (90 - rig_angle_deg (&open, 0, deg)) * RAD;
      assert_near (k1 * cos (th4) - k2 * cos (th2) + k3, cos (th2 - th4), 1e-12);
    }
  rig_free (&open);
}

/* Parallel axes set apart by h with a rod sqrt (b^2 + h^2) long move alike (derived). */
static void
test_axial_offset (void)
{
  for (double aside = -90; aside <= 90; aside += 30)
    {
      Rig open = four_bar (40, 120, 80, 100, open_near, aside);
      Rig crossed = four_bar (40, 120, 80, 100, crossed_near, aside);
      assert_near (remainder (90 - rig_angle_deg (&open, 0, 40), 360), 57.3249, 0.00005);
      assert_near (remainder (90 - rig_angle_deg (&crossed, 0, 40), 360), -98.0050, 0.00005);
      double lean = atan2 (fabs (aside), 120);
      assert_near (fw_pose_lean (open.pose, open.mechanism, 0), lean, 1e-12);
      assert_near (fw_pose_bend (open.pose, open.mechanism, 0), lean, 1e-12);
      rig_free (&open);
      rig_free (&crossed);
    }
}

/* Grashof 1883: the crank turns fully when it is the shortest link and shortest + longest do not
 * exceed the other two together; if the sum does exceed them, no link turns fully. */
static void
test_grashof (void)
{
  GRand *rand = g_rand_new_with_seed (11);
  int goes = 0, stays = 0;
  for (int i = 0; i < 2000; i++)
    {
      double a = g_rand_double_range (rand, 20, 60), b = g_rand_double_range (rand, 60, 200);
      double c = g_rand_double_range (rand, 60, 200), d = g_rand_double_range (rand, 60, 200);
      double longest = fmax (b, fmax (c, d)), slack = b + c + d - longest - longest - a;
      if (fabs (slack) < 0.5)
        continue;
      Rig rig = four_bar (a, b, c, d, 0, 0);
      FwTurn *turn = fw_turn_new (rig.mechanism, 360);
      fw_turn_solve (turn, rig.mechanism);
      g_assert_cmpint (fw_turn_closes (turn, rig.mechanism), ==, slack > 0);
      goes += slack > 0;
      stays += slack < 0;
      free (turn);
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (goes, >, 200);
  g_assert_cmpint (stays, >, 200);
}

/* The body on a rocker as the same four-bar: its tilt is the coupler's angle. Started with the
 * crank at +40 degrees the root nearest upright is the open one; started at -40 it is the one that
 * has become the crossed one at +40. */
static void
test_rocker (void)
{
  for (int runs = FW_RUNS_ACROSS; runs <= FW_RUNS_ALONG; runs++)
    for (int crossed = 0; crossed < 2; crossed++)
      {
        FwDesign *d = build_design (runs);
        build_throw (d, "mid", 40, crossed ? -40 : 40, 15);
        build_rocker (d, 0, 300, 0, 100, 80, 120);
        Rig rig = rig_new (d);
        const FwPose *pose = rig_solve (&rig, crossed ? 80 : 0);
        double tilt = crossed ? -60.9780 : 20.2979;
        assert_near (pose->body.tilt / RAD, tilt, 0.00005);
        double pin_h = 40 * sin (40 * RAD), pin_z = 40 * cos (40 * RAD);
        assert_near (pose->body.h_mm, pin_h + 300 * sin (tilt * RAD), 0.0005);
        assert_near (pose->body.z_mm, pin_z + 300 * cos (tilt * RAD), 0.0005);
        FwVec3 o = pose->body.motion.at.origin;
        assert_near (runs == FW_RUNS_ACROSS ? o.x : o.y, 15, 0);
        rig_free (&rig);
      }
}

/* The rocker's coupler and the panel's rod are one linkage, so they agree all the turn, with rates.
 */
static void
test_rocker_is_four_bar (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "mid", 40, 40, 0);
  build_rocker (d, 0, 120, 0, 100, 80, 120);
  Rig rocker = rig_new (d), panel = four_bar (40, 120, 80, 100, open_near, 0);
  for (int deg = 0; deg < 360; deg += 3)
    {
      const FwPose *r = rig_solve (&rocker, deg), *p = rig_solve (&panel, deg + 40);
      FwVec3 away = fw_vec3_sub (r->body.motion.at.origin, p->links[0].to.at);
      assert_near (fw_vec3_length (away), 0, 1e-9);
      away = fw_vec3_sub (r->body.motion.velocity, p->links[0].to.velocity);
      assert_near (fw_vec3_length (away), 0, 1e-9);
      away = fw_vec3_sub (r->body.motion.acceleration, p->links[0].to.acceleration);
      assert_near (fw_vec3_length (away), 0, 1e-8);
    }
  rig_free (&rocker);
  rig_free (&panel);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/four-bar/both roots of Norton's example 4-1 are met by their near angle",
                   test_both_roots);
  g_test_add_func ("/four-bar/the coupler of Norton's example 4-1 stands right in both roots",
                   test_coupler);
  g_test_add_func ("/four-bar/the push angle is the transmission angle", test_transmission);
  g_test_add_func ("/four-bar/the other root is the other root", test_other_root);
  g_test_add_func ("/four-bar/Freudenstein's equation holds all the turn", test_freudenstein);
  g_test_add_func ("/four-bar/axes set apart along themselves change nothing but lean and bend",
                   test_axial_offset);
  g_test_add_func ("/four-bar/Grashof's rule says which cranks go round", test_grashof);
  g_test_add_func ("/four-bar/a body on a rocker tilts as Norton's coupler", test_rocker);
  g_test_add_func ("/four-bar/a rocker and a driven panel of the same lengths move alike",
                   test_rocker_is_four_bar);
  return g_test_run ();
}
