#include "app/helpsjob.h"

#include <string.h>

#include "app/job.h"

#define REACH 8
#define KEPT 8 /* answers of one state of the design */

typedef struct
{
  FwDesign *design;
  FwHelpOf of;
  FwHelps found;
} Question;

struct FwHelpsJob
{
  void (*arrived) (gpointer data);
  gpointer data;
  guint64 serial;
  FwJob *job;
  Question *known[KEPT];
  int n_known;
};

static void
question_free (gpointer data)
{
  Question *q = data;
  fw_design_free (q->design);
  g_free (q);
}

static void
question_work (gpointer data, void *run)
{
  Question *q = data;

  q->found.value = fw_help_value (q->design, &q->of);
  q->found.n = fw_helps (q->design, &q->of, q->found.list, FW_HELPS_MOST, REACH, fw_job_must_stop, run);
}

static void
question_arrived (gpointer owner, gpointer question)
{
  FwHelpsJob *self = owner;

  if (self->n_known == KEPT)
    {
      question_free (self->known[0]);
      memmove (self->known, self->known + 1, (KEPT - 1) * sizeof self->known[0]);
      self->n_known--;
    }
  self->known[self->n_known++] = question;
  self->arrived (self->data);
}

static const FwJobKind kind
    = { .name = "helps", .work = question_work, .free_question = question_free, .arrived = question_arrived };

static void
forget (FwHelpsJob *self)
{
  fw_job_drop (self->job);
  for (int i = 0; i < self->n_known; i++)
    question_free (self->known[i]);
  self->n_known = 0;
}

FwHelpsJob *
fw_helps_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwHelpsJob *self = g_new0 (FwHelpsJob, 1);
  *self = (FwHelpsJob) { .arrived = arrived, .data = data, .job = fw_job_new (&kind, self) };
  return self;
}

void
fw_helps_job_free (FwHelpsJob *self)
{
  forget (self);
  fw_job_free (self->job);
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
  const Question *running = fw_job_running (self->job);
  if (running != NULL && same_of (&running->of, of))
    return NULL;
  Question *q = g_new0 (Question, 1);
  *q = (Question) { .of = *of, .design = fw_design_copy (design) };
  fw_job_ask (self->job, q);
  return NULL;
}
