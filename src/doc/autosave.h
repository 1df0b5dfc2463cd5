/* Unsaved work kept safe: a copy in the user's state folder, offered again after a crash. */
#pragma once

#include "doc/document.h"

G_BEGIN_DECLS

typedef struct
{
  char *file;      /* the kept copy */
  char *original;  /* path of the design it belongs to; NULL: never saved */
  gint64 when;     /* Unix time, seconds */
} FwAutosave;

/* Writes (atomically) the document's present text as the kept copy of one window's session.
 * `session` is any short unique name (letters, digits, dash). */
gboolean fw_autosave_keep (const FwDocument *doc, const char *session, const char *original, GError **error);
/* Forgets it: saved, or closed on purpose. */
void fw_autosave_drop (const char *session);
/* Copies left by sessions that are no longer running (by a lock file or process id), newest first.
 * Array of FwAutosave*, free with g_ptr_array_unref. */
GPtrArray *fw_autosave_left_over (void);
void fw_autosave_discard (const FwAutosave *autosave);

G_END_DECLS
