/* The frame in space against closed forms, equilibrium, a second solver and published frequencies.
 */
#include <glib.h>
#include <math.h>

#include "dense.h"
#include "near.h"
#include "strength/beams.h"
#include "strength/frame.h"
#include "strength/vibration.h"

#define STEEL_YOUNG 206e9
#define STEEL_SHEAR 80e9
#define STEEL_DENSITY 7850

/* A row of n equal bars from `start` to `end`. */
static FwSpaceFrame *
row_of_bars (FwVec3 start, FwVec3 end, int n, FwBarSection section, FwVec3 up)
{
  FwSpaceFrame *f = fw_space_frame_new (n + 1, n);
  for (int i = 0; i <= n; i++)
    f->nodes[i].at = fw_vec3_along (start, (double)i / n, fw_vec3_sub (end, start));
  for (int i = 0; i < n; i++)
    f->bars[i] = (FwFrameBar){ .from = i,
                               .to = i + 1,
                               .up = up,
                               .section = section,
                               .young = STEEL_YOUNG,
                               .shear = STEEL_SHEAR,
                               .density = STEEL_DENSITY };
  return f;
}

static void
put (double *loads, int node, int first, FwVec3 v)
{
  loads[6 * node + first] += v.x;
  loads[6 * node + first + 1] += v.y;
  loads[6 * node + first + 2] += v.z;
}

static FwVec3
at (const double *moves, int node, int first)
{
  return fw_vec3 (moves[6 * node + first], moves[6 * node + first + 1],
                  moves[6 * node + first + 2]);
}

/* A flat bar askew in space, clamped at one end: every way of loading its tip against the closed
 * form. */
static void
cantilever_askew_in_space (void)
{
  FwVec3 along = { 0.6, -0.48, 0.64 }, start = { 0.3, 0.2, -0.1 };
  FwBarSection s = fw_section_rectangle (0.03, 0.004);
  double l = 0.8;
  FwSpaceFrame *f = row_of_bars (start, fw_vec3_along (start, l, along), 5, s, fw_vec3 (0, 0, 1));
  f->nodes[0].held = FW_HOLD_ALL;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
  FwVec3 y = f->bars[0].axes[1], z = f->bars[0].axes[2];
  double u[36] = { 0 };
  put (u, 5, 0, fw_vec3_scale (along, 1000));
  put (u, 5, 0, fw_vec3_scale (y, 7));
  put (u, 5, 0, fw_vec3_scale (z, 3));
  put (u, 5, 3, fw_vec3_scale (along, 2));
  fw_space_frame_solve (f, u);
  FwVec3 moved = at (u, 5, 0), turned = at (u, 5, 3);
  FwBeamSag edge = fw_cantilever_force (7, l, STEEL_YOUNG * s.second_z);
  FwBeamSag flat = fw_cantilever_force (3, l, STEEL_YOUNG * s.second_y);
  assert_near (fw_vec3_dot (moved, along), 1000 * l / (STEEL_YOUNG * s.area), 1e-12);
  assert_near (fw_vec3_dot (moved, y), edge.sag, 1e-9);
  assert_near (fw_vec3_dot (moved, z), flat.sag, 1e-9);
  assert_near (fw_vec3_dot (turned, z), edge.slope, 1e-9);
  assert_near (fw_vec3_dot (turned, y), -flat.slope, 1e-9);
  assert_near (fw_vec3_dot (turned, along), fw_shaft_twist (2, l, STEEL_SHEAR * s.twist), 1e-9);
  fw_space_frame_free (f);
}

/* 3863, example 13.1 of FOSSEE/Scilab-TBC-Uploads: 10.714 mm. */
static void
cantilever_of_a_textbook (void)
{
  FwBarSection s = { .area = 0.02, .second_y = 1e-4, .second_z = 1e-4, .twist = 2e-4 };
  FwSpaceFrame *f = row_of_bars (fw_vec3 (0, 0, 0), fw_vec3 (3, 0, 0), 1, s, fw_vec3 (0, 0, 1));
  f->bars[0].young = 2.1e11;
  f->nodes[0].held = FW_HOLD_ALL;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
  double u[12] = { 0 };
  put (u, 1, 0, fw_vec3 (0, 0, -25000));
  fw_space_frame_solve (f, u);
  assert_near (u[8] * 1000, -10.714, 0.0005);
  fw_space_frame_free (f);
}

/* Uniform load on a supported beam: sag, slope, end moments none, reactions half each; clamped: w
 * l^2 / 12. */
static void
uniform_load (void)
{
  for (int clamped = 0; clamped < 2; clamped++)
    {
      FwBarSection s = fw_section_round (0.02, 0.001);
      double l = 2, w = 30, bending = STEEL_YOUNG * s.second_y;
      FwSpaceFrame *f = row_of_bars (fw_vec3 (0, 0, 0), fw_vec3 (0, l, 0), 4, s, fw_vec3 (0, 0, 1));
      f->nodes[0].held = clamped ? FW_HOLD_ALL : FW_HOLD_X | FW_HOLD_Y | FW_HOLD_Z | FW_HOLD_TURN_Y;
      f->nodes[4].held = clamped ? FW_HOLD_ALL : FW_HOLD_X | FW_HOLD_Z;
      g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
      double u[30] = { 0 }, loads[30], reactions[30], ends[12];
      for (int i = 0; i < 4; i++)
        fw_space_frame_add_uniform (f, i, fw_vec3 (0, 0, -w), u);
      for (int i = 0; i < 30; i++)
        loads[i] = u[i];
      fw_space_frame_solve (f, u);
      fw_space_frame_reactions (f, u, loads, reactions);
      fw_space_frame_ends (f, 0, u, fw_vec3 (0, 0, -w), ends);
      FwBeamSag sag = fw_supported_load (w, l, bending);
      assert_near (-u[6 * 2 + 2], clamped ? sag.sag / 5 : sag.sag, 1e-9);
      assert_near (reactions[2], w * l / 2, 1e-7);
      assert_near (hypot (ends[4], ends[5]), clamped ? w * l * l / 12 : 0, 1e-7);
      fw_space_frame_free (f);
    }
}

/* Rate of a close-coiled spring, G d^4 / (8 D^3 n), in every machine-design text (Shigley): almost
 * pure torsion, so slope of the coil and bending make a percent at this pitch. */
static void
coil_spring (void)
{
  const int turns = 5, per_turn = 60, n = turns * per_turn;
  double d = 0.001, coil = 0.02, pitch = 0.002;
  FwBarSection s = fw_section_round (d, 0);
  FwSpaceFrame *f = fw_space_frame_new (n + 1, n);
  for (int i = 0; i <= n; i++)
    {
      double a = 2 * G_PI * i / per_turn;
      f->nodes[i].at = fw_vec3 (coil / 2 * cos (a), coil / 2 * sin (a), pitch * i / per_turn);
    }
  for (int i = 0; i < n; i++)
    f->bars[i] = (FwFrameBar){
      .from = i, .to = i + 1, .section = s, .young = STEEL_YOUNG, .shear = STEEL_SHEAR
    };
  f->nodes[0].held = FW_HOLD_ALL;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
  double *u = g_new0 (double, 6 * (n + 1)), force = 2;
  /* Along the coil's axis: a force on the wire's end and the moment of the arm; its end may not
   * tilt. */
  put (u, n, 0, fw_vec3 (0, 0, force));
  put (u, n, 3, fw_vec3_cross (fw_vec3 (-coil / 2, 0, 0), fw_vec3 (0, 0, force)));
  fw_space_frame_solve (f, u);
  FwVec3 end = at (u, n, 0), tilt = at (u, n, 3);
  double stretch = fw_vec3_dot (fw_vec3_add (end, fw_vec3_cross (tilt, fw_vec3 (-coil / 2, 0, 0))),
                                fw_vec3 (0, 0, 1));
  double rate = STEEL_SHEAR * pow (d, 4) / (8 * pow (coil, 3) * turns);
  assert_near (force / stretch / rate, 1, 0.01);
  g_free (u);
  fw_space_frame_free (f);
}

static FwVec3
random_vector (GRand *rand, double size)
{
  return fw_vec3 (g_rand_double_range (rand, -size, size), g_rand_double_range (rand, -size, size),
                  g_rand_double_range (rand, -size, size));
}

/* A row of bars zigzagging through space with some struts across, held at both ends in different
 * ways. */
static FwSpaceFrame *
random_frame (GRand *rand)
{
  int n = g_rand_int_range (rand, 3, 9), struts = g_rand_int_range (rand, 0, 3);
  FwSpaceFrame *f = fw_space_frame_new (n, n - 1 + struts);
  for (int i = 0; i < n; i++)
    f->nodes[i].at = fw_vec3_add (fw_vec3 (0.3 * i, 0, 0), random_vector (rand, 0.15));
  for (int i = 0; i < f->n_bars; i++)
    {
      int from = i < n - 1 ? i : g_rand_int_range (rand, 0, n - 2);
      f->bars[i] = (FwFrameBar){ .from = from,
                                 .to = i < n - 1 ? i + 1 : from + 2,
                                 .up = fw_vec3_add (fw_vec3 (0, 3, 1), random_vector (rand, 0.3)),
                                 .section = i % 2 == 0 ? fw_section_rectangle (0.02, 0.005)
                                                       : fw_section_round (0.012, 0.001),
                                 .young = g_rand_double_range (rand, 5e9, 200e9),
                                 .shear = g_rand_double_range (rand, 2e9, 80e9),
                                 .density = 1000 };
    }
  f->nodes[0].held = FW_HOLD_ALL;
  f->nodes[n - 1].held = (unsigned)g_rand_int_range (rand, 0, 64);
  return f;
}

static double *
random_loads (GRand *rand, int n_nodes)
{
  double *loads = g_new (double, 6 * n_nodes);
  for (int i = 0; i < 6 * n_nodes; i++)
    loads[i] = g_rand_double_range (rand, -10, 10);
  return loads;
}

static double
largest (const double *v, int n)
{
  double most = 0;
  for (int i = 0; i < n; i++)
    most = fmax (most, fabs (v[i]));
  return most;
}

static void
random_frames_against_a_full_matrix (void)
{
  GRand *rand = g_rand_new_with_seed (1301);
  for (int trial = 0; trial < 200; trial++)
    {
      FwSpaceFrame *f = random_frame (rand);
      g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
      int n = 6 * f->n_nodes;
      double *loads = random_loads (rand, f->n_nodes),
             *other = g_memdup2 (loads, sizeof (double) * (gsize)n);
      fw_space_frame_solve (f, loads);
      dense_solve (f, other);
      double size = largest (other, n);
      for (int i = 0; i < n; i++)
        assert_near (loads[i], other[i], 1e-7 * size);
      g_free (loads);
      g_free (other);
      fw_space_frame_free (f);
    }
  g_rand_free (rand);
}

/* Reactions and loads together: no force and no moment is left over; no reaction where nothing
 * holds. */
static void
random_frames_are_in_balance (void)
{
  GRand *rand = g_rand_new_with_seed (77);
  for (int trial = 0; trial < 200; trial++)
    {
      FwSpaceFrame *f = random_frame (rand);
      g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
      int n = 6 * f->n_nodes;
      double *loads = random_loads (rand, f->n_nodes),
             *u = g_memdup2 (loads, sizeof (double) * (gsize)n);
      double *r = g_new (double, n);
      fw_space_frame_solve (f, u);
      fw_space_frame_reactions (f, u, loads, r);
      FwVec3 force = { 0, 0, 0 }, moment = { 0, 0, 0 };
      for (int i = 0; i < f->n_nodes; i++)
        {
          for (int k = 0; k < 6; k++)
            if (!(f->nodes[i].held >> k & 1))
              assert_near (r[6 * i + k], 0, 1e-5);
          FwVec3 here = fw_vec3_add (at (loads, i, 0), at (r, i, 0));
          force = fw_vec3_add (force, here);
          moment = fw_vec3_add (moment, fw_vec3_add (at (loads, i, 3), at (r, i, 3)));
          moment = fw_vec3_add (moment, fw_vec3_cross (f->nodes[i].at, here));
        }
      assert_near (fw_vec3_length (force), 0, 1e-5);
      assert_near (fw_vec3_length (moment), 0, 1e-5);
      g_free (loads);
      g_free (u);
      g_free (r);
      fw_space_frame_free (f);
    }
  g_rand_free (rand);
}

/* A rotation about a unit axis (Rodrigues). */
static FwVec3
turn_about (FwVec3 v, FwVec3 axis, double angle)
{
  FwVec3 out = fw_vec3_scale (v, cos (angle));
  out = fw_vec3_along (out, sin (angle), fw_vec3_cross (axis, v));
  return fw_vec3_along (out, (1 - cos (angle)) * fw_vec3_dot (axis, v), axis);
}

static void
moving_the_whole_frame_changes_nothing (void)
{
  GRand *rand = g_rand_new_with_seed (5);
  for (int trial = 0; trial < 50; trial++)
    {
      FwSpaceFrame *f = random_frame (rand);
      f->nodes[f->n_nodes - 1].held = 0; /* single holds do not turn along */
      double *here = random_loads (rand, f->n_nodes), *there = g_new0 (double, 6 * f->n_nodes);
      FwVec3 axis = { 2.0 / 7, 3.0 / 7, 6.0 / 7 }, shift = random_vector (rand, 2);
      double angle = g_rand_double_range (rand, 0, 6), ends[2][12];
      for (int i = 0; i < f->n_nodes; i++)
        for (int k = 0; k < 6; k += 3)
          put (there, i, k, turn_about (at (here, i, k), axis, angle));
      g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
      fw_space_frame_solve (f, here);
      fw_space_frame_ends (f, 1, here, fw_vec3 (0, 0, 0), ends[0]);
      for (int i = 0; i < f->n_nodes; i++)
        f->nodes[i].at = fw_vec3_add (shift, turn_about (f->nodes[i].at, axis, angle));
      for (int i = 0; i < f->n_bars; i++)
        f->bars[i].up = turn_about (f->bars[i].up, axis, angle);
      g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
      fw_space_frame_solve (f, there);
      fw_space_frame_ends (f, 1, there, fw_vec3 (0, 0, 0), ends[1]);
      double size = largest (there, 6 * f->n_nodes);
      for (int i = 0; i < f->n_nodes; i++)
        for (int k = 0; k < 6; k += 3)
          assert_near (
              fw_vec3_distance (turn_about (at (here, i, k), axis, angle), at (there, i, k)), 0,
              1e-7 * size);
      for (int i = 0; i < 12; i++)
        assert_near (ends[0][i], ends[1][i], 1e-5);
      g_free (here);
      g_free (there);
      fw_space_frame_free (f);
    }
  g_rand_free (rand);
}

/* Carried along as a rigid thing no bar is bent. */
static void
rigid_movement_bends_nothing (void)
{
  GRand *rand = g_rand_new_with_seed (9);
  FwSpaceFrame *f = random_frame (rand);
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
  double *u = g_new0 (double, 6 * f->n_nodes), ends[12];
  FwVec3 turn = { 1e-3, -2e-3, 3e-3 }, shift = { 0.01, 0.02, -0.03 };
  for (int i = 0; i < f->n_nodes; i++)
    {
      put (u, i, 0, fw_vec3_add (shift, fw_vec3_cross (turn, f->nodes[i].at)));
      put (u, i, 3, turn);
    }
  for (int b = 0; b < f->n_bars; b++)
    {
      fw_space_frame_ends (f, b, u, fw_vec3 (0, 0, 0), ends);
      assert_near (largest (ends, 12), 0,
                   1e-7); /* of forces of some 1e5 N if it were stretched so far */
    }
  g_free (u);
  fw_space_frame_free (f);
  g_rand_free (rand);
}

static void
loose_and_broken_frames_are_refused (void)
{
  FwBarSection s = fw_section_round (0.01, 0);
  FwSpaceFrame *f = row_of_bars (fw_vec3 (0, 0, 0), fw_vec3 (1, 0, 0), 4, s, fw_vec3 (0, 0, 1));
  f->nodes[0].held = f->nodes[4].held = FW_HOLD_Y | FW_HOLD_Z; /* slides along and spins */
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_LOOSE);
  f->nodes[0].held |= FW_HOLD_X;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_LOOSE);
  f->nodes[0].held |= FW_HOLD_TURN_X;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
  f->bars[2].young = 0;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_BAD);
  f->bars[2].young = NAN;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_BAD);
  f->bars[2].young = 1e9;
  f->nodes[1].at = f->nodes[0].at;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_BAD);
  fw_space_frame_free (f);
}

/* Roots of a cantilever as in the vibration tests; 12 bars with consistent masses come from above.
 */
static void
frequencies_of_a_cantilever (void)
{
  const double ratios[] = { 0, 1 };
  for (int k = 0; k < 2; k++)
    {
      FwBarSection s = fw_section_rectangle (0.02, 0.004);
      double l = 0.5, per_length = STEEL_DENSITY * s.area, omega[3],
             bending = STEEL_YOUNG * s.second_y;
      FwSpaceFrame *f
          = row_of_bars (fw_vec3 (0, 0, 0), fw_vec3 (l, 0, 0), 12, s, fw_vec3 (0, 0, 1));
      f->nodes[0].held = FW_HOLD_ALL;
      f->nodes[12].mass = ratios[k] * per_length * l;
      for (int i = 1; i <= 12; i++)
        f->nodes[i].held
            |= FW_HOLD_Y | FW_HOLD_TURN_Z | FW_HOLD_X | FW_HOLD_TURN_X; /* flatwise only */
      g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
      g_assert_cmpint (fw_space_frame_frequencies (f, FW_MASS_CONSISTENT, 3, omega, NULL), ==,
                       FW_FRAME_OK);
      for (int n = 1; n <= 3; n++)
        {
          double exact
              = pow (fw_cantilever_root (ratios[k], n) / l, 2) * sqrt (bending / per_length);
          g_assert_cmpfloat (omega[n - 1], >, exact * (1 - 1e-9));
          /* the error of n bars goes with (x / n)^4 / 720 in omega^2 */
          assert_near (omega[n - 1] / exact, 1,
                       pow (fw_cantilever_root (ratios[k], n) / 12, 4) / 720);
        }
      g_assert_cmpint (fw_space_frame_frequencies (f, FW_MASS_LUMPED, 1, omega, NULL), ==,
                       FW_FRAME_OK);
      double first = pow (fw_cantilever_root (ratios[k], 1) / l, 2) * sqrt (bending / per_length);
      assert_near (omega[0] / first, 1, 5e-3);
      fw_space_frame_free (f);
    }
}

/* A shaft clamped at one end: (pi / 2 l) sqrt (G / density), as in every vibration text. */
static void
frequency_of_a_shaft_in_torsion (void)
{
  FwBarSection s = fw_section_round (0.02, 0);
  FwSpaceFrame *f = row_of_bars (fw_vec3 (0, 0, 0), fw_vec3 (0, 0, 1.5), 16, s, fw_vec3 (0, 1, 0));
  f->nodes[0].held = FW_HOLD_ALL;
  for (int i = 1; i <= 16; i++)
    f->nodes[i].held = FW_HOLD_ALL & ~FW_HOLD_TURN_Z;
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
  double omega, shapes[17 * 6];
  g_assert_cmpint (fw_space_frame_frequencies (f, FW_MASS_CONSISTENT, 1, &omega, shapes), ==,
                   FW_FRAME_OK);
  assert_near (omega / (G_PI / 2 / 1.5 * sqrt (STEEL_SHEAR / STEEL_DENSITY)), 1, 1e-3);
  for (int i = 0; i <= 16; i++) /* a quarter of a sine */
    assert_near (shapes[6 * i + 5] / shapes[6 * 16 + 5], sin (G_PI / 2 * i / 16), 1e-6);
  fw_space_frame_free (f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/frame/a cantilever askew in space", cantilever_askew_in_space);
  g_test_add_func ("/frame/a cantilever of a textbook", cantilever_of_a_textbook);
  g_test_add_func ("/frame/a uniform load on a beam that rests or is clamped", uniform_load);
  g_test_add_func ("/frame/rate of a coil spring", coil_spring);
  g_test_add_func ("/frame/random frames against a full matrix of flexibilities",
                   random_frames_against_a_full_matrix);
  g_test_add_func ("/frame/random frames are in balance", random_frames_are_in_balance);
  g_test_add_func ("/frame/moving the whole frame changes nothing",
                   moving_the_whole_frame_changes_nothing);
  g_test_add_func ("/frame/a rigid movement bends nothing", rigid_movement_bends_nothing);
  g_test_add_func ("/frame/loose and broken frames are refused",
                   loose_and_broken_frames_are_refused);
  g_test_add_func ("/frame/frequencies of a cantilever with and without a tip mass",
                   frequencies_of_a_cantilever);
  g_test_add_func ("/frame/frequency of a shaft in torsion", frequency_of_a_shaft_in_torsion);
  return g_test_run ();
}
