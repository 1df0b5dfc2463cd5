/* Values put into the objects of a tree, where memory may run out at each. */
#pragma once

#include <glib.h>

#include <cjson/cJSON.h>

G_BEGIN_DECLS

/* Each puts a value under a key, in the place of what stood there, else at the end. FALSE: no memory; then what stood
 * there is still there. `object` NULL is such a FALSE too, so that calls can be chained. */

/* Takes the item over, whatever comes of it. */
gboolean fw_put_item (cJSON *object, const char *key, cJSON *item);
/* A number in the file's unit; the spelling it was read with is dropped. */
gboolean fw_put_number (cJSON *object, const char *key, double value);
gboolean fw_put_numbers (cJSON *object, const char *key, const double *values, int n);
gboolean fw_put_text (cJSON *object, const char *key, const char *text);

G_END_DECLS
