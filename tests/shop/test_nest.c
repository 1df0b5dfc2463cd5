/* Laying pieces into bars and boxes into sheets: closed forms, every layout of small lists tried, and
 * what must hold of any layout. */
#include <glib.h>
#include <math.h>

#include "shop/nest.h"

#define NEAR(found, expected) g_assert_cmpfloat_with_epsilon (found, expected, 1e-6)

/* ---- Bars ---- */

static void
bars_of (const double *lengths, int n, double bar, double kerf, int expected)
{
  FwNestBar bars = { bar, -1 };
  FwNest *nest = fw_nest_bars (lengths, n, &bars, 1, kerf);
  g_assert_cmpint (nest->n_bins, ==, expected);
  g_assert_cmpint (nest->n_left, ==, 0);
  g_assert_true (nest->proven);
  fw_nest_free (nest);
}

static void
equal_pieces_fill_bars_by_division (void)
{
  const double six[] = { 300, 300, 300, 300, 300, 300 };
  bars_of (six, 6, 1000, 0, 2);
  bars_of (six, 6, 1000, 50, 2); /* three of 300 and two cuts of 50 are 1000 */
  bars_of (six, 6, 1000, 51, 3);
  bars_of (six, 1, 300, 3, 1); /* as long as the bar: no cut */
}

/* Best fit, longest first, fills 44 8 6, 24 24 8, 22 21 17 and needs a fourth bar for the last 6; but 44 8 8,
 * 24 24 6 6 and 22 21 17 are 60 each. */
static void
a_list_that_best_fit_gets_wrong_is_laid_right (void)
{
  const double list[] = { 44, 24, 24, 22, 21, 17, 8, 8, 6, 6 }; /* 180 in three bars of 60 */
  bars_of (list, 10, 60, 0, 3);
}

/* Every assignment of pieces to bars, each bar of the cheapest kind that holds it and is left. */
static void
try_all (const double *lengths, int n, int piece, double *load, int bins, const FwNestBar *bars, int n_bars, double kerf, double *best)
{
  if (piece == n)
    {
      /* Kinds by trying all for each bin in turn. */
      double least = INFINITY;
      int kinds = 1;
      for (int b = 0; b < bins; b++)
        kinds *= n_bars;
      for (int code = 0; code < kinds; code++)
        {
          int used[4] = { 0 }, rest = code;
          double opened = 0;
          gboolean good = TRUE;
          for (int b = 0; b < bins && good; b++, rest /= n_bars)
            {
              int k = rest % n_bars;
              good = load[b] <= bars[k].length + kerf + 1e-9 && (bars[k].count < 0 || ++used[k] <= bars[k].count);
              opened += bars[k].length;
            }
          least = good ? fmin (least, opened) : least;
        }
      *best = fmin (*best, least);
      return;
    }
  for (int b = 0; b <= bins; b++)
    {
      load[b] += lengths[piece] + kerf;
      try_all (lengths, n, piece + 1, load, b == bins ? bins + 1 : bins, bars, n_bars, kerf, best);
      load[b] -= lengths[piece] + kerf;
    }
}

static void
small_lists_are_laid_as_well_as_any_layout_of_them (void)
{
  GRand *rand = g_rand_new_with_seed (7);
  int full = 0;
  for (int run = 0; run < 300; run++)
    {
      int n = g_rand_int_range (rand, 1, 7), n_bars = g_rand_int_range (rand, 1, 3);
      double lengths[8], load[8] = { 0 }, kerf = g_rand_int_range (rand, 0, 4), best = INFINITY;
      FwNestBar bars[2] = { { 100, g_rand_int_range (rand, -1, 4) }, { 60, g_rand_int_range (rand, -1, 4) } };
      for (int i = 0; i < n; i++)
        lengths[i] = g_rand_int_range (rand, 5, 100);
      try_all (lengths, n, 0, load, 0, bars, n_bars, kerf, &best);
      FwNest *nest = fw_nest_bars (lengths, n, bars, n_bars, kerf);
      if (isfinite (best))
        {
          full++;
          g_assert_cmpint (nest->n_left, ==, 0);
          NEAR (nest->opened, best);
          g_assert_true (nest->proven);
        }
      else
        g_assert_cmpint (nest->n_left, >, 0);
      fw_nest_free (nest);
    }
  g_assert_cmpint (full, >, 100);
  g_rand_free (rand);
}

/* No bar holds more than it has, none is opened beyond its count, and what is said of the least is true. */
static void
long_lists_keep_to_the_bars_and_above_their_bound (void)
{
  GRand *rand = g_rand_new_with_seed (11);
  for (int run = 0; run < 40; run++)
    {
      int n = g_rand_int_range (rand, 29, 200);
      double *lengths = g_new (double, n), kerf = 2.5, sum = 0;
      FwNestBar bars[2] = { { 1000, -1 }, { 600, 5 } };
      for (int i = 0; i < n; i++)
        sum += lengths[i] = g_rand_double_range (rand, 10, 590);
      FwNest *nest = fw_nest_bars (lengths, n, bars, 2, kerf);
      double *load = g_new0 (double, nest->n_bins);
      int short_ones = 0;
      g_assert_cmpint (nest->n_left, ==, 0);
      for (int i = 0; i < n; i++)
        load[nest->bin_of[i]] += lengths[i] + kerf;
      for (int b = 0; b < nest->n_bins; b++)
        {
          g_assert_cmpfloat (load[b], <=, bars[nest->bin_kind[b]].length + kerf + 1e-6);
          short_ones += nest->bin_kind[b] == 1;
        }
      g_assert_cmpint (short_ones, <=, 5);
      g_assert_cmpfloat (nest->least, <=, nest->opened + 1e-6);
      g_assert_cmpfloat (nest->least, >=, sum - 1e-6);
      g_free (load);
      fw_nest_free (nest);
      g_free (lengths);
    }
  g_rand_free (rand);
}

static void
what_is_longer_than_every_bar_lies_nowhere_and_the_rest_is_laid (void)
{
  const double list[] = { 1200, 500, 400 };
  FwNestBar bar = { 1000, -1 };
  FwNest *nest = fw_nest_bars (list, 3, &bar, 1, 1);
  g_assert_cmpint (nest->n_left, ==, 1);
  g_assert_cmpint (nest->bin_of[0], ==, -1);
  g_assert_cmpint (nest->n_bins, ==, 1);
  fw_nest_free (nest);
  nest = fw_nest_bars (list, 3, &bar, 0, 1);
  g_assert_cmpint (nest->n_left, ==, 3);
  fw_nest_free (nest);
  FwNestBar one = { 500, 1 };
  nest = fw_nest_bars (list, 3, &one, 1, 1);
  g_assert_cmpint (nest->n_left, ==, 2);
  fw_nest_free (nest);
}

/* ---- Sheets ---- */

static void
four_quarters_fill_a_sheet (void)
{
  FwNestBox boxes[4];
  FwNestPlace places[4];
  FwNestSheet sheet = { 401, 301, -1 };
  for (int i = 0; i < 4; i++)
    boxes[i] = (FwNestBox) { 200, 150, FALSE };
  FwNest *nest = fw_nest_sheets (boxes, 4, &sheet, 1, 1, places);
  g_assert_cmpint (nest->n_bins, ==, 1);
  g_assert_true (nest->proven);
  fw_nest_free (nest);
  nest = fw_nest_sheets (boxes, 4, &sheet, 1, 1.5, places);
  g_assert_cmpint (nest->n_bins, ==, 4); /* a cut of 1.5 leaves no room for a second, across or up */
  fw_nest_free (nest);
}

static void
a_box_turns_only_where_the_grain_lets_it (void)
{
  FwNestBox box = { 300, 100, FALSE };
  FwNestPlace place;
  FwNestSheet sheet = { 100, 300, -1 };
  FwNest *nest = fw_nest_sheets (&box, 1, &sheet, 1, 1, &place);
  g_assert_cmpint (nest->n_left, ==, 1);
  fw_nest_free (nest);
  box.may_turn = TRUE;
  nest = fw_nest_sheets (&box, 1, &sheet, 1, 1, &place);
  g_assert_cmpint (nest->n_left, ==, 0);
  g_assert_true (place.turned);
  fw_nest_free (nest);
}

static void
boxes_never_overlap_and_stay_on_their_sheet (void)
{
  GRand *rand = g_rand_new_with_seed (3);
  for (int run = 0; run < 60; run++)
    {
      int n = g_rand_int_range (rand, 1, 40);
      double kerf = g_rand_double_range (rand, 0, 3), area = 0;
      FwNestBox *boxes = g_new (FwNestBox, n);
      FwNestPlace *places = g_new0 (FwNestPlace, n);
      FwNestSheet sheets[2] = { { 500, 350, 2 }, { 700, 500, -1 } };
      for (int i = 0; i < n; i++)
        {
          boxes[i] = (FwNestBox) { g_rand_double_range (rand, 10, 480), g_rand_double_range (rand, 10, 480), g_rand_boolean (rand) };
          area += boxes[i].width * boxes[i].height;
        }
      FwNest *nest = fw_nest_sheets (boxes, n, sheets, 2, kerf, places);
      g_assert_cmpint (nest->n_left, ==, 0);
      g_assert_cmpfloat (nest->least, <=, nest->opened + 1e-6);
      g_assert_cmpfloat (nest->least, >=, area - 1e-6);
      for (int i = 0; i < n; i++)
        {
          const FwNestSheet *s = &sheets[nest->bin_kind[nest->bin_of[i]]];
          double wi = places[i].turned ? boxes[i].height : boxes[i].width, hi = places[i].turned ? boxes[i].width : boxes[i].height;
          g_assert_true (boxes[i].may_turn || !places[i].turned);
          g_assert_true (places[i].x >= 0 && places[i].y >= 0 && places[i].x + wi <= s->width + 1e-5 && places[i].y + hi <= s->height + 1e-5);
          for (int k = 0; k < i; k++)
            {
              double wk = places[k].turned ? boxes[k].height : boxes[k].width, hk = places[k].turned ? boxes[k].width : boxes[k].height;
              gboolean apart = places[i].x + wi + kerf <= places[k].x + 1e-5 || places[k].x + wk + kerf <= places[i].x + 1e-5
                               || places[i].y + hi + kerf <= places[k].y + 1e-5 || places[k].y + hk + kerf <= places[i].y + 1e-5;
              g_assert_true (nest->bin_of[i] != nest->bin_of[k] || apart);
            }
        }
      fw_nest_free (nest);
      g_free (places);
      g_free (boxes);
    }
  g_rand_free (rand);
}

#define ADD(name) g_test_add_func ("/nest/" #name, name)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD (equal_pieces_fill_bars_by_division);
  ADD (a_list_that_best_fit_gets_wrong_is_laid_right);
  ADD (small_lists_are_laid_as_well_as_any_layout_of_them);
  ADD (long_lists_keep_to_the_bars_and_above_their_bound);
  ADD (what_is_longer_than_every_bar_lies_nowhere_and_the_rest_is_laid);
  ADD (four_quarters_fill_a_sheet);
  ADD (a_box_turns_only_where_the_grain_lets_it);
  ADD (boxes_never_overlap_and_stay_on_their_sheet);
  return g_test_run ();
}
