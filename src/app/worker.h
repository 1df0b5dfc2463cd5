/* Bands and remedies, solved beside the main loop.
 *
 * All calls come from the main thread and return at once; answers arrive there through the callbacks.
 * A job works on a copy of the design, so that edits never wait for it; a job whose question is out
 * of date stops at its next trial and its answer is dropped. */
#pragma once

#include <glib.h>

#include "core/loadremedy.h"

G_BEGIN_DECLS

#define FW_WORKER_BANDS 32
#define FW_WORKER_REMEDIES 4

typedef struct FwWorker FwWorker;

/* `index`: of the number or of the trouble whose answer arrived. */
typedef void (*FwWorkerArrived) (gpointer data, int index);

FwWorker *fw_worker_new (FwWorkerArrived bands, FwWorkerArrived remedies, gpointer data);
/* Stops all jobs; no callback after this. */
void fw_worker_free (FwWorker *self);

/* A new state: everything asked before is out of date, but for the bands of the number `kept` (index;
 * -1: none), which do not depend on that number's own value. `design` must stay until the next call. */
void fw_worker_set_design (FwWorker *self, const FwDesign *design, int n_params, int n_troubles, int kept);

/* The list of trouble is another one for the same design: remedies asked for before are out of date, bands are not. */
void fw_worker_set_troubles (FwWorker *self, int n_troubles);

/* What is known by now, asking for it the first time: NULL, 0 until it has arrived. */
const FwBand *fw_worker_bands (FwWorker *self, int index, FwParam param, double lower, double upper, int *n);
const FwRemedy *fw_worker_remedies (FwWorker *self, int index, const FwTrouble *trouble, int *n, gboolean *done);

/* The search came to its bound before everything was tried: none may have been found for that. Never asks. */
gboolean fw_worker_remedies_cut_short (FwWorker *self, int index);

/* The counterweight and the spring that came with the remedies; NULL: not yet, or none. Never asks. */
const FwCounterweight *fw_worker_weight (FwWorker *self, int index);
const FwSpringFit *fw_worker_spring (FwWorker *self, int index);

G_END_DECLS
