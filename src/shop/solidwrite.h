/* Printed parts as files. */
#pragma once

#include "shop/progress.h"
#include "shop/solidparts.h"

G_BEGIN_DECLS

#define FW_SOLID_ALL_FILE "all-parts.3mf"

/* Writes every part that could be made as LETTER-NAME.stl and LETTER-NAME.3mf, and all of them, as
 * many times as each is needed, as all-parts.3mf. The folder is made if it is not there. Files that
 * were exported there before (a hidden list, .flapwright-parts, has their names and sums) are
 * replaced; one of these names that was not, or was changed since, is a reason to refuse; others are
 * left alone. All or nothing. Returns the names written, without the folder,
 * NULL-terminated (g_strfreev); NULL: nothing was written. */
char **fw_solid_parts_write (const FwSolidParts *parts, const char *title, const char *folder,
                             const FwProgress *progress, GError **error);

/* "C-rod-clamp-arm-rod" of a part; without letters "rod-clamp-arm-rod". Free with g_free. */
char *fw_solid_part_file (const FwSolidPart *part);

G_END_DECLS
