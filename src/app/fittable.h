/* A table of measurements to type: crank angle, what, value. Kept in the design file; a row that cannot be read is
 * marked in its place and stays here alone. */
#pragma once

#include <gtk/gtk.h>

#include "aim/measured.h"
#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_FIT_TABLE (fw_fit_table_get_type ())
G_DECLARE_FINAL_TYPE (FwFitTable, fw_fit_table, FW, FIT_TABLE, GtkWidget)

/* Signal: "changed". */
GtkWidget *fw_fit_table_new (FwSession *session);

/* A row at a crank angle. `what` NULL: as the row before it, or the first panel's angle. `value` NaN: to be typed; it
 * then gets the keyboard. */
void fw_fit_table_add (FwFitTable *self, double crank_deg, const char *what, double value);

/* Adds what a table says, or puts it in place of all rows. FALSE and one line where it cannot be read. */
gboolean fw_fit_table_read (FwFitTable *self, const char *text, const char *name, gboolean replace, GError **error);

/* As such a table; free with g_free. */
char *fw_fit_table_text (FwFitTable *self);

/* FwMeasurement of all rows that are whole, by the session's mechanism; `bad`: rows that are marked. Free with
 * g_array_unref (). */
GArray *fw_fit_table_list (FwFitTable *self, int *bad);

/* The measured angle of a member at a crank angle, rad; NaN: not measured. */
double fw_fit_table_angle (FwFitTable *self, int member, double crank_deg);

G_END_DECLS
