/* What panels without a rod really do at the stated speed, in text, CSV and JSON. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

#include "swing/swing.h"

G_BEGIN_DECLS

/* Solved; nothing is printed of a mechanism in which nothing hangs. Free with fw_swing_free (). Like all
 * of GLib it ends the program where memory runs out. */
FwSwings *fw_cli_swing_new (const FwMechanism *mech, double speed);

/* Appends a table. */
void fw_cli_swing_text (GString *out, const FwSwings *swing);

/* Appends rows `NAME.swing_deg` and, where it meets a stop, `NAME.blow_J`. */
void fw_cli_swing_csv (GString *out, const FwSwings *swing);

/* Adds the array "swing", one object a hanging member. */
void fw_cli_swing_json (cJSON *object, const FwSwings *swing);

G_END_DECLS
