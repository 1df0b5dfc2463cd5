/* Inside the core: the angle of a direction, without a call. */
#pragma once

#include <math.h>
#include <stdbool.h>

/* As atan2 (y, x), rad, in (-pi, pi], to 5e-16 rad; one of the two must not be 0. The rational function of the arc
 * tangent up to pi / 8 is that of S. Moshier, Cephes Mathematical Library, atan.c, 1995; the rest of the circle comes to
 * it by tan (a - pi / 4) = (t - 1) / (t + 1) and mirror images. NaN gives NaN. */
static inline double
fw_angle_of (double y, double x)
{
  double up = fabs (y), along = fabs (x);
  bool steep = up > along;
  double low = steep ? along : up, high = steep ? up : along;
  bool beyond = low > 0.41421356237309503 * high;
  double t = (beyond ? low - high : low) / (beyond ? low + high : high), z = t * t;
  double p = (((-8.750608600031904122785e-1 * z - 1.615753718733365076637e1) * z - 7.500855792314704667340e1) * z
              - 1.228866684490136173410e2) * z - 6.485021904942025371773e1;
  double q = ((((z + 2.485846490142306297962e1) * z + 1.650270098316988542046e2) * z + 4.328810604912902668951e2) * z
              + 4.853903996359136964868e2) * z + 1.945506571482613964425e2;
  double angle = t + t * (z * p / q);
  angle = beyond ? 0.78539816339744830962 + angle : angle;
  angle = steep ? 1.57079632679489661923 - angle : angle;
  angle = x < 0 ? 3.14159265358979323846 - angle : angle;
  return copysign (angle, y);
}
