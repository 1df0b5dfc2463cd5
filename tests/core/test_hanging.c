/* Panels without a rod rest where gravity balances, or on a stop: potential energy by brute force.
 */
#include "build_design.h"
#include "near.h"
#include "second_solver.h"

/* Height of the panels' centres times their masses (g mm), all angles given. */
static double
potential (const FwDesign *d, SecondSolver *s, const double *angles)
{
  SecondFrame body, members[SECOND_ROOM];
  double sum = 0;
  for (int i = 0; i < s->n_members; i++)
    s->x[3 + i] = angles[i];
  second_place (s, &body, members);
  for (int i = 0; i < s->n_members; i++)
    {
      const FwPanel *p = &d->panels[s->members[i].panel];
      double w[3];
      second_point (&members[i], p->centre_mm, w);
      sum += p->mass_g * w[2];
    }
  return sum;
}

static void
body_of (SecondSolver *s, const FwPose *pose)
{
  s->crank = pose->crank;
  s->x[0] = pose->body.h_mm;
  s->x[1] = pose->body.z_mm;
  s->x[2] = pose->body.tilt;
}

/* `parallel`: the hinge lines of all are those of the first. */
static FwDesign *
random_hanging (GRand *r, bool stops, bool parallel, int n)
{
  FwDesign *d = build_design (g_rand_boolean (r) ? FW_RUNS_ACROSS : FW_RUNS_ALONG);
  build_throw (d, "mid", 40, g_rand_double_range (r, -180, 180), 0);
  build_sleeve (d, 0, 420, g_rand_double_range (r, -40, 40), 180);
  for (int i = 0; i < n; i++)
    {
      char name[8];
      g_snprintf (name, sizeof name, "p%d", i);
      build_panel (d, name, FW_SIDE_RIGHT, i - 1,
                   fw_vec3 (i ? 100 : 40, g_rand_double_range (r, -20, 20),
                            g_rand_double_range (r, -10, 10)),
                   120);
      d->panels[i].sweep_deg = parallel && i ? d->panels[0].sweep_deg : g_rand_double_range (r, -30, 30);
      d->panels[i].cant_deg = parallel && i ? d->panels[0].cant_deg : g_rand_double_range (r, -25, 25);
      build_mass (d, i, g_rand_double_range (r, 20, 100), g_rand_double_range (r, 30, 90),
                  g_rand_double_range (r, -30, 30), g_rand_double_range (r, -20, 20));
      if (stops)
        {
          double a = g_rand_double_range (r, -150, 60);
          build_stops (d, i, a, a + g_rand_double_range (r, 20, 120));
        }
    }
  return d;
}

/* Least potential of one panel within its stops, by looking at every 0.05 degree. */
static double
least_of_one (const FwDesign *d, SecondSolver *s, double *at)
{
  const FwPanel *p = &d->panels[0];
  double low = p->has_stops ? p->stops_deg[0] * RAD : -G_PI,
         high = p->has_stops ? p->stops_deg[1] * RAD : G_PI;
  double best = INFINITY;
  for (int k = 0; k <= 7200; k++)
    {
      double a = low + (high - low) * k / 7200, v = potential (d, s, &a);
      if (v < best)
        {
          best = v;
          *at = a;
        }
    }
  return best;
}

static void
check_one (bool stops, guint32 seed, int *on_stops)
{
  GRand *rand = g_rand_new_with_seed (seed);
  for (int n = 0; n < 60; n++)
    {
      Rig rig = rig_new (random_hanging (rand, stops, false, 1));
      SecondSolver s;
      second_init (&s, rig.design);
      const FwPose *pose = rig_solve (&rig, g_rand_double_range (rand, 0, 360));
      body_of (&s, pose);
      double at = 0, angle = fw_pose_angle (pose, rig.mechanism, 0);
      double least = least_of_one (rig.design, &s, &at), here = potential (rig.design, &s, &angle);
      g_assert_cmpint (pose->members[0].closure, ==, FW_CLOSES);
      assert_near (here, least,
                   1e-3 + 1e-6 * fabs (least)); /* energies: the angle's error counts squared */
      g_assert_cmpfloat (here, <=, least + 1e-9);
      if (pose->members[0].on_stop)
        {
          double lo = rig.design->panels[0].stops_deg[0] * RAD,
                 hi = rig.design->panels[0].stops_deg[1] * RAD;
          g_assert_true (fabs (angle - lo) < 1e-9 || fabs (angle - hi) < 1e-9);
          assert_near (pose->members[0].rate, 0, 0);
        }
      else
        {
          double a = angle + 1e-4, b = angle - 1e-4;
          assert_near ((potential (rig.design, &s, &a) - potential (rig.design, &s, &b)) / 2e-4, 0,
                       1e-3);
        }
      *on_stops += pose->members[0].on_stop;
      rig_free (&rig);
    }
  g_rand_free (rand);
}

static void
test_free (void)
{
  int on_stops = 0;
  check_one (false, 41, &on_stops);
  g_assert_cmpint (on_stops, ==, 0);
}

static void
test_stops (void)
{
  int on_stops = 0;
  check_one (true, 42, &on_stops);
  g_assert_cmpint (on_stops, >, 10);
  g_assert_cmpint (on_stops, <, 60);
}

/* No turn of any joint that the stops allow lowers a chain at rest: virtual work is never negative.
 */
static void
check_chain (bool stops, guint32 seed, int length)
{
  GRand *rand = g_rand_new_with_seed (seed);
  int on_stop = 0;
  for (int n = 0; n < 120; n++)
    {
      Rig rig = rig_new (random_hanging (rand, stops, n % 2, length));
      SecondSolver s;
      second_init (&s, rig.design);
      const FwPose *pose = rig_solve (&rig, g_rand_double_range (rand, 0, 360));
      body_of (&s, pose);
      double angles[8];
      for (int i = 0; i < length; i++)
        angles[i] = fw_pose_angle (pose, rig.mechanism, i);
      for (int i = 0; i < length; i++)
        {
          const FwMember *m = &rig.mechanism->members[i];
          double keep = angles[i], step = 1e-4;
          if (m->has_stops)
            g_assert_true (keep >= m->stop_min - 1e-9 && keep <= m->stop_max + 1e-9);
          angles[i] = keep + step;
          double up = potential (rig.design, &s, angles);
          angles[i] = keep - step;
          double down = potential (rig.design, &s, angles), slope = (up - down) / (2 * step);
          angles[i] = keep;
          if (!pose->members[i].on_stop)
            assert_near (slope, 0, 2e-3);
          else
            {
              bool low = fabs (keep - m->stop_min) < fabs (keep - m->stop_max);
              g_assert_true (low ? slope > -2e-3 : slope < 2e-3);
            }
          on_stop += pose->members[i].on_stop;
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  if (stops)
    g_assert_cmpint (on_stop, >, 30);
  else
    g_assert_cmpint (on_stop, ==, 0);
}

static void
test_chain (void)
{
  check_chain (false, 43, 2);
  check_chain (false, 44, 4);
}

static void
test_chain_with_stops (void)
{
  check_chain (true, 45, 2);
  check_chain (true, 46, 3);
}

/* Without stops a pair of panels finds the lowest of all rests, not merely one of them. */
static void
test_lowest_pair (void)
{
  GRand *rand = g_rand_new_with_seed (47);
  for (int n = 0; n < 40; n++)
    {
      Rig rig = rig_new (random_hanging (rand, n % 2, n / 2 % 2, 2));
      SecondSolver s;
      second_init (&s, rig.design);
      const FwPose *pose = rig_solve (&rig, g_rand_double_range (rand, 0, 360));
      body_of (&s, pose);
      double angles[2]
          = { fw_pose_angle (pose, rig.mechanism, 0), fw_pose_angle (pose, rig.mechanism, 1) };
      double here = potential (rig.design, &s, angles), least = INFINITY, range[2][2];
      for (int i = 0; i < 2; i++)
        {
          const FwPanel *p = &rig.design->panels[i];
          range[i][0] = p->has_stops ? p->stops_deg[0] * RAD : -G_PI;
          range[i][1] = p->has_stops ? p->stops_deg[1] * RAD : G_PI;
        }
      for (int i = 0; i <= 120; i++)
        for (int k = 0; k <= 120; k++)
          {
            const double a[2] = { range[0][0] + (range[0][1] - range[0][0]) * i / 120,
                                  range[1][0] + (range[1][1] - range[1][0]) * k / 120 };
            least = fmin (least, potential (rig.design, &s, a));
          }
      if (here > least + 1e-6)
        g_test_message ("design %d: rests %g g mm above the lowest", n, here - least);
      g_assert_cmpfloat (here, <=, least + 1e-6);
      rig_free (&rig);
    }
  g_rand_free (rand);
}

/* So long that a chain which settles joint by joint from where it was glued is not there in some hundred rounds. */
static void
test_long (void)
{
  GRand *rand = g_rand_new_with_seed (49);
  Rig rig = rig_new (random_hanging (rand, false, true, 60));
  for (int n = 0; n < 12; n++)
    {
      const FwPose *pose = rig_solve (&rig, 30 * n);
      for (int i = 0; i < 60; i++)
        {
          const FwMemberPose *m = &pose->members[i];
          const FwPanel *p = &rig.design->panels[i];
          FwVec3 moment = fw_vec3_scale (p->centre_mm, p->mass_g);
          for (int k = i + 1; k < 60; k++)
            moment = fw_vec3_along (moment, rig.design->panels[k].mass_g, p[1].hinge_mm);
          moment = fw_frame_turn (&m->motion.at, moment);
          FwVec3 push = fw_vec3_cross (m->axis, moment);
          assert_near (push.z, 0, 1e-9 * fw_vec3_length (moment));
          g_assert_cmpfloat (fw_vec3_cross (m->axis, push).z, >, 0);
        }
    }
  rig_free (&rig);
  g_rand_free (rand);
}

static void
test_plumb (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_fixed (d, 0, 0, 500, 0);
  for (int i = 0; i < 3; i++)
    {
      build_panel (d, (const char *[]){ "a", "b", "c" }[i], FW_SIDE_BOTH, i - 1,
                   fw_vec3 (i ? 100 : 40, 0, 0), 100);
      build_mass (d, i, 50, 50, 0, 0);
    }
  Rig rig = rig_new (d);
  const FwPose *pose = rig_solve (&rig, 10);
  for (int i = 0; i < 6; i++)
    {
      assert_near (pose->members[i].motion.at.u.z, -1, 1e-12);
      g_assert_true (isnan (fw_pose_other_root (pose, rig.mechanism, i)));
      assert_near (pose->members[i].rate, 0, 1e-12);
      assert_near (pose->members[i].rate2, 0, 1e-9);
    }
  rig_free (&rig);
}

/* A twin that carries more than the other hangs by its own balance. */
static void
test_lopsided (void)
{
  for (int rod = 0; rod < 2; rod++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_fixed (d, 0, 0, 500, 0);
      build_panel (d, "p", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (40, 0, 0), 100);
      build_mass (d, 0, 50, 50, 0, 0);
      double at = 0;
      if (rod)
        {
          /* A light panel of the right side only, whose heavy rod is held by the hanging one, 40
           * below it. */
          build_panel (d, "q", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 60, 0), 100);
          build_rod (d, "r", FW_SIDE_RIGHT, from_panel (0, 50, 0, -40), 1, fw_vec3 (60, 0, 0), 90,
                     -60);
          d->rods[0].mass_g = 60; /* half of it on the hanging panel */
          at = -90 * RAD + atan2 (30 * 40, 50 * 50 + 30 * 50);
        }
      else
        {
          /* A stiff arm to the side, hanging on the right one only: stops hold it square. */
          build_panel (d, "q", FW_SIDE_RIGHT, 0, fw_vec3 (100, 0, 0), 100);
          build_mass (d, 1, 20, 50, 0, 0);
          build_stops (d, 1, 90, 120);
          /* Arm along w: its centre at u = 100, w = 50 of p. */
          at = -90 * RAD - atan2 (20 * 50, 50 * 50 + 20 * 100);
        }
      Rig rig = rig_new (d);
      assert_near (rig_angle_deg (&rig, 1, 0) * RAD, -90 * RAD, 1e-9);
      if (!rod)
        assert_near (rig_angle_deg (&rig, 0, 0) * RAD, at, 1e-9);
      else
        assert_near (fabs (rig_angle_deg (&rig, 0, 0) * RAD + 90 * RAD), fabs (at + 90 * RAD),
                     1e-9);
      rig_free (&rig);
    }
}

/* A weightless outline hangs as a thin sheet does: by the middle of its area. */
static void
test_weightless_sheet (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_fixed (d, 0, 0, 500, 0);
  build_panel (d, "p", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 100);
  d->panels[0].sweep_deg = 20;
  build_sheet (d, 0, 30);
  for (int i = 0; i < 4; i++)
    d->panels[0].outline_mm[i].y += 12; /* its middle at (50, 12) */
  Rig rig = rig_new (d);
  double sheet = rig_angle_deg (&rig, 0, 0);
  rig_free (&rig);
  d = build_design (FW_RUNS_ALONG);
  build_fixed (d, 0, 0, 500, 0);
  build_panel (d, "p", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 100);
  d->panels[0].sweep_deg = 20;
  build_mass (d, 0, 10, 50, 12, 0);
  rig = rig_new (d);
  assert_near (sheet, rig_angle_deg (&rig, 0, 0), 1e-9);
  assert_near (sheet, -90, 1e-9);
  rig_free (&rig);
}

/* Derivatives of hanging panels (free ones, and their like on a stop) against differences. */
static void
test_rates (void)
{
  GRand *rand = g_rand_new_with_seed (48);
  int compared = 0;
  for (int n = 0; n < 200; n++)
    {
      Rig rig = rig_new (random_hanging (rand, n % 2, n / 2 % 2, 1 + n % 3));
      double crank = g_rand_double_range (rand, 0, 2 * G_PI), a[5][3], step = 2e-3;
      bool fit = true, rest = false;
      for (int k = 0; k < 5; k++)
        {
          fw_pose_solve (rig.pose, rig.mechanism, crank + (k - 2) * step);
          for (int i = 0; i < rig.mechanism->n_members; i++)
            {
              a[k][i] = fw_pose_angle (rig.pose, rig.mechanism, i);
              rest |= rig.pose->members[i].on_stop;
              fit &= k == 0 || fabs (a[k][i] - a[k - 1][i]) < 0.05;
            }
        }
      fw_pose_solve (rig.pose, rig.mechanism, crank);
      for (int i = 0; i < rig.mechanism->n_members && fit && !rest; i++)
        {
          double first = (a[0][i] - 8 * a[1][i] + 8 * a[3][i] - a[4][i]) / (12 * step);
          double second = (-a[0][i] + 16 * a[1][i] - 30 * a[2][i] + 16 * a[3][i] - a[4][i])
                          / (12 * step * step);
          assert_near (rig.pose->members[i].rate, first, 1e-7 * (1 + fabs (first)));
          assert_near (rig.pose->members[i].rate2, second, 1e-5 * (1 + fabs (second)));
          compared++;
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (compared, >, 100);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/hanging/one panel rests where its potential is least", test_free);
  g_test_add_func ("/hanging/one panel rests where its potential is least between its stops",
                   test_stops);
  g_test_add_func ("/hanging/a chain at rest has no slope of potential in any joint", test_chain);
  g_test_add_func ("/hanging/a chain with stops is pressed against those it rests on",
                   test_chain_with_stops);
  g_test_add_func ("/hanging/a pair finds the lowest of its rests", test_lowest_pair);
  g_test_add_func ("/hanging/each panel of a long chain of parallel hinges hangs by itself", test_long);
  g_test_add_func ("/hanging/a plain chain hangs plumb and still under a body that stands",
                   test_plumb);
  g_test_add_func ("/hanging/a twin that carries more hangs by its own balance", test_lopsided);
  g_test_add_func ("/hanging/a weightless sheet hangs by the middle of its area",
                   test_weightless_sheet);
  g_test_add_func ("/hanging/rates agree with differences", test_rates);
  return g_test_run ();
}
