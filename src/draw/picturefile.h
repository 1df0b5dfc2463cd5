/* Pictures as files: drawn into memory first, so that whatever fails leaves the old file whole. */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

/* A cairo_write_func_t that adds to a GByteArray. */
cairo_status_t fw_picture_gather (void *bytes, const unsigned char *data, unsigned int length);

/* Writes an image surface as PNG by fw_file_replace (). One line of error that names the file. */
gboolean fw_picture_write_png (cairo_surface_t *surface, const char *path, GError **error);

/* The one line for a picture that cannot be drawn; always FALSE. */
gboolean fw_picture_refuse (const char *path, const char *why, GError **error);

G_END_DECLS
