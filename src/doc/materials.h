/* What materials weigh, and how stiff and strong they are: the program's table (data/materials.json)
 * with a design's own values on top. Internal to this layer but for fw_material_find () and
 * fw_material_words (). */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

#include "core/design.h"

G_BEGIN_DECLS

/* The material that a maker's word means: the table's entry whose name is the longest one found in it
 * ("hard copper tube" is copper, "corrugated bc" not "corrugated b"). `own`: an object of a design's
 * own materials by name, looked at first; may be NULL. FALSE: not known, *out untouched. */
gboolean fw_material_find (const char *material, const cJSON *own, FwStuff *out);

/* Names of all materials (char*, in the table's order), the design's own behind; g_ptr_array_unref (). */
GPtrArray *fw_material_names (const cJSON *own);

/* As people read it: a word of the table, or one that the program or a demo writes, in the reader's language;
 * any other as it was typed. Borrowed. */
const char *fw_material_words (const char *material);

G_END_DECLS
