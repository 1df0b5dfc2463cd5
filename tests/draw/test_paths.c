/* Outlines that are filled cover what a stroke would cover. */
#include <math.h>

#include "draw/paint.h"

enum
{
  SIDE = 160
};

static cairo_t *
page (cairo_surface_t **surface)
{
  *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, SIDE, SIDE);
  cairo_t *cr = cairo_create (*surface);
  cairo_set_tolerance (cr, 0.02);
  return cr;
}

/* The greatest difference of coverage between two pages, of 255. */
static int
apart (cairo_surface_t *a, cairo_surface_t *b)
{
  int most = 0, stride = cairo_image_surface_get_stride (a);
  cairo_surface_flush (a);
  cairo_surface_flush (b);
  const unsigned char *p = cairo_image_surface_get_data (a), *q = cairo_image_surface_get_data (b);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      most = MAX (most, ABS (p[y * stride + x] - q[y * stride + x]));
  return most;
}

/* A star whose points and dents come from a seed; every third one runs the other way round. */
static int
star (GRand *rand, FwVec2 *p)
{
  int n = g_rand_int_range (rand, 3, 17);
  double sense = g_rand_int_range (rand, 0, 3) == 0 ? -1 : 1, turn = g_rand_double (rand);
  for (int i = 0; i < n; i++)
    {
      double r = g_rand_double_range (rand, 8, 60), at = sense * 2 * G_PI * (i + turn) / n;
      p[i] = fw_vec2 (80 + r * cos (at), 80 + r * sin (at));
    }
  if (n > 4)
    p[2] = p[3]; /* a step of no length */
  return n;
}

static void
a_grown_polygon_covers_its_fill_and_a_wide_stroke (void)
{
  GRand *rand = g_rand_new_with_seed (7);
  for (int k = 0; k < 300; k++)
    {
      FwVec2 p[20];
      int n = star (rand, p);
      double grow = g_rand_double_range (rand, 0.8, 8);
      cairo_surface_t *plain, *grown;
      cairo_t *cr = page (&plain);
      cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
      cairo_set_line_width (cr, 2 * grow);
      fw_path_polygon (cr, p, n);
      cairo_stroke_preserve (cr);
      /* Where stroke and fill both cover a part of a pixel they add up. */
      cairo_set_operator (cr, CAIRO_OPERATOR_ADD);
      cairo_fill (cr);
      cairo_destroy (cr);
      cr = page (&grown);
      fw_path_grown (cr, p, n, grow);
      cairo_fill (cr);
      cairo_destroy (cr);
      g_assert_cmpint (apart (plain, grown), <, 45); /* corners are short steps */
      cairo_surface_destroy (plain);
      cairo_surface_destroy (grown);
    }
  g_rand_free (rand);
}

/* A line with bends in short steps, as a bent pipe seen from somewhere. */
static int
pipe_line (GRand *rand, FwVec2 *p)
{
  int n = 0;
  double squeeze = g_rand_double_range (rand, -1, 1), x = 20, y = 50;
  for (int leg = 0; leg < 4; leg++)
    {
      double dx = leg % 2 == 0 ? 34 : 0, dy = leg % 2 == 0 ? 0 : (leg == 1 ? 50 : -50) * squeeze;
      double share = 9 / hypot (dx, leg % 2 == 0 ? 0 : 50);
      for (int i = 0; i <= 4 && leg > 0; i++)
        {
          double t = i / 4.0, bx = leg % 2 == 0 ? 0 : 9, by = leg % 2 == 0 ? (leg == 2 ? 9 : -9) * squeeze : 0;
          double s = 1 - t;
          p[n++] = fw_vec2 (x - s * s * bx + t * t * share * dx, y - s * s * by + t * t * share * dy);
        }
      if (leg == 0)
        p[n++] = fw_vec2 (x, y);
      x += dx;
      y += dy;
    }
  p[n++] = fw_vec2 (x, y);
  return n;
}

/* The greatest difference between a stroke along the line and its bar. */
static int
bar_apart (const FwVec2 *p, int n, double width, gboolean round)
{
  cairo_surface_t *stroked, *filled;
  cairo_t *cr = page (&stroked);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  cairo_set_miter_limit (cr, 1.5);
  cairo_set_line_cap (cr, round ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
  cairo_set_line_width (cr, width);
  fw_path_line (cr, p, n);
  cairo_stroke (cr);
  cairo_destroy (cr);
  cr = page (&filled);
  g_assert_true (fw_path_bar (cr, p, n, width, round));
  cairo_fill (cr);
  cairo_destroy (cr);
  int most = apart (stroked, filled);
  cairo_surface_destroy (stroked);
  cairo_surface_destroy (filled);
  return most;
}

static void
a_bar_covers_a_stroke_along_its_line (void)
{
  GRand *rand = g_rand_new_with_seed (11);
  for (int k = 0; k < 300; k++)
    {
      FwVec2 p[64];
      int n = pipe_line (rand, p);
      g_assert_cmpint (bar_apart (p, n, g_rand_double_range (rand, 1, 13), k % 2 == 0), <, 31);
    }
  g_rand_free (rand);
}

/* As a slack cord is seen that hangs in the plane one looks along. */
static void
a_bar_that_turns_back_on_itself_is_covered_to_its_end (void)
{
  const FwVec2 down_and_up[] = { { 80, 20 }, { 80, 60 }, { 80, 110 }, { 80, 60 }, { 80, 30 } },
               web[] = { { 20, 100 }, { 80, 100 }, { 80, 40 }, { 80, 100 }, { 140, 100 } };
  for (int round = 0; round < 2; round++)
    {
      g_assert_cmpint (bar_apart (down_and_up, G_N_ELEMENTS (down_and_up), 9, round), <, 31);
      g_assert_cmpint (bar_apart (web, G_N_ELEMENTS (web), 9, round), <, 31);
    }
}

static void
a_mere_point_and_a_line_of_too_many_points_are_no_bars (void)
{
  FwVec2 p[FW_MOST_BAR + 1];
  cairo_surface_t *surface;
  cairo_t *cr = page (&surface);
  for (int i = 0; i <= FW_MOST_BAR; i++)
    p[i] = fw_vec2 (i, i % 3);
  const FwVec2 point[2] = { { 5, 5 }, { 5, 5 } };
  g_assert_false (fw_path_bar (cr, point, 2, 3, TRUE));
  g_assert_false (fw_path_bar (cr, p, FW_MOST_BAR + 1, 3, FALSE));
  g_assert_true (fw_path_bar (cr, p, FW_MOST_BAR, 3, FALSE));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paths/a grown polygon covers its fill and a wide stroke",
                   a_grown_polygon_covers_its_fill_and_a_wide_stroke);
  g_test_add_func ("/paths/a bar covers a stroke along its line", a_bar_covers_a_stroke_along_its_line);
  g_test_add_func ("/paths/a bar that turns back on itself is covered to its end",
                   a_bar_that_turns_back_on_itself_is_covered_to_its_end);
  g_test_add_func ("/paths/a mere point and a line of too many points are no bars",
                   a_mere_point_and_a_line_of_too_many_points_are_no_bars);
  return g_test_run ();
}
