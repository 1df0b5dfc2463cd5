/* Unsaved work of one window kept safe while it is edited, and offered again after a crash. */
#pragma once

#include "app/session.h"

G_BEGIN_DECLS

typedef struct FwKeeper FwKeeper;

/* Watches the session, which must outlive it. */
FwKeeper *fw_keeper_new (FwSession *session);
/* Forgets the kept copy: the window was closed on purpose. */
void fw_keeper_free (FwKeeper *self);

/* The document is another one, or was saved: nothing is to be kept. `unsaved`: it is new and was never
 * saved, so that it is unsaved without any edit. */
void fw_keeper_forget (FwKeeper *self, gboolean unsaved);

/* TRUE if work would be lost with the document. */
gboolean fw_keeper_unsaved (FwKeeper *self);

/* Keeps a copy now, as the clock does. FALSE, and said, if there is work that could not be kept. */
gboolean fw_keeper_keep (FwKeeper *self);

G_END_DECLS
