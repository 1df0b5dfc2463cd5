#include "strength/strip.h"

#include <string.h>

#include "core/springs.h"
#include "strength/section.h"

#define METRE 0.001
#define LAST (FW_STRIP_STATIONS - 1)
#define NARROW 1e-3 /* of the greatest width: the very tip bears nothing */

/* Width of the outline at u: the sum of what lies between its edges there. */
static double
width_at (const FwPanel *panel, double u)
{
  double width = 0;
  for (int i = 0; i < panel->n_outline; i++)
    {
      FwVec2 a = panel->outline_mm[i], b = panel->outline_mm[(i + 1) % panel->n_outline];
      if ((a.x <= u) == (b.x <= u))
        continue;
      double v = a.y + (b.y - a.y) * (u - a.x) / (b.x - a.x);
      width += a.x < b.x ? v : -v;
    }
  return fabs (width);
}

static double
area_of (const FwPanel *panel)
{
  double twice = 0;
  for (int i = 0; i < panel->n_outline; i++)
    {
      FwVec2 a = panel->outline_mm[i], b = panel->outline_mm[(i + 1) % panel->n_outline];
      twice += a.x * b.y - b.x * a.y;
    }
  return fabs (twice) / 2;
}

/* Load per length and on points, towards -w; out: moments and sags at the stations. */
static void
bend (const FwStripFlex *s, const double *load, const double *points, double *moment, double *sag)
{
  double shear = 0;
  moment[LAST] = 0;
  for (int i = LAST - 1; i >= 0; i--)
    {
      double h = s->u[i + 1] - s->u[i];
      moment[i] = moment[i + 1] + shear * h + (load[i] + 2 * load[i + 1]) * h * h / 6;
      shear += (load[i] + load[i + 1]) * h / 2;
    }
  for (int p = 0; p < s->n_points; p++)
    for (int i = 0; i <= LAST; i++)
      moment[i] += points[p] * fmax (s->point_u[p] - s->u[i], 0);
  double held = moment[0] / s->hold;
  for (int i = 0; i <= LAST; i++)
    moment[i] -= held * fmax (s->hold - s->u[i], 0);

  double slope = 0;
  sag[0] = 0;
  for (int i = 0; i < LAST; i++)
    {
      double h = s->u[i + 1] - s->u[i], near = moment[i] / s->bending[i],
             far = moment[i + 1] / s->bending[i + 1];
      sag[i + 1] = sag[i] + slope * h + (2 * near + far) * h * h / 6;
      slope += (near + far) * h / 2;
    }
  double lean = sag[FW_STRIP_SPANS] / s->hold;
  for (int i = 0; i <= LAST; i++)
    sag[i] -= lean * s->u[i];
}

static void
add_point (FwStripFlex *s, double u_mm, int child)
{
  if (s->n_points == FW_STRIP_POINTS)
    return;
  s->point_u[s->n_points] = fmax (0, fmin (s->length, u_mm * METRE));
  s->coil[s->n_points] = -1;
  s->child[s->n_points++] = child;
}

static void
add_springs (FwStripFlex *s, const FwMechanism *mech, int member)
{
  for (int i = 0; i < mech->n_coils; i++)
    for (int end = 0; end < 2; end++)
      {
        const FwCoilEnd *e = &mech->coils[i].ends[end];
        if (e->kind != FW_FROM_PANEL || e->index != member || s->n_points == FW_STRIP_POINTS)
          continue;
        add_point (s, e->at_mm.x, -1);
        s->coil[s->n_points - 1] = i;
        s->end[s->n_points - 1] = end;
      }
}

static void
find_points (FwStripFlex *s, const FwMechanism *mech, int member)
{
  for (int i = 0; i < mech->n_members; i++)
    if (mech->members[i].parent == member)
      add_point (s, mech->design->panels[mech->members[i].panel].hinge_mm.x, i);
  for (int i = 0; i < mech->n_links; i++)
    if (mech->links[i].from == FW_FROM_PANEL && mech->links[i].index == member)
      add_point (s, mech->links[i].from_mm.x, -1 - i);
  add_springs (s, mech, member);
}

static void
set_stations (FwStripFlex *s, const FwPanel *panel)
{
  double widest = 0, thickness = panel->thickness_mm * METRE;
  for (int i = 0; i <= LAST; i++)
    {
      double part = (double)(i % FW_STRIP_SPANS) / FW_STRIP_SPANS, beyond = s->length - s->hold;
      s->u[i] = i < FW_STRIP_SPANS ? part * s->hold
                : i < LAST         ? s->hold + part * beyond
                                   : s->length;
      /* just inside, so that an edge square to u counts as reached */
      double inside = fmin (fmax (s->u[i], 1e-6 * s->length), s->length * (1 - 1e-6));
      s->width[i] = width_at (panel, inside / METRE) * METRE;
      widest = fmax (widest, s->width[i]);
    }
  for (int i = 0; i <= LAST; i++)
    {
      FwBarSection section = fw_section_rectangle (fmax (s->width[i], NARROW * widest), thickness);
      s->bending[i] = panel->stuff.young_GPa * 1e9 * section.second_y;
      s->modulus[i] = fw_section_modulus_y (&section);
    }
}

static void
work_out_cases (FwStripFlex *s)
{
  for (int c = 0; c < 2 + s->n_points; c++)
    {
      double load[FW_STRIP_STATIONS] = { 0 }, points[FW_STRIP_POINTS] = { 0 },
             sag[FW_STRIP_STATIONS];
      for (int i = 0; i <= LAST && c < 2; i++)
        load[i] = s->areal * s->width[i] * (c == 0 ? 1 : s->u[i]);
      if (c >= 2)
        points[c - 2] = 1;
      bend (s, load, points, s->moment[c], sag);
      s->tip[c] = sag[LAST];
    }
}

void
fw_strip_flex (FwStripFlex *s, const FwMechanism *mech, int member)
{
  const FwMember *m = &mech->members[member];
  const FwPanel *panel = &mech->design->panels[m->panel];
  memset (s, 0, sizeof *s);
  if (m->rod < 0 || panel->n_outline < 3
      || !(panel->stuff.young_GPa > 0 && panel->thickness_mm > 0))
    return;
  for (int i = 0; i < panel->n_outline; i++)
    s->length = fmax (s->length, panel->outline_mm[i].x * METRE);
  s->hold = fmin (mech->links[m->rod].at_mm.x * METRE, s->length);
  double area = area_of (panel);
  if (!(s->hold > 0.02 * s->length && area > 0))
    return;
  s->known = true;
  s->mechanism = mech;
  s->areal = panel->has_mass ? panel->mass_g / area * 1000 : panel->areal_gm2 / 1000;
  s->allowed = panel->stuff.yield_MPa * 1e6 / 2;
  find_points (s, mech, member);
  set_stations (s, panel);
  work_out_cases (s);
}

/* A spring draws its end towards its other one. */
static double
spring_on_point (const FwStripFlex *s, int point, const FwPose *pose, FwVec3 w)
{
  FwCoilPose c = fw_coil_pose (s->mechanism, pose, s->coil[point]);
  if (!(c.length_mm > 0))
    return 0;
  double up = c.pull_N * fw_vec3_dot (fw_vec3_sub (c.to, c.from), w) / c.length_mm;
  return s->end[point] == 0 ? -up : up;
}

/* What weighs on a point, towards -w. */
static double
on_point (const FwStripFlex *s, int point, const FwPose *pose, const FwLoads *loads, FwVec3 w)
{
  int child = s->child[point];
  if (s->coil[point] >= 0)
    return spring_on_point (s, point, pose, w);
  if (child >= 0)
    return fw_vec3_dot (loads->hinges[child].force, w);
  const FwLinkPose *rod = &pose->links[-1 - child];
  FwVec3 way = fw_vec3_sub (rod->to.at, rod->from.at);
  return -loads->tension[-1 - child] * fw_vec3_dot (way, w) / fw_vec3_length (way);
}

FwStripBend
fw_strip_bend (const FwStripFlex *s, const FwPose *pose, const FwLoads *loads, int member,
               double speed)
{
  if (!loads->known)
    return (FwStripBend){ NAN, NAN };
  const FwMotion *m = &pose->members[member].motion;
  double speed2 = speed * speed, size[FW_STRIP_CASES];
  FwVec3 swing = fw_vec3_cross (m->spin, fw_vec3_cross (m->spin, m->at.u));
  FwVec3 growth = fw_vec3_add (fw_vec3_cross (m->spin_rate, m->at.u), swing);
  size[0] = fw_vec3_dot (m->acceleration, m->at.w) * METRE * speed2 + FW_GRAVITY * m->at.w.z;
  size[1] = fw_vec3_dot (growth, m->at.w) * speed2;
  for (int p = 0; p < s->n_points; p++)
    size[2 + p] = on_point (s, p, pose, loads, m->at.w);
  FwStripBend b = { 0, 0 };
  double moment[FW_STRIP_STATIONS] = { 0 };
  for (int c = 0; c < 2 + s->n_points; c++)
    {
      b.sag += size[c] * s->tip[c];
      for (int i = 0; i <= LAST; i++)
        moment[i] += size[c] * s->moment[c][i];
    }
  for (int i = 0; i <= LAST; i++)
    if (s->width[i] > 0)
      b.stress = fmax (b.stress, fabs (moment[i]) / s->modulus[i]);
  return b;
}

static double
sag_at (const FwStripFlex *s, const double *sag, double u)
{
  int i = 0;
  while (i < LAST - 1 && s->u[i + 1] < u)
    i++;
  double h = s->u[i + 1] - s->u[i];
  return h > 0 ? sag[i] + (sag[i + 1] - sag[i]) * (u - s->u[i]) / h : sag[i];
}

/* Inverse iteration: the shape that its own inertia bends it into. */
double
fw_strip_frequency (const FwStripFlex *s, const double masses[FW_STRIP_POINTS])
{
  double shape[FW_STRIP_STATIONS], scale = 0;
  for (int i = 0; i <= LAST; i++)
    shape[i]
        = s->u[i] * (s->u[i] - s->hold) / (s->length * s->length); /* turns its sign at the rod */
  if (s->hold > 0.999 * s->length)
    for (int i = 0; i <= LAST; i++)
      shape[i] = s->u[i] * (s->length - s->u[i]);
  for (int round = 0; round < 12; round++)
    {
      double load[FW_STRIP_STATIONS], points[FW_STRIP_POINTS] = { 0 }, moment[FW_STRIP_STATIONS],
                                      sag[FW_STRIP_STATIONS];
      double most = 0;
      for (int i = 0; i <= LAST; i++)
        load[i] = s->areal * s->width[i] * shape[i];
      for (int p = 0; p < s->n_points; p++)
        points[p] = masses[p] * sag_at (s, shape, s->point_u[p]);
      bend (s, load, points, moment, sag);
      for (int i = 0; i <= LAST; i++)
        most = fabs (sag[i]) > fabs (most) ? sag[i] : most;
      scale = fabs (most);
      if (!(scale > 0))
        return INFINITY;
      for (int i = 0; i <= LAST; i++)
        shape[i] = sag[i] / scale;
    }
  return 1 / sqrt (scale);
}
