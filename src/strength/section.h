/* Cross sections of pipe, rod and board strips, in SI: m, m^2, m^4. */
#pragma once

/* Local axes: x along the bar, y and z across it. */
typedef struct
{
  double area;               /* m^2 */
  double second_y, second_z; /* second moments: of bending about y (deflects along z), about z */
  double twist;              /* St Venant's torsion constant; of a round section its polar moment */
  double edge_y;             /* outermost fibre when bent about y, m */
  double edge_twist;         /* m: greatest shear stress = torque * edge_twist / twist */
} FwBarSection;

/* Round: I = pi (D^4 - d^4) / 64, J = 2 I. A wall of 0, or of the radius and more, is solid. */
FwBarSection fw_section_round (double diameter, double wall);

/* As a design states its stock, mm. */
FwBarSection fw_section_stock (double diameter_mm, double wall_mm);

/* A rectangle: width along y, thickness along z, so that bending about y is flatwise. Torsion after
 * St Venant's series (Timoshenko and Goodier, Theory of Elasticity, on rectangular bars). */
FwBarSection fw_section_rectangle (double width, double thickness);

/* Section modulus, m^3: stress = moment / modulus. */
double fw_section_modulus_y (const FwBarSection *section);

/* Second moment, m^4, about the axis that a bar bends about first, when it may choose. */
double fw_section_least (const FwBarSection *section);
