/* Absurd but finite numbers: nothing crashes, nothing hangs, and no number is lost without a
 * closure that says why. */

#include <string.h>

#include "build_design.h"
#include "core/trouble.h"
#include "near.h"
#include "random_design.h"

static bool
finite3 (FwVec3 v)
{
  return isfinite (v.x) && isfinite (v.y) && isfinite (v.z);
}

static bool
whole_place (const FwMotion *m)
{
  return finite3 (m->at.origin) && finite3 (m->at.u) && finite3 (m->at.v) && finite3 (m->at.w);
}

static bool
whole_rates (const FwMotion *m)
{
  return finite3 (m->velocity) && finite3 (m->spin) && finite3 (m->acceleration)
         && finite3 (m->spin_rate);
}

/* Places are always there to be drawn. Rates are finite where the loop closes away from a dead
 * position, where they truly are without bound. */
static void
check_pose (const Rig *rig)
{
  const FwPose *pose = rig->pose;
  g_assert_true (whole_place (&pose->body.motion));
  g_assert_true (isfinite (pose->body.h_mm) && isfinite (pose->body.z_mm)
                 && isfinite (pose->body.tilt));
  for (int i = 0; i < rig->mechanism->n_members; i++)
    {
      const FwMemberPose *m = &pose->members[i];
      g_assert_true (m->closure == FW_CLOSES || m->closure == FW_SHORT || m->closure == FW_ADRIFT);
      g_assert_true (whole_place (&m->motion));
      g_assert_false (isnan (m->missing_mm));
      if (m->closure == FW_CLOSES)
        {
          g_assert_true (isfinite (fw_pose_angle (pose, rig->mechanism, i)));
          assert_near (m->cosine * m->cosine + m->sine * m->sine, 1, 1e-9);
          assert_near (fw_vec3_length (m->motion.at.u), 1, 1e-9);
          if (m->squareness > 1e-3 && pose->body.closure == FW_CLOSES)
            g_assert_true (whole_rates (&m->motion) && isfinite (m->rate) && isfinite (m->rate2));
          g_assert_false (isnan (m->rate) || isnan (m->rate2));
        }
    }
}

static void
check_turn (Rig *rig)
{
  FwTurn *turn = fw_turn_new (rig->mechanism, 72);
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  fw_turn_solve (turn, rig->mechanism);
  fw_trouble_find (turn, rig->mechanism, &list);
  for (int i = 0; i < list.n; i++)
    {
      g_assert_true (isfinite (list.items[i].from) && isfinite (list.items[i].to)
                     && isfinite (list.items[i].worst));
      g_assert_false (isnan (list.items[i].value) || isnan (list.items[i].limit));
      g_assert_cmpfloat (list.items[i].from, >=, 0);
      g_assert_cmpfloat (list.items[i].to, >=, list.items[i].from);
      g_assert_cmpfloat (list.items[i].to, <=, list.items[i].from + 2 * G_PI + 1e-9);
    }
  for (int q = 0; q < fw_quantity_count (rig->mechanism); q++)
    {
      FwExtreme low, high;
      if (fw_turn_extremes (turn, rig->mechanism, fw_quantity_nth (rig->mechanism, q), &low, &high))
        g_assert_cmpfloat (low.value, <=, high.value + 1e-9 * (1 + fabs (high.value)));
    }
  free (turn);
}

/* Any numbers that a design has, set to anything that its limits allow. */
static void
test_absurd_numbers (void)
{
  static const double values[]
      = { 0, 1e-9, 1e-4, 1, -1, 1e3, -1e3, 1e5, -1e5, 9.9e5, -9.9e5, 90, 180, 360, -90, 1e-300 };
  GRand *rand = g_rand_new_with_seed (71);
  int built = 0, rounds = random_rounds (700);
  for (int n = 0; n < rounds; n++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      FwParam params[512];
      int count = fw_design_params (d, params, 512), changes = g_rand_int_range (rand, 1, 6);
      for (int i = 0; i < changes; i++)
        {
          FwParam p = params[g_rand_int_range (rand, 0, count)];
          double lower, upper, value = values[g_rand_int_range (rand, 0, G_N_ELEMENTS (values))];
          fw_param_limits (d, p, &lower, &upper);
          if (value >= lower && value <= upper)
            fw_param_set (d, p, value);
        }
      FwMechanism *mechanism;
      if (fw_mechanism_build (d, &mechanism, NULL) != FW_OK)
        {
          fw_design_free (d);
          continue;
        }
      fw_mechanism_free (mechanism);
      Rig rig = rig_new (d);
      built++;
      for (int deg = 0; deg < 360; deg += 30)
        {
          rig_solve (&rig, deg);
          check_pose (&rig);
        }
      if (n % 10 == 0)
        check_turn (&rig);
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (built, >, rounds / 2);
}

/* A crank that does not move: everything stands still. */
static void
test_no_throw (void)
{
  FwDesign *d = build_example ();
  d->crank.throws[0].radius_mm = 0;
  d->crank.throws[1].radius_mm = 0;
  d->rods[0].length_mm = 445;
  Rig rig = rig_new (d);
  double angle = rig_angle_deg (&rig, 0, 0);
  g_assert_cmpint (rig.pose->members[0].closure, ==, FW_CLOSES);
  for (int deg = 0; deg < 360; deg += 10)
    {
      assert_near (rig_angle_deg (&rig, 0, deg), angle, 1e-12);
      assert_near (rig.pose->members[0].rate, 0, 1e-15);
      assert_near (rig.pose->members[0].rate2, 0, 1e-15);
      check_pose (&rig);
    }
  check_turn (&rig);
  rig_free (&rig);
}

/* A rod held on the hinge line drives nothing: it fits only by luck, and is never a number lost. */
static void
test_rod_on_the_hinge_line (void)
{
  for (int fits = 0; fits < 2; fits++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_fixed (d, 0, 0, 300, 0);
      build_panel (d, "p", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 100);
      build_rod (d, "r", FW_SIDE_RIGHT, from_base (0, 40, 0), 0, fw_vec3 (0, 40, 0),
                 fits ? 300 : 290, 0);
      Rig rig = rig_new (d);
      rig_solve (&rig, 10);
      check_pose (&rig);
      if (!fits)
        {
          g_assert_cmpint (rig.pose->members[0].closure, ==, FW_SHORT);
          assert_near (rig.pose->members[0].missing_mm, 10, 1e-9);
        }
      check_turn (&rig);
      rig_free (&rig);
    }
}

/* An anchor on the hinge line is as far from the held point at every angle. */
static void
test_anchor_on_the_hinge_line (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_fixed (d, 0, 0, 300, 0);
  build_panel (d, "p", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 100);
  build_rod (d, "r", FW_SIDE_RIGHT, from_base (0, 40, 300), 0, fw_vec3 (60, 0, 0), 90, 0);
  Rig rig = rig_new (d);
  rig_solve (&rig, 10);
  check_pose (&rig);
  g_assert_cmpint (rig.pose->members[0].closure, ==, FW_SHORT);
  assert_near (rig.pose->members[0].missing_mm, hypot (60, 40) - 90, 1e-9);
  check_turn (&rig);
  rig_free (&rig);
}

/* A hinge line that stands upright gives a hanging panel no lowest place: it stays somewhere,
 * still. */
static void
test_upright_hinge (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_fixed (d, 0, 0, 300, 0);
  build_panel (d, "p", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (20, 0, 0), 100);
  d->panels[0].cant_deg = 90;
  build_mass (d, 0, 50, 50, 0, 0);
  build_panel (d, "q", FW_SIDE_BOTH, 0, fw_vec3 (100, 0, 0), 80);
  build_mass (d, 1, 20, 40, 0, 0);
  Rig rig = rig_new (d);
  for (int deg = 0; deg < 360; deg += 45)
    {
      rig_solve (&rig, deg);
      check_pose (&rig);
      assert_near (rig.pose->members[2].motion.at.u.z, -1, 1e-9);
    }
  check_turn (&rig);
  rig_free (&rig);
}

/* The pin runs through the guide: the post has no direction there. */
static void
test_pin_in_the_guide (void)
{
  FwDesign *d = build_example ();
  d->body.guide_mm = (FwVec2){ 0, 40 };
  Rig rig = rig_new (d);
  rig_solve (&rig, 0);
  check_pose (&rig);
  for (double deg = -1; deg < 1; deg += 0.01)
    {
      rig_solve (&rig, deg);
      check_pose (&rig);
    }
  check_turn (&rig);
  rig_free (&rig);
}

/* Exactly dead: rod and panel in one line. The roots meet; just beyond, it does not close. */
static void
test_dead_position (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "t", 30, 0, 0);
  build_fixed (d, 0, 0, 200, 0);
  build_panel (d, "p", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 90);
  build_rod (d, "r", FW_SIDE_RIGHT, from_throw (0), 0, fw_vec3 (90, 0, 0), 140,
             -40); /* 140 + 90 = 200 + 30 */
  Rig rig = rig_new (d);
  rig_solve (&rig, 180);
  check_pose (&rig);
  assert_near (fw_pose_angle (rig.pose, rig.mechanism, 0), -G_PI / 2, 1e-6);
  if (rig.pose->members[0].closure == FW_CLOSES)
    {
      assert_near (fw_pose_push (rig.pose, rig.mechanism, 0), 0, 1e-6);
      assert_near (fw_pose_other_root (rig.pose, rig.mechanism, 0), 0, 1e-5);
    }
  else
    assert_near (rig.pose->members[0].missing_mm, 0, 1e-9);
  rig_solve (&rig, 90);
  g_assert_cmpint (rig.pose->members[0].closure, ==, FW_CLOSES);
  double there = fw_pose_other_root (rig.pose, rig.mechanism, 0);
  FwDesign *other = fw_design_copy (d);
  other->rods[0].near_deg = -140;
  Rig back = rig_new (other);
  rig_solve (&back, 90);
  assert_near (remainder (fw_pose_angle (rig.pose, rig.mechanism, 0) + there
                              - fw_pose_angle (back.pose, back.mechanism, 0),
                          2 * G_PI),
               0, 1e-9);
  assert_near (fw_pose_other_root (back.pose, back.mechanism, 0), -there, 1e-9);
  rig_free (&rig);
  rig_free (&back);
}

/* Push is 90 degrees where the rod pulls square to the arm. */
static void
test_square_push (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_fixed (d, 0, 0, 200, 0);
  build_panel (d, "p", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 90);
  build_rod (d, "r", FW_SIDE_RIGHT, from_base (90, 0, 0), 0, fw_vec3 (90, 0, 0), 200, 0);
  Rig rig = rig_new (d);
  assert_near (rig_angle_deg (&rig, 0, 0), 0, 1e-9);
  assert_near (fw_pose_push (rig.pose, rig.mechanism, 0), G_PI / 2, 1e-7);
  rig_free (&rig);
}

/* Nothing but a body, or nothing at all. */
static void
test_empty (void)
{
  Rig rig = rig_new (build_design (FW_RUNS_ACROSS));
  rig_solve (&rig, 77);
  check_pose (&rig);
  g_assert_true (fw_pose_closes (rig.pose, rig.mechanism));
  check_turn (&rig);
  rig_free (&rig);
}

/* Every number listed can be read and set, lies in its limits, and its range lies in them too. */
static void
test_params (void)
{
  GRand *rand = g_rand_new_with_seed (72);
  for (int n = 0; n < 100; n++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      if (n % 2)
        build_stops (d, 0, -50, 50);
      FwParam params[512];
      int count = fw_design_params (d, params, 512);
      g_assert_cmpint (fw_design_params (d, NULL, 0), ==, count);
      for (int i = 0; i < count; i++)
        {
          double lower, upper, from, to, value = fw_param_get (d, params[i]);
          fw_param_limits (d, params[i], &lower, &upper);
          fw_param_range (d, params[i], &from, &to);
          g_assert_true (lower <= value && value <= upper);
          g_assert_true (lower <= from && from < to && to <= upper);
          g_assert_true (from <= value && value <= to);
          fw_param_set (d, params[i], from);
          g_assert_cmpfloat (fw_param_get (d, params[i]), ==, from);
          fw_param_set (d, params[i], value);
          for (int k = 0; k < i; k++)
            g_assert_false (fw_param_equal (params[i], params[k]));
          g_assert_true (fw_param_equal (params[i], params[i]));
        }
      fw_design_free (d);
    }
  g_rand_free (rand);
}

/* What is said not to move the linkage does not; everything said to move it does in some design. */
static void
test_params_that_move (void)
{
  GRand *rand = g_rand_new_with_seed (73);
  bool moved[FW_N_PARAM_KINDS] = { false }, tried[FW_N_PARAM_KINDS] = { false };
  for (int n = random_rounds (60); n > 0; n--)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      Rig rig = rig_new (d);
      rig_solve (&rig, 20);
      FwParam params[512];
      int count = fw_design_params (d, params, 512);
      for (int i = 0; i < count; i++)
        {
          FwDesign *changed = fw_design_copy (d);
          double value = fw_param_get (d, params[i]);
          fw_param_set (changed, params[i], value + 0.05);
          FwMechanism *m;
          if (fw_mechanism_build (changed, &m, NULL) == FW_OK)
            {
              FwPose *pose = fw_pose_new (m);
              fw_pose_solve (pose, m, 20 * RAD);
              double apart
                  = fw_vec3_distance (pose->body.motion.at.origin, rig.pose->body.motion.at.origin);
              apart += fw_vec3_distance (pose->body.motion.at.u, rig.pose->body.motion.at.u)
                       + fw_vec3_distance (pose->body.motion.at.w, rig.pose->body.motion.at.w);
              for (int k = 0; k < m->n_members; k++)
                apart += fw_vec3_distance (pose->members[k].motion.at.u,
                                           rig.pose->members[k].motion.at.u)
                         + fw_vec3_distance (pose->members[k].motion.at.origin,
                                             rig.pose->members[k].motion.at.origin);
              if (!fw_param_moves (params[i]))
                assert_near (apart, 0, 0);
              moved[params[i].kind] |= apart > 1e-9;
              free (pose);
              fw_mechanism_free (m);
            }
          tried[params[i].kind] = true;
          fw_design_free (changed);
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  for (int k = 0; k < FW_N_PARAM_KINDS; k++)
    if (tried[k] && fw_param_moves ((FwParam){ .kind = k }) && k != FW_PARAM_ROD_NEAR
        && k != FW_PARAM_PANEL_SPAN && k != FW_PARAM_PANEL_STOP)
      {
        if (!moved[k])
          g_test_message ("number kind %d moves nothing", k);
        g_assert_true (moved[k]);
      }
}

/* A design with every kind of number: each can be set and read, nothing else changes with it, its own value lies in
 * its range and its range within its limits. */
static void
test_every_kind_of_number (void)
{
  bool seen[FW_N_PARAM_KINDS] = { false };
  for (int ride = 0; ride < 4; ride++)
    {
      FwDesign *d = build_heron ();
      if (ride == FW_RIDE_FIXED)
        build_fixed (d, 0, 0, 420, 3);
      if (ride == FW_RIDE_RAIL)
        build_rail (d, 0, 420, 5);
      if (ride == FW_RIDE_ROCKER)
        build_rocker (d, 0, 420, 220, 300, 225, 300);
      build_spring (d, FW_SIDE_BOTH, from_base (60, 0, 0), from_panel (0, 100, 0, 0), 0.1, 200, false);
      build_weight (d, 100, 30, 180, 20);
      build_mass (d, 0, 150, 90, 5, 0);
      build_stops (d, 0, -60, 60);
      d->drive.motor = true;
      d->drive.margin = 2;
      d->body.lumps = calloc (1, sizeof *d->body.lumps);
      d->body.lumps[0] = (FwLump){ strdup ("lead"), 40, { 1, 2, 3 } };
      d->body.n_lumps = 1;
      d->base.bearings_mm = calloc (2, sizeof (double));
      d->base.bearings_mm[1] = 100;
      d->base.n_bearings = 2;
      d->base.plate_mm[0] = d->base.plate_mm[1] = 300;
      d->base.plate_mm[2] = 18;
      FwParam list[256];
      int n = fw_design_params (d, list, 256);
      g_assert_cmpint (n, <=, 256);
      for (int i = 0; i < n; i++)
        {
          double was = fw_param_get (d, list[i]), lower, upper, from, to, others[256];
          seen[list[i].kind] = true;
          fw_param_limits (d, list[i], &lower, &upper);
          fw_param_range (d, list[i], &from, &to);
          g_assert_true (lower <= was && was <= upper);
          g_assert_true (lower <= from && from < to && to <= upper && from <= was && was <= to);
          for (int k = 0; k < n; k++)
            others[k] = fw_param_get (d, list[k]);
          double new = was == to ? from : to;
          fw_param_set (d, list[i], new);
          g_assert_cmpfloat (fw_param_get (d, list[i]), ==, new);
          for (int k = 0; k < n; k++)
            g_assert_true (k == i || fw_param_get (d, list[k]) == others[k]);
          fw_param_set (d, list[i], was);
          g_assert_true (fw_param_equal (list[i], list[i]) && (i == 0 || !fw_param_equal (list[i], list[i - 1])));
          g_assert_cmpint (fw_param_unit (list[i]), <, FW_N_UNITS);
        }
      fw_design_free (d);
    }
  g_assert_true (seen[FW_PARAM_LUMP_MASS] && seen[FW_PARAM_LUMP_AT] && seen[FW_PARAM_MARGIN] && seen[FW_PARAM_SPRING_RATE]
                 && seen[FW_PARAM_WEIGHT_PHASE] && seen[FW_PARAM_BEARING] && seen[FW_PARAM_BODY_LINK]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/hostile/absurd numbers lose no pose without saying so", test_absurd_numbers);
  g_test_add_func ("/hostile/a crank without throw moves nothing", test_no_throw);
  g_test_add_func ("/hostile/a rod on the hinge line is open by what it lacks",
                   test_rod_on_the_hinge_line);
  g_test_add_func ("/hostile/an anchor on the hinge line is open by what the rod lacks",
                   test_anchor_on_the_hinge_line);
  g_test_add_func ("/hostile/a panel on an upright hinge stays somewhere", test_upright_hinge);
  g_test_add_func ("/hostile/a pin that runs through the guide loses no pose",
                   test_pin_in_the_guide);
  g_test_add_func ("/hostile/a dead position is where the roots meet", test_dead_position);
  g_test_add_func ("/hostile/a rod square to its arm has a push of 90 degrees", test_square_push);
  g_test_add_func ("/hostile/an empty design closes", test_empty);
  g_test_add_func ("/hostile/every number lies within its limits and can be set", test_params);
  g_test_add_func ("/hostile/numbers that shape the motion are told from those that do not",
                   test_params_that_move);
  g_test_add_func ("/hostile/every kind of number can be set alone and read again", test_every_kind_of_number);
  return g_test_run ();
}
