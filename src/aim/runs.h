/* Inside the aim layer: one start after another, on all processors. */
#pragma once

#include "aim/aim.h"
#include "aim/problem.h"

G_BEGIN_DECLS

/* How a run finds where to descend from; all but the first exist to be measured against it. */
typedef enum
{
  FW_STARTS_BATCH, /* the best of a batch drawn at random, some put on two positions in closed form */
  FW_STARTS_CRS,   /* NLopt's controlled random search */
  FW_STARTS_DIRECT, /* NLopt's DIRECT-L, randomised */
  FW_STARTS_MLSL,  /* NLopt's MLSL with SLSQP; no descent of our own */
} FwStarts;

typedef struct
{
  double *x;   /* values of the free numbers, file units */
  double cost; /* as fw_cost (), no unit; INFINITY: nothing found */
} FwPoint;

typedef struct
{
  const FwProblem *problem;
  const gboolean *active; /* [goals]; NULL: all */
  const double *first;    /* values (file units) to begin with beside the present ones, or NULL */
  FwStarts starts;
  guint32 seed;
  int threads;
  gint64 deadline; /* g_get_monotonic_time (); 0: none */
  /* Told after every round and a few times a second; FALSE: stop. */
  gboolean (*watch) (const FwPoint *best, int runs_done, gpointer data);
  /* After a round of runs; TRUE: enough. */
  gboolean (*enough) (const FwPoint *points, int n, gpointer data);
  gpointer data;
  gint n_tried; /* out, atomic */
  gint stop;    /* atomic */
} FwStartRuns;

/* Runs number 0 .. n - 1, in rounds, into points [n] (each x allocated here, freed with g_free).
 * Returns how many were run. The same whatever the number of threads, unless stopped. */
int fw_runs (FwStartRuns *runs, FwPoint *points, int n);

/* Levenberg-Marquardt (MINPACK's lmder) from x to a least sum of squares, inside the limits; numbers
 * with a list end on one of its values. Returns the sum. */
double fw_descend (FwJudge *judge, const gboolean *active, double *x, int *n_tried);

/* Puts panels whose top and bottom are wished for on these two positions in closed form, where rod length
 * and one more of its numbers are free; `choice` picks which. FALSE: there is none. */
gboolean fw_start_on_two_positions (FwJudge *judge, int choice, double *x);

/* Sum of squares, no unit, of the rows (as fw_judge_rows () fills them) of active goals, and of what is missing. */
double fw_cost (const FwProblem *problem, const gboolean *active, const double *rows);

G_END_DECLS
