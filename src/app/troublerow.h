/* One trouble: a mark told by shape and colour, a sentence, and below it, when it is picked, what
 * would mend it. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_TROUBLE_ROW (fw_trouble_row_get_type ())
G_DECLARE_FINAL_TYPE (FwTroubleRow, fw_trouble_row, FW, TROUBLE_ROW, GtkListBoxRow)

GtkWidget *fw_trouble_row_new (FwSession *session);

/* Shows the trouble at `index` of the session's list; `twin`: index of the same on the other side,
 * told in the same row, or -1. */
void fw_trouble_row_set (FwTroubleRow *self, int index, int twin);
/* It is no longer in the list: says so until it is taken away. */
void fw_trouble_row_set_mended (FwTroubleRow *self);

const FwTrouble *fw_trouble_row_trouble (FwTroubleRow *self);
int fw_trouble_row_index (FwTroubleRow *self); /* -1: mended */
gboolean fw_trouble_row_has (FwTroubleRow *self, int index); /* also as the twin */

/* Shows what mends it, asking for that first; FALSE takes it away. */
void fw_trouble_row_show_remedies (FwTroubleRow *self, gboolean show);
/* What is shown is out of date, as while a number is dragged: it cannot be pressed. */
void fw_trouble_row_hold_remedies (FwTroubleRow *self);

G_END_DECLS
