/* A whole turn: extremes, turning points, gaps and their edges, independence of the steps. */

#include "build_design.h"
#include "near.h"
#include "random_design.h"

typedef struct
{
  Rig rig;
  FwTurn *turn;
} Round;

static Round
round_new (FwDesign *design, int steps)
{
  Round r = { .rig = rig_new (design) };
  r.turn = fw_turn_new (r.rig.mechanism, steps);
  g_assert_nonnull (r.turn);
  fw_turn_solve (r.turn, r.rig.mechanism);
  return r;
}

static void
round_free (Round *r)
{
  free (r->turn);
  rig_free (&r->rig);
}

static double
value_at (Round *r, FwQuantity q, double crank)
{
  fw_pose_solve (r->rig.pose, r->rig.mechanism, crank);
  return fw_quantity_value (r->rig.pose, r->rig.mechanism, q);
}

typedef struct
{
  double least, greatest;
} Range;

/* Of each quantity, over dense samples. Free it. */
static Range *
sampled_ranges (Round *r, int dense, int count)
{
  Range *ranges = g_new (Range, count);
  for (int i = 0; i < count; i++)
    ranges[i] = (Range){ INFINITY, -INFINITY };
  for (int k = 0; k < dense; k++)
    {
      fw_pose_solve (r->rig.pose, r->rig.mechanism, 2 * G_PI * k / dense);
      for (int i = 0; i < count; i++)
        {
          double v = fw_quantity_value (r->rig.pose, r->rig.mechanism, fw_quantity_nth (r->rig.mechanism, i));
          ranges[i].least = v < ranges[i].least ? v : ranges[i].least;
          ranges[i].greatest = v > ranges[i].greatest ? v : ranges[i].greatest;
        }
    }
  return ranges;
}

/* 72 steps refined against 12000 dense samples. */
static void
test_extremes (void)
{
  GRand *rand = g_rand_new_with_seed (31);
  const int dense = 12000;
  int compared = 0;
  for (int n = random_rounds (8); n > 0; n--)
    {
      Round r = round_new (random_design (rand, RANDOM_ANY), 72);
      int count = fw_quantity_count (r.rig.mechanism);
      Range *ranges = sampled_ranges (&r, dense, count);
      for (int i = 0; i < count; i++)
        {
          FwQuantity q = fw_quantity_nth (r.rig.mechanism, i);
          FwExtreme low, high;
          double least = ranges[i].least, greatest = ranges[i].greatest;
          bool any = fw_turn_extremes (r.turn, r.rig.mechanism, q, &low, &high);
          if (!fw_turn_closes (r.turn, r.rig.mechanism))
            continue; /* beside a gap the extreme is where the gap begins; tested on its own */
          g_assert_true (any);
          /* Never less extreme than a sample, and no more than a sharp corner between samples
           * allows. */
          double small = 1e-6 * (1 + fabs (least) + fabs (greatest)),
                 corner = small + 1e-3 * (greatest - least);
          g_assert_true (low.value <= least + small && low.value >= least - corner);
          g_assert_true (high.value >= greatest - small && high.value <= greatest + corner);
          /* And it is a value the quantity takes where it says. */
          assert_near (value_at (&r, q, low.crank), low.value, 1e-9 * (1 + fabs (low.value)));
          assert_near (value_at (&r, q, high.crank), high.value, 1e-9 * (1 + fabs (high.value)));
          g_assert_true (low.crank >= 0 && low.crank < 2 * G_PI && high.crank >= 0
                         && high.crank < 2 * G_PI);
          compared++;
        }
      g_free (ranges);
      round_free (&r);
    }
  g_rand_free (rand);
  g_assert_cmpint (compared, >, 100);
}

/* The extremes of a smooth quantity are known far better than a step: its rate is zero there. */
static void
test_refined (void)
{
  Round r = round_new (build_example (), 72);
  FwExtreme low, high;
  g_assert_true (
      fw_turn_extremes (r.turn, r.rig.mechanism, (FwQuantity){ FW_Q_ANGLE, 0 }, &low, &high));
  fw_pose_solve (r.rig.pose, r.rig.mechanism, high.crank);
  assert_near (r.rig.pose->members[0].rate, 0, 1e-6);
  g_assert_cmpfloat (r.rig.pose->members[0].rate2, <, 0);
  fw_pose_solve (r.rig.pose, r.rig.mechanism, low.crank);
  assert_near (r.rig.pose->members[0].rate, 0, 1e-6);
  g_assert_cmpfloat (r.rig.pose->members[0].rate2, >, 0);
  g_assert_true (
      fw_turn_extremes (r.turn, r.rig.mechanism, (FwQuantity){ FW_Q_RATE, 0 }, &low, &high));
  fw_pose_solve (r.rig.pose, r.rig.mechanism, high.crank);
  assert_near (r.rig.pose->members[0].rate2, 0, 1e-5);
  round_free (&r);
}

/* Turning points are as many as dense sampling counts changes of the rate's sign, and there the
 * rate is 0. */
static void
test_turning_points (void)
{
  GRand *rand = g_rand_new_with_seed (32);
  const int dense = 7200;
  int seen = 0;
  for (int n = random_rounds (40); n > 0; n--)
    {
      Round r = round_new (random_design (rand, RANDOM_ANY), 144);
      if (!fw_turn_closes (r.turn, r.rig.mechanism))
        {
          round_free (&r);
          continue;
        }
      for (int m = 0; m < r.rig.mechanism->n_members; m++)
        {
          FwExtreme points[32];
          int changes = 0, found;
          double closest = INFINITY, last = -1, a = value_at (&r, (FwQuantity){ FW_Q_RATE, m }, 0);
          for (int k = 0; k < dense; k++)
            {
              double b = value_at (&r, (FwQuantity){ FW_Q_RATE, m }, 2 * G_PI * (k + 1) / dense);
              if ((a < 0) != (b < 0))
                {
                  changes++;
                  closest = last < 0 ? closest : fmin (closest, k - last);
                  last = k;
                }
              a = b;
            }
          if (closest < 3.0 * dense / 144)
            continue; /* two within a few steps may be passed over */
          found = fw_turn_turning_points (r.turn, r.rig.mechanism, (FwQuantity){ FW_Q_ANGLE, m },
                                          points, 32);
          g_assert_cmpint (found, ==, changes);
          for (int k = 0; k < found; k++)
            {
              fw_pose_solve (r.rig.pose, r.rig.mechanism, points[k].crank);
              assert_near (r.rig.pose->members[m].rate, 0,
                           1e-5 * (1 + fabs (r.rig.pose->members[m].rate2)));
              assert_near (
                  remainder (fw_pose_angle (r.rig.pose, r.rig.mechanism, m) - points[k].value,
                             2 * G_PI),
                  0, 1e-9);
              g_assert_true (k == 0 || points[k].crank > points[k - 1].crank);
              seen++;
            }
        }
      round_free (&r);
    }
  g_rand_free (rand);
  g_assert_cmpint (seen, >, 30);
}

/* A slider turns twice a turn, at its dead centres, also where these lie on a step or half-way. */
static void
test_turns_twice (void)
{
  for (int i = 0; i < 40; i++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_rail (d, build_throw (d, "t", 40, -1.25 * i, 0), 120, 0);
      Round r = round_new (d, 72);
      FwExtreme points[8];
      g_assert_cmpint (fw_turn_turning_points (r.turn, r.rig.mechanism,
                                               (FwQuantity){ FW_Q_BODY_Z, 0 }, points, 8),
                       ==, 2);
      int top = points[0].value > points[1].value
                    ? 0
                    : 1; /* ascending by crank; the top may fall just short of a turn */
      assert_near (remainder (points[top].crank - 1.25 * i * RAD, 2 * G_PI), 0, 1e-6);
      assert_near (points[1].crank - points[0].crank, G_PI, 2e-6);
      assert_near (points[top].value, 160, 1e-9);
      assert_near (points[1 - top].value, 80, 1e-9);
      round_free (&r);
    }
}

static bool
short_at (Round *r, int member, double crank)
{
  fw_pose_solve (r->rig.pose, r->rig.mechanism, crank);
  return member < 0 ? r->rig.pose->body.closure == FW_SHORT
                    : r->rig.pose->members[member].closure == FW_SHORT;
}

static double
bisect_edge (Round *r, int member, double open, double shut)
{
  for (int i = 0; i < 60; i++)
    {
      double m = 0.5 * (open + shut);
      if (short_at (r, member, m))
        open = m;
      else
        shut = m;
    }
  return 0.5 * (open + shut);
}

static bool
inside (const FwInterval *list, int n, double crank, double slack)
{
  for (int i = 0; i < n; i++)
    for (int k = -1; k <= 1; k++)
      if (crank + 2 * G_PI * k >= list[i].from - slack
          && crank + 2 * G_PI * k <= list[i].to + slack)
        return true;
  return false;
}

static void
check_gaps (Round *r, int member, int *edges)
{
  FwInterval gaps[32];
  int n = fw_turn_gaps (r->turn, r->rig.mechanism, member, gaps, 32);
  g_assert_cmpint (n, <=, 32);
  for (int i = 0; i < n; i++)
    {
      const FwInterval *g = &gaps[i];
      g_assert_true (g->from >= 0 && g->from < 2 * G_PI + 1e-12 && g->to > g->from
                     && g->to <= g->from + 2 * G_PI + 1e-12);
      g_assert_true (g->worst >= 0 && g->worst < 2 * G_PI);
      g_assert_true (short_at (r, member, g->worst));
      double missing
          = member < 0 ? r->rig.pose->body.missing_mm : r->rig.pose->members[member].missing_mm;
      assert_near (missing, g->value, 1e-6);
      if (g->to - g->from > 2 * G_PI - 1e-9)
        continue;
      double mid = 0.5 * (g->from + g->to);
      if (!short_at (r, member, g->from - 1e-3)
          && short_at (r, member, g->from + fmin (1e-3, mid - g->from)))
        {
          assert_near (
              bisect_edge (r, member, g->from + fmin (1e-3, mid - g->from), g->from - 1e-3),
              g->from, 1e-5);
          (*edges)++;
        }
      if (!short_at (r, member, g->to + 1e-3)
          && short_at (r, member, g->to - fmin (1e-3, g->to - mid)))
        {
          assert_near (bisect_edge (r, member, g->to - fmin (1e-3, g->to - mid), g->to + 1e-3),
                       g->to, 1e-5);
          (*edges)++;
        }
    }
  /* Every dense sample is inside a gap exactly if it cannot be assembled. */
  for (int k = 0; k < 1440; k++)
    {
      double crank = 2 * G_PI * k / 1440;
      if (short_at (r, member, crank))
        {
          double worst
              = member < 0 ? r->rig.pose->body.missing_mm : r->rig.pose->members[member].missing_mm;
          bool in = inside (gaps, n, crank, 1e-5);
          if (!in)
            g_test_message ("member %d short by %g at %g, in no gap", member, worst, crank / RAD);
          g_assert_true (in);
        }
    }
}

static void
test_gaps (void)
{
  GRand *rand = g_rand_new_with_seed (33);
  int edges = 0;
  for (int n = random_rounds (60); n > 0; n--)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      /* Rods that are wrong by a little open gaps. */
      for (int i = 0; i < d->n_rods; i++)
        d->rods[i].length_mm *= g_rand_double_range (rand, 0.85, 1.15);
      if (d->body.ride == FW_RIDE_ROCKER)
        d->body.link_mm *= g_rand_double_range (rand, 0.5, 1);
      Round r = round_new (d, 360);
      check_gaps (&r, -1, &edges);
      for (int m = 0; m < r.rig.mechanism->n_members; m++)
        check_gaps (&r, m, &edges);
      round_free (&r);
    }
  g_rand_free (rand);
  g_test_message ("%d edges", edges);
  g_assert_cmpint (edges, >, 80);
}

/* Geometry of one driven hinge: the held point runs round a circle, and the rod must reach between
 * the nearest and the farthest point of it from the anchor. */
static void
test_missing_length (void)
{
  GRand *rand = g_rand_new_with_seed (34);
  int too_short = 0, too_long = 0;
  for (int n = random_rounds (120); n > 0; n--)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      for (int i = 0; i < d->n_rods; i++)
        d->rods[i].length_mm *= g_rand_double_range (rand, 0.3, 2);
      Rig rig = rig_new (d);
      const FwPose *pose = rig_solve (&rig, g_rand_double_range (rand, 0, 360));
      for (int i = 0; i < rig.mechanism->n_links; i++)
        {
          const FwLink *link = &rig.mechanism->links[i];
          const FwMemberPose *m = &pose->members[link->member];
          if (m->closure != FW_SHORT)
            continue;
          /* Round the hinge line at the point's own distance from it. */
          FwVec3 arm = fw_vec3_sub (pose->links[i].to.at, m->motion.at.origin), k = m->axis;
          FwVec3 par = fw_vec3_scale (k, fw_vec3_dot (k, arm)), perp = fw_vec3_sub (arm, par);
          double least = INFINITY, most = 0;
          for (int s = 0; s < 7200; s++)
            {
              double a = 2 * G_PI * s / 7200;
              FwVec3 w = fw_vec3_add (
                  fw_vec3_add (m->motion.at.origin, par),
                  fw_vec3_along (fw_vec3_scale (perp, cos (a)), sin (a), fw_vec3_cross (k, perp)));
              double l = fw_vec3_distance (w, pose->links[i].from.at);
              least = fmin (least, l);
              most = fmax (most, l);
            }
          double length = rig.design->rods[link->rod].length_mm;
          g_assert_true (length < least + 1e-3 || length > most - 1e-3);
          double lacks = length < least ? least - length : most - length;
          assert_near (m->missing_mm, lacks, 2e-3);
          /* What is shown is the nearest approach. */
          assert_near (
              fabs (fw_vec3_distance (pose->links[i].to.at, pose->links[i].from.at) - length),
              fabs (lacks), 2e-3);
          too_short += lacks > 0;
          too_long += lacks < 0;
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (too_short, >, 20);
  g_assert_cmpint (too_long, >, 20);
}

/* A rail's rod that is shorter than its offset from the pin lacks the difference. */
static void
test_missing_body (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "t", 40, 0, 0), 35, 0);
  Rig rig = rig_new (d);
  const FwPose *pose = rig_solve (&rig, 90);
  g_assert_cmpint (pose->body.closure, ==, FW_SHORT);
  assert_near (pose->body.missing_mm, 5, 1e-9);
  g_assert_cmpint (rig_solve (&rig, 45)->body.closure, ==, FW_CLOSES);
  FwTurn *turn = fw_turn_new (rig.mechanism, 72);
  FwInterval gaps[4];
  fw_turn_solve (turn, rig.mechanism);
  g_assert_cmpint (fw_turn_gaps (turn, rig.mechanism, -1, gaps, 4), ==, 2);
  assert_near (gaps[0].from, asin (35.0 / 40), 1e-5);
  assert_near (gaps[0].to, G_PI - asin (35.0 / 40), 1e-5);
  assert_near (gaps[1].from, G_PI + asin (35.0 / 40), 1e-5);
  assert_near (gaps[0].worst, G_PI / 2, 1e-4);
  assert_near (gaps[0].value, 5, 1e-6);
  free (turn);
  rig_free (&rig);

  d = build_design (FW_RUNS_ACROSS);
  build_rocker (d, build_throw (d, "t", 40, 90, 0), 300, 0, 0, 50,
                100); /* pin 40 from the pivot, on 100, link 50 */
  rig = rig_new (d);
  pose = rig_solve (&rig, 0);
  g_assert_cmpint (pose->body.closure, ==, FW_SHORT);
  assert_near (pose->body.missing_mm, 100 - 40 - 50, 1e-9);
  rig_free (&rig);
}

/* A rocker that cannot be assembled is shown at its nearest approach. */
static void
test_rocker_nearest (void)
{
  GRand *rand = g_rand_new_with_seed (36);
  int stretched = 0, folded = 0;
  for (int n = 0; n < 300; n++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      double on = g_rand_double_range (rand, 50, 200), h = g_rand_double_range (rand, -200, 200);
      double z = g_rand_double_range (rand, -50, 300), link = g_rand_double_range (rand, 5, 250);
      build_throw (d, "t", 40, 0, 0);
      build_rocker (d, 0, 300, h, z, link, on);
      Rig rig = rig_new (d);
      const FwPose *pose = rig_solve (&rig, g_rand_double_range (rand, 0, 360));
      if (pose->body.closure == FW_SHORT)
        {
          FwVec3 held = fw_vec3_along (pose->pins[0].at, on, pose->body.motion.at.w);
          double apart = hypot (held.y - h, held.z - z);
          double to_pin = hypot (pose->pins[0].at.y - h, pose->pins[0].at.z - z);
          double least = fabs (to_pin - on), most = to_pin + on;
          double lacks = link < least ? least - link : most - link;
          assert_near (pose->body.missing_mm, lacks, 1e-9);
          assert_near (apart, lacks > 0 ? least : most, 1e-9);
          stretched += lacks > 0;
          folded += lacks < 0;
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (stretched, >, 20);
  g_assert_cmpint (folded, >, 5);
}

/* The pin comes nearer the pivot than on - link, or farther than on + link, for a moment only. */
static void
test_rocker_short_gap (void)
{
  for (int far = 0; far < 2; far++)
    for (int i = 0; i < 12; i++)
      {
        double at = (i * 27.7 + 1.3) * RAD, width = 0.004 + 0.002 * i;
        FwDesign *d = build_design (FW_RUNS_ACROSS);
        /* Pivot 150 up; the pin passes under or over its line at `at`, going by the phase. */
        build_throw (d, "t", 40, (far ? 180 : 0) - at / RAD, 0);
        double edge = sqrt (40 * 40 + 150 * 150 - 2 * 40 * 150 * cos ((far ? G_PI : 0) + width));
        build_rocker (d, 0, 300, 0, 150, far ? edge - 100 : 200 - edge, far ? 100 : 200);
        Round r = round_new (d, 72);
        FwInterval gaps[4];
        int found = fw_turn_gaps (r.turn, r.rig.mechanism, -1, gaps, 4);
        g_assert_cmpint (found, ==, 1);
        assert_near (remainder (gaps[0].from - (at - width), 2 * G_PI), 0, 1e-5);
        assert_near (remainder (gaps[0].to - (at + width), 2 * G_PI), 0, 1e-5);
        round_free (&r);
      }
}

/* A short gap between two coarse steps is found too: the linkage misses by little around 0.5 rad.
 */
static void
test_short_gap (void)
{
  for (int i = 0; i < 20; i++)
    {
      double width = 0.001 * (i + 1) * RAD * 180 / G_PI + 0.002;
      double at = (i * 17.3 + 2.4) * RAD; /* where the rail is widest apart */
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_rail (d, build_throw (d, "t", 40, 90 - at / RAD, 0), 50, 0);
      /* |offset - 40 sin (t + phase)| > 50 within `width` of the pin's far side. */
      d->body.offset_mm = 50 - 40 * cos (width) - 1e-12;
      d->body.offset_mm = -d->body.offset_mm;
      Round r = round_new (d, 72);
      FwInterval gaps[4];
      g_assert_cmpint (fw_turn_gaps (r.turn, r.rig.mechanism, -1, gaps, 4), ==, 1);
      assert_near (remainder (gaps[0].from - (at - width), 2 * G_PI), 0, 1e-5);
      assert_near (remainder (gaps[0].to - (at + width), 2 * G_PI), 0, 1e-5);
      round_free (&r);
    }
}

static void
test_adrift (void)
{
  FwDesign *d = build_heron ();
  d->rods[0].length_mm = 150; /* never reaches */
  Round r = round_new (d, 72);
  const FwPose *pose = rig_solve (&r.rig, 30);
  g_assert_cmpint (pose->body.closure, ==, FW_CLOSES);
  g_assert_cmpint (pose->members[0].closure, ==, FW_SHORT);
  g_assert_cmpint (pose->members[1].closure, ==, FW_SHORT);
  g_assert_cmpint (pose->members[2].closure, ==, FW_ADRIFT);
  g_assert_false (fw_pose_closes (pose, r.rig.mechanism));
  g_assert_false (fw_turn_closes (r.turn, r.rig.mechanism));
  FwInterval gaps[4];
  g_assert_cmpint (fw_turn_gaps (r.turn, r.rig.mechanism, 0, gaps, 4), ==, 1);
  assert_near (gaps[0].from, 0, 0);
  assert_near (gaps[0].to, 2 * G_PI, 0);
  g_assert_cmpint (fw_turn_gaps (r.turn, r.rig.mechanism, 2, gaps, 4), ==, 0);
  /* The rest is still solved: the body's row is whole. */
  const double *tilt = fw_turn_row (r.turn, r.rig.mechanism, (FwQuantity){ FW_Q_BODY_TILT, 0 });
  const double *angle = fw_turn_row (r.turn, r.rig.mechanism, (FwQuantity){ FW_Q_ANGLE, 0 });
  for (int i = 0; i < 72; i++)
    {
      g_assert_true (isfinite (tilt[i]));
      g_assert_true (isnan (angle[i]));
    }
  g_assert_false (fw_turn_extremes (r.turn, r.rig.mechanism, (FwQuantity){ FW_Q_ANGLE, 0 },
                                    &(FwExtreme){ 0 }, &(FwExtreme){ 0 }));
  round_free (&r);
}

/* Where 0 cannot be assembled, the root is chosen at the first whole degree at which it can. */
static void
test_root_from_first_degree (void)
{
  for (int branch = 0; branch < 2; branch++)
    {
      FwDesign *d = build_design (FW_RUNS_ALONG);
      build_throw (d, "t", 40, 0, 0);
      build_fixed (d, 0, 0, 120, 0);
      build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 80);
      /* At 0 the pin is 80 below the hinge: a rod of 175 is too long there, later not. */
      build_rod (d, "rod", FW_SIDE_RIGHT, from_throw (0), 0, fw_vec3 (80, 0, 0), 175,
                 branch ? 0 : 170);
      Rig rig = rig_new (d);
      g_assert_cmpint (rig_solve (&rig, 0)->members[0].closure, ==, FW_SHORT);
      int deg = 1;
      while (rig_solve (&rig, deg)->members[0].closure != FW_CLOSES)
        deg++;
      double here = fw_pose_angle (rig.pose, rig.mechanism, 0) / RAD;
      double there = here + fw_pose_other_root (rig.pose, rig.mechanism, 0) / RAD,
             near = branch ? 0 : 170;
      g_assert_cmpfloat (fabs (remainder (here - near, 360)), <,
                         fabs (remainder (there - near, 360)));
      g_assert_cmpint (deg, >, 10);
      rig_free (&rig);
    }
}

static void
test_steps (void)
{
  GRand *rand = g_rand_new_with_seed (35);
  for (int n = 0; n < 50; n++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      Round coarse = round_new (d, 90), fine = round_new (fw_design_copy (d), 360);
      int count = fw_quantity_count (coarse.rig.mechanism);
      for (int q = 0; q < count; q++)
        {
          const double *a = fw_turn_row (coarse.turn, coarse.rig.mechanism,
                                         fw_quantity_nth (coarse.rig.mechanism, q));
          const double *b = fw_turn_row (fine.turn, fine.rig.mechanism,
                                         fw_quantity_nth (fine.rig.mechanism, q));
          g_assert_cmpint (
              fw_quantity_index (coarse.rig.mechanism, fw_quantity_nth (coarse.rig.mechanism, q)),
              ==, q);
          for (int i = 0; i < 90; i++)
            {
              if (isnan (a[i]) || isnan (b[4 * i]))
                g_assert_cmpint (isnan (a[i]), ==, isnan (b[4 * i]));
              else
                assert_near (a[i], b[4 * i], 1e-6 * (1 + fabs (a[i])));
              double alone = value_at (&coarse, fw_quantity_nth (coarse.rig.mechanism, q),
                                       2 * G_PI * i / 90);
              if (!isnan (a[i]) && !isnan (alone))
                assert_near (a[i], alone, 1e-6 * (1 + fabs (a[i])));
            }
        }
      round_free (&coarse);
      round_free (&fine);
    }
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/turn/extremes of every quantity are those of dense sampling", test_extremes);
  g_test_add_func ("/turn/extremes are refined between the steps", test_refined);
  g_test_add_func ("/turn/turning points are where the rate changes its sign", test_turning_points);
  g_test_add_func ("/turn/a slider turns twice, wherever the steps fall", test_turns_twice);
  g_test_add_func ("/turn/gaps hold every angle that cannot be assembled, edges to 1e-5 rad",
                   test_gaps);
  g_test_add_func ("/turn/the missing length is what geometry says", test_missing_length);
  g_test_add_func ("/turn/a body's missing length and gaps are what geometry says",
                   test_missing_body);
  g_test_add_func ("/turn/a rocker that is open is shown at its nearest approach",
                   test_rocker_nearest);
  g_test_add_func ("/turn/a rocker's gap shorter than a step is found", test_rocker_short_gap);
  g_test_add_func ("/turn/a gap shorter than a step is found", test_short_gap);
  g_test_add_func ("/turn/what hangs on an open loop is adrift and the rest is solved",
                   test_adrift);
  g_test_add_func ("/turn/the root is chosen at the first degree that can be assembled",
                   test_root_from_first_degree);
  g_test_add_func ("/turn/values do not depend on the number of steps", test_steps);
  return g_test_run ();
}
