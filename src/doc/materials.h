/* What materials weigh, and how stiff and strong they are: the program's table (data/materials.json)
 * with a design's own values on top. Internal to this layer but for fw_material_find (). */
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

G_END_DECLS
