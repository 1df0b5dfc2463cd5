/* Sheets of parts as SVG 1.1 files in mm, for a laser or a plotter. */
#pragma once

#include "shop/progress.h"
#include "shop/sheet.h"

G_BEGIN_DECLS

/* One sheet as text: groups `engrave`, `score` and `cut`, in the order in which they are best done, each
 * with a group a part, hairlines in three colours, letters as outlines. Width and height in mm, and so
 * the user unit. No kerf is added or taken off. Free with g_free. */
char *fw_laser_sheet_svg (const FwLaserSheets *sheets, int sheet);

/* The file of a sheet: `path` if there is one sheet, else NAME-1.svg, NAME-2.svg, ...; free with g_free. */
char *fw_laser_sheet_path (const char *path, int sheet, int n_sheets);

/* Writes all sheets or, whatever fails, none. FALSE: error set; G_IO_ERROR_CANCELLED if it was told to
 * stop. */
gboolean fw_laser_sheets_write_svg (const FwLaserSheets *sheets, const char *path,
                                    const FwProgress *progress, GError **error);

G_END_DECLS
