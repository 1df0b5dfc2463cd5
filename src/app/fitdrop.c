#include "app/fitdrop.h"

static void
on_face_setup (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer ellipsized)
{
  GtkWidget *label = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (ellipsized != NULL)
    gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_MIDDLE);
  gtk_list_item_set_child (item, label);
}

static void
on_face_bind (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  const char *text = gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item)));
  GtkWidget *label = gtk_list_item_get_child (item);
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, text);
}

static GtkListItemFactory *
words_factory (gboolean ellipsized)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_signal_connect (factory, "setup", G_CALLBACK (on_face_setup), ellipsized ? factory : NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_face_bind), NULL);
  return factory;
}

GtkWidget *
fw_narrow_drop_down (GListModel *model)
{
  GtkWidget *drop = gtk_drop_down_new (model, NULL);
  g_autoptr (GtkListItemFactory) face = words_factory (TRUE), list = words_factory (FALSE);
  gtk_drop_down_set_factory (GTK_DROP_DOWN (drop), face);
  gtk_drop_down_set_list_factory (GTK_DROP_DOWN (drop), list);
  return drop;
}
