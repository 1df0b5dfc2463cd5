/* Vectors in space and in a plane. Plain values, no unit of their own. */
#pragma once

#include <math.h>

typedef struct
{
  double x, y;
} FwVec2;

typedef struct
{
  double x, y, z;
} FwVec3;

/* From its three parts, all in one unit. */
static inline FwVec3
fw_vec3 (double x, double y, double z)
{
  return (FwVec3) { x, y, z };
}

/* a + b */
static inline FwVec3
fw_vec3_add (FwVec3 a, FwVec3 b)
{
  return fw_vec3 (a.x + b.x, a.y + b.y, a.z + b.z);
}

/* a - b */
static inline FwVec3
fw_vec3_sub (FwVec3 a, FwVec3 b)
{
  return fw_vec3 (a.x - b.x, a.y - b.y, a.z - b.z);
}

/* s a, s a number or with a unit of its own */
static inline FwVec3
fw_vec3_scale (FwVec3 a, double s)
{
  return fw_vec3 (a.x * s, a.y * s, a.z * s);
}

/* a + s b */
static inline FwVec3
fw_vec3_along (FwVec3 a, double s, FwVec3 b)
{
  return fw_vec3 (a.x + s * b.x, a.y + s * b.y, a.z + s * b.z);
}

/* Scalar product; its unit is that of a times that of b. */
static inline double
fw_vec3_dot (FwVec3 a, FwVec3 b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

/* a x b, right-handed */
static inline FwVec3
fw_vec3_cross (FwVec3 a, FwVec3 b)
{
  return fw_vec3 (a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
}

/* In the unit of a. */
static inline double
fw_vec3_length (FwVec3 a)
{
  return sqrt (fw_vec3_dot (a, a));
}

/* Between two points, in their unit. */
static inline double
fw_vec3_distance (FwVec3 a, FwVec3 b)
{
  return fw_vec3_length (fw_vec3_sub (a, b));
}
