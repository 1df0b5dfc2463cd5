/* What helps: effects against trying, reach against the trouble that comes. */
#include "aim/helps.h"

#include <math.h>

#include "build_design.h"
#include "near.h"

#define ROOM 400

static FwHelpOf
of_text (const FwDesign *design, const char *text)
{
  GError *error = NULL;
  FwHelpOf of;
  fw_help_parse (design, text, &of, &error);
  g_assert_no_error (error);
  return of;
}

static double
value_with (const FwDesign *design, FwParam param, double step, const FwHelpOf *of)
{
  FwDesign *copy = fw_design_copy (design);
  fw_param_set (copy, param, fw_param_get (copy, param) + step);
  double value = fw_help_value (copy, of);
  fw_design_free (copy);
  return value;
}

static void
test_effects_are_true (void)
{
  FwDesign *d = build_heron ();
  d->panels[0].sweep_deg = 8; /* or its rod would never bend at its joint */
  d->panels[1].cant_deg = -5;
  const char *texts[] = { "inner.top", "outer.bottom", "outer.angle@77", "inner@10", "inrod.push", "outrod.lean", "inrod.bend",
                          "body.z.top", "body.tilt@30", "body.h@100", "inner.rate@30", "torque" };
  for (gsize t = 0; t < G_N_ELEMENTS (texts); t++)
    {
      FwHelpOf of = of_text (d, texts[t]);
      FwHelp list[ROOM];
      int n = fw_helps (d, &of, list, ROOM, 0, NULL, NULL);
      g_assert_cmpint (n, >, 2);
      gboolean exact = t < 10;
      for (int i = 0; i < n; i++)
        {
          double lower, upper;
          fw_param_limits (d, list[i].param, &lower, &upper);
          if (list[i].value - 2e-3 < lower) /* has one side only, such as friction from none */
            continue;
          double h = 2e-3, by = (value_with (d, list[i].param, h, &of) - value_with (d, list[i].param, -h, &of)) / (2 * h);
          g_assert_cmpint (list[i].exact, ==, exact);
          assert_near (list[i].effect, by, exact ? 1e-6 * (1 + fabs (by)) : 1e-3 * fabs (by) + 1e-6);
        }
    }
  fw_design_free (d);
}

static void
test_strongest_first (void)
{
  FwDesign *d = build_heron ();
  FwHelpOf of = of_text (d, "inner.top");
  FwHelp all[ROOM], few[3];
  int n = fw_helps (d, &of, all, ROOM, 0, NULL, NULL);
  g_assert_cmpint (fw_helps (d, &of, few, 3, 0, NULL, NULL), ==, 3);
  for (int i = 0; i < 3; i++)
    g_assert_true (fw_param_equal (all[i].param, few[i].param));
  for (int i = 1; i < n; i++)
    if (fw_param_unit (all[i].param) == FW_UNIT_MM && fw_param_unit (all[i - 1].param) == FW_UNIT_MM)
      g_assert_cmpfloat (fabs (all[i - 1].effect), >=, fabs (all[i].effect));
  fw_design_free (d);
}

static gboolean
has_trouble (const FwDesign *design, FwParam param, double value)
{
  return fw_try_value (design, param, value) != FW_TRIAL_FREE;
}

/* A single wing that is free of trouble: the reach ends where fw_try_value () says that it comes. */
static void
test_reach (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "t", 20, 0, 0);
  build_fixed (d, 0, 0, 300, 0);
  int panel = build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 200);
  build_rod (d, "rod", FW_SIDE_RIGHT, from_throw (0), panel, fw_vec3 (80, 0, 0), 320, 0);
  FwHelpOf of = of_text (d, "wing.top");
  FwHelp list[ROOM];
  int n = fw_helps (d, &of, list, ROOM, 4, NULL, NULL), ended = 0;
  g_assert_cmpint (n, >, 4);
  for (int i = 0; i < 4; i++)
    {
      const FwHelp *h = &list[i];
      double lower, upper;
      fw_param_range (d, h->param, &lower, &upper);
      double slack = (upper - lower) / 200;
      g_assert_true (h->has_reach && h->from <= h->value && h->to >= h->value);
      g_assert_false (has_trouble (d, h->param, h->from + slack));
      g_assert_false (has_trouble (d, h->param, h->to - slack));
      if (!h->from_open)
        g_assert_true (has_trouble (d, h->param, h->from - slack));
      if (!h->to_open)
        g_assert_true (has_trouble (d, h->param, h->to + slack));
      ended += !h->from_open + !h->to_open;
    }
  g_assert_false (list[0].has_reach && list[4].has_reach);
  g_assert_cmpint (ended, >=, 3);
  fw_design_free (d);
}

/* A rod that is too short: what is missing shrinks by a millimetre for each that it is lengthened. */
static void
test_trouble (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "t", 20, 0, 0);
  build_fixed (d, 0, 0, 300, 0);
  int panel = build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 200);
  build_rod (d, "rod", FW_SIDE_RIGHT, from_throw (0), panel, fw_vec3 (80, 0, 0), 238, -80);
  FwMechanism *mech = NULL;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList found = { .items = room, .capacity = FW_TROUBLE_ROOM };
  g_assert_cmpint (fw_mechanism_build (d, &mech, NULL), ==, FW_OK);
  FwTurn *turn = fw_turn_new (mech, 360);
  fw_turn_solve (turn, mech);
  fw_trouble_find (turn, mech, &found);
  g_assert_cmpint (found.n, >, 0);
  g_assert_cmpint (room[0].kind, ==, FW_CANNOT_CLOSE);
  FwHelpOf of = { .kind = FW_HELP_TROUBLE, .trouble = room[0] };
  FwHelp list[ROOM];
  int n = fw_helps (d, &of, list, ROOM, 0, NULL, NULL), seen = 0;
  for (int i = 0; i < n; i++)
    if (list[i].param.kind == FW_PARAM_ROD_LENGTH || list[i].param.kind == FW_PARAM_THROW_RADIUS)
      {
        assert_near (list[i].effect, list[i].param.kind == FW_PARAM_ROD_LENGTH ? -1 : 1, 1e-6);
        seen++;
      }
  g_assert_cmpint (seen, ==, 2);
  free (turn);
  fw_mechanism_free (mech);
  fw_design_free (d);
}

static void
test_refusals (void)
{
  FwDesign *d = build_heron ();
  const char *texts[] = { "", "inner", "inner@", "inner@x", "inner@nan", "nobody.top", "inrod.pull", "@90", "torque@90", "body.z" };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      GError *error = NULL;
      FwHelpOf of;
      g_assert_false (fw_help_parse (d, texts[i], &of, &error));
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
      g_error_free (error);
    }
  fw_design_free (d);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/helps/effects are what trying shows", test_effects_are_true);
  g_test_add_func ("/helps/the strongest come first", test_strongest_first);
  g_test_add_func ("/helps/each number goes as far as no new trouble comes", test_reach);
  g_test_add_func ("/helps/a rod that is too short lacks a millimetre less for each that it gets", test_trouble);
  g_test_add_func ("/helps/what cannot be understood is refused", test_refusals);
  return g_test_run ();
}
