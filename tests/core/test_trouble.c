/* Each kind of trouble: a small design that has it, with edges and worst value from a closed form,
 * and a neighbour that has not. */
#include <string.h>

#include "build_design.h"
#include "look.h"
#include "random_design.h"

static int
count (const Look *l, FwTroubleKind kind)
{
  int n = 0;
  for (int i = 0; i < l->list.n; i++)
    n += l->list.items[i].kind == kind;
  return n;
}

static const FwTrouble *
first (const Look *l, FwTroubleKind kind)
{
  for (int i = 0; i < l->list.n; i++)
    if (l->list.items[i].kind == kind)
      return &l->list.items[i];
  g_error ("no %s", fw_trouble_name (kind));
}

/* A planar four-bar: crank a, rod b, panel c, hinge d above the crank axis. */
static FwDesign *
four_bar (double a, double b, double c, double d, double near_deg)
{
  FwDesign *design = build_design (FW_RUNS_ALONG);
  build_throw (design, "t", a, 0, 0);
  build_fixed (design, 0, 0, d, 0);
  build_panel (design, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), c);
  build_rod (design, "rod", FW_SIDE_RIGHT, from_throw (0), 0, fw_vec3 (c, 0, 0), b, near_deg);
  return design;
}

/* Of a four-bar with diagonal x^2 = a^2 + d^2 - 2 a d cos t: the crank angle at which it is x. */
static double
crank_at_diagonal (double a, double d, double x)
{
  return acos ((a * a + d * d - x * x) / (2 * a * d));
}

static void
test_names (void)
{
  static const char *names[] = { "cannot-close", "past-stop",  "weak-push",  "may-flip",
                                 "snap",         "lean-limit", "bend-limit", "hits" };
  for (int i = 0; i < (int)G_N_ELEMENTS (names); i++)
    g_assert_cmpstr (fw_trouble_name (i), ==, names[i]);
  Rig rig = rig_new (build_example ());
  g_assert_cmpstr (fw_part_name (rig.mechanism, (FwPart){ FW_PART_MEMBER, 1 }), ==, "inner.left");
  g_assert_cmpstr (fw_part_name (rig.mechanism, (FwPart){ FW_PART_LINK, 0 }), ==, "inrod.right");
  g_assert_cmpstr (fw_part_name (rig.mechanism, (FwPart){ FW_PART_BODY, 0 }), ==, "body");
  g_assert_cmpstr (fw_part_name (rig.mechanism, (FwPart){ FW_PART_BASE, 0 }), ==, "base");
  g_assert_cmpstr (fw_part_name (rig.mechanism, (FwPart){ FW_PART_FLOOR, 0 }), ==, "floor");
  g_assert_cmpstr (fw_part_name (rig.mechanism, (FwPart){ FW_PART_CRANK, 0 }), ==, "crank");
  rig_free (&rig);
}

/* Transmission angle mu: cos mu = (b^2 + c^2 - x^2) / (2 b c). Alt 1932 set the criterion (survey:
 * Balli and Chand, Mech. Mach. Theory 37 (2002) 175-195); 45 and 30 degrees are common practice. */
static void
test_weak_push (void)
{
  Look *l = look_new (four_bar (40, 120, 80, 100, -27), 360);
  g_assert_cmpint (count (l, FW_WEAK_PUSH), ==, 1);
  const FwTrouble *t = first (l, FW_WEAK_PUSH);
  g_assert_cmpint (t->severity, ==, FW_WARNING);
  double edge = crank_at_diagonal (40, 100, sqrt (20800 - 19200 * cos (30 * RAD)));
  assert_near (remainder (t->from + edge, 2 * G_PI), 0, 1e-5);
  assert_near (remainder (t->to - edge, 2 * G_PI), 0, 1e-5);
  assert_near (t->value, acos ((20800.0 - 3600) / 19200) / RAD, 1e-6);
  assert_near (t->limit, 30, 1e-9);
  assert_near (remainder (t->worst, 2 * G_PI), 0, 1e-4);
  g_assert_cmpint (t->unit, ==, FW_UNIT_DEG);
  look_free (l);
  /* Least push between 30 and 45: a remark. b = 110, c = 90: from acos (17900 / 19800) = 25.3 up;
   * take b = 100, c = 80, x from 60: acos (12800 / 16000) = 36.87. */
  l = look_new (four_bar (40, 100, 80, 100, -27), 360);
  g_assert_cmpint (count (l, FW_WEAK_PUSH), ==, 1);
  t = first (l, FW_WEAK_PUSH);
  g_assert_cmpint (t->severity, ==, FW_REMARK);
  assert_near (t->value, 36.8699, 0.0001);
  assert_near (t->limit, 45, 1e-9);
  edge = crank_at_diagonal (40, 100, sqrt (16400 - 16000 * cos (45 * RAD)));
  assert_near (remainder (t->to - edge, 2 * G_PI), 0, 1e-5);
  look_free (l);
  /* Never below 45: none. c = 60, b = 60, d = 70, a = 15: x from 55 to 85: acos of .58 to
   * -.003: 54.6 to 90.2. */
  l = look_new (four_bar (15, 60, 60, 70, -27), 360);
  g_assert_cmpint (count (l, FW_WEAK_PUSH), ==, 0);
  look_free (l);
}

/* The least push, a hundredth of a degree too low, lies just half-way between two steps: it is told
 * once, not from both. */
static void
test_half_way (void)
{
  double cosine = cos (29.99 * RAD), b = 80 * cosine + sqrt (6400 * cosine * cosine - 2800);
  FwDesign *d = four_bar (40, b, 80, 100, -27);
  d->crank.throws[0].phase_deg = -2.5;
  Look *l = look_new (d, 72);
  int warnings = 0;
  for (int i = 0; i < l->list.n; i++)
    warnings += l->list.items[i].kind == FW_WEAK_PUSH && l->list.items[i].severity == FW_WARNING;
  g_assert_cmpint (warnings, ==, 1);
  assert_near (first (l, FW_WEAK_PUSH)->value, 29.99, 1e-6);
  assert_near (first (l, FW_WEAK_PUSH)->worst, 2.5 * RAD, 1e-4);
  look_free (l);
}

static void
test_cannot_close (void)
{
  /* b + c = 130 < 140: open where x > 130. */
  Look *l = look_new (four_bar (40, 60, 70, 100, 0), 360);
  g_assert_cmpint (count (l, FW_CANNOT_CLOSE), ==, 1);
  const FwTrouble *t = first (l, FW_CANNOT_CLOSE);
  double edge = crank_at_diagonal (40, 100, 130);
  assert_near (t->from, edge, 0.001 * RAD);
  assert_near (t->to, 2 * G_PI - edge, 0.001 * RAD);
  assert_near (t->worst, G_PI, 1e-3);
  assert_near (t->value, 10, 1e-5);
  g_assert_cmpint (t->severity, ==, FW_FAILURE);
  g_assert_cmpint (l->list.items[0].kind, ==, FW_CANNOT_CLOSE);
  look_free (l);
  l = look_new (four_bar (40, 75, 70, 100, 0), 360);
  g_assert_cmpint (count (l, FW_CANNOT_CLOSE), ==, 0);
  look_free (l);
}

static void
test_past_stop (void)
{
  FwDesign *d = four_bar (40, 120, 80, 100, -27);
  Rig probe = rig_new (fw_design_copy (d));
  double high = -INFINITY;
  for (int i = 0; i < 36000; i++)
    high = fmax (high, rig_angle_deg (&probe, 0, i / 100.0));
  build_stops (d, 0, -170, high - 5);
  Look *l = look_new (d, 360);
  g_assert_cmpint (count (l, FW_PAST_STOP), ==, 1);
  const FwTrouble *t = first (l, FW_PAST_STOP);
  assert_near (t->value, high, 1e-5);
  assert_near (t->limit, high - 5, 1e-9);
  assert_near (rig_angle_deg (&probe, 0, t->from / RAD), high - 5, 1e-4);
  assert_near (rig_angle_deg (&probe, 0, t->to / RAD), high - 5, 1e-4);
  assert_near (rig_angle_deg (&probe, 0, t->worst / RAD), high, 1e-5);
  g_assert_cmpint (t->severity, ==, FW_FAILURE);
  look_free (l);
  d = four_bar (40, 120, 80, 100, -27);
  build_stops (d, 0, -170, high + 0.01);
  l = look_new (d, 360);
  g_assert_cmpint (count (l, FW_PAST_STOP), ==, 0);
  look_free (l);
  rig_free (&probe);
}

/* The hinge angle between panel and diagonal is half the way to the other root: cos = (c^2 + x^2 -
 * b^2) / (2 c x). Stretched to nearly straight at x = 140, it comes near. */
static void
test_may_flip (void)
{
  const double b = 62, c = 79;
  FwDesign *d = four_bar (40, b, c, 100, 0);
  Look *l = look_new (fw_design_copy (d), 360);
  double x = 140, least = 2 * acos ((c * c + x * x - b * b) / (2 * c * x)) / RAD;
  g_assert_cmpfloat (least, <, 30);
  g_assert_cmpint (count (l, FW_MAY_FLIP), ==, 1);
  const FwTrouble *t = first (l, FW_MAY_FLIP);
  assert_near (t->value, least, 1e-5);
  assert_near (t->limit, 30, 1e-9);
  assert_near (t->worst, G_PI, 1e-3);
  /* Edges: half = 15 degrees: x^2 - 2 c x cos 15 + c^2 - b^2 = 0. */
  double cosine = cos (15 * RAD),
         edge
         = crank_at_diagonal (40, 100, c * cosine + sqrt (b * b - c * c * (1 - cosine * cosine)));
  assert_near (t->from, edge, 1e-5);
  assert_near (t->to, 2 * G_PI - edge, 1e-5);
  /* The dead position lies beyond a stop that the panel itself never reaches: it cannot flip. */
  double angle = rig_angle_deg (&l->rig, 0, 180),
         other = fw_pose_other_root (l->rig.pose, l->rig.mechanism, 0) / RAD;
  double dead = angle + other / 2;
  look_free (l);
  FwDesign *barred = fw_design_copy (d);
  if (other > 0)
    build_stops (barred, 0, -400, dead - 0.2 * fabs (other));
  else
    build_stops (barred, 0, dead + 0.2 * fabs (other), 400);
  l = look_new (barred, 360);
  for (int i = 0; i < l->list.n; i++)
    g_assert_false (l->list.items[i].kind == FW_MAY_FLIP && l->list.items[i].from < G_PI
                    && l->list.items[i].to > G_PI);
  look_free (l);
  /* A stop on the far side of the dead position does not bar it. */
  FwDesign *open = fw_design_copy (d);
  if (other > 0)
    build_stops (open, 0, -400, dead + 1);
  else
    build_stops (open, 0, dead - 1, 400);
  l = look_new (open, 360);
  g_assert_cmpint (count (l, FW_MAY_FLIP), ==, 1);
  look_free (l);
  fw_design_free (d);
  l = look_new (four_bar (40, 80, 90, 100, 0), 360);
  g_assert_cmpint (count (l, FW_MAY_FLIP), ==, 0);
  look_free (l);
}

static double
peak_over_mean (Rig *rig, bool second)
{
  double peak = 0, sum = 0;
  for (int i = 0; i < 36000; i++)
    {
      const FwMemberPose *m = &rig_solve (rig, i / 100.0)->members[0];
      double v = fabs (second ? m->rate2 : m->rate);
      peak = fmax (peak, v);
      sum += v / 36000;
    }
  return peak / sum;
}

static void
test_snap (void)
{
  Look *l = look_new (four_bar (40, 61, 79.1, 100, 0), 720);
  bool seen[2] = { false, false };
  double ratio[2] = { peak_over_mean (&l->rig, false), peak_over_mean (&l->rig, true) };
  g_assert_true (ratio[0] > 3 || ratio[1] > 6);
  for (int i = 0; i < l->list.n; i++)
    {
      const FwTrouble *t = &l->list.items[i];
      if (t->kind != FW_SNAP)
        continue;
      seen[t->second] = true;
      g_assert_cmpfloat (t->limit, ==, t->second ? 6 : 3);
      g_assert_cmpfloat (t->value, <=, ratio[t->second] * 1.001);
      g_assert_cmpfloat (t->value, >, t->limit);
    }
  g_assert_cmpint (seen[0], ==, ratio[0] > 3);
  g_assert_cmpint (seen[1], ==, ratio[1] > 6);
  look_free (l);
  l = look_new (four_bar (15, 60, 60, 70, -27), 720);
  g_assert_true (peak_over_mean (&l->rig, false) < 3 && peak_over_mean (&l->rig, true) < 6);
  g_assert_cmpint (count (l, FW_SNAP), ==, 0);
  look_free (l);
}

/* Axes parallel, ends set apart by `aside`: lean and bend are the same all the turn. */
static void
test_lean_and_bend (void)
{
  for (int over = 0; over < 2; over++)
    for (int bend = 0; bend < 2; bend++)
      {
        const double limit = bend ? 45 : 25, lean = over ? limit + 0.1 : limit - 0.1;
        FwDesign *d = four_bar (15, 60, 60, 70, -27);
        d->panels[0].hinge_mm.y = 60 * tan (lean * RAD);
        d->rods[0].length_mm = 60 / cos (lean * RAD);
        d->rods[0].lean_limit_deg = bend ? 89 : 25;
        d->rods[0].bend_limit_deg = bend ? 45 : 89;
        Look *l = look_new (d, 72);
        FwTroubleKind kind = bend ? FW_BEND_LIMIT : FW_LEAN_LIMIT;
        g_assert_cmpint (count (l, kind), ==, over);
        g_assert_cmpint (count (l, bend ? FW_LEAN_LIMIT : FW_BEND_LIMIT), ==, 0);
        if (over)
          {
            const FwTrouble *t = first (l, kind);
            assert_near (t->value, lean, 1e-9);
            assert_near (t->limit, limit, 1e-9);
            assert_near (t->from, 0, 0);
            assert_near (t->to, 2 * G_PI, 1e-12);
          }
        look_free (l);
      }
}

/* Pin to guide is hypot of a circle's point: the post of 420 leaves a guide 390 up where that
 * exceeds 420. */
static void
test_leaves_guide (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 30, 0);
  build_sleeve (d, 0, 420, 0, 390);
  Look *l = look_new (d, 72);
  g_assert_cmpint (count (l, FW_LEAVES_GUIDE), ==, 1);
  const FwTrouble *t = first (l, FW_LEAVES_GUIDE);
  assert_near (t->value, 10, 1e-9);
  assert_near (t->worst, G_PI - 30 * RAD, 1e-9);
  g_assert_cmpint (t->severity, ==, FW_FAILURE);
  assert_near (rig_solve (&l->rig, t->from / RAD)->body.guide_mm, 420, 1e-9);
  assert_near (rig_solve (&l->rig, t->to / RAD)->body.guide_mm, 420, 1e-9);
  look_free (l);
  d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 30, 0);
  build_sleeve (d, 0, 431, 0, 390);
  l = look_new (d, 72);
  g_assert_cmpint (count (l, FW_LEAVES_GUIDE), ==, 0);
  look_free (l);
}

/* A post that the guide is always beyond leaves it all the turn: by as much as it is short where the pin is farthest. */
static void
test_never_in_guide (void)
{
  static const double cases[3][3] = { { 40, 30, 0 }, { 0, 80, 100 }, { 10, 50, 100 } }; /* throw, post, guide */
  for (int i = 0; i < 3; i++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_throw (d, "mid", cases[i][0], 30, 0);
      build_sleeve (d, 0, cases[i][1], 0, cases[i][2]);
      Look *l = look_new (d, 72);
      g_assert_cmpint (count (l, FW_LEAVES_GUIDE), ==, 1);
      const FwTrouble *t = first (l, FW_LEAVES_GUIDE);
      assert_near (t->from, 0, 0);
      assert_near (t->to, 2 * G_PI, 0);
      assert_near (t->value, cases[i][0] + cases[i][2] - cases[i][1], 1e-12);
      look_free (l);
    }
}

static void
test_order_and_room (void)
{
  GRand *rand = g_rand_new_with_seed (61);
  for (int n = 0; n < 60; n++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      for (int i = 0; i < d->n_rods; i++)
        d->rods[i].length_mm *= g_rand_double_range (rand, 0.9, 1.1);
      Look *l = look_new (d, 90);
      for (int i = 1; i < l->list.n; i++)
        g_assert_cmpint (l->list.items[i - 1].severity, >=, l->list.items[i].severity);
      g_assert_false (l->list.full);
      if (l->list.n > 2)
        {
          FwTrouble few[3];
          memset (&few[2], 0x5a, sizeof few[2]);
          FwTrouble guard = few[2];
          FwTroubleList small = { .items = few, .capacity = 2 };
          fw_trouble_find (l->turn, l->rig.mechanism, &small);
          g_assert_cmpint (small.n, ==, 2);
          g_assert_true (small.full);
          g_assert_cmpint (memcmp (&guard, &few[2], sizeof guard), ==, 0);
        }
      look_free (l);
    }
  g_rand_free (rand);
}

/* Every part has a name, twins by their side, and parts are told apart by it. */
static void
test_part_names (void)
{
  FwDesign *d = build_heron ();
  build_spring (d, FW_SIDE_BOTH, from_base (60, 0, 0), from_panel (0, 100, 0, 0), 0.1, 200, false);
  build_weight (d, 100, 30, 180, 20);
  Rig rig = rig_new (d);
  static const struct
  {
    FwPart part;
    const char *name;
  } table[] = { { { FW_PART_BODY, 0 }, "body" },        { { FW_PART_CRANK, 0 }, "crank" },      { { FW_PART_CRANK, 2 }, "in" },
                { { FW_PART_BASE, 0 }, "base" },        { { FW_PART_FLOOR, 0 }, "floor" },      { { FW_PART_MEMBER, 0 }, "inner.right" },
                { { FW_PART_MEMBER, 1 }, "inner.left" }, { { FW_PART_LINK, 1 }, "inrod.left" } };
  for (size_t i = 0; i < G_N_ELEMENTS (table); i++)
    g_assert_cmpstr (fw_part_name (rig.mechanism, table[i].part), ==, table[i].name);
  g_assert_cmpstr (fw_part_name (rig.mechanism, (FwPart){ FW_PART_WEIGHT, 0 }), ==, d->crank.weights[0].name);
  const char *right = fw_part_name (rig.mechanism, (FwPart){ FW_PART_SPRING, 0 }),
             *left = fw_part_name (rig.mechanism, (FwPart){ FW_PART_SPRING, 1 });
  g_assert_true (g_str_has_suffix (right, ".right") && g_str_has_suffix (left, ".left"));
  rig_free (&rig);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trouble/kinds and parts have their names", test_names);
  g_test_add_func ("/trouble/weak push is found with Alt's angle and its edges", test_weak_push);
  g_test_add_func ("/trouble/a peak half-way between two steps is told once", test_half_way);
  g_test_add_func ("/trouble/what cannot close is found with the missing length and its edges",
                   test_cannot_close);
  g_test_add_func ("/trouble/past a stop is found where the linkage wants to go beyond it",
                   test_past_stop);
  g_test_add_func ("/trouble/a near other root may flip unless a stop bars the way", test_may_flip);
  g_test_add_func ("/trouble/a snap is a peak far above the turn's mean", test_snap);
  g_test_add_func ("/trouble/lean and bend beyond their limits are found, and not below",
                   test_lean_and_bend);
  g_test_add_func ("/trouble/a short post leaves its guide", test_leaves_guide);
  g_test_add_func ("/trouble/the worst comes first and no more is written than there is room for",
                   test_order_and_room);
  g_test_add_func ("/trouble/every part has its name", test_part_names);
  g_test_add_func ("/trouble/a post too short for its guide leaves it all the turn", test_never_in_guide);
  return g_test_run ();
}
