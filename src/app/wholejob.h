/* Solves large mechanisms beside the main loop, one at a time: what is asked for last is what is delivered.
 *
 * All calls come from the main thread and return at once; the answer comes there through the callback. A run whose
 * question is out of date stops at its next look, and only then the newest begins, so that a hand that drags
 * never has more than one thread at work. */
#pragma once

#include "app/whole.h"

G_BEGIN_DECLS

typedef struct FwWholeJob FwWholeJob;

/* `whole`, which is the callback's from now on, has a mechanism of its own; NULL: memory ran out. */
typedef void (*FwWholeArrived) (gpointer data, FwWhole *whole);

FwWholeJob *fw_whole_job_new (FwWholeArrived arrived, gpointer data);
/* Stops what runs; no callback after this. NULL: nothing to do. */
void fw_whole_job_free (FwWholeJob *self);

/* Asks for a design, of which a copy is taken; what was asked before is out of date. */
void fw_whole_job_ask (FwWholeJob *self, const FwDesign *design);
/* Nothing is wanted any more. */
void fw_whole_job_forget (FwWholeJob *self);
gboolean fw_whole_job_is_asked (FwWholeJob *self);

G_END_DECLS
