/* Sections, beams, columns and shafts against worked examples of textbooks.
 *
 * "3863", "3776" and "2267" are the numbered folders of worked textbook examples in the public
 * repository FOSSEE/Scilab-TBC-Uploads; inputs and formulas were read there. */
#include <glib.h>
#include <math.h>

#include "near.h"
#include "strength/beams.h"
#include "strength/section.h"

#define INCH 0.0254
#define DEGREE (G_PI / 180)

/* 3863, example 13.1: 25 kN on 3 m, I = 1e8 mm^4, E = 2.1e5 N/mm^2: 10.714 mm, 0.005357 rad. */
static void
cantilever_with_a_force (void)
{
  FwBeamSag s = fw_cantilever_force (25000, 3000, 2.1e5 * 1e8);
  assert_near (s.sag, 10.714, 0.0005);
  assert_near (s.slope, 0.005357, 5e-7);
}

/* 3863, example 12.1: 50 kN in the middle of 6 m, I = 78e6 mm^4, E = 2.1e5 N/mm^2: 13.736 mm. The
 * slope printed in the book is wrong, as its companion says; 0.3935 degree is right. */
static void
supported_beam_with_a_force (void)
{
  FwBeamSag s = fw_supported_force (50000, 6000, 2.1e5 * 78e6);
  assert_near (s.sag, 13.736, 0.0005);
  assert_near (s.slope / DEGREE, 0.3935, 5e-5);
}

/* 3863, example 13.6: 10 N/mm on the outer 2 m of 3 m, E = 2e5 N/mm^2, I = 1e8 mm^4: 4.833 mm,
 * 0.002167 rad. */
static void
cantilever_with_a_load_on_its_outer_part (void)
{
  FwBeamSag s = fw_cantilever_outer_load (10, 2000, 3000, 2e5 * 1e8);
  assert_near (s.sag, 4.833, 0.0005);
  assert_near (s.slope, 0.002167, 5e-7);
  FwBeamSag whole = fw_cantilever_outer_load (10, 3000, 3000, 2e5 * 1e8);
  assert_near (whole.sag, 10 * 8.1e13 / (8 * 2e13), 1e-9); /* w L^4 / 8EI */
}

/* Seen from its middle a supported beam is two cantilevers bent upwards by what carries their ends.
 */
static void
supported_load_is_two_cantilevers (void)
{
  double w = 3, l = 2, bending = 7;
  FwBeamSag up = fw_cantilever_force (w * l / 2, l / 2, bending);
  FwBeamSag down = fw_cantilever_outer_load (w, l / 2, l / 2, bending);
  FwBeamSag s = fw_supported_load (w, l, bending);
  assert_near (s.sag, up.sag - down.sag, 1e-12);
  assert_near (s.slope, up.slope - down.slope, 1e-12);
}

/* P c^2 (l + c) / 3EI: beam with one overhanging end, in every book of beam tables. */
static void
overhang_turns_at_its_support (void)
{
  FwBeamSag s = fw_overhang (2, 0, 3, 0.5, 10);
  assert_near (s.sag, 2 * 0.25 * 3.5 / 30, 1e-12);
  FwBeamSag stiff = fw_overhang (2, 1, 0, 0.5, 10);
  assert_near (stiff.sag,
               fw_cantilever_force (2, 0.5, 10).sag + fw_cantilever_moment (1, 0.5, 10).sag, 1e-12);
}

/* Two directions of the same thing: what a force does to a slope a moment does to a sag (Maxwell,
 * Betti). */
static void
overhang_is_reciprocal (void)
{
  FwBeamSag force = fw_overhang (1, 0, 0.3, 0.7, 5), moment = fw_overhang (0, 1, 0.3, 0.7, 5);
  assert_near (force.slope, moment.sag, 1e-14);
}

/* 3776, example 11.2: a 100 x 60 mm bar, E = 200 GPa, stress at the limit of proportion 250 MPa:
 * 1539 mm. */
static void
euler_length (void)
{
  FwBarSection s = fw_section_rectangle (100, 60);
  double longest = fw_column_longest (s.area, fw_section_least (&s), 200e3, 250,
                                      fw_ends_factor (FW_ENDS_PINNED));
  assert_near (longest, 1539, 0.5);
  double load = fw_column_euler (longest, 200e3 * fw_section_least (&s), 1);
  assert_near (load / s.area, 250, 1e-9);
}

/* K = 1, 0.5, 0.7, 2 (HSB 41100-01): the load goes with 1 / K^2. */
static void
euler_by_the_way_the_ends_are_held (void)
{
  const double factors[] = { 1, 4, 1 / 0.49, 0.25 };
  for (int i = 0; i < 4; i++)
    assert_near (fw_column_euler (2, 3, fw_ends_factor ((FwEnds)i)),
                 factors[i] * G_PI * G_PI * 3 / 4, 1e-9);
}

/* A brass rod of 1/8 inch, 300 mm long, E = 97 GPa: I = 4.988 mm^4, 53.06 N (own arithmetic). */
static void
euler_load_of_a_brass_rod (void)
{
  FwBarSection s = fw_section_stock (25.4 / 8, 0);
  assert_near (s.second_y * 1e12, 4.988, 0.001);
  /* 53.06 comes from I rounded to four digits */
  assert_near (fw_column_euler (0.3, 97e9 * s.second_y, 1), 53.06, 0.02);
}

/* With a stiff back the guided post is a flagpole; with next to nothing sticking out, a pinned
 * column of the back. */
static void
guided_post_lies_between_flagpole_and_pinned_column (void)
{
  assert_near (fw_column_guided (1e-6, 2, 5), fw_column_euler (2, 5, 2), 1e-4);
  assert_near (fw_column_guided (2, 1e-7, 5), fw_column_euler (2, 5, 1), 1e-4);
  double both = fw_column_guided (0.3, 0.4, 5);
  g_assert_cmpfloat (both, <, fw_column_euler (0.4, 5, 2));
  g_assert_cmpfloat (both, <, fw_column_euler (0.3, 5, 1));
}

/* Mid-bow, secant and Euler's load meet: both grow without bound towards the same load. */
static void
crooked_columns_grow_towards_eulers_load (void)
{
  assert_near (fw_column_bow (0, 100, 0.002), 0.002, 1e-15);
  assert_near (fw_column_bow (50, 100, 0.002), 0.004, 1e-15);
  assert_near (fw_column_bow (-100, 100, 0.002), 0.001, 1e-15);
  g_assert_true (isinf (fw_column_bow (100, 100, 0.002)));
  FwBarSection s = fw_section_round (0.01, 0);
  double euler = fw_column_euler (1, 2e11 * s.second_y, 1);
  double near = fw_column_secant (0.999 * euler, 1e-3, 1, s.area, s.second_y, 0.005, 2e11);
  g_assert_cmpfloat (near, >, 100 * euler / s.area);
  g_assert_true (isinf (fw_column_secant (euler, 1e-3, 1, s.area, s.second_y, 0.005, 2e11)));
  double small = fw_column_secant (1e-6 * euler, 1e-3, 1, s.area, s.second_y, 0.005, 2e11);
  assert_near (small / (1e-6 * euler / s.area), 1 + 1e-3 * 0.005 * s.area / s.second_y,
               1e-5); /* P/A + P e / W */
}

/* Copper tube of nominal 1/2 inch L and M and 3/4 M: I = 1315.1, 976.0 and 3138.0 mm^4 (sizes as
 * engineeringtoolbox d_779 has them; second moments own arithmetic). */
static void
second_moments_of_copper_tube (void)
{
  const double sizes[][3]
      = { { 0.625, 0.040, 1315.1 }, { 0.625, 0.028, 976.0 }, { 0.875, 0.032, 3138.0 } };
  for (int i = 0; i < 3; i++)
    {
      FwBarSection s = fw_section_round (sizes[i][0] * INCH, sizes[i][1] * INCH);
      assert_near (s.second_y * 1e12, sizes[i][2], 0.1);
      assert_near (s.twist, 2 * s.second_y, 1e-20);
    }
}

/* Mass per foot pi (D - t) t 12 0.323 lb against the tube tables: 0.285 lb/ft for 1/2 L, 0.455 for
 * 3/4 L. */
static void
areas_of_copper_tube (void)
{
  FwBarSection half = fw_section_round (0.625, 0.040),
               three_quarters = fw_section_round (0.875, 0.045);
  assert_near (half.area * 12 * 0.323, 0.285, 0.0005);
  assert_near (three_quarters.area * 12 * 0.323, 0.455, 0.0006);
}

static void
a_wall_of_the_radius_is_solid (void)
{
  FwBarSection solid = fw_section_round (0.01, 0), thick = fw_section_round (0.01, 0.005);
  assert_near (solid.area, thick.area, 1e-18);
  assert_near (solid.area, G_PI * 25e-6, 1e-12);
}

/* Timoshenko and Goodier, Theory of Elasticity, table of k1 and k2 for rectangular bars (from
 * memory): J = k1 b t^3, stress = T / (k2 b t^2). */
static void
rectangles_in_torsion (void)
{
  const double table[][3] = { { 1, 0.1406, 0.208 }, { 2, 0.229, 0.246 }, { 10, 0.312, 0.312 } };
  for (int i = 0; i < 3; i++)
    {
      double b = table[i][0];
      FwBarSection s = fw_section_rectangle (b, 1);
      assert_near (s.twist / b, table[i][1], 0.0006);
      assert_near (s.twist / s.edge_twist / b, table[i][2], 0.0006);
    }
}

/* 3863, example 16.3: hollow shaft 200/100 mm at 40 N/mm^2 carries 58904.9 N m. */
static void
hollow_shaft (void)
{
  FwBarSection s = fw_section_round (0.200, 0.050);
  assert_near (40e6 * s.twist / s.edge_twist, 58904.9, 0.06);
}

/* 3863, example 16.11: 300 kW at 80 turns/min, peak 1.4 times the mean, 60 N/mm^2, bore 0.6 of the
 * outside: 169.7 mm. */
static void
shaft_for_a_power (void)
{
  double torque = 1.4 * 300e3 / (2 * G_PI * 80 / 60);
  FwBarSection s = fw_section_round (0.1697, 0.1697 * 0.2);
  assert_near (torque * s.edge_twist / s.twist / 1e6, 60, 0.1);
}

/* 2267, part B, example 4.17: a wire of 25 m and 0.5 mm, G = 82 GPa, turned 10 times: 1.26454e-3 N
 * m. */
static void
wire_in_torsion (void)
{
  FwBarSection s = fw_section_round (0.5e-3, 0);
  assert_near (fw_shaft_twist (1.26454e-3, 25, 82e9 * s.twist), 20 * G_PI, 1e-3);
}

/* Timoshenko, Strength of Materials I, 3rd edition, p. 299, problem 2 (from memory): d = 4.67 in,
 * 75000 and 9000 lb in: 7527 and 3777 psi. */
static void
bending_and_torsion_together (void)
{
  FwBarSection s = fw_section_round (4.67, 0);
  double direct = 75000 / fw_section_modulus_y (&s), shear = 9000 * s.edge_twist / s.twist;
  assert_near (fw_stress_principal (direct, shear), 7527.8, 1);
  assert_near (fw_stress_shear (direct, shear), 3777.3, 1);
  assert_near (fw_stress_mises (0, 100), 173.205, 0.001);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/beams/a cantilever with a force at its tip", cantilever_with_a_force);
  g_test_add_func ("/beams/a supported beam with a force in its middle",
                   supported_beam_with_a_force);
  g_test_add_func ("/beams/a cantilever with a load on its outer part",
                   cantilever_with_a_load_on_its_outer_part);
  g_test_add_func ("/beams/a supported beam is two cantilevers upside down",
                   supported_load_is_two_cantilevers);
  g_test_add_func ("/beams/an overhang turns at its support", overhang_turns_at_its_support);
  g_test_add_func ("/beams/an overhang obeys reciprocity", overhang_is_reciprocal);
  g_test_add_func ("/columns/the length from which Euler's stress governs", euler_length);
  g_test_add_func ("/columns/Euler's load by the way the ends are held",
                   euler_by_the_way_the_ends_are_held);
  g_test_add_func ("/columns/a brass rod of an eighth of an inch", euler_load_of_a_brass_rod);
  g_test_add_func ("/columns/a guided post lies between flagpole and pinned column",
                   guided_post_lies_between_flagpole_and_pinned_column);
  g_test_add_func ("/columns/crooked ones grow towards Euler's load",
                   crooked_columns_grow_towards_eulers_load);
  g_test_add_func ("/sections/second moments of copper tube", second_moments_of_copper_tube);
  g_test_add_func ("/sections/areas of copper tube", areas_of_copper_tube);
  g_test_add_func ("/sections/a wall of the radius is solid", a_wall_of_the_radius_is_solid);
  g_test_add_func ("/sections/rectangles in torsion", rectangles_in_torsion);
  g_test_add_func ("/shafts/a hollow shaft", hollow_shaft);
  g_test_add_func ("/shafts/a shaft for a power", shaft_for_a_power);
  g_test_add_func ("/shafts/a wire in torsion", wire_in_torsion);
  g_test_add_func ("/shafts/bending and torsion together", bending_and_torsion_together);
  return g_test_run ();
}
