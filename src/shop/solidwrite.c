#include "shop/solidwrite.h"

#include <errno.h>
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#include "doc/filebatch.h"
#include "doc/files.h"
#include "shop/ownfiles.h"
#include "shop/stl.h"
#include "shop/threemf.h"

/* Says which files of a folder were exported there. */
#define LIST ".flapwright-parts"

/* Files to be, all in memory. */
typedef struct
{
  GPtrArray *names, *bytes;
} Batch;

/* Takes `name` and `bytes`. */
static void
put (Batch *batch, char *name, GBytes *bytes)
{
  g_ptr_array_add (batch->names, name);
  g_ptr_array_add (batch->bytes, bytes);
}

/* What somebody put there or changed is found before anything is written. */
static gboolean
targets_are_free (const Batch *batch, const char *folder, GHashTable *own, GError **error)
{
  for (guint i = 0; i < batch->names->len; i++)
    {
      gsize length;
      const char *name = batch->names->pdata[i], *data = g_bytes_get_data (batch->bytes->pdata[i], &length);
      g_autofree char *to = g_build_filename (folder, name, NULL);
      if (!fw_file_may_replace (to, error))
        return FALSE;
      if (fw_own_files_may_go (own, folder, name, data, length))
        continue;
      g_autofree char *shown = fw_file_display_name (to);
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_EXISTS,
                   _ ("%s: this file was not exported here, or was changed since; move it elsewhere or choose "
                      "another folder"),
                   shown);
      return FALSE;
    }
  return TRUE;
}

static gboolean
write_all (const Batch *batch, const char *folder, GHashTable *own, GError **error)
{
  FwFileBatch files;
  gboolean good = TRUE;
  fw_file_batch_open (&files);
  for (guint i = 0; i < batch->names->len && good; i++)
    {
      gsize length;
      const char *data = g_bytes_get_data (batch->bytes->pdata[i], &length);
      g_autofree char *to = g_build_filename (folder, batch->names->pdata[i], NULL);
      good = fw_file_batch_put (&files, to, data, length, error);
      fw_own_files_add (own, batch->names->pdata[i], data, length);
    }
  g_autofree char *list = g_build_filename (folder, LIST, NULL), *text = fw_own_files_text (own);
  good = good && fw_file_batch_put (&files, list, text, strlen (text), error);
  return fw_file_batch_close (&files, good, error);
}

char *
fw_solid_part_file (const FwSolidPart *part)
{
  return part->letter[0] == '\0' ? g_strdup (part->file)
                                 : g_strdup_printf ("%s-%s", part->letter, part->file);
}

static gboolean
put_part (Batch *batch, const FwSolidPart *part, const FwMesh *laid, GError **error)
{
  g_autofree char *file = fw_solid_part_file (part);
  const FwThreemfObject object = { laid, part->name, 1 };
  GBytes *bytes = fw_threemf_write (&object, 1, part->name, error);
  if (bytes == NULL)
    return FALSE;
  put (batch, g_strconcat (file, ".3mf", NULL), bytes);
  put (batch, g_strconcat (file, ".stl", NULL), fw_stl_write (laid));
  return TRUE;
}

static gboolean
put_everything (Batch *batch, const FwSolidParts *parts, const char *title, const FwProgress *progress,
                GError **error)
{
  g_autoptr (GPtrArray) laid = g_ptr_array_new_with_free_func ((GDestroyNotify)fw_mesh_free);
  g_autofree FwThreemfObject *objects = g_new0 (FwThreemfObject, MAX (parts->n_parts, 1));
  int n = 0;
  for (int i = 0; i < parts->n_parts; i++)
    {
      const FwSolidPart *part = &parts->parts[i];
      if (part->mesh == NULL)
        continue;
      if (!fw_progress (progress, (double)i / (parts->n_parts + 1), part->name))
        return fw_progress_stopped (error);
      FwMesh *mesh = fw_solid_part_laid (part);
      g_ptr_array_add (laid, mesh);
      objects[n++] = (FwThreemfObject){ mesh, part->name, part->count };
      if (!put_part (batch, part, mesh, error))
        return FALSE;
    }
  if (n == 0)
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("there is no printed part to write"));
      return FALSE;
    }
  if (!fw_progress (progress, (double)parts->n_parts / (parts->n_parts + 1), _ ("All parts in one file")))
    return fw_progress_stopped (error);
  GBytes *all = fw_threemf_write (objects, n, title, error);
  if (all == NULL)
    return FALSE;
  put (batch, g_strdup (FW_SOLID_ALL_FILE), all);
  return TRUE;
}

/* The folder and those above it that are not there yet, innermost first. */
static GPtrArray *
missing_folders (const char *folder)
{
  GPtrArray *missing = g_ptr_array_new_with_free_func (g_free);
  char *at = g_strdup (folder);
  while (!g_file_test (at, G_FILE_TEST_EXISTS) && strcmp (at, ".") != 0)
    {
      g_ptr_array_add (missing, at);
      at = g_path_get_dirname (at);
    }
  g_free (at);
  return missing;
}

/* Takes away what was made of them; takes them over. */
static void
remove_folders (GPtrArray *made)
{
  for (guint i = 0; i < made->len; i++)
    g_rmdir (made->pdata[i]);
  g_ptr_array_unref (made);
}

char **
fw_solid_parts_write (const FwSolidParts *parts, const char *title, const char *folder,
                      const FwProgress *progress, GError **error)
{
  GPtrArray *made = missing_folders (folder);
  if (g_mkdir_with_parents (folder, 0777) != 0)
    {
      g_set_error (error, G_IO_ERROR, g_io_error_from_errno (errno), _ ("%s: cannot be made: %s"), folder,
                   g_strerror (errno));
      remove_folders (made);
      return NULL;
    }
  Batch batch = { g_ptr_array_new_with_free_func (g_free),
                  g_ptr_array_new_with_free_func ((GDestroyNotify)g_bytes_unref) };
  g_autoptr (GHashTable) own = fw_own_files_read (folder, LIST);
  gboolean good = put_everything (&batch, parts, title, progress, error)
                  && targets_are_free (&batch, folder, own, error) && write_all (&batch, folder, own, error);
  g_ptr_array_unref (batch.bytes);
  if (!good)
    {
      g_ptr_array_unref (batch.names);
      remove_folders (made);
      return NULL;
    }
  g_ptr_array_unref (made);
  g_ptr_array_add (batch.names, NULL);
  return (char **)g_ptr_array_free (batch.names, FALSE);
}
