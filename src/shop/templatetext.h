/* Words on templates, as glyphs. */
#pragma once

#include <pango/pangocairo.h>

#include "shop/template.h"

G_BEGIN_DECLS

/* A context whose glyphs stand where they are put, not on whole px. */
PangoContext *fw_cut_text_context (void);

/* The words laid out, `scale` px for a mm; free with g_object_unref. */
PangoLayout *fw_cut_text_layout (PangoContext *context, const char *text, double size_mm,
                                 gboolean bold_first, double scale);

/* The outlines of the glyphs as they stand on the part, mm; free with cairo_path_destroy. */
cairo_path_t *fw_cut_text_path (PangoContext *context, const FwCutText *text);

G_END_DECLS
