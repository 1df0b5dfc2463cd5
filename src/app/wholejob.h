/* Solves large mechanisms beside the main loop (app/job.h). */
#pragma once

#include "app/whole.h"

G_BEGIN_DECLS

typedef struct FwWholeJob FwWholeJob;

/* `whole`, which is the callback's from now on, has a mechanism of its own; NULL: memory ran out. */
typedef void (*FwWholeArrived) (gpointer data, FwWhole *whole);

FwWholeJob *fw_whole_job_new (FwWholeArrived arrived, gpointer data);
/* Stops what runs; no callback after this. */
void fw_whole_job_free (FwWholeJob *self);

/* Asks for a design, of which a copy is taken; what was asked before is out of date. */
void fw_whole_job_ask (FwWholeJob *self, const FwDesign *design);
/* Nothing is wanted any more. */
void fw_whole_job_forget (FwWholeJob *self);

G_END_DECLS
