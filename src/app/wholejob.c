#include "app/wholejob.h"

/* One design's question and answer. */
typedef struct
{
  FwWholeJob *owner; /* NULL: nobody waits any more; main thread only */
  gint stale;        /* atomic: set on the main thread, read by the thread */
  FwDesign *design;
  FwWhole *whole; /* the answer; NULL: none */
} Run;

struct FwWholeJob
{
  FwWholeArrived arrived;
  gpointer data;
  Run *running; /* owned by its thread, and stale where `next` is there */
  Run *next;    /* owned: begins when the other has ended */
};

static void
run_free (Run *run)
{
  if (run == NULL)
    return;
  fw_whole_free (run->whole);
  fw_design_free (run->design);
  g_free (run);
}

static bool
run_is_stale (void *data)
{
  return g_atomic_int_get (&((Run *) data)->stale) != 0;
}

static void run_begin (FwWholeJob *self, Run *run);

/* Back on the main thread. */
static gboolean
run_deliver (gpointer data)
{
  Run *run = data;
  FwWholeJob *self = run->owner;

  if (self == NULL)
    {
      run_free (run);
      return G_SOURCE_REMOVE;
    }
  FwWhole *whole = g_steal_pointer (&run->whole);
  gboolean stale = run_is_stale (run);
  self->running = NULL;
  run_free (run);
  if (self->next != NULL)
    run_begin (self, g_steal_pointer (&self->next));
  if (stale)
    fw_whole_free (whole);
  else
    self->arrived (self->data, whole); /* last: it may ask again, or end the job */
  return G_SOURCE_REMOVE;
}

static gpointer
run_thread (gpointer data)
{
  Run *run = data;
  FwMechanism *mech = NULL;

  if (!run_is_stale (run) && run->design != NULL && fw_mechanism_build (run->design, &mech, NULL) == FW_OK)
    {
      run->whole = g_new0 (FwWhole, 1);
      /* With what the bearings bear: asked for later it would hold the window up. */
      gboolean whole = fw_whole_solve (run->whole, mech, TRUE, run_is_stale, run);
      run->whole->own = mech;
      if (!whole)
        g_clear_pointer (&run->whole, fw_whole_free);
    }
  g_idle_add_full (G_PRIORITY_DEFAULT, run_deliver, run, NULL);
  return NULL;
}

static void
run_begin (FwWholeJob *self, Run *run)
{
  self->running = run;
  run->owner = self;
  g_thread_unref (g_thread_new ("whole turn", run_thread, run));
}

void
fw_whole_job_forget (FwWholeJob *self)
{
  g_clear_pointer (&self->next, run_free);
  if (self->running != NULL)
    g_atomic_int_set (&self->running->stale, 1);
}

void
fw_whole_job_ask (FwWholeJob *self, const FwDesign *design)
{
  fw_whole_job_forget (self);
  Run *run = g_new0 (Run, 1);
  run->design = fw_design_copy (design);
  if (self->running != NULL)
    self->next = run;
  else
    run_begin (self, run);
}

gboolean
fw_whole_job_is_asked (FwWholeJob *self)
{
  return self->next != NULL || (self->running != NULL && !run_is_stale (self->running));
}

FwWholeJob *
fw_whole_job_new (FwWholeArrived arrived, gpointer data)
{
  FwWholeJob *self = g_new0 (FwWholeJob, 1);
  self->arrived = arrived;
  self->data = data;
  return self;
}

void
fw_whole_job_free (FwWholeJob *self)
{
  if (self == NULL)
    return;
  fw_whole_job_forget (self);
  if (self->running != NULL)
    self->running->owner = NULL;
  g_free (self);
}
