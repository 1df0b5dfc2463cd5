/* The flip-book: frames, views, paper, and a page of it in sight. */
#include "app/flipdialog.h"

#include <glib/gi18n.h>

#include "app/controls.h"
#include "app/flipdialogframe.h"
#include "app/widgetstyle.h"
#include "shop/flipbook.h"
#include "shop/logbook.h"

typedef struct
{
  FwFlipFrame *frame;
  FwFlipbook book;
  char *title;
  FwDesign *design;
  GtkWidget *preview, *frames, *views, *paper, *page;
  GCancellable *cancel;
  cairo_surface_t *picture; /* the newest that was drawn */
  gboolean drawing, again;
} Flip;

/* What a thread works on. */
typedef struct
{
  FwDesign *design;
  char *title;
  FwFlipbook book;
  int page, width, height; /* of a preview: its box, px */
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;
  fw_design_free (input->design);
  g_free (input->title);
  g_free (input);
}

static gpointer
flip_take (gpointer owner)
{
  Flip *self = owner;
  Input *input = g_new0 (Input, 1);
  *input = (Input) { .design = fw_design_copy (self->design), .title = g_strdup (self->title), .book = self->book };
  return input;
}

static FwLogState *
input_solve (const Input *input, GError **error)
{
  FwLogState *state = input->design != NULL ? fw_log_state_new (input->design) : NULL;
  if (state == NULL)
    g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("There is not enough memory for the flip-book"));
  return state;
}

static gboolean
flip_write (gpointer data, const char *path, const FwProgress *progress, GError **error)
{
  const Input *input = data;
  FwLogState *state = input_solve (input, error);
  if (state == NULL)
    return FALSE;
  FwScene scene = fw_log_state_scene (state);
  gboolean good = fw_flipbook_write_pdf (&scene, &input->book, input->title, path, progress, error);
  fw_log_state_free (state);
  return good;
}

/* ---- Preview ---- */

static void
draw_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  const Input *input = data;
  g_autoptr (GError) error = NULL;
  FwLogState *state = input_solve (input, &error);
  if (state == NULL)
    {
      g_task_return_error (task, g_steal_pointer (&error));
      return;
    }
  FwScene scene = fw_log_state_scene (state);
  FwFlipbookLayout layout = fw_flipbook_layout (&input->book);
  double scale = MIN (input->width / layout.width, input->height / layout.height);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, MAX (1, (int) (layout.width * scale)),
                                                         MAX (1, (int) (layout.height * scale)));
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  fw_flipbook_draw_page (cr, &scene, &input->book, input->title, input->page);
  cairo_destroy (cr);
  fw_log_state_free (state);
  g_task_return_pointer (task, surface, (GDestroyNotify) cairo_surface_destroy);
}

static void flip_draw (Flip *self);

static void
on_drawn (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;
  cairo_surface_t *surface = g_task_propagate_pointer (G_TASK (result), &error);
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return; /* the dialog is gone */
  Flip *self = data;
  self->drawing = FALSE;
  if (surface != NULL)
    {
      g_clear_pointer (&self->picture, cairo_surface_destroy);
      self->picture = surface;
      gtk_widget_queue_draw (self->preview);
    }
  if (self->again)
    flip_draw (self);
}

static void
flip_draw (Flip *self)
{
  int scale = gtk_widget_get_scale_factor (self->preview);
  int width = gtk_widget_get_width (self->preview) * scale, height = gtk_widget_get_height (self->preview) * scale;
  self->again = self->drawing;
  if (self->drawing || width <= 0 || height <= 0)
    return;
  self->drawing = TRUE;
  Input *input = flip_take (self);
  input->page = (int) gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->page)) - 1;
  input->width = width;
  input->height = height;
  g_autoptr (GTask) task = g_task_new (NULL, self->cancel, on_drawn, self);
  g_task_set_task_data (task, input, input_free);
  g_task_run_in_thread (task, draw_run);
}

static void
preview_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Flip *self = data;
  if (self->picture == NULL)
    return;
  double w = cairo_image_surface_get_width (self->picture), h = cairo_image_surface_get_height (self->picture);
  double scale = MIN (width / w, height / h);
  cairo_translate (cr, (width - w * scale) / 2, (height - h * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, self->picture, 0, 0);
  cairo_paint (cr);
  /* White paper on paper: a fine edge. */
  cairo_rectangle (cr, 0.5, 0.5, w - 1, h - 1);
  cairo_set_source_rgba (cr, 0.5, 0.48, 0.44, 0.5);
  cairo_set_line_width (cr, 1 / scale);
  cairo_stroke (cr);
}

/* ---- Choices ---- */

static void
flip_say (Flip *self)
{
  FwFlipbookLayout layout = fw_flipbook_layout (&self->book);
  gboolean inch = self->book.lengths == FW_LENGTHS_INCH;
  g_autofree char *wide = fw_units_format (layout.leaf_width * 25.4 / 72, FW_UNIT_MM, self->book.lengths, 0);
  g_autofree char *high = fw_units_format (layout.leaf_height * 25.4 / 72, FW_UNIT_MM, self->book.lengths, 0);
  g_autofree char *leaves = g_strdup_printf (ngettext ("%d leaf", "%d leaves", (gulong) layout.leaves), layout.leaves);
  g_autofree char *sheets = g_strdup_printf (ngettext ("%d sheet", "%d sheets", (gulong) layout.sheets), layout.sheets);
  /* Translators: "49 leaves of 93 mm by 53 mm on 5 sheets, and a page that says how to make it." */
  g_autofree char *words = g_strdup_printf (_("%s of %s by %s on %s, and a page that says how to make it."), leaves, wide,
                                            high, sheets);
  gtk_spin_button_set_range (GTK_SPIN_BUTTON (self->page), 1, layout.sheets + 1);
  g_autofree char *name = g_strdup_printf (_("Preview of page %d of %d"),
                                           gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->page)),
                                           layout.sheets + 1);
  fw_widget_describe (self->preview, name, inch ? "Letter" : "A4");
  fw_flip_frame_say (self->frame, words, TRUE);
}

static void
on_choice (Flip *self)
{
  self->book.frames = gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->frames));
  self->book.views = (FwStripViews) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->views));
  self->book.paper = (FwFlipbookPaper) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->paper));
  flip_say (self);
  flip_draw (self);
}

static GtkWidget *
flip_form (Flip *self)
{
  GtkGrid *form = GTK_GRID (gtk_grid_new ());
  const char *views[] = { _("Front and side"), _("Front"), _("Side"), NULL };
  const char *papers[] = { C_ ("paper", "A4"), C_ ("paper", "Letter"), NULL };
  gtk_grid_set_row_spacing (form, 6);
  gtk_grid_set_column_spacing (form, 12);
  self->frames = fw_form_add (form, 0, _("_Frames"),
                              fw_spin_new (FW_FLIPBOOK_LEAST_FRAMES, FW_FLIPBOOK_MOST_FRAMES, 1, self->book.frames));
  self->views = fw_form_add (form, 1, _("_Views"), gtk_drop_down_new_from_strings (views));
  self->paper = fw_form_add (form, 2, _("_Paper"), gtk_drop_down_new_from_strings (papers));
  self->page = fw_form_add (form, 3, _("Pa_ge in sight"), fw_spin_new (1, 2, 1, 2));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->paper), self->book.paper);
  g_signal_connect_swapped (self->frames, "value-changed", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->views, "notify::selected", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->paper, "notify::selected", G_CALLBACK (on_choice), self);
  g_signal_connect_swapped (self->page, "value-changed", G_CALLBACK (on_choice), self);
  return GTK_WIDGET (form);
}

static void
flip_free (gpointer data)
{
  Flip *self = data;
  g_cancellable_cancel (self->cancel);
  g_object_unref (self->cancel);
  g_clear_pointer (&self->picture, cairo_surface_destroy);
  fw_design_free (self->design);
  g_free (self->title);
  g_free (self);
}

static void
on_resize (Flip *self)
{
  flip_draw (self);
}

void
fw_flip_dialog_show (FwWindow *window)
{
  const FwFlipKind kind = { .title = _("Export a flip-book"), .save = _("_Save PDF…"), .file_title = _("Save the flip-book"),
                            /* Translators: "heron flip-book.pdf" */
                            .name_end = C_("end of a file's name", "flip-book"), .ending = ".pdf", .filter_name = _("PDF files"),
                            /* Translators: %s is a file name */
                            .saved = _("Flip-book saved: %s"), .take = flip_take, .release = input_free, .write = flip_write };
  Flip *self = g_new0 (Flip, 1);
  FwSession *session = fw_window_session (window);
  const FwDocument *doc = fw_session_document (session);

  self->book = fw_flipbook_default ();
  self->book.lengths = fw_session_lengths (session);
  self->book.paper = self->book.lengths == FW_LENGTHS_INCH ? FW_FLIPBOOK_LETTER : FW_FLIPBOOK_A4;
  self->title = g_strdup (fw_document_title (doc));
  self->design = fw_design_copy (fw_document_design (doc));
  self->cancel = g_cancellable_new ();
  self->frame = fw_flip_frame_new (window, GTK_WINDOW (window), &kind, self, flip_free);
  self->preview = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  gtk_widget_set_size_request (self->preview, 320, 420);
  gtk_widget_set_hexpand (self->preview, TRUE);
  gtk_widget_set_vexpand (self->preview, TRUE);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->preview), preview_paint, self, NULL);
  g_signal_connect_swapped (self->preview, "resize", G_CALLBACK (on_resize), self);
  GtkWidget *form = flip_form (self);
  on_choice (self);
  fw_flip_frame_present (self->frame, self->preview, form, 860,
                         CLAMP (gtk_widget_get_height (GTK_WIDGET (window)) * 9 / 10, 480, 900));
}
