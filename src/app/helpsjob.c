#include "app/helpsjob.h"

#include <string.h>

#define REACH 8
#define KEPT 8 /* answers of one state of the design */

typedef struct Run
{
  FwHelpsJob *owner; /* NULL: nobody waits any more; main thread only */
  gint stale;        /* atomic */
  FwDesign *design;
  FwHelpOf of;
  FwHelps found;
} Run;

struct FwHelpsJob
{
  void (*arrived) (gpointer data);
  gpointer data;
  guint64 serial;
  Run *running; /* owned by its thread */
  Run *known[KEPT];
  int n_known;
};

static void
run_free (Run *run)
{
  if (run == NULL)
    return;
  fw_design_free (run->design);
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
  FwHelpsJob *self = run->owner;
  if (self == NULL)
    {
      run_free (run);
      return G_SOURCE_REMOVE;
    }
  self->running = NULL;
  if (self->n_known == KEPT)
    {
      run_free (self->known[0]);
      memmove (self->known, self->known + 1, (KEPT - 1) * sizeof self->known[0]);
      self->n_known--;
    }
  self->known[self->n_known++] = run;
  self->arrived (self->data);
  return G_SOURCE_REMOVE;
}

static gpointer
run_thread (gpointer data)
{
  Run *run = data;
  run->found.value = fw_help_value (run->design, &run->of);
  run->found.n = fw_helps (run->design, &run->of, run->found.list, FW_HELPS_MOST, REACH, run_is_stale, run);
  g_idle_add (run_deliver, run);
  return NULL;
}

static void
let_go (FwHelpsJob *self)
{
  if (self->running == NULL)
    return;
  g_atomic_int_set (&self->running->stale, 1);
  self->running->owner = NULL;
  self->running = NULL;
}

static void
forget (FwHelpsJob *self)
{
  let_go (self);
  for (int i = 0; i < self->n_known; i++)
    run_free (self->known[i]);
  self->n_known = 0;
}

FwHelpsJob *
fw_helps_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwHelpsJob *self = g_new0 (FwHelpsJob, 1);
  self->arrived = arrived;
  self->data = data;
  return self;
}

void
fw_helps_job_free (FwHelpsJob *self)
{
  forget (self);
  g_free (self);
}

static gboolean
same_of (const FwHelpOf *a, const FwHelpOf *b)
{
  if (a->kind != b->kind)
    return FALSE;
  if (a->kind == FW_HELP_TORQUE)
    return TRUE;
  if (a->kind == FW_HELP_TROUBLE)
    return fw_trouble_same (&a->trouble, &b->trouble) && a->trouble.worst == b->trouble.worst;
  return a->quantity.kind == b->quantity.kind && a->quantity.index == b->quantity.index
         && (a->kind != FW_HELP_POSE || a->crank == b->crank);
}

const FwHelps *
fw_helps_job_ask (FwHelpsJob *self, const FwDesign *design, guint64 serial, const FwHelpOf *of)
{
  if (serial != self->serial)
    forget (self);
  self->serial = serial;
  for (int i = 0; i < self->n_known; i++)
    if (same_of (&self->known[i]->of, of))
      return &self->known[i]->found;
  if (self->running != NULL && same_of (&self->running->of, of))
    return NULL;
  let_go (self);
  Run *run = g_new0 (Run, 1);
  run->owner = self;
  run->of = *of;
  run->design = fw_design_copy (design);
  self->running = run;
  g_thread_unref (g_thread_new ("helps", run_thread, run));
  return NULL;
}
