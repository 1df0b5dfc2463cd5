#include "support.h"

#include <locale.h>
#include <string.h>

#include <glib/gstdio.h>

char *
test_corpus_path (const char *folder, const char *name)
{
  char *file = g_strconcat (name, ".flap", NULL);
  char *path = g_build_filename (FW_CORPUS, folder, file, NULL);
  g_free (file);
  return path;
}

char *
test_valid_text (const char *name)
{
  char *path = test_corpus_path ("valid", name);
  char *text;
  GError *error = NULL;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  g_free (path);
  return text;
}

FwDocument *
test_open (const char *text)
{
  GError *error = NULL;
  FwDocument *doc = fw_document_new_from_text (text, -1, "test.flap", &error);
  g_assert_no_error (error);
  g_assert_nonnull (doc);
  return doc;
}

FwDocument *
test_open_valid (const char *name)
{
  char *text = test_valid_text (name);
  FwDocument *doc = test_open (text);
  g_free (text);
  return doc;
}

FwParam
test_param (const FwDocument *doc, const char *path)
{
  FwParam param = { 0 };
  if (!fw_param_from_path (fw_document_design (doc), path, &param))
    g_error ("no number at %s", path);
  return param;
}

double
test_number (const FwDocument *doc, const char *path)
{
  return fw_param_get (fw_document_design (doc), test_param (doc, path));
}

gboolean
test_change (FwDocument *doc, const char *path, double value, const char *merge_key)
{
  FwChange change = { test_param (doc, path), value };
  return fw_document_change (doc, &change, 1, path, merge_key, NULL);
}

char *
test_new_folder (void)
{
  GError *error = NULL;
  char *folder = g_dir_make_tmp ("flapwright-test-XXXXXX", &error);
  g_assert_no_error (error);
  return folder;
}

void
test_remove_folder (const char *folder)
{
  GDir *dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      char *path = g_build_filename (folder, name, NULL);
      if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        test_remove_folder (path);
      else
        g_unlink (path);
      g_free (path);
    }
  g_clear_pointer (&dir, g_dir_close);
  g_rmdir (folder);
}

guint
test_count_files (const char *folder)
{
  GDir *dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (dir && g_dir_read_name (dir))
    n++;
  g_clear_pointer (&dir, g_dir_close);
  return n;
}

gboolean
test_use_german_locale (const char *folder)
{
  /* Numbers only: the whole of a locale takes seconds to compile. */
  static const char numeric[]
      = "LC_NUMERIC\ndecimal_point \",\"\nthousands_sep \".\"\ngrouping 3;3\nEND LC_NUMERIC\n";
  char *source = g_build_filename (folder, "numeric", NULL), *made = g_build_filename (folder, "de_DE", NULL);
  const char *const argv[]
      = { "localedef", "--no-archive", "-c", "-i", source, "-f", "ANSI_X3.4-1968", made, NULL };

  g_assert_true (g_file_set_contents (source, numeric, -1, NULL));
  g_spawn_sync (NULL, (char **)argv, NULL,
                G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                NULL, NULL, NULL, NULL, NULL);
  g_unlink (source);
  g_free (source);
  g_free (made);
  g_setenv ("LOCPATH", folder, TRUE);
  return setlocale (LC_NUMERIC, "de_DE") != NULL;
}

void
test_assert_one_line (const GError *error, const char *name)
{
  char *start = g_strconcat (name, ": ", NULL);

  g_assert_nonnull (error);
  g_assert_true (g_str_has_prefix (error->message, start));
  g_assert_null (strpbrk (error->message, "\n\r"));
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  g_assert_nonnull (strstr (error->message + strlen (start), ": "));
  g_free (start);
}

void
test_assert_text_is (const FwDocument *doc, char *before)
{
  g_autofree char *was = before, *now = fw_document_to_text (doc);
  g_assert_cmpstr (was, ==, now);
}
