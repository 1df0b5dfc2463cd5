/* Trouble and remedies in plain, translated sentences; one set for window, command line and log. */
#pragma once

#include <glib.h>

#include "core/trouble.h"
#include "doc/units.h"

G_BEGIN_DECLS

/* The part's name, the maker's own or, where it has none, what it is: "crank", "body", "base", "floor", in
 * the reader's language. Files and tables have fw_part_name (). Borrowed. */
const char *fw_words_part (const FwMechanism *mechanism, FwPart part);

/* "inrod.right pushes inner.right weakly: 27.3° between 118.2° and 168.0° of the crank, worst at 150°;
 * 30° is the least that moves it surely." Free with g_free. */
char *fw_words_trouble (const FwMechanism *mechanism, const FwTrouble *trouble, FwLengths lengths);

/* Two or three words for a flag or a list heading: "weak push", "may flip". */
const char *fw_words_trouble_short (FwTroubleKind kind);

/* False for what is wrong with the crank as it is made: at no angle of the crank. */
gboolean fw_words_trouble_has_angle (FwTroubleKind kind);

/* "Lengthen inrod from 412 mm to 418.5 mm", "Phase of mid: 0° to 12°". Free with g_free. */
char *fw_words_remedy (const FwDesign *design, const FwRemedy *remedy, FwLengths lengths);

/* Unit as the JSON of `check` names it: "mm", "deg", "ratio". */
const char *fw_words_unit (FwUnit unit);

/* "Angle of inner.right", "Push of inrod.right", "Body height". Free with g_free. */
char *fw_words_quantity (const FwMechanism *mechanism, FwQuantity quantity);

/* The unit a quantity is shown in (DEG for angles), and the factor from the core's unit to it. */
FwUnit fw_words_quantity_unit (FwQuantity quantity, double *factor);

/* "The design", what a build fault means with the part's name. Free with g_free. */
char *fw_words_fault (const FwDesign *design, FwStatus status, const FwFault *fault);

G_END_DECLS
