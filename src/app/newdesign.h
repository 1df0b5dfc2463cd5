/* The window for a new design: from a demo, or by the guided start. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

void fw_new_design_show (FwWindow *window);

G_END_DECLS
