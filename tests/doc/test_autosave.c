/* Unsaved work, kept and found again. */
#include "support.h"

#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <utime.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "doc/autosave.h"

static char *state_folder;

static guint
left_over_count (void)
{
  GPtrArray *list = fw_autosave_left_over ();
  guint n = list->len;
  g_ptr_array_unref (list);
  return n;
}

/* Another program that keeps work, tells that it has, and waits to be killed. */
static pid_t
start_other (const char *session, const char *original)
{
  int ready[2];
  char byte;
  g_assert_cmpint (pipe (ready), ==, 0);
  pid_t pid = fork ();
  if (pid == 0)
    {
      FwDocument *doc = test_open_valid ("along");
      gboolean good = fw_autosave_keep (doc, session, original, NULL);
      if (write (ready[1], good ? "y" : "n", 1) != 1)
        _exit (1);
      for (;;)
        pause ();
    }
  close (ready[1]);
  g_assert_cmpint (read (ready[0], &byte, 1), ==, 1);
  g_assert_cmpint (byte, ==, 'y');
  close (ready[0]);
  return pid;
}

static void
crash (pid_t pid)
{
  kill (pid, SIGKILL);
  waitpid (pid, NULL, 0);
}

static void
offers_work_only_after_a_crash (void)
{
  const char *original = "/home/maker/wings, two\nlines.flap";

  g_assert_cmpuint (left_over_count (), ==, 0);
  pid_t pid = start_other ("other-1", original);
  g_assert_cmpuint (left_over_count (), ==, 0);
  crash (pid);

  GPtrArray *list = fw_autosave_left_over ();
  g_assert_cmpuint (list->len, ==, 1);
  FwAutosave *kept = g_ptr_array_index (list, 0);
  g_assert_cmpstr (kept->original, ==, original);
  g_assert_cmpint (ABS (g_get_real_time () / G_USEC_PER_SEC - kept->when), <=, 60);
  FwDocument *doc = fw_document_load (kept->file, NULL);
  g_assert_nonnull (doc);
  g_assert_cmpint (fw_document_design (doc)->crank.runs, ==, FW_RUNS_ALONG);
  fw_document_free (doc);

  fw_autosave_discard (kept);
  g_ptr_array_unref (list);
  g_assert_cmpuint (left_over_count (), ==, 0);
  char *folder = g_build_filename (state_folder, "flapwright", "kept", NULL);
  g_assert_cmpuint (test_count_files (folder), ==, 0);
  g_free (folder);
}

static void
forgets_work_that_was_saved (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  GError *error = NULL;

  fw_autosave_keep (doc, "mine", NULL, &error);
  g_assert_no_error (error);
  g_assert_true (fw_autosave_keep (doc, "mine", "/home/maker/a.flap", NULL));
  g_assert_cmpuint (left_over_count (), ==, 0);
  fw_autosave_drop ("mine");
  fw_autosave_drop ("mine");
  g_assert_cmpuint (left_over_count (), ==, 0);
  char *folder = g_build_filename (state_folder, "flapwright", "kept", NULL);
  g_assert_cmpuint (test_count_files (folder), ==, 0);
  g_free (folder);
  fw_document_free (doc);
}

static void
lists_the_newest_first_and_ignores_the_rest (void)
{
  pid_t first = start_other ("a", NULL), second = start_other ("b", "/x.flap");
  crash (first);
  crash (second);
  char *folder = g_build_filename (state_folder, "flapwright", "kept", NULL);
  char *older = g_build_filename (folder, "a.flap", NULL);
  char *lockless = g_build_filename (folder, "c.flap", NULL),
       *stranger = g_build_filename (folder, "note.txt", NULL);
  struct utimbuf times = { 1000, 1000 };
  g_assert_cmpint (g_utime (older, &times), ==, 0);
  g_assert_true (g_file_set_contents (lockless, "{", -1, NULL));
  g_assert_true (g_file_set_contents (stranger, "x", -1, NULL));

  GPtrArray *list = fw_autosave_left_over ();
  g_assert_cmpuint (list->len, ==, 3);
  FwAutosave *last = g_ptr_array_index (list, 2);
  g_assert_cmpstr (last->file, ==, older);
  g_assert_null (last->original);
  g_assert_cmpint (last->when, ==, 1000);
  for (guint i = 0; i < list->len; i++)
    fw_autosave_discard (g_ptr_array_index (list, i));
  g_ptr_array_unref (list);
  g_assert_cmpuint (left_over_count (), ==, 0);
  g_assert_cmpuint (test_count_files (folder), ==, 1);
  g_unlink (stranger);
  g_free (older);
  g_free (lockless);
  g_free (stranger);
  g_free (folder);
}

/* Only what the program itself could have kept there is offered, and nothing else is ever taken away. */
static void
passes_over_what_it_never_kept (void)
{
  char *longest = g_strnfill (101, 'a'), *folder = g_build_filename (state_folder, "flapwright", "kept", NULL);
  const char *const names[] = { "", "my owl", "..owl", "owl_2", longest };
  const char *const ours[] = { "b-2", "b-1" };
  char *kept[2];
  struct utimbuf times = { 1000, 1000 };

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      char *file = g_strconcat (names[i], ".flap", NULL), *path = g_build_filename (folder, file, NULL);
      g_assert_true (g_file_set_contents (path, "{", -1, NULL));
      fw_autosave_discard (&(FwAutosave){ .file = path });
      g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
      g_free (path);
      g_free (file);
    }
  for (int i = 0; i < 2; i++)
    {
      char *file = g_strconcat (ours[i], ".flap", NULL);
      kept[i] = g_build_filename (folder, file, NULL);
      g_assert_true (g_file_set_contents (kept[i], "{", -1, NULL));
      g_assert_cmpint (g_utime (kept[i], &times), ==, 0);
      g_free (file);
    }
  GPtrArray *list = fw_autosave_left_over ();
  g_assert_cmpuint (list->len, ==, 2);
  g_assert_cmpstr (((FwAutosave *)list->pdata[0])->file, ==, kept[1]); /* of one time by name */
  g_assert_cmpstr (((FwAutosave *)list->pdata[1])->file, ==, kept[0]);
  g_ptr_array_unref (list);
  for (int i = 0; i < 2; i++)
    g_free (kept[i]);
  test_remove_folder (folder);
  g_free (folder);
  g_free (longest);
}

static void
leaves_another_programs_session_alone (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  pid_t pid = start_other ("shared", NULL);
  GError *error = NULL;

  g_assert_false (fw_autosave_keep (doc, "shared", NULL, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
  g_clear_error (&error);
  crash (pid);
  g_assert_true (fw_autosave_keep (doc, "shared", NULL, &error));
  fw_autosave_drop ("shared");
  fw_document_free (doc);
}

static void
says_when_work_cannot_be_kept (void)
{
  char *folder = g_build_filename (state_folder, "flapwright", NULL);
  FwDocument *doc = test_open_valid ("two-wings");
  GError *error = NULL;

  test_remove_folder (folder);
  g_assert_true (g_file_set_contents (folder, "in the way", -1, NULL));
  g_assert_false (fw_autosave_keep (doc, "mine", NULL, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
  g_assert_null (strchr (error->message, '\n'));
  g_error_free (error);
  g_assert_cmpuint (left_over_count (), ==, 0);
  g_unlink (folder);
  fw_document_free (doc);
  g_free (folder);
}

int
main (int argc, char **argv)
{
  state_folder = test_new_folder ();
  g_setenv ("XDG_STATE_HOME", state_folder, TRUE);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/autosave/offers-work-only-after-a-crash", offers_work_only_after_a_crash);
  g_test_add_func ("/doc/autosave/forgets-work-that-was-saved", forgets_work_that_was_saved);
  g_test_add_func ("/doc/autosave/lists-the-newest-first-and-ignores-the-rest",
                   lists_the_newest_first_and_ignores_the_rest);
  g_test_add_func ("/doc/autosave/leaves-another-programs-session-alone",
                   leaves_another_programs_session_alone);
  g_test_add_func ("/doc/autosave/says-when-work-cannot-be-kept", says_when_work_cannot_be_kept);
  g_test_add_func ("/doc/autosave/passes-over-what-it-never-kept", passes_over_what_it_never_kept);
  int result = g_test_run ();
  test_remove_folder (state_folder);
  g_free (state_folder);
  return result;
}
