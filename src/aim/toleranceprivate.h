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

/* FwToleranceSums over one chunk of runs. Outputs: least and greatest of each watch, of runs that go round; and,
 * last, whether they do, of all runs. */
typedef struct
{
  int runs, round, fine, kinds[FW_N_TROUBLE_KINDS];
  double *sum, *square;   /* [output] */
  double *x, *xx, *xy;    /* [drawn] of runs that go round; [drawn], and [drawn][output] */
  double *every_x, *every_xx, *every_xy; /* [drawn], of all runs, with going round */
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
