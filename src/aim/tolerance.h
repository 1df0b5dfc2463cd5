/* What comes of cutting and drilling by hand: many turns of the same design, every piece of it drawn a
 * little off, and how often it still goes round.
 *
 * Right-hand and left-hand pieces are drawn apart (split.h): they are cut twice. A number with spread s is
 * drawn from the normal distribution about its value with standard deviation s / 2, none further off than
 * 1.5 s: of twenty pieces nineteen lie within s. Method and limits: docs/tolerance.md. */
#pragma once

#include <glib.h>

#include "core/trouble.h"
#include "aim/split.h"

G_BEGIN_DECLS

/* The spread that a number has if nobody says otherwise, file unit; 0 for numbers that are not made
 * (weights, limits) or do not move anything. By the way the crank is made; common practice, without source. */
double fw_spread_default (const FwDesign *design, FwParam param);

typedef struct
{
  FwParam param; /* of the design as it is */
  double spread; /* file unit, 0 or more */
} FwSpread;

#define FW_TOLERANCE_STEPS 72    /* of each turn */
#define FW_TOLERANCE_KEPT 20000  /* runs of which whole curves are kept for the bands */
#define FW_TOLERANCE_MOST 1000000

typedef struct
{
  int runs;    /* 1..FW_TOLERANCE_MOST */
  guint64 seed;
  int threads; /* 0: one for each processor; the result does not depend on it */
  const FwSpread *spreads; /* over the defaults */
  int n_spreads;
  FwStop stop; /* may be NULL; from any of the threads, before each run */
  void (*progress) (double fraction, void *data); /* from the calling thread; may be NULL */
  void *data;
} FwToleranceWish;

/* One quantity over the turn: what 90 of 100 pieces do. */
typedef struct
{
  FwQuantity quantity; /* of the design's mechanism */
  double low[FW_TOLERANCE_STEPS], middle[FW_TOLERANCE_STEPS], high[FW_TOLERANCE_STEPS]; /* quantiles 0.05,
                                                                        0.5, 0.95; NaN where none assembles */
} FwToleranceBand;

/* Least and greatest over the turn, of those that go round. */
typedef struct
{
  FwQuantity quantity; /* an angle (rad) or push (rad), or body h, z (mm) or tilt (rad) */
  double least_mean, least_sd, greatest_mean, greatest_sd; /* core unit; NaN where none goes round */
  double least, greatest; /* of the design as drawn */
} FwToleranceExtreme;

/* One number as a cause. */
typedef struct
{
  FwParam param;
  int side;      /* +1 right-hand piece, -1 left-hand, 0: there is one */
  double spread; /* file unit */
  double share;  /* of the variance of all panels' least and greatest angles together, 0..1 */
  double stops;  /* of the variance of going round or not, 0..1: how much it decides that */
} FwToleranceCause;

typedef struct
{
  int runs;       /* that were made */
  int goes_round; /* of them: can be assembled all the way round */
  int fine;       /* of these: with no warning or failure of the motion */
  int kinds[FW_N_TROUBLE_KINDS]; /* runs in which each kind of trouble was found, warning or worse */
  FwToleranceBand *bands;
  int n_bands;
  FwToleranceExtreme *extremes;
  int n_extremes;
  FwToleranceCause *causes; /* greatest share first */
  int n_causes;
  gboolean stopped; /* fewer runs than wished, and no further ones */
} FwTolerance;

/* NULL when memory runs out or the design cannot be built. */
FwTolerance *fw_tolerance_run (const FwDesign *design, const FwToleranceWish *wish);
void fw_tolerance_free (FwTolerance *tolerance);

/* 95 % interval of a share seen k times in n (Wilson, 1927, J. Am. Stat. Assoc. 22, 209). */
void fw_share_interval (int k, int n, double *low, double *high);

G_END_DECLS
