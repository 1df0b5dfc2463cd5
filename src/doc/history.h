/* Undo and redo over whole trees. Internal to this layer; knows nothing of designs.
 *
 * States stand in a row; each but the first has the label of the step that led to it. The oldest
 * states go when there are more than FW_HISTORY_STEPS. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

G_BEGIN_DECLS

#define FW_HISTORY_STEPS 1000

typedef struct FwHistory FwHistory;

/* Takes the tree over; it counts as saved. */
FwHistory *fw_history_new (cJSON *tree);
void fw_history_free (FwHistory *history);

/* The present state; stays the history's. */
const cJSON *fw_history_tree (const FwHistory *history);

/* Takes the tree over as a new present state; what could be redone is gone. `merge_key` not NULL and
 * equal to that of the step just made: it takes the place of that step's state. */
void fw_history_push (FwHistory *history, cJSON *tree, const char *label, const char *merge_key);
void fw_history_end_merge (FwHistory *history);

/* The tree one step back or ahead, or NULL; and the move itself. */
const cJSON *fw_history_peek (const FwHistory *history, int direction);
void fw_history_move (FwHistory *history, int direction);
const char *fw_history_undo_label (const FwHistory *history);
const char *fw_history_redo_label (const FwHistory *history);

/* The present state is what the file holds; whether it still is. */
void fw_history_mark_saved (FwHistory *history);
gboolean fw_history_is_saved (const FwHistory *history);

G_END_DECLS
