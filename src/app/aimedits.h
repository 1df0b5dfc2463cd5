/* Wishes and versions of a session's document: each edit is a step of undo, and is told where it is refused. */
#pragma once

#include "aim/wish.h"
#include "app/session.h"

G_BEGIN_DECLS

/* Those of the document, read once for each of its states; borrowed until the next change. Never NULL. */
const FwWishes *fw_session_wishes (FwSession *self);

/* Takes `wishes` over. `label`: what undo calls the step. */
gboolean fw_session_set_wishes (FwSession *self, FwWishes *wishes, const char *label);

/* A number may change, as far as its slider goes, or may not. */
gboolean fw_session_number_is_free (FwSession *self, FwParam param);
void fw_session_free_number (FwSession *self, FwParam param, gboolean free);

/* Whether the wishes make sense, those without any free number included. */
gboolean fw_session_check_wishes (FwSession *self, const FwWishes *wishes, GError **error);

gboolean fw_session_keep_version (FwSession *self, const char *name);
gboolean fw_session_rename_version (FwSession *self, int version, const char *name);
gboolean fw_session_remove_version (FwSession *self, int version);
gboolean fw_session_bring_back (FwSession *self, int version);

G_END_DECLS
