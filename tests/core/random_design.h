/* Designs drawn at random from the whole model, the same for the same seed. */
#pragma once

#include <glib.h>

#include "core/design.h"

typedef struct
{
  bool mirrored; /* every panel on both sides, or in the middle and square to it */
  bool no_base;  /* no rod from the base */
  int runs;      /* FwRuns, or -1: either */
  int ride;      /* FwRide, or -1: any */
} RandomWish;

#define RANDOM_ANY ((RandomWish){ .runs = -1, .ride = -1 })

/* Crank, ride and a tree of one to five driven panels. Every right-hand and middle rod is as long
 * as a chosen pose at crank angle 0 needs, and `near` lies within 3 degrees of that pose. */
FwDesign *random_design (GRand *rand, RandomWish wish);

/* How many a test tries: `few`, times FW_ROUNDS where that is set, for a long run by hand. */
int random_rounds (int few);
