/* Works out what the log's window shows, one entry after the other beside the main loop: first what is
 * in sight, then the lines of the rest. Strips and photos are made for what is in sight only. */
#pragma once

#include "app/logitem.h"
#include "app/session.h"

G_BEGIN_DECLS

typedef struct FwLogReader FwLogReader;

/* `items`: FwLogItem, newest first. Both must outlive the reader. */
FwLogReader *fw_log_reader_new (FwSession *session, GListModel *items);
void fw_log_reader_free (FwLogReader *self);

/* Something new may be wanted: rows came in sight, the log changed. Cheap. */
void fw_log_reader_wake (FwLogReader *self);
/* Units or colours changed: lines or strips are made anew. */
void fw_log_reader_forget (FwLogReader *self, gboolean lines, gboolean strips);
/* Size of what is drawn, in device pixels a pixel. */
void fw_log_reader_set_scale (FwLogReader *self, int scale);

/* A box that strips fit into, px. */
#define FW_LOG_STRIP_WIDTH 820
#define FW_LOG_STRIP_HEIGHT 108
#define FW_LOG_PHOTO 168 /* the longer side of a photo, px */

G_END_DECLS
