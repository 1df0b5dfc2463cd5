#include "app/controls.h"

#include "app/widgetstyle.h"

static void
name_plainly (GtkWidget *widget, const char *mnemonic)
{
  g_auto (GStrv) parts = g_strsplit (mnemonic, "_", -1);
  g_autofree char *plain = g_strjoinv ("", parts);
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
  fw_widget_describe (widget, plain, NULL);
}

GtkWidget *
fw_button_new (const char *mnemonic)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (mnemonic);
  name_plainly (button, mnemonic);
  return button;
}

GtkWidget *
fw_check_new (const char *mnemonic, gboolean active)
{
  GtkWidget *check = gtk_check_button_new_with_mnemonic (mnemonic);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), active);
  name_plainly (check, mnemonic);
  fw_widget_can_be_pressed (check);
  return check;
}

void
fw_name_by_label (GtkWidget *control, GtkWidget *label)
{
  gtk_accessible_update_relation (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_RELATION_LABELLED_BY, label, NULL, -1);
  if (!GTK_IS_DROP_DOWN (control) || gtk_widget_get_first_child (control) == NULL)
    return;
  gtk_accessible_update_relation (GTK_ACCESSIBLE (gtk_widget_get_first_child (control)),
                                  GTK_ACCESSIBLE_RELATION_LABELLED_BY, label, NULL, -1);
  fw_drop_down_tell (control);
}

GtkWidget *
fw_form_add (GtkGrid *form, int row, const char *mnemonic, GtkWidget *control)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (mnemonic);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), control);
  fw_name_by_label (control, label);
  gtk_widget_set_hexpand (control, TRUE);
  gtk_grid_attach (form, label, 0, row, 1, 1);
  gtk_grid_attach (form, control, 1, row, 1, 1);
  return control;
}

GtkWidget *
fw_spin_new (double lower, double upper, double step, double value)
{
  GtkWidget *spin = gtk_spin_button_new_with_range (lower, upper, step);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), value);
  fw_left_to_right (spin);
  return spin;
}

static void
on_search_stop (GtkWidget *search, GtkWidget *popover)
{
  if (*gtk_editable_get_text (GTK_EDITABLE (search)) != '\0')
    gtk_editable_set_text (GTK_EDITABLE (search), "");
  else
    gtk_popover_popdown (GTK_POPOVER (popover));
}

void
fw_search_may_stop (GtkWidget *search, GtkWidget *popover)
{
  g_signal_connect_object (search, "stop-search", G_CALLBACK (on_search_stop), popover, 0);
}

void
fw_popdown (GtkWidget *popover)
{
  if (popover != NULL)
    gtk_popover_popdown (GTK_POPOVER (popover));
}

void
fw_left_to_right (GtkWidget *widget)
{
  gtk_widget_set_direction (widget, GTK_TEXT_DIR_LTR);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    fw_left_to_right (child);
}

GtkWidget *
fw_number_entry_new (void)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_alignment (GTK_EDITABLE (entry), 1);
  fw_left_to_right (entry);
  return entry;
}
