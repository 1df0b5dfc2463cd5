/* Inside the cut list: pieces with what they may be cut from. */
#pragma once

#include "shop/cut.h"

/* What a piece needs of its stock. */
typedef struct
{
  const char *material;      /* borrowed; NULL: any */
  const char *named;         /* a bar of this name and no other; NULL: any that fits */
  double diameter_mm, wall_mm; /* round; wall 0: any */
  double width_mm, thickness_mm; /* flat, or a sheet's thickness */
  gboolean timber;           /* square wood, near the size */
  FwStuff stuff;
} FwCutNeed;

typedef struct
{
  const FwMechanism *mech;
  FwLengths lengths;
  FwCutList *list;
  GArray *pieces;   /* FwCutPiece */
  GArray *needs;    /* FwCutNeed, of each piece */
  GArray *fittings; /* FwCutFitting */
  GPtrArray *problems, *notes, *settings;
} FwCutting;

/* Every part of the design. */
void fw_cutting_add_parts (FwCutting *c);
/* Lays them into the stock. */
void fw_cutting_lay (FwCutting *c);
/* Settings, notes and what the crank's making has against it. */
void fw_cutting_say (FwCutting *c);

/* A length, given in mm, as the reader wants it; g_free. */
char *fw_cutting_length (const FwCutting *c, double mm);

/* Whether a piece may be cut from this bar or sheet of the stock. */
gboolean fw_cutting_bar_suits (const FwCutNeed *need, const FwStockBar *bar);
gboolean fw_cutting_sheet_suits (const FwCutNeed *need, const FwStockSheet *sheet);
