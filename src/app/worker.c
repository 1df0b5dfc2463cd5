#include "app/worker.h"

#include <stdlib.h>
#include <string.h>

#include "app/whole.h"
#include "shop/build.h"
#include "strength/stiffer.h"
#include "swing/swingremedy.h"

#define MOST_THREADS 2

/* How much may be tried for one trouble: poses, each counted as many times as it has parts. More than any sane design
 * takes, and some seconds; counted and not timed, so that the same is found again. */
#define MOST_WORK 5e6
#define TRIAL_POSES 72.0

/* A design that several jobs read; the last one frees it. */
typedef struct
{
  FwDesign *design;
} Shared;

typedef enum { JOB_BANDS, JOB_REMEDIES } JobKind; /* bands first: they are looked at while a hand drags */

typedef struct
{
  JobKind kind;
  guint order;     /* of asking */
  int index;       /* in its table */
  FwWorker *worker; /* a reference */
  Shared *shared;  /* a reference */
  gint stale;      /* atomic: set on the main thread, read by the job */

  FwParam param; /* the question */
  double lower, upper;
  FwTrouble trouble;

  double work, trial; /* left, and what one trial takes of it */

  int n; /* the answer */
  gboolean cut_short; /* not everything was tried */
  FwBand bands[FW_WORKER_BANDS];
  FwRemedy remedies[FW_WORKER_REMEDIES];
  gboolean has_weight;
  FwCounterweight weight;
  gboolean has_spring;
  FwSpringFit spring;
} Job;

/* A question and what is known of it. `job` runs or waits; `answer` has been delivered. */
typedef struct
{
  Job *job, *answer;
} Slot;

struct FwWorker
{
  int refs; /* the owner's, and one a job; only the main thread counts */
  GThreadPool *pool; /* NULL once freed */
  FwWorkerArrived arrived[2];
  gpointer data;

  const FwDesign *design; /* borrowed */
  Shared *shared;         /* its copy, made when first needed */
  GArray *slots[2];       /* Slot, by JobKind */
  guint order;
};

/* ---- Jobs ---- */

static void
shared_clear (gpointer data)
{
  fw_design_free (((Shared *) data)->design);
}

static void
shared_release (Shared *shared)
{
  if (shared != NULL)
    g_atomic_rc_box_release_full (shared, shared_clear);
}

static void
worker_unref (FwWorker *self)
{
  if (--self->refs == 0)
    g_free (self);
}

static void
job_free (Job *job)
{
  if (job == NULL)
    return;
  shared_release (job->shared);
  worker_unref (job->worker);
  g_free (job);
}

static bool
job_is_stale (void *data)
{
  return g_atomic_int_get (&((Job *) data)->stale) != 0;
}

/* Also where enough was tried; asked before each trial. */
static bool
job_must_stop (void *data)
{
  Job *job = data;
  job->work -= job->trial;
  job->cut_short = job->cut_short || job->work < 0;
  return job->cut_short || job_is_stale (job);
}

static double
work_of_trial (const FwDesign *design)
{
  FwMechanism *mech = NULL;
  if (fw_mechanism_build (design, &mech, NULL) != FW_OK)
    return 0;
  double parts = 1 + fw_whole_parts (mech);
  fw_mechanism_free (mech);
  return TRIAL_POSES * parts;
}

static void
job_find_remedies (Job *job, const FwDesign *design)
{
  job->work = MOST_WORK;
  job->trial = work_of_trial (design);
  job->n = fw_remedies (design, &job->trouble, job->remedies, FW_WORKER_REMEDIES, job_must_stop, job);
  if (job->n == 0) /* each knows its own kinds of trouble */
    job->n = fw_strength_remedies (design, &job->trouble, job->remedies, FW_WORKER_REMEDIES, job_must_stop, job);
  if (job->n == 0)
    job->n = fw_swing_remedies (design, &job->trouble, job->remedies, FW_WORKER_REMEDIES, job_must_stop, job);
  if (job->n == 0)
    job->n = fw_shop_remedies (design, &job->trouble, job->remedies, FW_WORKER_REMEDIES, job_must_stop, job);
  job->has_weight = fw_counterweight_for (design, &job->trouble, &job->weight, job_must_stop, job);
  job->has_spring = fw_spring_fit_for (design, &job->trouble, &job->spring, job_must_stop, job);
}

static gboolean
job_deliver (gpointer data)
{
  Job *job = data;
  FwWorker *self = job->worker;

  if (job_is_stale (job))
    {
      job_free (job);
      return G_SOURCE_REMOVE;
    }
  Slot *slot = &g_array_index (self->slots[job->kind], Slot, job->index);
  job_free (slot->answer);
  slot->answer = job;
  slot->job = NULL;
  self->arrived[job->kind] (self->data, job->index);
  return G_SOURCE_REMOVE;
}

static void
job_run (gpointer data, gpointer unused)
{
  Job *job = data;
  const FwDesign *design = job->shared->design;

  if (job_is_stale (job) || design == NULL)
    job->n = 0;
  else if (job->kind == JOB_BANDS)
    job->n = fw_bands (design, job->param, job->lower, job->upper, job->bands, FW_WORKER_BANDS, job_is_stale, job);
  else
    job_find_remedies (job, design);
  g_idle_add (job_deliver, job);
}

static int
job_compare (gconstpointer a, gconstpointer b, gpointer unused)
{
  const Job *x = a, *y = b;

  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  return x->order < y->order ? -1 : 1;
}

static Job *
worker_push (FwWorker *self, const Job *question)
{
  Job *job = g_memdup2 (question, sizeof *question);

  if (self->shared == NULL)
    {
      self->shared = g_atomic_rc_box_new0 (Shared);
      self->shared->design = fw_design_copy (self->design);
    }
  self->refs++;
  job->worker = self;
  job->shared = g_atomic_rc_box_acquire (self->shared);
  job->order = self->order++;
  g_thread_pool_push (self->pool, job, NULL);
  return job;
}

/* ---- Slots ---- */

static void
slot_forget (Slot *slot)
{
  if (slot->job != NULL)
    g_atomic_int_set (&slot->job->stale, 1);
  slot->job = NULL;
  job_free (slot->answer);
  slot->answer = NULL;
}

static void
slots_reset (GArray *slots, int n, int kept)
{
  for (int i = 0; i < (int) slots->len; i++)
    if (i != kept)
      slot_forget (&g_array_index (slots, Slot, i));
  g_array_set_size (slots, (guint) n);
}

/* ---- Worker ---- */

FwWorker *
fw_worker_new (FwWorkerArrived bands, FwWorkerArrived remedies, gpointer data)
{
  FwWorker *self = g_new0 (FwWorker, 1);
  int threads = (int) g_get_num_processors () - 1; /* one is the window's */

  self->refs = 1;
  self->pool = g_thread_pool_new (job_run, NULL, CLAMP (threads, 1, MOST_THREADS), FALSE, NULL);
  g_thread_pool_set_sort_function (self->pool, job_compare, NULL);
  self->arrived[JOB_BANDS] = bands;
  self->arrived[JOB_REMEDIES] = remedies;
  self->data = data;
  for (int kind = 0; kind < 2; kind++)
    self->slots[kind] = g_array_new (FALSE, TRUE, sizeof (Slot));
  return self;
}

void
fw_worker_free (FwWorker *self)
{
  if (self == NULL)
    return;
  for (int kind = 0; kind < 2; kind++)
    {
      slots_reset (self->slots[kind], 0, -1);
      g_clear_pointer (&self->slots[kind], g_array_unref);
    }
  /* Not waited for: what runs stops at its next trial, and frees itself when delivered as stale. */
  g_thread_pool_free (self->pool, FALSE, FALSE);
  self->pool = NULL;
  g_clear_pointer (&self->shared, shared_release);
  worker_unref (self);
}

void
fw_worker_set_design (FwWorker *self, const FwDesign *design, int n_params, int n_troubles, int kept)
{
  self->design = design;
  g_clear_pointer (&self->shared, shared_release);
  slots_reset (self->slots[JOB_BANDS], n_params, kept < n_params ? kept : -1);
  slots_reset (self->slots[JOB_REMEDIES], n_troubles, -1);
}

void
fw_worker_set_troubles (FwWorker *self, int n_troubles)
{
  slots_reset (self->slots[JOB_REMEDIES], n_troubles, -1);
}

const FwBand *
fw_worker_bands (FwWorker *self, int index, FwParam param, double lower, double upper, int *n)
{
  Slot *slot = &g_array_index (self->slots[JOB_BANDS], Slot, index);
  Job *known = slot->job != NULL ? slot->job : slot->answer;

  if (known == NULL || known->lower != lower || known->upper != upper)
    {
      slot_forget (slot);
      slot->job = worker_push (self, &(Job) { .kind = JOB_BANDS, .index = index, .param = param,
                                              .lower = lower, .upper = upper });
    }
  *n = slot->answer != NULL ? slot->answer->n : 0;
  return slot->answer != NULL ? slot->answer->bands : NULL;
}

const FwRemedy *
fw_worker_remedies (FwWorker *self, int index, const FwTrouble *trouble, int *n, gboolean *done)
{
  Slot *slot = &g_array_index (self->slots[JOB_REMEDIES], Slot, index);

  if (slot->job == NULL && slot->answer == NULL)
    slot->job = worker_push (self, &(Job) { .kind = JOB_REMEDIES, .index = index, .trouble = *trouble });
  *done = slot->answer != NULL;
  *n = *done ? slot->answer->n : 0;
  return *done ? slot->answer->remedies : NULL;
}

gboolean
fw_worker_remedies_cut_short (FwWorker *self, int index)
{
  const Job *answer = g_array_index (self->slots[JOB_REMEDIES], Slot, index).answer;

  return answer != NULL && answer->cut_short;
}

const FwCounterweight *
fw_worker_weight (FwWorker *self, int index)
{
  const Job *answer = g_array_index (self->slots[JOB_REMEDIES], Slot, index).answer;

  return answer != NULL && answer->has_weight ? &answer->weight : NULL;
}

const FwSpringFit *
fw_worker_spring (FwWorker *self, int index)
{
  const Job *answer = g_array_index (self->slots[JOB_REMEDIES], Slot, index).answer;

  return answer != NULL && answer->has_spring ? &answer->spring : NULL;
}
