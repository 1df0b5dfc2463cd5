/* Springs, cords and counterweights of the crank in the forces. */
#include "build_design.h"
#include "core/people.h"
#include "core/springs.h"
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

/* A body of 1 kg on a rail above the crank; the rod is so long that it stands upright. */
static FwDesign *
lift (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "pin", 30, 0, 0), 300, 0);
  d->body.mass_g = 1000;
  return d;
}

/* F = k (L - a): by hand at the upper dead centre, 330 mm above the axis. */
static void
test_by_hand (void)
{
  FwDesign *d = lift ();
  build_spring (d, FW_SIDE_MIDDLE, from_base (0, 0, 530), from_body (0, 0, 0), 0.1, 150, false);
  Bench b = bench_new (d);
  assert_near (bench_at (&b, 0, 0)->post_pin.z, FW_GRAVITY - 0.1 * 50, 1e-9);
  FwCoilPose c = fw_coil_pose (b.rig.mechanism, b.rig.pose, 0);
  assert_near (c.pull_N, 5, 1e-9);
  assert_near (c.length_mm, 200, 1e-9);
  assert_near (b.loads->stored, 0.1 * 50 * 50 / 2 / 1000, 1e-12);
  assert_near (bench_at (&b, 180, 0)->post_pin.z, FW_GRAVITY - 0.1 * 110, 1e-9);
  bench_free (&b);
}

static void
test_cord (void)
{
  FwDesign *d = lift ();
  build_spring (d, FW_SIDE_MIDDLE, from_base (0, 0, 530), from_body (0, 0, 0), 0.1, 230, true);
  Bench b = bench_new (d);
  assert_near (bench_at (&b, 0, 0)->post_pin.z, FW_GRAVITY, 1e-9); /* slack: 200 mm */
  assert_near (b.loads->stored, 0, 0);
  assert_near (bench_at (&b, 180, 0)->post_pin.z, FW_GRAVITY - 0.1 * 30, 1e-9);
  double least, most;
  g_assert_true (fw_coil_pulls (b.rig.mechanism, b.rig.pose, 0, 36, &least, &most));
  assert_near (least, 0, 0);
  assert_near (most, 3, 1e-9);
  bench_free (&b);
}

/* A spring from the hold point of a rod to the rod's own foot takes its pull from the rod and changes
 * nothing else: what fw_spring_for () builds on. */
static void
test_beside_a_rod (void)
{
  FwDesign *d = build_heron ();
  Bench plain = bench_new (fw_design_copy (d));
  build_spring (d, FW_SIDE_BOTH, d->rods[1].from, from_panel (d->rods[1].panel, 40, 0, -30), 0.5, 200, false);
  Bench sprung = bench_new (d);
  g_assert_cmpint (sprung.rig.mechanism->n_coils, ==, 2);
  g_assert_cmpstr (sprung.rig.mechanism->coils[1].name, ==, "spring 0.left");
  for (double t = 0; t < 360; t += 24)
    {
      bench_at (&plain, t, 4);
      bench_at (&sprung, t, 4);
      for (int k = 0; k < 4; k++)
        assert_near (sprung.loads->tension[k], plain.loads->tension[k] - (k < 2 ? 0 : 0.5 * 12), 1e-9);
      assert_near (sprung.loads->torque, plain.loads->torque, 1e-12);
    }
  bench_free (&plain);
  bench_free (&sprung);
}

static FwAnchor
random_end (const FwDesign *d, GRand *rand)
{
  FwVec3 at = fw_vec3 (g_rand_double_range (rand, -150, 150), g_rand_double_range (rand, -150, 150),
                       g_rand_double_range (rand, -150, 150));
  int driven = d->rods[g_rand_int_range (rand, 0, d->n_rods)].panel;
  bool whole = true; /* a panel driven on one side only would hang on the other */
  for (int i = 0; i < d->n_rods; i++)
    whole = whole && (d->rods[i].panel != driven || d->rods[i].side == d->panels[driven].side);
  switch (g_rand_int_range (rand, 0, 3))
    {
    case 0:
      return from_base (at.x, at.y, at.z + 400);
    case 1:
      return from_body (at.x, at.y, at.z);
    default:
      return whole && d->panels[driven].side != FW_SIDE_LEFT ? from_panel (driven, at.x, at.y, at.z)
                                                            : from_body (at.x, at.y, at.z);
    }
}

/* A random design with springs and counterweights. */
static FwDesign *
sprung_design (GRand *rand)
{
  FwDesign *d = random_design (rand, RANDOM_ANY);
  d->body.mass_g = g_rand_double_range (rand, 100, 2000);
  d->body.gyration_mm = g_rand_double_range (rand, 20, 200);
  for (int i = 0; i < d->n_panels; i++)
    build_mass (d, i, g_rand_double_range (rand, 20, 300), d->panels[i].span_mm / 2, 10, 5);
  for (int i = 0; i < 2 && d->n_rods > 0; i++)
    {
      FwAnchor from = random_end (d, rand), to = random_end (d, rand);
      build_spring (d, FW_SIDE_RIGHT, from, to, g_rand_double_range (rand, 0.01, 0.3), g_rand_double_range (rand, 0, 400),
                  g_rand_boolean (rand));
    }
  build_weight (d, g_rand_double_range (rand, 50, 500), g_rand_double_range (rand, 0, 80),
              g_rand_double_range (rand, 0, 360), 20);
  d->drive.friction = g_rand_boolean (rand) ? 0 : g_rand_double_range (rand, 0.02, 0.2);
  d->drive.pin_radius_mm = 3;
  return d;
}

static gboolean
goes_round (Bench *b)
{
  for (int i = 0; i < 72; i++)
    {
      bench_at (b, i * 5, 1);
      if (!b->loads->known)
        return FALSE;
      for (int k = 0; k < b->rig.mechanism->n_members; k++)
        if (b->rig.pose->members[k].squareness < 0.2)
          return FALSE;
    }
  return TRUE;
}

static void
torque_twice_and_slope (Bench *b, GRand *rand)
{
  double speed = g_rand_double_range (rand, 0.5, 8), peak = 0, apart = 0, sum = 0, lost = 0, size = 0;
  for (int i = 0; i < 1440; i++)
    {
      const FwLoads *l = bench_at (b, i * 0.25, speed);
      peak = fmax (peak, fabs (l->torque));
      apart = fmax (apart, fabs (l->torque - l->torque_energy));
      sum += l->torque;
      lost += l->loss;
      size += fabs (l->torque);
    }
  g_assert_cmpfloat (apart, <=, 1e-9 * peak);
  g_assert_cmpfloat (fabs (sum - lost), <=, 2e-5 * size); /* a cord that goes slack has a kink */
  for (int i = 0; i < 8; i++)
    {
      double t = g_rand_double_range (rand, 0, 360), h = 0.01, e[2];
      for (int k = 0; k < 2; k++)
        {
          const FwLoads *l = bench_at (b, t + (k ? h : -h), speed);
          e[k] = l->kinetic + l->potential;
        }
      const FwLoads *l = bench_at (b, t, speed);
      assert_near (l->torque - l->loss, (e[1] - e[0]) / (2 * h * RAD), 2e-4 * peak);
    }
}

static void
test_random (void)
{
  GRand *rand = g_rand_new_with_seed (66);
  int seen = 0;
  for (int i = 0; i < 4000 && seen < 60; i++)
    {
      FwDesign *d = sprung_design (rand);
      FwMechanism *mech = NULL;
      FwStatus status = fw_mechanism_build (d, &mech, NULL);
      fw_mechanism_free (mech);
      if (status != FW_OK) /* its panel hangs on this side, or is not there */
        {
          g_assert_true (status == FW_ON_HANGING || status == FW_BAD_REFERENCE);
          fw_design_free (d);
          continue;
        }
      Bench b = bench_new (d);
      if (goes_round (&b))
        {
          torque_twice_and_slope (&b, rand);
          seen++;
        }
      bench_free (&b);
    }
  g_assert_cmpint (seen, ==, 60);
  g_rand_free (rand);
}

static void
test_on_hanging (void)
{
  FwDesign *d = lift ();
  int panel = build_panel (d, "tail", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (20, 0, 0), 100);
  build_mass (d, panel, 50, 50, 0, 0);
  build_spring (d, FW_SIDE_RIGHT, from_body (0, 0, 90), from_panel (panel, 60, 0, 0), 0.1, 50, false);
  FwMechanism *mech = NULL;
  FwFault fault = { 0 };
  g_assert_cmpint (fw_mechanism_build (d, &mech, &fault), ==, FW_ON_HANGING);
  g_assert_null (mech);
  g_assert_cmpint (fault.kind, ==, 'e');
  g_assert_cmpint (fault.index, ==, 0);
  g_assert_cmpstr (fault.what, ==, "to");
  fw_design_free (d);
}

/* A spring in the middle meets no twin of a wing, whichever end it is. */
static void
test_no_such_end (void)
{
  for (int end = 0; end < 2; end++)
    {
      FwDesign *d = build_heron ();
      FwAnchor wing = from_panel (0, 60, 0, 0), body = from_body (0, 0, 90);
      build_spring (d, FW_SIDE_MIDDLE, end == 0 ? wing : body, end == 0 ? body : wing, 0.1, 50, false);
      FwMechanism *mech = NULL;
      FwFault fault = { 0 };
      g_assert_cmpint (fw_mechanism_build (d, &mech, &fault), ==, FW_BAD_REFERENCE);
      g_assert_null (mech);
      g_assert_cmpstr (fault.what, ==, end == 0 ? "from" : "to");
      fw_design_free (d);
    }
}

/* Springs on both sides of a neck, which lies in the middle, are mirror images of each other. */
static void
test_both_sides_of_a_neck (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "pin", 20, 0, 0);
  build_fixed (d, 0, 0, 300, 0);
  int neck = build_panel (d, "neck", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, 0, 0), 200);
  d->panels[neck].reach = FW_REACH_FORWARD;
  build_rod (d, "rod", FW_SIDE_MIDDLE, from_throw (0), neck, fw_vec3 (60, 0, 0), 300, 0);
  build_spring (d, FW_SIDE_BOTH, from_base (70, 40, 90), from_panel (neck, 120, 15, 5), 0.1, 50, false);
  Rig rig = rig_new (d);
  g_assert_cmpint (rig.mechanism->n_coils, ==, 2);
  for (int crank = 0; crank < 360; crank += 30)
    {
      rig_solve (&rig, crank);
      FwCoilPose right = fw_coil_pose (rig.mechanism, rig.pose, 0), left = fw_coil_pose (rig.mechanism, rig.pose, 1);
      assert_near (fabs (right.to.x), 15, 1e-12);
      assert_near (left.from.x, -right.from.x, 0);
      assert_near (left.to.x, -right.to.x, 1e-12);
      assert_near (left.to.y, right.to.y, 1e-12);
      assert_near (left.to.z, right.to.z, 1e-12);
      assert_near (left.length_mm, right.length_mm, 1e-12);
    }
  rig_free (&rig);
}

/* Where its ends meet a spring pulls nowhere in particular: forces are those without it. Of a turn that does not close
 * no pull is told. */
static void
test_ends_meet (void)
{
  FwDesign *d = lift ();
  build_spring (d, FW_SIDE_MIDDLE, from_base (0, 0, 330), from_body (0, 0, 0), 0.1, 10, false);
  Bench b = bench_new (d);
  assert_near (bench_at (&b, 0, 0)->post_pin.z, FW_GRAVITY, 1e-9);
  assert_near (fw_coil_pose (b.rig.mechanism, b.rig.pose, 0).length_mm, 0, 0);
  bench_free (&b);
  d = lift ();
  d->body.offset_mm = 300;
  build_spring (d, FW_SIDE_MIDDLE, from_base (0, 0, 530), from_body (0, 0, 0), 0.1, 10, false);
  b = bench_new (d);
  double least = 1, most = 2;
  g_assert_false (fw_coil_pulls (b.rig.mechanism, b.rig.pose, 0, 36, &least, &most));
  assert_near (least, 1, 0);
  assert_near (most, 2, 0);
  bench_free (&b);
}

/* Rotating mass: balanced by an equal moment opposite, the torque of both is nothing (any text). The
 * engine's rule, from memory: the crank's own unbalance m r is cancelled by m' r' opposite. */
static void
test_counterweight (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_fixed (d, 0, 0, 300, 0);
  build_throw (d, "pin", 30, 0, 0);
  build_weight (d, 200, 45, 20, 0);
  Bench one = bench_new (fw_design_copy (d));
  const FwLoads *l = bench_at (&one, 70, 5);
  assert_near (l->torque, -0.2 * FW_GRAVITY * 0.045, 1e-12); /* level, on its way down */
  assert_near (l->weights[0].y, -0.2 * 0.045 * 25, 1e-12);
  assert_near (l->weights[0].z, 0.2 * FW_GRAVITY, 1e-12);
  assert_near (l->kinetic, 0.2 * 0.045 * 0.045 * 25 / 2, 1e-12);
  FwLoadTurn *turn = fw_load_turn_new (one.rig.mechanism, 72);
  fw_load_turn_solve (turn, one.rig.mechanism, 5);
  assert_near (turn->mass_g, 200, 1e-9);
  assert_near (turn->push[14].y, -0.2 * 0.045 * 25, 1e-12); /* the 70 degrees */
  assert_near (turn->push[14].z, 0.2 * FW_GRAVITY, 1e-12);
  assert_near (turn->centre[14].y, 45, 1e-9);
  assert_near (turn->moment[14].x, 0.045 * 0.2 * FW_GRAVITY, 1e-12);
  free (turn);
  bench_free (&one);
  build_weight (d, 300, 30, 200, 0);
  Bench two = bench_new (d);
  for (double t = 0; t < 360; t += 30)
    assert_near (bench_at (&two, t, 5)->torque, 0, 1e-12);
  bench_free (&two);
}

/* A spring that holds a falling weight evens out the crank: energy in heights and springs together. */
static void
test_ripple (void)
{
  FwDesign *d = lift ();
  FwRipple plain, sprung;
  for (int k = 0; k < 2; k++)
    {
      FwDesign *copy = fw_design_copy (d);
      if (k == 1)
        build_spring (copy, FW_SIDE_MIDDLE, from_base (0, 0, 3300), from_body (0, 0, 0), FW_GRAVITY / 3000, 0, false);
      Rig rig = rig_new (copy);
      FwLoadTurn *turn = fw_load_turn_new (rig.mechanism, 360);
      fw_load_turn_solve (turn, rig.mechanism, 0.5);
      g_assert_true (fw_ripple (turn, rig.mechanism, 1, k == 0 ? &plain : &sprung));
      free (turn);
      rig_free (&rig);
    }
  g_assert_cmpfloat (plain.energy_J, >, 0.55);
  g_assert_cmpfloat (sprung.energy_J, <, 0.01); /* 30 mm of 3 m: one percent is left */
  fw_design_free (d);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/springs/a spring carries its share of a weight", test_by_hand);
  g_test_add_func ("/springs/a cord pulls only where it is stretched", test_cord);
  g_test_add_func ("/springs/a spring beside a rod takes its pull from the rod and changes nothing else", test_beside_a_rod);
  g_test_add_func ("/springs/torque from forces, from power and as the slope of energy agree", test_random);
  g_test_add_func ("/springs/no spring holds a panel that hangs", test_on_hanging);
  g_test_add_func ("/springs/counterweights of the crank pull it down, throw it out and cancel", test_counterweight);
  g_test_add_func ("/springs/a spring that bears a weight evens out the crank", test_ripple);
  g_test_add_func ("/springs/a spring in the middle meets no wing", test_no_such_end);
  g_test_add_func ("/springs/on both sides of a neck springs are mirror images", test_both_sides_of_a_neck);
  g_test_add_func ("/springs/where its ends meet a spring pulls nowhere, and of an open turn no pull is told", test_ends_meet);
  return g_test_run ();
}
