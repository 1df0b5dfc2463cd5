/* Where each number of a design stands in the file. Internal to this layer. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

#include "core/design.h"

G_BEGIN_DECLS

/* True if the number is one that the design has, by its index and component. */
gboolean fw_tree_has_param (const FwDesign *design, FwParam param);

/* The key path of the part that a number is of: "rods.pull", "body"; free with g_free. */
char *fw_param_part_path (const FwDesign *design, FwParam param);

/* Sets one number of the tree that `design` was read from; a key that is left out is made. FALSE if
 * the design has no such number or memory runs out: the tree may then be half changed. */
gboolean fw_tree_set_param (cJSON *tree, const FwDesign *design, FwParam param, double value);

/* Puts text under a key of an object, after the key `after` if that is there and the key is new. */
gboolean fw_tree_set_text (cJSON *object, const char *key, const char *text, const char *after);

G_END_DECLS
