/* The crank as built: lengths in closed form, a bent blank walked bend by bend, and the
 * heron's crank as it is added up by hand in docs/workshop.md. */
#include <glib.h>
#include <math.h>
#include <string.h>

#include "core/making.h"
#include "crank_case.h"
#include "doc/document.h"
#include "shop/letters.h"

/* ---- Elbows ---- */

/* 3/8 in of take-off and 1/2 in of cup: 2 (9.525 + 12.7) = 44.45 mm. */
static void
shortest_web_of_half_inch_elbows_is_44_45 (void)
{
  FwCrankBuild make = { .make = FW_MAKE_ELBOWS, .pipe_mm = 15.875 };
  fw_making_complete (&make);
  NEAR (fw_build_shortest (&make, FALSE), 44.45, 1e-9);
}

static void
tubes_between_elbows_are_shorter_by_two_take_offs (void)
{
  Case c = crank (FW_MAKE_ELBOWS, 15.875);
  int t = build_throw (c.design, "mid", 60, 0, 0);
  c.design->crank.throws[t].width_mm = 30;
  solve (&c);
  g_assert_cmpint (c.build->n_pieces, ==, 5);
  NEAR (piece (c.build, FW_BUILT_WEB, 0)->cut_mm, 60 - 2 * 9.525, 1e-9);
  NEAR (piece (c.build, FW_BUILT_PIN, 0)->centre_mm, 30 + 2 * 22.225, 1e-9);
  NEAR (piece (c.build, FW_BUILT_PIN, 0)->cut_mm, 30 + 2 * 12.7, 1e-9); /* clear length and two cups */
  /* Axis: elbow centre at 15 + 22.225, end at bearing 200 + 5 + 15. */
  NEAR (piece (c.build, FW_BUILT_AXIS, 1)->cut_mm, 220 - 37.225 - 9.525, 1e-9);
  g_assert_cmpint (c.build->fits[0].kind, ==, FW_FIT_ELBOW);
  g_assert_cmpint (c.build->fits[0].count, ==, 4);
  g_assert_cmpint (c.build->troubles.n, ==, 0);
  done (&c);
}

static void
a_throw_just_too_short_for_its_elbows_is_told (void)
{
  Case c = crank (FW_MAKE_ELBOWS, 15.875);
  int t = build_throw (c.design, "mid", 44.45, 30, 0);
  solve (&c);
  g_assert_cmpint (c.build->troubles.n, ==, 0);
  c.design->crank.throws[t].radius_mm = 44.44;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_THROW_TOO_SHORT), ==, 1);
  NEAR (c.build->troubles.items[0].value, 44.44, 1e-9);
  NEAR (c.build->troubles.items[0].limit, 44.45, 1e-9);
  done (&c);
}

static void
pin_to_pin_the_web_spans_the_distance_at_their_phases (void)
{
  Case c = crank (FW_MAKE_ELBOWS, 15.875);
  build_throw (c.design, "a", 50, 0, -40);
  build_throw (c.design, "b", 50, 90, 40);
  c.design->crank.build.returns = false;
  solve (&c);
  const FwBuiltPiece *web = piece (c.build, FW_BUILT_WEB, 1);
  NEAR (web->centre_mm, 50 * sqrt (2), 1e-9);
  NEAR (web->cut_mm, 50 * sqrt (2) - 19.05, 1e-9);
  NEAR (web->phase_deg, 135, 1e-9); /* from the top of the circle to its front: down and forward */
  NEAR (web->from_mm, 0, 1e-9);
  g_assert_cmpint (c.build->troubles.n, ==, 0);
  /* The pins grow to meet the web: from 20 to the elbow's face at 22.225 from the middle. */
  NEAR (c.build->throws[0].to_mm, -22.225, 1e-9);
  NEAR (c.build->throws[0].built_mm, -40, 1e-9);
  done (&c);
}

static void
a_bearing_between_brings_the_crank_back_to_the_axis (void)
{
  Case c = crank (FW_MAKE_ELBOWS, 15.875);
  build_throw (c.design, "a", 50, 0, -80);
  build_throw (c.design, "b", 50, 90, 80);
  c.design->crank.build.returns = false;
  c.design->base.bearings_mm[0] = 0;
  solve (&c);
  g_assert_cmpint (c.build->n_throws, ==, 2);
  NEAR (piece (c.build, FW_BUILT_AXIS, 1)->centre_mm, 160 - 20 - 2 * 22.225, 1e-9);
  done (&c);
}

static void
elbows_without_room_collide_and_move_the_throws (void)
{
  Case c = crank (FW_MAKE_ELBOWS, 15.875);
  build_throw (c.design, "a", 50, 0, -20);
  build_throw (c.design, "b", 50, 90, 20);
  c.design->crank.build.returns = false;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_THROWS_COLLIDE), ==, 1);
  NEAR (c.build->troubles.items[0].value, 20, 1e-9);
  NEAR (c.build->troubles.items[0].limit, 44.45, 1e-9);
  NEAR (c.build->throws[1].built_mm, 20 + 24.45 / 2, 1e-9);
  NEAR (c.build->throws[0].built_mm, -20 - 24.45 / 2, 1e-9);
  done (&c);
}

/* ---- Bolted ---- */

static void
bolted_webs_lie_flat_and_move_stations_by_their_thickness (void)
{
  Case c = crank (FW_MAKE_BOLTED, 10);
  build_throw (c.design, "a", 30, 0, -16);
  build_throw (c.design, "b", 30, 180, 16);
  solve (&c); /* 12 mm between the pins, two webs of 6 */
  g_assert_cmpint (c.build->troubles.n, ==, 0);
  g_assert_cmpint (c.build->n_pieces, ==, 8); /* two axis ends, two pins, four webs; no axis between */
  NEAR (piece (c.build, FW_BUILT_WEB, 0)->cut_mm, 30 + 20, 1e-9);
  NEAR (piece (c.build, FW_BUILT_PIN, 0)->cut_mm, 20, 1e-9);
  c.design->crank.throws[0].station_mm = -14;
  c.design->crank.throws[1].station_mm = 14;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_THROWS_COLLIDE), ==, 1);
  g_assert_cmpint (c.build->troubles.items[0].severity, ==, FW_WARNING);
  NEAR (c.build->throws[0].built_mm, -16, 1e-9);
  NEAR (c.build->throws[1].built_mm, 16, 1e-9);
  done (&c);
}

/* ISO 4032, M6: 10 mm across flats (from memory). */
static void
bolted_webs_need_room_for_nut_and_pipe (void)
{
  FwCrankBuild make = { .make = FW_MAKE_BOLTED, .pipe_mm = 10 };
  fw_making_complete (&make);
  NEAR (fw_build_shortest (&make, FALSE), (10 / cos (G_PI / 6) + 10) / 2, 1e-9);
}

static void
nuts_of_neighbouring_throws_need_room_between_their_webs (void)
{
  Case c = crank (FW_MAKE_BOLTED, 10);
  build_throw (c.design, "a", 30, 0, -16);
  build_throw (c.design, "b", 30, 10, 16); /* almost the same way: nut against web */
  solve (&c);
  g_assert_cmpint (count (c.build, FW_THROWS_COLLIDE), ==, 1);
  double nut = 1.6 + 5.2 + 2; /* ISO 7089 washer, ISO 4032 nut, two turns of 1 mm */
  NEAR (c.build->troubles.items[0].limit, 12 + 2 * nut, 1e-9);
  done (&c);
}

/* ---- Bent ---- */

static void
a_bent_blank_is_its_straights_and_its_bends (void)
{
  Case c = crank (FW_MAKE_BENT, 3);
  build_throw (c.design, "mid", 40, 0, 0);
  c.design->crank.build.bend_radius_mm = 6;
  c.design->crank.build.neutral = 0.4;
  c.design->crank.build.open_eyes = c.design->crank.build.open_bearings = true;
  solve (&c);
  double bend = G_PI / 2 * (4.5 + 0.4 * 3), axis = 220 - 10 - 12, web = 40 - 12;
  NEAR (c.build->allowance_mm, bend, 1e-9);
  g_assert_cmpint (c.build->n_bends, ==, 4);
  NEAR (piece (c.build, FW_BUILT_WIRE, 0)->cut_mm, 2 * axis + 2 * web + 20 + 4 * bend, 1e-9);
  const double marks[] = { axis, axis + bend + web, axis + 2 * bend + web + 20, axis + 3 * bend + 2 * web + 20 };
  const double rolls[] = { 0, 180, 0, 180 };
  for (int i = 0; i < 4; i++)
    {
      NEAR (c.build->bends[i].mark_mm, marks[i], 1e-9);
      NEAR (fabs (c.build->bends[i].roll_deg), rolls[i], 1e-6);
    }
  NEAR (fw_build_shortest (&c.build->make, FALSE), 2 * 6 + 3, 1e-9);
  done (&c);
}

static FwVec3
rotate (FwVec3 v, FwVec3 axis, double angle)
{
  FwVec3 along = fw_vec3_scale (axis, fw_vec3_dot (axis, v) * (1 - cos (angle)));
  FwVec3 across = fw_vec3_scale (fw_vec3_cross (axis, v), sin (angle));
  return fw_vec3_add (fw_vec3_add (fw_vec3_scale (v, cos (angle)), across), along);
}

/* Walks the blank as the maker bends it: straight, roll, quarter turn of the bend radius. */
static FwVec3
walk (const FwBuild *b)
{
  FwVec3 at = b->line[0], first = fw_vec3_sub (b->line[1], at), second = fw_vec3_sub (b->line[2], b->line[1]);
  FwVec3 along = fw_vec3_scale (first, 1 / fw_vec3_length (first));
  FwVec3 normal = fw_vec3_cross (along, fw_vec3_scale (second, 1 / fw_vec3_length (second)));
  double r = b->make.bend_radius_mm, end = 0;
  for (int i = 0; i < b->n_bends; i++)
    {
      at = fw_vec3_add (at, fw_vec3_scale (along, b->bends[i].leg_mm));
      normal = rotate (normal, along, b->bends[i].roll_deg * G_PI / 180);
      FwVec3 next = rotate (along, normal, b->bends[i].turn_deg * G_PI / 180);
      at = fw_vec3_add (at, fw_vec3_scale (fw_vec3_add (along, next), r));
      along = next;
      end = b->bends[i].mark_mm + b->allowance_mm;
    }
  return fw_vec3_add (at, fw_vec3_scale (along, b->pieces[0].cut_mm - end));
}

static void
bending_mark_by_mark_ends_where_the_crank_ends (void)
{
  for (int runs = 0; runs < 2; runs++)
    {
      Case c = crank (FW_MAKE_BENT, 2);
      c.design->crank.runs = runs == 0 ? FW_RUNS_ACROSS : FW_RUNS_ALONG;
      c.design->base.handle_mm = 35;
      build_throw (c.design, "a", 30, 17, -90);
      build_throw (c.design, "b", 22, 140, 0);
      build_throw (c.design, "c", 41, 263, 70);
      c.design->crank.build.returns = runs == 0;
      solve (&c);
      FwVec3 end = walk (c.build), last = c.build->line[c.build->n_line - 1];
      NEAR (fw_vec3_length (fw_vec3_sub (end, last)), 0, 1e-9);
      done (&c);
    }
}

static void
a_bend_tighter_than_its_throw_is_told (void)
{
  Case c = crank (FW_MAKE_BENT, 3); /* 2 x 4.5 + 3 */
  c.design->crank.build.open_eyes = c.design->crank.build.open_bearings = true;
  int t = build_throw (c.design, "mid", 12, 0, 0);
  solve (&c);
  g_assert_cmpint (c.build->troubles.n, ==, 0);
  c.design->crank.throws[t].radius_mm = 11.9;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_THROW_TOO_SHORT), ==, 1);
  done (&c);
}

/* ---- Tubes: published masses ---- */

/* Inch sizes: pounds per foot as the copper trade prints them (ASTM B88; those of type M and of 5/8 in
 * and up from memory), by pi (D - t) t and
 * 0.323 lb/in3. Metric: a maker's kg/m after EN 1057, by 8.9 kg/dm3. */
static void
named_tubes_weigh_what_is_published (void)
{
  int checked = 0;
  for (int i = 0; i < fw_tube_count (); i++)
    {
      const FwTube *t = fw_tube_nth (i);
      gboolean inch = strstr (t->name, " in ") != NULL;
      double density = inch ? 0.323 * 0.45359237 / pow (0.0254, 3) : 8900;
      double kgm = G_PI * (t->outside_mm - t->wall_mm) * t->wall_mm * 1e-6 * density;
      if (!(t->published_kgm > 0))
        continue;
      NEAR (kgm, t->published_kgm, inch ? 0.0006 * 1.488 : 0.0012);
      checked++;
    }
  g_assert_cmpint (checked, ==, 16);
}

/* "The outside diameter is 1/8 inch larger than the standard size" (trade tables of ASTM B88). */
static void
inch_tubes_are_an_eighth_larger_than_their_name (void)
{
  const FwTube *half = fw_tube_find ("1/2 in M"), *one = fw_tube_find ("1 in L");
  NEAR (half->outside_mm, (0.5 + 0.125) * 25.4, 1e-9);
  NEAR (one->outside_mm, 1.125 * 25.4, 1e-9);
  g_assert_null (fw_tube_find ("1/2 in"));
}

/* ---- The heron, added up by hand in docs/workshop.md ---- */

static void
the_herons_crank_is_as_added_up_by_hand (void)
{
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_document_load (FW_DEMOS "/heron.flap", &error);
  g_assert_no_error (error);
  FwMechanism *mech = NULL;
  g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), &mech, NULL), ==, FW_OK);
  FwBuild *b = fw_build_new (mech);
  static const struct
  {
    const char *name;
    double cut;
    int count;
  } rows[] = {
    { "Pin of body", 34, 1 },       { "Pin of arm", 27.5, 2 },  { "Pin of tip", 27.5, 2 },
    { "Web of body", 46, 2 },       { "Web of arm", 36, 2 },    { "Web of tip", 91, 2 },
    { "Web from arm to tip", 76.113, 2 }, { "Arm of the handle", 93, 1 }, { "Axis between body and arm", 106, 2 },
    { "Axis at the handle end", 47, 1 },  { "Axis at the far end", 47, 1 }, { "Grip of the handle", 90, 1 },
  };
  int total = 0;
  for (gsize r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      int found = 0;
      for (int i = 0; i < b->n_pieces; i++)
        {
          g_autofree char *name = fw_build_piece_name (b, &b->pieces[i]);
          if (strcmp (name, rows[r].name) != 0)
            continue;
          NEAR (b->pieces[i].cut_mm, rows[r].cut, 0.001);
          found++;
        }
      g_assert_cmpint (found, ==, rows[r].count);
      total += found;
    }
  g_assert_cmpint (total, ==, b->n_pieces);
  g_assert_cmpint (b->troubles.n, ==, 0);
  /* End to end along the axis: pieces and webs fill it without gap. */
  double filled = b->make.grip_mm;
  for (int i = 0; i < b->n_pieces; i++)
    {
      FwBuiltKind kind = b->pieces[i].kind;
      gboolean web = kind == FW_BUILT_WEB || kind == FW_BUILT_ARM;
      filled += web ? b->make.web_thickness_mm : kind == FW_BUILT_GRIP ? 0 : b->pieces[i].cut_mm;
    }
  NEAR (filled, b->line[b->n_line - 1].x - b->line[0].x, 1e-9);
  fw_build_free (b);
  fw_mechanism_free (mech);
  fw_document_free (doc);
}

/* ---- Letters ---- */

static void
letters_go_on_after_z (void)
{
  static const struct
  {
    int nth;
    const char *letter;
  } rows[] = { { 0, "A" }, { 25, "Z" }, { 26, "AA" }, { 51, "AZ" }, { 52, "BA" }, { 701, "ZZ" }, { 702, "AAA" } };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      char letter[8];
      fw_made_letter (rows[i].nth, letter);
      g_assert_cmpstr (letter, ==, rows[i].letter);
    }
}

static void
a_changed_length_changes_no_letter (void)
{
  Case c = { .design = build_heron () };
  solve (&c);
  FwMadeList *before = fw_made_list_new (c.mech, c.build);
  c.design->rods[0].length_mm += 1;
  c.design->crank.throws[0].radius_mm += 1;
  solve (&c);
  FwMadeList *after = fw_made_list_new (c.mech, c.build);
  g_assert_cmpint (before->n, ==, after->n);
  for (int i = 0; i < before->n; i++)
    {
      g_assert_cmpstr (before->items[i].letter, ==, after->items[i].letter);
      g_assert_cmpstr (before->items[i].name, ==, after->items[i].name);
    }
  fw_made_list_free (before);
  fw_made_list_free (after);
  done (&c);
}

/* ---- Odd designs ---- */

static void
all_finite (const FwBuild *b)
{
  for (int i = 0; i < b->n_pieces; i++)
    g_assert_true (isfinite (b->pieces[i].cut_mm) && b->pieces[i].cut_mm >= 0);
  for (int i = 0; i < b->n_bends; i++)
    g_assert_true (isfinite (b->bends[i].mark_mm) && isfinite (b->bends[i].roll_deg));
  for (int i = 0; i < b->n_throws; i++)
    g_assert_true (isfinite (b->throws[i].built_mm));
}

static void
odd_cranks_are_worked_out_without_harm (void)
{
  GRand *rand = g_rand_new_with_seed (20260925);
  for (int run = 0; run < 400; run++)
    {
      Case c = crank ((FwMake)(run % 3), g_rand_double_range (rand, 0.5, 30));
      int n = g_rand_int_range (rand, 0, 9);
      c.design->crank.runs = g_rand_boolean (rand) ? FW_RUNS_ACROSS : FW_RUNS_ALONG;
      c.design->crank.build.returns = g_rand_boolean (rand);
      c.design->base.handle_mm = g_rand_boolean (rand) ? 0 : 50;
      for (int i = 0; i < n; i++)
        {
          g_autofree char *name = g_strdup_printf ("t%d", i);
          double radius = g_rand_int_range (rand, 0, 4) * 15, station = g_rand_int_range (rand, -4, 5) * 20;
          int t = (g_rand_boolean (rand) ? build_throw : build_twin_throw) (c.design, name, radius, g_rand_int_range (rand, 0, 4) * 90, station);
          c.design->crank.throws[t].width_mm = g_rand_int_range (rand, 1, 60);
        }
      solve (&c);
      all_finite (c.build);
      /* In order, no pin over another. */
      for (int i = 0; i + 1 < c.build->n_throws; i++)
        g_assert_cmpfloat (c.build->throws[i].to_mm, <=, c.build->throws[i + 1].from_mm + 1e-9);
      g_auto (GStrv) steps = fw_build_assembly (c.build, c.mech);
      g_assert_nonnull (steps[0]);
      done (&c);
    }
  g_rand_free (rand);
}

static void
a_design_that_does_not_say_is_not_judged (void)
{
  Case c = { .design = build_design (FW_RUNS_ACROSS) };
  build_throw (c.design, "a", 2, 0, 0);
  solve (&c);
  FwTrouble room[8];
  FwTroubleList list = { .items = room, .capacity = 8 };
  g_assert_cmpint (c.build->troubles.n, >, 0);
  g_assert_true (c.build->assumed);
  fw_shop_trouble_find (c.mech, &list);
  g_assert_cmpint (list.n, ==, 0);
  done (&c);
}

#define ADD(name) g_test_add_func ("/build/" #name, name)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD (shortest_web_of_half_inch_elbows_is_44_45);
  ADD (tubes_between_elbows_are_shorter_by_two_take_offs);
  ADD (a_throw_just_too_short_for_its_elbows_is_told);
  ADD (pin_to_pin_the_web_spans_the_distance_at_their_phases);
  ADD (a_bearing_between_brings_the_crank_back_to_the_axis);
  ADD (elbows_without_room_collide_and_move_the_throws);
  ADD (bolted_webs_lie_flat_and_move_stations_by_their_thickness);
  ADD (bolted_webs_need_room_for_nut_and_pipe);
  ADD (nuts_of_neighbouring_throws_need_room_between_their_webs);
  ADD (a_bent_blank_is_its_straights_and_its_bends);
  ADD (bending_mark_by_mark_ends_where_the_crank_ends);
  ADD (a_bend_tighter_than_its_throw_is_told);
  ADD (named_tubes_weigh_what_is_published);
  ADD (inch_tubes_are_an_eighth_larger_than_their_name);
  ADD (the_herons_crank_is_as_added_up_by_hand);
  ADD (letters_go_on_after_z);
  ADD (a_changed_length_changes_no_letter);
  ADD (odd_cranks_are_worked_out_without_harm);
  ADD (a_design_that_does_not_say_is_not_judged);
  return g_test_run ();
}
