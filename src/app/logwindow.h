/* The build log in a window of its own beside the main one: entries newest first, what changed, what
 * that did, strips; new entries, notes, bringing back. All changes are steps of undo of the design. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Opens it, or brings it to the front. */
void fw_log_window_show (FwWindow *window);

G_END_DECLS
