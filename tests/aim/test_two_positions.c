/* The closed form against the drawing-board construction and against geometry in space. */
#include "aim/twoposition.h"

#include <glib.h>

#include "near.h"

/* R. L. Norton, Design of Machinery, chapter 3, the rocker of two positions (construction from
 * memory): the chord B1 B2 of the rocker's end is drawn on to a crank pivot O; half the chord is
 * the crank, and the coupler reaches from B1 to the far side of the crank circle. */
static void
test_chord_construction (void)
{
  double rocker = 80, pivot_x = 20, pivot_y = 35;
  double a1 = 25 * RAD, a2 = 70 * RAD;
  FwVec2 b1 = { pivot_x + rocker * cos (a1), pivot_y + rocker * sin (a1) };
  FwVec2 b2 = { pivot_x + rocker * cos (a2), pivot_y + rocker * sin (a2) };
  double chord = hypot (b2.x - b1.x, b2.y - b1.y);
  for (double beyond = 1.2; beyond < 5; beyond += 0.7)
    {
      FwVec2 o = { b2.x + (b1.x - b2.x) * beyond, b2.y + (b1.y - b2.y) * beyond };
      double near = hypot (b1.x - o.x, b1.y - o.y), far = hypot (b2.x - o.x, b2.y - o.y);
      double radius = 0, length = 0;
      g_assert_true (fw_two_dead_positions ((FwSeenFromCrank) { 0, near },
                                            (FwSeenFromCrank) { 0, far }, &radius, &length));
      assert_near (radius, chord / 2, 1e-10);
      assert_near (length, near + chord / 2, 1e-10);
    }
}

static void
test_order_does_not_matter (void)
{
  FwSeenFromCrank a = { 12, 140 }, b = { -5, 190 };
  double r1, l1, r2, l2;
  g_assert_true (fw_two_dead_positions (a, b, &r1, &l1));
  g_assert_true (fw_two_dead_positions (b, a, &r2, &l2));
  assert_near (r1, r2, 0);
  assert_near (l1, l2, 0);
  assert_near (l1, hypot (12, 140 + r1), 1e-10);
  assert_near (l1, hypot (5, 190 - r1), 1e-10);
}

static void
test_equal_distances_have_no_radius (void)
{
  double r = -1, l = -1;
  g_assert_false (fw_two_dead_positions ((FwSeenFromCrank) { 3, 4 }, (FwSeenFromCrank) { -3, 4 }, &r, &l));
  assert_near (r, -1, 0);
  assert_near (l, -1, 0);
}

static void
test_line_is_recovered (void)
{
  GRand *rand = g_rand_new_with_seed (3);
  for (int i = 0; i < 200; i++)
    {
      FwVec3 g[2], base[2];
      for (int k = 0; k < 2; k++)
        {
          FwVec3 v = { g_rand_double_range (rand, -1, 1), g_rand_double_range (rand, -1, 1), 0.3 };
          g[k] = fw_vec3_scale (v, 1 / fw_vec3_length (v));
        }
      double x = g_rand_double_range (rand, 20, 150), length = g_rand_double_range (rand, 300, 500);
      for (int k = 0; k < 2; k++)
        {
          FwVec3 u = { g_rand_double_range (rand, -1, 1), 1, g_rand_double_range (rand, -1, 1) };
          u = fw_vec3_scale (u, length / fw_vec3_length (u));
          base[k] = fw_vec3_along (u, -x, g[k]);
        }
      double found = 0, rod = 0;
      g_assert_true (fw_two_positions (&(FwReachLine) { base[0], g[0] }, &(FwReachLine) { base[1], g[1] },
                                       &found, &rod));
      assert_near (found, x, 1e-6);
      assert_near (rod, length, 1e-6);
    }
  g_rand_free (rand);
}

static void
test_parallel_lines_have_no_answer (void)
{
  FwReachLine a = { { 100, 0, 0 }, { 0, 1, 0 } }, b = { { 120, 0, 0 }, { 0, 1, 0 } };
  double x = 7, l = 8;
  g_assert_false (fw_two_positions (&a, &b, &x, &l));
  assert_near (x, 7, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/two-positions/a crank pivot on the chord gets half the chord as its radius", test_chord_construction);
  g_test_add_func ("/two-positions/which position comes first does not matter", test_order_does_not_matter);
  g_test_add_func ("/two-positions/places equally far from the crank have no radius", test_equal_distances_have_no_radius);
  g_test_add_func ("/two-positions/a number and a length are got back from the two places", test_line_is_recovered);
  g_test_add_func ("/two-positions/a number that changes nothing has no answer", test_parallel_lines_have_no_answer);
  return g_test_run ();
}
