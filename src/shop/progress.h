/* How far a long piece of work is, and whether it should stop. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Called now and then by long work, from the thread that does it. `fraction` 0..1; `what` is being
 * done now, translated, for people. TRUE: go on; FALSE: stop, which leaves nothing half done. */
typedef gboolean (*FwOnward) (double fraction, const char *what, gpointer data);

typedef struct
{
  FwOnward onward; /* NULL: never stops, tells nobody */
  gpointer data;
} FwProgress;

/* Tells `onward`, of which `fraction` (0 to 1) and `what` are. NULL is allowed. TRUE: go on. */
gboolean fw_progress (const FwProgress *progress, double fraction, const char *what);

/* Sets G_IO_ERROR_CANCELLED, for work that was told to stop. Returns FALSE. */
gboolean fw_progress_stopped (GError **error);

G_END_DECLS
