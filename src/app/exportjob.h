/* The motion strip drawn beside the main loop, from a copy of the design: to a picture or to a file. */
#pragma once

#include <gio/gio.h>

#include "doc/document.h"
#include "draw/motionstrip.h"

G_BEGIN_DECLS

/* The plate shrunk to fit into a box of `width` by `height` px; transparent around it is nothing: the
 * surface is as large as the shrunk plate. */
void fw_export_preview_async (const FwDocument *doc, const FwMotionStrip *strip, int width, int height,
                              GCancellable *cancel, GAsyncReadyCallback done, gpointer data);
/* The picture, and the size of the whole plate in px; NULL with an error. cairo_surface_destroy it. */
cairo_surface_t *fw_export_preview_finish (GAsyncResult *result, int *plate_width, int *plate_height, GError **error);

void fw_export_write_async (const FwDocument *doc, const FwMotionStrip *strip, const char *path,
                            GAsyncReadyCallback done, gpointer data);
/* The path written, or NULL with an error. Free with g_free. */
char *fw_export_write_finish (GAsyncResult *result, GError **error);

G_END_DECLS
