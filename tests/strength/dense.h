/* A second way to solve a frame in space: bars by their flexibility as cantilevers, one full
 * matrix, elimination with pivots. Slow, plain, and sharing nothing with the library but its
 * structs. */
#pragma once

#include "strength/frame.h"

/* Loads in, movements out, six a node. */
void dense_solve (const FwSpaceFrame *frame, double *loads);
