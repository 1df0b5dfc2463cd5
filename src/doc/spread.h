/* How far off each number of a design comes out when it is made (`spread`). */
#pragma once

#include "doc/document.h"

G_BEGIN_DECLS

/* What the document states, in its order; free with g_free. `value`: file unit, 0 or more. NULL and 0
 * where it states none. */
FwChange *fw_spreads (const FwDocument *doc, int *n);

/* States a number's spread, or takes it back (negative), as one step of undo. */
gboolean fw_spread_set (FwDocument *doc, FwParam param, double spread, const char *merge_key, GError **error);

G_END_DECLS
