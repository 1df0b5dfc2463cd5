/* Shows a long box bit by bit: what is out of sight is not laid out, and GTK lays out a thousand lines in seconds. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* All children but the first `first` are hidden, and come `step` at a time when the window has drawn. Called again
 * after the box was filled anew. Children that are hidden on purpose stay so. */
void fw_reveal_slowly (GtkWidget *box, guint first, guint step);

G_END_DECLS
