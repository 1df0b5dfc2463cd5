#include "app/aimjob.h"

struct FwAimJob
{
  FwAimCalls calls;
  gpointer data;
  gint left; /* atomic: nobody waits */
  gint stop; /* atomic */
  FwDesign *design;
  FwWishes *wishes;
  FwAimed *aimed;
  GError *error;

  GMutex lock; /* of what follows */
  FwDesign *best;
  double fraction, cost;
  gboolean told; /* a report is on its way */
};

static void
job_free (FwAimJob *job)
{
  fw_design_free (job->design);
  fw_design_free (job->best);
  fw_wishes_free (job->wishes);
  g_clear_error (&job->error);
  g_mutex_clear (&job->lock);
  g_free (job);
}

/* ---- On the main thread ---- */

static gboolean
job_report (gpointer data)
{
  FwAimJob *job = data;
  g_mutex_lock (&job->lock);
  FwDesign *best = g_steal_pointer (&job->best);
  double fraction = job->fraction, cost = job->cost;
  job->told = FALSE;
  g_mutex_unlock (&job->lock);
  if (!g_atomic_int_get (&job->left))
    job->calls.progress (job->data, fraction, cost, best);
  fw_design_free (best);
  return G_SOURCE_REMOVE;
}

/* Comes after every report: sources of one priority go in order. */
static gboolean
job_deliver (gpointer data)
{
  FwAimJob *job = data;
  if (g_atomic_int_get (&job->left))
    fw_aimed_free (job->aimed);
  else
    job->calls.done (job->data, job->aimed, job->error != NULL ? job->error->message : NULL);
  job_free (job);
  return G_SOURCE_REMOVE;
}

/* ---- On the thread of the search ---- */

static gboolean
on_watch (double fraction, double cost, const FwDesign *best, gpointer data)
{
  FwAimJob *job = data;
  g_mutex_lock (&job->lock);
  fw_design_free (job->best);
  job->best = best != NULL ? fw_design_copy (best) : NULL;
  job->fraction = fraction;
  job->cost = cost;
  gboolean tell = !job->told;
  job->told = TRUE;
  g_mutex_unlock (&job->lock);
  if (tell)
    g_idle_add (job_report, job);
  return !g_atomic_int_get (&job->stop);
}

static gpointer
job_thread (gpointer data)
{
  FwAimJob *job = data;
  const FwAimOptions options = { .seed = 1 };
  job->aimed = fw_aim (job->design, job->wishes, &options, on_watch, job, &job->error);
  g_idle_add (job_deliver, job);
  return NULL;
}

FwAimJob *
fw_aim_job_new (const FwDesign *design, const FwWishes *wishes, const FwAimCalls *calls, gpointer data)
{
  FwAimJob *job = g_new0 (FwAimJob, 1);
  job->calls = *calls;
  job->data = data;
  job->design = fw_design_copy (design);
  job->wishes = fw_wishes_copy (wishes);
  g_mutex_init (&job->lock);
  g_thread_unref (g_thread_new ("aim", job_thread, job));
  return job;
}

void
fw_aim_job_stop (FwAimJob *job)
{
  g_atomic_int_set (&job->stop, 1);
}

void
fw_aim_job_leave (FwAimJob *job)
{
  g_atomic_int_set (&job->left, 1);
  fw_aim_job_stop (job);
}
