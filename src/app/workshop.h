/* The workshop: a window beside a design's own, with what it takes to build it. It follows the design
 * while it is edited; what is not laid out anew yet is greyed. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* The workshop of this window's design, made if it is not open yet. It goes with the window. */
void fw_workshop_show (FwWindow *window);

G_END_DECLS
