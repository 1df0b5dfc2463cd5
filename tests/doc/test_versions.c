/* Versions: kept, compared, brought back; undo, the log and unknown keys beside them. */
#include "support.h"

#include <string.h>

#include "doc/documenttree.h"
#include "doc/versions.h"

static void
ok (gboolean good, GError *error)
{
  g_assert_no_error (error);
  g_assert_true (good);
}

static void
kept_and_brought_back (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  GError *error = NULL;
  const char *path = "crank.throws.mid.radius";
  double first = test_number (doc, path);
  ok (fw_versions_keep (doc, "first", &error), error);
  g_assert_true (test_change (doc, path, first + 5, NULL));
  ok (fw_versions_keep (doc, "second", &error), error);
  g_assert_true (test_change (doc, path, first + 9, NULL));
  g_assert_cmpint (fw_versions_count (doc), ==, 2);
  g_assert_cmpint (fw_versions_find (doc, "second"), ==, 1);
  ok (fw_versions_bring_back (doc, 0, &error), error);
  g_assert_cmpfloat (test_number (doc, path), ==, first);
  g_assert_cmpint (fw_versions_count (doc), ==, 2);
  g_assert_true (fw_document_undo (doc)); /* one step */
  g_assert_cmpfloat (test_number (doc, path), ==, first + 9);
  ok (fw_versions_bring_back (doc, 1, &error), error);
  g_assert_cmpfloat (test_number (doc, path), ==, first + 5);
  char *text = fw_document_to_text (doc);
  FwDocument *again = test_open (text);
  g_assert_cmpstr (fw_versions_name (again, 0), ==, "first");
  FwDesign *design = fw_versions_design (again, 0, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat (design->crank.throws[0].radius_mm, ==, first);
  fw_design_free (design);
  fw_document_free (again);
  fw_document_free (doc);
  g_free (text);
}

static void
renamed_and_taken_out (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  GError *error = NULL;
  ok (fw_versions_keep (doc, "a", &error), error);
  ok (fw_versions_keep (doc, "b", &error), error);
  ok (fw_versions_rename (doc, 0, "c", &error), error);
  g_assert_cmpint (fw_versions_find (doc, "a"), ==, -1);
  ok (fw_versions_remove (doc, 0, &error), error);
  g_assert_cmpstr (fw_versions_name (doc, 0), ==, "b");
  ok (fw_versions_remove (doc, 0, &error), error);
  g_assert_null (fw_document_section (doc, "versions"));
  for (int i = 0; i < 5; i++)
    g_assert_true (fw_document_undo (doc));
  g_assert_cmpint (fw_versions_count (doc), ==, 0);
  g_assert_false (fw_document_is_modified (doc));
  fw_document_free (doc);
}

static void
bad_names_are_refused (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  GError *error = NULL;
  ok (fw_versions_keep (doc, "a", &error), error);
  guint64 serial = fw_document_serial (doc);
  const char *names[] = { "", "a", "line\nbreak", "\xff" };
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_assert_false (fw_versions_keep (doc, names[i], &error));
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
      g_clear_error (&error);
    }
  g_assert_false (fw_versions_bring_back (doc, 1, &error));
  g_clear_error (&error);
  g_assert_false (fw_versions_remove (doc, -1, &error));
  g_clear_error (&error);
  g_assert_null (fw_versions_design (doc, 7, &error));
  g_clear_error (&error);
  g_assert_cmpuint (fw_document_serial (doc), ==, serial);
  fw_document_free (doc);
}

static void
unknown_keys_come_back (void)
{
  FwDocument *doc = test_open_valid ("unknown-keys");
  GError *error = NULL;
  char *before = fw_document_to_text (doc);
  ok (fw_versions_keep (doc, "a", &error), error);
  ok (fw_document_set_title (doc, "Another"), NULL);
  ok (fw_versions_bring_back (doc, 0, &error), error);
  ok (fw_versions_remove (doc, 0, &error), error);
  test_assert_text_is (doc, before);
  fw_document_free (doc);
}

static void
log_and_versions_stay_apart (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  GError *error = NULL;
  ok (fw_versions_keep (doc, "a", &error), error);
  ok (fw_log_add (doc, "2026-03-14", "first", NULL, 0, &error), error);
  ok (fw_versions_keep (doc, "b", &error), error);
  ok (fw_versions_bring_back (doc, 0, &error), error);
  g_assert_cmpint (fw_log_count (doc), ==, 1);
  ok (fw_log_bring_back (doc, 0, NULL, NULL, &error), error);
  g_assert_cmpint (fw_versions_count (doc), ==, 2);
  g_assert_cmpint (fw_log_count (doc), ==, 1);
  fw_document_free (doc);
}

static void
changes_are_told (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  GError *error = NULL;
  ok (fw_versions_keep (doc, "a", &error), error);
  GPtrArray *lines = fw_versions_changes (doc, 0, FW_VERSION_NOW, FW_LENGTHS_MM, &error);
  g_assert_cmpuint (lines->len, ==, 1);
  g_assert_cmpint (((FwLogLine *)lines->pdata[0])->kind, ==, FW_LOG_SAME);
  g_ptr_array_unref (lines);
  double radius = test_number (doc, "crank.throws.mid.radius");
  g_assert_true (test_change (doc, "crank.throws.mid.radius", radius + 3, NULL));
  lines = fw_versions_changes (doc, 0, FW_VERSION_NOW, FW_LENGTHS_MM, &error);
  const FwLogLine *line = lines->pdata[0];
  g_assert_cmpstr (line->key, ==, "crank.throws.mid.radius");
  g_assert_cmpfloat (line->from, ==, radius);
  g_assert_cmpfloat (line->to, ==, radius + 3);
  g_ptr_array_unref (lines);
  fw_document_free (doc);
}

/* A version that this program cannot read does not shut the file. */
static void
unreadable_version (void)
{
  FwDocument *doc = test_open_valid ("versions");
  GError *error = NULL;
  g_assert_cmpint (fw_versions_count (doc), ==, 2);
  g_assert_null (fw_versions_design (doc, 1, &error));
  g_assert_nonnull (strstr (error->message, "versions[1].design"));
  g_clear_error (&error);
  g_assert_false (fw_versions_bring_back (doc, 1, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  ok (fw_versions_bring_back (doc, 0, &error), error);
  fw_document_free (doc);
}

/* What a version holds, by its place in memory. */
static const cJSON *
design_of (const FwDocument *doc, int version)
{
  const cJSON *item = cJSON_GetArrayItem (fw_document_section (doc, "versions"), version);
  return cJSON_GetObjectItemCaseSensitive (item, "design")->child;
}

/* Undo keeps a tree for each step: a long drag must not keep each version again with each. */
static void
no_change_copies_a_version (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  GError *error = NULL;
  ok (fw_versions_keep (doc, "a", &error), error);
  ok (fw_versions_keep (doc, "b", &error), error);
  const cJSON *a = design_of (doc, 0), *b = design_of (doc, 1);
  g_assert_true (test_change (doc, "crank.throws.mid.radius", 21, NULL));
  g_assert_true (design_of (doc, 0) == a && design_of (doc, 1) == b);
  ok (fw_versions_keep (doc, "c", &error), error);
  ok (fw_versions_rename (doc, 0, "d", &error), error);
  g_assert_true (design_of (doc, 0) == a && design_of (doc, 1) == b);
  ok (fw_versions_bring_back (doc, 1, &error), error);
  ok (fw_log_add (doc, "2026-03-14", "first", NULL, 0, &error), error);
  ok (fw_log_bring_back (doc, 0, NULL, NULL, &error), error);
  ok (fw_versions_remove (doc, 0, &error), error);
  g_assert_true (design_of (doc, 0) == b);
  for (int i = 0; i < 4; i++)
    g_assert_true (fw_document_undo (doc));
  g_assert_true (design_of (doc, 0) == a);
  g_assert_cmpstr (fw_versions_name (doc, 0), ==, "d");
  g_assert_true (fw_document_undo (doc));
  g_assert_cmpstr (fw_versions_name (doc, 0), ==, "a");
  char *text = fw_document_to_text (doc);
  fw_document_free (test_open (text));
  g_free (text);
  fw_document_free (doc);
}

/* Two wings with a note of so many lists within each other beside them. */
static FwDocument *
noted_in_lists (int lists)
{
  char *base = test_valid_text ("two-wings");
  GString *text = g_string_new ("{ \"x-note\": ");
  for (int i = 0; i < 2 * lists; i++)
    g_string_append_c (text, i < lists ? '[' : ']');
  g_string_append_printf (text, ",%s", strchr (base, '{') + 1);
  FwDocument *doc = test_open (text->str);
  g_string_free (text, TRUE);
  g_free (base);
  return doc;
}

/* TRUE: kept, and what is written can be read. FALSE: refused in one line, and nothing changed. */
static gboolean
keeps (FwDocument *doc)
{
  GError *error = NULL;
  guint64 serial = fw_document_serial (doc);
  gboolean kept = fw_versions_keep (doc, "v", &error);
  char *text = fw_document_to_text (doc);
  fw_document_free (test_open (text));
  g_free (text);
  if (kept)
    return TRUE;
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_assert_null (strchr (error->message, '\n'));
  g_assert_cmpuint (fw_document_serial (doc), ==, serial);
  g_error_free (error);
  return FALSE;
}

static void
too_deep_a_design_is_not_kept (void)
{
  for (int lists = 57; lists <= 63; lists++)
    {
      FwDocument *doc = noted_in_lists (lists);
      g_assert_cmpint (keeps (doc), ==, lists + 4 <= 64); /* list of versions, version, design, its note */
      fw_document_free (doc);
    }
}

static void
too_large_a_file_is_not_made (void)
{
  const gsize half = 33 * 1024 * 1024;
  FwDocument *doc = test_open_valid ("two-wings");
  char *note = g_strnfill (half, 'x');
  GError *error = NULL;
  ok (fw_document_set_section (doc, "x-note", cJSON_CreateString (note), "note", NULL, &error), error);
  g_assert_false (keeps (doc));
  g_assert_false (fw_log_add (doc, "2026-03-14", "", NULL, 0, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_false (fw_document_set_section (doc, "x-more", cJSON_CreateString (note), "note", NULL, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_error_free (error);
  g_free (note);
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/versions/kept ones come back, each as one step of undo", kept_and_brought_back);
  g_test_add_func ("/versions/they are renamed and taken out", renamed_and_taken_out);
  g_test_add_func ("/versions/bad names are refused and nothing changes", bad_names_are_refused);
  g_test_add_func ("/versions/keys of a newer program come back too", unknown_keys_come_back);
  g_test_add_func ("/versions/log and versions leave each other alone", log_and_versions_stay_apart);
  g_test_add_func ("/versions/what differs is told", changes_are_told);
  g_test_add_func ("/versions/one that cannot be read does not shut the file", unreadable_version);
  g_test_add_func ("/versions/no change copies a version", no_change_copies_a_version);
  g_test_add_func ("/versions/what would lie too deep to be read again is not kept", too_deep_a_design_is_not_kept);
  g_test_add_func ("/versions/nothing makes a file larger than can be read", too_large_a_file_is_not_made);
  return g_test_run ();
}
