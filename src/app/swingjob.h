/* How hanging panels really move, followed beside the main loop.
 *
 * All calls come from the main thread and return at once; the answer arrives there. A job works on a
 * mechanism of its own; one whose design is out of date stops and its answer is dropped. */
#pragma once

#include <glib.h>

#include "swing/swing.h"

G_BEGIN_DECLS

typedef struct FwSwingJob FwSwingJob;

FwSwingJob *fw_swing_job_new (void (*arrived) (gpointer data), gpointer data);
/* Stops what runs; no callback after this. */
void fw_swing_job_free (FwSwingJob *self);

/* A new mechanism, at its own speed: what was known is forgotten. `mech` is only read before this
 * returns. */
void fw_swing_job_set_mechanism (FwSwingJob *self, const FwMechanism *mech);

/* Of the mechanism last set (members by the same index); NULL until it arrives, and where nothing hangs. Valid until
 * the next mechanism is set. */
const FwSwings *fw_swing_job_swings (FwSwingJob *self);

G_END_DECLS
