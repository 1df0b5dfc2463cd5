#include "app/titledialog.h"

#include <glib/gi18n.h>

#include "app/ask.h"
#include "app/controls.h"
#include "app/widgetstyle.h"

#define LONGEST 200 /* characters: as much as a plate has room for, and more */

/* The title stays with the design it was opened for: another one that was opened meanwhile keeps its own. */
typedef struct
{
  FwSession *session; /* owned */
  FwDocument *doc;    /* not owned: only compared */
  GtkWindow *dialog;
  GtkWidget *entry;
} Titling;

static void
titling_free (gpointer data)
{
  Titling *self = data;
  g_object_unref (self->session);
  g_free (self);
}

static void
on_take (Titling *self)
{
  g_autofree char *title = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  FwSession *session = g_object_ref (self->session);
  if (fw_session_document (session) == self->doc)
    {
      if (fw_document_set_title (self->doc, title))
        fw_session_edited (session, NULL);
      else
        fw_session_say (session, "%s", _("The title is as it was: it cannot be written."));
    }
  gtk_window_close (self->dialog);
  g_object_unref (session);
}

static GtkWidget *
buttons_new (Titling *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *cancel = fw_button_new (_("_Cancel")), *take = fw_button_new (_("_Keep"));
  gtk_widget_add_css_class (take, "suggested-action");
  gtk_widget_set_halign (row, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (row), cancel);
  gtk_box_append (GTK_BOX (row), take);
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (gtk_window_close), self->dialog);
  g_signal_connect_swapped (take, "clicked", G_CALLBACK (on_take), self);
  gtk_window_set_default_widget (self->dialog, take);
  return row;
}

void
fw_title_dialog_show (FwWindow *window)
{
  FwSession *session = fw_window_session (window);
  FwDocument *doc = fw_session_document (session);
  if (doc == NULL)
    return;
  Titling *self = g_new0 (Titling, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  *self = (Titling){ g_object_ref (session), doc, fw_dialog_new (GTK_WINDOW (window), _("Title of the design")), gtk_entry_new () };
  g_object_set_data_full (G_OBJECT (self->dialog), "fw-titling", self, titling_free);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), fw_document_title (doc));
  gtk_entry_set_max_length (GTK_ENTRY (self->entry), LONGEST);
  gtk_entry_set_activates_default (GTK_ENTRY (self->entry), TRUE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), _("None: the file's name stands in its place"));
  fw_widget_describe (self->entry, _("Title of the design"), NULL);
  gtk_widget_add_css_class (page, "fw-page");
  gtk_box_append (GTK_BOX (page), self->entry);
  gtk_box_append (GTK_BOX (page), fw_note_label (_("It stands above the views, on strips, sheets and in the build log. The file keeps its name.")));
  gtk_box_append (GTK_BOX (page), buttons_new (self));
  gtk_window_set_child (self->dialog, page);
  gtk_window_set_default_size (self->dialog, 460, -1);
  gtk_window_set_focus (self->dialog, self->entry);
  gtk_window_present (self->dialog);
}
