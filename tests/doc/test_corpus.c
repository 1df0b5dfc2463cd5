/* Every file in valid/ opens and survives saving; every file in invalid/ is refused with one line
 * that names the file and the place that invalid/places.txt gives. */
#include "support.h"

#include <string.h>

#include "doc/json.h"

typedef struct
{
  char *name, *kind, *place;
} Case;

static void
case_free (gpointer data)
{
  Case *c = data;
  g_free (c->name);
  g_free (c->kind);
  g_free (c->place);
  g_free (c);
}

static void
opens_and_saves_the_same (gconstpointer data)
{
  const Case *c = data;
  char *text = test_valid_text (c->name);
  FwDocument *first = test_open (text);
  char *once = fw_document_to_text (first);
  FwDocument *second = test_open (once);
  char *twice = fw_document_to_text (second);

  g_assert_cmpstr (once, ==, twice);
  g_assert_true (g_str_has_suffix (once, "}\n"));
  g_assert_false (fw_document_is_modified (second));

  /* What was saved is what was read, unknown keys included. */
  cJSON *before = fw_json_parse (text, strlen (text), "before", NULL);
  cJSON *after = fw_json_parse (once, strlen (once), "after", NULL);
  g_assert_true (cJSON_Compare (before, after, TRUE));
  cJSON_Delete (before);
  cJSON_Delete (after);

  const FwDesign *a = fw_document_design (first), *b = fw_document_design (second);
  int n = fw_design_params (a, NULL, 0);
  FwParam *params = g_new (FwParam, n);
  g_assert_cmpint (n, ==, fw_design_params (b, params, n));
  for (int i = 0; i < n; i++)
    g_assert_cmpfloat (fw_param_get (a, params[i]), ==, fw_param_get (b, params[i]));

  g_free (params);
  fw_document_free (first);
  fw_document_free (second);
  g_free (once);
  g_free (twice);
  g_free (text);
}

static int
error_code (const char *kind)
{
  if (strcmp (kind, "syntax") == 0)
    return FW_DOC_ERROR_SYNTAX;
  return strcmp (kind, "version") == 0 ? FW_DOC_ERROR_VERSION : FW_DOC_ERROR_INVALID;
}

static void
is_refused_in_its_place (gconstpointer data)
{
  const Case *c = data;
  GError *error = NULL;
  char *path = test_corpus_path ("invalid", c->name);
  FwDocument *doc = fw_document_load (path, &error);

  g_assert_null (doc);
  g_assert_error (error, FW_DOC_ERROR, error_code (c->kind));
  test_assert_one_line (error, path);
  char *start = g_strdup_printf ("%s: %s: ", path, c->place);
  if (!g_str_has_prefix (error->message, start))
    g_error ("\"%s\" was expected to begin with \"%s\"", error->message, start);
  g_assert_cmpuint (strlen (error->message), >, strlen (start) + 5);
  g_free (start);
  g_free (path);
  g_error_free (error);
}

static void
every_invalid_file_is_listed (void)
{
  char *folder = g_build_filename (FW_CORPUS, "invalid", NULL);
  char *list = g_build_filename (folder, "places.txt", NULL);
  char *text;
  guint lines = 0;

  g_assert_true (g_file_get_contents (list, &text, NULL, NULL));
  for (const char *c = text; *c; c++)
    lines += *c == '\n';
  /* The list has one comment line, the folder one file that is no design. */
  g_assert_cmpuint (lines - 1, ==, test_count_files (folder) - 1);
  g_assert_cmpuint (lines, >, 200);
  g_free (text);
  g_free (list);
  g_free (folder);
}

/* The first block of JSON in the page on the format. */
static void
opens_the_example_of_the_page (void)
{
  char *path = g_build_filename (FW_CORPUS, "..", "..", "docs", "file-format.md", NULL);
  char *page, *original = test_valid_text ("two-wings");

  g_assert_true (g_file_get_contents (path, &page, NULL, NULL));
  char *start = strstr (page, "```json\n") + strlen ("```json\n");
  *strstr (start, "```") = '\0';
  FwDocument *doc = test_open (start), *same = test_open (original);
  char *text = fw_document_to_text (doc), *expected = fw_document_to_text (same);
  g_assert_cmpstr (start, ==, text); /* it is laid out as the program would */
  g_assert_cmpstr (text, ==, expected);
  fw_document_free (doc);
  fw_document_free (same);
  g_free (text);
  g_free (expected);
  g_free (original);
  g_free (page);
  g_free (path);
}

static void
add_valid (void)
{
  char *folder = g_build_filename (FW_CORPUS, "valid", NULL);
  GDir *dir = g_dir_open (folder, 0, NULL);
  const char *file;

  while ((file = g_dir_read_name (dir)))
    {
      Case *c = g_new0 (Case, 1);
      c->name = g_strndup (file, strlen (file) - strlen (".flap"));
      char *path = g_strdup_printf ("/doc/corpus/opens-and-saves-the-same/%s", c->name);
      g_test_add_data_func_full (path, c, opens_and_saves_the_same, case_free);
      g_free (path);
    }
  g_dir_close (dir);
  g_free (folder);
}

static void
add_invalid (void)
{
  char *list = g_build_filename (FW_CORPUS, "invalid", "places.txt", NULL);
  char *text;

  g_assert_true (g_file_get_contents (list, &text, NULL, NULL));
  char **lines = g_strsplit (text, "\n", -1);
  for (char **line = lines; *line; line++)
    {
      char **fields = g_strsplit (*line, "\t", 3);
      if (**line != '#' && g_strv_length (fields) == 3)
        {
          Case *c = g_new0 (Case, 1);
          *c = (Case){ g_strdup (fields[0]), g_strdup (fields[1]), g_strdup (fields[2]) };
          char *path = g_strdup_printf ("/doc/corpus/is-refused-in-its-place/%s", c->name);
          g_test_add_data_func_full (path, c, is_refused_in_its_place, case_free);
          g_free (path);
        }
      g_strfreev (fields);
    }
  g_strfreev (lines);
  g_free (text);
  g_free (list);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  add_valid ();
  add_invalid ();
  g_test_add_func ("/doc/corpus/every-invalid-file-is-listed", every_invalid_file_is_listed);
  g_test_add_func ("/doc/corpus/opens-the-example-of-the-page", opens_the_example_of_the_page);
  return g_test_run ();
}
