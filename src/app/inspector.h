/* Every number of the design, grouped by part, found by typing part of its name; each with a slider,
 * an entry and a band of the values that go round. Follows the picked part. Style class "inspector". */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_INSPECTOR (fw_inspector_get_type ())
G_DECLARE_FINAL_TYPE (FwInspector, fw_inspector, FW, INSPECTOR, GtkWidget)

GtkWidget *fw_inspector_new (FwSession *session);

/* Searches for a name as if it was typed, and goes to the first number found. */
void fw_inspector_search (FwInspector *self, const char *name);

/* Brings a number (index in fw_session_params ()) into sight and gives it the keyboard. */
void fw_inspector_show_number (FwInspector *self, int index);

/* Puts the keyboard into the search field. */
void fw_inspector_focus_search (FwInspector *self);

G_END_DECLS
