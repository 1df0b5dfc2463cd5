/* One question after another, each worked out beside the main loop in a thread of its own.
 *
 * All calls come from the main thread and return at once; answers arrive there. Of many questions
 * the newest wins: one that is out of date stops at its next look, what it found is let go of, and
 * only then the newest begins, so that a hand that drags never has more than one thread at work. */
#pragma once

#include <glib.h>
#include <stdbool.h>

G_BEGIN_DECLS

typedef struct FwJob FwJob;

/* A question, with room for its answer, is the job's until it has arrived. */
typedef struct
{
  const char *name; /* of the thread */
  /* In the thread, alone with the question; `fw_job_must_stop (run)` says when it is to end. */
  void (*work) (gpointer question, void *run);
  void (*free_question) (gpointer question);
  /* On the main thread: the question, answered, is the callee's. It may ask again, or free the job.
   */
  void (*arrived) (gpointer owner, gpointer question);
  /* On the main thread, before that: what fw_job_tell () was given, which is the callee's. It may
   * ask again; it may not free the job. NULL: nothing is told. */
  void (*told) (gpointer owner, gpointer news);
  void (*free_news) (gpointer news);
} FwJobKind;

/* `kind` must stay. */
FwJob *fw_job_new (const FwJobKind *kind, gpointer owner);
/* Drops what runs; no call to the owner after this. NULL: nothing to do. */
void fw_job_free (FwJob *self);

/* Takes the question; the one before is out of date. */
void fw_job_ask (FwJob *self, gpointer question);
/* Nothing is wanted any more. */
void fw_job_drop (FwJob *self);
/* What is asked for is to end soon, and arrives with what it has by then. */
void fw_job_stop (FwJob *self);
/* What is asked for; NULL: nothing. Only what its thread does not write may be read. */
gconstpointer fw_job_running (const FwJob *self);

/* ---- In the thread, of the run that `work` was handed ---- */

/* Nobody waits any more, or it was told to stop; a stop hook as the layers below want it. */
bool fw_job_must_stop (void *run);
/* Takes the news to the owner; those that have not got there yet are replaced. */
void fw_job_tell (void *run, gpointer news);

G_END_DECLS
