#include "app/scalejob.h"

#include <glib/gi18n.h>

typedef struct
{
  FwScaleJob *owner; /* NULL: nobody waits any more; main thread only */
  gint stale;        /* atomic */
  char *text;        /* of the small one */
  FwScaleQuestion question;
  FwScaleAnswer *answer;
} Run;

struct FwScaleJob
{
  void (*arrived) (gpointer data);
  gpointer data;
  Run *running; /* owned by its thread */
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
run_free (Run *run)
{
  answer_free (run->answer);
  for (int i = 0; i < 4; i++)
    g_free (run->question.material[i]);
  g_free (run->text);
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
  FwScaleJob *self = run->owner;

  if (self != NULL)
    {
      FwScaleAnswer *before = self->known;
      self->running = NULL;
      self->known = g_steal_pointer (&run->answer);
      self->arrived (self->data);
      answer_free (before);
    }
  run_free (run);
  return G_SOURCE_REMOVE;
}

/* ---- In the thread ---- */

static void
find_remedies (Run *run, FwScaleAnswer *a)
{
  for (int i = 0; i < a->n_limits; i++)
    for (int k = 0; k < a->trouble.n; k++)
      {
        const FwTrouble *t = &a->trouble.items[k];
        if (t->kind != a->limits[i].kind || !fw_part_equal (t->part, a->limits[i].part))
          continue;
        a->n_remedies[i] = fw_scale_remedies (a->mech->design, t, a->remedies[i], FW_SCALE_REMEDIES, run_is_stale, run);
        break;
      }
}

static gboolean
work_out (Run *run, const FwDocument *small, const FwScaleWish *wish, FwScaleAnswer *a)
{
  a->trouble = (FwTroubleList) { .items = a->room, .capacity = FW_TROUBLE_ROOM };
  if (!fw_sizing_of (fw_document_design (small), &a->before) || !fw_sizing_of (fw_document_design (a->big), &a->after)
      || !fw_all_trouble (fw_document_design (a->big), &a->trouble)
      || fw_mechanism_build (fw_document_design (a->big), &a->mech, NULL) != FW_OK)
    return FALSE;
  a->n_limits = fw_scale_limits (small, wish, a->limits, FW_SCALE_MOST, run_is_stale, run);
  if (a->n_limits < 0)
    return FALSE;
  find_remedies (run, a);
  return TRUE;
}

static FwScaleStock
stock_of (const FwScaleQuestion *q, int i)
{
  return (FwScaleStock) { q->material[i], q->size_mm[i], q->wall_mm[i] };
}

static gpointer
run_thread (gpointer data)
{
  Run *run = data;
  g_autoptr (GError) error = NULL;
  const FwScaleQuestion *q = &run->question;
  const FwScaleWish wish = { .factor = q->factor, .sheet = stock_of (q, 0), .rods = stock_of (q, 1),
                             .crank = stock_of (q, 2), .post = stock_of (q, 3), .keep_speed = q->keep_speed };
  FwScaleAnswer *a = run->answer = g_new0 (FwScaleAnswer, 1);
  FwDocument *small = fw_document_new_from_text (run->text, -1, _ ("The design"), &error);

  a->factor = q->factor;
  a->big = small != NULL ? fw_scale (small, &wish, &error) : NULL;
  if (a->big == NULL)
    a->error = g_strdup (error->message);
  else if (!work_out (run, small, &wish, a))
    a->error = g_strdup (_ ("There is not enough memory to work it out."));
  if (small != NULL)
    fw_document_free (small);
  g_idle_add (run_deliver, run);
  return NULL;
}

/* ---- The job ---- */

FwScaleJob *
fw_scale_job_new (void (*arrived) (gpointer data), gpointer data)
{
  FwScaleJob *self = g_new0 (FwScaleJob, 1);
  self->arrived = arrived;
  self->data = data;
  return self;
}

static void
leave (FwScaleJob *self)
{
  if (self->running == NULL)
    return;
  g_atomic_int_set (&self->running->stale, 1);
  self->running->owner = NULL;
  self->running = NULL;
}

void
fw_scale_job_free (FwScaleJob *self)
{
  leave (self);
  answer_free (self->known);
  g_free (self);
}

void
fw_scale_job_ask (FwScaleJob *self, const FwDocument *doc, const FwScaleQuestion *question)
{
  leave (self);
  Run *run = g_new0 (Run, 1);
  *run = (Run) { .owner = self, .text = fw_document_to_text (doc), .question = *question };
  for (int i = 0; i < 4; i++)
    run->question.material[i] = g_strdup (question->material[i]);
  self->running = run;
  g_thread_unref (g_thread_new ("scale", run_thread, run));
}

gboolean
fw_scale_job_running (FwScaleJob *self)
{
  return self->running != NULL;
}

FwScaleAnswer *
fw_scale_job_answer (FwScaleJob *self)
{
  return self->known;
}
