/* What mends trouble of forces, tried again here on a finer turn. */
#include <glib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "build_design.h"
#include "load_look.h"

/* A neck that a throw lifts faster than it would fall, on a rod that has play. */
static FwDesign *
fast_neck (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.turns_per_minute = 175;
  int pin = build_throw (d, "pin", 20, 0, 0);
  build_fixed (d, 0, 0, 300, 0);
  int panel = build_panel (d, "neck", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, 0, 0), 200);
  d->panels[panel].reach = FW_REACH_FORWARD;
  build_mass (d, panel, 100, 80, 0, 0);
  const double inertia[4] = { 100, 90000, 90000, 0 };
  memcpy (d->panels[panel].inertia_gmm2, inertia, sizeof inertia);
  build_rod (d, "rod", FW_SIDE_MIDDLE, from_throw (pin), panel, fw_vec3 (60, 0, 0), 300, 0);
  d->rods[0].play_mm = 0.6;
  return d;
}

static FwDesign *
knocking_heron (void)
{
  FwDesign *d = build_heron ();
  d->body.play_mm = 0.8;
  return d;
}

/* A body that sways a little about a guide that has play. */
static FwDesign *
swaying_post (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.turns_per_minute = 50;
  build_sleeve (d, build_throw (d, "pin", 12, 0, 0), 400, 0, 200);
  d->body.mass_g = 800;
  d->body.gyration_mm = 100;
  d->body.play_mm = 1;
  return d;
}

static void
remedies_hold (FwDesign *d, FwTroubleKind kind, int least)
{
  Look *now = look_at (d, 360);
  int seen = 0;
  for (int i = 0; i < now->list.n && seen == 0; i++)
    {
      if (now->room[i].kind != kind)
        continue;
      seen++;
      FwRemedy list[12];
      int n = fw_remedies (d, &now->room[i], list, 12, NULL, NULL);
      g_assert_cmpint (n, >=, least);
      for (int k = 0; k < n; k++)
        assert_mends (d, &now->room[i], &list[k]);
    }
  g_assert_cmpint (seen, ==, 1);
  look_free (now);
  fw_design_free (d);
}

static void
test_neck_remedies (void)
{
  remedies_hold (fast_neck (), FW_LOAD_REVERSAL, 2);
}

static void
test_heron_remedies (void)
{
  remedies_hold (knocking_heron (), FW_LOAD_REVERSAL, 2);
}

static void
test_over_run_remedies (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.turns_per_minute = 10;
  build_rail (d, build_throw (d, "pin", 30, 0, 0), 150, 0);
  d->body.mass_g = 8000;
  d->base.handle_mm = 80;
  remedies_hold (d, FW_OVER_RUN, 2);
}

/* The speed found is the edge: a little faster and it knocks again. */
static void
test_speed_is_the_edge (void)
{
  FwDesign *d = fast_neck ();
  Look *now = look_at (d, 360);
  const FwTrouble t = now->room[0];
  FwRemedy list[12];
  int n = fw_remedies (d, &t, list, 12, NULL, NULL);
  const FwRemedy *speed = by_kind (list, n, FW_PARAM_SPEED),
                 *play = by_kind (list, n, FW_PARAM_ROD_PLAY);
  g_assert_nonnull (speed);
  g_assert_nonnull (play);
  d->crank.turns_per_minute = speed->to + 1.5;
  Look *faster = look_at (d, 360);
  g_assert_nonnull (find_twin (faster, &t));
  look_free (faster);
  d->crank.turns_per_minute = speed->from;
  d->rods[0].play_mm = play->to + 0.11;
  Look *looser = look_at (d, 360);
  g_assert_nonnull (find_twin (looser, &t));
  look_free (looser);
  look_free (now);
  fw_design_free (d);
}

static void
test_spring (void)
{
  FwDesign *d = fast_neck ();
  Look *l = look_at (d, 360);
  FwSpring spring;
  g_assert_true (fw_spring_for (l->turn, l->mech, (FwPart){ FW_PART_LINK, 0 }, &spring));
  const double *tension = fw_load_turn_row (l->turn, l->mech, (FwLoad){ FW_LOAD_TENSION, 0 });
  double low = INFINITY, high = -INFINITY, sign = spring.pulls ? -1 : 1;
  for (int i = 0; i < 360; i++)
    {
      double with = tension[i] + sign * spring.force_N; /* a cord pushes the rod by what it pulls */
      low = fmin (low, with);
      high = fmax (high, with);
    }
  g_assert_cmpfloat (low * high, >=, -1e-12);
  assert_near (fmax (fabs (low), fabs (high)), spring.peak_N, 1e-9);
  assert_near (fmin (fabs (low), fabs (high)), 0, 1e-9); /* the weakest that does */
  look_free (l);
  d->crank.turns_per_minute = 10;
  l = look_at (d, 360);
  g_assert_false (fw_spring_for (l->turn, l->mech, (FwPart){ FW_PART_LINK, 0 }, &spring));
  g_assert_false (fw_spring_for (l->turn, l->mech, (FwPart){ FW_PART_MEMBER, 0 }, &spring));
  look_free (l);
  fw_design_free (d);
}

/* Turned slowly, a rod that leans presses a body of weight W against its rail with W tan (lean). */
static void
test_spring_for_rail (void)
{
  const double offsets[2] = { 10, -10 }, r = 30, rod = 300, weight = 9.80665;
  bool pulls[2];
  for (int i = 0; i < 2; i++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      d->crank.turns_per_minute = 1e-3;
      build_rail (d, build_throw (d, "pin", r, 0, 0), rod, offsets[i]);
      d->body.mass_g = 1000;
      Look *l = look_at (d, 360);
      FwSpring spring;
      g_assert_true (fw_spring_for (l->turn, l->mech, (FwPart){ FW_PART_BODY, 0 }, &spring));
      double less = weight * tan (asin ((r - 10) / rod)), more = weight * tan (asin ((r + 10) / rod));
      assert_near (spring.force_N, less, 1e-6);
      assert_near (spring.peak_N, less + more, 1e-6);
      assert_near (spring.peak_before_N, more, 1e-6);
      pulls[i] = spring.pulls;
      look_free (l);
      const double one_way = 31, open = 400; /* always to one side; out of reach */
      d->body.offset_mm = one_way;
      l = look_at (d, 72);
      g_assert_false (fw_spring_for (l->turn, l->mech, (FwPart){ FW_PART_BODY, 0 }, &spring));
      look_free (l);
      d->body.offset_mm = open;
      l = look_at (d, 72);
      g_assert_false (fw_spring_for (l->turn, l->mech, (FwPart){ FW_PART_BODY, 0 }, &spring));
      look_free (l);
      build_fixed (d, 0, 0, 300, 0);
      l = look_at (d, 72);
      g_assert_false (fw_spring_for (l->turn, l->mech, (FwPart){ FW_PART_BODY, 0 }, &spring)); /* no joint */
      look_free (l);
      fw_design_free (d);
    }
  g_assert_true (pulls[0] != pulls[1]);
}

static void
test_counterweight (void)
{
  FwDesign *(*const designs[]) (void) = { fast_neck, swaying_post };
  for (int i = 0; i < 2; i++)
    {
      FwDesign *d = designs[i]();
      Look *now = look_at (d, 360);
      g_assert_cmpint (now->list.n, >, 0);
      const FwTrouble t = now->room[0];
      FwCounterweight weight;
      bool found = fw_counterweight_for (d, &t, &weight, NULL, NULL);
      g_test_message ("design %d: %s, %g g at %g %g %g on %d", i, found ? "found" : "none",
                      found ? weight.mass_g : 0, weight.at_mm.x, weight.at_mm.y, weight.at_mm.z,
                      weight.panel);
      if (found)
        {
          g_assert_true (fw_counterweight_fit (d, &weight));
          Look *with = look_at (d, 720);
          g_assert_null (find_twin (with, &t));
          look_free (with);
        }
      g_assert_true (found);
      look_free (now);
      fw_design_free (d);
    }
}

/* A rod from the body, with play: a spring between its own ends, whose pull is steady. */
static FwDesign *
flapping_tip (void)
{
  FwDesign *d = build_heron ();
  d->crank.turns_per_minute = 130;
  d->rods[1].play_mm = 0.8;
  return d;
}

static void
test_spring_fits (void)
{
  FwDesign *(*const designs[]) (void) = { fast_neck, swaying_post, flapping_tip };
  for (int i = 0; i < 3; i++)
    {
      FwDesign *d = designs[i]();
      Look *now = look_at (d, 360);
      g_assert_cmpint (now->list.n, >, 0);
      const FwTrouble t = now->room[0];
      g_assert_cmpint (t.kind, ==, FW_LOAD_REVERSAL);
      FwSpringFit fit;
      g_assert_true (fw_spring_fit_for (d, &t, &fit, NULL, NULL));
      g_test_message ("design %d: %g N/mm, free %g mm, pulls %g to %g N, peak %g (was %g), %s", i, fit.spring.rate_Npmm,
                      fit.spring.free_mm, fit.least_N, fit.most_N, fit.peak_N, fit.peak_before_N,
                      fit.keeps_sign ? "one sign" : "quiet");
      g_assert_cmpfloat (fit.least_N * fit.most_N, >, 0);
      if (i == 2)
        assert_near (fit.least_N, fit.most_N, 1e-6);
      g_assert_true (fw_spring_fit (d, &fit));
      g_assert_true (fw_spring_fit (d, &fit)); /* a second one gets a name of its own */
      g_assert_cmpstr (d->springs[0].name, ==, "spring");
      g_assert_cmpstr (d->springs[1].name, ==, "spring 2");
      free (d->springs[--d->n_springs].name);
      Look *with = look_at (d, 720);
      g_assert_null (find_twin (with, &t));
      look_free (with);
      look_free (now);
      fw_design_free (d);
    }
}

/* More joints that knock, each its own place for a spring or a weight. */
static FwDesign *
rail_with_play (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.turns_per_minute = 60;
  build_rail (d, build_throw (d, "pin", 30, 0, 0), 120, 0);
  d->body.mass_g = 800;
  d->body.play_mm = 1;
  return d;
}

static FwDesign *
rocker_with_play (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  d->crank.turns_per_minute = 70;
  build_rocker (d, build_throw (d, "pin", 20, 0, 0), 400, 200, 200, 200, 200);
  d->body.mass_g = 900;
  d->body.gyration_mm = 120;
  d->body.play_mm = 1;
  return d;
}

static FwDesign *
swaying_along (void)
{
  FwDesign *d = swaying_post ();
  d->crank.runs = FW_RUNS_ALONG;
  return d;
}

static FwDesign *
neck_along (void)
{
  FwDesign *d = fast_neck ();
  d->crank.runs = FW_RUNS_ALONG;
  d->panels[0].reach = FW_REACH_SIDE;
  d->panels[0].side = d->rods[0].side = FW_SIDE_RIGHT;
  d->rods[0].mass_g = 8;
  return d;
}

/* As the tip, but its rod is drawn where the other is pushed. */
static FwDesign *
tip_from_below (void)
{
  FwDesign *d = flapping_tip ();
  d->rods[1].from.at_mm.z = 60;
  d->rods[1].at_mm.z = 30;
  return d;
}

static void
test_more_fits (void)
{
  FwDesign *(*const designs[]) (void) = { rail_with_play, rocker_with_play, swaying_along, neck_along, tip_from_below };
  int springs = 0, weights = 0;
  for (int i = 0; i < 5; i++)
    {
      FwDesign *d = designs[i]();
      Look *now = look_at (d, 360);
      g_assert_cmpint (now->list.n, >, 0);
      const FwTrouble t = now->room[0];
      g_assert_cmpint (t.kind, ==, FW_LOAD_REVERSAL);
      FwSpringFit fit;
      FwCounterweight weight;
      bool spring = fw_spring_fit_for (d, &t, &fit, NULL, NULL), lump = fw_counterweight_for (d, &t, &weight, NULL, NULL);
      g_test_message ("design %d, part %d: spring %d (%g to %g N, cord %d), weight %d (%g g)", i, t.part.kind, spring,
                      spring ? fit.least_N : 0, spring ? fit.most_N : 0, spring && fit.spring.cord, lump, lump ? weight.mass_g : 0);
      for (int way = 0; way < 2; way++)
        {
          if (!(way == 0 ? spring : lump))
            continue;
          FwDesign *with = fw_design_copy (d);
          g_assert_true (way == 0 ? fw_spring_fit (with, &fit) : fw_counterweight_fit (with, &weight));
          Look *l = look_at (with, 720);
          g_assert_null (find_twin (l, &t));
          look_free (l);
          fw_design_free (with);
        }
      springs += spring ? 1 : 0;
      weights += lump ? 1 : 0;
      look_free (now);
      fw_design_free (d);
    }
  g_assert_cmpint (springs, >=, 2);
  g_assert_cmpint (weights, >=, 1);
}

/* A hinge that knocks is mended by a closer fit, a slower turn or a lump on its panel, and by no spring along it. */
static void
test_loose_hinge (void)
{
  FwDesign *d = build_heron ();
  d->crank.turns_per_minute = 140;
  d->panels[1].play_mm = 0.8;
  Look *now = look_at (d, 360);
  const FwTrouble *t = NULL;
  for (int i = 0; i < now->list.n && t == NULL; i++)
    if (now->room[i].kind == FW_LOAD_REVERSAL)
      t = &now->room[i];
  g_assert_nonnull (t);
  g_assert_cmpint (t->part.kind, ==, FW_PART_MEMBER);
  FwRemedy list[12];
  int n = fw_remedies (d, t, list, 12, NULL, NULL);
  g_assert_nonnull (by_kind (list, n, FW_PARAM_PANEL_PLAY));
  for (int i = 0; i < n; i++)
    assert_mends (d, t, &list[i]);
  FwSpringFit spring;
  g_assert_false (fw_spring_fit_for (d, t, &spring, NULL, NULL));
  FwCounterweight weight;
  bool found = fw_counterweight_for (d, t, &weight, NULL, NULL);
  g_test_message ("%d remedies, weight: %d", n, found);
  if (found)
    {
      g_assert_true (fw_counterweight_fit (d, &weight));
      Look *with = look_at (d, 720);
      g_assert_null (find_twin (with, t));
      look_free (with);
    }
  look_free (now);
  fw_design_free (d);
}

/* Fitted, it weighs and turns as a point mass beside the panel. */
static void
test_counterweight_fits (void)
{
  FwDesign *d = fast_neck ();
  d->panels[0].centre_mm.z = 7;
  FwInertia sum = fw_inertia_add (fw_inertia_panel (&d->panels[0]),
                                  fw_inertia_point (35, fw_vec3 (-50, 12, 7)));
  FwCounterweight w = { .panel = 0, .mass_g = 35, .at_mm = { -50, 12, 7 } };
  g_assert_true (fw_counterweight_fit (d, &w));
  FwInertia got = fw_inertia_panel (&d->panels[0]);
  assert_near (got.mass_g, sum.mass_g, 1e-9);
  assert_near (fw_vec3_distance (got.moment_gmm, sum.moment_gmm), 0, 1e-6);
  assert_near (got.uu, sum.uu, 1e-6);
  assert_near (got.vv, sum.vv, 1e-6);
  assert_near (got.ww, sum.ww, 1e-6);
  assert_near (got.uv, sum.uv, 1e-6);
  assert_near (got.vw, sum.vw, 1e-6);
  assert_near (got.wu, sum.wu, 1e-6);
  w.panel = FW_ON_BODY;
  g_assert_true (fw_counterweight_fit (d, &w));
  g_assert_cmpint (d->body.n_lumps, ==, 1);
  assert_near (d->body.lumps[0].mass_g, 35, 0);
  fw_design_free (d);
}

/* Who shows the bounces gets them with the knocks that they make: looked for once, the same. */
static void
test_bounces_with_trouble (void)
{
  FwDesign *d = knocking_heron ();
  d->rods[0].play_mm = 0.6;
  d->panels[1].play_mm = 0.6;
  Look *l = look_at (d, 360);
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  FwBounce given[FW_MOST_BOUNCES], found[FW_MOST_BOUNCES];
  memset (given, 0, sizeof given);
  memset (found, 0, sizeof found);
  int n = fw_load_trouble_and_bounces (l->turn, l->mech, given, &list);
  g_assert_cmpint (n, >, 0);
  g_assert_cmpint (fw_bounces (l->turn, l->mech, found, FW_MOST_BOUNCES), ==, n);
  for (int i = 0; i < n; i++)
    {
      g_assert_true (fw_part_equal (given[i].part, found[i].part));
      assert_near (given[i].crank, found[i].crank, 0);
      assert_near (given[i].speed_mps, found[i].speed_mps, 0);
    }
  g_assert_cmpint (list.n, ==, l->list.n);
  for (int i = 0; i < list.n; i++)
    g_assert_true (fw_trouble_same (&list.items[i], &l->list.items[i]));
  look_free (l);
  fw_design_free (d);
}

static bool
stop_now (void *data)
{
  return true;
}

static void
test_stops (void)
{
  FwDesign *d = fast_neck ();
  Look *now = look_at (d, 360);
  FwRemedy list[4];
  FwCounterweight w;
  g_assert_cmpint (fw_remedies (d, &now->room[0], list, 4, stop_now, NULL), ==, 0);
  g_assert_false (fw_counterweight_for (d, &now->room[0], &w, stop_now, NULL));
  FwSpringFit fit;
  g_assert_false (fw_spring_fit_for (d, &now->room[0], &fit, stop_now, NULL));
  FwTrouble other = now->room[0];
  other.kind = FW_PINCH;
  g_assert_cmpint (fw_remedies (d, &other, list, 4, NULL, NULL), ==, 0);
  look_free (now);
  fw_design_free (d);
}

static bool
stop_at_once (void *data)
{
  ++*(int *)data;
  return true;
}

/* Each search asks whether it is to stop before it tries anything, and then finds nothing. */
static void
test_stops_when_told (void)
{
  FwDesign *designs[] = { fast_neck (), knocking_heron (), swaying_post () };
  for (int i = 0; i < 3; i++)
    {
      Look *l = look_at (designs[i], 360);
      const FwTrouble *t = NULL;
      for (int k = 0; k < l->list.n && t == NULL; k++)
        if (l->room[k].kind == FW_LOAD_REVERSAL)
          t = &l->room[k];
      g_assert_nonnull (t);
      FwRemedy list[4];
      FwSpringFit spring;
      FwCounterweight weight;
      int asked = 0;
      g_assert_cmpint (fw_load_remedies (designs[i], t, list, 4, stop_at_once, &asked), ==, 0);
      g_assert_cmpint (asked, >, 0);
      g_assert_false (fw_counterweight_for (designs[i], t, &weight, stop_at_once, &asked));
      g_assert_false (fw_spring_fit_for (designs[i], t, &spring, stop_at_once, &asked));
      /* Of another kind of trouble none is known. */
      FwTrouble other = *t;
      other.kind = FW_WEAK_PUSH;
      g_assert_cmpint (fw_load_remedies (designs[i], &other, list, 4, NULL, NULL), ==, 0);
      g_assert_cmpint (fw_load_remedies (designs[i], t, list, 1, NULL, NULL), <=, 1); /* no more than there is room for */
      g_assert_false (fw_counterweight_for (designs[i], &other, &weight, NULL, NULL));
      g_assert_false (fw_spring_fit_for (designs[i], &other, &spring, NULL, NULL));
      look_free (l);
      fw_design_free (designs[i]);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/load remedies/every remedy for a knocking rod holds on a finer turn",
                   test_neck_remedies);
  g_test_add_func ("/load remedies/every remedy for a knocking post holds on a finer turn",
                   test_heron_remedies);
  g_test_add_func ("/load remedies/every remedy for over-run holds on a finer turn",
                   test_over_run_remedies);
  g_test_add_func ("/load remedies/the speed and the fit that are found lie at the edge",
                   test_speed_is_the_edge);
  g_test_add_func ("/load remedies/the weakest spring just keeps one sign", test_spring);
  g_test_add_func ("/load remedies/a counterweight that is found quietens the joint",
                   test_counterweight);
  g_test_add_func ("/load remedies/a spring that is fitted quietens the joint", test_spring_fits);
  g_test_add_func ("/load remedies/a counterweight weighs and turns as a lump does",
                   test_counterweight_fits);
  g_test_add_func ("/load remedies/bounces are handed out with the knocks that they make", test_bounces_with_trouble);
  g_test_add_func ("/load remedies/a search stops when asked", test_stops);
  g_test_add_func ("/load remedies/searches stop when told, and know their kind of trouble", test_stops_when_told);
  g_test_add_func ("/load remedies/the weakest spring beside a rail is as strong as the weaker push against it", test_spring_for_rail);
  g_test_add_func ("/load remedies/springs and weights that are found quieten rails, links and wings along", test_more_fits);
  g_test_add_func ("/load remedies/a loose hinge is mended by a closer fit", test_loose_hinge);
  return g_test_run ();
}
