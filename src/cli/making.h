/* What mends a crank that cannot be made, beside numbers. */
#pragma once

#include <cjson/cJSON.h>

#include "shop/build.h"

G_BEGIN_DECLS

/* Does nothing for trouble of other kinds. */
void fw_cli_making_json (cJSON *item, const FwMechanism *mech, const FwTrouble *trouble);
void fw_cli_making_text (GString *out, const FwMechanism *mech, const FwTrouble *trouble, FwLengths lengths);

/* What the motion becomes with a remedy of such trouble; NULL for trouble of other kinds. g_free. */
char *fw_cli_making_swing (const FwMechanism *mech, const FwTrouble *trouble, const FwRemedy *remedy);

G_END_DECLS
