/* What a window does when another program changes, removes or moves the file of its design. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Looks and says what it found. A design without changes takes what is on disk, as a step of undo; one
 * with changes is left as it is until the question is answered. */
void fw_disk_offer_look (FwWindow *window, gboolean closely);

/* TRUE if saving would put the design in the place of something that this program never saw. */
gboolean fw_disk_offer_must_ask (FwWindow *window);

/* The design is now what a file holds: `text` as of fw_disk_watch_set (). */
void fw_disk_offer_known (FwWindow *window, const char *path, const char *text, gsize length);

G_END_DECLS
