/* What another size weighs, asks and bears, and where on the way it stops working: the right half of the dialog. */
#pragma once

#include <gtk/gtk.h>

#include "app/scalejob.h"
#include "doc/units.h"
#include "draw/style.h"

G_BEGIN_DECLS

#define FW_TYPE_SCALE_TABLE (fw_scale_table_get_type ())
G_DECLARE_FINAL_TYPE (FwScaleTable, fw_scale_table, FW, SCALE_TABLE, GtkWidget)

GtkWidget *fw_scale_table_new (FwLengths lengths, FwTheme theme);

/* Borrowed until the next call; NULL: nothing is known. */
void fw_scale_table_show (FwScaleTable *self, const FwScaleAnswer *answer);

/* Pale while a new answer is awaited. */
void fw_scale_table_set_stale (FwScaleTable *self, gboolean stale);

G_END_DECLS
