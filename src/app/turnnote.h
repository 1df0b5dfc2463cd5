/* Says, with a spinner, that the whole turn of a large design is still being worked out; out of sight else. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

GtkWidget *fw_turn_note_new (FwSession *session);

/* Its words, for where they stand elsewhere. */
const char *fw_turn_note_words (void);

G_END_DECLS
