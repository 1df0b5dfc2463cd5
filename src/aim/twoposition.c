#include "aim/twoposition.h"

bool
fw_two_dead_positions (FwSeenFromCrank one, FwSeenFromCrank other, double *radius_mm,
                       double *length_mm)
{
  double one2 = one.along * one.along + one.across * one.across;
  double other2 = other.along * other.along + other.across * other.across;
  FwSeenFromCrank far = one2 >= other2 ? one : other;
  double reach = one.across + other.across;
  if (!(reach > 0) || one2 == other2)
    return false;

  double radius = fabs (one2 - other2) / (2 * reach);
  double length = hypot (far.along, far.across - radius);
  if (!isfinite (radius) || !(length > 0))
    return false;
  *radius_mm = radius;
  *length_mm = length;
  return true;
}

bool
fw_two_positions (const FwReachLine *one, const FwReachLine *other, double *x, double *length_mm)
{
  double slope
      = 2 * (fw_vec3_dot (one->base, one->grows) - fw_vec3_dot (other->base, other->grows));
  double size = fw_vec3_length (one->grows)
                * (fw_vec3_length (one->base) + fw_vec3_length (other->base));
  if (!(fabs (slope) > 1e-9 * size))
    return false;

  double at = (fw_vec3_dot (other->base, other->base) - fw_vec3_dot (one->base, one->base)) / slope;
  double length = fw_vec3_length (fw_vec3_along (one->base, at, one->grows));
  if (!isfinite (at) || !(length > 0))
    return false;
  *x = at;
  *length_mm = length;
  return true;
}
