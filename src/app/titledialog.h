/* The design's title, typed in a small window of its own; one step of undo. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

void fw_title_dialog_show (FwWindow *window);

G_END_DECLS
