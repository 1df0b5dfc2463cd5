/* What would knock when worn, looked for beside the main loop (app/job.h): it takes as long as all other solving
 * together, and longer in large designs. */
#pragma once

#include <glib.h>

#include "core/bounce.h"

G_BEGIN_DECLS

typedef struct FwWornJob FwWornJob;

/* `list`, as fw_reversals () finds it, is valid during the call. */
typedef void (*FwWornArrived) (gpointer data, const FwBounce *list, int n);

FwWornJob *fw_worn_job_new (FwWornArrived arrived, gpointer data);
/* Stops what runs; no callback after this. */
void fw_worn_job_free (FwWornJob *self);

/* Asks for a design, of which a copy is taken; what was asked before is out of date. Nothing arrives where memory runs
 * out. */
void fw_worn_job_ask (FwWornJob *self, const FwDesign *design);
/* Nothing is wanted any more. */
void fw_worn_job_forget (FwWornJob *self);

G_END_DECLS
