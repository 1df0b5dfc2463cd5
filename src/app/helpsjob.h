/* What helps, found beside the main loop and kept for the state of the design it was asked of.
 *
 * All calls come from the main thread and return at once; the answer arrives there. */
#pragma once

#include "aim/helps.h"

G_BEGIN_DECLS

#define FW_HELPS_MOST 24

typedef struct
{
  FwHelp list[FW_HELPS_MOST];
  int n;        /* -1: it cannot be told */
  double value; /* of the thing in hand */
} FwHelps;

typedef struct FwHelpsJob FwHelpsJob;

FwHelpsJob *fw_helps_job_new (void (*arrived) (gpointer data), gpointer data);
void fw_helps_job_free (FwHelpsJob *self); /* no callback after this */

/* What is known; NULL: it is looked for, and will arrive. Asking for the same again costs nothing. `serial`: of the
 * state of the design. */
const FwHelps *fw_helps_job_ask (FwHelpsJob *self, const FwDesign *design, guint64 serial, const FwHelpOf *of);

G_END_DECLS
