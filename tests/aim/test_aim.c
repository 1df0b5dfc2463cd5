/* The search: known designs found again, the same for the same seed, conflicts named, lists kept. */
#include "aim/aim.h"

#include <math.h>
#include <string.h>

#include "aim/problem.h"
#include "aim/runs.h"
#include "build_design.h"
#include "near.h"
#include "refind.h"

static FwWishes *
wish_for (const FwDesign *design, const char *asked, const char *loose)
{
  FwWishes *wishes = fw_wishes_new ();
  GError *error = NULL;
  g_auto (GStrv) list = g_strsplit (asked, " ", -1);
  g_auto (GStrv) free = g_strsplit (loose, " ", -1);
  for (char **text = list; *text != NULL; text++)
    {
      FwWish wish;
      fw_wish_parse (design, *text, &wish, &error);
      g_assert_no_error (error);
      fw_wishes_add (wishes, wish);
    }
  for (char **text = free; *text != NULL; text++)
    {
      FwFree item;
      fw_free_parse (design, *text, &item, &error);
      g_assert_no_error (error);
      fw_wishes_add_free (wishes, item);
    }
  return wishes;
}

static FwAimed *
aim_with (const FwDesign *design, const FwWishes *wishes, FwAimOptions options)
{
  GError *error = NULL;
  FwAimed *aimed = fw_aim (design, wishes, &options, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_nonnull (aimed);
  return aimed;
}

static FwAimed *
aim_at (const FwDesign *design, const char *asked, const char *loose)
{
  FwWishes *wishes = wish_for (design, asked, loose);
  FwAimed *aimed = aim_with (design, wishes, (FwAimOptions) { .seed = 7 });
  fw_wishes_free (wishes);
  return aimed;
}

/* ---- Known designs ---- */

static void
test_refinds (void)
{
  GRand *rand = g_rand_new_with_seed (2026);
  int found = 0, n = 20;
  gint64 start = g_get_monotonic_time ();
  for (int i = 0; i < n; i++)
    {
      Refind r = refind_new (rand);
      FwAimed *aimed = aim_with (r.start, r.wishes, (FwAimOptions) { .seed = (guint32)i, .answers = 1 });
      found += refind_apart (&r, aimed->answers[0].design) <= 0.1;
      fw_aimed_free (aimed);
      refind_free (&r);
    }
  g_rand_free (rand);
  g_test_message ("%d of %d found again, %.3f s each", found, n,
                  (double)(g_get_monotonic_time () - start) / G_TIME_SPAN_SECOND / n);
  g_assert_cmpint (found, >=, 19);
}

static void
same_answers (const FwAimed *a, const FwAimed *b)
{
  g_assert_cmpint (a->n_answers, ==, b->n_answers);
  g_assert_cmpint (a->n_tried, ==, b->n_tried);
  g_assert_cmpint (a->n_conflict, ==, b->n_conflict);
  for (int i = 0; i < a->n_answers; i++)
    for (int k = 0; k < a->n_free; k++)
      assert_near (a->answers[i].values[k], b->answers[i].values[k], 0);
}

static void
test_same_seed (void)
{
  FwDesign *d = build_heron ();
  FwWishes *can = wish_for (d, "inner.top=30 inner.bottom=-25 push=50", "inrod.length in.radius=10..60 inrod.at.0");
  FwWishes *cannot = wish_for (d, "inner.top=70 inner.bottom=-60 push=60", "inrod.length in.radius=10..60 inrod.at.0");
  for (int i = 0; i < 2; i++)
    {
      const FwWishes *wishes = i == 0 ? can : cannot;
      FwAimed *one = aim_with (d, wishes, (FwAimOptions) { .seed = 5, .threads = 1, .runs = 48 });
      FwAimed *again = aim_with (d, wishes, (FwAimOptions) { .seed = 5, .threads = 1, .runs = 48 });
      FwAimed *three = aim_with (d, wishes, (FwAimOptions) { .seed = 5, .threads = 3, .runs = 48 });
      same_answers (one, again);
      same_answers (one, three);
      fw_aimed_free (one);
      fw_aimed_free (again);
      fw_aimed_free (three);
    }
  fw_wishes_free (can);
  fw_wishes_free (cannot);
  fw_design_free (d);
}

static void
test_answers_are_unlike (void)
{
  FwDesign *d = build_heron ();
  FwAimed *aimed = aim_at (d, "inner.top=30 inner.bottom=-25", "inrod.length in.radius=10..60 inrod.at.0=60..200 in.phase");
  g_assert_cmpint (aimed->n_answers, >=, 2);
  const double ranges[4] = { 329.6, 50, 140, 360 };
  for (int i = 0; i < aimed->n_answers; i++)
    {
      g_assert_true (aimed->answers[i].all_met);
      for (int j = 0; j < i; j++)
        {
          double apart = 0;
          for (int k = 0; k < 4; k++)
            apart = fmax (apart, fabs (aimed->answers[i].values[k] - aimed->answers[j].values[k]) / ranges[k]);
          g_assert_cmpfloat (apart, >, 0.09);
        }
    }
  fw_aimed_free (aimed);
  fw_design_free (d);
}

/* ---- What was asked is what is got, measured by the core itself ---- */

static void
extremes (const FwDesign *design, FwQuantity q, double *least, double *most)
{
  FwMechanism *mech = NULL;
  FwExtreme a, b;
  g_assert_cmpint (fw_mechanism_build (design, &mech, NULL), ==, FW_OK);
  FwTurn *turn = fw_turn_new (mech, 720);
  fw_turn_solve (turn, mech);
  g_assert_true (fw_turn_closes (turn, mech));
  g_assert_true (fw_turn_extremes (turn, mech, q, &a, &b));
  *least = a.value;
  *most = b.value;
  free (turn);
  fw_mechanism_free (mech);
}

static void
test_got_is_true (void)
{
  FwDesign *d = build_heron ();
  double least, most;
  FwAimed *aimed = aim_at (d, "inner.top=28 inner.stroke=50 body.travel=60..70 body.tilt=..20 push=45",
                           "inrod.length in.radius=10..60 mid.radius=20..50 inrod.at.0");
  const FwAnswer *a = &aimed->answers[0];
  g_assert_true (a->all_met);
  extremes (a->design, (FwQuantity) { FW_Q_ANGLE, 0 }, &least, &most);
  assert_near (most / RAD, 28, 0.05);
  assert_near ((most - least) / RAD, 50, 0.05);
  extremes (a->design, (FwQuantity) { FW_Q_BODY_Z, 0 }, &least, &most);
  assert_near (a->got[2].got, most - least, 1e-4);
  g_assert_true (most - least >= 59.95 && most - least <= 70.05);
  extremes (a->design, (FwQuantity) { FW_Q_BODY_TILT, 0 }, &least, &most);
  assert_near (a->got[3].got, (most - least) / RAD, 1e-4);
  double weakest = 90;
  for (int i = 0; i < 4; i++)
    {
      extremes (a->design, (FwQuantity) { FW_Q_PUSH, i }, &least, &most);
      weakest = fmin (weakest, least / RAD);
    }
  assert_near (a->got[4].got, weakest, 2e-3);
  assert_near (a->least_push_deg, weakest, 1e-6);
  fw_aimed_free (aimed);
  fw_design_free (d);
}

/* The lag is that between the two tops. */
static void
test_following (void)
{
  FwDesign *d = build_heron ();
  FwAimed *aimed = aim_at (d, "outer.after.inner=75 inner@90=5", "outrod.length outrod.at.0 outrod.from.0 outrod.from.2 inrod.length");
  const FwAnswer *a = &aimed->answers[0];
  FwMechanism *mech = NULL;
  FwExtreme low, high[2];
  g_assert_cmpint (fw_mechanism_build (a->design, &mech, NULL), ==, FW_OK);
  FwTurn *turn = fw_turn_new (mech, 720);
  fw_turn_solve (turn, mech);
  fw_turn_extremes (turn, mech, (FwQuantity) { FW_Q_ANGLE, fw_wish_member (mech, "inner") }, &low, &high[0]);
  fw_turn_extremes (turn, mech, (FwQuantity) { FW_Q_ANGLE, fw_wish_member (mech, "outer") }, &low, &high[1]);
  assert_near (remainder ((high[1].crank - high[0].crank) / RAD - a->got[0].got, 360), 0, 1e-3);
  fw_pose_solve (turn->scratch, mech, 90 * RAD);
  assert_near (fw_pose_angle (turn->scratch, mech, 0) / RAD, a->got[1].got, 1e-6);
  free (turn);
  fw_mechanism_free (mech);
  fw_aimed_free (aimed);
  fw_design_free (d);
}

static void
test_lists_and_pairs (void)
{
  FwDesign *d = build_heron ();
  FwAimed *aimed = aim_at (d, "inner.stroke=45..55 inrod.length=395,405,415,425", "inrod.length in.radius=20,24,28,32");
  const FwAnswer *a = &aimed->answers[0];
  g_assert_true (a->all_met);
  assert_near (remainder (a->values[0] - 395, 10), 0, 0);
  assert_near (remainder (a->values[1] - 20, 4), 0, 0);
  fw_aimed_free (aimed);
  aimed = aim_at (d, "same=inrod.at.0,outrod.at.0 inner.stroke=50", "inrod.length in.radius=10..50 inrod.at.0 outrod.at.0=60..150 outrod.length");
  g_assert_true (aimed->answers[0].all_met);
  assert_near (aimed->answers[0].values[2], aimed->answers[0].values[3], 1e-3);
  fw_aimed_free (aimed);
  fw_design_free (d);
}

static void
test_torque_and_trouble (void)
{
  FwDesign *d = build_heron ();
  FwWishes *wishes = wish_for (d, "torque=99", "in.radius=10..50");
  FwAimed *now = fw_aim_look (d, wishes, NULL);
  FwMechanism *mech = NULL;
  fw_mechanism_build (d, &mech, NULL);
  FwLoadTurn *forces = fw_load_turn_new (mech, 72);
  FwExtreme least[64], most[64];
  fw_load_peaks (mech, forces->pose, forces->loads, fw_crank_speed (d), 360, least, most);
  double peak = fmax (fabs (least[0].value), fabs (most[0].value)), asked = 0.8 * peak;
  assert_near (now->answers[0].got[0].got, peak, 1e-6 * peak);
  fw_wishes_free (wishes);
  g_autofree char *text = g_strdup_printf ("torque=%.6f inner.stroke=20.. without=cannot-close,weak-push", asked);
  FwAimed *aimed = aim_at (d, text, "in.radius=10..50 inrod.length mid.radius=10..50");
  g_assert_true (aimed->answers[0].all_met);
  g_assert_cmpfloat (aimed->answers[0].got[0].got, <=, asked * 1.006);
  g_assert_cmpint (aimed->answers[0].n_troubles, <=, now->answers[0].n_troubles);
  fw_aimed_free (aimed);
  fw_aimed_free (now);
  free (forces);
  fw_mechanism_free (mech);
  fw_design_free (d);
}

/* ---- What cannot be had ---- */

/* A still hinge, everything in one plane. The held point, 80 mm from a hinge 303 mm from the crank axis,
 * is D from that axis, D between 223 and 383 mm, and the ends of swing differ by twice the radius in D. */
static FwDesign *
planar (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "t", 20, 0, 0);
  build_fixed (d, 0, 0, 300, 0);
  int panel = build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 200);
  build_rod (d, "rod", FW_SIDE_RIGHT, from_throw (0), panel, fw_vec3 (80, 0, 0), 320, 0);
  return d;
}

static void
test_conflict_is_named (void)
{
  FwDesign *d = planar ();
  /* With a radius of 8 mm D changes by 16 mm. That is most degrees at the far end, D = 383, where D falls
   * by 303 * 80 / 383 * (1 - cos a): 42 degrees. The wish for @180 has no part in it. */
  FwWishes *wishes = wish_for (d, "t.radius=..8 wing@180=0..40 wing.stroke=60", "rod.length t.radius=5..60");
  FwAimed *aimed = aim_with (d, wishes, (FwAimOptions) { .seed = 3 });
  g_assert_false (aimed->answers[0].all_met);
  g_assert_cmpint (aimed->n_conflict, ==, 2);
  g_assert_cmpint (aimed->conflict[0], ==, 0);
  g_assert_cmpint (aimed->conflict[1], ==, 2);
  g_autofree char *words = fw_aimed_words (aimed, d, wishes, FW_LENGTHS_MM);
  g_assert_nonnull (strstr (words, "stroke of wing"));
  g_assert_null (strstr (words, "180"));
  fw_aimed_free (aimed);
  fw_wishes_free (wishes);

  /* One wish that the limits alone forbid. */
  wishes = wish_for (d, "wing@180=0..40 wing.stroke=60", "rod.length t.radius=5..8");
  aimed = aim_with (d, wishes, (FwAimOptions) { .seed = 3 });
  g_assert_cmpint (aimed->n_conflict, ==, 1);
  g_assert_cmpint (aimed->conflict[0], ==, 1);
  g_assert_cmpint (aimed->n_limited, ==, 1);
  g_assert_cmpint (aimed->limited[0], ==, 1);
  g_autofree char *alone = fw_aimed_words (aimed, d, wishes, FW_LENGTHS_MM);
  g_assert_nonnull (strstr (alone, "Radius of t"));
  fw_aimed_free (aimed);
  fw_wishes_free (wishes);
  fw_design_free (d);
}

static void
test_three_way_conflict (void)
{
  FwDesign *d = planar ();
  /* Top, bottom and one place between: two numbers cannot do three things. */
  FwAimed *aimed = aim_at (d, "wing.top=25 wing.bottom=-20 wing@90=20", "rod.length t.radius=5..60");
  g_assert_cmpint (aimed->n_conflict, ==, 3);
  fw_aimed_free (aimed);
  aimed = aim_at (d, "wing.top=25 wing.bottom=-20", "rod.length t.radius=5..60");
  g_assert_true (aimed->answers[0].all_met);
  g_assert_cmpint (aimed->n_conflict, ==, 0);
  fw_aimed_free (aimed);
  fw_design_free (d);
}

/* ---- The way back, and the closed form ---- */

/* A rod 60 mm too short: nothing closes anywhere, and yet there is a way back. */
static void
test_back_from_open (void)
{
  FwDesign *d = planar ();
  d->rods[0].length_mm = 180;
  FwWishes *wishes = wish_for (d, "wing.top=25 wing.bottom=-20", "rod.length=150..420 t.radius=5..60");
  FwProblem *problem = fw_problem_new (d, wishes);
  FwJudge *judge = fw_judge_new (problem);
  double x[2] = { 180, 20 };
  int tried = 0;
  g_assert_cmpfloat (fw_descend (judge, NULL, x, &tried), <, 1e-6);
  fw_judge_free (judge);
  fw_problem_free (problem);
  fw_wishes_free (wishes);
  fw_design_free (d);
}

/* With a hinge that stands still the closed form is the answer: it must meet both wishes without a
 * search, and agree with the dead positions seen from the crank. */
static void
test_closed_form_answers (void)
{
  FwDesign *d = planar ();
  d->panels[0].sweep_deg = 12; /* in space */
  d->panels[0].cant_deg = -7;
  d->rods[0].at_mm = fw_vec3 (80, 15, -6);
  const char *seconds[] = { "t.radius=5..60", "rod.at.0=40..140" };
  for (gsize i = 0; i < G_N_ELEMENTS (seconds); i++)
    {
      g_autofree char *loose = g_strdup_printf ("rod.length=200..420 %s", seconds[i]);
      FwWishes *wishes = wish_for (d, "wing.top=9 wing.bottom=-15", loose);
      FwProblem *problem = fw_problem_new (d, wishes);
      FwJudge *judge = fw_judge_new (problem);
      double x[2] = { problem->start[0], problem->start[1] }, rows[8];
      g_assert_true (fw_start_on_two_positions (judge, 0, x));
      g_assert_true (fw_judge_rows (judge, x, rows, NULL));
      assert_near (rows[0], 0, 1e-5);
      assert_near (rows[1], 0, 1e-5);
      fw_judge_free (judge);
      fw_problem_free (problem);
      fw_wishes_free (wishes);
    }
  fw_design_free (d);
}

/* ---- Slopes ---- */

static void
test_slopes (void)
{
  FwDesign *d = build_heron ();
  const char *loose = "inrod.length in.radius in.phase inrod.at.0 outrod.length outrod.from.2 mid.radius body.guide.1 inner.sweep";
  FwWishes *wishes = wish_for (d, "inner.top=33 outer.bottom=-50 inner.stroke=10 outer@70=80 outer.after.inner=10 body.travel=10 "
                                  "body.tilt=3 inrod.push=89 torque=0.001 in.radius=1..2", loose);
  FwProblem *p = fw_problem_new (d, wishes);
  FwJudge *judge = fw_judge_new (p);
  int rows = fw_problem_rows (p);
  g_autofree double *x = g_memdup2 (p->start, sizeof (double) * (gsize)p->n);
  g_autofree double *slopes = g_new (double, rows * p->n);
  g_autofree double *a = g_new (double, rows);
  g_autofree double *b = g_new (double, rows);
  fw_judge_rows (judge, x, a, NULL);
  fw_judge_slopes (judge, x, slopes);
  for (int k = 0; k < p->n; k++)
    {
      double h = 1e-3, kept = x[k];
      x[k] = kept + h;
      fw_judge_rows (judge, x, b, NULL);
      x[k] = kept - h;
      fw_judge_rows (judge, x, a, NULL);
      x[k] = kept;
      for (int i = 0; i < p->n_goals; i++)
        {
          double by = (b[i] - a[i]) / (2 * h), size = p->goals[i].wish->kind == FW_WISH_TORQUE ? 2e-3 : 2e-5;
          if (!(fabs (by - slopes[k * rows + i]) <= size * (1 + fabs (by))))
            g_error ("wish %d by number %d: %.10g, by difference %.10g", i, k, slopes[k * rows + i], by);
        }
    }
  fw_judge_free (judge);
  fw_problem_free (p);
  fw_wishes_free (wishes);
  fw_design_free (d);
}

/* ---- Stopping ---- */

typedef struct
{
  int calls;
  double last_cost, last_fraction;
  gboolean saw_design;
} Seen;

static gboolean
stop_soon (double fraction, double cost, const FwDesign *best, gpointer data)
{
  Seen *seen = data;
  g_assert_true (fraction >= 0 && fraction <= 1);
  seen->saw_design = seen->saw_design || best != NULL;
  seen->last_cost = cost;
  return ++seen->calls < 3;
}

static gboolean
onward (double fraction, double cost, const FwDesign *best, gpointer data)
{
  Seen *seen = data;
  seen->calls++;
  g_assert_true (fraction >= seen->last_fraction && fraction <= 1);
  g_assert_true (cost <= seen->last_cost);
  seen->last_fraction = fraction;
  seen->last_cost = cost;
  return TRUE;
}

/* Also while it is found out what stands in the way. */
static void
test_progress (void)
{
  FwDesign *d = planar ();
  FwWishes *wishes = wish_for (d, "wing.top=25 wing.bottom=-20 wing@90=20 push=60", "rod.length t.radius=5..60");
  Seen seen = { .last_cost = INFINITY };
  FwAimOptions options = { .seed = 1 };
  FwAimed *aimed = fw_aim (d, wishes, &options, onward, &seen, NULL);
  g_assert_cmpint (seen.calls, >, 8);
  g_assert_cmpfloat (seen.last_fraction, ==, 1);
  assert_near (seen.last_cost, aimed->answers[0].cost, 0);
  fw_aimed_free (aimed);
  fw_wishes_free (wishes);
  fw_design_free (d);
}

static void
test_stops (void)
{
  FwDesign *d = build_heron ();
  FwWishes *wishes = wish_for (d, "inner.top=70 inner.bottom=-60 push=70", "inrod.length in.radius=10..60 inrod.at.0");
  Seen seen = { 0 };
  FwAimOptions options = { .seed = 1, .runs = 100000 };
  FwAimed *aimed = fw_aim (d, wishes, &options, stop_soon, &seen, NULL);
  g_assert_true (aimed->stopped);
  g_assert_true (seen.saw_design);
  g_assert_cmpint (aimed->n_conflict, ==, 0);
  g_assert_cmpint (aimed->n_answers, >, 0);
  fw_aimed_free (aimed);
  fw_wishes_free (wishes);
  fw_design_free (d);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/aim/slopes of all wishes agree with differences", test_slopes);
  g_test_add_func ("/aim/with a still hinge the closed form meets top and bottom without a search", test_closed_form_answers);
  g_test_add_func ("/aim/from a rod far too short there is a way back", test_back_from_open);
  g_test_add_func ("/aim/known designs are found again from their own motion", test_refinds);
  g_test_add_func ("/aim/the same seed gives the same answers on any number of threads", test_same_seed);
  g_test_add_func ("/aim/several answers are unlike each other", test_answers_are_unlike);
  g_test_add_func ("/aim/what an answer got is what the core measures", test_got_is_true);
  g_test_add_func ("/aim/a panel follows another by what is told", test_following);
  g_test_add_func ("/aim/lists are kept exactly, pairs alike", test_lists_and_pairs);
  g_test_add_func ("/aim/torque and trouble are wished away", test_torque_and_trouble);
  g_test_add_func ("/aim/wishes that cannot be had together are named, and only these", test_conflict_is_named);
  g_test_add_func ("/aim/two numbers cannot do three things", test_three_way_conflict);
  g_test_add_func ("/aim/progress only grows, and the cost only falls", test_progress);
  g_test_add_func ("/aim/a search stops when told, with the best so far", test_stops);
  return g_test_run ();
}
