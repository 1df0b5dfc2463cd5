#include "app/workshopentry.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/controls.h"
#include "app/workshopprivate.h"

struct FwEntry
{
  GtkWidget *widget; /* owns this */
  FwUnit unit;
  FwLengths lengths;
  gboolean may_be_empty;
  FwEntryTaken taken;
  FwEntryTyped typed; /* instead, for words */
  gpointer data;
  char *shown;
  gboolean taking;
  gboolean gone; /* what it was made for may be another's by now, or not there */
};

static void
entry_free (gpointer data)
{
  g_free (((FwEntry *) data)->shown);
  g_free (data);
}

GtkWidget *
fw_entry_widget (FwEntry *self)
{
  return self->widget;
}

static void
entry_show (FwEntry *self, const char *text)
{
  g_free (self->shown);
  self->shown = g_strdup (text);
  gtk_widget_remove_css_class (self->widget, "error");
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (self->widget)), text))
    gtk_editable_set_text (GTK_EDITABLE (self->widget), text);
}

/* Figures behind the point are only shown where there is something in them. */
static int
digits_needed (double value)
{
  int digits = 0;
  for (double v = value; digits < 3 && fabs (v - round (v)) > 1e-6; v *= 10)
    digits++;
  return digits;
}

void
fw_entry_set (FwEntry *self, double value, gboolean empty, FwLengths lengths)
{
  gboolean whole = self->unit == FW_UNIT_NONE && value == floor (value);
  g_autofree char *text = empty                              ? g_strdup ("")
                          : self->unit == FW_UNIT_NONE       ? g_strdup_printf (whole ? "%.0f" : "%.2f", value)
                                                             : fw_units_format (value, self->unit, lengths, -1);
  self->lengths = lengths;
  if (!empty && self->unit == FW_UNIT_MM && lengths == FW_LENGTHS_MM)
    {
      g_free (text);
      text = fw_units_format (value, self->unit, lengths, digits_needed (value));
    }
  entry_show (self, text);
}

void
fw_entry_set_text (FwEntry *self, const char *text)
{
  entry_show (self, text != NULL ? text : "");
}

static void
entry_fail (FwEntry *self, const char *words)
{
  GtkRoot *root = gtk_widget_get_root (self->widget);
  gtk_widget_add_css_class (self->widget, "error");
  if (FW_IS_WORKSHOP (root))
    fw_message_bar_fail (fw_workshop_messages (FW_WORKSHOP (root)), words);
}

/* FALSE: it was not taken, and why was said. */
static gboolean
entry_read (FwEntry *self, const char *text)
{
  g_autoptr (GError) error = NULL;
  double value = 0;

  if (self->typed != NULL)
    return self->typed (self, text, self->data);
  if (*text == '\0' && self->may_be_empty)
    return self->taken (self, 0, TRUE, self->data);
  if (!fw_units_parse (text, self->unit, self->lengths, &value, &error))
    {
      entry_fail (self, error->message);
      return FALSE;
    }
  return self->taken (self, value, FALSE, self->data);
}

static gboolean
entry_take (FwEntry *self)
{
  g_autofree char *text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->widget)));
  if (self->taking || self->gone || g_strcmp0 (g_strstrip (text), self->shown) == 0)
    return TRUE;
  self->taking = TRUE;
  g_autoptr (GtkWidget) held = g_object_ref (self->widget); /* taking may make the page anew */
  gboolean good = entry_read (self, text);
  if (!good)
    gtk_widget_add_css_class (self->widget, "error");
  self->taking = FALSE;
  return good;
}

static void
on_activate (FwEntry *self)
{
  entry_take (self);
}

static void
on_leave (FwEntry *self)
{
  g_autoptr (GtkWidget) held = g_object_ref (self->widget);
  if (!entry_take (self) && self->shown != NULL)
    {
      g_autofree char *shown = g_strdup (self->shown);
      entry_show (self, shown);
    }
}

static gboolean
on_key (FwEntry *self, guint key)
{
  if (key != GDK_KEY_Escape || self->shown == NULL)
    return GDK_EVENT_PROPAGATE;
  g_autofree char *shown = g_strdup (self->shown);
  entry_show (self, shown);
  return GDK_EVENT_STOP;
}

void
fw_entry_let_go (FwEntry *self)
{
  self->gone = TRUE;
}

static FwEntry *
entry_new (int width_chars, gpointer data)
{
  FwEntry *self = g_new0 (FwEntry, 1);
  GtkEventController *focus = gtk_event_controller_focus_new (), *keys = gtk_event_controller_key_new ();

  self->widget = gtk_entry_new ();
  self->data = data;
  gtk_editable_set_width_chars (GTK_EDITABLE (self->widget), width_chars);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->widget), width_chars);
  g_object_set_data_full (G_OBJECT (self->widget), "entry", self, entry_free);
  g_signal_connect_swapped (self->widget, "activate", G_CALLBACK (on_activate), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (self->widget, focus);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (self->widget, keys);
  return self;
}

FwEntry *
fw_entry_new (FwUnit unit, gboolean may_be_empty, int width_chars, FwEntryTaken taken, gpointer data)
{
  FwEntry *self = entry_new (width_chars, data);
  self->unit = unit;
  self->may_be_empty = may_be_empty;
  self->taken = taken;
  gtk_editable_set_alignment (GTK_EDITABLE (self->widget), 1);
  fw_left_to_right (self->widget);
  return self;
}

FwEntry *
fw_entry_new_text (int width_chars, FwEntryTyped typed, gpointer data)
{
  FwEntry *self = entry_new (width_chars, data);
  self->typed = typed;
  return self;
}
