#include "shop/logfolder.h"

#include <errno.h>
#include <string.h>

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "doc/files.h"
#include "shop/ownfiles.h"

/* Says that the folder may be replaced, and what of it was exported. */
#define LIST ".flapwright-log"

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
  (void) g_remove (path);
}

static gboolean
is_empty (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  return dir != NULL && g_dir_read_name (dir) == NULL;
}

/* Nothing that somebody put into the folder, or changed there, is lost with it. */
static gboolean
holds_only_ours (const char *target, GError **error)
{
  g_autoptr (GHashTable) own = fw_own_files_read (target, LIST);
  g_autofree char *foreign = fw_own_files_foreign (own, target, LIST);
  if (foreign == NULL)
    return TRUE;
  g_autofree char *shown = fw_file_display_name (foreign);
  g_autofree char *why = g_strdup_printf (
      _ ("%s in it was not exported, or was changed since; move it elsewhere or choose another name"), shown);
  return fail (error, target, why);
}

static gboolean
may_replace (const char *target, GError **error)
{
  g_autofree char *list = g_build_filename (target, LIST, NULL);
  if (!g_file_test (target, G_FILE_TEST_EXISTS) && !g_file_test (target, G_FILE_TEST_IS_SYMLINK))
    return TRUE;
  if (g_file_test (target, G_FILE_TEST_IS_SYMLINK) || !g_file_test (target, G_FILE_TEST_IS_DIR)
      || !(g_file_test (list, G_FILE_TEST_IS_REGULAR) || is_empty (target)))
    return fail (error, target, _ ("something that is not an exported log is there already"));
  return holds_only_ours (target, error);
}

/* The list of what is in the folder that was filled. */
static gboolean
write_list (const FwLogFolder *folder, GError **error)
{
  g_autoptr (GHashTable) own = fw_own_files_read (folder->work, LIST);
  if (!fw_own_files_add_all (own, folder->work, error))
    return FALSE;
  g_autofree char *list = g_build_filename (folder->work, LIST, NULL), *text = fw_own_files_text (own);
  return fw_file_replace (list, text, strlen (text), error);
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
  return TRUE;
}

gboolean
fw_log_folder_make (const FwLogFolder *folder, const char *inside, GError **error)
{
  return g_mkdir (inside, 0777) == 0 || fail (error, folder->target, g_strerror (errno));
}

gboolean
fw_log_folder_place (FwLogFolder *folder, GError **error)
{
  if (!write_list (folder, error)
      || !may_replace (folder->target, error)) /* it may have come while the pictures were drawn */
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
