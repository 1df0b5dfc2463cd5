#include "doc/history.h"

typedef struct
{
  cJSON *tree;
  char *label; /* of the step that led here; NULL for the first state */
} State;

struct FwHistory
{
  GPtrArray *states;
  int at;
  int saved;       /* -1: the saved state is no longer among them */
  char *merge_key; /* of the step just made; NULL: the next one stands alone */
};

static void
state_free (gpointer data)
{
  State *state = data;
  cJSON_Delete (state->tree);
  g_free (state->label);
  g_free (state);
}

static State *
state_new (cJSON *tree, const char *label)
{
  State *state = g_new (State, 1);
  *state = (State){ .tree = tree, .label = g_strdup (label) };
  return state;
}

static State *
state_at (const FwHistory *history, int index)
{
  if (index < 0 || index >= (int)history->states->len)
    return NULL;
  return g_ptr_array_index (history->states, index);
}

FwHistory *
fw_history_new (cJSON *tree)
{
  FwHistory *history = g_new0 (FwHistory, 1);
  history->states = g_ptr_array_new_with_free_func (state_free);
  g_ptr_array_add (history->states, state_new (tree, NULL));
  return history;
}

void
fw_history_free (FwHistory *history)
{
  if (!history)
    return;
  g_ptr_array_unref (history->states);
  g_free (history->merge_key);
  g_free (history);
}

const cJSON *
fw_history_tree (const FwHistory *history)
{
  return state_at (history, history->at)->tree;
}

static void
drop_oldest (FwHistory *history)
{
  g_ptr_array_remove_index (history->states, 0);
  g_clear_pointer (&state_at (history, 0)->label, g_free);
  history->at--;
  history->saved = MAX (history->saved - 1, -1);
}

void
fw_history_push (FwHistory *history, cJSON *tree, const char *label, const char *merge_key)
{
  int top = (int)history->states->len - 1;

  /* A state that is saved must stay reachable, so nothing merges into it. */
  gboolean merges = merge_key && history->at > 0 && history->at == top
                    && history->saved != history->at
                    && g_strcmp0 (merge_key, history->merge_key) == 0;
  if (merges)
    {
      State *state = state_at (history, history->at);
      cJSON_Delete (state->tree);
      state->tree = tree;
      return;
    }

  if (history->saved > history->at)
    history->saved = -1;
  g_ptr_array_set_size (history->states, history->at + 1);
  g_ptr_array_add (history->states, state_new (tree, label ? label : ""));
  history->at++;
  g_free (history->merge_key);
  history->merge_key = g_strdup (merge_key);
  if (history->states->len > FW_HISTORY_STEPS + 1)
    drop_oldest (history);
}

void
fw_history_end_merge (FwHistory *history)
{
  g_clear_pointer (&history->merge_key, g_free);
}

const cJSON *
fw_history_peek (const FwHistory *history, int direction)
{
  State *state = state_at (history, history->at + direction);
  return state ? state->tree : NULL;
}

void
fw_history_move (FwHistory *history, int direction)
{
  g_return_if_fail (fw_history_peek (history, direction));
  history->at += direction;
  fw_history_end_merge (history);
}

const char *
fw_history_undo_label (const FwHistory *history)
{
  return state_at (history, history->at)->label;
}

const char *
fw_history_redo_label (const FwHistory *history)
{
  State *state = state_at (history, history->at + 1);
  return state ? state->label : NULL;
}

void
fw_history_mark_saved (FwHistory *history)
{
  history->saved = history->at;
}

gboolean
fw_history_is_saved (const FwHistory *history)
{
  return history->saved == history->at;
}
