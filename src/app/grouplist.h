/* The headings of the inspector, one a part, in the order of the numbers. Of a design with hundreds of parts only the
 * first of each kind have one until more are asked for, or one is picked or found: GTK lays all of them out at once. */
#pragma once

#include "app/paramgroup.h"

G_BEGIN_DECLS

typedef struct FwGroupList FwGroupList;

/* What each group is handed; see fw_param_group_new (). */
typedef struct
{
  FwSession *session; /* borrowed */
  FwSavedValue saved;
  gpointer saved_data;
  GCallback opened;
  gpointer opened_data;
} FwGroupCalls;

/* For the numbers of the session's design; the headings go into `box`, which must stay. */
FwGroupList *fw_group_list_new (GtkBox *box, const FwGroupCalls *calls, const FwParam *params, int n);
/* NULL: nothing to do. */
void fw_group_list_free (FwGroupList *self);

int fw_group_list_length (const FwGroupList *self);
FwParamGroup *fw_group_list_nth (const FwGroupList *self, int i);
FwParamGroup *fw_group_list_find (const FwGroupList *self, FwPartKey key); /* NULL: no such part */

/* Gives a group its heading, at its place, if it has none. */
void fw_group_list_show (FwGroupList *self, FwParamGroup *group);

/* While a search shows what it found nothing more is offered. */
void fw_group_list_set_searching (FwGroupList *self, gboolean searching);

G_END_DECLS
