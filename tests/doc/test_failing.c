/* Every call that touches the disk fails in turn, for every n until the work is done: what is in memory and what
 * is on disk are whole, old or new and never mixed, the error is one line, and nothing is left beside.
 *
 * The linker sends the calls of this program's own objects here. GLib's own allocations are left alone: where one
 * fails the program ends, by GLib's rule; tests/cli/test_failing.py ends it so and looks at the file. */
#include "support.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "doc/autosave.h"
#include "doc/filebatch.h"

typedef enum
{
  OPEN,        /* of a file or folder that is there */
  MAKE,        /* of a file beside the target */
  WRITE,       /* nothing is written */
  WRITE_PART,  /* half is written, and the next call fails: a disk that fills up */
  WRITE_SHORT, /* half is written: no failure at all */
  WRITE_NONE,  /* 0 */
  WRITE_AGAIN, /* a signal came: no failure either */
  READ,
  PUT_AT,
  CUT,
  MODE,
  SYNC,
  CLOSE,
  RENAME,
  N_CALLS
} Call;

static Call failing = N_CALLS;
static int until;      /* counts down; the call that meets 0 fails */
static gboolean fired; /* it has */
static gboolean full;  /* every further write fails */
static int problem;    /* the errno it fails with */
static gboolean plain; /* a file system that knows no second names */

int __real_open64 (const char *path, int flags, int mode);
int __real_g_mkstemp_full (char *template, int flags, int mode);
ssize_t __real_write (int fd, const void *bytes, size_t n);
ssize_t __real_read (int fd, void *bytes, size_t n);
ssize_t __real_pwrite64 (int fd, const void *bytes, size_t n, off_t at);
int __real_ftruncate64 (int fd, off_t length);
int __real_fchmod (int fd, mode_t mode);
int __real_fsync (int fd);
int __real_close (int fd);
int __real_rename (const char *from, const char *to);
int __wrap_open64 (const char *path, int flags, int mode);
int __wrap_g_mkstemp_full (char *template, int flags, int mode);
ssize_t __wrap_write (int fd, const void *bytes, size_t n);
ssize_t __wrap_read (int fd, void *bytes, size_t n);
ssize_t __wrap_pwrite64 (int fd, const void *bytes, size_t n, off_t at);
int __wrap_ftruncate64 (int fd, off_t length);
int __wrap_fchmod (int fd, mode_t mode);
int __wrap_fsync (int fd);
int __wrap_close (int fd);
int __wrap_rename (const char *from, const char *to);
int __real_link (const char *from, const char *to);
int __wrap_link (const char *from, const char *to);

static gboolean
fails (Call call)
{
  if (call != failing || fired || until-- > 0)
    return FALSE;
  fired = TRUE;
  errno = problem;
  return TRUE;
}

int
__wrap_link (const char *from, const char *to)
{
  if (!plain)
    return __real_link (from, to);
  errno = EPERM;
  return -1;
}

int
__wrap_open64 (const char *path, int flags, int mode)
{
  return fails (OPEN) ? -1 : __real_open64 (path, flags, mode);
}

int
__wrap_g_mkstemp_full (char *template, int flags, int mode)
{
  return fails (MAKE) ? -1 : __real_g_mkstemp_full (template, flags, mode);
}

ssize_t
__wrap_write (int fd, const void *bytes, size_t n)
{
  if (full || fails (WRITE))
    {
      errno = problem;
      return -1;
    }
  if (fails (WRITE_NONE))
    return 0;
  if (fails (WRITE_AGAIN))
    {
      errno = EINTR;
      return -1;
    }
  full = fails (WRITE_PART);
  return __real_write (fd, bytes, full || fails (WRITE_SHORT) ? (n + 1) / 2 : n);
}

ssize_t
__wrap_read (int fd, void *bytes, size_t n)
{
  return fails (READ) ? -1 : __real_read (fd, bytes, n);
}

ssize_t
__wrap_pwrite64 (int fd, const void *bytes, size_t n, off_t at)
{
  return fails (PUT_AT) ? -1 : __real_pwrite64 (fd, bytes, n, at);
}

int
__wrap_ftruncate64 (int fd, off_t length)
{
  return fails (CUT) ? -1 : __real_ftruncate64 (fd, length);
}

int
__wrap_fchmod (int fd, mode_t mode)
{
  return fails (MODE) ? -1 : __real_fchmod (fd, mode);
}

int
__wrap_fsync (int fd)
{
  return fails (SYNC) ? -1 : __real_fsync (fd);
}

int
__wrap_close (int fd)
{
  int result = __real_close (fd);
  return fails (CLOSE) ? -1 : result;
}

int
__wrap_rename (const char *from, const char *to)
{
  return fails (RENAME) ? -1 : __real_rename (from, to);
}

static void
arm (Call call, int n, int with)
{
  failing = call;
  until = n;
  problem = with;
  fired = full = FALSE;
}

static gboolean
disarm (void)
{
  failing = N_CALLS;
  full = FALSE;
  return fired;
}

/* ---- What is looked at ---- */

static char *
content (const char *path)
{
  char *text;
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  return text;
}

static void
assert_content (const char *path, const char *text)
{
  char *found = content (path);
  g_assert_cmpstr (found, ==, text);
  g_free (found);
}

static const int problems[] = { ENOSPC, EIO, EDQUOT, EROFS };

/* ---- The works ---- */

static void
a_save_is_whole_or_not_at_all (void)
{
  char *folder = test_new_folder (), *path = g_build_filename (folder, "heron.flap", NULL);
  FwDocument *doc = test_open_valid ("two-wings");
  guint failed = 0;
  double length = 410;

  g_assert_true (fw_document_save (doc, path, NULL));
  for (Call call = OPEN; call < N_CALLS; call++)
    for (int n = 0;; n++)
      {
        char *old = content (path);
        g_assert_true (test_change (doc, "rods.inrod.length", length += 0.25, NULL));
        char *new = fw_document_to_text (doc);
        GError *error = NULL;

        arm (call, n, problems[(guint)n % G_N_ELEMENTS (problems)]);
        gboolean saved = fw_document_save (doc, path, &error);
        gboolean met = disarm ();
        char *after = fw_document_to_text (doc);
        g_assert_cmpstr (after, ==, new);
        assert_content (path, saved ? new : old);
        g_assert_cmpint (fw_document_is_modified (doc), ==, !saved);
        g_assert_cmpuint (test_count_files (folder), ==, 1);
        if (saved)
          g_assert_no_error (error);
        else
          test_assert_one_line (error, path);
        failed += !saved;
        g_clear_error (&error);
        g_free (after);
        g_free (new);
        g_free (old);
        if (!met)
          break;
      }
  /* Making, writing (three ways), its permissions, syncing, closing, renaming; the folder's own sync may fail. */
  g_assert_cmpuint (failed, ==, 8);
  fw_document_free (doc);
  test_remove_folder (folder);
  g_free (path);
  g_free (folder);
}

/* The copy of another window's design stands beside and is never touched. */
static void
a_kept_copy_is_whole_or_not_at_all (void)
{
  char *folder = g_build_filename (g_get_user_state_dir (), "flapwright", "kept", NULL);
  char *copy = g_build_filename (folder, "mine.flap", NULL), *other = g_build_filename (folder, "other.flap", NULL);
  FwDocument *doc = test_open_valid ("two-wings"), *others = test_open_valid ("along");
  guint failed = 0;
  double length = 410;

  g_assert_true (fw_autosave_keep (others, "other", "/a.flap", NULL));
  g_assert_true (fw_autosave_keep (doc, "mine", "/a.flap", NULL));
  char *kept = content (other);
  for (Call call = OPEN; call < N_CALLS; call++)
    for (int n = 0;; n++)
      {
        char *old = content (copy);
        g_assert_true (test_change (doc, "rods.inrod.length", length += 0.25, NULL));
        char *new = fw_document_to_text (doc);
        GError *error = NULL;

        arm (call, n, problems[(guint)n % G_N_ELEMENTS (problems)]);
        gboolean done = fw_autosave_keep (doc, "mine", "/a.flap", &error);
        gboolean met = disarm ();
        assert_content (copy, done ? new : old);
        assert_content (other, kept);
        g_assert_cmpuint (test_count_files (folder), ==, 4);
        g_assert_true (done || strchr (error->message, '\n') == NULL);
        failed += !done;
        g_clear_error (&error);
        g_free (new);
        g_free (old);
        if (!met)
          break;
      }
  g_assert_cmpuint (failed, ==, 10); /* and the two calls that write the path of the original */
  fw_autosave_drop ("mine");
  fw_autosave_drop ("other");
  g_assert_cmpuint (test_count_files (folder), ==, 0);
  fw_document_free (doc);
  fw_document_free (others);
  g_free (kept);
  g_free (copy);
  g_free (other);
  g_free (folder);
}

/* Three files, of which the middle one was not there. Where the file system knows no second names it holds too, but
 * for a disk that stays full: there is no room for what was. */
static void
files_that_belong_together_are_all_old_or_all_new (gconstpointer no_links)
{
  static const char *const names[] = { "a", "b", "c" };
  char *folder = test_new_folder (), *paths[3];
  guint failed = 0;

  for (int i = 0; i < 3; i++)
    paths[i] = g_build_filename (folder, names[i], NULL);
  for (Call call = OPEN; call < N_CALLS; call++)
    for (int n = 0; !no_links || call != WRITE_PART; n++)
      {
        FwFileBatch batch;
        gboolean good = TRUE;
        GError *error = NULL;

        g_assert_true (g_file_set_contents (paths[0], "old", -1, NULL) && g_file_set_contents (paths[2], "old", -1, NULL));
        g_unlink (paths[1]);
        arm (call, n, problems[(guint)n % G_N_ELEMENTS (problems)]);
        plain = no_links != NULL;
        fw_file_batch_open (&batch);
        for (int i = 0; i < 3 && good; i++)
          good = fw_file_batch_put (&batch, paths[i], "new one", 7, &error);
        good = fw_file_batch_close (&batch, good, good ? &error : NULL);
        gboolean met = fired;
        plain = FALSE;
        disarm ();
        assert_content (paths[0], good ? "new one" : "old");
        assert_content (paths[2], good ? "new one" : "old");
        g_assert_cmpint (g_file_test (paths[1], G_FILE_TEST_EXISTS), ==, good);
        g_assert_cmpuint (test_count_files (folder), ==, good ? 3 : 2);
        g_assert_true (good || strchr (error->message, '\n') == NULL);
        failed += !good;
        g_clear_error (&error);
        if (!met)
          break;
      }
  g_assert_cmpuint (failed, >, 15);
  test_remove_folder (folder);
  for (int i = 0; i < 3; i++)
    g_free (paths[i]);
  g_free (folder);
}

static void
a_file_is_read_whole_or_not_at_all (void)
{
  char *folder = test_new_folder (), *path = g_build_filename (folder, "heron.flap", NULL);
  FwDocument *doc = test_open_valid ("two-wings");
  guint failed = 0;

  g_assert_true (fw_document_save (doc, path, NULL));
  for (Call call = OPEN; call < N_CALLS; call++)
    for (int n = 0;; n++)
      {
        GError *error = NULL;
        arm (call, n, EIO);
        FwDocument *again = fw_document_load (path, &error);
        gboolean met = disarm ();
        if (again == NULL)
          test_assert_one_line (error, path);
        failed += again == NULL;
        g_clear_error (&error);
        fw_document_free (again);
        if (!met)
          break;
      }
  g_assert_cmpuint (failed, >=, 3); /* opening, each reading */
  fw_document_free (doc);
  test_remove_folder (folder);
  g_free (path);
  g_free (folder);
}

int
main (int argc, char **argv)
{
  char *state = test_new_folder ();

  g_setenv ("XDG_STATE_HOME", state, TRUE);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/failing/a-save-is-whole-or-not-at-all", a_save_is_whole_or_not_at_all);
  g_test_add_func ("/doc/failing/a-kept-copy-is-whole-or-not-at-all", a_kept_copy_is_whole_or_not_at_all);
  g_test_add_data_func ("/doc/failing/files-that-belong-together-are-all-old-or-all-new", NULL,
                        files_that_belong_together_are_all_old_or_all_new);
  g_test_add_data_func ("/doc/failing/and-so-they-are-where-a-file-has-one-name", "",
                        files_that_belong_together_are_all_old_or_all_new);
  g_test_add_func ("/doc/failing/a-file-is-read-whole-or-not-at-all", a_file_is_read_whole_or_not_at_all);
  int result = g_test_run ();
  test_remove_folder (state);
  g_free (state);
  return result;
}
