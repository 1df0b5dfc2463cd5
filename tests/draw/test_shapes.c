/* Plane geometry against values worked out by hand. */
#include <math.h>

#include "draw/forms.h"
#include "draw/shapes.h"
#include "heron.h"

static const FwVec2 square[] = { { 0, 0 }, { 10, 0 }, { 10, 10 }, { 0, 10 } };

static void
area_has_the_sense_of_turning (void)
{
  g_assert_cmpfloat_with_epsilon (fw_polygon_area (square, 4), 100, 1e-12);
  const FwVec2 back[] = { { 0, 10 }, { 10, 10 }, { 10, 0 }, { 0, 0 } };
  g_assert_cmpfloat_with_epsilon (fw_polygon_area (back, 4), -100, 1e-12);
}

static void
a_point_is_inside_or_not (void)
{
  g_assert_true (fw_polygon_holds (square, 4, fw_vec2 (5, 5)));
  g_assert_false (fw_polygon_holds (square, 4, fw_vec2 (11, 5)));
  g_assert_cmpint (abs (fw_polygon_turns (square, 4, fw_vec2 (5, 5))), ==, 1);
  g_assert_cmpint (fw_polygon_turns (square, 4, fw_vec2 (5, 11)), ==, 0);
  /* A path that runs twice round. */
  const FwVec2 twice[]
      = { { 0, 0 }, { 10, 0 }, { 10, 10 }, { 0, 10 }, { 0, 0 }, { 9, 1 }, { 9, 9 }, { 1, 9 } };
  g_assert_cmpint (abs (fw_polygon_turns (twice, 8, fw_vec2 (5, 5))), ==, 2);
}

static void
hatching_stays_inside_and_is_evenly_spaced (void)
{
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  fw_polygon_hatch (square, 4, 0, 2.5, pairs);
  /* Lines at y = 0 (the edge itself), 2.5, 5, 7.5. */
  g_assert_cmpuint (pairs->len, ==, 8);
  for (guint i = 0; i < pairs->len; i++)
    {
      FwVec2 p = g_array_index (pairs, FwVec2, i);
      g_assert_true (p.x >= -1e-9 && p.x <= 10 + 1e-9 && p.y >= -1e-9 && p.y <= 10 + 1e-9);
      g_assert_cmpfloat_with_epsilon (remainder (p.y, 2.5), 0, 1e-9);
    }
  g_array_set_size (pairs, 0);
  fw_polygon_hatch (square, 4, 1, 1e-12, pairs); /* far too fine: bounded */
  g_assert_cmpuint (pairs->len, <, 2000);
  g_array_unref (pairs);
}

static void
tilted_boxes_know_when_they_touch (void)
{
  FwTilted a = { { 0, 0 }, 10, 2, 0 }, b = { { 0, 5 }, 10, 2, 0 };
  g_assert_false (fw_tilted_overlap (&a, &b));
  b.angle = G_PI / 4; /* turned, its lower end comes down onto a */
  g_assert_true (fw_tilted_overlap (&a, &b));
  b.centre = fw_vec2 (20, 0);
  g_assert_false (fw_tilted_overlap (&a, &b));
  g_assert_true (fw_tilted_meets_segment (&a, fw_vec2 (-20, -20), fw_vec2 (20, 20)));
  g_assert_false (fw_tilted_meets_segment (&a, fw_vec2 (-20, 3), fw_vec2 (20, 3)));
}

static void
round_lengths_are_one_two_five (void)
{
  g_assert_cmpfloat (fw_round_length (1), ==, 1);
  g_assert_cmpfloat (fw_round_length (1.99), ==, 1);
  g_assert_cmpfloat (fw_round_length (2), ==, 2);
  g_assert_cmpfloat (fw_round_length (499), ==, 200);
  g_assert_cmpfloat (fw_round_length (500), ==, 500);
  g_assert_cmpfloat_with_epsilon (fw_round_length (0.07), 0.05, 1e-15);
  g_assert_cmpfloat (fw_round_length (0), ==, 0);
  g_assert_cmpfloat (fw_round_length (NAN), ==, 0);
}

static void
a_panel_without_an_outline_gets_a_wing_of_its_span (void)
{
  FwDesign *d = moth_design ();
  FwVec2 buffer[FW_FORM_OUTLINE];
  int n;
  const FwVec2 *outline = fw_form_outline (d, 0, buffer, &n);
  double widest = 0;
  g_assert_cmpint (n, >=, 4);
  for (int i = 0; i < n; i++)
    widest = fmax (widest, outline[i].x);
  g_assert_cmpfloat_with_epsilon (widest, d->panels[0].span_mm, 1e-9);
  FwSection sections[FW_FORM_SECTIONS];
  FwSolid body = fw_form_body (d, sections);
  g_assert_cmpint (body.n_sections, >=, 5);
  fw_design_free (d);
}

static void
a_net_runs_through_the_sections_it_is_given (void)
{
  FwSection sections[] = { { 0, -10, 10, 10 }, { 50, -20, 30, 18 }, { 100, -5, 5, 4 } };
  FwSolid solid = { .sections = sections, .n_sections = 3 };
  FwNet net;
  for (int fineness = 0; fineness < 3; fineness++)
    {
      fw_form_net (&solid, fineness, &net);
      g_assert_cmpint (net.rings, <=, FW_NET_LONG);
      gboolean found = FALSE;
      for (int s = 0; s < net.rings; s++)
        {
          if (fabs (net.points[s][0].x - 50) < 1e-9)
            {
              found = TRUE;
              g_assert_cmpfloat_with_epsilon (net.points[s][0].y, 18, 1e-9);
              g_assert_cmpfloat_with_epsilon (net.points[s][net.round / 4].z, 30, 1e-9);
            }
          /* Between sections it never bulges past the greater of both. */
          g_assert_cmpfloat (net.points[s][0].y, <=, 18 + 1e-9);
        }
      g_assert_true (found);
    }
  g_assert_cmpfloat_with_epsilon (fw_form_half_width (&solid, 50, 5), 18, 1e-9);
  g_assert_cmpfloat_with_epsilon (fw_form_half_width (&solid, 50, 30), 0, 1e-6);
  g_assert_cmpfloat (fw_form_half_width (&solid, 200, 0), ==, 0);
}

static void
a_solid_of_many_sections_is_drawn_to_its_end (void)
{
  const int counts[] = { 32, 33, 54, 55, 64, 65, 1000 };
  FwSection sections[1000];
  for (guint c = 0; c < G_N_ELEMENTS (counts); c++)
    {
      int n = counts[c];
      for (int i = 0; i < n; i++) /* a cone 300 mm long, 60 mm wide at its end */
        sections[i] = (FwSection){ 300.0 * i / (n - 1), -30.0 * i / (n - 1), 30.0 * i / (n - 1), 30.0 * i / (n - 1) };
      FwSolid solid = { .sections = sections, .n_sections = n };
      FwNet net;
      for (int fineness = 0; fineness < 3; fineness++)
        {
          gboolean ends = FALSE;
          fw_form_net (&solid, fineness, &net);
          for (int s = 0; s < net.rings; s++)
            {
              double along = net.points[s][0].x;
              g_assert_cmpfloat (s > 0 ? net.points[s - 1][0].x : -1, <=, along);
              if (along <= 300)
                g_assert_cmpfloat_with_epsilon (net.points[s][0].y, along / 10, 1e-9);
              ends = ends || fabs (along - 300) < 1e-9;
            }
          g_assert_true (ends);
        }
      g_assert_cmpfloat_with_epsilon (fw_form_half_width (&solid, 290, 0), 29, 1e-9);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shapes/area has the sense of turning", area_has_the_sense_of_turning);
  g_test_add_func ("/shapes/a point is inside or not", a_point_is_inside_or_not);
  g_test_add_func ("/shapes/hatching stays inside and is evenly spaced",
                   hatching_stays_inside_and_is_evenly_spaced);
  g_test_add_func ("/shapes/tilted boxes know when they touch", tilted_boxes_know_when_they_touch);
  g_test_add_func ("/shapes/round lengths are one, two, five", round_lengths_are_one_two_five);
  g_test_add_func ("/forms/a panel without an outline gets a wing of its span",
                   a_panel_without_an_outline_gets_a_wing_of_its_span);
  g_test_add_func ("/forms/a net runs through the sections it is given",
                   a_net_runs_through_the_sections_it_is_given);
  g_test_add_func ("/forms/a solid of many sections is drawn to its end",
                   a_solid_of_many_sections_is_drawn_to_its_end);
  return g_test_run ();
}
