/* Tolerance, scale and the real thing in a window: their pages, actions and keys. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Adds pages to the margin and actions "tolerance", "scale", "real-thing". After the window's own. */
void fw_window_add_aiming (FwWindow *self);

G_END_DECLS
