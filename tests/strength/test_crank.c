/* The crankshaft against cases worked by hand, balance, and the frame solved directly. */
#include <glib.h>
#include <math.h>

#include "build_design.h"
#include "near.h"
#include "strength/beams.h"
#include "strength/crank.h"

#define YOUNG 110e9
#define SHEAR 41e9

typedef struct
{
  FwDesign *design;
  FwMechanism *mech;
  FwCrankFlex *flex;
} Bench;

static Bench
bench_new (FwDesign *design)
{
  Bench b = { .design = design };
  if (design->crank.stuff.young_GPa == 0)
    design->crank.stuff = (FwStuff){ .young_GPa = YOUNG / 1e9, .shear_GPa = SHEAR / 1e9 };
  g_assert_cmpint (fw_mechanism_build (design, &b.mech, NULL), ==, FW_OK);
  b.flex = fw_crank_flex_new (b.mech);
  g_assert_nonnull (b.flex);
  return b;
}

static void
bench_free (Bench *b)
{
  fw_crank_flex_free (b->flex);
  fw_mechanism_free (b->mech);
  fw_design_free (b->design);
}

static void
stand_on (FwDesign *d, const double *stations, int n)
{
  free (d->base.bearings_mm);
  d->base.bearings_mm = malloc (sizeof (double) * (gsize)n);
  for (int i = 0; i < n; i++)
    d->base.bearings_mm[i] = stations[i];
  d->base.n_bearings = n;
}

/* One throw between two bearings: journals of a = 80 mm, webs of r = 30 mm, a pin of 2 w = 40 mm;
 * the crank goes e = 25 mm beyond its bearings and is held in turning there, on the left. */
#define A 0.080
#define R 0.030
#define W 0.020
#define E 0.025

static Bench
one_throw (FwRuns runs, double phase)
{
  FwDesign *d = build_design (runs);
  build_throw (d, "only", R * 1000, phase, 0);
  d->crank.throws[0].width_mm = 2 * W * 1000;
  d->crank.diameter_mm = 10;
  d->crank.wall_mm = 1;
  stand_on (d, (const double[]){ -100, 100 }, 2);
  return bench_new (d);
}

static FwVec3
in_space (FwRuns runs, double h, double z)
{
  return runs == FW_RUNS_ACROSS ? fw_vec3 (0, h, z) : fw_vec3 (h, 0, z);
}

/* Along the throw the shaft bends as a beam whose middle lies aside: by virtual work
 * F (a^3 + (a+w)^3 - a^3) / 6EI + F a^2 r / 2EI + F r / 2EA. */
static void
pushed_along_its_throw (void)
{
  for (int runs = 0; runs < 2; runs++)
    {
      Bench b = one_throw ((FwRuns)runs, 0);
      FwBarSection s = fw_section_round (0.010, 0.001);
      double force = 40, ei = YOUNG * s.second_y;
      FwVec3 gives = fw_vec3 (0, 0, force);
      fw_crank_flex_load (b.flex, &gives, 1, 0, 0);
      double sag
          = force * (pow (A + W, 3) / 6 + A * A * R / 2) / ei + force * R / 2 / (YOUNG * s.area);
      assert_near (fw_crank_flex_moved (b.flex, 0).z, -sag, 1e-10);
      assert_near (fw_crank_flex_sag (b.flex, 0), sag, 1e-10);
      assert_near (fw_crank_flex_wind_up (b.flex, 0), 0, 1e-12);
      for (int i = 0; i < 2; i++)
        {
          double h, z;
          fw_crank_flex_reaction (b.flex, i, &h, &z);
          assert_near (h, 0, 1e-7);
          assert_near (z, force / 2, 1e-7);
        }
      bench_free (&b);
    }
}

/* Square to its throw it bends and twists; everything turned by a random crank angle and phase.
 * Virtual work: fall back F [((a+w)^3/6 + 2 r^3/3) / EI + (a^2 r/2 + r^2 w/2 + r^2 (a+e)) / GJ],
 * wind-up F [3 r^2/4 / EI + (r w/2 + r (a+e)) / GJ]. */
static void
pushed_square_to_its_throw (void)
{
  for (int runs = 0; runs < 2; runs++)
    {
      double phase = 50 * RAD, crank = 1.1, force = 25;
      Bench b = one_throw ((FwRuns)runs, 50);
      FwBarSection s = fw_section_round (0.010, 0.001);
      double ei = YOUNG * s.second_y, gj = SHEAR * s.twist;
      /* the load pushes the pin backwards, so the crank gives a force forwards */
      FwVec3 gives
          = in_space ((FwRuns)runs, force * cos (crank + phase), -force * sin (crank + phase));
      fw_crank_flex_load (b.flex, &gives, cos (crank), sin (crank), 0);
      double back = force
                    * ((pow (A + W, 3) / 6 + 2 * R * R * R / 3) / ei
                       + (A * A * R / 2 + R * R * W / 2 + R * R * (A + E)) / gj);
      double wind_up = force * (0.75 * R * R / ei + (R * W / 2 + R * (A + E)) / gj);
      assert_near (fw_crank_flex_lag (b.flex, 0), back / R, 1e-9);
      assert_near (fw_crank_flex_sag (b.flex, 0), back, 1e-10);
      assert_near (fw_crank_flex_wind_up (b.flex, 0), wind_up, 1e-9);
      assert_near (fw_crank_flex_give (b.flex, 0), back / force, 1e-12);
      double h, z;
      assert_near (fw_crank_flex_reaction (b.flex, 0, &h, &z), force / 2, 1e-7);
      /* worst at the pin's middle: bending F (a+w)/2, torsion F r/2 */
      double worst = fw_stress_mises (force * (A + W) / 2 / fw_section_modulus_y (&s),
                                      force * R / 2 * s.edge_twist / s.twist);
      assert_near (fw_crank_flex_stress (b.flex, NULL) / worst, 1, 1e-9);
      bench_free (&b);
    }
}

/* A throw without radius is a plain shaft: F L^3 / 48 EI. */
static void
a_throw_without_radius_is_a_shaft (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "straight", 0, 0, 0);
  d->crank.diameter_mm = 6;
  stand_on (d, (const double[]){ -150, 150 }, 2);
  Bench b = bench_new (d);
  FwBarSection s = fw_section_round (0.006, 0);
  FwVec3 gives = { 0, 3, 4 };
  fw_crank_flex_load (b.flex, &gives, 1, 0, 0);
  assert_near (fw_crank_flex_sag (b.flex, 0), fw_supported_force (5, 0.3, YOUNG * s.second_y).sag,
               1e-10);
  bench_free (&b);
}

/* The bearings carry the weight, whatever the crank angle, and the pull of what whirls. */
static void
own_weight_and_whirling_are_carried (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_twin_throw (d, "pair", 25, 30, 90);
  build_throw (d, "middle", 40, 200, 0);
  d->crank.stuff = (FwStuff){ .density_kgm3 = 8940, .young_GPa = 117, .shear_GPa = 44 };
  stand_on (d, (const double[]){ -140, -45, 45, 140 }, 4);
  Bench b = bench_new (d);
  const FwSpaceFrame *f = b.flex->frame;
  double mass = 0;
  FwVec3 pull = { 0, 0, 0 };
  for (int i = 0; i < f->n_bars; i++)
    {
      double m = 8940 * f->bars[i].section.area * f->bars[i].length;
      FwVec3 middle = fw_vec3_scale (fw_vec3_add (f->nodes[i].at, f->nodes[i + 1].at), 0.5);
      mass += m;
      pull = fw_vec3_along (pull, m, fw_vec3 (0, middle.y, middle.z));
    }
  const FwVec3 none[3] = { { 0, 0, 0 } };
  const double speeds[] = { 0, 30 };
  for (int k = 0; k < 2; k++)
    for (double crank = 0; crank < 6; crank += 0.7)
      {
        fw_crank_flex_load (b.flex, none, cos (crank), sin (crank), speeds[k]);
        double sum_h = 0, sum_z = 0;
        for (int i = 0; i < b.flex->n_bearings; i++)
          {
            double h, z;
            fw_crank_flex_reaction (b.flex, i, &h, &z);
            sum_h += h;
            sum_z += z;
          }
        FwVec3 world = fw_crank_turn (FW_RUNS_ACROSS, fw_vec3_scale (pull, speeds[k] * speeds[k]),
                                      cos (crank), sin (crank));
        FwVec3 held
            = fw_crank_turn (FW_RUNS_ACROSS, fw_vec3 (0, sum_h, sum_z), cos (crank), sin (crank));
        assert_near (held.y, -world.y, 1e-6);
        assert_near (held.z, mass * 9.80665 - world.z, 1e-6);
      }
  bench_free (&b);
}

/* A weight hung from the middle of a straight shaft, by the tables for a beam on two supports: at
 * rest F l^3 / 48EI down; turning, its force goes round with it and its weight does not. Its own
 * arm winds the shaft up: T a / GJ from the handle's end. */
static void
counterweight_bends_the_shaft (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "only", 0, 0, 0);
  d->crank.diameter_mm = 10;
  d->crank.wall_mm = 0;
  stand_on (d, (const double[]){ -150, 150 }, 2);
  build_weight (d, 800, 60, 90, 0);
  Bench b = bench_new (d);
  const FwBarSection *s = &b.flex->frame->bars[0].section;
  const FwVec3 none = { 0, 0, 0 };
  double kg = 0.8, r = 0.06, g = 9.80665, l = 0.3, give = l * l * l / (48 * YOUNG * s->second_y);
  double from_handle = -b.flex->frame->nodes[0].at.x;
  for (double speed = 0; speed < 30; speed += 12)
    for (double crank = 0; crank < 6; crank += 0.7)
      {
        fw_crank_flex_load (b.flex, &none, cos (crank), sin (crank), speed);
        FwVec3 moved = fw_crank_turn (FW_RUNS_ACROSS, fw_crank_flex_moved (b.flex, 0), cos (crank), sin (crank));
        double whirl = kg * speed * speed * r, angle = crank + 1.57079632679489662;
        assert_near (moved.y, give * whirl * sin (angle), 1e-12);
        assert_near (moved.z, give * (whirl * cos (angle) - kg * g), 1e-12);
        /* ahead of the top it falls forward, past the bottom it holds back */
        double torque = kg * g * r * sin (angle);
        assert_near (fw_crank_flex_wind_up (b.flex, 0), -torque * from_handle / (SHEAR * s->twist), 1e-10);
        double sum_z = 0, sum_h = 0, h, z;
        for (int i = 0; i < b.flex->n_bearings; i++)
          {
            fw_crank_flex_reaction (b.flex, i, &h, &z);
            sum_h += h;
            sum_z += z;
          }
        FwVec3 held = fw_crank_turn (FW_RUNS_ACROSS, fw_vec3 (0, sum_h, sum_z), cos (crank), sin (crank));
        assert_near (held.z, kg * g - whirl * cos (angle), 1e-7);
        assert_near (held.y, -whirl * sin (angle), 1e-7);
      }
  /* Along its circle the weight swings on the bent and the twisted shaft: k = F / (give + r^2 a/GJ). */
  double soft = give + r * r * from_handle / (SHEAR * s->twist);
  assert_near (b.flex->weights_slowness / (kg * soft), 1, 1e-9);
  bench_free (&b);
}

/* The sum of unit answers against the frame solved with all loads on it. */
static void
unit_answers_add_up (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_twin_throw (d, "pair", 25, 30, 90);
  build_throw (d, "middle", 40, 200, 0);
  stand_on (d, (const double[]){ -140, -45, 45, 140 }, 4);
  Bench b = bench_new (d);
  const FwVec3 gives[3] = { { 1, 2, 3 }, { -4, 5, 1 }, { 2, -7, 3 } };
  double crank = 2.3;
  fw_crank_flex_load (b.flex, gives, cos (crank), sin (crank), 0);
  const FwSpaceFrame *f = b.flex->frame;
  double *u = g_new0 (double, 6 * f->n_nodes);
  for (int i = 0; i < 3; i++)
    {
      FwVec3 load
          = fw_crank_turn (FW_RUNS_ACROSS, fw_vec3_scale (gives[i], -1), cos (crank), -sin (crank));
      double *node = u + 6 * b.flex->pin_nodes[i];
      node[0] = load.x;
      node[1] = load.y;
      node[2] = load.z;
    }
  fw_space_frame_solve (f, u);
  for (int i = 0; i < 3; i++)
    {
      const double *node = u + 6 * b.flex->pin_nodes[i];
      assert_near (
          fw_vec3_distance (fw_crank_flex_moved (b.flex, i), fw_vec3 (node[0], node[1], node[2])),
          0, 1e-12);
      assert_near (fw_crank_flex_wind_up (b.flex, i), node[3],
                   1e-12); /* forward is a turn about -x */
    }
  g_free (u);
  bench_free (&b);
}

/* A third bearing beside the throw makes it stiffer, and a thicker bar by d^4 (pushed along the throw:
 * the end towards the handle, which grows with the pipe, is not wound up). */
static void
stiffer_in_every_way_that_it_should_be (void)
{
  FwVec3 gives = { 0, 0, 10 };
  double sag[3];
  for (int k = 0; k < 3; k++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_throw (d, "only", 30, 0, 0);
      d->crank.diameter_mm = k == 2 ? 16 : 8;
      if (k == 1)
        stand_on (d, (const double[]){ -140, -30, 30, 140 }, 4);
      else
        stand_on (d, (const double[]){ -140, 140 }, 2);
      Bench b = bench_new (d);
      fw_crank_flex_load (b.flex, &gives, 1, 0, 0);
      sag[k] = fw_crank_flex_sag (b.flex, 0);
      bench_free (&b);
    }
  g_assert_cmpfloat (sag[1], <, sag[0] / 4);
  assert_near (sag[2], sag[0] / 16, sag[0] * 1e-3);
}

static void
what_cannot_be_judged_says_so (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "only", 30, 0, 0);
  FwMechanism *mech;
  g_assert_cmpint (fw_mechanism_build (d, &mech, NULL), ==, FW_OK);
  FwCrankFlex *flex = fw_crank_flex_new (mech);
  g_assert_cmpint (flex->status, ==, FW_FRAME_BAD);
  g_assert_false (fw_crank_flex_known (d));
  fw_crank_flex_free (flex);
  fw_mechanism_free (mech);

  stand_on (d, (const double[]){ 80 }, 1);
  Bench b = bench_new (d);
  g_assert_cmpint (b.flex->status, ==, FW_FRAME_LOOSE);
  bench_free (&b);
}

static void
an_open_pose_gives_no_number (void)
{
  Bench b = one_throw (FW_RUNS_ACROSS, 0);
  FwVec3 gives = { NAN, NAN, NAN };
  fw_crank_flex_load (b.flex, &gives, 1, 0, 0);
  g_assert_true (isnan (fw_crank_flex_sag (b.flex, 0)));
  g_assert_true (isnan (fw_crank_flex_stress (b.flex, NULL)));
  bench_free (&b);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/crank/pushed along its throw", pushed_along_its_throw);
  g_test_add_func ("/crank/pushed square to its throw", pushed_square_to_its_throw);
  g_test_add_func ("/crank/a throw without radius is a shaft", a_throw_without_radius_is_a_shaft);
  g_test_add_func ("/crank/bearings carry weight and whirling",
                   own_weight_and_whirling_are_carried);
  g_test_add_func ("/crank/a counterweight bends and winds up the shaft", counterweight_bends_the_shaft);
  g_test_add_func ("/crank/unit answers add up", unit_answers_add_up);
  g_test_add_func ("/crank/more bearings and more metal make it stiffer",
                   stiffer_in_every_way_that_it_should_be);
  g_test_add_func ("/crank/what cannot be judged says so", what_cannot_be_judged_says_so);
  g_test_add_func ("/crank/an open pose gives no number", an_open_pose_gives_no_number);
  return g_test_run ();
}
