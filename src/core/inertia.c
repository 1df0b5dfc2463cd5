#include "core/inertia.h"

FwInertia
fw_inertia_add (FwInertia a, FwInertia b)
{
  return (FwInertia) { .mass_g = a.mass_g + b.mass_g,
                       .moment_gmm = fw_vec3_add (a.moment_gmm, b.moment_gmm),
                       .uu = a.uu + b.uu,
                       .vv = a.vv + b.vv,
                       .ww = a.ww + b.ww,
                       .uv = a.uv + b.uv,
                       .vw = a.vw + b.vw,
                       .wu = a.wu + b.wu };
}

FwInertia
fw_inertia_point (double m, FwVec3 p)
{
  return (FwInertia) { .mass_g = m,
                       .moment_gmm = fw_vec3_scale (p, m),
                       .uu = m * (p.y * p.y + p.z * p.z),
                       .vv = m * (p.z * p.z + p.x * p.x),
                       .ww = m * (p.x * p.x + p.y * p.y),
                       .uv = m * p.x * p.y,
                       .vw = m * p.y * p.z,
                       .wu = m * p.z * p.x };
}

/* Sums over the edges by Green's theorem; the sign of the area tells the way round. */
FwInertia
fw_inertia_plate (const FwVec2 *outline, int n, double areal_gm2)
{
  double area = 0, mu = 0, mv = 0, uu = 0, vv = 0, uv = 0;
  for (int i = 0; i < n; i++)
    {
      FwVec2 a = outline[i], b = outline[(i + 1) % n];
      double cross = a.x * b.y - b.x * a.y;
      area += cross / 2;
      mu += cross * (a.x + b.x) / 6;
      mv += cross * (a.y + b.y) / 6;
      uu += cross * (a.x * a.x + a.x * b.x + b.x * b.x) / 12;
      vv += cross * (a.y * a.y + a.y * b.y + b.y * b.y) / 12;
      uv += cross * (a.x * b.y + 2 * a.x * a.y + 2 * b.x * b.y + b.x * a.y) / 24;
    }
  double density = areal_gm2 * 1e-6 * (area < 0 ? -1 : 1); /* g/mm^2 */
  return (FwInertia) { .mass_g = density * area,
                       .moment_gmm = fw_vec3 (density * mu, density * mv, 0),
                       .uu = density * vv,
                       .vv = density * uu,
                       .ww = density * (uu + vv),
                       .uv = density * uv };
}

FwInertia
fw_inertia_panel (const FwPanel *p)
{
  if (!p->has_mass)
    return fw_inertia_plate (p->outline_mm, p->n_outline, p->areal_gm2);
  FwInertia about_centre = { .uu = p->inertia_gmm2[0],
                             .vv = p->inertia_gmm2[1],
                             .ww = p->inertia_gmm2[2],
                             .uv = p->inertia_gmm2[3] };
  return fw_inertia_add (fw_inertia_point (p->mass_g, p->centre_mm), about_centre);
}

static double
half_rod (const FwMechanism *m, const FwLink *link)
{
  return m->design->rods[link->rod].mass_g / 2;
}

FwInertia
fw_inertia_member (const FwMechanism *m, int member)
{
  FwInertia sum = fw_inertia_panel (&m->design->panels[m->members[member].panel]);
  for (int i = 0; i < m->n_links; i++)
    {
      const FwLink *link = &m->links[i];
      if (link->member == member)
        sum = fw_inertia_add (sum, fw_inertia_point (half_rod (m, link), link->at_mm));
      if (link->from == FW_FROM_PANEL && link->index == member)
        sum = fw_inertia_add (sum, fw_inertia_point (half_rod (m, link), link->from_mm));
    }
  return sum;
}

FwInertia
fw_inertia_body (const FwMechanism *m)
{
  const FwBody *b = &m->design->body;
  /* The body turns about its tilt axis only, so one radius of gyration stands for all three. */
  double own = b->mass_g * b->gyration_mm * b->gyration_mm;
  FwInertia sum = fw_inertia_add (fw_inertia_point (b->mass_g, b->centre_mm),
                                  (FwInertia) { .uu = own, .vv = own, .ww = own });
  for (int i = 0; i < b->n_lumps; i++)
    sum = fw_inertia_add (sum, fw_inertia_point (b->lumps[i].mass_g, b->lumps[i].at_mm));
  for (int i = 0; i < m->n_links; i++)
    if (m->links[i].from == FW_FROM_BODY)
      sum = fw_inertia_add (sum, fw_inertia_point (half_rod (m, &m->links[i]), m->links[i].from_mm));
  return sum;
}

double
fw_inertia_pin (const FwMechanism *m, int pin)
{
  double sum = 0;
  for (int i = 0; i < m->n_links; i++)
    if (m->links[i].from == FW_FROM_THROW && m->links[i].index == pin)
      sum += half_rod (m, &m->links[i]);
  return sum;
}
