#include "strength/beams.h"

#include <math.h>

#define PI 3.14159265358979323846

FwBeamSag
fw_cantilever_force (double force, double length, double bending)
{
  double l2 = length * length;
  return (FwBeamSag){ .sag = force * l2 * length / (3 * bending),
                      .slope = force * l2 / (2 * bending) };
}

FwBeamSag
fw_cantilever_moment (double moment, double length, double bending)
{
  return (FwBeamSag){ .sag = moment * length * length / (2 * bending),
                      .slope = moment * length / bending };
}

/* w over the whole length less w over the part that is bare. */
FwBeamSag
fw_cantilever_outer_load (double w, double loaded, double length, double bending)
{
  double bare = length - loaded, l3 = pow (length, 3), b3 = pow (bare, 3);
  double bare_slope = w * b3 / (6 * bending);
  return (FwBeamSag){ .sag = w * l3 * length / (8 * bending) - w * b3 * bare / (8 * bending)
                             - bare_slope * loaded,
                      .slope = w * l3 / (6 * bending) - bare_slope };
}

FwBeamSag
fw_supported_force (double force, double length, double bending)
{
  double l2 = length * length;
  return (FwBeamSag){ .sag = force * l2 * length / (48 * bending),
                      .slope = force * l2 / (16 * bending) };
}

FwBeamSag
fw_supported_load (double w, double length, double bending)
{
  double l3 = pow (length, 3);
  return (FwBeamSag){ .sag = 5 * w * l3 * length / (384 * bending),
                      .slope = w * l3 / (24 * bending) };
}

/* The span behind turns the root by M a / 3EI, the rest is a cantilever. */
FwBeamSag
fw_overhang (double force, double moment, double back, double length, double bending)
{
  double root = (moment + force * length) * back / (3 * bending);
  FwBeamSag f = fw_cantilever_force (force, length, bending),
            m = fw_cantilever_moment (moment, length, bending);
  return (FwBeamSag){ .sag = root * length + f.sag + m.sag, .slope = root + f.slope + m.slope };
}

double
fw_ends_factor (FwEnds ends)
{
  switch (ends)
    {
    case FW_ENDS_CLAMPED:
      return 0.5;
    case FW_ENDS_CLAMP_AND_PIN:
      return 0.7;
    case FW_ENDS_FLAGPOLE:
      return 2;
    case FW_ENDS_PINNED:
    default:
      return 1;
    }
}

double
fw_column_euler (double length, double bending, double factor)
{
  double free_length = factor * length;
  return PI * PI * bending / (free_length * free_length);
}

double
fw_column_longest (double area, double second, double young, double stress, double factor)
{
  return PI / factor * sqrt (young * second / (area * stress));
}

/* What the root's spring gives less what the flagpole asks, both over EI / length; falls through 0.
 */
static double
spare (double k, double back, double length)
{
  double ka = k * back, kl = k * length;
  double spring = ka < 1e-3 ? 3 + ka * ka / -5 : ka * ka / (1 - ka / tan (ka));
  return spring * length / back - kl * tan (kl);
}

double
fw_column_guided (double back, double length, double bending)
{
  if (length <= 0)
    return fw_column_euler (back, bending, 1);
  if (back <= 0)
    return fw_column_euler (length, bending, 2);
  double low = 0, high = fmin (PI / back, PI / (2 * length));
  for (int i = 0; i < 40; i++)
    {
      double k = (low + high) / 2;
      if (spare (k, back, length) > 0)
        low = k;
      else
        high = k;
    }
  return low * low * bending;
}

double
fw_column_bow (double push, double euler, double bow)
{
  return push < euler ? bow / (1 - push / euler) : INFINITY;
}

double
fw_column_secant (double push, double off_axis, double length, double area, double second,
                  double edge, double young)
{
  if (push >= fw_column_euler (length, young * second, 1))
    return INFINITY;
  double bent = 1 / cos (length / 2 * sqrt (push / (young * second)));
  return push / area * (1 + off_axis * edge * area / second * bent);
}

double
fw_shaft_twist (double torque, double length, double torsion)
{
  return torque * length / torsion;
}

double
fw_stress_shear (double direct, double shear)
{
  return hypot (direct / 2, shear);
}

double
fw_stress_principal (double direct, double shear)
{
  return direct / 2 + fw_stress_shear (direct, shear);
}

double
fw_stress_mises (double direct, double shear)
{
  return sqrt (direct * direct + 3 * shear * shear);
}
