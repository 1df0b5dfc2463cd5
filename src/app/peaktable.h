/* The table of peak loads. A row goes to its crank angle and picks its part. Arrow keys and Enter, or a
 * click. Style class "peak-table". */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_PEAK_TABLE (fw_peak_table_get_type ())
G_DECLARE_FINAL_TYPE (FwPeakTable, fw_peak_table, FW, PEAK_TABLE, GtkWidget)

GtkWidget *fw_peak_table_new (FwSession *session);

/* Puts the keyboard on the picked row or the first. */
void fw_peak_table_focus (FwPeakTable *self);

G_END_DECLS
