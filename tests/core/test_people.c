/* Hand, motor, stand, fingers, and the trouble that forces make. */
#include <glib.h>
#include <math.h>
#include <stdlib.h>

#include "build_design.h"
#include "core/loadtrouble.h"
#include "near.h"
#include "random_design.h"

#define STEPS 360

typedef struct
{
  Rig rig;
  FwLoadTurn *turn;
} Bench;

static Bench
bench_new (FwDesign *design, double turns_per_minute)
{
  design->crank.turns_per_minute = turns_per_minute;
  Bench b = { .rig = rig_new (design) };
  b.turn = fw_load_turn_new (b.rig.mechanism, STEPS);
  g_assert_nonnull (b.turn);
  fw_load_turn_solve (b.turn, b.rig.mechanism, turns_per_minute * 2 * G_PI / 60);
  return b;
}

static void
bench_free (Bench *b)
{
  free (b->turn);
  rig_free (&b->rig);
}

/* A weight lifted and let down by a crank through a rod so long that it rises as the cosine. */
static FwDesign *
lift (double throw_mm, double mass_g)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "pin", throw_mm, 0, 0), 1e6 / 2, 0);
  d->body.mass_g = mass_g;
  d->base.handle_mm = 400;
  d->drive.margin = 2;
  return d;
}

/* "Human force and power", engineeringtoolbox.com: 130 N at an arm of 0.4 m and 25 turns/min are
 * 136 W. */
static void
test_hand_and_power (void)
{
  double mass = 130 * 0.4 / (FW_GRAVITY * 0.005);
  Bench b = bench_new (lift (5, mass * 1000), 25);
  FwHand hand;
  FwMotor motor;
  g_assert_true (fw_hand (b.turn, b.rig.mechanism, &hand));
  g_assert_true (fw_motor (b.turn, b.rig.mechanism, &motor));
  assert_near (hand.peak_N, FW_HAND_HARD_N, 0.2);
  assert_near (hand.back_N, 130, 0.2);
  assert_near (hand.peak_crank, 1.5 * G_PI, 0.01);
  assert_near (hand.back_crank, 0.5 * G_PI, 0.01);
  assert_near (hand.mean_N, 130 * 2 / G_PI, 0.2); /* mean size of a sine */
  assert_near (motor.peak_W, 136, 0.5);
  assert_near (motor.mean_W, 136.136 / G_PI, 0.2); /* it drives half the turn only */
  assert_near (motor.torque_Nm, 52, 0.1);
  assert_near (motor.rated_Nm, 104, 0.2);
  assert_near (motor.holding_Nm, 52, 0.1);
  assert_near (motor.turns_per_minute, 25, 1e-9);
  bench_free (&b);
}

static void
test_no_handle (void)
{
  FwDesign *d = lift (5, 1000);
  d->base.handle_mm = 0;
  Bench b = bench_new (d, 25);
  FwHand hand;
  g_assert_false (fw_hand (b.turn, b.rig.mechanism, &hand));
  bench_free (&b);
}

/* (J + m r^2 sin^2 t) t'' + m r^2 sin t cos t t'^2 = m g r sin t, one turn in fine steps from the
 * top. */
static void
test_ripple_like_coasting (void)
{
  const double r = 0.04, m = 1.2, flywheel = 0.05, speed = 40 * 2 * G_PI / 60;
  Bench b = bench_new (lift (r * 1000, m * 1000), 40);
  FwRipple ripple;
  g_assert_true (fw_ripple (b.turn, b.rig.mechanism, flywheel, &ripple));
  double angle = 0, rate = ripple.low, most = 0, least = INFINITY, t = 0, dt = 2e-6;
  for (; angle < 2 * G_PI; t += dt)
    {
      double s = sin (angle), c = cos (angle);
      double gained
          = m * r * s * (FW_GRAVITY - r * c * rate * rate) / (flywheel + m * r * r * s * s);
      rate += gained * dt / 2;
      angle += rate * dt;
      s = sin (angle), c = cos (angle);
      rate += dt / 2 * m * r * s * (FW_GRAVITY - r * c * rate * rate)
              / (flywheel + m * r * r * s * s);
      most = fmax (most, rate);
      least = fmin (least, rate);
    }
  assert_near (t, 2 * G_PI / speed, 2e-3 * t);
  assert_near (ripple.high, most, 1e-3 * most);
  assert_near (ripple.low, least, 1e-3 * most);
  assert_near (ripple.coefficient, (most - least) / speed, 2e-3);
  bench_free (&b);
}

/* With a heavy flywheel both are energy / (J w^2), and the energy is what the weight takes up: 2 m
 * g r. */
static void
test_heavy_flywheel (void)
{
  Bench b = bench_new (lift (10, 500), 30);
  FwRipple ripple;
  g_assert_true (fw_ripple (b.turn, b.rig.mechanism, 3, &ripple));
  assert_near (ripple.energy_J, 2 * 0.5 * FW_GRAVITY * 0.01, 1e-3 * ripple.energy_J);
  assert_near (ripple.coefficient, ripple.flywheel, 1e-2 * ripple.flywheel);
  assert_near (ripple.flywheel, ripple.energy_J / (3 * b.turn->speed * b.turn->speed),
               1e-3 * ripple.flywheel);
  bench_free (&b);
}

/* ---- Stand ---- */

static FwDesign *
standing (double half_mm, double height_mm)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "pin", 10, 0, 0);
  build_fixed (d, 0, 0, 0, 0);
  d->body.mass_g = 5000;
  d->base
      = (FwBase){ .plate_mm = { 800, 2 * half_mm, 10 }, .top_mm = 10 - height_mm, .mass_g = 1e-6 };
  return d;
}

/* IEC 62368-1: 10 degrees; stable where half the base over the height of the centre exceeds its
 * tangent, 0.1763. */
static void
test_tilt_by_height (void)
{
  const struct
  {
    double half, deg;
  } table[] = { { 0.1763 * 500, 10 }, { 0.2679 * 500, 15 }, { 500, 45 } };
  for (int i = 0; i < 3; i++)
    {
      Bench b = bench_new (standing (table[i].half, 500), 30);
      FwStand stand;
      g_assert_true (fw_stand (b.turn, b.rig.mechanism, &stand));
      assert_near (stand.tilt_deg, fmin (table[i].deg, atan (400.0 / 500) / RAD), 0.005);
      assert_near (stand.margin_mm, fmin (table[i].half, 400), 1e-6);
      bench_free (&b);
    }
}

/* A weight ahead of the crank, lifted and dropped fast: the rows of moments about the rim, written
 * out. */
static void
test_tilt_with_inertia (void)
{
  FwDesign *d = lift (30, 2000);
  d->body.rod_mm = 120;
  d->body.centre_mm = fw_vec3 (0, 50, 0);
  d->base = (FwBase){ .plate_mm = { 500, 240, 20 }, .top_mm = -80, .mass_g = 1500 };
  Bench b = bench_new (d, 100);
  FwStand stand;
  g_assert_true (fw_stand (b.turn, b.rig.mechanism, &stand));
  double worst = INFINITY, margin = INFINITY, w = b.turn->speed;
  for (int i = 0; i < STEPS; i++)
    {
      rig_solve (&b.rig, i * 360.0 / STEPS);
      double gained = b.rig.pose->body.motion.acceleration.z * w * w / 1000,
             height = b.rig.pose->body.z_mm + 100;
      double tilt = fw_stand_tilt (b.turn, b.rig.mechanism, i, 2);
      double held = (2 * FW_GRAVITY * cos (tilt) + 2 * gained) * (120 - 50)
                    + 1.5 * FW_GRAVITY * cos (tilt) * 120;
      double thrown = 2 * FW_GRAVITY * sin (tilt) * height + 1.5 * FW_GRAVITY * sin (tilt) * 20;
      assert_near (held, thrown, 1e-6 * (fabs (held) + 1));
      worst = fmin (worst, tilt);
      double lift_N = 2 * (FW_GRAVITY + gained), all = lift_N + 1.5 * FW_GRAVITY;
      margin = fmin (margin, 120 - fabs (lift_N * 50 / all));
    }
  assert_near (stand.tilt_deg, worst / RAD, 1e-9);
  g_assert_cmpint (stand.tilt_rim, ==, 2);
  assert_near (stand.margin_mm, margin, 1e-6);
  bench_free (&b);
}

/* What is told is the least of all steps and rims, however wildly it is thrown about. */
static void
test_least_of_all (void)
{
  GRand *rand = g_rand_new_with_seed (911);
  int judged = 0;
  for (int n = 0; n < 120; n++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      d->body.mass_g = g_rand_double_range (rand, 100, 2000);
      for (int i = 0; i < d->n_panels; i++)
        build_mass (d, i, g_rand_double_range (rand, 10, 300), 60, 10, 0);
      d->base.mass_g = 3000;
      d->base.top_mm = -120;
      Bench b = bench_new (d, g_rand_double_range (rand, 5, 200));
      FwStand stand;
      if (fw_stand (b.turn, b.rig.mechanism, &stand))
        {
          double least = INFINITY;
          for (int i = 0; i < 4 * STEPS; i++)
            least = fmin (least, fw_stand_tilt (b.turn, b.rig.mechanism, i / 4, i % 4));
          assert_near (stand.tilt_deg, least / RAD, 1e-9);
          judged++;
        }
      bench_free (&b);
    }
  g_assert_cmpint (judged, >, 30);
  g_rand_free (rand);
}

static void
test_not_judged (void)
{
  FwDesign *d = standing (80, 500);
  d->base.mass_g = 0;
  Bench b = bench_new (d, 30);
  FwStand stand;
  double peak, strength;
  g_assert_false (fw_stand (b.turn, b.rig.mechanism, &stand));
  g_assert_false (fw_hanger (b.turn, b.rig.mechanism, &peak, &strength));
  bench_free (&b);
}

/* A slider-crank with n = 4 is lifted hardest at the bottom, with r w^2 (1 - 1/n): 0.75, as
 * handbooks print. */
static void
test_hanger (void)
{
  FwDesign *d = lift (30, 2000);
  d->body.rod_mm = 120;
  d->base.mass_g = 1500;
  d->base.hung = true;
  Bench b = bench_new (d, 100);
  double peak, strength, w = b.turn->speed;
  g_assert_true (fw_hanger (b.turn, b.rig.mechanism, &peak, &strength));
  assert_near (peak, 3.5 * FW_GRAVITY + 2 * 0.030 * w * w * 0.75, 1e-3);
  assert_near (strength, 5 * peak, 1e-9);
  FwStand stand;
  g_assert_false (fw_stand (b.turn, b.rig.mechanism, &stand));
  bench_free (&b);
}

/* ---- Trouble ---- */

typedef struct
{
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
} Listed;

static void
find (Listed *l, Bench *b)
{
  *l = (Listed){ .list = { .capacity = FW_TROUBLE_ROOM } };
  l->list.items = l->room;
  fw_load_trouble_find (b->turn, b->rig.mechanism, &l->list);
}

static const FwTrouble *
first (const Listed *l, FwTroubleKind kind)
{
  for (int i = 0; i < l->list.n; i++)
    if (l->room[i].kind == kind)
      return &l->room[i];
  return NULL;
}

static void
test_over_run (void)
{
  Listed l;
  double mass = 40 * 0.4 / (FW_GRAVITY * 0.005) * 1000; /* 40 N at the handle */
  Bench b = bench_new (lift (5, mass), 10);
  find (&l, &b);
  const FwTrouble *t = first (&l, FW_OVER_RUN);
  g_assert_nonnull (t);
  assert_near (t->value, 40, 0.05);
  assert_near (t->limit, 22, 0);
  g_assert_cmpint (t->severity, ==, FW_REMARK);
  double edge = asin (22.0 / 40); /* it pushes back by 40 N sin t on the way down */
  assert_near (t->from, edge, 0.005);
  assert_near (t->to, G_PI - edge, 0.005);
  assert_near (t->worst, G_PI / 2, 0.03);
  g_assert_cmpint (l.list.n, ==, 1);
  bench_free (&b);

  FwDesign *driven = lift (5, mass);
  driven->drive.motor = true;
  b = bench_new (driven, 10);
  find (&l, &b);
  g_assert_null (first (&l, FW_OVER_RUN));
  bench_free (&b);

  b = bench_new (lift (5, mass * 0.5), 10);
  find (&l, &b);
  g_assert_null (first (&l, FW_OVER_RUN));
  bench_free (&b);
}

static void
test_may_tip (void)
{
  const struct
  {
    double half;
    int severity; /* -1: none */
  } table[] = { { 90, -1 }, { 80, FW_WARNING } };
  for (int i = 0; i < 2; i++)
    {
      Listed l;
      Bench b = bench_new (standing (table[i].half, 500), 30);
      find (&l, &b);
      const FwTrouble *t = first (&l, FW_MAY_TIP);
      g_assert_cmpint (t == NULL ? -1 : (int)t->severity, ==, table[i].severity);
      if (t != NULL)
        {
          assert_near (t->value, atan (80.0 / 500) / RAD, 1e-6);
          assert_near (t->to - t->from, 2 * G_PI, 0);
        }
      bench_free (&b);
    }
  FwDesign *d = standing (80, 500);
  d->body.at_mm.y = 100; /* beyond the rim: it falls over by itself */
  Bench b = bench_new (d, 30);
  Listed l;
  find (&l, &b);
  g_assert_cmpint (first (&l, FW_MAY_TIP)->severity, ==, FW_FAILURE);
  g_assert_cmpfloat (first (&l, FW_MAY_TIP)->value, <, 0);
  bench_free (&b);
}

static void
test_load_reversal (void)
{
  const double speeds[] = { 30, 30 }, plays[] = { 0.6, 0 };
  for (int i = 0; i < 2; i++)
    {
      FwDesign *d = build_heron ();
      d->body.play_mm = plays[i];
      Bench b = bench_new (d, speeds[i]);
      Listed l;
      find (&l, &b);
      FwBounce bounces[16];
      int n = fw_bounces (b.turn, b.rig.mechanism, bounces, 16), loud = 0;
      for (int k = 0; k < n; k++)
        loud += bounces[k].speed_mps > FW_KNOCK_MPS || bounces[k].energy_J > FW_KNOCK_J;
      g_assert_cmpint (loud, ==, l.list.n);
      g_assert_cmpint (loud > 0, ==, i == 0);
      for (int k = 0; k < l.list.n; k++)
        {
          g_assert_cmpint (l.room[k].kind, ==, FW_LOAD_REVERSAL);
          g_assert_cmpint (l.room[k].part.kind, ==, FW_PART_BODY);
          g_assert_cmpfloat (l.room[k].value, >, l.room[k].limit);
          g_assert_cmpfloat (l.room[k].to, >, l.room[k].from);
        }
      bench_free (&b);
    }
}

static void
test_appends (void)
{
  Listed l;
  Bench b = bench_new (standing (80, 500), 30);
  find (&l, &b);
  int before = l.list.n;
  fw_load_trouble_find (b.turn, b.rig.mechanism, &l.list);
  g_assert_cmpint (l.list.n, ==, 2 * before);
  l.list.capacity = l.list.n;
  fw_load_trouble_find (b.turn, b.rig.mechanism, &l.list);
  g_assert_cmpint (l.list.n, ==, 2 * before);
  g_assert_true (l.list.full);
  bench_free (&b);
}

/* ---- Fingers ---- */

static FwTurn *
turn_of (const Rig *rig, int steps)
{
  FwTurn *turn = fw_turn_new (rig->mechanism, steps);
  fw_turn_solve (turn, rig->mechanism);
  return turn;
}

static int
pinches (FwDesign *d, FwPinch *list, int capacity)
{
  Rig rig = rig_new (d);
  FwTurn *turn = turn_of (&rig, 72);
  int n = fw_pinches (turn, rig.mechanism, list, capacity);
  free (turn);
  rig_free (&rig);
  return n;
}

/* ISO 13854: 25 mm for a finger. The pin stands lowest at half a turn. */
static void
test_pin_over_plate (void)
{
  const double tops[] = { -40, -60 };
  for (int i = 0; i < 2; i++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_throw (d, "pin", 20, 0, 0);
      d->base.top_mm = tops[i];
      FwPinch found[8];
      int n = pinches (d, found, 8);
      g_assert_cmpint (n, ==, i == 0 ? 1 : 0);
      if (n == 0)
        continue;
      g_assert_cmpint (found[0].a.kind, ==, FW_PART_CRANK);
      g_assert_cmpint (found[0].b.kind, ==, FW_PART_BASE);
      assert_near (found[0].gap_mm, 40 - 20 - 4, 1e-6);
      assert_near (found[0].crank, G_PI, 1e-4);
      assert_near (found[0].widest_mm, 40 + 20 - 4, 0.1);
    }
}

/* Two flaps on one hinge line each that close towards each other, as a beak does; n such, a metre apart along the crank. */
static FwDesign *
beaks (int n)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_fixed (d, 0, 0, 300, 0);
  for (int i = 0; i < n; i++)
    {
      double x = 1000 * i;
      g_autofree char *lower = g_strdup_printf ("low%d", i), *upper = g_strdup_printf ("high%d", i);
      int pin = build_throw (d, lower, 20, 0, x);
      int low = build_panel (d, lower, FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (x, 0, 0), 100);
      int high = build_panel (d, upper, FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (x, 0, 40), 100);
      d->panels[low].reach = d->panels[high].reach = FW_REACH_FORWARD;
      build_sheet (d, low, 20);
      build_sheet (d, high, 20);
      build_rod (d, lower, FW_SIDE_MIDDLE, from_throw (pin), low, fw_vec3 (60, 0, 0), 298, 0);
      build_rod (d, upper, FW_SIDE_MIDDLE, from_base (x, 60, 380), high, fw_vec3 (60, 0, 0), 40, 0);
    }
  return d;
}

static void
test_two_panels (void)
{
  const int low = 0, high = 1;
  Rig rig = rig_new (beaks (1));
  FwPinch found[8];
  FwTurn *turn = turn_of (&rig, 360);
  int n = fw_pinches (turn, rig.mechanism, found, 8);
  double least = INFINITY;
  for (int i = 0; i < 7200; i++)
    {
      rig_solve (&rig, i * 0.05);
      FwFrame f = rig.pose->members[low].motion.at, g = rig.pose->members[high].motion.at;
      double tip = fw_frame_to_local (&g, fw_frame_to_world (&f, fw_vec3 (100, 0, 0))).z;
      least = fmin (least, -tip - 2); /* the tip under the flat flap, less half of both sheets */
    }
  g_assert_cmpfloat (least, <, 40);
  int seen = 0;
  for (int i = 0; i < n; i++)
    if (found[i].a.kind == FW_PART_MEMBER && found[i].b.kind == FW_PART_MEMBER)
      {
        seen++;
        assert_near (found[i].gap_mm, least, 1e-3);
      }
  g_assert_cmpint (seen, ==, least < FW_FINGER_GAP_MM);
  g_assert_cmpint (seen, ==, 1);
  free (turn);
  rig_free (&rig);
}

static void
test_far_beaks (void)
{
  FwPinch one[8], many[64];
  int n = pinches (beaks (1), one, 8), all = pinches (beaks (7), many, 64);
  g_assert_cmpint (n, >, 0);
  g_assert_cmpint (all, ==, 7 * n);
  for (int i = 0; i < all; i++)
    {
      int alike = 0;
      for (int k = 0; k < n; k++)
        alike += one[k].a.kind == many[i].a.kind && one[k].b.kind == many[i].b.kind
                 && fabs (one[k].gap_mm - many[i].gap_mm) < 1e-6 && fabs (one[k].widest_mm - many[i].widest_mm) < 1e-6;
      g_assert_cmpint (alike, >, 0);
    }
}

static void
test_pinch_trouble (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "pin", 20, 0, 0);
  d->base.top_mm = -40;
  Rig rig = rig_new (d);
  Listed l = { .list = { .capacity = FW_TROUBLE_ROOM } };
  l.list.items = l.room;
  FwTurn *turn = turn_of (&rig, 360);
  fw_pinch_trouble_find (turn, rig.mechanism, &l.list);
  free (turn);
  g_assert_cmpint (l.list.n, ==, 1);
  g_assert_cmpint (l.room[0].kind, ==, FW_PINCH);
  g_assert_true (l.room[0].has_other);
  assert_near (l.room[0].value, 16, 1e-6);
  rig_free (&rig);
}

/* On any design: what is said to pinch is closer than a finger and was wider, lies in the turn and is no joint; where
 * there is less room than there are, one more is told. */
static void
test_pinches_of_any_design (void)
{
  GRand *rand = g_rand_new_with_seed (51);
  int seen = 0;
  for (int n = random_rounds (8); n > 0; n--)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      for (int i = 0; i < d->n_panels; i++)
        if (n % 2)
          build_sheet (d, i, 60);
      d->base.plate_mm[0] = d->base.plate_mm[1] = 300;
      d->base.plate_mm[2] = 18;
      d->base.top_mm = -60;
      Rig rig = rig_new (d);
      FwPinch found[256];
      FwTurn *turn = turn_of (&rig, 72);
      int all = fw_pinches (turn, rig.mechanism, found, 256);
      g_assert_cmpint (all, <=, 256);
      g_assert_cmpint (fw_pinches (turn, rig.mechanism, found, all / 2), ==, all == 0 ? 0 : all / 2 + 1);
      fw_pinches (turn, rig.mechanism, found, 256);
      free (turn);
      for (int i = 0; i < all; i++)
        {
          const FwPinch *p = &found[i];
          seen++;
          g_assert_true (p->gap_mm >= 0 && p->gap_mm < FW_FINGER_GAP_MM && p->widest_mm > p->gap_mm);
          g_assert_true (p->crank >= 0 && p->crank < 2 * G_PI);
          if (p->a.kind == FW_PART_LINK && p->b.kind == FW_PART_LINK)
            {
              const FwLink *a = &rig.mechanism->links[p->a.index], *b = &rig.mechanism->links[p->b.index];
              g_assert_false (a->from == b->from && a->from == FW_FROM_THROW && a->index == b->index);
              g_assert_false (a->from == FW_FROM_PANEL && a->index == b->member);
              g_assert_false (b->from == FW_FROM_PANEL && b->index == a->member);
            }
          if (p->a.kind == FW_PART_LINK && p->b.kind == FW_PART_MEMBER)
            g_assert_cmpint (rig.mechanism->links[p->a.index].member, !=, p->b.index);
          if (p->a.kind == FW_PART_MEMBER && p->b.kind == FW_PART_MEMBER)
            g_assert_true (rig.mechanism->members[p->b.index].parent != p->a.index
                           && rig.mechanism->members[p->a.index].parent != p->b.index);
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (seen, >, 20);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/people/force at the handle and power are the published 130 N and 136 W",
                   test_hand_and_power);
  g_test_add_func ("/people/without a handle there is no force at it", test_no_handle);
  g_test_add_func ("/people/an evenly pushed crank ripples as fine time steps of its coasting say",
                   test_ripple_like_coasting);
  g_test_add_func ("/people/with a heavy flywheel the ripple is energy over J omega squared",
                   test_heavy_flywheel);
  g_test_add_func ("/people/it tips where half its base over its height says", test_tilt_by_height);
  g_test_add_func ("/people/lifting and dropping weight changes where it tips",
                   test_tilt_with_inertia);
  g_test_add_func ("/people/the slope told is the least of all steps and rims", test_least_of_all);
  g_test_add_func ("/people/without the base's mass tipping is not judged", test_not_judged);
  g_test_add_func ("/people/what hangs pulls with weight and inertia", test_hanger);
  g_test_add_func ("/people/a hand that must hold back hard is told of over-run", test_over_run);
  g_test_add_func ("/people/what stands below ten degrees of slope may tip", test_may_tip);
  g_test_add_func ("/people/only a loud knock of a joint with play is trouble", test_load_reversal);
  g_test_add_func ("/people/load trouble is added to what is there", test_appends);
  g_test_add_func ("/people/a pin that comes close to the plate pinches", test_pin_over_plate);
  g_test_add_func ("/people/two panels that close pinch at their least distance", test_two_panels);
  g_test_add_func ("/people/what is far away changes no gap: seven beaks pinch as each of them does", test_far_beaks);
  g_test_add_func ("/people/pinching is trouble when asked for", test_pinch_trouble);
  g_test_add_func ("/people/what pinches is near, was wide and is no joint, in any design", test_pinches_of_any_design);
  return g_test_run ();
}
