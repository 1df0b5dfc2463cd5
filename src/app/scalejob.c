#include "app/scalejob.h"

#include <glib/gi18n.h>

#include "app/job.h"

typedef struct
{
  char *text; /* of the small one */
  FwScaleQuestion asked;
  FwScaleAnswer *answer;
} Question;

struct FwScaleJob
{
  void (*arrived) (gpointer data);
  gpointer data;
  FwJob *job;
  FwScaleAnswer *known;
};

static void
answer_free (FwScaleAnswer *answer)
{
  if (answer == NULL)
    return;
  g_free (answer->error);
  fw_mechanism_free (answer->mech);
  if (answer->big != NULL)
    fw_document_free (answer->big);
  g_free (answer);
}

static void
question_free (gpointer data)
{
  Question *q = data;

  answer_free (q->answer);
  for (int i = 0; i < 4; i++)
    g_free (q->asked.material[i]);
  g_free (q->text);
  g_free (q);
}

/* ---- In the thread ---- */

static void
find_remedies (FwScaleAnswer *a, void *run)
{
  for (int i = 0; i < a->n_limits; i++)
    for (int k = 0; k < a->trouble.n; k++)
      {
        const FwTrouble *t = &a->trouble.items[k];
        if (t->kind != a->limits[i].kind || !fw_part_equal (t->part, a->limits[i].part))
          continue;
        a->n_remedies[i] = fw_scale_remedies (a->mech->design, t, a->remedies[i], FW_SCALE_REMEDIES, fw_job_must_stop, run);
        break;
      }
}

static gboolean
work_out (const FwDocument *small, const FwScaleWish *wish, FwScaleAnswer *a, void *run)
{
  a->trouble = (FwTroubleList) { .items = a->room, .capacity = FW_TROUBLE_ROOM };
  if (!fw_sizing_of (fw_document_design (small), &a->before) || !fw_sizing_of (fw_document_design (a->big), &a->after)
      || !fw_motion_and_force_trouble (fw_document_design (a->big), &a->trouble)
      || fw_mechanism_build (fw_document_design (a->big), &a->mech, NULL) != FW_OK)
    return FALSE;
  a->n_limits = fw_scale_limits (small, wish, a->limits, FW_SCALE_MOST, fw_job_must_stop, run);
  if (a->n_limits < 0)
    return FALSE;
  find_remedies (a, run);
  return TRUE;
}

static FwScaleStock
stock_of (const FwScaleQuestion *q, int i)
{
  return (FwScaleStock) { q->material[i], q->size_mm[i], q->wall_mm[i] };
}

static void
question_work (gpointer data, void *run)
{
  Question *question = data;
  g_autoptr (GError) error = NULL;
  const FwScaleQuestion *q = &question->asked;
  const FwScaleWish wish = { .factor = q->factor, .sheet = stock_of (q, 0), .rods = stock_of (q, 1),
                             .crank = stock_of (q, 2), .post = stock_of (q, 3), .keep_speed = q->keep_speed };
  FwScaleAnswer *a = question->answer = g_new0 (FwScaleAnswer, 1);
  FwDocument *small = fw_document_new_from_text (question->text, -1, _ ("The design"), &error);

  a->factor = q->factor;
  a->big = small != NULL ? fw_scale (small, &wish, &error) : NULL;
  if (a->big == NULL)
    a->error = g_strdup (error->message);
  else if (!work_out (small, &wish, a, run))
    a->error = g_strdup (_ ("There is not enough memory to work it out."));
  if (small != NULL)
    fw_document_free (small);
}

/* ---- The job ---- */

static void
question_arrived (gpointer owner, gpointer data)
{
  FwScaleJob *self = owner;
  Question *question = data;
  FwScaleAnswer *before = self->known;

  self->known = g_steal_pointer (&question->answer);
  question_free (question);
  self->arrived (self->data);
  answer_free (before); /* what showed it has let go of it */
}

static const FwJobKind kind
    = { .name = "scale", .work = question_work, .free_question = question_free, .arrived = question_arrived };

FwScaleJob *
fw_scale_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwScaleJob *self = g_new0 (FwScaleJob, 1);
  *self = (FwScaleJob) { .arrived = arrived, .data = data, .job = fw_job_new (&kind, self) };
  return self;
}

void
fw_scale_job_free (FwScaleJob *self)
{
  fw_job_free (self->job);
  answer_free (self->known);
  g_free (self);
}

void
fw_scale_job_ask (FwScaleJob *self, const FwDocument *doc, const FwScaleQuestion *question)
{
  Question *q = g_new0 (Question, 1);

  *q = (Question) { .text = fw_document_to_text (doc), .asked = *question };
  for (int i = 0; i < 4; i++)
    q->asked.material[i] = g_strdup (question->material[i]);
  fw_job_ask (self->job, q);
}

FwScaleAnswer *
fw_scale_job_answer (FwScaleJob *self)
{
  return self->known;
}
