/* The demos as cards with a small picture each.
 *
 * Signal: chosen (string: path) */
#pragma once

#include <gtk/gtk.h>

#include "draw/style.h"

G_BEGIN_DECLS

#define FW_TYPE_DEMO_LIST (fw_demo_list_get_type ())
G_DECLARE_FINAL_TYPE (FwDemoList, fw_demo_list, FW, DEMO_LIST, GtkWidget)

GtkWidget *fw_demo_list_new (const char *folder, FwTheme theme);
int fw_demo_list_count (FwDemoList *self);

G_END_DECLS
