/* The build log and the versions inside the tree. Internal to this layer.
 *
 * Both hold whole designs, and undo holds whole trees, so every state would hold every one of these designs
 * again. Therefore the log and the versions of a tree in the history are cJSON references to entries that
 * the document owns, and a change to anything else copies none of them. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

G_BEGIN_DECLS

/* A deep copy but for log and versions, which refer to the same entries. NULL when memory runs out. */
cJSON *fw_log_tree_copy (const cJSON *tree);

/* Moves the entries of the tree's log and versions, where it has any of its own, to `owners` (cJSON*, freed
 * with cJSON_Delete), and makes both refer to them. FALSE when memory runs out; what was not moved is then
 * the tree's own still. */
gboolean fw_log_tree_share (cJSON *tree, GPtrArray *owners);

/* A list of references to the entries of another (log or versions; NULL: empty), but for `skip` (-1: none), which is
 * replaced by `instead` (NULL: left out), and with `added` (may be NULL) at the end. Takes both over. NULL: no memory. */
cJSON *fw_log_tree_list (const cJSON *list, int skip, cJSON *instead, cJSON *added);

/* An entry with another text under `key` (after `after` where that is new); its design is referred to, not copied.
 * NULL: no memory. */
cJSON *fw_log_tree_entry (const cJSON *entry, const char *key, const char *text, const char *after);

/* That the tree's log is as docs/file-format.md has it; the tree itself must state a valid design. */
gboolean fw_log_tree_check (const cJSON *tree, const char *name, GError **error);

/* A date or date and time as ISO 8601 writes it: 2026-03-14, 2026-03-14T18:30, with seconds and with
 * Z or +01:00 where known. */
gboolean fw_log_date_is_valid (const char *date);

G_END_DECLS
