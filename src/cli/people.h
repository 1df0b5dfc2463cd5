/* What the loads of a turn mean for hand, motor, stand and joints, in text and JSON. */
#pragma once

#include <cjson/cJSON.h>

#include "cli/cli.h"
#include "core/loadturn.h"

/* Appends lines. The turn is solved; its pose and loads are overwritten. */
void fw_cli_people_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech, FwLengths lengths);

/* Adds "hand", "motor", "ripple", "stand", "hanger" (null where they do not apply) and the array "bounces". */
void fw_cli_people_json (cJSON *object, const FwLoadTurn *turn, const FwMechanism *mech);
