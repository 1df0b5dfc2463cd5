/* Boxes laid on sheets without overlap. Plain numbers, any unit. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  FW_PACK_EITHER, /* lies as given or turned a quarter */
  FW_PACK_FLAT,   /* as given */
  FW_PACK_TURNED
} FwPackWay;

typedef struct
{
  double width, height;
  FwPackWay way;
  int sheet;       /* out: -1: larger than the sheet */
  double x, y;     /* out: of its corner nearest the sheet's origin */
  gboolean turned; /* out: a quarter turn, so height lies along x */
} FwPackBox;

/* Large boxes first, each as near the sheet's top (then its left side) as it goes, on the first sheet
 * that has room; turned only where it goes no other way or higher up. `gap` is kept between boxes, none at
 * the sheet's edge. Returns how many sheets are used. Same boxes, same places. */
int fw_pack (FwPackBox *boxes, int n, double width, double height, double gap);

G_END_DECLS
