/* What forces, knocks, springs and counterweights are called; and hardware fitted to an open design. */
#include <math.h>
#include <string.h>

#include "core/inertia.h"
#include "doc/fitweight.h"
#include "doc/loadwords.h"
#include "doc/measurements.h"
#include "doc/partedit.h"
#include "doc/spread.h"
#include "support.h"

static FwMechanism *
built (const FwDocument *doc)
{
  FwMechanism *m = NULL;
  g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), &m, NULL), ==, FW_OK);
  return m;
}

static void
assert_said (char *said, const char *wanted)
{
  g_assert_cmpstr (said, ==, wanted);
  g_free (said);
}

/* Of the springs' design: throws mid and in (twins), links inrod.right, inrod.left, members inner.right, inner.left, tail. */
static void
each_load_has_a_name_a_part_and_a_unit (void)
{
  static const struct
  {
    FwQuantity q;
    const char *name;
    FwPart part;
    FwUnit unit;
    double factor;
  } loads[] = {
    { { FW_Q_TORQUE, 0 }, "Crank torque", { FW_PART_CRANK, 0 }, FW_UNIT_NM, 1 },
    { { FW_Q_HANDLE, 0 }, "Force at the handle", { FW_PART_CRANK, 0 }, FW_UNIT_N, 1 },
    { { FW_Q_FORCE, 1 }, "Force of inrod.left", { FW_PART_LINK, 1 }, FW_UNIT_N, 1 },
    { { FW_Q_GUIDE, 0 }, "Force of the guide", { FW_PART_BODY, 0 }, FW_UNIT_N, 1 },
    { { FW_Q_FOOT, 0 }, "Load on the post's foot", { FW_PART_BODY, 0 }, FW_UNIT_N, 1 },
    { { FW_Q_HINGE, 0 }, "Load on the hinge of inner.right", { FW_PART_MEMBER, 0 }, FW_UNIT_N, 1 },
    { { FW_Q_BEARING, 1 }, "Load on bearing 2", { FW_PART_CRANK, 0 }, FW_UNIT_N, 1 },
    { { FW_Q_STRESS, 0 }, "Stress in the crank", { FW_PART_CRANK, 0 }, FW_UNIT_MPA, 1e-6 },
    { { FW_Q_STRESS, 1 }, "Stress in the post", { FW_PART_BODY, 0 }, FW_UNIT_MPA, 1e-6 },
    { { FW_Q_STRESS, 2 }, "Stress in inrod.right", { FW_PART_LINK, 0 }, FW_UNIT_MPA, 1e-6 },
    { { FW_Q_STRESS, 4 }, "Stress in inner.right", { FW_PART_MEMBER, 0 }, FW_UNIT_MPA, 1e-6 },
    { { FW_Q_SAG, 0 }, "Lag of the crank pins", { FW_PART_CRANK, 0 }, FW_UNIT_MM, 1e3 },
    { { FW_Q_SAG, 1 }, "Sag of the post", { FW_PART_BODY, 0 }, FW_UNIT_MM, 1e3 },
    { { FW_Q_SAG, 3 }, "Sag of inrod.left", { FW_PART_LINK, 1 }, FW_UNIT_MM, 1e3 },
    { { FW_Q_SWING, 2 }, "Swing of tail", { FW_PART_MEMBER, 2 }, FW_UNIT_DEG, 180 / G_PI },
  };
  FwDocument *doc = test_open_valid ("springs");
  FwMechanism *m = built (doc);
  for (gsize i = 0; i < G_N_ELEMENTS (loads); i++)
    {
      double factor;
      assert_said (fw_words_load_quantity (m, loads[i].q), loads[i].name);
      FwPart part = fw_load_quantity_part (m, loads[i].q);
      g_assert_true (part.kind == loads[i].part.kind && part.index == loads[i].part.index);
      g_assert_cmpint (fw_words_load_quantity_unit (loads[i].q, &factor), ==, loads[i].unit);
      g_assert_cmpfloat (factor, ==, loads[i].factor);
      if (loads[i].q.kind == FW_Q_STRESS)
        g_assert_cmpint (fw_stress_index (m, part), ==, loads[i].q.index);
    }
  assert_said (fw_words_load_quantity (m, (FwQuantity){ FW_Q_ANGLE, 0 }), "");
  /* Pins by their throw, twins by their side. */
  const char *pins[] = { "mid", "in.right", "in.left" };
  g_assert_cmpint (m->n_pins, ==, 3);
  for (int i = 0; i < 3; i++)
    {
      char *load = g_strconcat ("Load on pin ", pins[i], NULL);
      assert_said (fw_words_pin (m, i), pins[i]);
      assert_said (fw_words_load_quantity (m, (FwQuantity){ FW_Q_PIN, i }), load);
      g_free (load);
    }
  fw_mechanism_free (m);
  fw_document_free (doc);
}

/* Three figures of what is large, two of what is small, whatever the sign. */
static void
loads_have_as_many_digits_as_tell_them (void)
{
  static const struct
  {
    double size;
    int digits;
  } table[] = { { 1234, 0 }, { 99.95, 0 }, { -123, 0 }, { 99.9, 1 }, { 12.3, 1 }, { 9.99, 2 }, { 1, 2 },
                { 0.9995, 2 }, { 0.5, 3 }, { 0.09995, 3 }, { 0.05, 3 }, { 0.0123, 3 }, { 0.00123, 4 }, { 1e-6, 7 }, { 1e-12, 3 }, { 0, 3 } };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    g_assert_cmpint (fw_load_digits (table[i].size), ==, table[i].digits);
}

static void
a_knock_is_told_by_joint_place_and_size (void)
{
  FwDocument *doc = test_open_valid ("springs");
  FwMechanism *m = built (doc);
  FwBounce b = { .part = { FW_PART_BODY, 0 }, .crank = 110.4 * G_PI / 180, .knock = 118.2 * G_PI / 180, .gap_mm = 0.2,
                 .crosses = true, .speed_mps = 0.08, .energy_J = 0.0032 };
  assert_said (fw_words_bounce (m, &b, FALSE, FW_LENGTHS_MM),
               "The post in its guide: the load turns round at 110.4° of the crank, crosses the gap of 0.20 mm and knocks at "
               "118.2° with 0.080 m/s, 3.20 mJ.");
  b.part = (FwPart){ FW_PART_LINK, 0 };
  assert_said (fw_words_bounce (m, &b, TRUE, FW_LENGTHS_MM),
               "The joints of inrod.right: no play, no knock. The load turns round at 110.4° of the crank: once worn by 0.20 mm "
               "it would knock at 118.2° with 0.080 m/s, 3.20 mJ.");
  b.part = (FwPart){ FW_PART_MEMBER, 2 };
  b.crosses = false;
  assert_said (fw_words_bounce (m, &b, FALSE, FW_LENGTHS_MM),
               "The hinge of tail: the load turns round at 110.4° of the crank but turns back before it has crossed the gap of "
               "0.20 mm.");
  fw_mechanism_free (m);
  fw_document_free (doc);

  /* Each ride calls what guides the body by its own name. */
  static const struct
  {
    const char *file, *knock, *force;
  } rides[] = { { "rocker", "The link of the post: ", "Force of the link" },
                { "rail", "The body in its slide: ", "Force of the slide" } };
  b.part = (FwPart){ FW_PART_BODY, 0 };
  for (int i = 0; i < 2; i++)
    {
      doc = test_open_valid (rides[i].file);
      m = built (doc);
      char *said = fw_words_bounce (m, &b, FALSE, FW_LENGTHS_MM);
      g_assert_true (g_str_has_prefix (said, rides[i].knock));
      g_free (said);
      assert_said (fw_words_load_quantity (m, (FwQuantity){ FW_Q_GUIDE, 0 }), rides[i].force);
      fw_mechanism_free (m);
      fw_document_free (doc);
    }
}

static void
counterweights_are_told_by_where_they_go (void)
{
  static const struct
  {
    FwVec3 at;
    const char *where;
  } on_body[] = { { { 0, 60, 0 }, "60 mm forward of its datum" },   { { 0, -60, 0 }, "60 mm behind its datum" },
                  { { 0, 0, 25 }, "25 mm above its datum" },        { { 0, 0, -25 }, "25 mm below its datum" },
                  { { 40, 0, 0 }, "40 mm to the right of its datum" }, { { -40, 0, 0 }, "40 mm to the left of its datum" } };
  FwDocument *doc = test_open_valid ("springs");
  const FwDesign *d = fw_document_design (doc);
  for (gsize i = 0; i < G_N_ELEMENTS (on_body); i++)
    {
      FwCounterweight w = { .panel = FW_ON_BODY, .mass_g = 120, .at_mm = on_body[i].at };
      char *wanted = g_strconcat ("A counterweight of 120 g on the body, ", on_body[i].where, NULL);
      assert_said (fw_words_counterweight (d, &w, FW_LENGTHS_MM), wanted);
      g_free (wanted);
    }
  FwCounterweight w = { .panel = 0, .mass_g = 50, .at_mm = { -30, 0, 0 } };
  assert_said (fw_words_counterweight (d, &w, FW_LENGTHS_MM), "A counterweight of 50 g on inner, 30 mm behind its hinge");
  w.at_mm.x = 100;
  assert_said (fw_words_counterweight (d, &w, FW_LENGTHS_MM), "A counterweight of 50 g on inner, 100 mm outward from its hinge");
  fw_document_free (doc);
}

static void
springs_are_told_by_their_ends_and_pull (void)
{
  FwDocument *doc = test_open_valid ("springs");
  FwMechanism *m = built (doc);
  FwSpringFit fit = { .spring = { .from = { FW_FROM_BASE, 0, { 0, 0, 0 } }, .to = { FW_FROM_PANEL, 0, { 0, 0, 0 } },
                                  .rate_Npmm = 0.05, .free_mm = 60, .cord = true },
                      .least_N = 0.4, .most_N = 12.34 };
  assert_said (fw_words_spring_fit (m->design, &fit, FW_LENGTHS_MM),
               "An elastic cord from the base to inner, 0.050 N/mm, 60 mm long when slack: 12.3 N at most");
  fit.spring.from.kind = FW_FROM_BODY;
  fit.spring.cord = false;
  fit.spring.rate_Npmm = 0.0025; /* soft: one digit more */
  fit.least_N = -0.61;
  fit.most_N = 0.2;
  assert_said (fw_words_spring_fit (m->design, &fit, FW_LENGTHS_MM),
               "A spring from the body to inner, 0.0025 N/mm, 60 mm long at rest: 0.61 N at most");
  FwSpring s = { .part = { FW_PART_LINK, 0 }, .force_N = 4, .pulls = true };
  assert_said (fw_words_spring (m, &s), "An elastic cord beside inrod.right that draws its ends together with 4.0 N keeps it "
                                        "pushed all the turn");
  s.pulls = false;
  assert_said (fw_words_spring (m, &s), "A spring beside inrod.right that spreads its ends with 4.0 N keeps it pulled all the turn");
  s.part = (FwPart){ FW_PART_BODY, 0 };
  assert_said (fw_words_spring (m, &s), "A spring that presses the post to one side of what guides it with 4.0 N keeps it there "
                                        "all the turn");
  fw_mechanism_free (m);
  fw_document_free (doc);
}

/* ---- Fitted ---- */

/* On a panel it is weighed with it: by the rule of parallel axes (any text of mechanics) the moments about the hinge
 * are what they were and the weight's own. On the body it is one weight more. Undo takes either off. */
static void
a_counterweight_is_weighed_with_its_part (void)
{
  FwDocument *doc = test_open_valid ("springs");
  char *before = fw_document_to_text (doc);
  FwInertia was = fw_inertia_panel (&fw_document_design (doc)->panels[0]);
  const FwCounterweight w = { .panel = 0, .mass_g = 50, .at_mm = { -40, 12, 0 } };
  GError *error = NULL;
  g_assert_true (fw_document_fit_weight (doc, &w, "Counterweight", &error));
  FwInertia is = fw_inertia_panel (&fw_document_design (doc)->panels[0]);
  g_assert_cmpfloat_with_epsilon (is.mass_g, was.mass_g + 50, 1e-9);
  g_assert_cmpfloat_with_epsilon (is.moment_gmm.x, was.moment_gmm.x - 40 * 50, 1e-6);
  g_assert_cmpfloat_with_epsilon (is.ww, was.ww + 50 * (40 * 40 + 12 * 12), 1e-3);
  g_assert_cmpfloat_with_epsilon (is.uv, was.uv + 50 * -40 * 12, 1e-3);
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "Counterweight");
  g_assert_true (fw_document_undo (doc));

  const FwCounterweight heavy = { .panel = 0, .mass_g = 50000, .at_mm = { -400, 0, 0 } };
  g_assert_true (fw_document_fit_weight (doc, &heavy, "Counterweight", &error)); /* kg m2 where g mm2 would be too large */
  is = fw_inertia_panel (&fw_document_design (doc)->panels[0]);
  g_assert_cmpfloat_with_epsilon (is.ww / (was.ww + 50000.0 * 400 * 400), 1, 1e-9);
  char *text = fw_document_to_text (doc);
  g_assert_nonnull (strstr (text, "\"inertia_kgm2\""));
  g_free (text);
  g_assert_true (fw_document_undo (doc));

  const FwCounterweight on_body = { .panel = FW_ON_BODY, .mass_g = 120, .at_mm = { 0, 60, 0 } };
  for (int i = 0; i < 3; i++)
    g_assert_true (fw_document_fit_weight (doc, &on_body, "Counterweight", &error));
  const FwBody *body = &fw_document_design (doc)->body;
  const char *names[] = { "counterweight", "counterweight 2", "counterweight 3" };
  g_assert_cmpint (body->n_lumps, ==, 3);
  for (int i = 0; i < 3; i++)
    {
      g_assert_cmpstr (body->lumps[i].name, ==, names[i]);
      g_assert_cmpfloat (body->lumps[i].mass_g, ==, 120);
      g_assert_cmpfloat (body->lumps[i].at_mm.y, ==, 60);
    }
  for (int i = 0; i < 3; i++)
    g_assert_true (fw_document_undo (doc));
  test_assert_text_is (doc, before);
  fw_document_free (doc);
}

/* ---- Spread and measurements ---- */

static void
a_spread_is_stated_changed_and_taken_back (void)
{
  FwDocument *doc = test_open_valid ("springs");
  FwParam length = test_param (doc, "rods.inrod.length"), post = test_param (doc, "body.post");
  GError *error = NULL;
  int n = -1;
  g_free (fw_spreads (doc, &n));
  g_assert_cmpint (n, ==, 0);
  g_assert_true (fw_spread_set (doc, length, 0.5, NULL, &error) && fw_spread_set (doc, post, 1, NULL, &error)
                 && fw_spread_set (doc, length, 0.75, NULL, &error));
  FwChange *list = fw_spreads (doc, &n);
  g_assert_cmpint (n, ==, 2);
  g_assert_true (fw_param_equal (list[0].param, length) && fw_param_equal (list[1].param, post));
  g_assert_cmpfloat (list[0].value, ==, 0.75);
  g_assert_cmpfloat (list[1].value, ==, 1);
  g_free (list);
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "Spread: Length of inrod");
  g_assert_true (fw_spread_set (doc, length, -1, NULL, &error) && fw_spread_set (doc, post, -1, NULL, &error));
  g_assert_null (fw_document_section (doc, "spread")); /* nothing is left of the section */
  g_assert_true (fw_document_undo (doc));
  g_free (fw_spreads (doc, &n));
  g_assert_cmpint (n, ==, 1);
  fw_document_free (doc);
}

static void
measurements_are_kept_as_they_were_taken (void)
{
  static const FwMeasuredRow rows[]
      = { { 30, (char *)"body.z_mm", 450.5 }, { 30, (char *)"inner.right.angle_deg", -23 }, { -60, (char *)"tail.tip_z_mm", 1 } };
  static const char *const bad[] = { "", "body.x_mm", ".angle_deg", "inner.right", "inner.rate" };
  FwDocument *doc = test_open_valid ("springs");
  GError *error = NULL;
  g_assert_true (fw_measurements_set (doc, rows, 3, NULL, &error));
  GArray *list = fw_measurements (doc);
  g_assert_cmpuint (list->len, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      const FwMeasuredRow *row = &g_array_index (list, FwMeasuredRow, i);
      g_assert_true (fw_measured_what_is_valid (row->what));
      g_assert_cmpstr (row->what, ==, rows[i].what);
      g_assert_cmpfloat (row->crank_deg, ==, rows[i].crank_deg);
      g_assert_cmpfloat (row->value, ==, rows[i].value);
    }
  g_array_unref (list);
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      const FwMeasuredRow row = { 0, (char *)bad[i], 1 };
      g_assert_false (fw_measured_what_is_valid (bad[i]));
      g_assert_false (fw_measurements_set (doc, &row, 1, NULL, &error));
      test_assert_one_line (error, "test.flap");
      g_clear_error (&error);
    }
  g_assert_true (fw_measurements_set (doc, NULL, 0, NULL, &error));
  g_assert_null (fw_document_section (doc, "measured"));
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/loadwords/each load has a name, a part and a unit", each_load_has_a_name_a_part_and_a_unit);
  g_test_add_func ("/doc/loadwords/loads have as many digits as tell them", loads_have_as_many_digits_as_tell_them);
  g_test_add_func ("/doc/loadwords/a knock is told by joint, place and size", a_knock_is_told_by_joint_place_and_size);
  g_test_add_func ("/doc/loadwords/counterweights are told by where they go", counterweights_are_told_by_where_they_go);
  g_test_add_func ("/doc/loadwords/springs are told by their ends and pull", springs_are_told_by_their_ends_and_pull);
  g_test_add_func ("/doc/loadwords/a counterweight is weighed with its part", a_counterweight_is_weighed_with_its_part);
  g_test_add_func ("/doc/loadwords/a spread is stated, changed and taken back", a_spread_is_stated_changed_and_taken_back);
  g_test_add_func ("/doc/loadwords/measurements are kept as they were taken", measurements_are_kept_as_they_were_taken);
  return g_test_run ();
}
