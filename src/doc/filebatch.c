#include "doc/filebatch.h"

#include <unistd.h>

#include <glib/gstdio.h>

#include "doc/files.h"

/* What stood where a file was put. Taking it back must not need room on the disk, which may be full: the old file
 * keeps a second name until all are put. Where the file system knows no second names its bytes are kept. */
typedef struct
{
  char *target; /* where the path leads: a link stays, whether or not there was anything behind it */
  char *aside;  /* the second name; NULL: none */
  char *old;    /* bytes; NULL: nothing stood there, or it has a second name */
  gsize length;
} Put;

static void
put_free (Put *put)
{
  if (put->aside != NULL)
    g_unlink (put->aside);
  g_free (put->target);
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
put_aside (Put *put, const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (put->target);
  put->aside = g_strdup_printf ("%s/.flapwright-%08x%08x", folder, g_random_int (), g_random_int ());
  if (link (put->target, put->aside) == 0)
    return TRUE;
  g_clear_pointer (&put->aside, g_free);
  put->old = fw_file_read (path, &put->length, error);
  return put->old != NULL;
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
  put->target = fw_file_follow (path);
  gboolean fine = fw_file_may_replace (path, error);
  if (fine && g_file_test (path, G_FILE_TEST_EXISTS))
    fine = put_aside (put, path, error);
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
