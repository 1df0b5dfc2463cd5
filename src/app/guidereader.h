/* A page of the guide in a window of its own, at one of its sections. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* `place` is a page and a section: "model.md#3-panels". A page that is not installed is said in the window. */
void fw_guide_reader_show (GtkWindow *parent, const char *place);

G_END_DECLS
