/* The build log inside the tree. Internal to this layer.
 *
 * A log holds whole designs, and undo holds whole trees, so every state would hold every logged
 * design again. Therefore the log of a tree in the history is a cJSON reference to entries that the
 * document owns, and a change to anything else copies none of it. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

G_BEGIN_DECLS

/* A deep copy but for the log, which refers to the same entries. NULL when memory runs out. */
cJSON *fw_log_tree_copy (const cJSON *tree);

/* Moves the entries of the tree's log, if it has one of its own, to `owners` (cJSON*, freed with
 * cJSON_Delete), and makes the log refer to them. FALSE when memory runs out; nothing has changed. */
gboolean fw_log_tree_share (cJSON *tree, GPtrArray *owners);

/* That the tree's log is as docs/file-format.md has it; the tree itself must state a valid design. */
gboolean fw_log_tree_check (const cJSON *tree, const char *name, GError **error);

/* A date or date and time as ISO 8601 writes it: 2026-03-14, 2026-03-14T18:30, with seconds and with
 * Z or +01:00 where known. */
gboolean fw_log_date_is_valid (const char *date);

G_END_DECLS
