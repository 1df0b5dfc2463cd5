/* settings.ini, in which versions up to 0.1 kept everything. */
#pragma once

#include "app/settings.h"

G_BEGIN_DECLS

/* Takes over what it holds and can be understood. FALSE if there is no such file. */
gboolean fw_settings_take_old (FwSettings *settings, const char *path);

G_END_DECLS
