/* What differs between two designs, in words. Internal to this layer. */
#pragma once

#include <cjson/cJSON.h>

#include "doc/log.h"

G_BEGIN_DECLS

/* Which part of the older design a part of the newer one is: index, or -1 for a new part. */
typedef struct
{
  int *throws, *panels, *rods;
} FwPartMap;

/* Lines for all that differs; trees and designs belong together. FW_LOG_SAME where nothing does. */
GPtrArray *fw_tree_changes (const cJSON *before_tree, const FwDesign *before, const cJSON *after_tree,
                            const FwDesign *after, FwLengths lengths);

/* Known by name; then, of those left over, by nearly the same keys. Lines say what is new, gone and
 * renamed. Free with fw_part_map_clear (). */
void fw_part_map_make (FwPartMap *map, GPtrArray *lines, const cJSON *before_tree,
                       const FwDesign *before, const cJSON *after_tree, const FwDesign *after);
void fw_part_map_clear (FwPartMap *map);

/* How parts are joined: ride, sides, what rods start from and drive. */
void fw_joint_changes (GPtrArray *lines, const FwPartMap *map, const FwDesign *before,
                       const FwDesign *after);

/* Keys of the file that are no sliders' numbers and say nothing of how parts are joined. */
void fw_key_changes (GPtrArray *lines, const FwPartMap *map, const cJSON *before,
                     const cJSON *after, FwLengths lengths);

G_END_DECLS
