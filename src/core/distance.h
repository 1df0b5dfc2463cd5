/* Inside the core: real distances between segments, flat plates and boxes, mm. */
#pragma once

#include <stdbool.h>

#include "core/frame.h"

typedef struct
{
  FwVec3 a, b;
} FwSegment;

/* Between two segments, mm (C. Ericson, Real-Time Collision Detection, 2005, section 5.1.9). */
double fw_segment_distance (FwSegment p, FwSegment q);

/* Between a segment and the flat polygon (u, v) of a frame, mm: 0 where it goes through. */
double fw_segment_plate_distance (FwSegment s, const FwFrame *frame, const FwVec2 *outline, int n);

/* True if (u, v) lies inside the simple polygon (crossing number). */
bool fw_inside_outline (FwVec2 p, const FwVec2 *outline, int n);

/* How high the lowest point of a flat polygon is above `floor` where it stands over the rectangle
 * |x| <= half_x, |y| <= half_y of the world, all in mm; INFINITY where it does not. */
double fw_plate_height_over (const FwFrame *frame, const FwVec2 *outline, int n, double half_x, double half_y, double floor);
