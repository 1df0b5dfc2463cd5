/* Odds and bands against closed forms, and that the result is the same whoever computes it. */
#include "aim/tolerance.h"

#include <stdlib.h>
#include <string.h>

#include "build_design.h"
#include "near.h"
#include "random_design.h"

/* A straight slider-crank: it goes round if the rod is no shorter than the throw. */
static FwDesign *
slider_crank (double radius, double rod)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "mid", radius, 0, 0), rod, 0);
  return d;
}

static FwTolerance *
run (const FwDesign *design, int runs, guint64 seed, int threads, const FwSpread *spreads, int n)
{
  FwToleranceWish wish = { .runs = runs, .seed = seed, .threads = threads, .spreads = spreads, .n_spreads = n };
  FwTolerance *t = fw_tolerance_run (design, &wish);
  g_assert_nonnull (t);
  return t;
}

/* All spreads 0 but those of the two lengths of a slider-crank. */
static int
only_lengths (FwSpread *s, double radius, double rod)
{
  s[0] = (FwSpread){ { FW_PARAM_THROW_RADIUS, 0, 0 }, radius };
  s[1] = (FwSpread){ { FW_PARAM_BODY_ROD, 0, 0 }, rod };
  s[2] = (FwSpread){ { FW_PARAM_THROW_PHASE, 0, 0 }, 0 };
  s[3] = (FwSpread){ { FW_PARAM_BODY_OFFSET, 0, 0 }, 0 };
  s[4] = (FwSpread){ { FW_PARAM_THROW_STATION, 0, 0 }, 0 };
  return 5;
}

/* Density and distribution of the normal with standard deviation s / 2, cut at 1.5 s. */
static double
cut_density (double x, double s)
{
  double z = 2 * x / s;
  return fabs (z) > 3 ? 0 : 2 / s * exp (-z * z / 2) / sqrt (2 * G_PI) / erf (3 / sqrt (2));
}

static double
cut_share_below (double x, double s)
{
  double z = CLAMP (2 * x / s, -3, 3);
  return 0.5 + 0.5 * erf (z / sqrt (2)) / erf (3 / sqrt (2));
}

/* Of rod - radius >= 0, by Simpson's rule over the radius. */
static double
odds_of_room (double room, double radius_spread, double rod_spread)
{
  const int n = 2000;
  double h = 3 * radius_spread / n, sum = 0;
  for (int i = 0; i <= n; i++)
    {
      double x = -1.5 * radius_spread + i * h;
      double weight = i == 0 || i == n ? 1 : i % 2 ? 4 : 2;
      sum += weight * cut_density (x, radius_spread) * (1 - cut_share_below (x - room, rod_spread));
    }
  return sum * h / 3;
}

static void
test_odds_of_a_slider_crank (void)
{
  const struct { double room, radius, rod; } cases[] = { { 0.4, 1, 1 }, { 1, 2, 0.5 }, { 0, 1, 3 }, { -0.8, 2, 2 } };
  const int n = 20000;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      FwSpread s[5];
      FwDesign *d = slider_crank (40, 40 + cases[i].room);
      int k = only_lengths (s, cases[i].radius, cases[i].rod);
      FwTolerance *t = run (d, n, 7 + i, 0, s, k);
      double odds = odds_of_room (cases[i].room, cases[i].radius, cases[i].rod);
      g_assert_cmpint (t->runs, ==, n);
      assert_near ((double)t->goes_round / n, odds, 4 * sqrt (odds * (1 - odds) / n));
      g_assert_cmpint (t->kinds[FW_CANNOT_CLOSE], ==, n - t->goes_round);
      fw_tolerance_free (t);
      fw_design_free (d);
    }
}

/* Straight: the body goes from rod - radius to rod + radius, so variances add. */
static void
test_travel_of_a_slider_crank (void)
{
  FwSpread s[5];
  FwDesign *d = slider_crank (40, 200);
  int k = only_lengths (s, 1.5, 0.8);
  FwTolerance *t = run (d, 20000, 3, 0, s, k);
  const FwToleranceExtreme *z = NULL;
  for (int i = 0; i < t->n_extremes; i++)
    if (t->extremes[i].quantity.kind == FW_Q_BODY_Z)
      z = &t->extremes[i];
  /* Variance of a normal cut at 3 standard deviations: 1 - 6 phi(3) / (2 Phi(3) - 1). */
  double left = 1 - 6 * exp (-4.5) / sqrt (2 * G_PI) / erf (3 / sqrt (2));
  double sd = hypot (1.5, 0.8) / 2 * sqrt (left);
  assert_near (z->greatest, 240, 1e-9);
  assert_near (z->least, 160, 1e-9);
  assert_near (z->greatest_mean, 240, 4 * sd / sqrt (20000));
  assert_near (z->least_mean, 160, 4 * sd / sqrt (20000));
  assert_near (z->greatest_sd, sd, 0.025 * sd);
  assert_near (z->least_sd, sd, 0.025 * sd);
  /* At crank angle 0 the body is at its top: nine of ten lie within 1.645 standard deviations. */
  for (int i = 0; i < t->n_bands; i++)
    if (t->bands[i].quantity.kind == FW_Q_BODY_Z)
      {
        assert_near (t->bands[i].low[0], 240 - 1.645 * hypot (1.5, 0.8) / 2, 0.05);
        assert_near (t->bands[i].middle[0], 240, 0.03);
        assert_near (t->bands[i].high[0], 240 + 1.645 * hypot (1.5, 0.8) / 2, 0.05);
      }
  fw_tolerance_free (t);
  fw_design_free (d);
}

static void
assert_same (const FwTolerance *a, const FwTolerance *b)
{
  g_assert_cmpint (a->runs, ==, b->runs);
  g_assert_cmpint (a->goes_round, ==, b->goes_round);
  g_assert_cmpint (a->fine, ==, b->fine);
  g_assert_cmpmem (a->kinds, sizeof a->kinds, b->kinds, sizeof b->kinds);
  g_assert_cmpmem (a->bands, (gsize)a->n_bands * sizeof *a->bands, b->bands, (gsize)b->n_bands * sizeof *b->bands);
  g_assert_cmpmem (a->extremes, (gsize)a->n_extremes * sizeof *a->extremes, b->extremes,
                   (gsize)b->n_extremes * sizeof *b->extremes);
  g_assert_cmpmem (a->causes, (gsize)a->n_causes * sizeof *a->causes, b->causes,
                   (gsize)b->n_causes * sizeof *b->causes);
}

static void
test_threads_do_not_matter (void)
{
  FwDesign *d = build_heron ();
  FwTolerance *one = run (d, 1100, 42, 1, NULL, 0), *other = NULL;
  for (int threads = 2; threads <= 7; threads++)
    {
      other = run (d, 1100, 42, threads, NULL, 0);
      assert_same (one, other);
      fw_tolerance_free (other);
    }
  other = run (d, 1100, 43, 1, NULL, 0);
  g_assert_cmpint (memcmp (one->bands, other->bands, sizeof *one->bands), !=, 0);
  fw_tolerance_free (one);
  fw_tolerance_free (other);
  fw_design_free (d);
}

static void
assert_moves_alike (const FwDesign *design, const FwDesign *split)
{
  FwMechanism *a = NULL, *b = NULL;
  g_assert_cmpint (fw_mechanism_build (design, &a, NULL), ==, FW_OK);
  g_assert_cmpint (fw_mechanism_build (split, &b, NULL), ==, FW_OK);
  g_assert_cmpint (a->n_members, ==, b->n_members);
  g_assert_cmpint (a->n_links, ==, b->n_links);
  FwTurn *x = fw_turn_new (a, 72), *y = fw_turn_new (b, 72);
  fw_turn_solve (x, a);
  fw_turn_solve (y, b);
  for (int m = 0; m < a->n_members; m++)
    g_assert_cmpstr (a->members[m].name, ==, b->members[m].name);
  for (int i = 0; i < fw_quantity_count (a); i++)
    {
      FwQuantity q = fw_quantity_nth (a, i);
      if (q.kind == FW_Q_RATE || q.kind == FW_Q_RATE2)
        continue;
      const double *row = fw_turn_row (x, a, q), *other = fw_turn_row (y, b, q);
      for (int k = 0; k < 72; k++)
        if (isnan (row[k]))
          g_assert_true (isnan (other[k]));
        else
          assert_near (other[k], row[k], 1e-8);
    }
  free (x);
  free (y);
  fw_mechanism_free (a);
  fw_mechanism_free (b);
}

static void
test_split_designs_move_alike (void)
{
  GRand *rand = g_rand_new_with_seed (5);
  for (int i = 0; i < 200; i++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      FwSplit *s = fw_split_new (d);
      assert_moves_alike (d, s->design);
      fw_split_free (s);
      fw_design_free (d);
    }
  g_rand_free (rand);
}

static void
test_split_numbers_know_their_part (void)
{
  FwDesign *d = build_heron ();
  FwParam own[256];
  build_spring (d, FW_SIDE_RIGHT, from_base (60, 0, 0), from_panel (0, 100, 0, 0), 0.1, 200, false);
  build_spring (d, FW_SIDE_BOTH, from_base (60, 0, 0), from_panel (0, 100, 0, 0), 0.1, 200, false);
  build_weight (d, 100, 30, 180, 20);
  int n_own = fw_design_params (d, own, G_N_ELEMENTS (own));
  g_assert_cmpint (n_own, <=, G_N_ELEMENTS (own));
  for (int i = 0; i < n_own; i++)
    fw_param_set (d, own[i], 50 + i); /* no two alike */
  FwSplit *s = fw_split_new (d);
  int n = fw_design_params (s->design, NULL, 0), right = 0, left = 0;
  FwParam *list = g_new (FwParam, n);
  fw_design_params (s->design, list, n);
  for (int i = 0; i < n; i++)
    {
      int side;
      FwParam origin = fw_split_origin (s, list[i], &side);
      double value = fw_param_get (d, origin);
      if (origin.kind == FW_PARAM_THROW_STATION && side < 0)
        value = -value;
      assert_near (fw_param_get (s->design, list[i]), value, 0);
      right += side > 0;
      left += side < 0;
    }
  g_assert_cmpint (right, >, 20);
  g_assert_cmpint (right, ==, left);
  g_free (list);
  fw_split_free (s);
  fw_design_free (d);
}

/* Only the rods to the inner panels come off: right and left halves share the blame, and the rest none. */
static void
test_the_cause_is_found (void)
{
  FwDesign *d = build_heron ();
  int n = fw_design_params (d, NULL, 0), rods = 0;
  FwParam *list = g_new (FwParam, n);
  FwSpread *s = g_new (FwSpread, n);
  fw_design_params (d, list, n);
  for (int i = 0; i < n; i++)
    s[i] = (FwSpread){ list[i], list[i].kind == FW_PARAM_ROD_LENGTH && list[i].index == 0 ? 0.5 : 0 };
  FwTolerance *t = run (d, 4000, 1, 0, s, n);
  g_assert_cmpint (t->n_causes, ==, 2);
  g_assert_cmpint (t->goes_round, ==, 4000);
  for (int i = 0; i < 2; i++)
    {
      g_assert_true (t->causes[i].param.kind == FW_PARAM_ROD_LENGTH && t->causes[i].side != 0);
      assert_near (t->causes[i].share, 0.5, 0.05);
      rods += t->causes[i].side;
    }
  g_assert_cmpint (rods, ==, 0);
  assert_near (t->causes[0].share + t->causes[1].share, 1, 0.02);
  fw_tolerance_free (t);
  g_free (list);
  g_free (s);
  fw_design_free (d);
}

static void
test_no_spread_changes_nothing (void)
{
  FwSpread s[5];
  FwDesign *d = slider_crank (40, 200);
  int k = only_lengths (s, 0, 0);
  FwTolerance *t = run (d, 300, 1, 0, s, k);
  g_assert_cmpint (t->n_causes, ==, 0);
  g_assert_cmpint (t->goes_round, ==, 300);
  for (int i = 0; i < t->n_bands; i++)
    for (int step = 0; step < FW_TOLERANCE_STEPS; step++)
      assert_near (t->bands[i].low[step], t->bands[i].high[step], 0);
  fw_tolerance_free (t);
  fw_design_free (d);
}

static bool
stop_soon (void *data)
{
  int *asked = data;
  return ++*asked > 600;
}

static bool
stop_elsewhere (void *data)
{
  return g_thread_self () != data;
}

/* Whichever thread is the last to work hears it. */
static void
test_every_thread_can_be_stopped (void)
{
  FwDesign *d = build_heron ();
  FwToleranceWish wish = { .runs = 100000, .seed = 1, .threads = 2, .stop = stop_elsewhere, .data = g_thread_self () };
  FwTolerance *t = fw_tolerance_run (d, &wish);
  g_assert_true (t->stopped);
  g_assert_cmpint (t->runs, <, wish.runs);
  fw_tolerance_free (t);
  fw_design_free (d);
}

static void
test_it_can_be_stopped (void)
{
  FwDesign *d = build_heron ();
  int asked = 0;
  FwToleranceWish wish = { .runs = 100000, .seed = 1, .threads = 1, .stop = stop_soon, .data = &asked };
  FwTolerance *t = fw_tolerance_run (d, &wish);
  g_assert_true (t->stopped);
  g_assert_cmpint (t->runs, ==, 500); /* those of whole chunks alone */
  g_assert_false (isnan (t->bands[0].middle[0]));
  fw_tolerance_free (t);
  fw_design_free (d);
}

/* Never closes: odds 0, no extremes, and no crash. */
static void
test_what_never_goes_round (void)
{
  FwDesign *d = slider_crank (40, 20);
  FwTolerance *t = run (d, 500, 1, 0, NULL, 0);
  g_assert_cmpint (t->goes_round, ==, 0);
  g_assert_true (isnan (t->extremes[0].least_mean));
  g_assert_cmpfloat (t->causes[0].share, ==, 0);
  fw_tolerance_free (t);
  fw_design_free (d);
}

/* E. B. Wilson's interval; 0 of 10: 0 to z^2 / (n + z^2) = 0.2775. 5 of 10: 0.2366 to 0.7634. */
static void
test_interval_of_a_share (void)
{
  double low, high;
  fw_share_interval (0, 10, &low, &high);
  assert_near (low, 0, 1e-12);
  assert_near (high, 0.27753, 1e-5);
  fw_share_interval (5, 10, &low, &high);
  assert_near (low, 0.23659, 1e-5);
  assert_near (high, 0.76341, 1e-5);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/tolerance/the odds of a slider-crank are those of the closed form", test_odds_of_a_slider_crank);
  g_test_add_func ("/tolerance/its travel varies as variances add", test_travel_of_a_slider_crank);
  g_test_add_func ("/tolerance/the number of threads does not matter, the seed does", test_threads_do_not_matter);
  g_test_add_func ("/tolerance/a design with its sides written out moves alike", test_split_designs_move_alike);
  g_test_add_func ("/tolerance/every written-out number knows its part", test_split_numbers_know_their_part);
  g_test_add_func ("/tolerance/the number that is off is found as the cause", test_the_cause_is_found);
  g_test_add_func ("/tolerance/no spread changes nothing", test_no_spread_changes_nothing);
  g_test_add_func ("/tolerance/every thread can be stopped", test_every_thread_can_be_stopped);
  g_test_add_func ("/tolerance/it can be stopped and keeps what it has", test_it_can_be_stopped);
  g_test_add_func ("/tolerance/what never goes round has no odds", test_what_never_goes_round);
  g_test_add_func ("/tolerance/the interval of a share is Wilson's", test_interval_of_a_share);
  return g_test_run ();
}
