/* The cut list as text: to read, for a table, for another program. */
#pragma once

#include "shop/cut.h"

G_BEGIN_DECLS

/* Free with g_free. `stock` is that of the design the list was made from. */

/* For people: by what it is cut from, with lengths as `lengths` says. */
char *fw_cut_list_text (const FwCutList *list, const FwStock *stock, FwLengths lengths);

/* Pieces, then fittings; mm and g with a point whatever the locale. */
char *fw_cut_list_csv (const FwCutList *list);

/* All there is, in mm and g; the keys say what they are. */
char *fw_cut_list_json (const FwCutList *list, const FwStock *stock);

G_END_DECLS
