#include "app/newdesign.h"

#include <glib/gi18n.h>

#include "app/ask.h"
#include "app/demolist.h"
#include "app/files.h"
#include "app/guide.h"
#include "app/look.h"

static void
then_open_demo (FwWindow *window, gpointer path)
{
  fw_files_open_demo (window, path);
}

static void
then_open_text (FwWindow *window, gpointer text)
{
  fw_files_open_text (window, text);
}

static void
on_demo (GtkWidget *list, const char *path, gpointer data)
{
  FwWindow *window = data;
  g_autofree char *copy = g_strdup (path); /* it goes with the dialog */
  gtk_window_destroy (GTK_WINDOW (gtk_widget_get_root (list)));
  fw_files_when_safe (window, then_open_demo, g_steal_pointer (&copy), g_free);
}

static void
on_built (GtkWidget *guide, const char *text, gpointer data)
{
  FwWindow *window = data;
  gtk_window_destroy (GTK_WINDOW (gtk_widget_get_root (guide)));
  fw_files_when_safe (window, then_open_text, g_strdup (text), g_free);
}

static GtkWidget *
heading (const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "fw-section");
  return label;
}

static GtkWidget *
column (const char *title, GtkWidget *content)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_box_append (GTK_BOX (box), heading (title));
  gtk_box_append (GTK_BOX (box), content);
  return box;
}

void
fw_new_design_show (FwWindow *window)
{
  FwSession *session = fw_window_session (window);
  GtkWindow *dialog = fw_dialog_new (GTK_WINDOW (window), _("New design"));
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);
  GtkWidget *guide = fw_guide_new (fw_session_lengths (session));
  g_autofree char *folder = fw_application_demo_folder ();
  GtkWidget *demos = fw_demo_list_new (folder, fw_session_theme (session));
  gboolean any = fw_demo_list_count (FW_DEMO_LIST (demos)) > 0;

  g_object_ref_sink (demos);
  g_signal_connect_object (guide, "built", G_CALLBACK (on_built), window, 0);
  g_signal_connect_object (demos, "chosen", G_CALLBACK (on_demo), window, 0);
  if (any)
    {
      GtkWidget *left = column (_("Begin with a demo"), demos);
      gtk_widget_set_hexpand (left, TRUE);
      gtk_widget_set_vexpand (demos, TRUE);
      gtk_box_append (GTK_BOX (page), left);
      gtk_box_append (GTK_BOX (page), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
    }
  g_object_unref (demos);
  gtk_box_append (GTK_BOX (page), column (_("Or answer a few questions"), guide));
  gtk_widget_add_css_class (page, "fw-page");
  gtk_window_set_child (dialog, page);
  int room = gtk_widget_get_height (GTK_WIDGET (window)) * 24 / 25;
  gtk_window_set_default_size (dialog, any ? 980 : -1, any ? CLAMP (room, 540, 760) : -1);
  gtk_window_present (dialog);
}
