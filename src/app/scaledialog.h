/* From the paper one to the big one: the dialog of another size. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

void fw_scale_dialog_show (FwWindow *window);

G_END_DECLS
