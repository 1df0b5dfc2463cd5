/* What the loads of a turn do to the parts: sag, stress, buckling, swinging, in text and JSON. */
#pragma once

#include <cjson/cJSON.h>
#include <glib.h>

#include "core/loadturn.h"
#include "doc/units.h"

G_BEGIN_DECLS

/* Appends a table; nothing where no part's stock and material are known. The turn is solved; its
 * pose and loads are overwritten. */
void fw_cli_strength_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech, FwLengths lengths);

/* Adds the arrays "strength", "crank_pins" and "bearings", empty where nothing is known. */
void fw_cli_strength_json (cJSON *object, const FwLoadTurn *turn, const FwMechanism *mech);

G_END_DECLS
