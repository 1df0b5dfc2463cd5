/* Mass, where it is, and how it resists turning: of the body, of every member with the rod ends it
 * carries, and of what hangs on each pin. */
#pragma once

#include "core/mechanism.h"

/* In one frame, about the frame's origin. g, g mm, g mm^2. */
typedef struct
{
  double mass_g;
  FwVec3 moment_gmm;       /* mass times centre */
  double uu, vv, ww;       /* moments of inertia */
  double uv, vw, wu;       /* products, +integral u v dm and so on */
} FwInertia;

/* The two as one body: both in the same frame. */
FwInertia fw_inertia_add (FwInertia a, FwInertia b);

/* A point mass. */
FwInertia fw_inertia_point (double mass_g, FwVec3 at_mm);

/* A thin plate in the plane w = 0: exact polygon moments (any way round). Weight per area in g/m^2. */
FwInertia fw_inertia_plate (const FwVec2 *outline_mm, int n, double areal_gm2);

/* The panel of a design by itself: as weighed (mass, centre, inertia), or from outline and sheet. */
FwInertia fw_inertia_panel (const FwPanel *panel);

/* A member with the rod ends on it; the body likewise; what half-rods put on a pin, g. */
FwInertia fw_inertia_member (const FwMechanism *mechanism, int member);
FwInertia fw_inertia_body (const FwMechanism *mechanism);
double fw_inertia_pin (const FwMechanism *mechanism, int pin);

/* The tensor times a vector, both in the frame's axes. */
static inline FwVec3
fw_inertia_times (const FwInertia *i, FwVec3 v)
{
  return fw_vec3 (i->uu * v.x - i->uv * v.y - i->wu * v.z, -i->uv * v.x + i->vv * v.y - i->vw * v.z,
                  -i->wu * v.x - i->vw * v.y + i->ww * v.z);
}
