/* How a crank is made: the design's own numbers with every default filled in, and common tubes.
 * mm. Fitting sizes are defaults that the maker measures: ASME B16.22 says of laying lengths that none
 * can be established. */
#pragma once

#include "core/design.h"

/* A common tube. Inch sizes after ASTM B88 (types L and M; outside diameter 1/8 in above the name's),
 * metric ones after EN 1057. `cup` and `take_off` of its solder elbow: copper trade tables; 0: none
 * known. `published_kgm`: mass per length as printed by makers; 0: none seen. */
typedef struct
{
  const char *name; /* "1/2 in M", "15 x 0.7" */
  double outside_mm, wall_mm;
  double cup_mm, take_off_mm;
  double published_kgm;
} FwTube;

/* How many common tubes are known, and the i-th of them. */
int fw_tube_count (void);
const FwTube *fw_tube_nth (int i);

/* By its name, exactly; NULL: no such tube. */
const FwTube *fw_tube_find (const char *name);

/* The build of a design: what it gives, and defaults for the rest (where a number is 0). Pipe: the
 * crank's diameter and wall. Without crank.build it is assumed to be bent from wire up to 4 mm and
 * bolted above. `pipe` is borrowed from the design. */
FwCrankBuild fw_making (const FwDesign *design);

/* The numbers of `make` that were left at 0, as fw_making () fills them in. */
void fw_making_complete (FwCrankBuild *make);
