/* The dialog that exports the motion strip, with a preview of the plate. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

void fw_export_show (FwWindow *window);

G_END_DECLS
