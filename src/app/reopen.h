/* Which designs are open, remembered from one start to the next. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Notes the designs of all windows but `leaving` (NULL: none leaves). The last window leaves its design noted, and so
 * do windows that close because the program quits. */
void fw_reopen_note (FwApplication *app, FwWindow *leaving);

/* Opens each design that was open in a window of its own, the one used last in front; what is not there any more is
 * passed over with a word. FALSE if there was nothing to open, or it is not wished: no window was made. */
gboolean fw_reopen (FwApplication *app);

G_END_DECLS
