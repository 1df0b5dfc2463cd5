/* The animation: width, frames, speed, views, colours; it turns in the preview as it will in the file. */
#include <glib/gstdio.h>
#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <unistd.h>

#include "app/controls.h"
#include "app/flipdialog.h"
#include "app/flipdialogframe.h"
#include "app/widgetstyle.h"
#include "shop/animate.h"
#include "shop/logbook.h"

#define LEAST_WIDTH 80
#define MOST_WIDTH 2000
#define SAMPLE_FRAMES 12
#define SAMPLE_AFTER_MS 300

typedef struct
{
  FwFlipFrame *frame;
  FwAnimation animation;
  FwDesign *design;
  FwLogState *state; /* for the preview; NULL: no memory */
  FwPose *pose;
  GtkWidget *preview, *width, *as_smooth, *frames, *speed, *views, *paper, *turning;
  gint64 begin; /* frame time of the preview's frame 0 */
  int shown;    /* frame in sight */
  GCancellable *cancel; /* of the sample */
  guint soon;
  gint64 bytes; /* found from the sample; 0: not known */
} Dialog;

/* What a thread works on. */
typedef struct
{
  FwDesign *design;
  FwAnimation animation;
  int frames; /* of a sample: those of the whole */
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;
  fw_design_free (input->design);
  g_free (input);
}

static gpointer
gif_take (gpointer owner)
{
  Dialog *self = owner;
  Input *input = g_new0 (Input, 1);
  *input = (Input) { .design = fw_design_copy (self->design), .animation = self->animation };
  return input;
}

static gboolean
gif_write (gpointer data, const char *path, const FwProgress *progress, GError **error)
{
  const Input *input = data;
  FwLogState *state = input->design != NULL ? fw_log_state_new (input->design) : NULL;
  if (state == NULL)
    {
      g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("There is not enough memory for the animation"));
      return FALSE;
    }
  FwScene scene = fw_log_state_scene (state);
  gboolean good = fw_animation_write_gif (&scene, &input->animation, path, progress, error);
  fw_log_state_free (state);
  return good;
}

/* ---- How large the file will be: from a turn of few frames ---- */

static gboolean
go_on (double fraction, const char *what, gpointer cancel)
{
  return !g_cancellable_is_cancelled (cancel);
}

static void
sample_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  Input *input = data;
  g_autofree char *path = NULL;
  const FwProgress progress = { go_on, cancel };
  GStatBuf found = { 0 };
  int file = g_file_open_tmp ("flapwright-XXXXXX.gif", &path, NULL);
  input->animation.frames = MIN (input->frames, SAMPLE_FRAMES);
  if (file >= 0)
    {
      close (file);
      if (gif_write (input, path, &progress, NULL))
        g_stat (path, &found);
      g_unlink (path);
    }
  g_task_return_int (task, (gssize) ((double) found.st_size * input->frames / input->animation.frames));
}

static void gif_say (Dialog *self);

static void
on_sampled (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;
  gssize bytes = g_task_propagate_int (G_TASK (result), &error);
  if (error != NULL) /* cancelled: something else was chosen, or the dialog is gone */
    return;
  Dialog *self = data;
  self->bytes = bytes;
  gif_say (self);
}

static void
gif_stop_sample (Dialog *self)
{
  g_clear_handle_id (&self->soon, g_source_remove);
  if (self->cancel != NULL)
    g_cancellable_cancel (self->cancel);
  g_clear_object (&self->cancel);
}

static gboolean
on_soon (gpointer data)
{
  Dialog *self = data;
  int turn, frames, most;
  self->soon = 0;
  if (!fw_animation_timing (&self->animation, self->design, &turn, &frames, &most))
    return G_SOURCE_REMOVE;
  Input *input = gif_take (self);
  input->frames = frames;
  self->cancel = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (NULL, self->cancel, on_sampled, self);
  g_task_set_task_data (task, input, input_free);
  g_task_run_in_thread (task, sample_run);
  return G_SOURCE_REMOVE;
}

/* ---- Words ---- */

static void
gif_say (Dialog *self)
{
  int turn, frames, most, width, height;
  g_autoptr (GString) words = g_string_new (NULL);
  if (self->state == NULL)
    {
      fw_flip_frame_say (self->frame, _("There is not enough memory for the animation"), FALSE);
      return;
    }
  if (!fw_animation_timing (&self->animation, self->design, &turn, &frames, &most))
    {
      g_autofree char *why
          = most > 0 ? g_strdup_printf (_("At this speed at most %d frames can be shown in one turn."), most)
                     : g_strdup (_("A turn that takes from 0.04 seconds to 10 minutes was expected: choose another speed."));
      fw_flip_frame_say (self->frame, why, FALSE);
      return;
    }
  FwScene scene = fw_log_state_scene (self->state);
  fw_animation_size (&scene, &self->animation, &width, &height);
  g_string_append_printf (words, _("%d × %d px"), width, height);
  g_string_append_c (words, '\n');
  g_string_append_printf (words, ngettext ("%d frame, one turn in %.2f s", "%d frames, one turn in %.2f s", (gulong) frames),
                          frames, turn / 100.0);
  g_string_append_c (words, '\n');
  if (self->bytes > 0)
    {
      /* No more digits than an estimate has. */
      if (self->bytes < 950000)
        g_string_append_printf (words, _("about %.0f kB"), ceil ((double) self->bytes / 1e4) * 10);
      else
        g_string_append_printf (words, _("about %.1f MB"), (double) self->bytes / 1e6);
    }
  else
    g_string_append (words, _("finding the size of the file…"));
  fw_flip_frame_say (self->frame, words->str, TRUE);
  g_autofree char *name = g_strdup_printf (_("Preview of the animation, %d by %d pixels"), width, height);
  fw_widget_describe (self->preview, name, NULL);
}

/* ---- Preview ---- */

static void
preview_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Dialog *self = data;
  int turn, frames, most, w, h;
  if (self->state == NULL || self->pose == NULL
      || !fw_animation_timing (&self->animation, self->design, &turn, &frames, &most))
    return;
  FwScene scene = fw_log_state_scene (self->state);
  fw_animation_size (&scene, &self->animation, &w, &h);
  double scale = MIN (1, MIN ((double) width / w, (double) height / h));
  cairo_translate (cr, (width - w * scale) / 2, (height - h * scale) / 2);
  cairo_rectangle (cr, 0, 0, w * scale, h * scale);
  cairo_clip (cr);
  cairo_scale (cr, scale, scale);
  fw_animation_draw (cr, &scene, &self->animation, self->pose, 2 * G_PI * (self->shown % frames) / frames);
}

/* The frame that is due now; only another one is drawn. */
static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Dialog *self = data;
  int turn, frames, most;
  if (!gtk_check_button_get_active (GTK_CHECK_BUTTON (self->turning))
      || !fw_animation_timing (&self->animation, self->design, &turn, &frames, &most))
    return G_SOURCE_CONTINUE;
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  if (self->begin == 0)
    self->begin = now;
  int frame = (int) ((now - self->begin) / 10000 % turn * frames / turn);
  if (frame != self->shown)
    {
      self->shown = frame;
      gtk_widget_queue_draw (widget);
    }
  return G_SOURCE_CONTINUE;
}

/* ---- Choices ---- */

static void
on_choice (Dialog *self)
{
  static const FwTheme papers[] = { FW_THEME_LIGHT, FW_THEME_PRINT, FW_THEME_DARK };
  gboolean smooth = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->as_smooth));
  self->animation.width = gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->width));
  self->animation.frames = smooth ? 0 : gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->frames));
  self->animation.speed = gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->speed));
  self->animation.views = (FwStripViews) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->views));
  self->animation.theme = papers[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->paper))];
  gtk_widget_set_sensitive (self->frames, !smooth);
  self->bytes = 0;
  gif_stop_sample (self);
  self->soon = g_timeout_add (SAMPLE_AFTER_MS, on_soon, self);
  gif_say (self);
  gtk_widget_queue_draw (self->preview);
}

static GtkWidget *
gif_form (Dialog *self)
{
  GtkGrid *form = GTK_GRID (gtk_grid_new ());
  const char *views[] = { _("Front and side"), _("Front"), _("Side"), NULL };
  const char *papers[] = { _("Warm paper"), _("White"), _("Slate"), NULL };
  gtk_grid_set_row_spacing (form, 6);
  gtk_grid_set_column_spacing (form, 12);
  self->width = fw_form_add (form, 0, _("_Width, px"), fw_spin_new (LEAST_WIDTH, MOST_WIDTH, 20, self->animation.width));
  self->speed = fw_form_add (form, 1, _("Times the design's _speed"), gtk_spin_button_new_with_range (0.01, 100, 0.05));
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->speed), 1);
  self->as_smooth = fw_check_new (_("As s_mooth as suits"), TRUE);
  gtk_grid_attach (form, self->as_smooth, 0, 2, 2, 1);
  self->frames = fw_form_add (form, 3, _("_Frames"), fw_spin_new (2, FW_ANIMATE_MOST_FRAMES, 1, 48));
  self->views = fw_form_add (form, 4, _("_Views"), gtk_drop_down_new_from_strings (views));
  self->paper = fw_form_add (form, 5, _("_Paper"), gtk_drop_down_new_from_strings (papers));
  gboolean moves = TRUE; /* by itself: not where the desktop asks for less motion */
  g_object_get (gtk_settings_get_default (), "gtk-enable-animations", &moves, NULL);
  self->turning = fw_check_new (_("Turn in the p_review"), moves);
  gtk_grid_attach (form, self->turning, 0, 6, 2, 1);
  g_signal_connect_swapped (self->width, "value-changed", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->speed, "value-changed", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->as_smooth, "toggled", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->frames, "value-changed", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->views, "notify::selected", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->paper, "notify::selected", G_CALLBACK (on_choice), self);
  return GTK_WIDGET (form);
}

static void
gif_free (gpointer data)
{
  Dialog *self = data;
  gif_stop_sample (self);
  fw_log_state_free (self->state);
  free (self->pose);
  fw_design_free (self->design);
  g_free (self);
}

void
fw_animation_dialog_show (FwWindow *window)
{
  const FwFlipKind kind = { .title = _("Export an animation"), .save = _("_Save GIF…"), .file_title = _("Save the animation"),
                            /* Translators: "heron turning.gif" */
                            .name_end = C_("end of a file's name", "turning"), .ending = ".gif", .filter_name = _("GIF pictures"),
                            /* Translators: %s is a file name */
                            .saved = _("Animation saved: %s"), .take = gif_take, .release = input_free, .write = gif_write };
  Dialog *self = g_new0 (Dialog, 1);

  self->animation = fw_animation_default ();
  self->design = fw_design_copy (fw_document_design (fw_session_document (fw_window_session (window))));
  self->state = self->design != NULL ? fw_log_state_new (self->design) : NULL;
  self->pose = self->state != NULL ? fw_pose_new (self->state->mechanism) : NULL;
  self->frame = fw_flip_frame_new (window, GTK_WINDOW (window), &kind, self, gif_free);
  self->preview = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  gtk_widget_set_size_request (self->preview, 360, 300);
  gtk_widget_set_hexpand (self->preview, TRUE);
  gtk_widget_set_vexpand (self->preview, TRUE);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->preview), preview_paint, self, NULL);
  gtk_widget_add_tick_callback (self->preview, on_tick, self, NULL);
  GtkWidget *form = gif_form (self);
  on_choice (self);
  fw_flip_frame_present (self->frame, self->preview, form, 900,
                         CLAMP (gtk_widget_get_height (GTK_WIDGET (window)) * 8 / 10, 480, 640));
}
