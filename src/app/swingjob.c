#include "app/swingjob.h"

#include "core/loads.h"

#define STEPS 360

/* One design's question and answer. */
typedef struct
{
  FwSwingJob *owner; /* NULL: nobody waits any more; main thread only */
  gint stale;        /* atomic */
  FwDesign *design;
  FwMechanism *mech;
  FwSwings *swings;
} Run;

struct FwSwingJob
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
  fw_swing_free (run->swings);
  fw_mechanism_free (run->mech);
  fw_design_free (run->design);
  g_free (run);
}

static bool
run_is_stale (void *data)
{
  return g_atomic_int_get (&((Run *) data)->stale) != 0;
}

/* Back on the main thread. */
static gboolean
run_deliver (gpointer data)
{
  Run *run = data;
  FwSwingJob *self = run->owner;

  if (self == NULL)
    {
      run_free (run);
      return G_SOURCE_REMOVE;
    }
  self->running = NULL;
  self->known = run;
  if (run->swings != NULL)
    self->arrived (self->data);
  return G_SOURCE_REMOVE;
}

/* Where memory runs out the rest pose is all there is to see. */
static gpointer
run_thread (gpointer data)
{
  Run *run = data;

  if (fw_mechanism_build (run->design, &run->mech, NULL) == FW_OK)
    run->swings = fw_swing_new (run->mech, STEPS);
  if (run->swings != NULL
      && fw_swing_solve (run->swings, fw_crank_speed (run->design), run_is_stale, run) != FW_SWING_OK)
    g_clear_pointer (&run->swings, fw_swing_free);
  g_idle_add (run_deliver, run);
  return NULL;
}

static void
forget (FwSwingJob *self)
{
  if (self->running != NULL)
    {
      g_atomic_int_set (&self->running->stale, 1);
      self->running->owner = NULL;
      self->running = NULL;
    }
  g_clear_pointer (&self->known, run_free);
}

FwSwingJob *
fw_swing_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwSwingJob *self = g_new0 (FwSwingJob, 1);
  self->arrived = arrived;
  self->data = data;
  return self;
}

void
fw_swing_job_free (FwSwingJob *self)
{
  forget (self);
  g_free (self);
}

void
fw_swing_job_set_mechanism (FwSwingJob *self, const FwMechanism *mech)
{
  forget (self);
  if (!fw_swing_any (mech))
    return;
  Run *run = g_new0 (Run, 1);
  run->owner = self;
  run->design = fw_design_copy (mech->design);
  if (run->design == NULL)
    {
      run_free (run);
      return;
    }
  self->running = run;
  g_thread_unref (g_thread_new ("swing", run_thread, run));
}

const FwSwings *
fw_swing_job_swings (FwSwingJob *self)
{
  return self->known == NULL ? NULL : self->known->swings;
}
