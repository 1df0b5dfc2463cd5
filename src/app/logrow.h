/* One entry of the build log as a row of the log's list: a widget that is used again for other entries
 * as the list scrolls. Its buttons call the actions "log.edit", "log.back", "log.remove" and
 * "log.unfold" with the entry's index, "log.photo" with (index, picture), "log.new" without. */
#pragma once

#include "app/logitem.h"

G_BEGIN_DECLS

#define FW_TYPE_LOG_ROW (fw_log_row_get_type ())
G_DECLARE_FINAL_TYPE (FwLogRow, fw_log_row, FW, LOG_ROW, GtkWidget)

GtkWidget *fw_log_row_new (void);
/* NULL: shows none. */
void fw_log_row_set_item (FwLogRow *self, FwLogItem *item);
FwLogItem *fw_log_row_item (FwLogRow *self); /* NULL: none */

G_END_DECLS
