/* What of a part is no number: its choices, its name, and the way to take it away; and the menu that
 * adds one. */
#pragma once

#include <gtk/gtk.h>

#include "app/paramgroup.h"

G_BEGIN_DECLS

#define FW_TYPE_PART_TOOLS (fw_part_tools_get_type ())
G_DECLARE_FINAL_TYPE (FwPartTools, fw_part_tools, FW, PART_TOOLS, GtkWidget)

/* Choices, name and Remove of the part that a group of numbers is about. Follows the session. */
GtkWidget *fw_part_tools_new (FwSession *session, FwPartKey key);

/* A menu button with one entry a kind; what is added stands beside the part that is picked. */
GtkWidget *fw_part_add_button_new (FwSession *session);

G_END_DECLS
