/* A guided start works for every combination of its answers. */
#include "support.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/trouble.h"
#include "doc/guided.h"
#include "doc/words.h"

#define DEG (G_PI / 180)
#define STEPS 720 /* finer than the search looks */

typedef struct
{
  double top, bottom;
} Swing;

/* Solves the design anew, and holds it against what was asked. */
static void
assert_flaps (const char *text, const FwGuide *guide)
{
  FwDocument *doc = test_open (text);
  const FwDesign *design = fw_document_design (doc);
  FwMechanism *mechanism = NULL;
  g_assert_cmpint (fw_mechanism_build (design, &mechanism, NULL), ==, FW_OK);
  FwTurn *turn = fw_turn_new (mechanism, STEPS);
  fw_turn_solve (turn, mechanism);
  g_assert_true (fw_turn_closes (turn, mechanism));

  FwTroubleList list = { .items = g_new (FwTrouble, FW_TROUBLE_ROOM), .capacity = FW_TROUBLE_ROOM };
  fw_trouble_find (turn, mechanism, &list);
  for (int i = 0; i < list.n; i++)
    if (list.items[i].severity >= FW_WARNING)
      g_error ("%s\n%s", fw_words_trouble (mechanism, &list.items[i], FW_LENGTHS_MM), text);
  g_free (list.items);

  int sides = guide->both_sides ? 2 : 1;
  g_assert_cmpint (mechanism->n_members, ==, sides * guide->panels_a_side);
  g_assert_cmpint (mechanism->n_links, ==, sides * guide->panels_a_side);
  for (int side = 0; side < sides; side++)
    {
      FwExtreme low, high;
      FwQuantity angle = { FW_Q_ANGLE, side };
      g_assert_true (fw_turn_extremes (turn, mechanism, angle, &low, &high));
      g_assert_cmpfloat_with_epsilon (low.value / DEG, guide->bottom_deg, 2.5);
      g_assert_cmpfloat_with_epsilon (high.value / DEG, guide->top_deg, 2.5);
    }
  for (int i = 0; i < mechanism->n_members; i++)
    {
      FwExtreme low, high;
      g_assert_true (
          fw_turn_extremes (turn, mechanism, (FwQuantity){ FW_Q_ANGLE, i }, &low, &high));
      g_assert_cmpfloat (high.value - low.value, >, 0.5 * DEG); /* it moves */
    }

  double reach = design->panels[0].hinge_mm.x;
  for (int i = 0; i < design->n_panels; i++)
    {
      reach += design->panels[i].span_mm;
      g_assert_cmpint (design->panels[i].n_outline, >=, 6);
      g_assert_true (design->panels[i].has_stops);
    }
  g_assert_cmpfloat_with_epsilon (2 * reach, guide->span_mm, guide->span_mm / 200);
  g_assert_cmpint (design->crank.runs, ==, guide->runs);
  g_assert_cmpint (design->body.ride, ==, guide->ride);
  g_assert_cmpfloat (design->base.plate_mm[0], >, 0);
  free (turn);
  fw_mechanism_free (mechanism);
  fw_document_free (doc);
}

static void
try_all (FwRuns runs, FwRide ride)
{
  static const double spans[] = { 60, 320, 900, 6000 };
  static const Swing swings[] = { { 30, -25 }, { 20, -20 }, { 40, -10 }, { 35, -35 }, { 10, -30 } };

  for (int panels = 1; panels <= 3; panels++)
    for (int both = 0; both < 2; both++)
      for (gsize s = 0; s < G_N_ELEMENTS (swings); s++)
        {
          FwGuide guide = { .span_mm = spans[(s + (gsize)panels) % G_N_ELEMENTS (spans)],
                            .both_sides = both,
                            .panels_a_side = panels,
                            .runs = runs,
                            .ride = ride,
                            .top_deg = swings[s].top,
                            .bottom_deg = swings[s].bottom };
          char *text = NULL;
          GError *error = NULL;
          if (!fw_guided_design (&guide, "Try", &text, &error))
            g_error ("span %g, %d panels, both %d, runs %d, ride %d, %g to %g: %s", guide.span_mm,
                     panels, both, runs, ride, guide.bottom_deg, guide.top_deg, error->message);
          assert_flaps (text, &guide);
          g_free (text);
        }
}

static void
works_for (gconstpointer data)
{
  int which = GPOINTER_TO_INT (data);
  try_all ((FwRuns)(which / 4), (FwRide)(which % 4));
}

static void
keeps_its_title (void)
{
  FwGuide guide = { 900, TRUE, 2, FW_RUNS_ACROSS, FW_RIDE_SLEEVE, 30, -25 };
  char *text;

  g_assert_true (fw_guided_design (&guide, "A \"heron\"\n", &text, NULL));
  FwDocument *doc = test_open (text);
  g_assert_cmpstr (fw_document_title (doc), ==, "A \"heron\"\n");
  fw_document_free (doc);
  g_free (text);
}

static void
refuses_answers_that_make_no_sense (void)
{
  const FwGuide good = { 900, TRUE, 2, FW_RUNS_ACROSS, FW_RIDE_SLEEVE, 30, -25 };
  FwGuide bad[9];
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    bad[i] = good;
  bad[0].span_mm = 59;
  bad[1].span_mm = 6001;
  bad[2].span_mm = NAN;
  bad[3].panels_a_side = 0;
  bad[4].panels_a_side = 4;
  bad[5].top_deg = -25;
  bad[6].top_deg = NAN;
  bad[7].bottom_deg = -INFINITY;
  bad[8].top_deg = 80, bad[8].bottom_deg = -80;

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      char *text = NULL;
      GError *error = NULL;
      g_assert_false (fw_guided_design (&bad[i], "Try", &text, &error));
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
      g_assert_null (strchr (error->message, '\n'));
      g_assert_null (text);
      g_error_free (error);
    }
}

int
main (int argc, char **argv)
{
  static const char *const runs[] = { "across", "along" };
  static const char *const rides[] = { "fixed", "rail", "sleeve", "rocker" };

  g_test_init (&argc, &argv, NULL);
  for (int i = 0; i < 8; i++)
    {
      char *path = g_strdup_printf ("/doc/guided/works-%s-%s", runs[i / 4], rides[i % 4]);
      g_test_add_data_func (path, GINT_TO_POINTER (i), works_for);
      g_free (path);
    }
  g_test_add_func ("/doc/guided/keeps-its-title", keeps_its_title);
  g_test_add_func ("/doc/guided/refuses-answers-that-make-no-sense",
                   refuses_answers_that_make_no_sense);
  return g_test_run ();
}
