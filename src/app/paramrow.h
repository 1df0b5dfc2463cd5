/* One number of the design: its short name, an entry and a slider with its band.
 *
 * A row shows whichever number it is bound to, so that a list may use it again for another.
 * Style classes "param-row", and "error" on an entry that holds bad text. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_PARAM_ROW (fw_param_row_get_type ())
G_DECLARE_FINAL_TYPE (FwParamRow, fw_param_row, FW, PARAM_ROW, GtkWidget)

GtkWidget *fw_param_row_new (FwSession *session);

/* `index` in fw_session_params (); -1: nothing. */
void fw_param_row_bind (FwParamRow *self, int index);
int fw_param_row_index (FwParamRow *self);

/* Shows the present value; the slider's range stays while it is held. */
void fw_param_row_refresh (FwParamRow *self);
/* Asks for the bands of the slider's present range and shows what is there. */
void fw_param_row_ask_bands (FwParamRow *self);
void fw_param_row_show_bands (FwParamRow *self);

G_END_DECLS
