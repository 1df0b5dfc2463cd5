/* A design with every right-hand and left-hand part written out as a part of its own: what the maker
 * cuts twice is two pieces, and no two pieces come out alike. */
#pragma once

#include "core/design.h"

/* Where a part of the split design comes from. */
typedef struct
{
  int index; /* of the part in the design that was split */
  int side;  /* +1 right, -1 left, of a part that was split; 0: it was one already */
} FwOrigin;

typedef struct
{
  FwDesign *design; /* moves and weighs as the one that was split; its mechanism lists parts in the same order */
  FwOrigin *throws, *panels, *rods, *springs;
} FwSplit;

/* NULL when memory runs out. */
FwSplit *fw_split_new (const FwDesign *design);
void fw_split_free (FwSplit *split);

/* The number of the split design's parent: the same kind on the part it comes from. `side` as above;
 * may be NULL. */
FwParam fw_split_origin (const FwSplit *split, FwParam param, int *side);
