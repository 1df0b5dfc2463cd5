/* How each number of a design file grows with size. Internal to this layer. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

G_BEGIN_DECLS

/* Multiplies every number below `root` by the factor to the power its key path has; what is on no list
 * stays. Writes out defaults that do not grow by themselves. Removes what stays behind. FALSE: no memory. */
gboolean fw_scale_tree (cJSON *root, double factor);

/* Puts every panel's moments of inertia under the key that holds numbers of their size. */
gboolean fw_scale_inertias (cJSON *root);

/* The number at `key` becomes `value`, there before or not. */
gboolean fw_scale_put (cJSON *object, const char *key, double value);

G_END_DECLS
