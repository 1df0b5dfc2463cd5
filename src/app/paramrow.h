/* One number of the design: its short name, an entry and a slider with its band.
 *
 * A row shows whichever number it is bound to. Style classes "param-row", and "error" on an entry
 * that holds bad text. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_PARAM_ROW (fw_param_row_get_type ())
G_DECLARE_FINAL_TYPE (FwParamRow, fw_param_row, FW, PARAM_ROW, GtkWidget)

/* What the number was before the user's changes, file unit; FALSE: it was not there. */
typedef gboolean (*FwSavedValue) (gpointer data, FwParam param, double *value);

GtkWidget *fw_param_row_new (FwSession *session, int index, FwSavedValue saved, gpointer saved_data);

void fw_param_row_focus (FwParamRow *self);

/* Before it goes, as the design has other numbers by now: it changes none any more. */
void fw_param_row_let_go (FwParamRow *self);

/* Shows the present value; the slider's range stays while it is held. */
void fw_param_row_refresh (FwParamRow *self);
/* Bands: asks for those of the slider's present range and shows what is there; shows only; marks
 * those shown as out of date. */
void fw_param_row_ask_bands (FwParamRow *self);
void fw_param_row_stale_bands (FwParamRow *self);

G_END_DECLS
