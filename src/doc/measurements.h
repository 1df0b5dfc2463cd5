/* What was measured on the real thing, kept in the design file (`measured`). */
#pragma once

#include "doc/document.h"

G_BEGIN_DECLS

typedef struct
{
  double crank_deg;
  char *what; /* as the columns of a table of measurements: "arm.right.angle_deg", "body.z_mm" */
  double value; /* mm or deg */
} FwMeasuredRow;

/* What the document states, in its order: FwMeasuredRow, freed with g_array_unref (). Whether the parts are there
 * is not asked. */
GArray *fw_measurements (const FwDocument *doc);

/* States them anew (n 0: takes the section away), as one step of undo. */
gboolean fw_measurements_set (FwDocument *doc, const FwMeasuredRow *rows, int n, const char *merge_key, GError **error);

/* That `what` names something that can be measured, of whatever part. */
gboolean fw_measured_what_is_valid (const char *what);

G_END_DECLS
