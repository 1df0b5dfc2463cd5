/* The build log as Markdown with pictures. */
#pragma once

#include "shop/logbook.h"

G_BEGIN_DECLS

/* The log as Markdown text whose pictures stand under `pictures` ("heron-pictures"); NULL: without
 * pictures. Notes and names are escaped, so that they are shown as written. Free with g_free. */
char *fw_logbook_markdown (const FwLogbook *book, const char *pictures);

/* `path` ends in .md: that file, and beside it a folder of its pictures, named as the file with
 * -pictures for .md. Any other `path`: a folder with log.md and a folder pictures. Whole or not at
 * all: the folder is filled beside its place and renamed; a folder that is there is replaced only if
 * it is an exported log or empty. FALSE: error set, nothing has changed. */
gboolean fw_logbook_write_markdown (const FwLogbook *book, const char *path, const FwProgress *progress,
                                    GError **error);

/* As PDF: A4 or, with lengths in inches, Letter. Whole or not at all. */
gboolean fw_logbook_write_pdf (const FwLogbook *book, const char *path, const FwProgress *progress,
                               GError **error);

G_END_DECLS
