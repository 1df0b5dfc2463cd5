/* Changes of the build log, each one step of undo, said in the window's message. */
#pragma once

#include "app/session.h"
#include "doc/log.h"

G_BEGIN_DECLS

/* Today as an entry's date: 2026-03-14. Free with g_free. */
char *fw_log_today (void);

/* FALSE: error set, one line for people; nothing has changed. `pictures`: files anywhere; those outside
 * the design's folder are copied into a folder beside the design first, which takes its saved name. */
gboolean fw_log_edit_add (FwSession *session, const char *date, const char *note, const FwLogPicture *pictures, int n,
                          GError **error);
gboolean fw_log_edit_note (FwSession *session, int index, const char *note, GError **error);
void fw_log_edit_remove (FwSession *session, int index);
/* Logs that it was brought back, too. */
void fw_log_edit_bring_back (FwSession *session, int index);

G_END_DECLS
