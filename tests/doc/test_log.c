/* The build log in the document: adding, taking out, notes, bringing back, undo; and what changed
 * between two entries, on a design whose changes are made by hand. */
#include "support.h"

#include <string.h>

#include <cjson/cJSON.h>

#include "doc/documenttree.h"
#include "doc/log.h"

/* ---- Help ---- */

static void
add (FwDocument *doc, const char *date, const char *note)
{
  GError *error = NULL;
  gboolean good = fw_log_add (doc, date, note, NULL, 0, &error);
  g_assert_no_error (error);
  g_assert_true (good);
}

/* All lines of what changed before the present design, a line each. */
static char *
changes (const FwDocument *doc, int index, FwLengths lengths)
{
  GPtrArray *lines = fw_log_changes (doc, index, lengths);
  GString *out = g_string_new (NULL);
  g_assert_nonnull (lines);
  for (guint i = 0; i < lines->len; i++)
    {
      const FwLogLine *line = g_ptr_array_index (lines, i);
      g_string_append_printf (out, "%s: %s\n", fw_log_line_name (line->kind), line->text);
    }
  g_ptr_array_unref (lines);
  return g_string_free (out, FALSE);
}

static void
assert_changes (const FwDocument *doc, const char *expected)
{
  char *found = changes (doc, fw_log_count (doc), FW_LENGTHS_MM);
  g_assert_cmpstr (found, ==, expected);
  g_free (found);
}

/* The design's text with each first text of the pairs (NULL at the end) written as the second, where
 * it stands first, which is in the present design. */
static void
rewrite (FwDocument *doc, const char *from, const char *to, ...)
{
  GError *error = NULL;
  char *text = fw_document_to_text (doc);
  va_list pairs;

  va_start (pairs, to);
  while (from)
    {
      char *at = strstr (text, from);
      g_assert_nonnull (at);
      char *changed = g_strdup_printf ("%.*s%s%s", (int)(at - text), text, to, at + strlen (from));
      g_free (text);
      text = changed;
      from = va_arg (pairs, const char *);
      to = from ? va_arg (pairs, const char *) : NULL;
    }
  va_end (pairs);
  gboolean good = fw_document_replace (doc, text, "by hand", &error);
  g_assert_no_error (error);
  g_assert_true (good);
  g_free (text);
}

/* Two wings, logged once. */
static FwDocument *
logged (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  add (doc, "2026-03-14", "First turn.");
  return doc;
}

/* ---- Entries ---- */

static void
keeps_entries_in_the_file (void)
{
  const FwLogPicture pictures[] = { { "shots/a.jpg", "It goes" }, { "b.png", "" } };
  FwDocument *doc = logged ();
  g_assert_true (fw_log_add (doc, "2026-03-15T18:30", "Shorter.\nBetter.", pictures, 2, NULL));

  char *text = fw_document_to_text (doc);
  FwDocument *again = test_open (text);
  FwLogEntry entry;
  FwLogPicture picture;
  g_assert_cmpint (fw_log_count (again), ==, 2);
  g_assert_true (fw_log_entry (again, 1, &entry));
  g_assert_cmpstr (entry.date, ==, "2026-03-15T18:30");
  g_assert_cmpstr (entry.note, ==, "Shorter.\nBetter.");
  g_assert_cmpint (entry.n_pictures, ==, 2);
  g_assert_true (fw_log_picture (again, 1, 0, &picture));
  g_assert_cmpstr (picture.file, ==, "shots/a.jpg");
  g_assert_cmpstr (picture.caption, ==, "It goes");
  g_assert_true (fw_log_picture (again, 1, 1, &picture));
  g_assert_cmpstr (picture.caption, ==, "");
  g_assert_false (fw_log_picture (again, 1, 2, &picture));
  g_assert_false (fw_log_picture (again, 1, -1, &picture));
  g_assert_false (fw_log_entry (again, 2, &entry));
  g_assert_false (fw_log_entry (again, -1, &entry));
  g_assert_cmpstr (fw_log_title (again, 0), ==, "Two wings on a sleeve");

  char *twice = fw_document_to_text (again);
  g_assert_cmpstr (text, ==, twice);
  g_free (twice);
  g_free (text);
  fw_document_free (again);
  fw_document_free (doc);
}

static void
an_entry_keeps_the_design_of_its_day (void)
{
  FwDocument *doc = logged ();
  g_assert_true (test_change (doc, "rods.inrod.length", 405, NULL));
  add (doc, "2026-03-15", "Rod cut.");
  g_assert_true (test_change (doc, "rods.inrod.length", 400, NULL));

  const double expected[] = { 412, 405, 400 };
  for (int i = 0; i < 3; i++)
    {
      FwDesign *design = fw_log_design (doc, i);
      g_assert_nonnull (design);
      g_assert_cmpfloat (design->rods[0].length_mm, ==, expected[i]);
      fw_design_free (design);
    }
  g_assert_null (fw_log_design (doc, 3));
  g_assert_null (fw_log_design (doc, -1));
  /* The design in an entry has no log of its own. */
  const cJSON *entry = cJSON_GetArrayItem (cJSON_GetObjectItem (fw_document_tree (doc), "log"), 1);
  g_assert_null (cJSON_GetObjectItem (cJSON_GetObjectItem (entry, "design"), "log"));
  fw_document_free (doc);
}

static void
every_change_is_one_step_of_undo (void)
{
  FwDocument *doc = logged ();
  char *one = fw_document_to_text (doc);
  add (doc, "2026-03-15", "Second.");
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "New log entry");
  char *two = fw_document_to_text (doc);
  g_assert_true (fw_log_set_note (doc, 0, "F", NULL));
  g_assert_true (fw_log_set_note (doc, 0, "Fi", NULL));
  g_assert_true (fw_log_set_note (doc, 0, "Fine", NULL));
  g_assert_true (fw_log_set_note (doc, 0, "Fine", NULL));
  char *three = fw_document_to_text (doc);
  g_assert_true (fw_log_remove (doc, 0, NULL));
  g_assert_cmpint (fw_log_count (doc), ==, 1);
  g_assert_true (fw_log_remove (doc, 0, NULL));
  g_assert_cmpint (fw_log_count (doc), ==, 0);
  g_assert_null (cJSON_GetObjectItem (fw_document_tree (doc), "log"));

  g_assert_true (fw_document_undo (doc) && fw_document_undo (doc));
  char *text = fw_document_to_text (doc);
  g_assert_cmpstr (text, ==, three);
  g_free (text);
  g_assert_true (fw_document_undo (doc)); /* the typing was one step */
  text = fw_document_to_text (doc);
  g_assert_cmpstr (text, ==, two);
  g_free (text);
  g_assert_true (fw_document_undo (doc));
  text = fw_document_to_text (doc);
  g_assert_cmpstr (text, ==, one);
  g_free (text);
  while (fw_document_redo (doc))
    continue;
  g_assert_cmpint (fw_log_count (doc), ==, 0);
  g_free (one);
  g_free (two);
  g_free (three);
  fw_document_free (doc);
}

static void
bringing_back_is_one_step_and_keeps_the_log (void)
{
  FwDocument *doc = logged ();
  g_assert_true (test_change (doc, "rods.inrod.length", 405, NULL));
  add (doc, "2026-03-15", "Rod cut.");
  g_assert_true (fw_log_bring_back (doc, 0, "2026-03-16", NULL, NULL));
  g_assert_cmpfloat (test_number (doc, "rods.inrod.length"), ==, 412);
  g_assert_cmpint (fw_log_count (doc), ==, 3);
  FwLogEntry entry;
  g_assert_true (fw_log_entry (doc, 2, &entry));
  g_assert_cmpstr (entry.note, ==, "Brought back the design of 2026-03-14.");
  char *said = changes (doc, 2, FW_LENGTHS_MM);
  g_assert_cmpstr (said, ==, "number: inrod lengthened from 405 mm to 412 mm.\n");
  g_free (said);

  g_assert_cmpstr (fw_document_undo_label (doc), ==, "Bring back 2026-03-14");
  g_assert_true (fw_document_undo (doc));
  g_assert_cmpfloat (test_number (doc, "rods.inrod.length"), ==, 405);
  g_assert_cmpint (fw_log_count (doc), ==, 2);

  /* Without a date nothing is noted. */
  g_assert_true (fw_log_bring_back (doc, 0, NULL, NULL, NULL));
  g_assert_cmpint (fw_log_count (doc), ==, 2);
  g_assert_cmpfloat (test_number (doc, "rods.inrod.length"), ==, 412);
  fw_document_free (doc);
}

static void
unknown_keys_of_entries_survive (void)
{
  FwDocument *doc = test_open_valid ("log");
  g_assert_true (fw_log_set_note (doc, 0, "Another note", NULL));
  add (doc, "2026-04-01", "");
  g_assert_true (test_change (doc, "rods.inrod.length", 411, NULL));
  char *text = fw_document_to_text (doc);
  g_assert_nonnull (strstr (text, "\"kept\""));
  g_assert_nonnull (strstr (text, "50 mm"));
  g_assert_nonnull (strstr (text, "\"after\": \"the log\""));
  g_assert_nonnull (strstr (text, "Another note"));
  fw_document_free (test_open (text));
  g_free (text);
  fw_document_free (doc);
}

static void
refuses_what_could_not_be_read_again (void)
{
  static const char *const dates[]
      = { "", "2026", "2026-3-1", "2026-13-01", "2026-02-29", "2026-03-14 18:30", "2026-03-14T18",
          "2026-03-14T18:60", "2026-03-14T18:30:", "2026-03-14T18:30+1:00", "0000-01-01", "\xff" };
  static const char *const paths[]
      = { "", "/a.png", "../a.png", "a/../b.png", "a//b.png", "./a.png", "c:\\a.png", "a\nb.png" };
  FwDocument *doc = test_open_valid ("two-wings");
  guint64 serial = fw_document_serial (doc);

  for (gsize i = 0; i < G_N_ELEMENTS (dates); i++)
    {
      GError *error = NULL;
      g_assert_false (fw_log_add (doc, dates[i], "note", NULL, 0, &error));
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
      test_assert_one_line (error, "test.flap");
      g_clear_error (&error);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (paths); i++)
    {
      const FwLogPicture picture = { paths[i], "" };
      g_assert_false (fw_log_add (doc, "2026-03-14", "note", &picture, 1, NULL));
    }
  g_assert_false (fw_log_add (doc, "2026-03-14", "bell\a", NULL, 0, NULL));
  g_assert_false (fw_log_remove (doc, 0, NULL));
  g_assert_false (fw_log_set_note (doc, 0, "x", NULL));
  g_assert_false (fw_log_bring_back (doc, 0, "2026-03-14", NULL, NULL));
  g_assert_cmpuint (fw_document_serial (doc), ==, serial);
  fw_document_free (doc);
}

static void
dates_of_the_calendar_are_taken (void)
{
  static const char *const dates[]
      = { "2024-02-29", "2026-12-31T23:59", "2026-03-14T18:30:15", "2026-06-30T23:59:60Z",
          "2026-03-14T18:30:15.25+01:00", "2026-03-14T18:30-11:30" };
  FwDocument *doc = test_open_valid ("two-wings");
  for (gsize i = 0; i < G_N_ELEMENTS (dates); i++)
    add (doc, dates[i], "");
  g_assert_cmpint (fw_log_count (doc), ==, (int)G_N_ELEMENTS (dates));
  fw_document_free (doc);
}

/* A design that nests as deep as a file may cannot go three deeper, into a log. */
static void
too_deep_a_design_is_not_logged (void)
{
  FwDocument *doc = test_open_valid ("nested-64");
  GError *error = NULL;
  g_assert_false (fw_log_add (doc, "2026-03-14", "", NULL, 0, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_error_free (error);
  fw_document_free (doc);
}

/* The log is shared by all states of undo: a long drag must not copy it. */
static void
a_drag_copies_no_entry (void)
{
  FwDocument *doc = logged ();
  const cJSON *first
      = cJSON_GetArrayItem (cJSON_GetObjectItem (fw_document_tree (doc), "log"), 0)->child;
  for (int i = 0; i < 50; i++)
    g_assert_true (test_change (doc, "rods.inrod.length", 405 + 0.1 * i, NULL));
  const cJSON *last
      = cJSON_GetArrayItem (cJSON_GetObjectItem (fw_document_tree (doc), "log"), 0)->child;
  g_assert_true (first == last);
  fw_document_free (doc);
}

/* ---- Words of changes ---- */

static void
nothing_changed_is_said (void)
{
  FwDocument *doc = logged ();
  assert_changes (doc, "same: The design is as it was.\n");
  char *first = changes (doc, 0, FW_LENGTHS_MM);
  g_assert_cmpstr (first, ==, "first: This is the first entry.\n");
  g_free (first);
  g_assert_null (fw_log_changes (doc, 2, FW_LENGTHS_MM));
  g_assert_null (fw_log_changes (doc, -1, FW_LENGTHS_MM));
  fw_document_free (doc);
}

static void
numbers_are_said_from_and_to (void)
{
  FwDocument *doc = logged ();
  g_assert_true (test_change (doc, "rods.inrod.length", 405.5, NULL));
  g_assert_true (test_change (doc, "crank.throws.in.phase", 170, NULL));
  g_assert_true (test_change (doc, "body.mass", 950, NULL));
  g_assert_true (test_change (doc, "crank.turns_per_minute", 36, NULL));
  assert_changes (doc, "number: Crank speed: from 40 turns/min to 36 turns/min.\n"
                       "number: Phase of in: from 180° to 170°.\n"
                       "number: Body mass: from 900 g to 950 g.\n"
                       "number: inrod shortened from 412.0 mm to 405.5 mm.\n");
  GPtrArray *lines = fw_log_changes (doc, 1, FW_LENGTHS_MM);
  const FwLogLine *rod = g_ptr_array_index (lines, 3);
  g_assert_cmpstr (rod->key, ==, "rods.inrod.length");
  g_assert_true (rod->has_values && rod->from == 412 && rod->to == 405.5);
  g_ptr_array_unref (lines);

  /* 412 mm = 16.2205 in, nearest 64th 14/64; 405.5 mm = 15.9646 in, nearest 62/64. */
  char *inches = changes (doc, 1, FW_LENGTHS_INCH);
  g_assert_nonnull (strstr (inches, "inrod shortened from 16 7/32 in to 15 31/32 in."));
  g_free (inches);
  /* Two lengths with the same fraction are told apart in mm. */
  g_assert_true (test_change (doc, "rods.inrod.length", 412.05, NULL));
  inches = changes (doc, 1, FW_LENGTHS_INCH);
  g_assert_nonnull (strstr (inches, "inrod lengthened from 412.00 mm to 412.05 mm."));
  g_free (inches);
  fw_document_free (doc);
}

static void
parts_that_come_go_and_are_renamed_are_said (void)
{
  FwDocument *doc = logged ();
  rewrite (doc, "\"name\": \"mid\"", "\"name\": \"body\"", "\"throw\": \"mid\"", "\"throw\": \"body\"", NULL);
  assert_changes (doc, "renamed: Throw mid is now called body.\n");
  rewrite (doc, "\"name\": \"inner\"", "\"name\": \"arm\"", "\"panel\": \"inner\"", "\"panel\": \"arm\"", NULL);
  assert_changes (doc, "renamed: Throw mid is now called body.\nrenamed: Panel inner is now called arm.\n");
  rewrite (doc, "\"panels\": [", "\"panels\": [{\"name\":\"tail\",\"side\":\"middle\",\"on\":\"body\","
                                 "\"reach\":\"back\",\"hinge\":[0,-90,0],\"span\":120},", NULL);
  char *said = changes (doc, 1, FW_LENGTHS_MM);
  g_assert_nonnull (strstr (said, "added: Panel tail is new.\n"));
  g_free (said);

  add (doc, "2026-03-16", "");
  rewrite (doc, "\"name\": \"tail\"", "\"name\": \"fan\", \"thickness\": 9, \"cant\": 3", NULL);
  said = changes (doc, 2, FW_LENGTHS_MM);
  g_assert_nonnull (strstr (said, "renamed: Panel tail is now called fan.\n"));
  g_assert_nonnull (strstr (said, "number: Cant of fan: from 0° to 3°.\n"));
  g_free (said);
  fw_document_free (doc);
}

static void
joints_are_said (void)
{
  FwDocument *doc = logged ();
  rewrite (doc, "\"from\": { \"throw\": \"in\" }", "\"from\": { \"base\": [150, 0, 0] }", NULL);
  char *said = changes (doc, 1, FW_LENGTHS_MM);
  g_assert_nonnull (strstr (said, "built: inrod now starts from the base, before from in.\n"));
  g_assert_nonnull (strstr (said, "number: Start across of inrod: now 150 mm.\n"));
  g_free (said);
  rewrite (doc, "\"ride\": \"sleeve\"", "\"ride\": \"rail\", \"rod\": 420, \"offset\": 0", NULL);
  said = changes (doc, 1, FW_LENGTHS_MM);
  g_assert_nonnull (strstr (said, "built: The body now slides on a rail.\n"));
  g_assert_nonnull (strstr (said, "number: Body rod length: now 420 mm.\n"));
  g_assert_null (strstr (said, "no longer given"));
  g_free (said);
  fw_document_free (doc);
}

static void
materials_base_drive_and_unknown_keys_are_said (void)
{
  FwDocument *doc = logged ();
  rewrite (doc, "\"length\": 412", "\"material\": \"brass rod\", \"wall\": 0.5, \"length\": 412", NULL);
  rewrite (doc, "\"body\": {", "\"drive\": {\"by\":\"motor\"}, \"base\": {\"plate\":[400,300,18],"
                               "\"top\":-90,\"hung\":true}, \"mine\": {\"a\":[1,{\"b\":2}]}, \"body\": {", NULL);
  assert_changes (doc, "material: Material of inrod: now brass rod.\n"
                       "other: Wall of inrod: now 0.5 mm.\n"
                       "other: Driven by: now motor.\n"
                       "other: Base plate: now 400, 300, 18 mm.\n"
                       "other: Height of the base plate: now -90 mm.\n"
                       "other: Hung from above: now yes.\n"
                       "other: mine.a: now [1, { \"b\": 2 }].\n");
  add (doc, "2026-03-16", "");
  rewrite (doc, "brass rod", "steel wire", NULL);
  rewrite (doc, "\"hung\": true", "\"hung\": false", NULL);
  rewrite (doc, "\"title\": \"Two wings on a sleeve\"", "\"title\": \"Gull\"", NULL);
  assert_changes (doc, "other: The title is now “Gull”.\n"
                       "other: Hung from above: from yes to no.\n"
                       "material: Material of inrod: from brass rod to steel wire.\n");
  fw_document_free (doc);
}

static void
what_only_one_design_has_is_said (void)
{
  FwDocument *doc = logged ();
  rewrite (doc, "\"stops\": [-60, 60],", "", NULL);
  assert_changes (doc, "number: Lower stop of inner: no longer given, was -60°.\n"
                       "number: Upper stop of inner: no longer given, was 60°.\n");
  add (doc, "2026-03-16", "");
  rewrite (doc, "\"span\": 210", "\"span\": 210, \"outline\": [[0,40],[210,30],[210,-40],[0,-60]]", NULL);
  assert_changes (doc, "look: The outline of inner is cut anew.\n");
  fw_document_free (doc);
}

/* Whatever a file holds, the list stays a list one can read. */
static void
a_flood_of_keys_is_counted (void)
{
  FwDocument *doc = logged ();
  GString *keys = g_string_new ("\"body\": {");
  for (int i = 0; i < 100; i++)
    g_string_append_printf (keys, "\"k%d\": %d,", i, i);
  rewrite (doc, "\"body\": {", keys->str, NULL);
  GPtrArray *lines = fw_log_changes (doc, 1, FW_LENGTHS_MM);
  g_assert_cmpuint (lines->len, ==, 25);
  const FwLogLine *last = g_ptr_array_index (lines, 24);
  g_assert_cmpstr (last->text, ==, "76 more keys of the file are different.");
  g_ptr_array_unref (lines);
  g_string_free (keys, TRUE);
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/log/keeps-entries-in-the-file", keeps_entries_in_the_file);
  g_test_add_func ("/doc/log/an-entry-keeps-the-design-of-its-day", an_entry_keeps_the_design_of_its_day);
  g_test_add_func ("/doc/log/every-change-is-one-step-of-undo", every_change_is_one_step_of_undo);
  g_test_add_func ("/doc/log/bringing-back-is-one-step-and-keeps-the-log", bringing_back_is_one_step_and_keeps_the_log);
  g_test_add_func ("/doc/log/unknown-keys-of-entries-survive", unknown_keys_of_entries_survive);
  g_test_add_func ("/doc/log/refuses-what-could-not-be-read-again", refuses_what_could_not_be_read_again);
  g_test_add_func ("/doc/log/dates-of-the-calendar-are-taken", dates_of_the_calendar_are_taken);
  g_test_add_func ("/doc/log/too-deep-a-design-is-not-logged", too_deep_a_design_is_not_logged);
  g_test_add_func ("/doc/log/a-drag-copies-no-entry", a_drag_copies_no_entry);
  g_test_add_func ("/doc/log/nothing-changed-is-said", nothing_changed_is_said);
  g_test_add_func ("/doc/log/numbers-are-said-from-and-to", numbers_are_said_from_and_to);
  g_test_add_func ("/doc/log/parts-that-come-go-and-are-renamed-are-said", parts_that_come_go_and_are_renamed_are_said);
  g_test_add_func ("/doc/log/joints-are-said", joints_are_said);
  g_test_add_func ("/doc/log/materials-base-drive-and-unknown-keys-are-said", materials_base_drive_and_unknown_keys_are_said);
  g_test_add_func ("/doc/log/what-only-one-design-has-is-said", what_only_one_design_has_is_said);
  g_test_add_func ("/doc/log/a-flood-of-keys-is-counted", a_flood_of_keys_is_counted);
  return g_test_run ();
}
