#include "app/flipdialogframe.h"

#include <glib/gi18n.h>

#include "app/ask.h"
#include "app/choose.h"
#include "app/controls.h"
#include "app/files.h"
#include "app/widgetstyle.h"

#define LOOK_MS 60
#define PARTS 10000

struct FwFlipFrame
{
  FwWindow *window;  /* owned */
  GtkWindow *dialog; /* owns this */
  FwFlipKind kind;
  gpointer owner;
  GDestroyNotify release_owner;
  GtkWidget *form, *words, *save, *close, *bar, *stop;
  GCancellable *writing; /* NULL: nothing is being written */
  guint look;
  gboolean gone;
  gboolean alone; /* without a preview */
};

/* Shared by thread and dialog; the task owns it. */
typedef struct
{
  FwFlipKind kind;
  gpointer input;
  char *path;
  GCancellable *cancel;
  GtkWindow *dialog; /* a reference, for the main thread */
  gint done;         /* atomic: parts of PARTS */
  gpointer what;     /* atomic: a translated string, which stays */
} Work;

/* ---- The thread ---- */

static gboolean
onward (double fraction, const char *what, gpointer data)
{
  Work *work = data;
  g_atomic_int_set (&work->done, (gint) (CLAMP (fraction, 0, 1) * PARTS));
  g_atomic_pointer_set (&work->what, (gpointer) what);
  return !g_cancellable_is_cancelled (work->cancel);
}

static void
work_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  Work *work = data;
  const FwProgress progress = { onward, work };
  g_autoptr (GError) error = NULL;
  if (work->kind.write (work->input, work->path, &progress, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

static void
work_free (gpointer data)
{
  Work *work = data;
  work->kind.release (work->input);
  g_free (work->path);
  g_object_unref (work->cancel);
  g_object_unref (work->dialog);
  g_free (work);
}

/* ---- Writing ---- */

static void
frame_show_writing (FwFlipFrame *self, gboolean writing)
{
  gtk_widget_set_visible (self->bar, writing);
  gtk_widget_set_visible (self->stop, writing);
  gtk_widget_set_visible (self->save, !writing);
  gtk_widget_set_visible (self->close, !writing);
  gtk_widget_set_sensitive (self->form, !writing);
  gtk_widget_grab_focus (writing ? self->stop : self->save);
  if (!writing)
    g_clear_handle_id (&self->look, g_source_remove);
}

static gboolean
on_look (gpointer data)
{
  GTask *task = data;
  Work *work = g_task_get_task_data (task);
  FwFlipFrame *self = g_object_get_data (G_OBJECT (work->dialog), "frame");
  const char *what = g_atomic_pointer_get (&work->what);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), (double) g_atomic_int_get (&work->done) / PARTS);
  if (what != NULL)
    gtk_progress_bar_set_text (GTK_PROGRESS_BAR (self->bar), what);
  return G_SOURCE_CONTINUE;
}

static void
frame_done (FwFlipFrame *self, const char *path)
{
  g_autofree char *name = g_filename_display_name (path);
  g_autoptr (GString) text = g_string_new (self->kind.saved);
  g_string_replace (text, "%s", name, 1);
  fw_message_bar_note (fw_window_messages (self->window), text->str);
  if (!self->gone)
    gtk_window_destroy (self->dialog);
}

static void
frame_failed (FwFlipFrame *self, const GError *error)
{
  gboolean stopped = g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  const char *words = stopped ? _("Stopped: nothing was written.") : error->message;
  if (stopped)
    fw_message_bar_note (fw_window_messages (self->window), words);
  else
    fw_message_bar_fail (fw_window_messages (self->window), words);
  if (self->gone)
    return;
  frame_show_writing (self, FALSE);
  gtk_label_set_text (GTK_LABEL (self->words), words);
}

static void
on_written (GObject *source, GAsyncResult *result, gpointer unused)
{
  Work *work = g_task_get_task_data (G_TASK (result));
  FwFlipFrame *self = g_object_get_data (G_OBJECT (work->dialog), "frame");
  g_autoptr (GError) error = NULL;
  gboolean good = g_task_propagate_boolean (G_TASK (result), &error);

  g_clear_handle_id (&self->look, g_source_remove);
  g_clear_object (&self->writing);
  if (good)
    frame_done (self, work->path);
  else
    frame_failed (self, error);
}

static void
frame_write (FwFlipFrame *self, const char *path)
{
  Work *work = g_new0 (Work, 1);
  self->writing = g_cancellable_new ();
  *work = (Work) { .kind = self->kind, .input = self->kind.take (self->owner), .path = g_strdup (path),
                   .cancel = g_object_ref (self->writing), .dialog = g_object_ref (self->dialog) };
  /* The task itself is not told to stop: what it has written must be known when it ends. */
  g_autoptr (GTask) task = g_task_new (NULL, NULL, on_written, NULL);
  g_task_set_task_data (task, work, work_free);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), 0);
  gtk_progress_bar_set_text (GTK_PROGRESS_BAR (self->bar), _("Beginning"));
  frame_show_writing (self, TRUE);
  self->look = g_timeout_add_full (G_PRIORITY_DEFAULT, LOOK_MS, on_look, g_object_ref (task), g_object_unref);
  g_task_run_in_thread (task, work_run);
}

static void
on_stop (FwFlipFrame *self)
{
  if (self->writing != NULL)
    g_cancellable_cancel (self->writing);
}

/* ---- Saving ---- */

static void
on_chosen (const char *path, gpointer data)
{
  g_autoptr (GtkWindow) dialog = data;
  FwFlipFrame *self = g_object_get_data (G_OBJECT (dialog), "frame");
  if (path != NULL && !self->gone && self->writing == NULL)
    frame_write (self, path);
}

static void
on_save (FwFlipFrame *self)
{
  const char *path = fw_session_path (fw_window_session (self->window));
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  g_autofree char *suggested = fw_files_name_with (self->window, self->kind.name_end, self->kind.ending);
  const FwChoice choice = { .title = self->kind.file_title, .accept = _("_Save"), .save = TRUE, .name = suggested,
                            .folder = folder, .filter_name = self->kind.filter_name, .ending = self->kind.ending };
  fw_choose_file (self->dialog, &choice, on_chosen, g_object_ref (self->dialog));
}

/* ---- The dialog ---- */

static void
frame_free (gpointer data)
{
  FwFlipFrame *self = data;
  self->release_owner (self->owner);
  g_object_unref (self->window);
  g_free (self);
}

/* The dialog goes, and with it what is being written. */
static void
on_destroy (FwFlipFrame *self)
{
  self->gone = TRUE;
  g_clear_handle_id (&self->look, g_source_remove);
  on_stop (self);
}

FwFlipFrame *
fw_flip_frame_new (FwWindow *window, GtkWindow *parent, const FwFlipKind *kind, gpointer owner,
                   GDestroyNotify release_owner)
{
  FwFlipFrame *self = g_new0 (FwFlipFrame, 1);
  *self = (FwFlipFrame) { .window = g_object_ref (window), .dialog = fw_dialog_new (parent, kind->title), .kind = *kind,
                          .owner = owner, .release_owner = release_owner };
  g_object_set_data_full (G_OBJECT (self->dialog), "frame", self, frame_free);
  g_signal_connect_swapped (self->dialog, "destroy", G_CALLBACK (on_destroy), self);
  self->words = fw_note_label (NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->words), 30);
  self->save = fw_button_new (kind->save);
  return self;
}

static GtkWidget *
frame_buttons (FwFlipFrame *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->close = fw_button_new (_("_Cancel"));
  self->stop = fw_button_new (_("S_top"));
  gtk_widget_add_css_class (self->save, "suggested-action");
  gtk_widget_set_halign (row, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (row), self->close);
  gtk_box_append (GTK_BOX (row), self->save);
  gtk_box_append (GTK_BOX (row), self->stop);
  gtk_widget_set_visible (self->stop, FALSE);
  g_signal_connect_swapped (self->close, "clicked", G_CALLBACK (gtk_window_close), self->dialog);
  g_signal_connect_swapped (self->save, "clicked", G_CALLBACK (on_save), self);
  g_signal_connect_swapped (self->stop, "clicked", G_CALLBACK (on_stop), self);
  return row;
}

static GtkWidget *
frame_margin (FwFlipFrame *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *gap = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_vexpand (gap, TRUE);
  gtk_widget_set_size_request (column, 300, -1);
  gtk_widget_set_hexpand (column, self->alone);
  self->bar = gtk_progress_bar_new ();
  gtk_progress_bar_set_show_text (GTK_PROGRESS_BAR (self->bar), TRUE);
  gtk_widget_set_visible (self->bar, FALSE);
  fw_widget_describe (self->bar, _("How far it is"), NULL);
  gtk_box_append (GTK_BOX (column), self->form);
  gtk_box_append (GTK_BOX (column), self->words);
  gtk_box_append (GTK_BOX (column), gap);
  gtk_box_append (GTK_BOX (column), self->bar);
  gtk_box_append (GTK_BOX (column), frame_buttons (self));
  return column;
}

void
fw_flip_frame_present (FwFlipFrame *self, GtkWidget *preview, GtkWidget *form, int width, int height)
{
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);
  self->form = form;
  if (preview != NULL)
    gtk_box_append (GTK_BOX (page), preview);
  self->alone = preview == NULL;
  gtk_box_append (GTK_BOX (page), frame_margin (self));
  gtk_widget_add_css_class (page, "fw-page");
  gtk_window_set_child (self->dialog, page);
  gtk_window_set_default_size (self->dialog, width, height);
  gtk_window_set_default_widget (self->dialog, self->save);
  gtk_window_present (self->dialog);
}

void
fw_flip_frame_set_kind (FwFlipFrame *self, const FwFlipKind *kind)
{
  self->kind = *kind;
}

void
fw_flip_frame_say (FwFlipFrame *self, const char *words, gboolean fine)
{
  gtk_label_set_text (GTK_LABEL (self->words), words);
  gtk_widget_set_css_classes (self->words, (const char *[]) { "note", fine ? "fw-faint" : "error", NULL });
  gtk_widget_set_sensitive (self->save, fine);
}
