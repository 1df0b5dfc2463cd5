/* The words of a plate: settings that matter and what goes wrong, as lines of text. */
#pragma once

#include "doc/units.h"
#include "draw/view.h"

G_BEGIN_DECLS

/* Throws, rods and ride; one paragraph a kind. Free with g_free. */
char *fw_plate_settings (const FwScene *scene, FwLengths lengths);

/* "Goes round free of trouble." or a line each, numbered as in the views, twins together: the worst few, remarks too,
 * whatever is marked in one of so many frames of a turn, and how many more there are. Free with g_free. */
char *fw_plate_trouble (const FwScene *scene, int frames);

G_END_DECLS
