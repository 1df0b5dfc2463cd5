/* Photos that belong to the log, read from beside the design. */
#pragma once

#include <cairo.h>

#include "shop/logbook.h"

G_BEGIN_DECLS

/* The picture upright (as the camera says), at most `most` px on its longer side, as a surface that a
 * PDF keeps as a JPEG. NULL: *why is a sentence for people (g_free): not there, not a picture. */
cairo_surface_t *fw_log_picture_load (const char *folder, const char *file, int most, char **why);

/* Where the file of a picture lies; NULL where it is no regular file or no picture, with *why as above. */
char *fw_log_picture_path (const char *folder, const char *file, char **why);

G_END_DECLS
