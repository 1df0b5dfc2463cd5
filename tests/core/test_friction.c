/* Friction of joints: textbook constructions, two routes to the torque, both ways round, locking. */
#include <string.h>

#include "build_design.h"
#include "core/loadtrouble.h"
#include "near.h"
#include "random_design.h"

typedef struct
{
  Rig rig;
  FwLoads *loads;
} Bench;

static Bench
bench_new (FwDesign *design)
{
  Bench b = { .rig = rig_new (design) };
  b.loads = fw_loads_new (b.rig.mechanism);
  g_assert_nonnull (b.loads);
  return b;
}

static void
bench_free (Bench *b)
{
  free (b->loads);
  rig_free (&b->rig);
}

static const FwLoads *
bench_at (Bench *b, double crank_deg, double speed)
{
  rig_solve (&b->rig, crank_deg);
  fw_loads_solve (b->loads, b->rig.mechanism, b->rig.pose, speed);
  return b->loads;
}

/* A weight of `grams` on a vertical slide, pushed up by a rod. */
static FwDesign *
lift (double throw, double rod, double offset, double grams, double friction)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "pin", throw, 0, 0), rod, offset);
  d->body.mass_g = grams;
  d->crank.diameter_mm = 12;
  d->drive.friction = friction;
  d->drive.pin_radius_mm = 4;
  return d;
}

/* Friction axis of a rod (any Theory of Machines text, "friction circle" and "friction axis of a
 * link"; from memory): the force in the rod touches the friction circle, radius mu r, at both its
 * pins. Of the four lines the one that costs the most torque has friction against both motions. */
static double
torque_by_friction_axis (double crank, double throw, double rod, double weight, double mu, double big, double small)
{
  double ph = throw * sin (crank), pz = throw * cos (crank), lean = asin (-ph / rod), most = 0;
  for (int k = 0; k < 4; k++)
    {
      double at_pin = mu * big * (k & 1 ? 1 : -1), at_top = mu * small * (k & 2 ? 1 : -1);
      double turn = asin ((at_top - at_pin) / rod), angle = lean + turn; /* of the axis from upright */
      double eh = sin (angle), ez = cos (angle);
      double force = weight / (ez - mu * fabs (eh)); /* slide: friction mu N, downward on what rises */
      double touch_h = ph + at_pin * ez, touch_z = pz - at_pin * eh;
      most = fmax (most, fabs (touch_z * eh - touch_h * ez) * force + mu * big * force);
    }
  return most / 1000;
}

static void
test_friction_axis (void)
{
  const double mu = 0.15, weight = 2.5 * FW_GRAVITY;
  FwDesign *d = lift (40, 130, 0, 2500, mu);
  Bench b = bench_new (d);
  for (double t = 200; t < 341; t += 20) /* while it rises */
    {
      double expected = torque_by_friction_axis (t * RAD, 40, 130, weight, mu, 6, 4);
      assert_near (bench_at (&b, t, 0)->torque, expected, 1e-9 * expected);
    }
  bench_free (&b);
}

/* Journal: torque mu W r (any text, from memory). Throw of radius 0: the crank turns in its bearings
 * under the weight, and its pin in the standing rod, which it pushes aside by mu r: so the force leans a
 * little. */
static void
test_journal (void)
{
  Bench b = bench_new (lift (0, 200, 0, 1000, 0.2));
  double force = 1.0 * FW_GRAVITY / cos (asin (0.2 * 6 / 200)), expected = 2 * 0.2 * force * 0.006;
  for (double t = 0; t < 360; t += 45)
    {
      assert_near (bench_at (&b, t, 3)->torque, expected, 1e-12);
      assert_near (bench_at (&b, t, -3)->torque, -expected, 1e-12);
    }
  bench_free (&b);
}

/* A slide jams where the lean of the rod reaches the complement of the friction angle, mu tan lean =
 * 1 (any text, from memory). Pins are made as thin as hairs. */
static FwDesign *
leaning_slide (double lean_deg, double friction)
{
  FwDesign *d = lift (0, 200, 200 * sin (lean_deg * RAD), 1000, friction);
  d->crank.throws[0].radius_mm = 1;
  d->crank.diameter_mm = 1e-6;
  d->drive.pin_radius_mm = 1e-6;
  return d;
}

static void
test_slide_locks (void)
{
  Bench b = bench_new (leaning_slide (50, 1 / tan (51 * RAD)));
  const FwLoads *l = bench_at (&b, 0, 1); /* at 0 it leans by 50 degrees to a thousandth */
  g_assert_true (l->known);
  g_assert_cmpfloat (l->grip, <, 1);
  assert_near (l->grip, tan (50 * RAD) / tan (51 * RAD), 0.02);
  bench_free (&b);

  b = bench_new (leaning_slide (50, 1 / tan (48 * RAD)));
  l = bench_at (&b, 90, 1);
  g_assert_false (l->known);
  g_assert_cmpfloat (l->grip, >=, 1);
  g_assert_cmpint (l->grip_at, ==, -1);
  g_assert_true (isnan (l->torque));
  bench_free (&b);
}

static void
test_locking_is_told (void)
{
  Rig rig = rig_new (leaning_slide (50, 1 / tan (48 * RAD)));
  FwLoadTurn *turn = fw_load_turn_new (rig.mechanism, 72);
  FwTrouble room[8];
  FwTroubleList list = { .items = room, .capacity = 8 };
  fw_load_turn_solve (turn, rig.mechanism, 3);
  fw_load_trouble_find (turn, rig.mechanism, &list);
  g_assert_cmpint (list.n, ==, 1);
  g_assert_cmpint (room[0].kind, ==, FW_SELF_LOCKS);
  g_assert_cmpint (room[0].severity, ==, FW_FAILURE);
  g_assert_cmpint (room[0].part.kind, ==, FW_PART_BODY);
  assert_near (room[0].value, tan (50.4 * RAD) / tan (48 * RAD), 0.03); /* the throw leans it a little more */
  g_assert_cmpstr (fw_trouble_name (FW_SELF_LOCKS), ==, "self-locks");
  free (turn);
  rig_free (&rig);
}

/* An even push of the mean loss, followed in small steps of the angle from the least speed on. */
static void
test_ripple (void)
{
  FwDesign *d = lift (40, 130, 0, 2500, 0.2);
  Bench b = bench_new (d);
  FwLoadTurn *turn = fw_load_turn_new (b.rig.mechanism, 1440);
  fw_load_turn_solve (turn, b.rig.mechanism, 6);
  FwRipple ripple;
  double hand = 0.2, mean = 0;
  g_assert_true (fw_ripple (turn, b.rig.mechanism, hand, &ripple));
  for (int i = 0; i < 1440; i++)
    mean += turn->loss[i] / 1440;
  g_assert_cmpfloat (mean, >, 0.01);
  double low = INFINITY, high = 0, time = 0, h = 0.05 * RAD, half = 0; /* half J omega^2 */
  for (int pass = 0; pass < 2; pass++) /* first from 0 with half = 0: how deep it sinks below its start */
    {
      double sunk = 0, start = pass == 0 ? 0 : half;
      for (int i = 0; i < 7200; i++)
        {
          const FwLoads *l = bench_at (&b, (i + 0.5) * 0.05, 6);
          double inertia = 2 * l->kinetic / 36 + hand, v = b.rig.pose->body.motion.velocity.z / 1000;
          start += (mean - l->loss - 2.5 * FW_GRAVITY * v) * h;
          sunk = fmin (sunk, start);
          double speed = sqrt (2 * fmax (start, 0) / inertia);
          low = pass == 0 ? low : fmin (low, speed);
          high = fmax (high, speed);
          time += pass == 0 ? 0 : h / speed;
        }
      bench_at (&b, 0, 6);
      /* Second time round from the speed that the ripple says it has where it is slowest. */
      half = 0.5 * (2 * b.loads->kinetic / 36 + hand) * ripple.low * ripple.low - sunk;
    }
  assert_near (time, 2 * G_PI / 6, 0.02 * time);
  assert_near (low, ripple.low, 0.02 * ripple.low);
  assert_near (high, ripple.high, 0.02 * ripple.high);
  free (turn);
  bench_free (&b);
}

/* ---- Random designs ---- */

static FwDesign *
rubbing_design (GRand *rand)
{
  FwDesign *d = random_design (rand, RANDOM_ANY);
  d->body.mass_g = g_rand_double_range (rand, 100, 2000);
  d->body.gyration_mm = g_rand_double_range (rand, 20, 200);
  d->body.centre_mm = (FwVec3){ 0, g_rand_double_range (rand, -50, 50), g_rand_double_range (rand, -50, 90) };
  for (int i = 0; i < d->n_panels; i++)
    build_mass (d, i, g_rand_double_range (rand, 20, 300), d->panels[i].span_mm / 2, g_rand_double_range (rand, -30, 30), 5);
  for (int i = 0; i < d->n_rods; i++)
    d->rods[i].mass_g = g_rand_double_range (rand, 0, 40);
  d->drive.friction = g_rand_double_range (rand, 0.02, 0.3);
  d->drive.pin_radius_mm = g_rand_double_range (rand, 1, 5);
  d->crank.diameter_mm = g_rand_double_range (rand, 4, 16);
  return d;
}

static gboolean
turns_freely (Bench *b)
{
  for (int i = 0; i < 72; i++)
    {
      bench_at (b, i * 5, 1);
      if (!b->loads->known || !(b->loads->loss > 0)) /* some are drawn in which nothing moves */
        return FALSE;
      for (int k = 0; k < b->rig.mechanism->n_members; k++)
        if (b->rig.pose->members[k].squareness < 0.2)
          return FALSE;
    }
  return TRUE;
}

static void
on_random_designs (int wanted, void (*examine) (Bench *bench, GRand *rand))
{
  GRand *rand = g_rand_new_with_seed (4711);
  int seen = 0;
  for (int i = 0; i < 4000 && seen < wanted; i++)
    {
      Bench b = bench_new (rubbing_design (rand));
      if (turns_freely (&b))
        {
          examine (&b, rand);
          seen++;
        }
      bench_free (&b);
    }
  g_assert_cmpint (seen, ==, wanted);
  g_rand_free (rand);
}

static void
torque_twice (Bench *b, GRand *rand)
{
  double speed = g_rand_double_range (rand, -8, 8), peak = 0, apart = 0;
  for (int i = 0; i < 90; i++)
    {
      const FwLoads *l = bench_at (b, i * 4, speed);
      g_assert_true (l->known);
      g_assert_cmpfloat (l->loss * speed, >, 0);
      peak = fmax (peak, fabs (l->torque));
      apart = fmax (apart, fabs (l->torque - l->torque_energy));
    }
  g_assert_cmpfloat (apart, <=, 1e-9 * peak);
}

static void
test_torque_twice (void)
{
  on_random_designs (150, torque_twice);
}

static void
sums_to_work (Bench *b, GRand *rand)
{
  double speed = g_rand_double_range (rand, 0.5, 8), sum = 0, lost = 0, size = 0;
  const int steps = 1440;
  for (int i = 0; i < steps; i++)
    {
      const FwLoads *l = bench_at (b, 360.0 * i / steps, speed);
      sum += l->torque;
      lost += l->loss;
      size += fabs (l->torque - l->loss);
    }
  g_assert_cmpfloat (lost, >, 0);
  g_assert_cmpfloat (fabs (sum - lost), <=, 1e-6 * (size + lost));
}

static void
test_sums_to_work (void)
{
  on_random_designs (40, sums_to_work);
}

/* What a hinge with a rod gives about its line is friction and nothing else: mu r R against the turn. */
static void
hinge_gives_friction (Bench *b, GRand *rand)
{
  const FwMechanism *m = b->rig.mechanism;
  const FwDrive *drive = &m->design->drive;
  for (int i = 0; i < 20; i++)
    {
      const FwLoads *l = bench_at (b, g_rand_double_range (rand, 0, 360), 2);
      for (int k = 0; k < m->n_members; k++)
        {
          const FwMemberPose *p = &b->rig.pose->members[k];
          if (m->members[k].rod < 0)
            continue;
          double force = fw_vec3_length (l->hinges[k].force), sign = p->rate > 1e-9 ? 1 : p->rate < -1e-9 ? -1 : 0;
          assert_near (fw_vec3_dot (l->hinges[k].moment, p->axis), -sign * drive->friction * drive->pin_radius_mm / 1000 * force,
                       1e-11 * (force + fabs (l->tension[m->members[k].rod]) + 1));
        }
    }
}

static void
test_hinge_gives_friction (void)
{
  on_random_designs (80, hinge_gives_friction);
}

static void
little_friction (Bench *b, GRand *rand)
{
  FwDesign *d = fw_design_copy (b->rig.design);
  d->drive.friction = 1e-9;
  Bench rough = bench_new (d);
  d = fw_design_copy (d);
  d->drive.friction = 0;
  Bench smooth = bench_new (d);
  double speed = g_rand_double_range (rand, 0.5, 8), peak = 0, loss = 0, apart = 0;
  for (int i = 0; i < 36; i++)
    {
      bench_at (&rough, i * 10, speed);
      bench_at (&smooth, i * 10, speed);
      peak = fmax (peak, fabs (smooth.loads->torque));
      loss = fmax (loss, rough.loads->loss);
      apart = fmax (apart, fabs (rough.loads->torque - smooth.loads->torque));
      g_assert_cmpfloat (smooth.loads->loss, ==, 0);
      g_assert_cmpfloat (smooth.loads->grip, ==, 0);
    }
  g_assert_cmpfloat (apart, <=, 1.01 * loss + 1e-12 * peak); /* the loss is all that friction adds */
  g_assert_cmpfloat (loss, <, 1e-6 * (peak + 1));
  bench_free (&rough);
  bench_free (&smooth);
}

static void
test_little_friction (void)
{
  on_random_designs (40, little_friction);
}

/* Upright rail: the turn backwards from 0 is the mirror image of the turn forwards. */
static void
test_backwards (void)
{
  Bench b = bench_new (lift (40, 130, 0, 2500, 0.2));
  for (double t = 3; t < 360; t += 10)
    {
      double forward = bench_at (&b, t, 2)->torque, lost = b.loads->loss;
      assert_near (bench_at (&b, -t, -2)->torque, -forward, 1e-12);
      assert_near (b.loads->loss, -lost, 1e-12);
      g_assert_cmpfloat (lost, >, 0);
    }
  bench_free (&b);
}

/* A panel held to a standing body by a rod does not turn: no friction, exactly. */
static FwDesign *
standing_panel (double friction)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_fixed (d, 0, 0, 300, 0);
  int panel = build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 200);
  build_mass (d, panel, 150, 100, 0, 5);
  build_rod (d, "stay", FW_SIDE_RIGHT, (FwAnchor){ .kind = FW_FROM_BODY, .at_mm = { 20, 0, 120 } }, panel,
             fw_vec3 (120, 0, 0), 190, 0);
  d->drive.friction = friction;
  d->drive.pin_radius_mm = 3;
  return d;
}

static void
test_standing (void)
{
  Bench smooth = bench_new (standing_panel (0)), rough = bench_new (standing_panel (0.4));
  for (double t = 0; t < 360; t += 30)
    {
      double tension = bench_at (&smooth, t, 2)->tension[0];
      g_assert_cmpfloat (tension, >, 1);
      assert_near (bench_at (&rough, t, 2)->tension[0], tension, 1e-12);
      assert_near (rough.loads->loss, 0, 0);
    }
  bench_free (&smooth);
  bench_free (&rough);
}

static FwDesign *
pinned (int what, double friction, double pin_radius)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "pin", 20, 0, 0);
  if (what == 0)
    {
      build_fixed (d, 0, 0, 100, 0);
      int panel = build_panel (d, "wing", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, 0, 0), 200);
      d->panels[panel].reach = FW_REACH_FORWARD;
      build_mass (d, panel, 100, 80, 0, 0);
      build_rod (d, "rod", FW_SIDE_MIDDLE, from_throw (0), panel, fw_vec3 (60, 0, 0), 100, 0);
    }
  else if (what == 1)
    build_rail (d, 0, 100, 0);
  else
    build_rocker (d, 0, 300, 100, 200, 100, 200);
  d->body.mass_g = 500;
  d->drive.friction = friction;
  d->drive.pin_radius_mm = pin_radius;
  return d;
}

/* Where coefficient times pin radius reaches the rod's length, its friction circles fill it and no line of force is
 * left: it locks, whatever the load, and the joint is named. For a panel's rod, the rail's rod and the rocker's link. */
static void
test_circles_fill_the_rod (void)
{
  for (int what = 0; what < 3; what++)
    {
      Bench b = bench_new (pinned (what, 0.2, 4));
      g_assert_true (bench_at (&b, 60, 3)->known);
      bench_free (&b);
      b = bench_new (pinned (what, 0.9, 150));
      const FwLoads *l = bench_at (&b, 60, 3);
      g_assert_false (l->known);
      g_assert_true (isnan (l->torque) && !(l->grip < 1));
      g_assert_cmpint (l->grip_at, ==, what == 0 ? 0 : -1);
      bench_free (&b);
    }
}

/* A force on a shaft goes to the bearings beside it by the law of the lever (any text of statics); beyond the last
 * one it is levered up; one bearing takes all. */
static void
test_bearing_shares (void)
{
  static const struct
  {
    int n;
    double stations[3], at, shares[3];
  } table[] = { { 1, { 40 }, -20, { 1 } },
                { 2, { -100, 100 }, 0, { 0.5, 0.5 } },
                { 2, { -100, 100 }, 50, { 0.25, 0.75 } },
                { 2, { -100, 100 }, 200, { -0.5, 1.5 } },
                { 2, { 30, 30 }, 30, { 0.5, 0.5 } },
                { 3, { -100, 0, 100 }, -25, { 0.25, 0.75, 0 } },
                { 3, { -100, 0, 100 }, 25, { 0, 0.75, 0.25 } },
                { 3, { -100, 0, 100 }, 150, { 0, -0.5, 1.5 } } };
  for (size_t i = 0; i < G_N_ELEMENTS (table); i++)
    {
      FwDesign *d = lift (30, 120, 0, 500, 0);
      d->base.bearings_mm = calloc ((size_t)table[i].n, sizeof (double));
      memcpy (d->base.bearings_mm, table[i].stations, (size_t)table[i].n * sizeof (double));
      d->base.n_bearings = table[i].n;
      Bench b = bench_new (d);
      g_assert_cmpint (b.loads->n_bearings, ==, table[i].n);
      for (int k = 0; k < table[i].n; k++)
        b.loads->bearings[k] = fw_vec3 (0, 0, 0);
      fw_bearing_share (b.loads, table[i].at, fw_vec3 (0, 3, -8));
      for (int k = 0; k < table[i].n; k++)
        {
          assert_near (b.loads->bearings[k].z, -8 * table[i].shares[k], 1e-12);
          assert_near (b.loads->bearings[k].y, 3 * table[i].shares[k], 1e-12);
        }
      bench_free (&b);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/friction/a rod's force touches the friction circles of both its pins", test_friction_axis);
  g_test_add_func ("/friction/a journal takes coefficient times load times radius, whichever way it turns", test_journal);
  g_test_add_func ("/friction/a slide locks where the rod leans beyond the friction angle", test_slide_locks);
  g_test_add_func ("/friction/a joint that locks itself is told as a failure", test_locking_is_told);
  g_test_add_func ("/friction/a hand that pushes evenly against friction ripples as step by step", test_ripple);
  g_test_add_func ("/friction/crank torque from forces and from power with friction agree to 1e-9 of its peak", test_torque_twice);
  g_test_add_func ("/friction/crank torque over a turn is the work of friction", test_sums_to_work);
  g_test_add_func ("/friction/about its line a driven hinge gives friction and nothing else", test_hinge_gives_friction);
  g_test_add_func ("/friction/with next to no friction the forces are those without, and without it nothing is lost", test_little_friction);
  g_test_add_func ("/friction/turned backwards everything is mirrored", test_backwards);
  g_test_add_func ("/friction/what stands still has no friction", test_standing);
  g_test_add_func ("/friction/friction circles as large as the rod lock it", test_circles_fill_the_rod);
  g_test_add_func ("/friction/bearings share a force by the law of the lever", test_bearing_shares);
  return g_test_run ();
}
