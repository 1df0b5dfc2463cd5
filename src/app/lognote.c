#include "app/lognote.h"

#include <glib/gi18n.h>

#include "app/ask.h"
#include "app/choose.h"
#include "app/controls.h"
#include "app/logedits.h"
#include "app/widgetstyle.h"

typedef struct
{
  FwWindow *window; /* owned */
  GtkWindow *dialog; /* owns this; NULL: a popover does */
  GtkWidget *popover;
  GtkWidget *date, *note, *pictures, *add_picture, *error;
  int index; /* of the entry whose note is edited; -1: a new one */
} Writing;

static void
writing_free (gpointer data)
{
  Writing *self = data;
  g_object_unref (self->window);
  g_free (self);
}

/* ---- The note ---- */

static char *
note_text (Writing *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->note));
  GtkTextIter start, end;
  gtk_text_buffer_get_bounds (buffer, &start, &end);
  char *text = gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
  return g_strchomp (text);
}

static void writing_take (Writing *self);

static gboolean
on_take_key (GtkWidget *widget, GVariant *args, gpointer data)
{
  writing_take (data);
  return TRUE;
}

static GtkWidget *
note_field (Writing *self, int height)
{
  GtkWidget *scroll = gtk_scrolled_window_new ();
  GtkEventController *keys = gtk_shortcut_controller_new ();
  self->note = gtk_text_view_new ();
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (self->note), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (self->note), FALSE);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (self->note), 6);
  gtk_text_view_set_bottom_margin (GTK_TEXT_VIEW (self->note), 6);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (self->note), 9);
  gtk_text_view_set_right_margin (GTK_TEXT_VIEW (self->note), 9);
  fw_widget_describe (self->note, _("Note"), _("Ctrl+Enter is done with it"));
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_alternative_trigger_new (gtk_keyval_trigger_new (GDK_KEY_Return, GDK_CONTROL_MASK),
                                                     gtk_keyval_trigger_new (GDK_KEY_KP_Enter, GDK_CONTROL_MASK)),
                        gtk_callback_action_new (on_take_key, self, NULL)));
  gtk_widget_add_controller (self->note, keys);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), self->note);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroll, _("Note"), NULL);
  gtk_widget_set_size_request (scroll, -1, height);
  gtk_widget_set_vexpand (scroll, TRUE);
  gtk_widget_add_css_class (scroll, "fw-note-field");
  return scroll;
}

static GtkWidget *
error_label (Writing *self)
{
  self->error = fw_note_label (NULL);
  gtk_widget_add_css_class (self->error, "error");
  gtk_widget_set_visible (self->error, FALSE);
  return self->error;
}

static void
writing_refuse (Writing *self, const char *why)
{
  gtk_label_set_text (GTK_LABEL (self->error), why);
  gtk_widget_set_visible (self->error, TRUE);
}

/* ---- Pictures ---- */

static void
on_remove_picture (GtkButton *button, gpointer row)
{
  gtk_box_remove (GTK_BOX (gtk_widget_get_parent (row)), row);
}

static void
writing_add_picture (Writing *self, const char *path)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *picture = gtk_picture_new_for_filename (path), *caption = gtk_entry_new ();
  GtkWidget *remove = gtk_button_new_from_icon_name ("window-close-symbolic");
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *words = g_strdup_printf (_("Caption of %s"), name), *drop = g_strdup_printf (_("Leave out %s"), name);

  gtk_widget_set_size_request (picture, 64, 48);
  gtk_entry_set_placeholder_text (GTK_ENTRY (caption), _("Caption"));
  gtk_widget_set_hexpand (caption, TRUE);
  gtk_widget_set_valign (caption, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (remove, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (picture, name);
  fw_widget_describe (caption, words, NULL);
  fw_widget_describe (remove, drop, NULL);
  gtk_widget_set_tooltip_text (remove, drop);
  gtk_widget_add_css_class (remove, "flat");
  gtk_box_append (GTK_BOX (row), picture);
  gtk_box_append (GTK_BOX (row), caption);
  gtk_box_append (GTK_BOX (row), remove);
  g_object_set_data_full (G_OBJECT (row), "file", g_strdup (path), g_free);
  g_object_set_data (G_OBJECT (row), "caption", caption);
  g_signal_connect (remove, "clicked", G_CALLBACK (on_remove_picture), row);
  gtk_box_append (GTK_BOX (self->pictures), row);
}

static void
on_picture_chosen (const char *path, gpointer data)
{
  g_autoptr (GtkWindow) dialog = data;
  Writing *self = g_object_get_data (G_OBJECT (dialog), "writing");
  if (path != NULL && self != NULL)
    writing_add_picture (self, path);
}

static void
on_add_picture (Writing *self)
{
  static const char *const kinds[] = { "png", "jpg", "jpeg", NULL };
  const char *path = fw_session_path (fw_window_session (self->window));
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  const FwChoice choice = { .title = _("Add a picture to the entry"), .accept = _("_Add"), .folder = folder,
                            .filter_name = _("PNG and JPEG pictures"), .kinds = kinds, .ending = "" };
  fw_choose_file (self->dialog, &choice, on_picture_chosen, g_object_ref (self->dialog));
}

static GArray *
writing_pictures (Writing *self)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (FwLogPicture));
  GtkWidget *row = self->pictures != NULL ? gtk_widget_get_first_child (self->pictures) : NULL;
  for (; row != NULL; row = gtk_widget_get_next_sibling (row))
    {
      GtkEditable *caption = g_object_get_data (G_OBJECT (row), "caption");
      FwLogPicture picture = { .file = g_object_get_data (G_OBJECT (row), "file"),
                               .caption = gtk_editable_get_text (caption) };
      g_array_append_val (list, picture);
    }
  return list;
}

/* ---- Done ---- */

static void
writing_take (Writing *self)
{
  FwSession *session = fw_window_session (self->window);
  g_autoptr (GError) error = NULL;
  g_autofree char *note = note_text (self), *today = fw_log_today ();
  g_autoptr (GArray) pictures = writing_pictures (self);
  const char *date = self->date != NULL ? gtk_editable_get_text (GTK_EDITABLE (self->date)) : today;
  g_autofree char *trimmed = g_strstrip (g_strdup (date));

  gboolean good = self->index >= 0
                      ? fw_log_edit_note (session, self->index, note, &error)
                      : fw_log_edit_add (session, trimmed, note, (const FwLogPicture *) (void *) pictures->data,
                                         (int) pictures->len, &error);
  if (!good)
    writing_refuse (self, error->message);
  else if (self->dialog != NULL)
    gtk_window_destroy (self->dialog);
  else
    gtk_popover_popdown (GTK_POPOVER (self->popover));
}

/* ---- Dialogs ---- */

static Writing *
writing_new (FwWindow *window, GtkWindow *parent, const char *title, int index)
{
  Writing *self = g_new0 (Writing, 1);
  *self = (Writing) { .window = g_object_ref (window), .dialog = fw_dialog_new (parent, title), .index = index };
  g_object_set_data_full (G_OBJECT (self->dialog), "writing", self, writing_free);
  return self;
}

static GtkWidget *
writing_buttons (Writing *self, const char *done)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *cancel = fw_button_new (_("_Cancel")), *take = fw_button_new (done);
  gtk_widget_add_css_class (take, "suggested-action");
  gtk_widget_set_halign (row, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (row), cancel);
  gtk_box_append (GTK_BOX (row), take);
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (gtk_window_close), self->dialog);
  g_signal_connect_swapped (take, "clicked", G_CALLBACK (writing_take), self);
  gtk_window_set_default_widget (self->dialog, take);
  return row;
}

static void
writing_present (Writing *self, GtkWidget *page, int width, int height)
{
  gtk_widget_add_css_class (page, "fw-page");
  gtk_window_set_child (self->dialog, page);
  gtk_window_set_default_size (self->dialog, width, height);
  gtk_window_set_focus (self->dialog, self->note);
  gtk_window_present (self->dialog);
}

static GtkWidget *
pictures_part (Writing *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gboolean saved = fw_session_path (fw_window_session (self->window)) != NULL;
  self->pictures = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->add_picture = fw_button_new (_("Add _picture…"));
  gtk_widget_set_halign (self->add_picture, GTK_ALIGN_START);
  gtk_widget_set_sensitive (self->add_picture, saved);
  g_signal_connect_swapped (self->add_picture, "clicked", G_CALLBACK (on_add_picture), self);
  gtk_box_append (GTK_BOX (box), self->pictures);
  gtk_box_append (GTK_BOX (box), self->add_picture);
  GtkWidget *words = fw_note_label (saved ? _("A picture stays a file beside the design. One from elsewhere is copied there.")
                                          : _("Pictures are kept beside the design: save the design first."));
  gtk_widget_add_css_class (words, "fw-faint");
  gtk_box_append (GTK_BOX (box), words);
  return box;
}

void
fw_log_note_new (FwWindow *window, GtkWindow *parent)
{
  Writing *self = writing_new (window, parent, _("New entry in the build log"), -1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *form = gtk_grid_new ();
  g_autofree char *today = fw_log_today ();

  self->date = gtk_entry_new ();
  gtk_editable_set_text (GTK_EDITABLE (self->date), today);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->date), 20);
  gtk_entry_set_activates_default (GTK_ENTRY (self->date), TRUE);
  gtk_grid_set_column_spacing (GTK_GRID (form), 12);
  fw_form_add (GTK_GRID (form), 0, _("_Date"), self->date);
  gtk_widget_set_hexpand (self->date, FALSE);
  gtk_widget_set_tooltip_text (self->date, _("Such as 2026-03-14, or 2026-03-14T18:30"));
  gtk_box_append (GTK_BOX (page), form);
  gtk_box_append (GTK_BOX (page), note_field (self, 140));
  gtk_box_append (GTK_BOX (page), pictures_part (self));
  gtk_box_append (GTK_BOX (page), error_label (self));
  gtk_box_append (GTK_BOX (page), writing_buttons (self, _("_Add to the log")));
  writing_present (self, page, 560, 460);
}

void
fw_log_note_edit (FwWindow *window, GtkWindow *parent, int index)
{
  FwLogEntry entry;
  if (!fw_log_entry (fw_session_document (fw_window_session (window)), index, &entry))
    return;
  /* Translators: %s is a date */
  g_autofree char *title = g_strdup_printf (_("Note of %s"), entry.date);
  Writing *self = writing_new (window, parent, title, index);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (page), note_field (self, 160));
  gtk_box_append (GTK_BOX (page), error_label (self));
  gtk_box_append (GTK_BOX (page), writing_buttons (self, _("_Keep")));
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->note)), entry.note, -1);
  writing_present (self, page, 560, 340);
}

/* ---- The quick note ---- */

static gboolean
on_unparent (gpointer popover)
{
  if (gtk_widget_get_parent (popover) != NULL)
    gtk_widget_unparent (popover);
  return G_SOURCE_REMOVE;
}

/* Not at once: what closes it still works with it. */
static void
on_closed (GtkWidget *popover)
{
  g_idle_add_full (G_PRIORITY_DEFAULT, on_unparent, g_object_ref (popover), g_object_unref);
}

static void
on_place_gone (GtkWidget *popover)
{
  on_unparent (popover);
}

void
fw_log_note_quick (FwWindow *window, GtkWidget *place)
{
  Writing *self = g_new0 (Writing, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *title = gtk_label_new (_("Note this state in the build log")), *add = fw_button_new (_("_Add"));

  *self = (Writing) { .window = g_object_ref (window), .popover = gtk_popover_new (), .index = -1 };
  g_object_set_data_full (G_OBJECT (self->popover), "writing", self, writing_free);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "fw-section");
  gtk_box_append (GTK_BOX (page), title);
  gtk_box_append (GTK_BOX (page), note_field (self, 84));
  gtk_box_append (GTK_BOX (page), error_label (self));
  gtk_widget_set_halign (add, GTK_ALIGN_END);
  gtk_widget_add_css_class (add, "suggested-action");
  gtk_widget_set_tooltip_text (add, _("Adds it to the log (Ctrl+Enter)"));
  g_signal_connect_swapped (add, "clicked", G_CALLBACK (writing_take), self);
  gtk_box_append (GTK_BOX (page), add);
  gtk_widget_set_size_request (page, 340, -1);
  gtk_widget_add_css_class (page, "fw-list");
  gtk_popover_set_child (GTK_POPOVER (self->popover), page);
  fw_widget_describe (self->popover, _("Note this state in the build log"), NULL);
  gtk_widget_set_parent (self->popover, place);
  g_signal_connect (self->popover, "closed", G_CALLBACK (on_closed), NULL);
  g_signal_connect_object (place, "destroy", G_CALLBACK (on_place_gone), self->popover, G_CONNECT_SWAPPED);
  gtk_popover_popup (GTK_POPOVER (self->popover));
  gtk_widget_grab_focus (self->note);
}
