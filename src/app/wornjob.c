#include "app/wornjob.h"

#include <stdlib.h>

#define STEPS 360
#define MOST 128

static void
design_free (gpointer data)
{
  fw_design_free (data);
}

static GArray *
find_worn (const FwDesign *design)
{
  FwMechanism *mech = NULL;
  if (design == NULL || fw_mechanism_build (design, &mech, NULL) != FW_OK)
    return NULL;
  GArray *list = NULL;
  FwLoadTurn *turn = fw_load_turn_new (mech, STEPS);
  if (turn != NULL)
    {
      list = g_array_sized_new (FALSE, FALSE, sizeof (FwBounce), MOST);
      fw_load_turn_solve (turn, mech, fw_crank_speed (design));
      int n = fw_reversals (turn, mech, (FwBounce *) (void *) list->data, MOST);
      g_array_set_size (list, (guint) MIN (n, MOST));
    }
  free (turn);
  fw_mechanism_free (mech);
  return list;
}

static void
run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  GArray *list = g_cancellable_is_cancelled (cancel) ? NULL : find_worn (data);
  g_task_return_pointer (task, list, (GDestroyNotify) g_array_unref);
}

void
fw_worn_async (const FwDesign *design, GCancellable *cancel, GAsyncReadyCallback done, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancel, done, data);
  g_task_set_task_data (task, fw_design_copy (design), design_free);
  g_task_run_in_thread (task, run);
}

GArray *
fw_worn_finish (GAsyncResult *result)
{
  return g_task_propagate_pointer (G_TASK (result), NULL);
}
