/* Many turns of a design made a little off, drawn beside the main loop.
 *
 * All calls come from the main thread and return at once; answers arrive there: first that of a few sets, soon, then
 * that of all of them. A job works on a copy of the design. */
#pragma once

#include "aim/tolerance.h"

G_BEGIN_DECLS

#define FW_TOLERANCE_FIRST 1000 /* sets of the first, quick answer */

typedef struct FwToleranceJob FwToleranceJob;

FwToleranceJob *fw_tolerance_job_new (void (*arrived) (gpointer data), gpointer data);
/* Stops what runs; no callback after this. */
void fw_tolerance_job_free (FwToleranceJob *self);

/* Forgets what was known and begins anew. `spreads`: over the defaults, copied. */
void fw_tolerance_job_start (FwToleranceJob *self, const FwDesign *design, const FwSpread *spreads, int n_spreads, int runs);

/* What runs tells what it has, as an answer that says it was stopped. */
void fw_tolerance_job_stop (FwToleranceJob *self);

/* Stops what runs and forgets what was known. */
void fw_tolerance_job_forget (FwToleranceJob *self);

gboolean fw_tolerance_job_running (FwToleranceJob *self);
double fw_tolerance_job_fraction (FwToleranceJob *self); /* 0..1 of what runs */

/* NULL until the first answer; valid until the next. */
const FwTolerance *fw_tolerance_job_result (FwToleranceJob *self);

G_END_DECLS
