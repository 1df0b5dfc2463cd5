/* One question after another, each worked out beside the main loop in a thread of its own.
 *
 * All calls come from the main thread and return at once; answers arrive there. A question that is out of date stops
 * at its next look, and what it found is let go of. */
#pragma once

#include <glib.h>
#include <stdbool.h>

G_BEGIN_DECLS

typedef struct FwJob FwJob;

/* A question, with room for its answer, is the job's until it has arrived. */
typedef struct
{
  const char *name; /* of the thread */
  /* In the thread, alone with the question; `fw_job_is_stale (run)` says when nobody waits any more. */
  void (*work) (gpointer question, void *run);
  void (*free_question) (gpointer question);
  /* On the main thread: the question, answered, is the callee's. It may ask again; it may not free the job. */
  void (*arrived) (gpointer owner, gpointer question);
} FwJobKind;

/* `kind` must stay. */
FwJob *fw_job_new (const FwJobKind *kind, gpointer owner);
/* Drops what runs; no call of `arrived` after this. */
void fw_job_free (FwJob *self);

/* Takes the question; the one before is out of date. */
void fw_job_ask (FwJob *self, gpointer question);
void fw_job_drop (FwJob *self);
/* What is being worked out; NULL: nothing. Only what its thread does not write may be read. */
gconstpointer fw_job_running (const FwJob *self);

/* Of the run that `work` was handed; a stop hook as the layers below want it. */
bool fw_job_is_stale (void *run);

G_END_DECLS
