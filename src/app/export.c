#include "app/export.h"

#include <glib/gi18n.h>

#include "app/ask.h"
#include "app/choose.h"
#include "app/controls.h"
#include "app/exportjob.h"
#include "app/files.h"
#include "app/widgetstyle.h"

#define MOST_FRAMES 72
#define LEAST_FRAME_WIDTH 80
#define MOST_FRAME_WIDTH 4000

typedef struct
{
  FwWindow *window;  /* owned */
  GtkWindow *dialog; /* owns this */
  GtkWidget *preview, *size, *save;
  GtkWidget *frames, *views, *frame_width, *paper, *captions, *scale_bar, *settings, *forces, *weights;

  FwMotionStrip strip;
  cairo_surface_t *picture; /* the newest that was drawn */
  gboolean drawing, again;  /* a preview is being drawn; it is out of date already */
  GCancellable *cancel;
} Export;

/* ---- Preview ---- */

static void export_draw (Export *self);

static void
export_show_size (Export *self, int width, int height)
{
  /* Translators: size of a picture in pixels */
  g_autofree char *text = g_strdup_printf (_("%d × %d px"), width, height);
  gtk_label_set_text (GTK_LABEL (self->size), text);
  /* Translators: the size in pixels of the plate in the preview */
  g_autofree char *name = g_strdup_printf (_("Preview of the plate, %d by %d pixels"), width, height);
  fw_widget_describe (self->preview, name, NULL);
}

static void
on_drawn (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;
  int width, height;
  cairo_surface_t *picture = fw_export_preview_finish (result, &width, &height, &error);
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return; /* the dialog is gone */

  Export *self = data;
  self->drawing = FALSE;
  if (picture == NULL)
    {
      gtk_label_set_text (GTK_LABEL (self->size), error->message);
      return;
    }
  g_clear_pointer (&self->picture, cairo_surface_destroy);
  self->picture = picture;
  export_show_size (self, width, height);
  gtk_widget_queue_draw (self->preview);
  if (self->again)
    export_draw (self);
}

static void
export_draw (Export *self)
{
  FwDocument *doc = fw_session_document (fw_window_session (self->window));
  int scale = gtk_widget_get_scale_factor (self->preview);
  int width = gtk_widget_get_width (self->preview), height = gtk_widget_get_height (self->preview);

  self->again = self->drawing;
  if (self->drawing || width <= 0 || height <= 0)
    return;
  self->drawing = TRUE;
  fw_export_preview_async (doc, &self->strip, width * scale, height * scale, self->cancel, on_drawn, self);
}

static void
preview_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Export *self = data;
  if (self->picture == NULL)
    return;
  double w = cairo_image_surface_get_width (self->picture), h = cairo_image_surface_get_height (self->picture);
  double scale = MIN (width / w, height / h);
  scale = MIN (scale, 1.0);
  cairo_translate (cr, (width - w * scale) / 2, (height - h * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, self->picture, 0, 0);
  cairo_paint (cr);
}

static void
on_resize (Export *self)
{
  export_draw (self);
}

/* ---- Choices ---- */

static void
on_choice (Export *self)
{
  static const FwTheme papers[] = { FW_THEME_PRINT, FW_THEME_LIGHT, FW_THEME_DARK };
  self->strip.frames = gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->frames));
  self->strip.frame_width = gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->frame_width));
  self->strip.views = (FwStripViews) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->views));
  self->strip.theme = papers[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->paper))];
  self->strip.captions = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->captions));
  self->strip.scale_bar = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->scale_bar));
  self->strip.settings = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->settings));
  self->strip.show = (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->forces)) ? FW_SHOW_FORCES : 0)
                     | (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->weights)) ? FW_SHOW_WEIGHTS : 0);
  export_draw (self);
}

static GtkWidget *
form_check (GtkGrid *form, int row, const char *label, gboolean active)
{
  GtkWidget *check = fw_check_new (label, active);
  gtk_grid_attach (form, check, 0, row, 2, 1);
  return check;
}

static GtkWidget *
export_form (Export *self)
{
  GtkGrid *form = GTK_GRID (gtk_grid_new ());
  const char *views[] = { _("Front and side"), _("Front"), _("Side"), NULL };
  const char *papers[] = { _("White, for print"), _("Warm paper"), _("Slate"), NULL };

  gtk_grid_set_row_spacing (form, 6);
  gtk_grid_set_column_spacing (form, 12);
  self->frames = fw_form_add (form, 0, _("_Frames"), fw_spin_new (1, MOST_FRAMES, 1, self->strip.frames));
  self->views = fw_form_add (form, 1, _("_Views"), gtk_drop_down_new_from_strings (views));
  self->frame_width = fw_form_add (form, 2, _("Frame _width, px"),
                                fw_spin_new (LEAST_FRAME_WIDTH, MOST_FRAME_WIDTH, 20, self->strip.frame_width));
  self->paper = fw_form_add (form, 3, _("_Paper"), gtk_drop_down_new_from_strings (papers));
  self->captions = form_check (form, 4, _("Crank _angle under each frame"), self->strip.captions);
  self->scale_bar = form_check (form, 5, _("Scale _bar"), self->strip.scale_bar);
  self->settings = form_check (form, 6, _("_Title and the numbers that matter"), self->strip.settings);
  self->forces = form_check (form, 7, _("F_orces, as arrows"), (self->strip.show & FW_SHOW_FORCES) != 0);
  self->weights = form_check (form, 8, _("Wei_ghts, as arrows"), (self->strip.show & FW_SHOW_WEIGHTS) != 0);
  gtk_widget_set_margin_top (self->captions, 6);
  g_signal_connect_swapped (self->frames, "value-changed", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->frame_width, "value-changed", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->views, "notify::selected", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->paper, "notify::selected", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->captions, "toggled", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->scale_bar, "toggled", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->settings, "toggled", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->forces, "toggled", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->weights, "toggled", G_CALLBACK (on_choice), self);
  return GTK_WIDGET (form);
}

/* ---- Saving ---- */

static void
on_written (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (FwWindow) window = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = fw_export_write_finish (result, &error);
  if (path == NULL)
    {
      fw_message_bar_fail (fw_window_messages (window), error->message);
      return;
    }
  g_autofree char *name = g_filename_display_name (path);
  /* Translators: %s is a file name */
  g_autofree char *text = g_strdup_printf (_("Strip saved: %s"), name);
  fw_message_bar_note (fw_window_messages (window), text);
  fw_window_step_done (window, FW_STEP_EXPORT);
}

static void
on_chosen (const char *path, gpointer data)
{
  g_autoptr (GtkWindow) dialog = data;
  Export *self = g_object_get_data (G_OBJECT (dialog), "export");
  if (path == NULL || self == NULL)
    return;
  fw_export_write_async (fw_session_document (fw_window_session (self->window)), &self->strip, path, on_written,
                         g_object_ref (self->window));
  gtk_window_destroy (dialog);
}

static void
on_save (Export *self)
{
  FwSession *session = fw_window_session (self->window);
  const char *path = fw_session_path (session);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  /* Translators: put behind the design's name for a suggested file name: "heron strip.png" */
  g_autofree char *suggested = fw_files_name_with (self->window, C_("end of a file's name", "strip"), ".png");
  const FwChoice choice = { .title = _("Save the motion strip"), .accept = _("_Save"), .save = TRUE,
                            .name = suggested, .folder = folder, .filter_name = _("PNG pictures"), .ending = ".png" };
  fw_choose_file (self->dialog, &choice, on_chosen, g_object_ref (self->dialog));
}

/* ---- Dialog ---- */

static void
export_free (gpointer data)
{
  Export *self = data;
  g_cancellable_cancel (self->cancel);
  g_object_unref (self->cancel);
  g_clear_pointer (&self->picture, cairo_surface_destroy);
  g_object_unref (self->window);
  g_free (self);
}

static GtkWidget *
export_buttons (Export *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *cancel = fw_button_new (_("_Cancel"));

  self->save = fw_button_new (_("_Save PNG…"));
  gtk_widget_add_css_class (self->save, "suggested-action");
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (gtk_window_close), self->dialog);
  g_signal_connect_swapped (self->save, "clicked", G_CALLBACK (on_save), self);
  gtk_box_append (GTK_BOX (row), cancel);
  gtk_box_append (GTK_BOX (row), self->save);
  gtk_widget_set_halign (row, GTK_ALIGN_END);
  return row;
}

static GtkWidget *
export_margin (Export *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *gap = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (column), export_form (self));
  self->size = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->size), 0);
  gtk_label_set_wrap (GTK_LABEL (self->size), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->size), 24);
  gtk_widget_add_css_class (self->size, "fw-faint");
  gtk_box_append (GTK_BOX (column), self->size);
  gtk_widget_set_vexpand (gap, TRUE);
  gtk_box_append (GTK_BOX (column), gap);
  gtk_box_append (GTK_BOX (column), export_buttons (self));
  return column;
}

void
fw_export_show (FwWindow *window)
{
  Export *self = g_new0 (Export, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);
  int width = gtk_widget_get_width (GTK_WIDGET (window)), height = gtk_widget_get_height (GTK_WIDGET (window));

  self->window = g_object_ref (window);
  self->dialog = fw_dialog_new (GTK_WINDOW (window), _("Export the motion strip"));
  self->cancel = g_cancellable_new ();
  self->strip = fw_motion_strip_default ();
  self->strip.lengths = fw_session_lengths (fw_window_session (window));
  self->strip.show = fw_session_show (fw_window_session (window)) & (FW_SHOW_FORCES | FW_SHOW_WEIGHTS);
  g_object_set_data_full (G_OBJECT (self->dialog), "export", self, export_free);

  self->preview = gtk_drawing_area_new ();
  gtk_widget_set_size_request (self->preview, 320, 300);
  gtk_widget_set_hexpand (self->preview, TRUE);
  gtk_widget_set_vexpand (self->preview, TRUE);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->preview), preview_paint, self, NULL);
  g_signal_connect_swapped (self->preview, "resize", G_CALLBACK (on_resize), self);
  fw_widget_describe (self->preview, _("Preview of the plate"), NULL);
  gtk_box_append (GTK_BOX (page), self->preview);
  gtk_box_append (GTK_BOX (page), export_margin (self));
  gtk_widget_add_css_class (page, "fw-page");
  gtk_window_set_child (self->dialog, page);
  gtk_window_set_default_size (self->dialog, CLAMP (width * 9 / 10, 760, 1400), CLAMP (height * 8 / 10, 480, 900));
  gtk_window_set_default_widget (self->dialog, self->save);
  gtk_window_present (self->dialog);
}
