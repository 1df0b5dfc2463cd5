#include "doc/filebatch.h"

#include <glib/gstdio.h>

#include "doc/files.h"

/* What stood where a file was put: its bytes, or NULL if nothing did. */
typedef struct
{
  char *path, *old;
  gsize length;
} Put;

static void
put_free (Put *put)
{
  g_free (put->path);
  g_free (put->old);
  g_free (put);
}

static void
put_back (const Put *put)
{
  if (put->old == NULL)
    g_unlink (put->path);
  else
    fw_file_replace (put->path, put->old, put->length, NULL);
}

void
fw_file_batch_open (FwFileBatch *batch)
{
  batch->done = g_ptr_array_new_with_free_func ((GDestroyNotify)put_free);
}

gboolean
fw_file_batch_put (FwFileBatch *batch, const char *path, const char *text, gsize length,
                   GError **error)
{
  Put *put = g_new0 (Put, 1);
  put->path = g_strdup (path);
  gboolean fine = fw_file_may_replace (path, error);
  if (fine && g_file_test (path, G_FILE_TEST_EXISTS))
    fine = (put->old = fw_file_read (path, &put->length, error)) != NULL;
  fine = fine && fw_file_replace (path, text, length, error);
  if (fine)
    g_ptr_array_add (batch->done, put);
  else
    put_free (put);
  return fine;
}

void
fw_file_batch_close (FwFileBatch *batch, gboolean keep)
{
  for (guint i = batch->done->len; i > 0 && !keep; i--)
    put_back (g_ptr_array_index (batch->done, i - 1));
  g_clear_pointer (&batch->done, g_ptr_array_unref);
}
