/* A crank to be built, as short as a test wants it. */
#pragma once

#include <glib.h>

#include "build_design.h"
#include "shop/build.h"

typedef struct
{
  FwDesign *design;
  FwMechanism *mech;
  FwBuild *build;
} Case;

/* Across, without a handle, bearings at -200 and 200. */
Case crank (FwMake make, double pipe);

/* Works it out anew. */
void solve (Case *c);
void done (Case *c);

/* The nth piece of a kind. */
const FwBuiltPiece *piece (const FwBuild *b, FwBuiltKind kind, int nth);
int count (const FwBuild *b, FwTroubleKind kind);

#define NEAR(found, expected, tolerance) g_assert_cmpfloat_with_epsilon (found, expected, tolerance)
