#include "app/fitpage.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/choose.h"
#include "app/controls.h"
#include "app/explain.h"
#include "app/files.h"
#include "app/fitjob.h"
#include "app/fitphoto.h"
#include "app/fittable.h"
#include "app/fitwords.h"
#include "app/shortcuts.h"
#include "app/tolerancerow.h"
#include "app/tolerancesession.h"
#include "app/widgetstyle.h"
#include "doc/files.h"

struct _FwFitPage
{
  GtkWidget parent_instance;

  FwWindow *window;   /* borrowed: this is inside it */
  FwSession *session; /* owned */
  FwFitJob *job;
  GtkWidget *table, *note, *add, *fit, *spinner, *result, *apply, *ghost, *photo;
  guint64 serial;     /* of the document that the answer is about */
};

G_DEFINE_FINAL_TYPE (FwFitPage, fw_fit_page, GTK_TYPE_WIDGET)

enum { CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
page_note (FwFitPage *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->note), text);
  gtk_widget_set_visible (self->note, *text != '\0');
}

/* ---- The answer ---- */

static gboolean
page_can_apply (const FwFit *fit)
{
  for (int i = 0; fit != NULL && fit->status == FW_FIT_FOUND && i < fit->n; i++)
    if (!fit->numbers[i].name.is_zero)
      return TRUE;
  return FALSE;
}

static void
page_show_ghost (FwFitPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  const FwFit *fit = fw_fit_job_answer (self->job);
  FwDesign *built = doc != NULL && page_can_apply (fit) && gtk_check_button_get_active (GTK_CHECK_BUTTON (self->ghost))
                        ? fw_fit_design (fw_document_design (doc), fit)
                        : NULL;
  fw_session_set_built (self->session, built);
  fw_design_free (built);
}

static void
page_show (FwFitPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  const FwFit *fit = fw_fit_job_answer (self->job);
  gboolean running = fw_fit_job_running (self->job);
  g_autofree char *words = doc != NULL && fit != NULL
                               ? fw_fit_words (fw_document_design (doc), fit, fw_session_lengths (self->session))
                               : g_strdup ("");
  gtk_label_set_text (GTK_LABEL (self->result), words);
  gtk_widget_set_visible (self->result, *words != '\0');
  gtk_widget_set_visible (self->apply, page_can_apply (fit));
  gtk_widget_set_visible (self->ghost, page_can_apply (fit));
  gtk_button_set_label (GTK_BUTTON (self->fit), running ? C_ ("end a search", "Stop") : _ ("Find what was built"));
  gtk_widget_set_visible (self->spinner, running);
  if (running)
    gtk_spinner_start (GTK_SPINNER (self->spinner));
  else
    gtk_spinner_stop (GTK_SPINNER (self->spinner));
  page_show_ghost (self);
}

static void
on_arrived (gpointer data)
{
  page_show (data);
}

/* An answer that is out of date goes. */
static void
page_forget (FwFitPage *self)
{
  if (fw_fit_job_answer (self->job) == NULL && !fw_fit_job_running (self->job))
    return;
  fw_fit_job_forget (self->job);
  page_show (self);
}

static void
on_fit (FwFitPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  int bad;

  if (fw_fit_job_running (self->job))
    {
      fw_fit_job_forget (self->job);
      page_show (self);
      return;
    }
  if (doc == NULL)
    return;
  GArray *list = fw_fit_table_list (FW_FIT_TABLE (self->table), &bad);
  if (bad > 0)
    {
      g_autofree char *text = g_strdup_printf (ngettext ("%d line cannot be read: mend or remove it first.",
                                                         "%d lines cannot be read: mend or remove them first.", (gulong) bad), bad);
      page_note (self, text);
    }
  else
    {
      page_note (self, "");
      self->serial = fw_document_serial (doc);
      fw_fit_job_ask (self->job, fw_document_design (doc), (const FwMeasurement *) (const void *) list->data, (int) list->len);
      page_show (self);
    }
  g_array_unref (list);
}

static void
on_apply (FwFitPage *self)
{
  const FwFit *fit = fw_fit_job_answer (self->job);
  FwChange changes[FW_FIT_MOST];
  int n = 0;

  for (int i = 0; fit != NULL && i < fit->n; i++)
    if (!fit->numbers[i].name.is_zero)
      changes[n++] = (FwChange) { fit->numbers[i].name.param, fit->numbers[i].to };
  if (n > 0 && fw_session_change (self->session, changes, n, _ ("As it was built"), NULL))
    fw_session_say (self->session, _ ("The design is now as it was built."));
}

/* ---- Tables ---- */

static void
on_add (FwFitPage *self)
{
  fw_fit_page_add_here (self);
}

void
fw_fit_page_add_here (FwFitPage *self)
{
  double degrees = fw_session_crank (self->session) * 180 / G_PI;
  fw_fit_table_add (FW_FIT_TABLE (self->table), round (degrees * 100) / 100, NULL, NAN);
}

static void
page_read (FwFitPage *self, const char *text, const char *name, gboolean replace)
{
  g_autoptr (GError) error = NULL;
  gboolean good = fw_fit_table_read (FW_FIT_TABLE (self->table), text, name, replace, &error);
  page_note (self, good ? "" : error->message);
}

static void
on_pasted (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (FwFitPage) self = data;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
  if (self->session == NULL)
    return;
  if (text == NULL)
    page_note (self, _ ("A table as text was expected on the clipboard."));
  else
    page_read (self, text, _ ("Pasted"), FALSE);
}

static void
on_paste (FwFitPage *self)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (self)), NULL, on_pasted, g_object_ref (self));
}

static void
on_open_chosen (const char *path, gpointer data)
{
  g_autoptr (FwFitPage) self = data;
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  if (path == NULL || self->session == NULL)
    return;
  g_autofree char *name = g_filename_display_basename (path);
  if (g_file_get_contents (path, &text, NULL, &error))
    page_read (self, text, name, TRUE);
  else
    page_note (self, error->message);
}

static char *
page_folder (FwFitPage *self)
{
  const char *path = fw_session_path (self->session);
  return path != NULL ? g_path_get_dirname (path) : NULL;
}

static void
on_open (FwFitPage *self)
{
  g_autofree char *folder = page_folder (self);
  const FwChoice choice = { .title = _ ("Open a table of measurements"), .accept = _ ("_Open"), .folder = folder,
                            .filter_name = _ ("Tables"), .ending = ".csv" };
  fw_choose_file (GTK_WINDOW (self->window), &choice, on_open_chosen, g_object_ref (self));
}

static void
on_save_chosen (const char *path, gpointer data)
{
  g_autoptr (FwFitPage) self = data;
  g_autoptr (GError) error = NULL;
  if (path == NULL || self->session == NULL)
    return;
  g_autofree char *text = fw_fit_table_text (FW_FIT_TABLE (self->table));
  g_autofree char *name = g_filename_display_name (path);
  if (!fw_file_replace (path, text, strlen (text), &error))
    page_note (self, error->message);
  else
    /* Translators: %s is a file name */
    fw_session_say (self->session, _ ("Measurements saved: %s"), name);
}

static void
on_save (FwFitPage *self)
{
  g_autofree char *folder = page_folder (self);
  const FwChoice choice = { .title = _ ("Save the table of measurements"), .accept = _ ("_Save"), .save = TRUE,
                            .name = _ ("measured.csv"), .folder = folder, .filter_name = _ ("Tables"), .ending = ".csv" };
  fw_choose_file (GTK_WINDOW (self->window), &choice, on_save_chosen, g_object_ref (self));
}

/* ---- What the session says ---- */

static void
on_design (FwFitPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  if (doc != NULL && fw_document_serial (doc) != self->serial)
    page_forget (self);
}

/* ---- Object ---- */

static void
page_dispose (GObject *object)
{
  FwFitPage *self = FW_FIT_PAGE (object);

  g_clear_pointer (&self->job, fw_fit_job_free);
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_fit_page_parent_class)->dispose (object);
}

static void
fw_fit_page_class_init (FwFitPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  G_OBJECT_CLASS (class)->dispose = page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "fit-page");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fw_fit_page_init (FwFitPage *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  fw_widget_style_add ();
  fw_widget_describe (GTK_WIDGET (self), _ ("The real thing"), NULL);
}

static void
section (FwFitPage *self, GtkWidget *box, const char *text, const char *explain)
{
  GtkWidget *label = gtk_label_new (text);
  GtkWidget *line = explain == NULL ? label : fw_explain_heading (self->session, label, fw_explain_find (explain));
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "fw-section");
  gtk_widget_set_margin_top (line, 6);
  gtk_box_append (GTK_BOX (box), line);
}

static GtkWidget *
page_buttons (FwFitPage *self)
{
  GtkWidget *both = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  static const struct
  {
    const char *label, *hint;
    void (*pressed) (FwFitPage *);
  } buttons[] = {
    { N_ ("Paste"), N_ ("Add a table from the clipboard: comma-separated, with a line of names"), on_paste },
    { N_ ("Open…"), N_ ("Open a table of measurements in place of this one"), on_open },
    { N_ ("Save…"), N_ ("Save the table of measurements"), on_save },
  };

  self->add = gtk_button_new_with_label (_ ("Add at this angle"));
  fw_shortcut_tooltip (self->add, _ ("Add a line at the present crank angle"), "win.measure-here");
  g_signal_connect_swapped (self->add, "clicked", G_CALLBACK (on_add), self);
  gtk_box_append (GTK_BOX (both), self->add);
  gtk_box_append (GTK_BOX (both), row);
  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      GtkWidget *button = gtk_button_new_with_label (_ (buttons[i].label));
      gtk_widget_set_hexpand (button, TRUE);
      gtk_widget_set_tooltip_text (button, _ (buttons[i].hint));
      fw_widget_describe (button, NULL, _ (buttons[i].hint));
      g_signal_connect_swapped (button, "clicked", G_CALLBACK (buttons[i].pressed), self);
      gtk_box_append (GTK_BOX (row), button);
    }
  return both;
}

static void
page_fill (FwFitPage *self, GtkWidget *box)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  section (self, box, _ ("Measured"), "measured");
  gtk_box_append (GTK_BOX (box), self->table);
  gtk_box_append (GTK_BOX (box), page_buttons (self));
  self->note = fw_note_label ("");
  gtk_widget_add_css_class (self->note, "error");
  gtk_widget_set_visible (self->note, FALSE);
  gtk_box_append (GTK_BOX (box), self->note);
  self->fit = gtk_button_new_with_label (_ ("Find what was built"));
  gtk_widget_add_css_class (self->fit, "suggested-action");
  gtk_widget_set_hexpand (self->fit, TRUE);
  g_signal_connect_swapped (self->fit, "clicked", G_CALLBACK (on_fit), self);
  self->spinner = gtk_spinner_new ();
  gtk_box_append (GTK_BOX (row), self->fit);
  gtk_box_append (GTK_BOX (row), self->spinner);
  gtk_box_append (GTK_BOX (row), fw_explain_button_new (self->session, row, fw_explain_find ("built"), FALSE));
  gtk_box_append (GTK_BOX (box), row);
  self->result = fw_note_label ("");
  gtk_widget_remove_css_class (self->result, "note");
  gtk_label_set_selectable (GTK_LABEL (self->result), TRUE);
  gtk_box_append (GTK_BOX (box), self->result);
  self->ghost = fw_check_new (_ ("_Outline of what was built, in the views"), TRUE);
  g_signal_connect_swapped (self->ghost, "toggled", G_CALLBACK (page_show_ghost), self);
  gtk_box_append (GTK_BOX (box), self->ghost);
  self->apply = gtk_button_new_with_label (_ ("Make the design so"));
  gtk_widget_set_tooltip_text (self->apply, _ ("One step of undo"));
  g_signal_connect_swapped (self->apply, "clicked", G_CALLBACK (on_apply), self);
  gtk_box_append (GTK_BOX (box), self->apply);
  section (self, box, _ ("Off a photograph"), NULL);
  self->photo = fw_fit_photo_new (self->window, FW_FIT_TABLE (self->table));
  gtk_box_append (GTK_BOX (box), self->photo);
}

GtkWidget *
fw_fit_page_new (FwWindow *window)
{
  FwFitPage *self = g_object_new (FW_TYPE_FIT_PAGE, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *scroll = gtk_scrolled_window_new ();

  self->window = window;
  self->session = g_object_ref (fw_window_session (window));
  self->job = fw_fit_job_new (on_arrived, self);
  self->table = fw_fit_table_new (self->session);
  gtk_widget_add_css_class (box, "real-page");
  page_fill (self, box);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroll, _ ("The real thing"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), box);
  gtk_widget_set_vexpand (scroll, TRUE);
  gtk_widget_set_parent (fw_real_heading (GTK_WIDGET (self), _ ("The real thing")), GTK_WIDGET (self));
  gtk_widget_set_parent (scroll, GTK_WIDGET (self));
  g_signal_connect_object (self->session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  page_show (self);
  return GTK_WIDGET (self);
}

void
fw_fit_page_focus (FwFitPage *self)
{
  g_return_if_fail (FW_IS_FIT_PAGE (self));
  gtk_widget_grab_focus (self->add);
}
