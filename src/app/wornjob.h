/* What would knock when worn, looked for beside the main loop on a copy of the design: it takes as long
 * as all other solving together, and longer in large designs. */
#pragma once

#include <gio/gio.h>

#include "core/bounce.h"

G_BEGIN_DECLS

void fw_worn_async (const FwDesign *design, GCancellable *cancel, GAsyncReadyCallback done, gpointer data);

/* FwBounce, as fw_reversals () finds them; NULL: cancelled, or no memory. g_array_unref () it. */
GArray *fw_worn_finish (GAsyncResult *result);

G_END_DECLS
