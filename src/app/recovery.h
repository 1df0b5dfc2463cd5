/* Work left over by a program that ended without saving: offered again. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Offers the newest left-over copy in the window's message bar, then the next, as long as there are
 * any. One window of the program offers them. */
void fw_recovery_offer (FwWindow *window);

G_END_DECLS
