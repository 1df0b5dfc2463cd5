/* Distances between segments, plates and tubes against brute force, and what is said to hit against
 * points sampled on the parts. */
#include "build_design.h"
#include "core/distance.h"
#include "look.h"
#include "random_design.h"

static FwVec3
random_point (GRand *r, double size)
{
  double x = g_rand_double_range (r, -size, size), y = g_rand_double_range (r, -size, size);
  return fw_vec3 (x, y, g_rand_double_range (r, -size, size));
}

static FwVec3
along (FwSegment s, double t)
{
  return fw_vec3_add (fw_vec3_scale (s.a, 1 - t), fw_vec3_scale (s.b, t));
}

static double
point_segment (FwVec3 p, FwSegment s)
{
  FwVec3 d = fw_vec3_sub (s.b, s.a);
  double l2 = fw_vec3_dot (d, d), t = l2 > 0 ? fw_vec3_dot (fw_vec3_sub (p, s.a), d) / l2 : 0;
  return fw_vec3_distance (p, along (s, CLAMP (t, 0, 1)));
}

/* The distance to the second segment is convex along the first: a ternary search finds the least.
 */
static double
brute_segments (FwSegment p, FwSegment q)
{
  double a = 0, b = 1;
  for (int i = 0; i < 60; i++)
    {
      double m = a + (b - a) / 3, n = b - (b - a) / 3;
      if (point_segment (along (p, m), q) < point_segment (along (p, n), q))
        b = n;
      else
        a = m;
    }
  return point_segment (along (p, 0.5 * (a + b)), q);
}

static void
test_segments (void)
{
  GRand *rand = g_rand_new_with_seed (81);
  for (int n = 0; n < 20000; n++)
    {
      FwSegment p = { random_point (rand, 10), random_point (rand, 10) },
                q = { random_point (rand, 10), random_point (rand, 10) };
      if (n % 5 == 1) /* parallel */
        q.b = fw_vec3_add (
            q.a, fw_vec3_scale (fw_vec3_sub (p.b, p.a), g_rand_double_range (rand, -2, 2)));
      if (n % 5 == 2) /* a point */
        q.b = q.a;
      if (n % 5 == 3) /* touching */
        q.a = along (p, g_rand_double_range (rand, 0, 1));
      if (n % 50 == 4)
        p.b = p.a;
      assert_near (fw_segment_distance (p, q), brute_segments (p, q), 1e-6);
      assert_near (fw_segment_distance (p, q), fw_segment_distance (q, p), 1e-9);
    }
  g_rand_free (rand);
}

/* A star-shaped polygon: simple, often not convex. */
static int
random_outline (GRand *r, FwVec2 *outline)
{
  int n = g_rand_int_range (r, 3, 9);
  for (int i = 0; i < n; i++)
    {
      double a = 2 * G_PI * (i + g_rand_double_range (r, 0, 0.8)) / n,
             d = g_rand_double_range (r, 2, 12);
      outline[i] = (FwVec2){ 3 + d * cos (a), d * sin (a) };
    }
  return n;
}

/* Winding by the sum of angles, not by crossings. */
static bool
winds_round (FwVec2 p, const FwVec2 *o, int n)
{
  double sum = 0;
  for (int i = 0; i < n; i++)
    {
      FwVec2 a = { o[i].x - p.x, o[i].y - p.y },
             b = { o[(i + 1) % n].x - p.x, o[(i + 1) % n].y - p.y };
      sum += atan2 (a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
    }
  return fabs (sum) > G_PI;
}

static void
test_inside (void)
{
  GRand *rand = g_rand_new_with_seed (82);
  int in = 0;
  for (int n = 0; n < 5000; n++)
    {
      FwVec2 o[9], p = { g_rand_double_range (rand, -10, 15), g_rand_double_range (rand, -12, 12) };
      int sides = random_outline (rand, o);
      g_assert_cmpint (fw_inside_outline (p, o, sides), ==, winds_round (p, o, sides));
      in += winds_round (p, o, sides);
    }
  g_rand_free (rand);
  g_assert_cmpint (in, >, 500);
}

/* Of a point to the plate: its edges, and its face where the point stands over it. */
static double
point_plate (FwVec3 p, const FwFrame *f, const FwVec2 *o, int n)
{
  FwVec3 local = fw_frame_to_local (f, p);
  double best = winds_round ((FwVec2){ local.x, local.y }, o, n) ? fabs (local.z) : INFINITY;
  for (int i = 0; i < n; i++)
    {
      FwVec2 a = o[i], b = o[(i + 1) % n];
      FwSegment edge = { fw_vec3 (a.x, a.y, 0), fw_vec3 (b.x, b.y, 0) };
      best = fmin (best, point_segment (local, edge));
    }
  return best;
}

/* A distance changes no faster than the point moves: a half that cannot hold a nearer point is left. */
static void
halve (FwSegment s, const FwFrame *f, const FwVec2 *o, int n, double *best)
{
  FwVec3 middle = along (s, 0.5);
  double d = point_plate (middle, f, o, n), half = fw_vec3_distance (s.a, s.b) / 2;
  *best = fmin (*best, d);
  if (d - half > *best - 1e-3)
    return;
  halve ((FwSegment){ s.a, middle }, f, o, n, best);
  halve ((FwSegment){ middle, s.b }, f, o, n, best);
}

/* The distance, or `far` where it is more. */
static double
brute_plate (FwSegment s, const FwFrame *f, const FwVec2 *o, int n, double far)
{
  double best = far;
  halve (s, f, o, n, &best);
  return best;
}

static FwFrame
random_frame (GRand *r)
{
  FwVec3 u = random_point (r, 1), v = random_point (r, 1);
  u = fw_vec3_scale (u, 1 / fw_vec3_length (u));
  FwVec3 w = fw_vec3_cross (u, v);
  w = fw_vec3_scale (w, 1 / fw_vec3_length (w));
  return (FwFrame){ random_point (r, 10), u, fw_vec3_cross (w, u), w };
}

static void
test_plate (void)
{
  GRand *rand = g_rand_new_with_seed (83);
  int through = 0;
  for (int n = 0; n < 1500; n++)
    {
      FwVec2 o[9];
      int sides = random_outline (rand, o);
      FwFrame f = random_frame (rand);
      FwSegment s = { random_point (rand, 25), random_point (rand, 25) };
      if (n % 3 == 0) /* aim through the plate's plane near its middle */
        s.b = fw_vec3_sub (fw_vec3_scale (fw_frame_to_world (&f, fw_vec3 (3, 0, 0)), 2), s.a);
      double d = fw_segment_plate_distance (s, &f, o, sides), brute = brute_plate (s, &f, o, sides, INFINITY);
      if (d == 0)
        {
          through++;
          assert_near (brute, 0, 1e-3);
        }
      else
        assert_near (d, brute, 2e-3);
    }
  g_rand_free (rand);
  g_assert_cmpint (through, >, 200);
}

static void
test_height (void)
{
  GRand *rand = g_rand_new_with_seed (84);
  int over = 0;
  double off = 0;
  for (int n = 0; n < 60; n++)
    {
      FwVec2 o[9];
      int sides = random_outline (rand, o);
      FwFrame f = random_frame (rand);
      double half_x = g_rand_double_range (rand, 2, 12), half_y = g_rand_double_range (rand, 2, 12),
             least = INFINITY;
      for (int i = 0; i <= 300; i++)
        for (int k = 0; k <= 300; k++)
          {
            FwVec2 p = { -10 + 26.0 * i / 300, -13 + 26.0 * k / 300 };
            FwVec3 w = fw_frame_to_world (&f, fw_vec3 (p.x, p.y, 0));
            if (fabs (w.x) <= half_x && fabs (w.y) <= half_y && w.z < least
                && winds_round (p, o, sides))
              least = w.z;
          }
      double height = fw_plate_height_over (&f, o, sides, half_x, half_y, 1.5);
      if (isinf (least))
        continue; /* too small a corner for the samples to fall on */
      over++;
      g_assert_cmpfloat (height, <=, least - 1.5 + 1e-9);
      assert_near (height, least - 1.5, 2); /* a sharp corner may lie between samples */
      off += least - 1.5 - height;
    }
  g_rand_free (rand);
  g_assert_cmpint (over, >, 20);
  g_assert_cmpfloat (off / over, <, 0.1);
}

static int
hits (const Look *l)
{
  int n = 0;
  for (int i = 0; i < l->list.n; i++)
    n += l->list.items[i].kind == FW_HITS;
  return n;
}

static const FwTrouble *
first_hit (const Look *l)
{
  for (int i = 0; i < l->list.n; i++)
    if (l->list.items[i].kind == FW_HITS)
      return &l->list.items[i];
  g_assert_not_reached ();
}

/* A rod that goes round with the crank passes a second, standing one at `gap` between their lines.
 */
static FwDesign *
passing_rods (double gap)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "t", 15, 0, 0);
  build_fixed (d, 0, 0, 70, 0);
  build_panel (d, "a", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 60);
  build_rod (d, "ra", FW_SIDE_RIGHT, from_throw (0), 0, fw_vec3 (60, 0, 0), 60, -27);
  build_panel (d, "b", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, gap, 200), 60);
  build_rod (d, "rb", FW_SIDE_RIGHT, from_base (40, gap, -100), 1, fw_vec3 (60, 0, 0), 370, 0);
  d->rods[0].diameter_mm = 4;
  d->rods[1].diameter_mm = 6;
  return d;
}

static void
test_rod_past_rod (void)
{
  Look *l = look_new (passing_rods (5.2), 360);
  g_assert_cmpint (hits (l), ==, 0);
  look_free (l);
  l = look_new (passing_rods (4.8), 360); /* the lines cross at 4.8, radii 2 and 3 */
  g_assert_cmpint (hits (l), >, 0);
  const FwTrouble *t = first_hit (l);
  assert_near (t->value, -0.2, 1e-6);
  g_assert_true (t->has_other);
  g_assert_cmpstr (fw_part_name (l->rig.mechanism, t->part), ==, "ra");
  g_assert_cmpstr (fw_part_name (l->rig.mechanism, t->other), ==, "rb");
  g_assert_cmpint (t->severity, ==, FW_FAILURE);
  look_free (l);
}

/* The throw's pin reaches down r and half the pipe; the plate's top is just below, or not. */
static void
test_crank_on_base (void)
{
  for (int over = 0; over < 2; over++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_throw (d, "t", 40, 0, 0);
      build_rail (d, 0, 200, 0);
      d->base.top_mm = over ? -43.9 : -44.1; /* 40 + 8 / 2 */
      Look *l = look_new (d, 360);
      g_assert_cmpint (hits (l), ==, over);
      if (over)
        {
          const FwTrouble *t = first_hit (l);
          assert_near (t->value, -0.1, 1e-6);
          assert_near (t->worst, G_PI, 1e-3);
          /* 40 cos t = -39.9 at the edges */
          assert_near (t->from, acos (-39.9 / 40), 1e-6);
          assert_near (t->to, 2 * G_PI - acos (-39.9 / 40), 1e-6);
          g_assert_cmpint (t->part.kind, ==, FW_PART_CRANK);
          g_assert_cmpint (t->other.kind, ==, FW_PART_BASE);
        }
      look_free (l);
    }
}

/* The lowest point just half-way between the steps that are looked at is told once. */
static void
test_half_way (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "t", 40, -2.5, 0);
  build_rail (d, 0, 200, 0);
  d->base.top_mm = -43.99;
  Look *l = look_new (d, 360);
  g_assert_cmpint (hits (l), ==, 1);
  assert_near (first_hit (l)->value, -0.01, 1e-9);
  assert_near (first_hit (l)->worst, 182.5 * RAD, 1e-4);
  look_free (l);
}

/* The handle, up at crank angle 0, against the floor below the plate. */
static void
test_handle_on_floor (void)
{
  for (int over = 0; over < 2; over++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_throw (d, "t", 20, 0, 0);
      build_rail (d, 0, 200, 0);
      d->base.handle_mm = 60;
      d->base.top_mm = over ? -51.9 : -52.1; /* floor 12 lower, handle's pipe 4 */
      Look *l = look_new (d, 360);
      g_assert_cmpint (hits (l), ==, over);
      if (over)
        g_assert_cmpint (first_hit (l)->other.kind, ==, FW_PART_FLOOR);
      look_free (l);
    }
}

/* A hanging panel 100 long under a hinge at 110 - 0.9 or + 0.1 over the plate's top, its half
 * thickness off. */
static void
test_panel_on_base (void)
{
  for (int over = 0; over < 2; over++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_throw (d, "t", 2, 0, 0);
      build_fixed (d, 0, 0, 0, 0);
      build_panel (d, "p", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (40, 0, 0), 100);
      build_mass (d, 0, 20, 50, 0, 0);
      build_sheet (d, 0, 20);
      d->base.top_mm = over ? -100.9 : -101.1; /* half its thickness is 1 */
      Look *l = look_new (d, 360);
      g_assert_cmpint (hits (l), ==, 2 * over);
      if (over)
        {
          assert_near (first_hit (l)->value, -0.1, 1e-6);
          g_assert_cmpint (first_hit (l)->other.kind, ==, FW_PART_BASE);
        }
      look_free (l);
    }
}

/* ---- Random designs: points on the parts ---- */

static double
rod_radius (const Rig *rig, int link)
{
  return rig->design->rods[rig->mechanism->links[link].rod].diameter_mm / 2;
}

static FwSegment
rod_of (const Rig *rig, int link)
{
  return (FwSegment){ rig->pose->links[link].from.at, rig->pose->links[link].to.at };
}

static double
sampled_clearance (Rig *rig, FwPart a, FwPart b, double crank)
{
  fw_pose_solve (rig->pose, rig->mechanism, crank);
  FwSegment rod = rod_of (rig, a.index);
  if (rig->pose->members[rig->mechanism->links[a.index].member].closure != FW_CLOSES)
    return NAN;
  if (b.kind == FW_PART_LINK)
    {
      if (rig->pose->members[rig->mechanism->links[b.index].member].closure != FW_CLOSES)
        return NAN;
      return brute_segments (rod, rod_of (rig, b.index)) - rod_radius (rig, a.index)
             - rod_radius (rig, b.index);
    }
  if (rig->pose->members[b.index].closure != FW_CLOSES)
    return NAN;
  const FwPanel *p = &rig->design->panels[rig->mechanism->members[b.index].panel];
  double touch = rod_radius (rig, a.index) + p->thickness_mm / 2;
  return brute_plate (rod, &rig->pose->members[b.index].motion.at, p->outline_mm, p->n_outline, touch + 1) - touch;
}

static bool
said (const Look *l, FwPart a, FwPart b, double crank)
{
  for (int i = 0; i < l->list.n; i++)
    {
      const FwTrouble *t = &l->list.items[i];
      if (t->kind != FW_HITS || t->part.kind != a.kind || t->part.index != a.index
          || t->other.kind != b.kind || t->other.index != b.index)
        continue;
      for (int k = -1; k <= 1; k++)
        if (crank + 2 * G_PI * k >= t->from - 1e-4 && crank + 2 * G_PI * k <= t->to + 1e-4)
          return true;
    }
  return false;
}

/* Rods that share their anchor stand side by side; a rod meets the panels that it holds. */
static bool
meant_to_meet (const FwMechanism *m, FwPart a, FwPart b)
{
  const FwLink *l = &m->links[a.index];
  if (b.kind == FW_PART_MEMBER)
    return l->member == b.index || (l->from == FW_FROM_PANEL && l->index == b.index);
  const FwLink *k = &m->links[b.index];
  if (l->from != k->from)
    return false;
  if (l->from == FW_FROM_THROW)
    return l->index == k->index;
  return (l->from != FW_FROM_PANEL || l->index == k->index)
         && fw_vec3_distance (l->from_mm, k->from_mm) < 1;
}

/* Beside a gap, less than a step away, the list may be short: the gap itself is a failure. */
static bool
beside_gap (Look *l, FwPart a, FwPart b, double crank)
{
  for (int k = -5; k <= 5; k++)
    if (isnan (sampled_clearance (&l->rig, a, b, crank + k * RAD)))
      return true;
  return false;
}

static void
check_pair (Look *l, FwPart a, FwPart b, int *deep, int *missed)
{
  if (meant_to_meet (l->rig.mechanism, a, b))
    return;
  for (int k = 0; k < 120; k++)
    {
      double crank = 2 * G_PI * k / 120 + 0.01, clear = sampled_clearance (&l->rig, a, b, crank);
      if (clear < -0.3)
        {
          (*deep)++;
          if (!said (l, a, b, crank) && !beside_gap (l, a, b, crank))
            {
              (*missed)++;
              g_test_message ("%s into %s: %g mm at %g deg not said",
                              fw_part_name (l->rig.mechanism, a),
                              fw_part_name (l->rig.mechanism, b), clear, crank / RAD);
            }
        }
      if (clear > 0.05)
        g_assert_false (said (l, a, b, crank) && said (l, a, b, crank - 2e-3)
                        && said (l, a, b, crank + 2e-3));
    }
}

static void
test_random (void)
{
  GRand *rand = g_rand_new_with_seed (85);
  int deep = 0, missed = 0, checked = 0;
  for (int n = random_rounds (20); n > 0; n--)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      for (int i = 0; i < d->n_panels; i++)
        build_sheet (d, i, g_rand_double_range (rand, 20, 80));
      Look *l = look_new (d, 360);
      const FwMechanism *m = l->rig.mechanism;
      for (int i = 0; i < m->n_links; i++)
        {
          for (int j = i + 1; j < m->n_links; j++)
            check_pair (l, (FwPart){ FW_PART_LINK, i }, (FwPart){ FW_PART_LINK, j }, &deep,
                        &missed);
          for (int j = 0; j < m->n_members; j++)
            check_pair (l, (FwPart){ FW_PART_LINK, i }, (FwPart){ FW_PART_MEMBER, j }, &deep,
                        &missed);
        }
      for (int i = 0; i < l->list.n; i++)
        {
          const FwTrouble *t = &l->list.items[i];
          if (t->kind != FW_HITS || t->part.kind != FW_PART_LINK)
            continue;
          checked++;
          g_assert_cmpfloat (t->value, <, 0);
          double clear = sampled_clearance (&l->rig, t->part, t->other, t->worst);
          assert_near (clear, t->value, 0.05);
          bool whole = t->to - t->from > 2 * G_PI - 1e-9;
          for (int end = 0; end < 2 && !whole; end++)
            {
              clear = sampled_clearance (&l->rig, t->part, t->other, end ? t->to : t->from);
              double out = sampled_clearance (&l->rig, t->part, t->other,
                                              end ? t->to + 1e-5 : t->from - 1e-5);
              g_assert_true (isnan (out) || isnan (clear) || fabs (clear) < 0.05 || out > 0);
            }
        }
      look_free (l);
    }
  g_rand_free (rand);
  g_test_message ("%d samples inside another part, %d of them not said; %d stretches checked", deep,
                  missed, checked);
  g_assert_cmpint (deep, >, 300);
  g_assert_cmpint (checked, >, 20);
  g_assert_cmpint (missed, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/hits/segments are as far apart as a search says", test_segments);
  g_test_add_func ("/hits/a point is inside an outline that winds round it", test_inside);
  g_test_add_func ("/hits/a segment is as far from a plate as its points are", test_plate);
  g_test_add_func ("/hits/a plate is as high over a rectangle as its points are", test_height);
  g_test_add_func ("/hits/rods closer than their radii hit, and not beyond", test_rod_past_rod);
  g_test_add_func ("/hits/the crank hits a base that it reaches, between the right angles",
                   test_crank_on_base);
  g_test_add_func ("/hits/a low point half-way between two steps is told once", test_half_way);
  g_test_add_func ("/hits/the handle hits a floor that it reaches", test_handle_on_floor);
  g_test_add_func ("/hits/a panel hits a base that it reaches", test_panel_on_base);
  g_test_add_func ("/hits/random designs say what points on their parts say", test_random);
  return g_test_run ();
}
