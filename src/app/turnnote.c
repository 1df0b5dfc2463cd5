#include "app/turnnote.h"

#include <glib/gi18n.h>

#include "app/widgetstyle.h"

#define SOON_MS 120 /* what takes less is not told: it would only blink */

struct _FwTurnNote
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *spinner, *label;
  guint soon; /* timeout */
};

#define FW_TYPE_TURN_NOTE (fw_turn_note_get_type ())
G_DECLARE_FINAL_TYPE (FwTurnNote, fw_turn_note, FW, TURN_NOTE, GtkWidget)
G_DEFINE_FINAL_TYPE (FwTurnNote, fw_turn_note, GTK_TYPE_WIDGET)

const char *
fw_turn_note_words (void)
{
  return _("The whole turn is being worked out…");
}

static void
note_show (FwTurnNote *self, gboolean show)
{
  gtk_widget_set_visible (GTK_WIDGET (self), show);
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), show);
}

static gboolean
on_soon (gpointer data)
{
  FwTurnNote *self = data;

  self->soon = 0;
  note_show (self, TRUE);
  return G_SOURCE_REMOVE;
}

static void
on_design (FwTurnNote *self)
{
  gboolean working = fw_session_document (self->session) != NULL && !fw_session_turn_is_known (self->session);

  if (!working)
    {
      g_clear_handle_id (&self->soon, g_source_remove);
      note_show (self, FALSE);
    }
  else if (self->soon == 0 && !gtk_widget_get_visible (GTK_WIDGET (self)))
    self->soon = g_timeout_add (SOON_MS, on_soon, self);
}

static void
turn_note_dispose (GObject *object)
{
  FwTurnNote *self = FW_TURN_NOTE (object);

  g_clear_handle_id (&self->soon, g_source_remove);
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_turn_note_parent_class)->dispose (object);
}

static void
fw_turn_note_class_init (FwTurnNoteClass *class)
{
  G_OBJECT_CLASS (class)->dispose = turn_note_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "turn-note");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_STATUS);
}

static void
fw_turn_note_init (FwTurnNote *self)
{
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))), 6);
  self->spinner = gtk_spinner_new ();
  self->label = gtk_label_new (fw_turn_note_words ());
  gtk_label_set_ellipsize (GTK_LABEL (self->label), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (self->label), 0);
  gtk_widget_add_css_class (self->label, "dim-label");
  gtk_widget_set_hexpand (self->label, TRUE);
  gtk_widget_set_parent (self->spinner, GTK_WIDGET (self));
  gtk_widget_set_parent (self->label, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  fw_widget_describe (GTK_WIDGET (self), fw_turn_note_words (), NULL);
}

GtkWidget *
fw_turn_note_new (FwSession *session)
{
  FwTurnNote *self = g_object_new (FW_TYPE_TURN_NOTE, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  on_design (self);
  return GTK_WIDGET (self);
}
