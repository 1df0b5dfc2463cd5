/* The numbers of one part under a heading that opens and closes. Rows are made when they are first
 * shown, so that a design with thousands of numbers opens at once. */
#pragma once

#include "app/paramrow.h"

G_BEGIN_DECLS

/* Which part a number belongs to: 'c'rank, 't'hrow, 'b'ody, 'p'anel, 'r'od, spring 'e',
 * counterweight 'w', 'l'ump of the body, base 's' or 'd'rive, and its index. */
typedef struct
{
  char kind;
  int index;
} FwPartKey;

FwPartKey fw_part_key_of_param (FwParam param);
FwPartKey fw_part_key_of_part (const FwMechanism *mechanism, FwPart part);
gboolean fw_part_key_equal (FwPartKey a, FwPartKey b);

typedef struct FwParamGroup FwParamGroup;

/* The numbers `first` to `first + n - 1` of fw_session_params (). `opened` is called when the user
 * opens or closes it. It has no widget yet. */
FwParamGroup *fw_param_group_new (FwSession *session, int first, int n, FwSavedValue saved, gpointer saved_data,
                                  GCallback opened, gpointer opened_data);
void fw_param_group_free (FwParamGroup *group); /* takes its widget out of its parent */

/* Its heading with what is below it; for whoever puts it into a box. What opens it or shows rows needs it made. */
GtkWidget *fw_param_group_make (FwParamGroup *group);
GtkWidget *fw_param_group_widget (FwParamGroup *group); /* NULL: not made */
FwPartKey fw_param_group_key (FwParamGroup *group);
int fw_param_group_size (FwParamGroup *group);

void fw_param_group_open (FwParamGroup *group);
gboolean fw_param_group_is_open (FwParamGroup *group);
void fw_param_group_set_picked (FwParamGroup *group, gboolean picked);

/* Shows only the rows of `wanted` (n booleans), opened, `room` at most; NULL: all, and as open as the
 * user left it. Returns how many rows are shown. */
int fw_param_group_filter (FwParamGroup *group, const gboolean *wanted, int room);

/* The row of a number if it was made and is shown, else NULL. */
FwParamRow *fw_param_group_row (FwParamGroup *group, int index);
FwParamRow *fw_param_group_first_shown (FwParamGroup *group);
void fw_param_group_foreach (FwParamGroup *group, void (*f) (FwParamRow *row, gpointer data), gpointer data);

G_END_DECLS
