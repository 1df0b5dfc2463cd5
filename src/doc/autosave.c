/* Kept copies of unsaved work.
 *
 * In the user's state folder each session has NAME.flap, the copy, and NAME.lock, which holds the
 * path of the original and is locked by the program for as long as it runs. The kernel lets go of
 * the lock however the program ends, so a copy whose lock is free is left over. */
#include "doc/autosave.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "doc/files.h"

#define COPY_ENDING ".flap"
#define LOCK_ENDING ".lock"

/* The locks this program holds: session -> file descriptor. The locks belong to the process as a
 * whole, and so does the table. */
static GMutex held_mutex;
static GHashTable *held;

static char *
keep_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "flapwright", "kept", NULL);
}

static char *
session_file (const char *session, const char *ending)
{
  char *folder = keep_folder ();
  char *name = g_strconcat (session, ending, NULL);
  char *path = g_build_filename (folder, name, NULL);
  g_free (name);
  g_free (folder);
  return path;
}

static gboolean
session_is_plain (const char *session)
{
  if (!*session || strlen (session) > 100)
    return FALSE;
  for (const char *c = session; *c; c++)
    if (!g_ascii_isalnum (*c) && *c != '-')
      return FALSE;
  return TRUE;
}

static gboolean
fail (const char *path, int problem, GError **error)
{
  char *shown = fw_file_display_name (path);
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO,
               _("%s: unsaved work cannot be kept there: %s"), shown, g_strerror (problem));
  g_free (shown);
  return FALSE;
}

/* ---- Locks ---- */

/* Opens and locks; -1 with errno if another program holds it or it cannot be made. */
static int
take_lock (const char *path, int extra_flags)
{
  int fd = g_open (path, O_RDWR | O_CLOEXEC | extra_flags, 0600);
  if (fd < 0)
    return -1;
  if (flock (fd, LOCK_EX | LOCK_NB) == 0)
    return fd;
  int problem = errno;
  close (fd);
  errno = problem;
  return -1;
}

/* The session's lock, taken if it is not held yet; -1 with errno. Call with the mutex locked. */
static int
hold_lock (const char *session, const char *path)
{
  gpointer known;

  if (!held)
    held = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  if (g_hash_table_lookup_extended (held, session, NULL, &known))
    return GPOINTER_TO_INT (known);
  int fd = take_lock (path, O_CREAT);
  if (fd >= 0)
    g_hash_table_insert (held, g_strdup (session), GINT_TO_POINTER (fd));
  return fd;
}

static gboolean
write_original (int fd, const char *original)
{
  gsize length = original ? strlen (original) : 0;
  if (ftruncate (fd, 0) != 0)
    return FALSE;
  return pwrite (fd, original ? original : "", length, 0) == (gssize)length;
}

static gboolean
lock_session (const char *session, const char *original, GError **error)
{
  char *path = session_file (session, LOCK_ENDING);

  g_mutex_lock (&held_mutex);
  int fd = hold_lock (session, path);
  gboolean good = fd >= 0 && write_original (fd, original);
  int problem = errno;
  g_mutex_unlock (&held_mutex);

  if (!good)
    fail (path, problem, error);
  g_free (path);
  return good;
}

static void
release_session (const char *session)
{
  gpointer known;

  g_mutex_lock (&held_mutex);
  if (held && g_hash_table_lookup_extended (held, session, NULL, &known))
    {
      close (GPOINTER_TO_INT (known));
      g_hash_table_remove (held, session);
    }
  g_mutex_unlock (&held_mutex);
}

/* ---- Keeping ---- */

gboolean
fw_autosave_keep (const FwDocument *doc, const char *session, const char *original, GError **error)
{
  assert (session_is_plain (session));

  char *folder = keep_folder ();
  gboolean good = g_mkdir_with_parents (folder, 0700) == 0 || fail (folder, errno, error);
  g_free (folder);
  if (!good || !lock_session (session, original, error))
    return FALSE;

  char *path = session_file (session, COPY_ENDING);
  char *text = fw_document_to_text (doc);
  good = fw_file_replace (path, text, strlen (text), error);
  g_free (text);
  g_free (path);
  return good;
}

/* The copy goes first: a lock without a copy means nothing. */
static void
remove_files (const char *session)
{
  char *copy = session_file (session, COPY_ENDING);
  char *lock = session_file (session, LOCK_ENDING);
  g_unlink (copy);
  g_unlink (lock);
  g_free (copy);
  g_free (lock);
}

void
fw_autosave_drop (const char *session)
{
  assert (session_is_plain (session));
  remove_files (session);
  release_session (session);
}

/* ---- After a crash ---- */

static void
autosave_free (gpointer data)
{
  FwAutosave *autosave = data;
  g_free (autosave->file);
  g_free (autosave->original);
  g_free (autosave);
}

/* The copy of a session, or NULL if a program still holds its lock or there is none. */
static FwAutosave *
left_over (const char *session)
{
  char *lock = session_file (session, LOCK_ENDING);
  char *original = NULL;
  int fd = take_lock (lock, 0);
  gboolean running = fd < 0 && errno == EWOULDBLOCK;
  if (fd >= 0)
    {
      g_file_get_contents (lock, &original, NULL, NULL);
      close (fd);
    }
  g_free (lock);

  struct stat info;
  char *copy = session_file (session, COPY_ENDING);
  if (running || stat (copy, &info) != 0)
    {
      g_free (copy);
      g_free (original);
      return NULL;
    }
  if (original && !*original)
    g_clear_pointer (&original, g_free);
  FwAutosave *autosave = g_new (FwAutosave, 1);
  *autosave = (FwAutosave){ .file = copy, .original = original, .when = info.st_mtime };
  return autosave;
}

static int
newest_first (gconstpointer a, gconstpointer b)
{
  const FwAutosave *first = *(FwAutosave *const *)a, *second = *(FwAutosave *const *)b;
  return first->when < second->when   ? 1
         : first->when > second->when ? -1
                                      : strcmp (first->file, second->file);
}

/* "NAME" of "NAME.flap", or NULL for other files. */
static char *
session_of_file (const char *name)
{
  if (!g_str_has_suffix (name, COPY_ENDING))
    return NULL;
  char *session = g_strndup (name, strlen (name) - strlen (COPY_ENDING));
  if (!session_is_plain (session))
    g_clear_pointer (&session, g_free);
  return session;
}

GPtrArray *
fw_autosave_left_over (void)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (autosave_free);
  char *folder = keep_folder ();
  GDir *dir = g_dir_open (folder, 0, NULL);
  const char *name;

  g_free (folder);
  if (!dir)
    return list;
  while ((name = g_dir_read_name (dir)))
    {
      char *session = session_of_file (name);
      FwAutosave *autosave = session ? left_over (session) : NULL;
      if (autosave)
        g_ptr_array_add (list, autosave);
      g_free (session);
    }
  g_dir_close (dir);
  g_ptr_array_sort (list, newest_first);
  return list;
}

void
fw_autosave_discard (const FwAutosave *autosave)
{
  char *name = g_path_get_basename (autosave->file);
  char *session = session_of_file (name);
  if (session)
    remove_files (session);
  g_free (session);
  g_free (name);
}
