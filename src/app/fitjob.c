#include "app/fitjob.h"

typedef struct
{
  FwFitJob *owner; /* NULL: nobody waits any more; main thread only */
  gint stale;      /* atomic */
  FwDesign *design;
  GArray *list;    /* FwMeasurement */
  FwFit answer;
} Run;

struct FwFitJob
{
  void (*arrived) (gpointer data);
  gpointer data;
  Run *running; /* owned by its thread */
  Run *known;
};

static void
run_free (Run *run)
{
  if (run == NULL)
    return;
  fw_design_free (run->design);
  g_array_unref (run->list);
  g_free (run);
}

static bool
run_is_stale (void *data)
{
  return g_atomic_int_get (&((Run *) data)->stale) != 0;
}

static gboolean
run_deliver (gpointer data)
{
  Run *run = data;
  FwFitJob *self = run->owner;

  if (self == NULL)
    {
      run_free (run);
      return G_SOURCE_REMOVE;
    }
  self->running = NULL;
  run_free (self->known);
  self->known = run;
  self->arrived (self->data);
  return G_SOURCE_REMOVE;
}

static gpointer
run_thread (gpointer data)
{
  Run *run = data;
  const FwFitWish wish = { .stop = run_is_stale, .data = run };
  fw_fit (run->design, (const FwMeasurement *) (const void *) run->list->data, (int) run->list->len, &wish, &run->answer);
  g_idle_add (run_deliver, run);
  return NULL;
}

FwFitJob *
fw_fit_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwFitJob *self = g_new0 (FwFitJob, 1);
  self->arrived = arrived;
  self->data = data;
  return self;
}

void
fw_fit_job_stop (FwFitJob *self)
{
  if (self->running == NULL)
    return;
  g_atomic_int_set (&self->running->stale, 1);
  self->running->owner = NULL;
  self->running = NULL;
}

void
fw_fit_job_forget (FwFitJob *self)
{
  fw_fit_job_stop (self);
  g_clear_pointer (&self->known, run_free);
}

void
fw_fit_job_free (FwFitJob *self)
{
  fw_fit_job_forget (self);
  g_free (self);
}

void
fw_fit_job_ask (FwFitJob *self, const FwDesign *design, const FwMeasurement *list, int n)
{
  fw_fit_job_forget (self);
  FwDesign *copy = fw_design_copy (design);
  if (copy == NULL)
    return;
  Run *run = g_new0 (Run, 1);
  *run = (Run) { .owner = self, .design = copy, .list = g_array_new (FALSE, FALSE, sizeof (FwMeasurement)) };
  g_array_append_vals (run->list, list, (guint) n);
  self->running = run;
  g_thread_unref (g_thread_new ("fit", run_thread, run));
}

gboolean
fw_fit_job_running (FwFitJob *self)
{
  return self->running != NULL;
}

const FwFit *
fw_fit_job_answer (FwFitJob *self)
{
  return self->known == NULL ? NULL : &self->known->answer;
}
