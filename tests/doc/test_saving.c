/* Saving: what must be whole afterwards, whatever fails. */
#include "support.h"

#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gstdio.h>

typedef struct
{
  char *folder, *path;
  FwDocument *doc;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->folder = test_new_folder ();
  f->path = g_build_filename (f->folder, "heron.flap", NULL);
  f->doc = test_open_valid ("two-wings");
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  fw_document_free (f->doc);
  test_remove_folder (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static void
assert_content (const char *path, const char *text)
{
  char *content;
  g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
  g_assert_cmpstr (content, ==, text);
  g_free (content);
}

static void
assert_fails (Fixture *f, const char *path)
{
  GError *error = NULL;
  g_assert_false (fw_document_save (f->doc, path, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
  test_assert_one_line (error, path);
  g_error_free (error);
}

static void
saves_and_loads_again (Fixture *f, gconstpointer data)
{
  char *text = fw_document_to_text (f->doc);

  g_assert_true (fw_document_save (f->doc, f->path, NULL));
  assert_content (f->path, text);
  FwDocument *again = fw_document_load (f->path, NULL);
  g_assert_nonnull (again);
  g_assert_true (fw_document_save (again, f->path, NULL));
  assert_content (f->path, text);
  g_assert_cmpuint (test_count_files (f->folder), ==, 1);
  fw_document_free (again);
  g_free (text);
}

static void
keeps_permissions (Fixture *f, gconstpointer data)
{
  struct stat info;
  mode_t mask = umask (027);

  g_assert_true (fw_document_save (f->doc, f->path, NULL));
  g_assert_cmpint (stat (f->path, &info), ==, 0);
  g_assert_cmpint (info.st_mode & 07777, ==, 0640);
  g_assert_cmpint (chmod (f->path, 0664), ==, 0);
  g_assert_true (fw_document_save (f->doc, f->path, NULL));
  g_assert_cmpint (stat (f->path, &info), ==, 0);
  g_assert_cmpint (info.st_mode & 07777, ==, 0664);
  umask (mask);
}

static void
writes_through_links (Fixture *f, gconstpointer data)
{
  char *one = g_build_filename (f->folder, "one", NULL),
       *two = g_build_filename (f->folder, "two", NULL);
  char *text = fw_document_to_text (f->doc);

  /* one -> two -> heron.flap, which is not there yet. */
  g_assert_cmpint (symlink ("two", one), ==, 0);
  g_assert_cmpint (symlink (f->path, two), ==, 0);
  g_assert_true (fw_document_save (f->doc, one, NULL));
  g_assert_true (g_file_test (one, G_FILE_TEST_IS_SYMLINK)
                 && g_file_test (two, G_FILE_TEST_IS_SYMLINK));
  g_assert_false (g_file_test (f->path, G_FILE_TEST_IS_SYMLINK));
  assert_content (f->path, text);
  g_assert_true (fw_document_save (f->doc, one, NULL));
  g_assert_cmpuint (test_count_files (f->folder), ==, 3);

  /* A link that leads to itself is an error. */
  g_assert_cmpint (g_unlink (two), ==, 0);
  g_assert_cmpint (symlink ("one", two), ==, 0);
  assert_fails (f, one);
  g_free (text);
  g_free (one);
  g_free (two);
}

static void
refuses_targets_that_are_no_files (Fixture *f, gconstpointer data)
{
  char *inside = g_build_filename (f->path, "below.flap", NULL);
  char *missing = g_build_filename (f->folder, "no", "such", "folder.flap", NULL);
  char *fifo = g_build_filename (f->folder, "fifo", NULL);
  char *long_name = g_strnfill (300, 'x');
  char *too_long = g_build_filename (f->folder, long_name, NULL);

  g_assert_true (g_file_set_contents (f->path, "old", -1, NULL));
  assert_fails (f, inside);
  assert_fails (f, missing);
  assert_fails (f, f->folder);
  assert_fails (f, "/dev/full");
  g_assert_true (g_file_test ("/dev/full", G_FILE_TEST_EXISTS)
                 && !g_file_test ("/dev/full", G_FILE_TEST_IS_REGULAR));
  g_assert_cmpint (mkfifo (fifo, 0600), ==, 0);
  assert_fails (f, fifo);
  assert_fails (f, too_long);
  assert_fails (f, "");
  assert_content (f->path, "old");
  g_assert_cmpuint (test_count_files (f->folder), ==, 2);
  g_free (inside);
  g_free (missing);
  g_free (fifo);
  g_free (long_name);
  g_free (too_long);
}

static void
leaves_the_old_file_whole_when_the_disk_is_full (Fixture *f, gconstpointer data)
{
  struct rlimit old, small;

  g_assert_true (fw_document_save (f->doc, f->path, NULL));
  char *text = fw_document_to_text (f->doc);
  g_assert_true (test_change (f->doc, "rods.inrod.length", 410, NULL));

  /* Writing fails midway, as on a full disk. */
  signal (SIGXFSZ, SIG_IGN);
  getrlimit (RLIMIT_FSIZE, &old);
  small = old;
  small.rlim_cur = 100;
  setrlimit (RLIMIT_FSIZE, &small);
  GError *error = NULL;
  gboolean saved = fw_document_save (f->doc, f->path, &error);
  setrlimit (RLIMIT_FSIZE, &old);

  g_assert_false (saved);
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
  test_assert_one_line (error, f->path);
  g_error_free (error);
  assert_content (f->path, text);
  g_assert_cmpuint (test_count_files (f->folder), ==, 1);
  g_assert_true (fw_document_is_modified (f->doc));
  g_assert_true (fw_document_save (f->doc, f->path, NULL));
  g_assert_false (fw_document_is_modified (f->doc));
  g_free (text);
}

static void
fails_to_load_with_one_line (Fixture *f, gconstpointer data)
{
  const char *const paths[] = { f->path, f->folder, "/dev/zero", "" };

  for (gsize i = 0; i < G_N_ELEMENTS (paths); i++)
    {
      GError *error = NULL;
      g_assert_null (fw_document_load (paths[i], &error));
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
      test_assert_one_line (error, paths[i]);
      g_error_free (error);
    }
}

static void
writes_points_where_the_locale_writes_commas (Fixture *f, gconstpointer data)
{
  if (!test_use_german_locale (f->folder))
    {
      g_test_skip ("this machine has no German number marks");
      return;
    }
  char *comma = g_strdup_printf ("%.1f", 1.5);
  g_assert_cmpstr (comma, ==, "1,5");

  FwDocument *doc = test_open_valid ("all-extras");
  g_assert_cmpfloat (test_number (doc, "crank.turns_per_minute"), ==, 24.5);
  g_assert_true (test_change (doc, "crank.turns_per_minute", 27.25, NULL));
  g_assert_true (fw_document_save (doc, f->path, NULL));
  char *content;
  g_assert_true (g_file_get_contents (f->path, &content, NULL, NULL));
  g_assert_nonnull (strstr (content, "\"turns_per_minute\": 27.25,"));
  g_assert_nonnull (strstr (content, "\"diameter\": 12.7,"));
  fw_document_free (doc);
  doc = fw_document_load (f->path, NULL);
  g_assert_cmpfloat (test_number (doc, "crank.turns_per_minute"), ==, 27.25);
  fw_document_free (doc);
  setlocale (LC_ALL, "C");
  g_free (content);
  g_free (comma);
}

#define ADD(name, function)                                                                        \
  g_test_add ("/doc/saving/" name, Fixture, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("saves-and-loads-again", saves_and_loads_again);
  ADD ("keeps-permissions", keeps_permissions);
  ADD ("writes-through-links", writes_through_links);
  ADD ("refuses-targets-that-are-no-files", refuses_targets_that_are_no_files);
  ADD ("leaves-the-old-file-whole-when-the-disk-is-full",
       leaves_the_old_file_whole_when_the_disk_is_full);
  ADD ("fails-to-load-with-one-line", fails_to_load_with_one_line);
  ADD ("writes-points-where-the-locale-writes-commas",
       writes_points_where_the_locale_writes_commas);
  return g_test_run ();
}
