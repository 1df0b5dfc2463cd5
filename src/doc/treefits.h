/* Whether a tree, once written, can be read again: not too deep, not too large. Internal to this
 * layer. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  const cJSON *first; /* of the section's items; NULL: none measured */
  gsize size;         /* bytes */
  int depth;
} FwTreeMeasure;

/* What was measured of the sections that many trees refer to (see logtree.h): a drag over a long
 * log measures it once. All zero to begin with; such a section must not be freed while this is in
 * use. */
typedef struct
{
  FwTreeMeasure log, versions;
} FwTreeMeasures;

/* FALSE with one line, "NAME: ...": it would lie deeper than FW_JSON_DEPTH or be larger than
 * FW_LARGEST_FILE as fw_json_print () writes it. */
gboolean fw_tree_fits (const cJSON *tree, FwTreeMeasures *measures, const char *name,
                       GError **error);

G_END_DECLS
