/* The two halves of the last page: how the crank is made, and what there is to cut from. Both change the design
 * itself, a step of undo at a time. */
#pragma once

#include "app/workshopprivate.h"

G_BEGIN_DECLS

GtkWidget *fw_crank_form_new (FwWorkshop *workshop);
void fw_crank_form_update (GtkWidget *form);

GtkWidget *fw_stock_table_new (FwWorkshop *workshop);
void fw_stock_table_update (GtkWidget *table);

/* A change was tried: solves anew, or says in the workshop's message bar why it was refused. */
gboolean fw_workshop_edited (FwWorkshop *self, GError *error);

G_END_DECLS
