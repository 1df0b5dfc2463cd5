/* A small drawing for every explanation of doc/explain.h, by its id. */
#pragma once

#include "draw/sketch.h"

G_BEGIN_DECLS

/* Laid out; NULL where there is none. Free with fw_sketch_free (). */
FwSketch *fw_explain_sketch (const char *id, const FwStyle *style);

/* On `box`, keeping the proportions; nothing where there is none. */
void fw_draw_explain (cairo_t *cr, const char *id, const FwStyle *style, FwBox box);

/* PNG, or SVG by the name's ending. One line of error that names the file. */
gboolean fw_explain_picture_write (const char *id, FwTheme theme, const char *path, GError **error);

G_END_DECLS
