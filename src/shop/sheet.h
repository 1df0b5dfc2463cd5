/* Parts laid on sheets for a laser: one material and thickness a sheet. mm, x right, y down. */
#pragma once

#include "shop/templatepages.h"

G_BEGIN_DECLS

typedef struct
{
  char *material;
  double thickness_mm;
  double width_mm, height_mm;
  GArray *placed; /* FwPagePart; a part that is cut n times lies n times */
} FwLaserSheet;

typedef struct
{
  const FwTemplate *tmpl; /* borrowed */
  GPtrArray *sheets;      /* FwLaserSheet */
  char **left_out;        /* what no sheet takes, or the stock has too few sheets for; NULL-terminated */
} FwLaserSheets;

/* Where neither the call nor the stock says how large a sheet is. */
#define FW_SHEET_WIDTH 600.0
#define FW_SHEET_HEIGHT 400.0
#define FW_SHEET_EDGE 5.0 /* mm kept free at a sheet's edge */
#define FW_SHEET_GAP 3.0  /* mm between parts */

/* Sheets of width by height; 0: those of the design's stock that the cut list takes for the part
 * (fw_cutting_sheet_suits ()), with panels along its grain, else 600 by 400 mm. */
FwLaserSheets *fw_laser_sheets_new (const FwTemplate *tmpl, const FwStock *stock, double width_mm,
                                    double height_mm);
void fw_laser_sheets_free (FwLaserSheets *sheets);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwLaserSheets, fw_laser_sheets_free)

G_END_DECLS
