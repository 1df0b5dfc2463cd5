#include "app/workshopmaking.h"

#include <glib/gi18n.h>

#include "app/widgetstyle.h"

typedef struct
{
  GtkWidget *form, *table;
} MakingPage;

gboolean
fw_workshop_edited (FwWorkshop *self, GError *error)
{
  if (error == NULL)
    {
      fw_message_bar_hide (fw_workshop_messages (self)); /* why the one before was refused */
      return fw_session_edited (fw_workshop_session (self), NULL);
    }
  g_autoptr (GError) taken = error;
  fw_message_bar_fail (fw_workshop_messages (self), taken->message);
  return FALSE;
}

static void
on_display (GtkWidget *page, FwWorkshop *workshop)
{
  const MakingPage *self = g_object_get_data (G_OBJECT (page), "making-page");
  if (fw_session_document (fw_workshop_session (workshop)) == NULL)
    return;
  fw_crank_form_update (self->form);
  fw_stock_table_update (self->table);
}

static GtkWidget *
scrolled (GtkWidget *child, const char *name)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), child);
  gtk_widget_add_css_class (child, "shop-column");
  gtk_widget_set_vexpand (scroller, TRUE);
  fw_widget_describe (scroller, name, NULL);
  return scroller;
}

GtkWidget *
fw_workshop_making_new (FwWorkshop *workshop)
{
  static const FwWorkshopPage calls = { NULL, on_display };
  MakingPage *self = g_new0 (MakingPage, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  g_object_set_data_full (G_OBJECT (page), "making-page", self, g_free);
  fw_workshop_page_set (page, &calls);
  self->form = fw_crank_form_new (workshop);
  self->table = fw_stock_table_new (workshop);
  GtkWidget *left = scrolled (self->form, _("Crank")), *right = scrolled (self->table, _("Stock"));
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (left), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request (left, 300, -1);
  gtk_widget_set_hexpand (left, FALSE); /* its fields would */
  gtk_widget_set_hexpand (right, TRUE);
  gtk_box_append (GTK_BOX (page), left);
  gtk_box_append (GTK_BOX (page), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (page), right);
  return page;
}
