#include "app/tolerancejob.h"

#define SEED 1

/* One design's question. */
typedef struct
{
  FwToleranceJob *owner; /* NULL: nobody waits any more; main thread only */
  gint stop;             /* atomic */
  gint thousandths;      /* atomic: done */
  FwDesign *design;
  GArray *spreads;       /* FwSpread */
  int runs;
} Run;

/* An answer on its way to the main thread. */
typedef struct
{
  Run *run;
  FwTolerance *tolerance;
  gboolean last;
} Delivery;

struct FwToleranceJob
{
  void (*arrived) (gpointer data);
  gpointer data;
  Run *running; /* owned by its thread */
  FwTolerance *known;
};

static void
run_free (Run *run)
{
  fw_design_free (run->design);
  g_array_unref (run->spreads);
  g_free (run);
}

static bool
run_is_stopped (void *data)
{
  return g_atomic_int_get (&((Run *) data)->stop) != 0;
}

static void
run_progress (double fraction, void *data)
{
  g_atomic_int_set (&((Run *) data)->thousandths, (int) (1000 * CLAMP (fraction, 0, 1)));
}

/* Back on the main thread. */
static gboolean
run_deliver (gpointer data)
{
  Delivery *delivery = data;
  Run *run = delivery->run;
  FwToleranceJob *self = run->owner;

  if (self == NULL)
    fw_tolerance_free (delivery->tolerance);
  else
    {
      if (delivery->tolerance != NULL && delivery->tolerance->runs > 0)
        {
          FwTolerance *before = self->known;
          self->known = delivery->tolerance;
          if (delivery->last)
            self->running = NULL;
          self->arrived (self->data);
          fw_tolerance_free (before); /* what shows it has let go of it */
        }
      else
        {
          fw_tolerance_free (delivery->tolerance);
          if (delivery->last)
            self->running = NULL;
          self->arrived (self->data);
        }
    }
  if (delivery->last)
    run_free (run);
  g_free (delivery);
  return G_SOURCE_REMOVE;
}

static void
run_post (Run *run, FwTolerance *tolerance, gboolean last)
{
  Delivery *delivery = g_new0 (Delivery, 1);
  *delivery = (Delivery) { run, tolerance, last };
  g_idle_add (run_deliver, delivery);
  // cppcheck-suppress memleak ; run_deliver () frees it
}

static FwTolerance *
run_some (Run *run, int runs)
{
  const FwToleranceWish wish = {
    .runs = runs, .seed = SEED, .threads = MAX ((int) g_get_num_processors () - 1, 1), /* one is the window's */
    .spreads = (const FwSpread *) (const void *) run->spreads->data, .n_spreads = (int) run->spreads->len,
    .stop = run_is_stopped, .progress = run_progress, .data = run,
  };
  return fw_tolerance_run (run->design, &wish);
}

static gpointer
run_thread (gpointer data)
{
  Run *run = data;
  if (run->runs > FW_TOLERANCE_FIRST && !run_is_stopped (run))
    run_post (run, run_some (run, FW_TOLERANCE_FIRST), FALSE);
  run_post (run, run_is_stopped (run) ? NULL : run_some (run, run->runs), TRUE);
  return NULL;
}

/* ---- The job ---- */

FwToleranceJob *
fw_tolerance_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwToleranceJob *self = g_new0 (FwToleranceJob, 1);
  self->arrived = arrived;
  self->data = data;
  return self;
}

void
fw_tolerance_job_forget (FwToleranceJob *self)
{
  if (self->running != NULL)
    {
      g_atomic_int_set (&self->running->stop, 1);
      self->running->owner = NULL;
      self->running = NULL;
    }
  g_clear_pointer (&self->known, fw_tolerance_free);
}

void
fw_tolerance_job_free (FwToleranceJob *self)
{
  fw_tolerance_job_forget (self);
  g_free (self);
}

void
fw_tolerance_job_start (FwToleranceJob *self, const FwDesign *design, const FwSpread *spreads, int n_spreads, int runs)
{
  fw_tolerance_job_forget (self);
  FwDesign *copy = fw_design_copy (design);
  if (copy == NULL)
    return;
  Run *run = g_new0 (Run, 1);
  *run = (Run) { .owner = self, .design = copy, .spreads = g_array_new (FALSE, FALSE, sizeof (FwSpread)), .runs = runs };
  g_array_append_vals (run->spreads, spreads, (guint) n_spreads);
  self->running = run;
  g_thread_unref (g_thread_new ("tolerance", run_thread, run));
}

void
fw_tolerance_job_stop (FwToleranceJob *self)
{
  if (self->running != NULL)
    g_atomic_int_set (&self->running->stop, 1);
}

gboolean
fw_tolerance_job_running (FwToleranceJob *self)
{
  return self->running != NULL;
}

double
fw_tolerance_job_fraction (FwToleranceJob *self)
{
  return self->running == NULL ? 0 : g_atomic_int_get (&self->running->thousandths) / 1000.0;
}

const FwTolerance *
fw_tolerance_job_result (FwToleranceJob *self)
{
  return self->known;
}
