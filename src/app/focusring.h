/* Whoever uses the keyboard sees where it is, for as long as that is wanted: GTK takes the ring away after 3 seconds. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* In all windows, those that come too. Once, when the program starts. A pointer pressed takes the ring away. */
void fw_focus_ring_keep (void);

G_END_DECLS
