/* The smallest GTK window: what start-up and memory are measured against. */
#include <gtk/gtk.h>

static void
activate (GtkApplication *app, gpointer unused)
{
  gtk_window_present (GTK_WINDOW (gtk_application_window_new (app)));
}

int
main (int argc, char **argv)
{
  GtkApplication *app = gtk_application_new (NULL, G_APPLICATION_NON_UNIQUE);
  g_signal_connect (app, "activate", G_CALLBACK (activate), NULL);
  return g_application_run (G_APPLICATION (app), argc, argv);
}
