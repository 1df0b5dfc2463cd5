#include "shop/solidwrite.h"

#include <errno.h>
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "shop/stl.h"
#include "shop/threemf.h"

/* Files that wait to be renamed. */
typedef struct
{
  const char *folder;
  GPtrArray *names;
} Batch;

static char *
waiting (const Batch *batch, const char *name)
{
  g_autofree char *hidden = g_strdup_printf (".%s.part", name);
  return g_build_filename (batch->folder, hidden, NULL);
}

static void
drop_all (const Batch *batch)
{
  for (guint i = 0; i < batch->names->len; i++)
    {
      g_autofree char *path = waiting (batch, g_ptr_array_index (batch->names, i));
      g_unlink (path);
    }
}

/* Takes `name` and `bytes`. */
static gboolean
put (Batch *batch, char *name, GBytes *bytes, GError **error)
{
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);
  g_ptr_array_add (batch->names, name);
  g_autofree char *path = waiting (batch, name);
  gboolean good = g_file_set_contents (path, data, (gssize)length, error);
  g_bytes_unref (bytes);
  return good;
}

static gboolean
rename_all (const Batch *batch, GError **error)
{
  for (guint i = 0; i < batch->names->len; i++)
    {
      const char *name = g_ptr_array_index (batch->names, i);
      g_autofree char *from = waiting (batch, name), *to = g_build_filename (batch->folder, name, NULL);
      if (g_rename (from, to) == 0)
        continue;
      g_set_error (error, G_IO_ERROR, g_io_error_from_errno (errno), _ ("%s: cannot be written: %s"), to,
                   g_strerror (errno));
      return FALSE;
    }
  return TRUE;
}

/* A target that cannot be replaced is found before anything is. */
static gboolean
targets_are_free (const Batch *batch, GError **error)
{
  for (guint i = 0; i < batch->names->len; i++)
    {
      g_autofree char *to = g_build_filename (batch->folder, g_ptr_array_index (batch->names, i), NULL);
      if (!g_file_test (to, G_FILE_TEST_IS_DIR))
        continue;
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_IS_DIRECTORY, _ ("%s: a folder of this name is in the way"),
                   to);
      return FALSE;
    }
  return TRUE;
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
  return bytes != NULL && put (batch, g_strconcat (file, ".3mf", NULL), bytes, error)
         && put (batch, g_strconcat (file, ".stl", NULL), fw_stl_write (laid), error);
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
  return all != NULL && put (batch, g_strdup (FW_SOLID_ALL_FILE), all, error);
}

char **
fw_solid_parts_write (const FwSolidParts *parts, const char *title, const char *folder,
                      const FwProgress *progress, GError **error)
{
  gboolean was_there = g_file_test (folder, G_FILE_TEST_IS_DIR);
  if (g_mkdir_with_parents (folder, 0777) != 0)
    {
      g_set_error (error, G_IO_ERROR, g_io_error_from_errno (errno), _ ("%s: cannot be made: %s"), folder,
                   g_strerror (errno));
      return NULL;
    }
  Batch batch = { folder, g_ptr_array_new_with_free_func (g_free) };
  if (!put_everything (&batch, parts, title, progress, error) || !targets_are_free (&batch, error)
      || !rename_all (&batch, error))
    {
      drop_all (&batch);
      g_ptr_array_unref (batch.names);
      if (!was_there)
        g_rmdir (folder);
      return NULL;
    }
  g_ptr_array_add (batch.names, NULL);
  return (char **)g_ptr_array_free (batch.names, FALSE);
}
