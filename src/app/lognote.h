/* Writing in the build log: a new entry, the note of an old one, and a quick note. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* The present design as a new entry: date, note, pictures. */
void fw_log_note_new (FwWindow *window, GtkWindow *parent);
/* The note of an entry. */
void fw_log_note_edit (FwWindow *window, GtkWindow *parent, int index);
/* A note and nothing else, in a popover at `place`, a widget of the window. */
void fw_log_note_quick (FwWindow *window, GtkWidget *place);

G_END_DECLS
