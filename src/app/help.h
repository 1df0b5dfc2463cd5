/* Help: what to try and what to mind, the keys, and about the program. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

void fw_help_show (GtkWindow *parent);
void fw_help_show_keys (GtkWindow *parent);
void fw_help_show_about (GtkWindow *parent);

G_END_DECLS
