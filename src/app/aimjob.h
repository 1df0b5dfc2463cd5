/* A search for designs that do what is wished for, beside the main loop.
 *
 * All calls come from the main thread and return at once; progress and answers arrive there. */
#pragma once

#include "aim/aim.h"

G_BEGIN_DECLS

typedef struct FwAimJob FwAimJob;

typedef struct
{
  /* The best so far, or NULL; valid during the call. */
  void (*progress) (gpointer data, double fraction, double cost, const FwDesign *best);
  /* The search has ended: `aimed` is the callee's; NULL with a message where nothing can be
   * searched for. */
  void (*done) (gpointer data, FwAimed *aimed, const char *message);
} FwAimCalls;

FwAimJob *fw_aim_job_new (const FwAimCalls *calls, gpointer data);
/* Stops what runs; no call after this. */
void fw_aim_job_free (FwAimJob *self);

/* Copies of both are taken; a search before it is out of date. */
void fw_aim_job_start (FwAimJob *self, const FwDesign *design, const FwWishes *wishes);
/* What was found by then comes as answers. */
void fw_aim_job_stop (FwAimJob *self);
/* Nobody waits any more. */
void fw_aim_job_forget (FwAimJob *self);
gboolean fw_aim_job_running (FwAimJob *self);

G_END_DECLS
