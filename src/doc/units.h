/* Lengths and angles as people type and read them. Files never use this: they hold mm and degrees. */
#pragma once

#include <glib.h>

#include "core/design.h"

G_BEGIN_DECLS

typedef enum { FW_LENGTHS_MM, FW_LENGTHS_INCH } FwLengths;

/* Reads "19", "19 mm", "3/4 in", "1 1/2\"", "2.5cm", "2,5 cm", "1' 6\"", "30 deg", "30°", "0.5 rad",
 * "40 /min", "120 g", "0.2 kg". A bare number is in the unit's own base (mm, or inches when
 * `lengths` says so; degrees; g; turns/min). A decimal comma or point is understood whatever the
 * locale. On success *value is in the file's unit (mm, deg, g, turns/min). FALSE: `error` says in
 * one line what was expected; *value untouched. */
gboolean fw_units_parse (const char *text, FwUnit unit, FwLengths lengths, double *value, GError **error);

/* "412.5 mm", "16 1/4 in" (nearest 1/64, reduced, half up), "0.006 in" (less than 1/64), "30.0°". `digits` after the point for
 * metric and angles; -1: as many as makers cut (mm 1, degrees 1, g 0). Locale's decimal mark. A true
 * minus sign is not used: what is printed can be typed back. */
char *fw_units_format (double value, FwUnit unit, FwLengths lengths, int digits);

/* The same without the unit, for columns. */
char *fw_units_format_bare (double value, FwUnit unit, FwLengths lengths, int digits);

/* "mm", "in", "°", "g", "turns/min" (translated). */
const char *fw_units_symbol (FwUnit unit, FwLengths lengths);

G_END_DECLS
