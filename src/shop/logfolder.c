#include "shop/logfolder.h"

#include <errno.h>
#include <string.h>

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "doc/files.h"

/* Says that the folder may be replaced. */
#define MARK ".flapwright-log"

static gboolean
fail (GError **error, const char *path, const char *why)
{
  g_autofree char *shown = fw_file_display_name (path);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("%s: the folder cannot be written: %s"), shown, why);
  return FALSE;
}

/* What this program put there: files and one level of folders. Links are removed, not followed. */
static void
remove_all (const char *path)
{
  GDir *dir = g_file_test (path, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open (path, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);
      remove_all (inside);
    }
  if (dir != NULL)
    g_dir_close (dir);
  g_remove (path);
}

static gboolean
is_empty (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  return dir != NULL && g_dir_read_name (dir) == NULL;
}

static gboolean
may_replace (const char *target, GError **error)
{
  g_autofree char *mark = g_build_filename (target, MARK, NULL);
  if (!g_file_test (target, G_FILE_TEST_EXISTS) && !g_file_test (target, G_FILE_TEST_IS_SYMLINK))
    return TRUE;
  if (!g_file_test (target, G_FILE_TEST_IS_SYMLINK) && g_file_test (target, G_FILE_TEST_IS_DIR)
      && (g_file_test (mark, G_FILE_TEST_IS_REGULAR) || is_empty (target)))
    return TRUE;
  return fail (error, target, _ ("something that is not an exported log is there already"));
}

gboolean
fw_log_folder_open (FwLogFolder *folder, const char *target, GError **error)
{
  *folder = (FwLogFolder){ NULL };
  if (!may_replace (target, error))
    return FALSE;
  folder->target = g_strdup (target);
  gsize length = strlen (folder->target);
  while (length > 1 && folder->target[length - 1] == '/')
    folder->target[--length] = '\0';
  g_autofree char *above = g_path_get_dirname (folder->target);
  folder->work = g_build_filename (above, ".flapwright-XXXXXX", NULL);
  if (g_mkdtemp_full (folder->work, 0777) == NULL)
    {
      int problem = errno;
      g_clear_pointer (&folder->work, g_free);
      fail (error, target, g_strerror (problem));
      fw_log_folder_close (folder);
      return FALSE;
    }
  g_autofree char *mark = g_build_filename (folder->work, MARK, NULL);
  if (g_file_set_contents (mark, "", 0, NULL))
    return TRUE;
  fail (error, target, g_strerror (EIO));
  fw_log_folder_close (folder);
  return FALSE;
}

gboolean
fw_log_folder_place (FwLogFolder *folder, GError **error)
{
  if (!may_replace (folder->target, error)) /* it may have come while the pictures were drawn */
    return FALSE;
  if (g_file_test (folder->target, G_FILE_TEST_EXISTS))
    {
      folder->old = g_strconcat (folder->work, "-old", NULL);
      if (g_rename (folder->target, folder->old) != 0)
        {
          int problem = errno;
          g_clear_pointer (&folder->old, g_free);
          return fail (error, folder->target, g_strerror (problem));
        }
    }
  if (g_rename (folder->work, folder->target) == 0)
    {
      g_clear_pointer (&folder->work, g_free);
      return TRUE;
    }
  int problem = errno;
  if (folder->old != NULL && g_rename (folder->old, folder->target) == 0)
    g_clear_pointer (&folder->old, g_free);
  return fail (error, folder->target, g_strerror (problem));
}

void
fw_log_folder_undo (FwLogFolder *folder)
{
  remove_all (folder->target);
  if (folder->old != NULL && g_rename (folder->old, folder->target) == 0)
    g_clear_pointer (&folder->old, g_free);
}

void
fw_log_folder_close (FwLogFolder *folder)
{
  if (folder->work != NULL)
    remove_all (folder->work);
  if (folder->old != NULL)
    remove_all (folder->old);
  g_free (folder->target);
  g_free (folder->work);
  g_free (folder->old);
  *folder = (FwLogFolder){ NULL };
}
