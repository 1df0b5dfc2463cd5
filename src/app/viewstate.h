/* How a window was left: its size and dividers, and, for each design, how it was looked at. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Before the window is shown. `path`: the design it is about to show, whose own size and dividers go before
 * those of the last window; NULL: none. */
void fw_view_state_lay_out (FwWindow *self, const char *path);
/* Dividers once more, for a window that came out larger than was asked for. */
void fw_view_state_place_dividers (FwWindow *self);

/* View, page of the margin and crank angle as its design was left; nothing if that is not known. */
void fw_view_state_take_up (FwWindow *self);

/* Remembers the window, and how its design is looked at, if it has a file. */
void fw_view_state_keep (FwWindow *self);

G_END_DECLS
