#include "doc/filebatch.h"

#include <unistd.h>

#include <glib/gstdio.h>

#include "doc/files.h"

/* A file that is written, and what stands where it goes. Taking it back must not need room on the disk, which may be full:
 * the old file keeps a second name until all are in place. Where the file system knows no second names its bytes are kept. */
typedef struct
{
  char *target;    /* where the path leads */
  char *temporary; /* the new file beside it */
  char *aside;     /* the second name of the old one; NULL: none */
  char *old;       /* its bytes; NULL: nothing stood there, or it has a second name */
  gsize length;
} Put;

static void
put_free (Put *put)
{
  if (put->aside != NULL)
    g_unlink (put->aside);
  if (put->temporary != NULL)
    g_unlink (put->temporary);
  g_free (put->target);
  g_free (put->temporary);
  g_free (put->aside);
  g_free (put->old);
  g_free (put);
}

static void
put_back (Put *put)
{
  if (put->aside != NULL)
    {
      (void) g_rename (put->aside, put->target);
      g_clear_pointer (&put->aside, g_free); /* where that failed, the old file is still there by this name */
    }
  else if (put->old != NULL)
    fw_file_replace (put->target, put->old, put->length, NULL);
  else
    g_unlink (put->target);
}

static gboolean
put_aside (Put *put, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (put->target);
  put->aside = g_strdup_printf ("%s/.flapwright-%08x%08x", folder, g_random_int (), g_random_int ());
  if (link (put->target, put->aside) == 0)
    return TRUE;
  g_clear_pointer (&put->aside, g_free);
  put->old = fw_file_read (put->target, &put->length, error);
  return put->old != NULL;
}

static gboolean
put_in_place (Put *put, GError **error)
{
  if (g_file_test (put->target, G_FILE_TEST_EXISTS) && !put_aside (put, error))
    return FALSE;
  gboolean good = fw_file_take_place (put->temporary, put->target, error);
  g_clear_pointer (&put->temporary, g_free);
  return good;
}

void
fw_file_batch_open (FwFileBatch *batch)
{
  batch->put = g_ptr_array_new_with_free_func ((GDestroyNotify)put_free);
}

gboolean
fw_file_batch_put (FwFileBatch *batch, const char *path, const char *text, gsize length,
                   GError **error)
{
  char *temporary = fw_file_write_beside (path, text, length, error);
  if (temporary == NULL)
    return FALSE;
  Put *put = g_new0 (Put, 1);
  put->temporary = temporary;
  put->target = fw_file_follow (path);
  g_ptr_array_add (batch->put, put);
  return TRUE;
}

gboolean
fw_file_batch_close (FwFileBatch *batch, gboolean keep, GError **error)
{
  gboolean good = TRUE;
  guint n = 0;
  while (keep && good && n < batch->put->len)
    {
      good = put_in_place (g_ptr_array_index (batch->put, n), error);
      n += good;
    }
  for (guint i = 0; i < n && good; i++)
    fw_file_sync_folder (((Put *) g_ptr_array_index (batch->put, i))->target);
  while (!good && n > 0)
    put_back (g_ptr_array_index (batch->put, --n));
  g_clear_pointer (&batch->put, g_ptr_array_unref);
  return good && keep;
}
