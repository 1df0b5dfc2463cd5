/* Pages of the window's margin for wishes, what helps and versions, and the actions that open them. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Called once when the window is made. */
void fw_window_add_aim (FwWindow *self);
/* Gives the keyboard to a page of these; FALSE: it is another's. */
gboolean fw_window_focus_aim (FwWindow *self, const char *page);

G_END_DECLS
