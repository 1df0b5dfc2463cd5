/* Several files that belong together: all are written or none is. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  GPtrArray *put; /* what is written, and where it goes */
} FwFileBatch;

/* Empty: nothing put yet. */
void fw_file_batch_open (FwFileBatch *batch);

/* Writes one file beside where it goes, as fw_file_replace () does. What stands there stays until the batch is closed, so
 * that a program that is killed amid it leaves no mix of old and new. */
gboolean fw_file_batch_put (FwFileBatch *batch, const char *path, const char *text, gsize length,
                            GError **error);

/* `keep`: all take their places, one right after the other; where one cannot, every file is again as it was, those that
 * were not there go, and it is FALSE with an error. Not `keep`: what was put is thrown away; FALSE, and no error. */
gboolean fw_file_batch_close (FwFileBatch *batch, gboolean keep, GError **error);

G_END_DECLS
