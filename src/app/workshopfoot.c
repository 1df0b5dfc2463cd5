/* What the pages of the workshop have in common. */
#include "app/workshopprivate.h"

#include <glib/gi18n.h>

#include "app/controls.h"
#include "app/widgetstyle.h"

#define CAUTION_MOST 96 /* px: more lines are scrolled to */

void
fw_workshop_page_set_first (GtkWidget *page, GtkWidget *first)
{
  g_object_set_data (G_OBJECT (page), "first", first);
}

void
fw_workshop_page_focus (GtkWidget *page)
{
  GtkWidget *first = g_object_get_data (G_OBJECT (page), "first");
  if (first == NULL || !gtk_widget_grab_focus (first))
    gtk_widget_child_focus (page, GTK_DIR_TAB_FORWARD);
}

GtkWidget *
fw_workshop_foot (void)
{
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_add_css_class (foot, "shop-foot");
  return foot;
}

GtkWidget *
fw_workshop_foot_add (GtkWidget *foot, const char *mnemonic, GtkWidget *control)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (mnemonic);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), control);
  fw_name_by_label (control, label);
  gtk_box_append (GTK_BOX (foot), label);
  gtk_box_append (GTK_BOX (foot), control);
  gtk_widget_set_margin_end (control, 12);
  return control;
}

GtkWidget *
fw_workshop_foot_button (GtkWidget *foot, const char *mnemonic, GCallback pressed, gpointer data)
{
  GtkWidget *button = fw_button_new (mnemonic);
  g_signal_connect_swapped (button, "clicked", pressed, data);
  gtk_box_append (GTK_BOX (foot), button);
  return button;
}

void
fw_workshop_foot_gap (GtkWidget *foot)
{
  GtkWidget *gap = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_set_hexpand (gap, TRUE);
  gtk_box_append (GTK_BOX (foot), gap);
}

GtkWidget *
fw_workshop_caution (void)
{
  GtkWidget *caution = gtk_scrolled_window_new (), *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (caution), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (caution, _("What cannot be made"), NULL);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (caution), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (caution), CAUTION_MOST);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (caution), lines);
  g_object_set_data (G_OBJECT (caution), "lines", lines);
  gtk_widget_set_focusable (caution, TRUE);
  fw_widget_describe (caution, _("What cannot be made"), NULL);
  gtk_widget_add_css_class (caution, "fw-caution");
  gtk_widget_set_visible (caution, FALSE);
  return caution;
}

void
fw_workshop_caution_set (GtkWidget *caution, char *const *sentences, int n)
{
  GtkWidget *lines = g_object_get_data (G_OBJECT (caution), "lines");

  fw_widget_drop_children (lines);
  for (int i = 0; i < n; i++)
    {
      GtkWidget *label = gtk_label_new (sentences[i]);
      gtk_label_set_wrap (GTK_LABEL (label), TRUE);
      gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_label_set_selectable (GTK_LABEL (label), TRUE);
      gtk_box_append (GTK_BOX (lines), label);
    }
  gtk_widget_set_visible (caution, n > 0);
}
