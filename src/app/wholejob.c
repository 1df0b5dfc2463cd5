#include "app/wholejob.h"

#include "app/job.h"

typedef struct
{
  FwDesign *design;
  FwWhole *whole;
} Question;

struct FwWholeJob
{
  FwWholeArrived arrived;
  gpointer data;
  FwJob *job;
};

static void
question_free (gpointer data)
{
  Question *q = data;
  fw_whole_free (q->whole);
  fw_design_free (q->design);
  g_free (q);
}

static void
question_work (gpointer data, void *run)
{
  Question *q = data;
  FwMechanism *mech = NULL;

  if (q->design == NULL || fw_mechanism_build (q->design, &mech, NULL) != FW_OK)
    return;
  q->whole = g_new0 (FwWhole, 1);
  /* With what the bearings bear: asked for later it would hold the window up. */
  gboolean whole = fw_whole_solve (q->whole, mech, TRUE, fw_job_must_stop, run);
  q->whole->own = mech;
  if (!whole)
    g_clear_pointer (&q->whole, fw_whole_free);
}

static void
question_arrived (gpointer owner, gpointer question)
{
  FwWholeJob *self = owner;
  FwWhole *whole = g_steal_pointer (&((Question *)question)->whole);

  question_free (question);
  self->arrived (self->data, whole);
}

static const FwJobKind kind = { .name = "whole turn",
                                .work = question_work,
                                .free_question = question_free,
                                .arrived = question_arrived };

FwWholeJob *
fw_whole_job_new (FwWholeArrived arrived, gpointer data)
{
  FwWholeJob *self = g_new0 (FwWholeJob, 1);
  *self = (FwWholeJob){ .arrived = arrived, .data = data, .job = fw_job_new (&kind, self) };
  return self;
}

void
fw_whole_job_free (FwWholeJob *self)
{
  fw_job_free (self->job);
  g_free (self);
}

void
fw_whole_job_ask (FwWholeJob *self, const FwDesign *design)
{
  Question *q = g_new0 (Question, 1);
  q->design = fw_design_copy (design);
  fw_job_ask (self->job, q);
}

void
fw_whole_job_forget (FwWholeJob *self)
{
  fw_job_drop (self->job);
}
