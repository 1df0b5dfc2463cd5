/* Several files that belong together: all are written or none is. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  GPtrArray *done; /* what was put, and what stood there before */
} FwFileBatch;

/* Empty: nothing put yet. */
void fw_file_batch_open (FwFileBatch *batch);

/* Puts one file by fw_file_replace () and keeps what it took the place of. */
gboolean fw_file_batch_put (FwFileBatch *batch, const char *path, const char *text, gsize length,
                            GError **error);

/* `keep` FALSE: every file is again as it was, newest first, and those that were not there go. */
void fw_file_batch_close (FwFileBatch *batch, gboolean keep);

G_END_DECLS
