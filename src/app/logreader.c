#include "app/logreader.h"

#include "app/look.h"
#include "draw/motionstrip.h"
#include "shop/logbook.h"
#include "shop/logpicture.h"

#define STRIP_FRAMES 5
#define MOST_STRIPS 32 /* kept at once: those seen last */

struct FwLogReader
{
  FwSession *session; /* borrowed */
  GListModel *items;  /* borrowed */
  GCancellable *cancel;
  gboolean busy;
  guint idle;
  guint round; /* what was asked for before units or colours changed is out of date */
  int scale;

  FwLogState *kept; /* solved last; the next entry down asks for it */
  gconstpointer kept_key;
};

typedef struct
{
  FwLogReader *reader; /* valid unless the task was cancelled */
  FwLogItem *item;     /* a reference; used on the main thread only */
  guint round;

  FwDesign *design, *before; /* before NULL: the first, or it is not asked for */
  FwLogState *state;         /* of `design`; given, or found */
  FwLogState *state_before;
  char *title, *folder;
  FwLengths lengths;
  FwTheme theme;
  gboolean want_lines, want_strip, want_photos;
  int scale;
  GPtrArray *changes, *effects, *troubles;
  cairo_surface_t *strip;
  GArray *photos; /* FwLogPhoto; texture NULL */
} Job;

/* ---- In the thread ---- */

static GdkTexture *
texture_of (cairo_surface_t *surface)
{
  cairo_surface_flush (surface);
  int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  guint8 *data = cairo_image_surface_get_data (surface);
  if (data == NULL || width < 1 || height < 1)
    return NULL;
  /* RGB24 leaves a byte unused, which must say opaque. */
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      ((guint32 *) (void *) (data + (gsize) y * stride))[x] |= 0xff000000u;
  g_autoptr (GBytes) bytes = g_bytes_new_with_free_func (data, (gsize) height * stride,
                                                         (GDestroyNotify) cairo_surface_destroy,
                                                         cairo_surface_reference (surface));
  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, stride);
}

/* The plate without its margin: the row has one. */
static void
draw_strip (Job *job)
{
  FwScene scene = fw_log_state_scene (job->state);
  FwMotionStrip strip = fw_motion_strip_default ();
  int width, height, margin;
  strip.frames = strip.columns = STRIP_FRAMES;
  strip.frame_width = FW_LOG_STRIP_WIDTH * job->scale / STRIP_FRAMES;
  strip.scale_bar = strip.settings = strip.captions = FALSE;
  strip.theme = job->theme;
  strip.lengths = job->lengths;
  fw_motion_strip_size (&scene, &strip, &width, &height);
  margin = MAX (0, (width - STRIP_FRAMES * strip.frame_width) / 2 - 1);
  /* Drawn at the size it is shown in, so that lines stay sharp. */
  double fit = (double) FW_LOG_STRIP_HEIGHT * job->scale / (height - 2 * margin);
  if (fit < 1)
    {
      strip.frame_width = (int) (strip.frame_width * fit);
      fw_motion_strip_size (&scene, &strip, &width, &height);
      margin = MAX (0, (width - STRIP_FRAMES * strip.frame_width) / 2 - 1);
    }
  job->strip = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width - 2 * margin, height - 2 * margin);
  cairo_t *cr = cairo_create (job->strip);
  cairo_translate (cr, -margin, -margin);
  fw_draw_motion_strip (cr, &scene, &strip, "");
  cairo_destroy (cr);
}

static void
read_photos (Job *job)
{
  for (guint i = 0; i < job->photos->len; i++)
    {
      FwLogPhoto *photo = &g_array_index (job->photos, FwLogPhoto, i);
      cairo_surface_t *surface
          = fw_log_picture_load (job->folder, photo->file, FW_LOG_PHOTO * job->scale, &photo->why);
      if (surface == NULL)
        continue;
      photo->texture = texture_of (surface);
      cairo_surface_destroy (surface);
    }
}

static void
find_lines (Job *job)
{
  if (job->state_before == NULL && job->before != NULL)
    job->state_before = fw_log_state_new (job->before);
  job->effects = job->state_before != NULL ? fw_log_effects (job->state_before, job->state, job->lengths)
                                           : fw_log_lines_new ();
  job->troubles = fw_log_troubles (job->state, job->lengths);
}

static void
job_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  Job *job = data;
  if (job->state == NULL && job->design != NULL)
    job->state = fw_log_state_new (job->design);
  if (job->state != NULL && job->want_lines)
    find_lines (job);
  if (job->state != NULL && job->want_strip && !g_cancellable_is_cancelled (cancel))
    draw_strip (job);
  if (job->want_photos && !g_cancellable_is_cancelled (cancel))
    read_photos (job);
  g_task_return_boolean (task, job->state != NULL);
}

/* ---- Jobs ---- */

static void
photo_clear (gpointer data)
{
  FwLogPhoto *photo = data;
  g_free (photo->file);
  g_free (photo->why);
  g_clear_object (&photo->texture);
}

static void
job_free (gpointer data)
{
  Job *job = data;
  g_object_unref (job->item);
  fw_design_free (job->design);
  fw_design_free (job->before);
  fw_log_state_free (job->state);
  fw_log_state_free (job->state_before);
  g_free (job->title);
  g_free (job->folder);
  g_clear_pointer (&job->changes, g_ptr_array_unref);
  g_clear_pointer (&job->effects, g_ptr_array_unref);
  g_clear_pointer (&job->troubles, g_ptr_array_unref);
  g_clear_pointer (&job->strip, cairo_surface_destroy);
  g_clear_pointer (&job->photos, g_array_unref);
  g_free (job);
}

static gboolean
wants_lines (const FwLogItem *item)
{
  return item->troubles == NULL && !item->failed;
}

static gboolean
wants_picture (const FwLogItem *item)
{
  return item->in_sight && ((item->strip == NULL && !item->failed) || !item->photos_read);
}

/* What is next; the caller lets go. NULL: nothing is wanted. */
static FwLogItem *
next_item (const FwLogReader *self)
{
  FwLogItem *rest = NULL, *picture = NULL;
  for (guint i = 0; i < g_list_model_get_n_items (self->items); i++)
    {
      g_autoptr (FwLogItem) item = g_list_model_get_item (self->items, i);
      if (wants_lines (item) && item->in_sight)
        {
          g_clear_object (&rest);
          g_clear_object (&picture);
          return g_steal_pointer (&item);
        }
      if (picture == NULL && wants_picture (item))
        picture = g_object_ref (item);
      if (rest == NULL && wants_lines (item))
        rest = g_object_ref (item);
    }
  if (picture == NULL)
    return rest;
  g_clear_object (&rest);
  return picture;
}

static void
job_copy_photos (Job *job)
{
  job->photos = g_array_new (FALSE, TRUE, sizeof (FwLogPhoto));
  g_array_set_clear_func (job->photos, photo_clear);
  for (guint i = 0; i < job->item->photos->len && job->want_photos; i++)
    {
      FwLogPhoto photo = { .file = g_strdup (g_array_index (job->item->photos, FwLogPhoto, i).file) };
      g_array_append_val (job->photos, photo);
    }
}

/* Takes the item over. */
static Job *
job_new (FwLogReader *self, FwLogItem *item)
{
  const FwDocument *doc = fw_session_document (self->session);
  const char *path = fw_session_path (self->session);
  Job *job = g_new0 (Job, 1);
  *job = (Job) { .reader = self, .item = item, .round = self->round, .scale = self->scale,
                 .lengths = fw_session_lengths (self->session), .theme = fw_session_theme (self->session),
                 .want_lines = wants_lines (item), .want_strip = item->in_sight && item->strip == NULL,
                 .want_photos = item->in_sight && !item->photos_read, .title = g_strdup (item->title),
                 .folder = path != NULL ? g_path_get_dirname (path) : g_strdup (".") };
  if (self->kept != NULL && item->key != NULL && self->kept_key == item->key)
    job->state = g_steal_pointer (&self->kept);
  else if (job->want_lines || job->want_strip)
    job->design = fw_log_design (doc, item->index);
  if (job->want_lines)
    {
      job->changes = fw_log_changes (doc, item->index, job->lengths);
      job->before = fw_log_design (doc, item->index - 1);
    }
  job_copy_photos (job);
  return job;
}

/* ---- Answers ---- */

static void
set_lines (GPtrArray **to, GPtrArray **from)
{
  g_clear_pointer (to, g_ptr_array_unref);
  *to = g_steal_pointer (from);
}

static void
job_deliver (Job *job, gboolean solved)
{
  FwLogItem *item = job->item;
  item->failed = !solved && (job->want_lines || job->want_strip);
  if (job->want_lines && solved)
    {
      set_lines (&item->changes, &job->changes);
      set_lines (&item->effects, &job->effects);
      set_lines (&item->troubles, &job->troubles);
    }
  if (job->strip != NULL)
    {
      g_clear_object (&item->strip);
      item->strip = texture_of (job->strip);
    }
  for (guint i = 0; i < job->photos->len && job->want_photos; i++)
    {
      FwLogPhoto *from = &g_array_index (job->photos, FwLogPhoto, i), *to = &g_array_index (item->photos, FwLogPhoto, i);
      g_set_object (&to->texture, from->texture);
      g_free (to->why);
      to->why = g_steal_pointer (&from->why);
    }
  item->photos_read = item->photos_read || job->want_photos;
  fw_log_item_changed (item);
}

/* Lets strips go that have long been out of sight. */
static void
reader_trim (FwLogReader *self)
{
  FwLogItem *oldest = NULL;
  int strips = 0;
  for (guint i = 0; i < g_list_model_get_n_items (self->items); i++)
    {
      g_autoptr (FwLogItem) item = g_list_model_get_item (self->items, i);
      strips += item->strip != NULL;
      if (item->strip != NULL && !item->in_sight && (oldest == NULL || item->seen < oldest->seen))
        oldest = item; /* the list holds it */
    }
  if (strips <= MOST_STRIPS || oldest == NULL)
    return;
  fw_log_item_forget (oldest, FALSE, TRUE);
  fw_log_item_changed (oldest);
}

static void
on_job_done (GObject *source, GAsyncResult *result, gpointer unused)
{
  g_autoptr (GError) error = NULL;
  Job *job = g_task_get_task_data (G_TASK (result));
  gboolean solved = g_task_propagate_boolean (G_TASK (result), &error);
  if (error != NULL) /* cancelled: the reader is gone */
    return;
  FwLogReader *self = job->reader;
  self->busy = FALSE;
  if (job->round == self->round)
    job_deliver (job, solved);
  /* The entry before this one is the next that is asked for. */
  if (job->state_before != NULL)
    {
      fw_log_state_free (self->kept);
      self->kept = g_steal_pointer (&job->state_before);
      self->kept_key = job->item->before;
    }
  reader_trim (self);
  fw_log_reader_wake (self);
}

static gboolean
on_idle (gpointer data)
{
  FwLogReader *self = data;
  self->idle = 0;
  FwLogItem *item = self->busy || fw_session_document (self->session) == NULL ? NULL : next_item (self);
  if (item == NULL)
    return G_SOURCE_REMOVE;
  g_autoptr (GTask) task = g_task_new (NULL, self->cancel, on_job_done, NULL);
  g_task_set_task_data (task, job_new (self, item), job_free);
  self->busy = TRUE;
  g_task_run_in_thread (task, job_run);
  return G_SOURCE_REMOVE;
}

void
fw_log_reader_wake (FwLogReader *self)
{
  if (!self->busy && self->idle == 0)
    self->idle = g_idle_add (on_idle, self);
}

void
fw_log_reader_forget (FwLogReader *self, gboolean lines, gboolean strips)
{
  self->round++;
  g_clear_pointer (&self->kept, fw_log_state_free);
  for (guint i = 0; i < g_list_model_get_n_items (self->items); i++)
    {
      g_autoptr (FwLogItem) item = g_list_model_get_item (self->items, i);
      fw_log_item_forget (item, lines, strips);
    }
  fw_log_reader_wake (self);
}

void
fw_log_reader_set_scale (FwLogReader *self, int scale)
{
  if (self->scale == scale)
    return;
  self->scale = scale;
  fw_log_reader_forget (self, FALSE, TRUE);
}

FwLogReader *
fw_log_reader_new (FwSession *session, GListModel *items)
{
  FwLogReader *self = g_new0 (FwLogReader, 1);
  *self = (FwLogReader) { .session = session, .items = items, .cancel = g_cancellable_new (), .scale = 1 };
  return self;
}

void
fw_log_reader_free (FwLogReader *self)
{
  g_cancellable_cancel (self->cancel);
  g_object_unref (self->cancel);
  g_clear_handle_id (&self->idle, g_source_remove);
  fw_log_state_free (self->kept);
  g_free (self);
}
