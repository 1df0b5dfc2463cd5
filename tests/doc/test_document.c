/* Changing, undoing, merging, and what survives it. */
#include "support.h"

#include <math.h>
#include <string.h>

#include "doc/json.h"

static void
reads_every_value (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  const FwDesign *design = fw_document_design (doc);

  g_assert_cmpint (design->crank.n_throws, ==, 2);
  g_assert_cmpint (design->crank.runs, ==, FW_RUNS_ACROSS);
  g_assert_cmpfloat (design->crank.turns_per_minute, ==, 40);
  g_assert_true (design->crank.throws[1].both);
  g_assert_false (design->crank.throws[0].both);
  g_assert_cmpint (design->body.ride, ==, FW_RIDE_SLEEVE);
  g_assert_cmpfloat (design->body.guide_mm.y, ==, 180);
  g_assert_cmpfloat (design->body.centre_mm.z, ==, 60);
  g_assert_cmpint (design->panels[0].side, ==, FW_SIDE_BOTH);
  g_assert_cmpint (design->panels[0].on, ==, FW_ON_BODY);
  g_assert_true (design->panels[0].has_stops && design->panels[0].has_mass);
  g_assert_cmpfloat (design->panels[0].inertia_gmm2[2], ==, 900000);
  g_assert_cmpint (design->rods[0].from.kind, ==, FW_FROM_THROW);
  g_assert_cmpint (design->rods[0].from.index, ==, 1);
  g_assert_cmpfloat (design->rods[0].at_mm.z, ==, -12);
  g_assert_cmpfloat (design->rods[0].mass_g, ==, 30);
  g_assert_cmpstr (fw_document_title (doc), ==, "Two wings on a sleeve");
  fw_document_free (doc);
}

static void
fills_in_the_stated_defaults (void)
{
  FwDocument *doc = test_open_valid ("fixed-one-wing");
  const FwDesign *d = fw_document_design (doc);

  g_assert_cmpfloat (d->crank.turns_per_minute, ==, 30);
  g_assert_cmpfloat (d->crank.diameter_mm, ==, 8);
  g_assert_cmpstr (d->crank.material, ==, "copper");
  g_assert_cmpfloat (d->crank.throws[0].width_mm, ==, 20);
  g_assert_cmpfloat (d->body.diameter_mm, ==, 8);
  g_assert_cmpstr (d->body.material, ==, "copper");
  g_assert_cmpfloat (d->panels[0].thickness_mm, ==, 2);
  g_assert_cmpfloat (d->panels[0].areal_gm2, ==, 0);
  g_assert_cmpstr (d->panels[0].material, ==, "card");
  g_assert_false (d->panels[0].has_stops || d->panels[0].has_mass);
  g_assert_cmpint (d->panels[0].reach, ==, FW_REACH_SIDE);
  g_assert_cmpfloat (d->rods[0].diameter_mm, ==, 3);
  g_assert_cmpstr (d->rods[0].material, ==, "brass");
  g_assert_cmpfloat (d->rods[0].mass_g, ==, 0);
  g_assert_cmpfloat (d->rods[0].lean_limit_deg, ==, 25);
  g_assert_cmpfloat (d->rods[0].bend_limit_deg, ==, 45);
  g_assert_cmpfloat (d->base.handle_mm, ==, 60);
  g_assert_null (d->base.bearings_mm);
  fw_document_free (doc);
}

static void
weighs_a_rod_whose_material_is_named (void)
{
  /* Round steel bar, 7850 kg/m3, diameter 2.4 mm, length 207 mm: pi/4 x 5.76 x 207 x 7.85e-3
   * = 7.351 g, the density as makers' tables give it. */
  FwDocument *doc = test_open_valid ("all-extras");
  g_assert_cmpfloat_with_epsilon (fw_document_design (doc)->rods[0].mass_g, 7.3512, 1e-4);
  g_assert_cmpfloat (fw_document_design (doc)->panels[0].areal_gm2, ==, 400);
  g_assert_cmpint (fw_document_design (doc)->panels[0].solid.n_sections, ==, 2);
  g_assert_true (fw_document_design (doc)->body.solid.has_eye);
  fw_document_free (doc);
}

static void
undoes_and_redoes_step_by_step (void)
{
  static const struct
  {
    char what; /* 'c'hange, 'u'ndo, 'r'edo */
    double value;
    gboolean works;
    double now;
    const char *undo, *redo;
  } table[] = {
    { 'u', 0, FALSE, 412, NULL, NULL },
    { 'r', 0, FALSE, 412, NULL, NULL },
    { 'c', 410, TRUE, 410, "rods.inrod.length", NULL },
    { 'c', 408, TRUE, 408, "rods.inrod.length", NULL },
    { 'u', 0, TRUE, 410, "rods.inrod.length", "rods.inrod.length" },
    { 'u', 0, TRUE, 412, NULL, "rods.inrod.length" },
    { 'u', 0, FALSE, 412, NULL, "rods.inrod.length" },
    { 'r', 0, TRUE, 410, "rods.inrod.length", "rods.inrod.length" },
    { 'c', 405, TRUE, 405, "rods.inrod.length", NULL },
    { 'r', 0, FALSE, 405, "rods.inrod.length", NULL },
    { 'c', -1, FALSE, 405, "rods.inrod.length", NULL },
    { 'c', NAN, FALSE, 405, "rods.inrod.length", NULL },
    { 'c', INFINITY, FALSE, 405, "rods.inrod.length", NULL },
    { 'c', 1e6, FALSE, 405, "rods.inrod.length", NULL },
    { 'u', 0, TRUE, 410, "rods.inrod.length", "rods.inrod.length" },
    { 'u', 0, TRUE, 412, NULL, "rods.inrod.length" },
  };
  FwDocument *doc = test_open_valid ("two-wings");

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      guint64 serial = fw_document_serial (doc);
      gboolean works = table[i].what == 'c'
                           ? test_change (doc, "rods.inrod.length", table[i].value, NULL)
                       : table[i].what == 'u' ? fw_document_undo (doc)
                                              : fw_document_redo (doc);
      g_assert_cmpint (works, ==, table[i].works);
      g_assert_cmpfloat (test_number (doc, "rods.inrod.length"), ==, table[i].now);
      g_assert_cmpstr (fw_document_undo_label (doc), ==, table[i].undo);
      g_assert_cmpstr (fw_document_redo_label (doc), ==, table[i].redo);
      g_assert_cmpint (fw_document_serial (doc) > serial, ==, table[i].works);
      g_assert_cmpint (fw_document_is_modified (doc), ==, table[i].now != 412);
    }
  fw_document_free (doc);
}

static void
makes_a_drag_one_step (void)
{
  FwDocument *doc = test_open_valid ("two-wings");

  for (int i = 1; i <= 50; i++)
    g_assert_true (test_change (doc, "rods.inrod.length", 412 + i * 0.1, "drag 1"));
  fw_document_end_merge (doc);
  for (int i = 1; i <= 50; i++)
    g_assert_true (test_change (doc, "rods.inrod.length", 417 - i * 0.1, "drag 1"));
  g_assert_true (test_change (doc, "rods.inrod.near", 2, "drag 2"));
  g_assert_true (test_change (doc, "rods.inrod.near", 3, "drag 2"));
  g_assert_true (test_change (doc, "rods.inrod.near", 4, NULL));
  g_assert_true (test_change (doc, "rods.inrod.near", 5, NULL));

  static const double near[] = { 4, 3, 0 };
  for (int i = 0; i < 3; i++)
    {
      g_assert_true (fw_document_undo (doc));
      g_assert_cmpfloat (test_number (doc, "rods.inrod.near"), ==, near[i]);
    }
  g_assert_true (fw_document_undo (doc));
  g_assert_cmpfloat_with_epsilon (test_number (doc, "rods.inrod.length"), 417, 1e-9);
  /* After an undo the same key starts a step of its own. */
  g_assert_true (test_change (doc, "rods.inrod.length", 418, "drag 1"));
  g_assert_true (fw_document_undo (doc));
  g_assert_cmpfloat_with_epsilon (test_number (doc, "rods.inrod.length"), 417, 1e-9);
  g_assert_true (fw_document_undo (doc));
  g_assert_cmpfloat (test_number (doc, "rods.inrod.length"), ==, 412);
  g_assert_false (fw_document_undo (doc));
  fw_document_free (doc);
}

static void
knows_the_saved_state_again (void)
{
  char *folder = test_new_folder ();
  char *path = g_build_filename (folder, "a.flap", NULL);
  FwDocument *doc = test_open_valid ("two-wings");

  g_assert_true (test_change (doc, "rods.inrod.length", 410, "drag"));
  g_assert_true (fw_document_is_modified (doc));
  g_assert_true (fw_document_save (doc, path, NULL));
  g_assert_false (fw_document_is_modified (doc));
  /* The same drag goes on after the save: the saved state stays reachable. */
  g_assert_true (test_change (doc, "rods.inrod.length", 409, "drag"));
  g_assert_true (fw_document_is_modified (doc));
  g_assert_true (fw_document_undo (doc));
  g_assert_cmpfloat (test_number (doc, "rods.inrod.length"), ==, 410);
  g_assert_false (fw_document_is_modified (doc));
  g_assert_true (fw_document_undo (doc));
  g_assert_true (fw_document_is_modified (doc));
  g_assert_true (fw_document_redo (doc));
  g_assert_false (fw_document_is_modified (doc));
  /* A saved state that is cut off by a new change is gone for good. */
  g_assert_true (fw_document_undo (doc));
  g_assert_true (test_change (doc, "rods.inrod.length", 400, NULL));
  g_assert_true (fw_document_undo (doc));
  g_assert_true (fw_document_is_modified (doc));
  fw_document_free (doc);
  test_remove_folder (folder);
  g_free (path);
  g_free (folder);
}

static void
forgets_the_oldest_of_very_many_steps (void)
{
  FwDocument *doc = test_open_valid ("fixed-one-wing");
  int undone = 0;

  for (int i = 1; i <= 1200; i++)
    g_assert_true (test_change (doc, "rods.pull.length", 207 + i * 0.001, NULL));
  while (fw_document_undo (doc))
    undone++;
  g_assert_cmpint (undone, ==, 1000);
  g_assert_cmpfloat_with_epsilon (test_number (doc, "rods.pull.length"), 207.2, 1e-9);
  g_assert_true (fw_document_is_modified (doc));
  fw_document_free (doc);
}

/* Every number of a rich design, moved and put back. */
static void
changes_every_number_and_nothing_else (void)
{
  static const char *const files[]
      = { "all-extras", "fixed-one-wing",      "rail",         "two-wings",
          "rocker",     "from-body-and-panel", "hanging-panel", "springs" };
  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      FwDocument *doc = test_open_valid (files[f]);
      char *before = fw_document_to_text (doc);
      int n = fw_design_params (fw_document_design (doc), NULL, 0);
      FwParam *params = g_new (FwParam, n);
      double *values = g_new (double, n);
      fw_design_params (fw_document_design (doc), params, n);

      for (int i = 0; i < n; i++)
        {
          for (int k = 0; k < n; k++)
            values[k] = fw_param_get (fw_document_design (doc), params[k]);
          double lower, upper;
          fw_param_limits (fw_document_design (doc), params[i], &lower, &upper);
          double value = values[i] + 0.25 < upper ? values[i] + 0.25 : values[i] - 0.25;
          FwChange change = { params[i], value };
          GError *error = NULL;
          fw_document_change (doc, &change, 1, "step", NULL, &error);
          g_assert_no_error (error);
          for (int k = 0; k < n; k++)
            {
              double now = fw_param_get (fw_document_design (doc), params[k]);
              gboolean follows
                  = params[k].kind == FW_PARAM_ROD_MASS /* from length, diameter, material */
                    || params[k].kind == FW_PARAM_PANEL_AREAL    /* from thickness, material */
                    || params[k].kind == FW_PARAM_BODY_DIAMETER; /* from the crank's */
              if (k == i || !follows)
                g_assert_cmpfloat (now, ==, k == i ? value : values[k]);
            }
          g_assert_true (fw_document_undo (doc));
        }
      test_assert_text_is (doc, before);
      g_free (params);
      g_free (values);
      fw_document_free (doc);
    }
}

static void
takes_several_numbers_or_none (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  FwChange changes[] = { { test_param (doc, "panels.inner.stops.0"), 70 },
                         { test_param (doc, "panels.inner.stops.1"), 80 } };
  FwChange bad[] = { { test_param (doc, "rods.inrod.length"), 400 },
                     { test_param (doc, "panels.inner.stops.0"), 90 } };
  FwChange nowhere = { { FW_PARAM_ROD_LENGTH, 7, 0 }, 3 };
  FwChange unlisted = { { FW_PARAM_BODY_ROD, 0, 0 }, 3 };
  GError *error = NULL;

  /* Each alone would be refused: 70 is above the old upper stop. */
  g_assert_true (fw_document_change (doc, changes, 2, "stops", NULL, NULL));
  g_assert_cmpfloat (test_number (doc, "panels.inner.stops.0"), ==, 70);

  char *before = fw_document_to_text (doc);
  g_assert_false (fw_document_change (doc, bad, 2, "bad", NULL, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  test_assert_one_line (error, "test.flap");
  g_clear_error (&error);
  g_assert_false (fw_document_change (doc, &nowhere, 1, "bad", NULL, &error));
  g_clear_error (&error);
  g_assert_false (fw_document_change (doc, &unlisted, 1, "bad", NULL, &error));
  g_clear_error (&error);
  char *after = fw_document_to_text (doc);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "stops");

  /* Values that are the present ones make no step. */
  guint64 serial = fw_document_serial (doc);
  g_assert_true (fw_document_change (doc, changes, 2, "again", NULL, NULL));
  g_assert_cmpuint (fw_document_serial (doc), ==, serial);
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "stops");
  g_free (before);
  g_free (after);
  fw_document_free (doc);
}

static void
no_two_documents_have_the_same_serial (void)
{
  FwDocument *docs[2];
  guint64 seen[4];
  for (int i = 0; i < 2; i++)
    {
      docs[i] = test_open_valid ("two-wings");
      seen[i] = fw_document_serial (docs[i]);
      g_assert_cmpuint (seen[i], >, 0);
    }
  for (int i = 0; i < 2; i++)
    {
      g_assert_true (fw_document_set_title (docs[i], "Another"));
      seen[2 + i] = fw_document_serial (docs[i]);
      g_assert_cmpuint (seen[2 + i], >, seen[i]);
    }
  for (int i = 0; i < 4; i++)
    for (int k = 0; k < i; k++)
      g_assert_cmpuint (seen[i], !=, seen[k]);
  for (int i = 0; i < 2; i++)
    fw_document_free (docs[i]);
}

static void
keeps_unknown_keys_at_every_level (void)
{
  static const char *const kept[] = {
    "\"k0\": { \"deep\": [1, null] }",
    "\"k1\": true",
    "\"k2\": [1e2, 1.50]",
    "\"k3\": \"body\"",
    "\"k4\": 12345678901234567890",
    "\"k5\": false",
    "\"k6\": {}",
    "\"k7\": []",
    "\"k8\": \"to\"",
    "\"k9\": -0.0",
    "\"k10\": \"link\"",
    "\"k11\": \"panel look\"",
  };
  static const char text[]
      = "{\"format\":\"flapwright design\",\"k0\":{\"deep\":[1,null]},\"version\":1,"
        "\"crank\":{\"k1\":true,\"runs\":\"across\",\"throws\":[{\"name\":\"mid\",\"k2\":[1e2,1.50]"
        ",\"radius\":20}]},"
        "\"body\":{\"k3\":\"body\",\"ride\":\"rocker\",\"throw\":\"mid\",\"post\":220,"
        "\"link\":{\"pivot\":[110,120],\"k10\":\"link\",\"length\":108,\"on\":120}},"
        "\"panels\":[{\"name\":\"wing\",\"k4\":12345678901234567890,\"side\":\"right\",\"on\":"
        "\"body\",\"hinge\":[10,0,0],\"span\":120}],"
        "\"rods\":[{\"k5\":false,\"name\":\"pull\",\"side\":\"right\",\"from\":{\"base\":[0,0,0],"
        "\"k6\":{}},"
        "\"to\":{\"panel\":\"wing\",\"at\":[60,0,0],\"k8\":\"to\"},\"length\":207}],"
        "\"base\":{\"k7\":[]},\"look\":{\"body\":{\"k9\":-0.0},\"panels\":{\"wing\":{\"k11\":"
        "\"panel look\"}}}}";
  FwDocument *doc = test_open (text);
  int n = fw_design_params (fw_document_design (doc), NULL, 0);
  FwParam *params = g_new (FwParam, n);
  fw_design_params (fw_document_design (doc), params, n);

  for (int i = 0; i < n; i++)
    {
      FwChange change = { params[i], fw_param_get (fw_document_design (doc), params[i]) + 0.5 };
      g_assert_true (fw_document_change (doc, &change, 1, "step", NULL, NULL));
    }
  g_assert_true (fw_document_set_title (doc, "New"));
  char *saved = fw_document_to_text (doc);
  for (gsize i = 0; i < G_N_ELEMENTS (kept); i++)
    if (!strstr (saved, kept[i]))
      g_error ("%s is lost from %s", kept[i], saved);
  /* Keys stay in the order in which they were. */
  g_assert_true (strstr (saved, "\"k0\"") < strstr (saved, "\"version\""));
  g_assert_true (strstr (saved, "\"version\"") < strstr (saved, "\"title\""));
  g_assert_true (strstr (saved, "\"title\"") < strstr (saved, "\"crank\""));
  g_free (saved);
  g_free (params);
  fw_document_free (doc);
}

static void
sets_and_undoes_the_title (void)
{
  FwDocument *doc = test_open_valid ("two-wings");

  g_assert_true (fw_document_set_title (doc, "H"));
  g_assert_true (fw_document_set_title (doc, "Heron"));
  g_assert_false (fw_document_set_title (doc, "\xff"));
  g_assert_cmpstr (fw_document_title (doc), ==, "Heron");
  g_assert_true (fw_document_undo (doc));
  g_assert_cmpstr (fw_document_title (doc), ==, "Two wings on a sleeve");
  fw_document_free (doc);

  doc = test_open (
      "{\"format\":\"flapwright "
      "design\",\"version\":1,\"crank\":{\"runs\":\"across\",\"throws\":[]},"
      "\"body\":{\"ride\":\"fixed\",\"at\":[0,0,0],\"tilt\":0},\"panels\":[],\"rods\":[]}");
  g_assert_cmpstr (fw_document_title (doc), ==, "");
  g_assert_true (fw_document_set_title (doc, ""));
  g_assert_false (fw_document_is_modified (doc));
  g_assert_true (fw_document_set_title (doc, "Owl"));
  char *text = fw_document_to_text (doc);
  g_assert_true (g_str_has_prefix (text,
                                   "{\n  \"format\": \"flapwright design\",\n  \"version\": 1,\n"
                                   "  \"title\": \"Owl\",\n  \"crank\": {"));
  g_free (text);
  fw_document_free (doc);
}

static void
replaces_the_whole_or_leaves_it (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  char *other = test_valid_text ("along");
  char *before = fw_document_to_text (doc);
  GError *error = NULL;

  g_assert_false (fw_document_replace (doc, "{", "text", &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_SYNTAX);
  g_clear_error (&error);
  g_assert_false (fw_document_replace (doc, "{\"format\":\"flapwright design\",\"version\":1}",
                                       "text", &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_null (fw_document_undo_label (doc));

  g_assert_true (fw_document_replace (doc, before, "same", NULL));
  g_assert_null (fw_document_undo_label (doc));
  g_assert_true (fw_document_replace (doc, other, "text", NULL));
  g_assert_cmpint (fw_document_design (doc)->crank.runs, ==, FW_RUNS_ALONG);
  g_assert_true (fw_document_undo (doc));
  test_assert_text_is (doc, before);
  g_free (other);
  fw_document_free (doc);
}

/* The file was changed by another program: what it says now is the saved state, and what was is an undo away. */
static void
reads_the_file_again_or_leaves_it (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  char *other = test_valid_text ("along"), *before = fw_document_to_text (doc);
  GError *error = NULL;

  g_assert_true (fw_document_set_title (doc, "Owl"));
  g_assert_false (fw_document_reload (doc, "{", 1, "Read again", &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_SYNTAX);
  g_clear_error (&error);
  g_assert_cmpstr (fw_document_title (doc), ==, "Owl");
  g_assert_true (fw_document_is_modified (doc));

  g_assert_true (fw_document_reload (doc, other, strlen (other), "Read again", NULL));
  g_assert_cmpint (fw_document_design (doc)->crank.runs, ==, FW_RUNS_ALONG);
  g_assert_false (fw_document_is_modified (doc));
  g_assert_true (fw_document_undo (doc));
  g_assert_true (fw_document_is_modified (doc));
  g_assert_cmpstr (fw_document_title (doc), ==, "Owl");
  g_free (before);
  g_free (other);
  fw_document_free (doc);
}

static void
takes_a_section_or_makes_no_step (void)
{
  FwDocument *doc = test_open_valid ("two-wings");

  g_assert_true (fw_document_set_section (doc, "mine", NULL, "none", NULL, NULL)); /* it has none */
  g_assert_null (fw_document_undo_label (doc));
  g_assert_true (fw_document_set_section (doc, "mine", cJSON_Parse ("{\"a\":1}"), "first", NULL, NULL));
  g_assert_true (fw_document_set_section (doc, "mine", cJSON_Parse ("{ \"a\": 1 }"), "the same", NULL, NULL));
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "first");
  g_assert_true (fw_document_set_section (doc, "mine", cJSON_Parse ("{\"a\":2}"), "second", NULL, NULL));
  g_assert_cmpint (cJSON_GetObjectItem (fw_document_section (doc, "mine"), "a")->valueint, ==, 2);
  g_assert_true (fw_document_set_section (doc, "mine", NULL, "gone", NULL, NULL));
  g_assert_null (fw_document_section (doc, "mine"));
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "gone");
  fw_document_free (doc);
}

static void
finds_every_number_by_its_path (void)
{
  static const char *const files[]
      = { "all-extras", "names-of-the-world", "from-body-and-panel", "rocker", "two-wings" };

  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      FwDocument *doc = test_open_valid (files[f]);
      const FwDesign *design = fw_document_design (doc);
      GHashTable *seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
      int n = fw_design_params (design, NULL, 0);
      FwParam *params = g_new (FwParam, n);
      fw_design_params (design, params, n);
      for (int i = 0; i < n; i++)
        {
          FwParam found;
          char *path = fw_param_path (design, params[i]);
          g_assert_true (fw_param_from_path (design, path, &found));
          g_assert_true (fw_param_equal (found, params[i]));
          g_assert_true (g_hash_table_add (seen, path));
        }
      FwParam none;
      g_assert_false (fw_param_from_path (design, "rods.nobody.length", &none));
      g_assert_false (fw_param_from_path (design, "", &none));
      g_hash_table_unref (seen);
      g_free (params);
      fw_document_free (doc);
    }
}

static void
keeps_error_lines_single_whatever_the_name (void)
{
  GError *error = NULL;
  g_assert_null (fw_document_new_from_text ("{", -1, "two\nlines\t\xff.flap", &error));
  g_assert_null (strpbrk (error->message, "\n\t"));
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  g_error_free (error);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/document/reads-every-value", reads_every_value);
  g_test_add_func ("/doc/document/fills-in-the-stated-defaults", fills_in_the_stated_defaults);
  g_test_add_func ("/doc/document/weighs-a-rod-whose-material-is-named",
                   weighs_a_rod_whose_material_is_named);
  g_test_add_func ("/doc/document/undoes-and-redoes-step-by-step", undoes_and_redoes_step_by_step);
  g_test_add_func ("/doc/document/makes-a-drag-one-step", makes_a_drag_one_step);
  g_test_add_func ("/doc/document/knows-the-saved-state-again", knows_the_saved_state_again);
  g_test_add_func ("/doc/document/forgets-the-oldest-of-very-many-steps",
                   forgets_the_oldest_of_very_many_steps);
  g_test_add_func ("/doc/document/changes-every-number-and-nothing-else",
                   changes_every_number_and_nothing_else);
  g_test_add_func ("/doc/document/takes-several-numbers-or-none", takes_several_numbers_or_none);
  g_test_add_func ("/doc/document/keeps-unknown-keys-at-every-level",
                   keeps_unknown_keys_at_every_level);
  g_test_add_func ("/doc/document/sets-and-undoes-the-title", sets_and_undoes_the_title);
  g_test_add_func ("/doc/document/replaces-the-whole-or-leaves-it",
                   replaces_the_whole_or_leaves_it);
  g_test_add_func ("/doc/document/finds-every-number-by-its-path", finds_every_number_by_its_path);
  g_test_add_func ("/doc/document/keeps-error-lines-single-whatever-the-name",
                   keeps_error_lines_single_whatever_the_name);
  g_test_add_func ("/doc/document/reads-the-file-again-or-leaves-it", reads_the_file_again_or_leaves_it);
  g_test_add_func ("/doc/document/has-a-serial-that-no-other-has", no_two_documents_have_the_same_serial);
  g_test_add_func ("/doc/document/takes-a-section-or-makes-no-step", takes_a_section_or_makes_no_step);
  return g_test_run ();
}
