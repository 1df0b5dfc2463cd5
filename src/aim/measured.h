/* What was measured on the real thing: angles and heights at crank angles, from a table.
 *
 * The table is comma-separated text with one line of names, as `turn` writes it: `crank_deg`, then any of
 * `body.h_mm`, `body.z_mm`, `body.tilt_deg`, and of each panel `ID.angle_deg`, `ID.tip_z_mm` (height of its
 * tip, u = span, above the crank axis) and `ID.tip_x_mm`. Other columns of `turn` are passed over. A cell
 * may be empty: it was not measured. */
#pragma once

#include <glib.h>

#include "core/turn.h"

G_BEGIN_DECLS

typedef enum
{
  FW_MEASURED_H,     /* mm */
  FW_MEASURED_Z,     /* mm */
  FW_MEASURED_TILT,  /* deg */
  FW_MEASURED_ANGLE, /* member: deg */
  FW_MEASURED_TIP_X, /* member: mm */
  FW_MEASURED_TIP_Z, /* member: mm */
} FwMeasuredKind;

typedef struct
{
  FwMeasuredKind kind;
  int index;        /* member in the mechanism */
  double crank_deg;
  double value;     /* mm or deg */
} FwMeasurement;

/* Ascending by crank angle. Free with g_array_unref. NULL and an error of one line, "NAME: line N, column
 * NAME: what was expected", where the text is no such table, a number is not finite, a name is unknown, or
 * nothing was measured. */
GArray *fw_measured_read (const char *text, const char *name, const FwMechanism *mechanism, GError **error);

/* True for lengths, false for angles. */
gboolean fw_measured_is_length (FwMeasuredKind kind);

/* "arm.right.angle_deg"; free with g_free. */
char *fw_measured_column (const FwMechanism *mechanism, FwMeasuredKind kind, int index);

G_END_DECLS
