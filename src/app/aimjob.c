#include "app/aimjob.h"

#include "app/job.h"

typedef struct
{
  FwDesign *design;
  FwWishes *wishes;
  void *run; /* in the thread */
  FwAimed *aimed;
  GError *error;
} Question;

/* How far it is. */
typedef struct
{
  double fraction, cost;
  FwDesign *best;
} News;

struct FwAimJob
{
  FwAimCalls calls;
  gpointer data;
  FwJob *job;
};

static void
question_free (gpointer data)
{
  Question *q = data;
  fw_design_free (q->design);
  fw_wishes_free (q->wishes);
  fw_aimed_free (q->aimed);
  g_clear_error (&q->error);
  g_free (q);
}

static void
news_free (gpointer data)
{
  fw_design_free (((News *)data)->best);
  g_free (data);
}

/* ---- In the thread ---- */

static gboolean
on_watch (double fraction, double cost, const FwDesign *best, gpointer data)
{
  Question *q = data;
  News *news = g_new (News, 1);

  *news = (News){ fraction, cost, best != NULL ? fw_design_copy (best) : NULL };
  fw_job_tell (q->run, news);
  return !fw_job_must_stop (q->run);
}

static void
question_work (gpointer data, void *run)
{
  Question *q = data;
  const FwAimOptions options = { .seed = 1 };

  q->run = run;
  q->aimed = fw_aim (q->design, q->wishes, &options, on_watch, q, &q->error);
}

/* ---- On the main thread ---- */

static void
question_told (gpointer owner, gpointer data)
{
  FwAimJob *self = owner;
  News *news = data;

  self->calls.progress (self->data, news->fraction, news->cost, news->best);
  news_free (news);
}

static void
question_arrived (gpointer owner, gpointer question)
{
  FwAimJob *self = owner;
  Question *q = question;

  self->calls.done (self->data, g_steal_pointer (&q->aimed),
                    q->error != NULL ? q->error->message : NULL);
  question_free (q);
}

static const FwJobKind kind
    = { "aim", question_work, question_free, question_arrived, question_told, news_free };

FwAimJob *
fw_aim_job_new (const FwAimCalls *calls, gpointer data)
{
  FwAimJob *self = g_new0 (FwAimJob, 1);
  *self = (FwAimJob){ .calls = *calls, .data = data, .job = fw_job_new (&kind, self) };
  return self;
}

void
fw_aim_job_free (FwAimJob *self)
{
  fw_job_free (self->job);
  g_free (self);
}

void
fw_aim_job_start (FwAimJob *self, const FwDesign *design, const FwWishes *wishes)
{
  Question *q = g_new0 (Question, 1);
  *q = (Question){ .design = fw_design_copy (design), .wishes = fw_wishes_copy (wishes) };
  fw_job_ask (self->job, q);
}

void
fw_aim_job_stop (FwAimJob *self)
{
  fw_job_stop (self->job);
}

void
fw_aim_job_forget (FwAimJob *self)
{
  fw_job_drop (self->job);
}

gboolean
fw_aim_job_running (FwAimJob *self)
{
  return fw_job_running (self->job) != NULL;
}
