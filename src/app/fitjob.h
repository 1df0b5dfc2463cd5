/* What was really built, looked for beside the main loop. All calls come from the main thread and return at once. */
#pragma once

#include "aim/fit.h"

G_BEGIN_DECLS

typedef struct FwFitJob FwFitJob;

FwFitJob *fw_fit_job_new (void (*arrived) (gpointer data), gpointer data);
void fw_fit_job_free (FwFitJob *self); /* no callback after this */

void fw_fit_job_ask (FwFitJob *self, const FwDesign *design, const FwMeasurement *list, int n);
gboolean fw_fit_job_running (FwFitJob *self);

/* The last answer; NULL: none. */
const FwFit *fw_fit_job_answer (FwFitJob *self);
void fw_fit_job_forget (FwFitJob *self);

G_END_DECLS
