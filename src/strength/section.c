#include "strength/section.h"

#include <math.h>

#define PI 3.14159265358979323846

FwBarSection
fw_section_round (double diameter, double wall)
{
  double bore = wall > 0 && wall < diameter / 2 ? diameter - 2 * wall : 0;
  double second = PI * (pow (diameter, 4) - pow (bore, 4)) / 64;
  return (FwBarSection){ .area = PI * (diameter * diameter - bore * bore) / 4,
                         .second_y = second,
                         .second_z = second,
                         .twist = 2 * second,
                         .edge_y = diameter / 2,
                         .edge_twist = diameter / 2 };
}

FwBarSection
fw_section_stock (double diameter_mm, double wall_mm)
{
  return fw_section_round (diameter_mm / 1000, wall_mm / 1000);
}

FwBarSection
fw_section_rectangle (double width, double thickness)
{
  double b = fmax (width, thickness), t = fmin (width, thickness);
  double softening = 0, shading = 0;
  for (int n = 1; n < 40; n += 2)
    {
      double x = n * PI * b / (2 * t);
      softening += tanh (x) / pow (n, 5);
      shading += 1 / (n * n * cosh (x));
    }
  return (FwBarSection){ .area = b * t,
                         .second_y = width * pow (thickness, 3) / 12,
                         .second_z = thickness * pow (width, 3) / 12,
                         .twist = b * pow (t, 3) * (1.0 / 3 - 64 / pow (PI, 5) * t / b * softening),
                         .edge_y = thickness / 2,
                         .edge_twist = t * (1 - 8 / (PI * PI) * shading) };
}

double
fw_section_modulus_y (const FwBarSection *s)
{
  return s->second_y / s->edge_y;
}

double
fw_section_least (const FwBarSection *s)
{
  return fmin (s->second_y, s->second_z);
}
