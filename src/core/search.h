/* Inside the core: one-dimensional searches over the crank angle. */
#pragma once

#include <stdbool.h>

/* Of a crank angle, rad; `context` is handed through. */
typedef double (*FwFunction) (void *context, double crank);
typedef bool (*FwPredicate) (void *context, double crank);

/* Where a function is least between a and c, b between them being no higher than either (method of
 * Brent: parabola through three points, golden section where that fails). NaN counts as highest. */
double fw_least (FwFunction f, void *context, double a, double b, double c, double *value);

/* The edge between a, where the predicate is false, and b, where it is true, to 1e-9 rad; the side
 * returned is the true one. */
double fw_edge (FwPredicate f, void *context, double a, double b);

/* Where a function crosses zero between a and b, rad, at which its signs differ (false position, the
 * Illinois way, with bisection as a net). */
double fw_root (FwFunction f, void *context, double a, double b);
