/* A program that saves over and over is killed at random moments: the file is one design or the other, whole.
 *
 *   test-doc-killed [-- KILLS [SEED]]
 *
 * SIGKILL shows that no moment of saving leaves a mixed file behind. It does not show what a power cut does: that
 * needs the file synced before it is renamed, and the folder after, which tests/cli/test_failing.py reads off the
 * program's calls. */
#include "support.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <glib/gstdio.h>

#define KILLS 100
#define LONGEST_US 6000 /* several savings go by before the longest wait is over */
#define NOTE 60000      /* letters that make a design big: it is written in many pages */

static int kills = KILLS;
static guint32 seed;

/* The same design, with a title and a long key that no program knows: it is kept. */
static FwDocument *
big_design (char letter)
{
  char *plain = test_valid_text ("all-extras"), *long_text = g_strnfill (NOTE, letter);
  char *text = g_strdup_printf ("{\"x-note\":\"%s\",%s", long_text, strchr (plain, '{') + 1);
  FwDocument *doc = test_open (text);

  g_free (text);
  g_free (long_text);
  g_free (plain);
  return doc;
}

static void
save_for_ever (FwDocument *const docs[2], const char *path, int ready)
{
  for (int i = 0;; i++)
    {
      if (!fw_document_save (docs[i % 2], path, NULL))
        _exit (1);
      if (i == 0 && write (ready, "y", 1) != 1)
        _exit (1);
    }
}

static void
kill_once (FwDocument *const docs[2], const char *path, guint32 wait_us)
{
  int ready[2], status;
  char byte;

  g_assert_cmpint (pipe (ready), ==, 0);
  pid_t pid = fork ();
  if (pid == 0)
    save_for_ever (docs, path, ready[1]);
  close (ready[1]);
  g_assert_cmpint (read (ready[0], &byte, 1), ==, 1);
  close (ready[0]);
  g_usleep (wait_us);
  g_assert_cmpint (kill (pid, SIGKILL), ==, 0);
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  g_assert_true (WIFSIGNALED (status) && WTERMSIG (status) == SIGKILL);
}

/* What a killed program leaves beside the file; removed. */
static guint
remove_halves (const char *folder)
{
  GDir *dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  while ((name = g_dir_read_name (dir)))
    if (g_str_has_prefix (name, ".flapwright-"))
      {
        char *path = g_build_filename (folder, name, NULL);
        g_assert_cmpint (g_unlink (path), ==, 0);
        g_free (path);
        n++;
      }
  g_dir_close (dir);
  return n;
}

static void
the_file_is_one_design_or_the_other (void)
{
  char *folder = test_new_folder (), *path = g_build_filename (folder, "big.flap", NULL);
  FwDocument *docs[2] = { big_design ('a'), big_design ('b') };
  char *texts[2] = { fw_document_to_text (docs[0]), fw_document_to_text (docs[1]) };
  GRand *rand = g_rand_new_with_seed (seed);
  guint found[2] = { 0, 0 }, halves = 0;

  for (int i = 0; i < kills; i++)
    {
      kill_once (docs, path, (guint32)g_rand_int_range (rand, 0, LONGEST_US));
      GError *error = NULL;
      FwDocument *doc = fw_document_load (path, &error);
      g_assert_no_error (error);
      char *text = fw_document_to_text (doc);
      int which = strcmp (text, texts[1]) == 0;
      g_assert_cmpstr (text, ==, texts[which]);
      found[which]++;
      halves += remove_halves (folder);
      g_assert_cmpuint (test_count_files (folder), ==, 1);
      g_free (text);
      fw_document_free (doc);
    }
  g_test_message ("%d kills with seed %u: %u found the first design, %u the second; %u came amid a saving", kills,
                  (guint)seed, found[0], found[1], halves);
  if (kills >= KILLS)
    g_assert_true (found[0] > 0 && found[1] > 0 && halves > 0);
  for (int i = 0; i < 2; i++)
    {
      fw_document_free (docs[i]);
      g_free (texts[i]);
    }
  g_rand_free (rand);
  test_remove_folder (folder);
  g_free (path);
  g_free (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  if (argc > 1 && g_str_equal (argv[1], "--"))
    argv++, argc--;
  kills = argc > 1 ? atoi (argv[1]) : KILLS;
  seed = argc > 2 ? (guint32)strtoul (argv[2], NULL, 10) : g_random_int ();
  g_test_add_func ("/doc/killed/the-file-is-one-design-or-the-other", the_file_is_one_design_or_the_other);
  return g_test_run ();
}
