/* The page of the margin that shows loads: the torque around the turn, and the table of peaks.
 * Style class "loads-page". */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_LOADS_PAGE (fw_loads_page_get_type ())
G_DECLARE_FINAL_TYPE (FwLoadsPage, fw_loads_page, FW, LOADS_PAGE, GtkWidget)

GtkWidget *fw_loads_page_new (FwSession *session);

/* Puts the keyboard into the table. */
void fw_loads_page_focus (FwLoadsPage *self);

G_END_DECLS
