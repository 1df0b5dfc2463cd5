/* Inside the workshop: the crank as a row of sections (axis and pins) between webs. */
#pragma once

#include "shop/build.h"

/* A straight stretch along the axis. */
typedef struct
{
  int pin, throw_index;  /* in mechanism and design; -1: on the axis */
  double at;             /* mm, pin: station of the middle of what was asked for, as it comes out */
  double h, z;           /* mm, where it stands at crank angle 0 */
  double clear[2];       /* mm, stations between the faces of its fittings; a free end: where it ends */
  double plane[2];       /* mm, middle planes of the webs at its ends; a free end: as clear */
  gboolean web[2];       /* a web (or the handle's arm) at that end; else it runs on or ends */
  gboolean grip;         /* of the handle */
  int piece;
} FwStretch;

typedef struct
{
  GArray *sections;  /* FwStretch, lowest station first */
  GArray *troubles;  /* FwTrouble */
  const FwMechanism *mech;
  FwBuild *build;
} FwBuilding;

/* From a fitting's face to the middle plane of its web. */
double fw_build_half (const FwCrankBuild *make);

/* Sections and the troubles of room and throw. */
void fw_build_lay_out (FwBuilding *b);
/* Pieces, fittings, bends, centre line. */
void fw_build_make_pieces (FwBuilding *b);
/* Rings in the order they go on, and what cannot. */
void fw_build_put_on (FwBuilding *b);

/* Appends it with the whole turn as its stretch, values in mm; a remark becomes a failure. */
void fw_build_add_trouble (FwBuilding *b, FwTrouble trouble);
