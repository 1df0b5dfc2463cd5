#include "app/exportjob.h"

#include <glib/gi18n.h>

#include "app/sessionsolve.h"

typedef struct
{
  FwDesign *design;
  char *title;
  FwMotionStrip strip;
  char *path;        /* NULL: a preview */
  int width, height; /* of the preview's box */

  int plate_width, plate_height; /* found */
} Job;

/* All solved anew: the window goes on with its own. */
static FwSolved *
stage_new (const FwDesign *design, gboolean bearings)
{
  FwMechanism *mech = NULL;
  if (design == NULL || fw_mechanism_build (design, &mech, NULL) != FW_OK)
    return NULL;
  FwSolved *stage = g_new0 (FwSolved, 1);
  stage->bearings = bearings;
  fw_solved_take (stage, mech, 0);
  return stage;
}

static void
stage_free (FwSolved *stage)
{
  if (stage != NULL)
    fw_solved_clear (stage);
  g_free (stage);
}

static void
job_free (gpointer data)
{
  Job *job = data;
  fw_design_free (job->design);
  g_free (job->title);
  g_free (job->path);
  g_free (job);
}

static Job *
job_new (const FwDocument *doc, const FwMotionStrip *strip)
{
  Job *job = g_new0 (Job, 1);
  job->design = fw_design_copy (fw_document_design (doc));
  job->title = g_strdup (fw_document_title (doc));
  job->strip = *strip;
  return job;
}

static cairo_surface_t *
job_preview (Job *job, const FwSolved *stage)
{
  fw_motion_strip_size (&stage->scene, &job->strip, &job->plate_width, &job->plate_height);
  double scale = MIN (1, MIN ((double) job->width / job->plate_width, (double) job->height / job->plate_height));
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, MAX (1, (int) (job->plate_width * scale)),
                                    MAX (1, (int) (job->plate_height * scale)));
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, scale, scale);
  fw_draw_motion_strip (cr, &stage->scene, &job->strip, job->title);
  cairo_destroy (cr);
  return surface;
}

static void
job_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  Job *job = data;
  FwSolved *stage = stage_new (job->design, (job->strip.show & FW_SHOW_FORCES) != 0);
  g_autoptr (GError) error = NULL;

  if (stage == NULL)
    g_task_return_new_error (task, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("The strip cannot be drawn: out of memory"));
  else if (job->path == NULL)
    g_task_return_pointer (task, job_preview (job, stage), (GDestroyNotify) cairo_surface_destroy);
  else if (fw_motion_strip_write_png (&stage->scene, &job->strip, job->title, job->path, &error))
    g_task_return_pointer (task, g_strdup (job->path), g_free);
  else
    g_task_return_error (task, g_steal_pointer (&error));
  stage_free (stage);
}

static void
job_start (Job *job, GCancellable *cancel, GAsyncReadyCallback done, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancel, done, data);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, job_run);
}

void
fw_export_preview_async (const FwDocument *doc, const FwMotionStrip *strip, int width, int height,
                         GCancellable *cancel, GAsyncReadyCallback done, gpointer data)
{
  Job *job = job_new (doc, strip);
  job->width = width;
  job->height = height;
  job_start (job, cancel, done, data);
}

cairo_surface_t *
fw_export_preview_finish (GAsyncResult *result, int *plate_width, int *plate_height, GError **error)
{
  const Job *job = g_task_get_task_data (G_TASK (result));
  *plate_width = job->plate_width;
  *plate_height = job->plate_height;
  return g_task_propagate_pointer (G_TASK (result), error);
}

void
fw_export_write_async (const FwDocument *doc, const FwMotionStrip *strip, const char *path, GAsyncReadyCallback done,
                       gpointer data)
{
  Job *job = job_new (doc, strip);
  job->path = g_strdup (path);
  job_start (job, NULL, done, data);
}

char *
fw_export_write_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
