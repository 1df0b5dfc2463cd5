#include "app/job.h"

typedef struct
{
  const FwJobKind *kind;
  FwJob *job; /* NULL: nobody waits any more; main thread only */
  gint stale; /* atomic: set on the main thread, read by the other */
  gpointer question;
} Run;

struct FwJob
{
  const FwJobKind *kind;
  gpointer owner;
  Run *running; /* owned by its thread */
};

bool
fw_job_is_stale (void *run)
{
  return g_atomic_int_get (&((Run *) run)->stale) != 0;
}

/* Back on the main thread. */
static gboolean
run_deliver (gpointer data)
{
  Run *run = data;
  FwJob *self = run->job;

  if (self == NULL)
    run->kind->free_question (run->question);
  else
    {
      self->running = NULL;
      self->kind->arrived (self->owner, run->question);
    }
  g_free (run);
  return G_SOURCE_REMOVE;
}

static gpointer
run_thread (gpointer data)
{
  Run *run = data;

  run->kind->work (run->question, run);
  g_idle_add (run_deliver, run);
  return NULL;
}

FwJob *
fw_job_new (const FwJobKind *kind, gpointer owner)
{
  FwJob *self = g_new0 (FwJob, 1);
  *self = (FwJob) { .kind = kind, .owner = owner };
  return self;
}

void
fw_job_drop (FwJob *self)
{
  if (self->running == NULL)
    return;
  g_atomic_int_set (&self->running->stale, 1);
  self->running->job = NULL;
  self->running = NULL;
}

void
fw_job_free (FwJob *self)
{
  fw_job_drop (self);
  g_free (self);
}

void
fw_job_ask (FwJob *self, gpointer question)
{
  fw_job_drop (self);
  Run *run = g_new0 (Run, 1);
  *run = (Run) { .kind = self->kind, .job = self, .question = question };
  self->running = run;
  g_thread_unref (g_thread_new (self->kind->name, run_thread, run));
}

gconstpointer
fw_job_running (const FwJob *self)
{
  return self->running == NULL ? NULL : self->running->question;
}
