#include "app/wornjob.h"

#include <stdlib.h>

#include "app/job.h"

#define STEPS 360
#define STEPS_AT_ONCE 20 /* of the turn, between two looks whether to stop */
#define MOST 128

typedef struct
{
  FwDesign *design;
  int n; /* below 0: not known */
  FwBounce list[MOST];
} Question;

struct FwWornJob
{
  FwWornArrived arrived;
  gpointer data;
  FwJob *job;
};

static void
question_free (gpointer data)
{
  fw_design_free (((Question *)data)->design);
  g_free (data);
}

static void
question_work (gpointer data, void *run)
{
  Question *q = data;
  FwMechanism *mech = NULL;

  q->n = -1;
  if (q->design == NULL || fw_mechanism_build (q->design, &mech, NULL) != FW_OK)
    return;
  FwLoadTurn *turn = fw_load_turn_new (mech, STEPS);
  int done = 0;
  for (; turn != NULL && done < STEPS && !fw_job_must_stop (run); done += STEPS_AT_ONCE)
    fw_load_turn_solve_some (turn, NULL, mech, fw_crank_speed (q->design), done,
                             done + STEPS_AT_ONCE);
  if (done == STEPS)
    q->n = fw_reversals (turn, mech, q->list, MOST, fw_job_must_stop, run);
  free (turn);
  fw_mechanism_free (mech);
}

static void
question_arrived (gpointer owner, gpointer question)
{
  FwWornJob *self = owner;
  Question *q = question;

  if (q->n >= 0)
    self->arrived (self->data, q->list, MIN (q->n, MOST));
  question_free (q);
}

static const FwJobKind kind = {
  .name = "worn", .work = question_work, .free_question = question_free, .arrived = question_arrived
};

FwWornJob *
fw_worn_job_new (FwWornArrived arrived, gpointer data)
{
  FwWornJob *self = g_new0 (FwWornJob, 1);
  *self = (FwWornJob){ .arrived = arrived, .data = data, .job = fw_job_new (&kind, self) };
  return self;
}

void
fw_worn_job_free (FwWornJob *self)
{
  fw_job_free (self->job);
  g_free (self);
}

void
fw_worn_job_ask (FwWornJob *self, const FwDesign *design)
{
  Question *q = g_new0 (Question, 1);
  q->design = fw_design_copy (design);
  fw_job_ask (self->job, q);
}

void
fw_worn_job_forget (FwWornJob *self)
{
  fw_job_drop (self->job);
}
