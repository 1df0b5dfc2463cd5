/* Saving: what must be whole afterwards, whatever fails. */
#include "support.h"

#include <errno.h>
#include <fcntl.h>
#include <grp.h>
#include <locale.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "doc/filebatch.h"

#define NOBODY 65534 /* a user and a group that own nothing */

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

/* Only root may give files away: as another user there is nothing to see. */
static void
keeps_owner_and_group (Fixture *f, gconstpointer data)
{
  struct stat info;

  if (geteuid () != 0)
    {
      g_test_skip ("only root can give a file another owner");
      return;
    }
  g_assert_true (fw_document_save (f->doc, f->path, NULL));
  g_assert_cmpint (chown (f->path, 12345, 23456), ==, 0);
  g_assert_cmpint (chmod (f->path, 0640), ==, 0);
  g_assert_true (fw_document_save (f->doc, f->path, NULL));
  g_assert_cmpint (stat (f->path, &info), ==, 0);
  g_assert_cmpint (info.st_uid, ==, 12345);
  g_assert_cmpint (info.st_gid, ==, 23456);
  g_assert_cmpint (info.st_mode & 07777, ==, 0640);
}

/* Runs `save` as nobody, who may not do what root may; its exit status. */
static int
as_nobody (Fixture *f, int (*save) (Fixture *f))
{
  int status;
  pid_t pid = fork ();

  if (pid == 0)
    _exit (setgroups (0, NULL) == 0 && setgid (NOBODY) == 0 && setuid (NOBODY) == 0 ? save (f) : 99);
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  return WIFEXITED (status) ? WEXITSTATUS (status) : 98;
}

static int
save_refused (Fixture *f)
{
  GError *error = NULL;
  if (fw_document_save (f->doc, f->path, &error))
    return 1;
  return strstr (error->message, g_strerror (EACCES)) != NULL && strchr (error->message, '\n') == NULL ? 0 : 2;
}

static int
save_done (Fixture *f)
{
  return fw_document_save (f->doc, f->path, NULL) ? 0 : 1;
}

static void
refuses_what_may_not_be_written (Fixture *f, gconstpointer data)
{
  struct stat info;

  if (geteuid () != 0)
    {
      g_test_skip ("only root can become somebody else");
      return;
    }
  g_assert_true (g_file_set_contents (f->path, "old", -1, NULL));

  /* A file of one's own that is locked against writing, in a folder of one's own. */
  g_assert_cmpint (chown (f->folder, NOBODY, NOBODY), ==, 0);
  g_assert_cmpint (chown (f->path, NOBODY, NOBODY), ==, 0);
  g_assert_cmpint (chmod (f->path, 0444), ==, 0);
  g_assert_cmpint (as_nobody (f, save_refused), ==, 0);
  assert_content (f->path, "old");

  /* A folder that is locked, and one that may not be looked into. */
  g_assert_cmpint (chmod (f->path, 0644), ==, 0);
  g_assert_cmpint (chmod (f->folder, 0555), ==, 0);
  g_assert_cmpint (as_nobody (f, save_refused), ==, 0);
  g_assert_cmpint (chmod (f->folder, 0600), ==, 0);
  g_assert_cmpint (as_nobody (f, save_refused), ==, 0);
  g_assert_cmpint (chmod (f->folder, 0700), ==, 0);
  assert_content (f->path, "old");
  g_assert_cmpuint (test_count_files (f->folder), ==, 1);

  /* Somebody else's file, which one may write: it becomes one's own, and its group, which cannot be kept, opens it to
   * no new group. */
  g_assert_cmpint (chown (f->path, 12345, 23456), ==, 0);
  g_assert_cmpint (chmod (f->path, 0662), ==, 0);
  g_assert_cmpint (as_nobody (f, save_done), ==, 0);
  g_assert_cmpint (stat (f->path, &info), ==, 0);
  g_assert_cmpint (info.st_uid, ==, NOBODY);
  g_assert_cmpint (info.st_mode & 0777, ==, 0622);
  g_assert_cmpint (chown (f->folder, 0, 0), ==, 0);
}

static void
leaves_other_names_of_the_file_alone (Fixture *f, gconstpointer data)
{
  char *other = g_build_filename (f->folder, "backup.flap", NULL);

  g_assert_true (g_file_set_contents (f->path, "old", -1, NULL));
  g_assert_cmpint (link (f->path, other), ==, 0);
  g_assert_true (fw_document_save (f->doc, f->path, NULL));
  assert_content (other, "old");
  char *text = fw_document_to_text (f->doc);
  assert_content (f->path, text);
  g_free (text);
  g_free (other);
}

/* Several files that fail together: links stay, and nothing is left behind them that was not there. */
static void
takes_back_what_was_put_through_links (Fixture *f, gconstpointer data)
{
  static const char *const names[] = { "link", "chain", "old-link" };
  char *paths[3], *there = g_build_filename (f->folder, "there", NULL), *gone = g_build_filename (f->folder, "gone", NULL);
  char *blocked = g_build_filename (f->folder, "blocked", NULL);
  FwFileBatch batch;
  for (int i = 0; i < 3; i++)
    paths[i] = g_build_filename (f->folder, names[i], NULL);
  g_assert_true (g_file_set_contents (there, "old", -1, NULL));
  g_assert_cmpint (symlink ("gone", paths[0]), ==, 0);
  g_assert_cmpint (symlink (paths[0], paths[1]), ==, 0);
  g_assert_cmpint (symlink ("there", paths[2]), ==, 0);
  for (int i = 0; i < 3; i++)
    {
      GError *error = NULL;
      fw_file_batch_open (&batch);
      g_assert_true (fw_file_batch_put (&batch, paths[i], "new", 3, &error));
      g_assert_true (fw_file_batch_put (&batch, blocked, "new", 3, &error));
      g_assert_cmpint (g_mkdir (blocked, 0700), ==, 0); /* so that what is in place already must go back */
      g_assert_false (fw_file_batch_close (&batch, TRUE, &error));
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
      g_error_free (error);
      g_assert_cmpint (g_rmdir (blocked), ==, 0);
      g_assert_true (g_file_test (paths[i], G_FILE_TEST_IS_SYMLINK));
      g_assert_false (g_file_test (gone, G_FILE_TEST_EXISTS));
      assert_content (there, "old");
      g_assert_cmpuint (test_count_files (f->folder), ==, 4);
    }
  for (int i = 0; i < 3; i++)
    g_free (paths[i]);
  g_free (there);
  g_free (gone);
  g_free (blocked);
}

/* Whatever moment a program is killed at: until the last file is written all of them are the old ones. */
static void
files_that_belong_together_take_their_places_at_the_end (Fixture *f, gconstpointer data)
{
  for (int keep = 0; keep < 2; keep++)
    {
      char *old = g_build_filename (f->folder, "old", NULL), *fresh = g_build_filename (f->folder, "fresh", NULL);
      GError *error = NULL;
      FwFileBatch batch;
      g_assert_true (g_file_set_contents (old, "old", -1, NULL));
      fw_file_batch_open (&batch);
      g_assert_true (fw_file_batch_put (&batch, old, "new", 3, &error));
      g_assert_true (fw_file_batch_put (&batch, fresh, "new", 3, &error));
      assert_content (old, "old");
      g_assert_false (g_file_test (fresh, G_FILE_TEST_EXISTS));
      g_assert_cmpint (fw_file_batch_close (&batch, keep, &error), ==, keep);
      g_assert_no_error (error);
      assert_content (old, keep ? "new" : "old");
      g_assert_cmpint (g_file_test (fresh, G_FILE_TEST_EXISTS), ==, keep);
      g_assert_cmpuint (test_count_files (f->folder), ==, keep ? 2 : 1);
      g_free (old);
      g_free (fresh);
    }
}

/* A link in a folder that is locked, to a file elsewhere: what is written stands beside the file, which may lie on
 * another file system, and never beside the link. */
static void
writes_beside_what_a_link_leads_to (Fixture *f, gconstpointer data)
{
  if (geteuid () != 0)
    {
      g_test_skip ("only root can become somebody else");
      return;
    }
  char *folder = test_new_folder (), *far = g_build_filename (folder, "far.flap", NULL);
  char *text = fw_document_to_text (f->doc);
  g_assert_true (g_file_set_contents (far, "old", -1, NULL));
  g_assert_cmpint (chown (folder, NOBODY, NOBODY), ==, 0);
  g_assert_cmpint (chown (far, NOBODY, NOBODY), ==, 0);
  g_assert_cmpint (symlink (far, f->path), ==, 0);
  g_assert_cmpint (chmod (f->folder, 0555), ==, 0);
  g_assert_cmpint (as_nobody (f, save_done), ==, 0);
  g_assert_cmpint (chmod (f->folder, 0700), ==, 0);
  g_assert_true (g_file_test (f->path, G_FILE_TEST_IS_SYMLINK));
  assert_content (far, text);
  g_assert_cmpuint (test_count_files (folder), ==, 1);
  test_remove_folder (folder);
  g_free (folder);
  g_free (far);
  g_free (text);
}

/* Names that a shell, a list of lines or a text in UTF-8 would stumble over, and the longest. */
static void
saves_under_any_name_the_disk_can_hold (Fixture *f, gconstpointer data)
{
  static const char *const names[] = { "two words.flap", "two\nlines.flap", "-o", "--help", "\xff\xfe.flap", "$(date);`id`",
                                       "%s%n", "<b>&amp;", "'\"\\", "\u00fcber \u9dfa.flap", " ", "..flap" };
  char *text = fw_document_to_text (f->doc), *longest = g_strnfill (255, 'x');

  for (gsize i = 0; i <= G_N_ELEMENTS (names); i++)
    {
      char *path = g_build_filename (f->folder, i < G_N_ELEMENTS (names) ? names[i] : longest, NULL);
      GError *error = NULL;
      fw_document_save (f->doc, path, &error);
      g_assert_no_error (error);
      assert_content (path, text);
      FwDocument *again = fw_document_load (path, &error);
      g_assert_no_error (error);
      fw_document_free (again);
      g_assert_cmpuint (test_count_files (f->folder), ==, 1);
      g_assert_cmpint (g_unlink (path), ==, 0);

      /* The same name where it cannot be written: one line. */
      char *nowhere = g_build_filename (path, "below", NULL);
      g_assert_false (fw_document_save (f->doc, nowhere, &error));
      g_assert_null (strchr (error->message, '\n'));
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      g_clear_error (&error);
      g_free (nowhere);
      g_free (path);
    }
  g_free (longest);
  g_free (text);
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
  ADD ("keeps-owner-and-group", keeps_owner_and_group);
  ADD ("refuses-what-may-not-be-written", refuses_what_may_not_be_written);
  ADD ("leaves-other-names-of-the-file-alone", leaves_other_names_of_the_file_alone);
  ADD ("writes-beside-what-a-link-leads-to", writes_beside_what_a_link_leads_to);
  ADD ("saves-under-any-name-the-disk-can-hold", saves_under_any_name_the_disk_can_hold);
  ADD ("writes-through-links", writes_through_links);
  ADD ("takes-back-what-was-put-through-links", takes_back_what_was_put_through_links);
  ADD ("files-that-belong-together-take-their-places-at-the-end", files_that_belong_together_take_their_places_at_the_end);
  ADD ("refuses-targets-that-are-no-files", refuses_targets_that_are_no_files);
  ADD ("leaves-the-old-file-whole-when-the-disk-is-full",
       leaves_the_old_file_whole_when_the_disk_is_full);
  ADD ("fails-to-load-with-one-line", fails_to_load_with_one_line);
  ADD ("writes-points-where-the-locale-writes-commas",
       writes_points_where_the_locale_writes_commas);
  return g_test_run ();
}
