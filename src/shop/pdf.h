/* Templates as a PDF file. */
#pragma once

#include "shop/progress.h"
#include "shop/templatepages.h"

G_BEGIN_DECLS

/* Writes every page at true size, whole or not at all (beside the target, then renamed). Same pages,
 * same bytes: no date is written. FALSE: error set; G_IO_ERROR_CANCELLED if it was told to stop. */
gboolean fw_template_write_pdf (const FwTemplatePages *pages, const char *path,
                                const FwProgress *progress, GError **error);

G_END_DECLS
