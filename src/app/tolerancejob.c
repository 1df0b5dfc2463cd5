#include "app/tolerancejob.h"

#include "app/job.h"

#define SEED 1

typedef struct
{
  FwDesign *design;
  GArray *spreads; /* FwSpread */
  int runs;
  gint thousandths; /* atomic: done */
  void *run;        /* in the thread */
  FwTolerance *answer;
} Question;

struct FwToleranceJob
{
  void (*arrived) (gpointer data);
  gpointer data;
  FwJob *job;
  FwTolerance *known;
};

static void
question_free (gpointer data)
{
  Question *q = data;
  fw_tolerance_free (q->answer);
  fw_design_free (q->design);
  g_array_unref (q->spreads);
  g_free (q);
}

/* ---- In the thread ---- */

static bool
must_stop (void *data)
{
  return fw_job_must_stop (((Question *)data)->run);
}

static void
on_progress (double fraction, void *data)
{
  g_atomic_int_set (&((Question *)data)->thousandths, (int)(1000 * CLAMP (fraction, 0, 1)));
}

static FwTolerance *
draw (Question *q, int runs)
{
  const FwToleranceWish wish = {
    .runs = runs,
    .seed = SEED,
    .threads = MAX ((int)g_get_num_processors () - 1, 1), /* one is the window's */
    .spreads = (const FwSpread *)(const void *)q->spreads->data,
    .n_spreads = (int)q->spreads->len,
    .stop = must_stop,
    .progress = on_progress,
    .data = q,
  };
  return fw_tolerance_run (q->design, &wish);
}

static void
question_work (gpointer data, void *run)
{
  Question *q = data;

  q->run = run;
  if (q->runs > FW_TOLERANCE_FIRST)
    {
      FwTolerance *first = draw (q, FW_TOLERANCE_FIRST);
      if (first == NULL || fw_job_must_stop (run))
        {
          q->answer = first;
          return;
        }
      fw_job_tell (run, first);
    }
  q->answer = draw (q, q->runs);
}

/* ---- The job ---- */

static void
free_news (gpointer news)
{
  fw_tolerance_free (news);
}

/* One that holds nothing leaves what was known. */
static void
question_told (gpointer owner, gpointer news)
{
  FwToleranceJob *self = owner;
  FwTolerance *before = news, *told = news;

  if (told != NULL && told->runs > 0)
    {
      before = self->known;
      self->known = told;
    }
  self->arrived (self->data);
  fw_tolerance_free (before); /* what shows it has let go of it */
}

static void
question_arrived (gpointer owner, gpointer question)
{
  FwTolerance *answer = g_steal_pointer (&((Question *)question)->answer);

  question_free (question);
  question_told (owner, answer);
}

static const FwJobKind kind
    = { "tolerance", question_work, question_free, question_arrived, question_told, free_news };

FwToleranceJob *
fw_tolerance_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwToleranceJob *self = g_new0 (FwToleranceJob, 1);
  *self = (FwToleranceJob){ .arrived = arrived, .data = data, .job = fw_job_new (&kind, self) };
  return self;
}

void
fw_tolerance_job_forget (FwToleranceJob *self)
{
  fw_job_drop (self->job);
  g_clear_pointer (&self->known, fw_tolerance_free);
}

void
fw_tolerance_job_free (FwToleranceJob *self)
{
  fw_tolerance_job_forget (self);
  fw_job_free (self->job);
  g_free (self);
}

void
fw_tolerance_job_start (FwToleranceJob *self, const FwDesign *design, const FwSpread *spreads,
                        int n_spreads, int runs)
{
  fw_tolerance_job_forget (self);
  FwDesign *copy = fw_design_copy (design);
  if (copy == NULL)
    return;
  Question *q = g_new0 (Question, 1);
  *q = (Question){ .design = copy,
                   .spreads = g_array_new (FALSE, FALSE, sizeof (FwSpread)),
                   .runs = runs };
  g_array_append_vals (q->spreads, spreads, (guint)n_spreads);
  fw_job_ask (self->job, q);
}

void
fw_tolerance_job_stop (FwToleranceJob *self)
{
  fw_job_stop (self->job);
}

gboolean
fw_tolerance_job_running (FwToleranceJob *self)
{
  return fw_job_running (self->job) != NULL;
}

double
fw_tolerance_job_fraction (FwToleranceJob *self)
{
  const Question *q = fw_job_running (self->job);
  return q == NULL ? 0 : g_atomic_int_get (&q->thousandths) / 1000.0;
}

const FwTolerance *
fw_tolerance_job_result (FwToleranceJob *self)
{
  return self->known;
}
