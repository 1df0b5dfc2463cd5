/* The inside of the tolerance search: running (tolerance.c) and summing up (tolerancesum.c). */
#pragma once

#include "aim/tolerance.h"

G_BEGIN_DECLS

#define FW_TOLERANCE_CHUNK 250 /* runs from one stream of random numbers: small enough to share out and to stop */

/* What is watched over each turn. */
typedef struct
{
  FwQuantity quantity;
  double least, greatest; /* as drawn */
  gboolean counts;        /* towards the shares: a panel's angle */
} FwToleranceWatch;

/* A number that is drawn. */
typedef struct
{
  FwParam param; /* of the split design */
  double value, spread, lower, upper;
} FwToleranceDrawn;

/* Sums over one chunk of runs. Outputs y: least and greatest of each watch, less what they are as drawn, in the core's unit, of runs that go
 * round; and, last, whether they do (1 or 0), of all runs. Drawn x: how far a number is off, over its
 * spread: no unit. */
typedef struct
{
  int runs, round, fine, kinds[FW_N_TROUBLE_KINDS];
  double *sum, *square;   /* [output]: of y, of y y; in its unit and that squared */
  double *x, *xx, *xy;    /* [drawn], [drawn] and [drawn][output]: of x, x x and x y, in their units, of runs that go round */
  double *every_x, *every_xx, *every_xy; /* [drawn]: the same of all runs, y being 1 or 0 for going round, without unit */
} FwToleranceSums;

typedef struct
{
  const FwToleranceWish *wish;
  FwSplit *split;
  FwMechanism *mech; /* as drawn */
  FwToleranceWatch *watches;
  int n_watches;
  FwToleranceDrawn *drawn;
  int n_drawn;
  int n_outputs;
  FwToleranceSums *chunks;
  int n_chunks;
  float *kept; /* [watch][step][run]; NaN where not assembled */
  int n_kept;
  int next;    /* chunk; atomic */
  int done;    /* chunks; atomic */
  int stopped; /* atomic */
  int failed;  /* memory ran out; atomic */
} FwToleranceWork;

/* Room for the sums of a chunk, all 0; free () of `sum` releases it. */
gboolean fw_tolerance_sums_open (FwToleranceSums *sums, const FwToleranceWork *work);

/* Bands, extremes and causes from the chunks that were run. The kept curves are shuffled. */
gboolean fw_tolerance_sum_up (const FwToleranceWork *work, FwTolerance *tolerance);

G_END_DECLS
