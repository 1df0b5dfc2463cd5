#include "app/swingjob.h"

#include "app/job.h"
#include "core/loads.h"

#define STEPS 360

typedef struct
{
  FwDesign *design;
  FwMechanism *mech;
  FwSwings *swings;
} Question;

struct FwSwingJob
{
  void (*arrived) (gpointer data);
  gpointer data;
  FwJob *job;
  Question *known;
};

static void
question_free (gpointer data)
{
  Question *q = data;
  if (q == NULL)
    return;
  fw_swing_free (q->swings);
  fw_mechanism_free (q->mech);
  fw_design_free (q->design);
  g_free (q);
}

/* Where memory runs out the rest pose is all there is to see. */
static void
question_work (gpointer data, void *run)
{
  Question *q = data;

  if (q->design != NULL && fw_mechanism_build (q->design, &q->mech, NULL) == FW_OK)
    q->swings = fw_swing_new (q->mech, STEPS);
  if (q->swings != NULL
      && fw_swing_solve (q->swings, fw_crank_speed (q->design), fw_job_must_stop, run) != FW_SWING_OK)
    g_clear_pointer (&q->swings, fw_swing_free);
}

static void
question_arrived (gpointer owner, gpointer question)
{
  FwSwingJob *self = owner;

  self->known = question;
  if (self->known->swings != NULL)
    self->arrived (self->data);
}

static const FwJobKind kind
    = { .name = "swing", .work = question_work, .free_question = question_free, .arrived = question_arrived };

FwSwingJob *
fw_swing_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwSwingJob *self = g_new0 (FwSwingJob, 1);
  *self = (FwSwingJob) { .arrived = arrived, .data = data, .job = fw_job_new (&kind, self) };
  return self;
}

void
fw_swing_job_free (FwSwingJob *self)
{
  fw_job_free (self->job);
  question_free (self->known);
  g_free (self);
}

void
fw_swing_job_set_mechanism (FwSwingJob *self, const FwMechanism *mech)
{
  fw_job_drop (self->job);
  g_clear_pointer (&self->known, question_free);
  if (!fw_mechanism_hangs (mech))
    return;
  Question *q = g_new0 (Question, 1);
  q->design = fw_design_copy (mech->design);
  fw_job_ask (self->job, q);
}

const FwSwings *
fw_swing_job_swings (FwSwingJob *self)
{
  return self->known == NULL ? NULL : self->known->swings;
}
