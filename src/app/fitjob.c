#include "app/fitjob.h"

#include "app/job.h"

typedef struct
{
  FwDesign *design;
  GArray *list; /* FwMeasurement */
  FwFit answer;
} Question;

struct FwFitJob
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
  fw_design_free (q->design);
  g_array_unref (q->list);
  g_free (q);
}

static void
question_work (gpointer data, void *run)
{
  Question *q = data;
  const FwFitWish wish = { .stop = fw_job_must_stop, .data = run };

  fw_fit (q->design, (const FwMeasurement *) (const void *) q->list->data, (int) q->list->len, &wish, &q->answer);
}

static void
question_arrived (gpointer owner, gpointer question)
{
  FwFitJob *self = owner;

  question_free (self->known);
  self->known = question;
  self->arrived (self->data);
}

static const FwJobKind kind
    = { .name = "fit", .work = question_work, .free_question = question_free, .arrived = question_arrived };

FwFitJob *
fw_fit_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwFitJob *self = g_new0 (FwFitJob, 1);
  *self = (FwFitJob) { .arrived = arrived, .data = data, .job = fw_job_new (&kind, self) };
  return self;
}

void
fw_fit_job_forget (FwFitJob *self)
{
  fw_job_drop (self->job);
  g_clear_pointer (&self->known, question_free);
}

void
fw_fit_job_free (FwFitJob *self)
{
  fw_fit_job_forget (self);
  fw_job_free (self->job);
  g_free (self);
}

void
fw_fit_job_ask (FwFitJob *self, const FwDesign *design, const FwMeasurement *list, int n)
{
  fw_fit_job_forget (self);
  FwDesign *copy = fw_design_copy (design);
  if (copy == NULL)
    return;
  Question *q = g_new0 (Question, 1);
  *q = (Question) { .design = copy, .list = g_array_new (FALSE, FALSE, sizeof (FwMeasurement)) };
  g_array_append_vals (q->list, list, (guint) n);
  fw_job_ask (self->job, q);
}

gboolean
fw_fit_job_running (FwFitJob *self)
{
  return fw_job_running (self->job) != NULL;
}

const FwFit *
fw_fit_job_answer (FwFitJob *self)
{
  return self->known == NULL ? NULL : &self->known->answer;
}
