#include "app/job.h"

/* Each of its sources on the main loop holds a reference. */
typedef struct
{
  const FwJobKind *kind;
  FwJob *job;       /* NULL: it has gone; main thread only, as the next */
  gboolean dropped; /* nobody waits any more */
  gint stop;        /* atomic: set on the main thread, read by the other */
  gpointer question;
  gpointer news; /* atomic: not told yet */
} Run;

struct FwJob
{
  const FwJobKind *kind;
  gpointer owner;
  Run *running; /* owned by its thread; dropped where `next` is there */
  Run *next;    /* owned: begins when the other has ended */
};

static void
run_clear (gpointer data)
{
  Run *run = data;

  if (run->question != NULL)
    run->kind->free_question (run->question);
  if (run->news != NULL)
    run->kind->free_news (run->news);
}

static void
run_release (gpointer run)
{
  g_atomic_rc_box_release_full (run, run_clear);
}

/* ---- In the thread ---- */

bool
fw_job_must_stop (void *run)
{
  return g_atomic_int_get (&((Run *)run)->stop) != 0;
}

/* Back on the main thread. */
static gboolean
run_told (gpointer data)
{
  Run *run = data;
  gpointer news = g_atomic_pointer_exchange (&run->news, NULL);

  if (news != NULL && run->dropped)
    run->kind->free_news (news);
  else if (news != NULL)
    run->kind->told (run->job->owner, news);
  return G_SOURCE_REMOVE;
}

void
fw_job_tell (void *data, gpointer news)
{
  Run *run = data;
  gpointer before = g_atomic_pointer_exchange (&run->news, news);

  if (before != NULL) /* that one's source is on its way */
    run->kind->free_news (before);
  else
    g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, run_told, g_atomic_rc_box_acquire (run), run_release);
}

static void run_begin (FwJob *self, Run *run);

/* Back on the main thread. */
static gboolean
run_deliver (gpointer data)
{
  Run *run = data;
  FwJob *self = run->job;

  run_told (run);
  if (self == NULL)
    return G_SOURCE_REMOVE;
  self->running = NULL;
  if (self->next != NULL)
    run_begin (self, g_steal_pointer (&self->next));
  if (!run->dropped)
    run->kind->arrived (self->owner, g_steal_pointer (&run->question));
  return G_SOURCE_REMOVE;
}

static gpointer
run_thread (gpointer data)
{
  Run *run = data;

  run->kind->work (run->question, run);
  g_idle_add_full (G_PRIORITY_DEFAULT, run_deliver, run,
                   run_release); /* frames that keep coming do not hold it up */
  return NULL;
}

/* ---- The job ---- */

static void
run_begin (FwJob *self, Run *run)
{
  self->running = run;
  g_thread_unref (g_thread_new (self->kind->name, run_thread, run));
}

static Run *
job_wanted (const FwJob *self)
{
  if (self->next != NULL)
    return self->next;
  return self->running != NULL && !self->running->dropped ? self->running : NULL;
}

FwJob *
fw_job_new (const FwJobKind *kind, gpointer owner)
{
  FwJob *self = g_new0 (FwJob, 1);
  *self = (FwJob){ .kind = kind, .owner = owner };
  return self;
}

void
fw_job_drop (FwJob *self)
{
  fw_job_stop (self);
  g_clear_pointer (&self->next, run_release);
  if (self->running != NULL)
    self->running->dropped = TRUE;
}

void
fw_job_stop (FwJob *self)
{
  Run *run = job_wanted (self);
  if (run != NULL)
    g_atomic_int_set (&run->stop, 1);
}

void
fw_job_free (FwJob *self)
{
  if (self == NULL)
    return;
  fw_job_drop (self);
  if (self->running != NULL)
    self->running->job = NULL;
  g_free (self);
}

void
fw_job_ask (FwJob *self, gpointer question)
{
  fw_job_drop (self);
  Run *run = g_atomic_rc_box_new0 (Run);
  *run = (Run){ .kind = self->kind, .job = self, .question = question };
  if (self->running != NULL)
    self->next = run;
  else
    run_begin (self, run);
}

gconstpointer
fw_job_running (const FwJob *self)
{
  const Run *run = job_wanted (self);
  return run == NULL ? NULL : run->question;
}
