/* Exports of the workshop: asked for, written beside the main loop, stopped at will. */
#include "app/workshopprivate.h"

#include <glib/gi18n.h>

#include "app/choose.h"
#include "app/controls.h"
#include "app/widgetstyle.h"

#define POLL_MS 60

/* One export; shared by the thread that writes and the bar. */
typedef struct
{
  FwWorkshopWrite write;
  char *path;
  FwDesign *design;
  char *title;
  FwLaidOrder order;

  gint stop;      /* atomic */
  gint permille;  /* atomic */
  GMutex lock;    /* of `what` */
  char *what;     /* being done now; NULL */
  char *done;     /* written by the thread, read when it has ended */
} Writing;

static void
writing_clear (gpointer data)
{
  Writing *writing = data;
  fw_design_free (writing->design);
  g_mutex_clear (&writing->lock);
  g_free (writing->path);
  g_free (writing->title);
  g_free (writing->what);
  g_free (writing->done);
}

static void
writing_unref (gpointer writing)
{
  g_atomic_rc_box_release_full (writing, writing_clear);
}

/* Laying out is the first part of it, writing the rest. */
#define LAYING 0.2

static gboolean
writing_tell (Writing *self, double fraction, const char *what)
{
  g_atomic_int_set (&self->permille, (int) (1000 * CLAMP (fraction, 0, 1)));
  g_mutex_lock (&self->lock);
  if (g_strcmp0 (self->what, what) != 0)
    {
      g_free (self->what);
      self->what = g_strdup (what);
    }
  g_mutex_unlock (&self->lock);
  return g_atomic_int_get (&self->stop) == 0;
}

static gboolean
on_laying (double fraction, const char *what, gpointer data)
{
  return writing_tell (data, LAYING * fraction, what);
}

static gboolean
on_writing (double fraction, const char *what, gpointer data)
{
  return writing_tell (data, LAYING + (1 - LAYING) * fraction, what);
}

static void
writing_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  Writing *self = data;
  GError *error = NULL;
  const FwProgress laying = { on_laying, self }, writing = { on_writing, self };
  g_autoptr (FwLaid) laid = fw_laid_new (g_steal_pointer (&self->design), self->title, &self->order, &laying);

  if (laid == NULL && g_atomic_int_get (&self->stop) != 0)
    fw_progress_stopped (&error);
  else if (laid == NULL)
    error = g_error_new_literal (FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("The parts cannot be laid out: out of memory"));
  if (laid != NULL && self->write (laid, self->path, &writing, &self->done, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

/* ---- The bar ---- */

#define FW_TYPE_WRITING_BAR (fw_writing_bar_get_type ())
G_DECLARE_FINAL_TYPE (FwWritingBar, fw_writing_bar, FW, WRITING_BAR, GtkWidget)

struct _FwWritingBar
{
  GtkWidget parent_instance;
  FwWorkshop *workshop; /* borrowed: it holds the bar */
  GtkWidget *row, *what, *bar, *stop;
  Writing *writing; /* a reference; NULL: nothing is written */
  guint poll;
};

G_DEFINE_FINAL_TYPE (FwWritingBar, fw_writing_bar, GTK_TYPE_WIDGET)

static gboolean
on_poll (gpointer data)
{
  FwWritingBar *self = data;
  g_mutex_lock (&self->writing->lock);
  g_autofree char *what = g_strdup (self->writing->what);
  g_mutex_unlock (&self->writing->lock);
  gtk_label_set_text (GTK_LABEL (self->what), what != NULL ? what : "");
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), g_atomic_int_get (&self->writing->permille) / 1000.0);
  return G_SOURCE_CONTINUE;
}

static void
bar_end (FwWritingBar *self)
{
  g_clear_handle_id (&self->poll, g_source_remove);
  g_clear_pointer (&self->writing, writing_unref);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

void
fw_workshop_progress_stop (GtkWidget *bar)
{
  FwWritingBar *self = FW_WRITING_BAR (bar);
  if (self->writing != NULL)
    g_atomic_int_set (&self->writing->stop, 1);
}

static void
on_stop (FwWritingBar *self)
{
  fw_workshop_progress_stop (GTK_WIDGET (self));
  gtk_widget_set_sensitive (self->stop, FALSE);
}

static void
on_written (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (FwWritingBar) self = data;
  g_autoptr (GError) error = NULL;
  const Writing *writing = g_task_get_task_data (G_TASK (result));
  gboolean good = g_task_propagate_boolean (G_TASK (result), &error);

  if (self->row == NULL) /* the window is gone */
    return;
  FwMessageBar *messages = fw_workshop_messages (self->workshop);
  g_autofree char *name = g_filename_display_name (writing->path);
  /* Translators: %s is a file or folder name */
  g_autofree char *text = writing->done != NULL ? g_strdup (writing->done) : g_strdup_printf (_("Saved: %s"), name);
  bar_end (self);
  if (good)
    fw_message_bar_note (messages, text);
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fw_message_bar_note (messages, _("Stopped; nothing was written"));
  else
    fw_message_bar_fail (messages, error->message);
}

static void
bar_start (FwWritingBar *self, FwWorkshopWrite write, const char *path)
{
  FwDocument *doc = fw_session_document (fw_workshop_session (self->workshop));
  Writing *writing = g_atomic_rc_box_new0 (Writing);

  g_mutex_init (&writing->lock);
  writing->write = write;
  writing->path = g_strdup (path);
  writing->design = fw_design_copy (fw_document_design (doc));
  writing->title = g_strdup (fw_document_title (doc));
  writing->order = *fw_workshop_order (self->workshop);
  self->writing = g_atomic_rc_box_acquire (writing);
  g_autoptr (GTask) task = g_task_new (NULL, NULL, on_written, g_object_ref (self));
  g_task_set_task_data (task, writing, writing_unref);
  g_task_run_in_thread (task, writing_run);
  gtk_widget_set_sensitive (self->stop, TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_widget_grab_focus (self->stop);
  self->poll = g_timeout_add (POLL_MS, on_poll, self);
  on_poll (self);
}

static void
fw_writing_bar_dispose (GObject *object)
{
  FwWritingBar *self = FW_WRITING_BAR (object);

  fw_workshop_progress_stop (GTK_WIDGET (self));
  g_clear_handle_id (&self->poll, g_source_remove);
  g_clear_pointer (&self->writing, writing_unref);
  g_clear_pointer (&self->row, gtk_widget_unparent);
  G_OBJECT_CLASS (fw_writing_bar_parent_class)->dispose (object);
}

static void
fw_writing_bar_class_init (FwWritingBarClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fw_writing_bar_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
}

static void
fw_writing_bar_init (FwWritingBar *self)
{
  self->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  self->what = gtk_label_new (NULL);
  self->bar = gtk_progress_bar_new ();
  self->stop = fw_button_new (_("_Stop"));
  gtk_widget_add_css_class (self->row, "shop-foot");
  gtk_label_set_xalign (GTK_LABEL (self->what), 0);
  gtk_label_set_ellipsize (GTK_LABEL (self->what), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (self->what), 30);
  gtk_widget_set_hexpand (self->bar, TRUE);
  gtk_widget_set_valign (self->bar, GTK_ALIGN_CENTER);
  fw_widget_describe (self->bar, _("How much is written"), NULL);
  g_signal_connect_swapped (self->stop, "clicked", G_CALLBACK (on_stop), self);
  gtk_box_append (GTK_BOX (self->row), self->what);
  gtk_box_append (GTK_BOX (self->row), self->bar);
  gtk_box_append (GTK_BOX (self->row), self->stop);
  gtk_widget_set_parent (self->row, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
fw_workshop_progress_new (FwWorkshop *workshop)
{
  FwWritingBar *self = g_object_new (FW_TYPE_WRITING_BAR, NULL);
  self->workshop = workshop;
  g_object_set_data (G_OBJECT (workshop), "writing-bar", self);
  return GTK_WIDGET (self);
}

/* ---- Where to ---- */

typedef struct
{
  FwWorkshop *workshop; /* owned */
  FwWorkshopWrite write;
} Asking;

static void
on_chosen (const char *path, gpointer data)
{
  Asking *asking = data;
  FwWritingBar *bar = g_object_get_data (G_OBJECT (asking->workshop), "writing-bar");

  if (path != NULL && bar != NULL && bar->row != NULL && bar->writing == NULL)
    bar_start (bar, asking->write, path);
  g_object_unref (asking->workshop);
  g_free (asking);
}

static void
on_folder (GtkNativeDialog *dialog, int response, gpointer data)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  fw_choose_let_go (dialog);
  on_chosen (path, data);
}

G_GNUC_BEGIN_IGNORE_DEPRECATIONS /* what newer GTK has instead is newer than the oldest this builds with */

static void
ask_folder (FwWorkshop *self, const char *title, const char *folder, Asking *asking)
{
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (title, GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
                                                              _("_Write here"), _("_Cancel"));
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  if (folder != NULL)
    {
      g_autoptr (GFile) file = g_file_new_for_path (folder);
      gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (dialog), file, NULL);
    }
  g_signal_connect (dialog, "response", G_CALLBACK (on_folder), asking);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

G_GNUC_END_IGNORE_DEPRECATIONS

void
fw_workshop_export (FwWorkshop *self, const FwWorkshopExport *what)
{
  const FwWritingBar *bar = g_object_get_data (G_OBJECT (self), "writing-bar");
  if (bar->writing != NULL)
    {
      fw_message_bar_note (fw_workshop_messages (self), _("Something is being written; stop it or wait for it"));
      return;
    }
  g_autofree char *folder = fw_workshop_folder (self), *stem = fw_workshop_stem (self);
  Asking *asking = g_new0 (Asking, 1);
  *asking = (Asking) { g_object_ref (self), what->write };
  if (what->filter_name == NULL)
    {
      ask_folder (self, what->title, folder, asking);
      return;
    }
  g_autofree char *name = g_strconcat (stem, what->behind != NULL ? what->behind : "", what->ending, NULL);
  const FwChoice choice = { .title = what->title, .accept = _("_Export"), .save = TRUE, .name = name, .folder = folder,
                            .filter_name = what->filter_name, .ending = what->ending };
  fw_choose_file (GTK_WINDOW (self), &choice, on_chosen, asking);
}
