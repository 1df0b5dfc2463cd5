#include "build_design.h"

#include <stdlib.h>
#include <string.h>

/* Designs own malloc memory, so strings and arrays come from libc, not from GLib. */
static void *
grow (void *array, int n, size_t size)
{
  char *bigger = realloc (array, (size_t)(n + 1) * size);
  g_assert_nonnull (bigger);
  memset (bigger + (size_t)n * size, 0, size);
  return bigger;
}

FwDesign *
build_design (FwRuns runs)
{
  FwDesign *design = calloc (1, sizeof *design);
  g_assert_nonnull (design);
  design->crank = (FwCrank){
    .runs = runs, .turns_per_minute = 30, .diameter_mm = 8, .material = strdup ("copper")
  };
  design->body = (FwBody){ .ride = FW_RIDE_FIXED, .diameter_mm = 8, .material = strdup ("copper") };
  design->base = (FwBase){ .plate_mm = { 400, 300, 12 }, .top_mm = -5000, .handle_mm = 0 };
  design->drive = (FwDrive){ .pin_radius_mm = 2, .restitution = 0.3, .margin = 2 };
  return design;
}

static int
add_throw (FwDesign *design, const char *name, double radius, double phase, double station,
           bool both)
{
  FwCrank *crank = &design->crank;
  crank->throws = grow (crank->throws, crank->n_throws, sizeof *crank->throws);
  crank->throws[crank->n_throws] = (FwThrow){ .name = strdup (name),
                                              .radius_mm = radius,
                                              .phase_deg = phase,
                                              .station_mm = station,
                                              .both = both,
                                              .width_mm = 20 };
  return crank->n_throws++;
}

int
build_throw (FwDesign *design, const char *name, double radius, double phase, double station)
{
  return add_throw (design, name, radius, phase, station, false);
}

int
build_twin_throw (FwDesign *design, const char *name, double radius, double phase, double station)
{
  return add_throw (design, name, radius, phase, station, true);
}

int
build_panel (FwDesign *design, const char *name, FwSide side, int on, FwVec3 hinge, double span)
{
  design->panels = grow (design->panels, design->n_panels, sizeof *design->panels);
  design->panels[design->n_panels] = (FwPanel){ .name = strdup (name),
                                                .side = side,
                                                .on = on,
                                                .hinge_mm = hinge,
                                                .reach = FW_REACH_SIDE,
                                                .span_mm = span,
                                                .thickness_mm = 2,
                                                .material = strdup ("card") };
  return design->n_panels++;
}

int
build_rod (FwDesign *design, const char *name, FwSide side, FwAnchor from, int panel, FwVec3 at,
           double length, double near_deg)
{
  design->rods = grow (design->rods, design->n_rods, sizeof *design->rods);
  design->rods[design->n_rods] = (FwRod){ .name = strdup (name),
                                          .side = side,
                                          .from = from,
                                          .panel = panel,
                                          .at_mm = at,
                                          .length_mm = length,
                                          .near_deg = near_deg,
                                          .diameter_mm = 3,
                                          .material = strdup ("brass"),
                                          .lean_limit_deg = 25,
                                          .bend_limit_deg = 45 };
  return design->n_rods++;
}

void
build_fixed (FwDesign *design, double x, double y, double z, double tilt)
{
  design->body.ride = FW_RIDE_FIXED;
  design->body.at_mm = fw_vec3 (x, y, z);
  design->body.tilt_deg = tilt;
}

void
build_rail (FwDesign *design, int throw_index, double rod, double offset)
{
  design->body.ride = FW_RIDE_RAIL;
  design->body.throw_index = throw_index;
  design->body.rod_mm = rod;
  design->body.offset_mm = offset;
}

void
build_sleeve (FwDesign *design, int throw_index, double post, double guide_h, double guide_z)
{
  design->body.ride = FW_RIDE_SLEEVE;
  design->body.throw_index = throw_index;
  design->body.post_mm = post;
  design->body.guide_mm = (FwVec2){ guide_h, guide_z };
}

void
build_rocker (FwDesign *design, int throw_index, double post, double pivot_h, double pivot_z,
              double link, double on)
{
  design->body.ride = FW_RIDE_ROCKER;
  design->body.throw_index = throw_index;
  design->body.post_mm = post;
  design->body.pivot_mm = (FwVec2){ pivot_h, pivot_z };
  design->body.link_mm = link;
  design->body.on_mm = on;
}

void
build_stops (FwDesign *design, int panel, double min_deg, double max_deg)
{
  design->panels[panel].has_stops = true;
  design->panels[panel].stops_deg[0] = min_deg;
  design->panels[panel].stops_deg[1] = max_deg;
}

void
build_mass (FwDesign *design, int panel, double mass_g, double u, double v, double w)
{
  design->panels[panel].has_mass = true;
  design->panels[panel].mass_g = mass_g;
  design->panels[panel].centre_mm = fw_vec3 (u, v, w);
}

void
build_sheet (FwDesign *design, int panel, double half_width)
{
  FwPanel *p = &design->panels[panel];
  free (p->outline_mm);
  p->outline_mm = calloc (4, sizeof *p->outline_mm);
  g_assert_nonnull (p->outline_mm);
  p->n_outline = 4;
  p->outline_mm[0] = (FwVec2){ 0, -half_width };
  p->outline_mm[1] = (FwVec2){ p->span_mm, -half_width };
  p->outline_mm[2] = (FwVec2){ p->span_mm, half_width };
  p->outline_mm[3] = (FwVec2){ 0, half_width };
}

void
build_spring (FwDesign *d, FwSide side, FwAnchor from, FwAnchor to, double rate, double free_mm,
              bool cord)
{
  d->springs = realloc (d->springs, (size_t)(d->n_springs + 1) * sizeof *d->springs);
  g_assert_nonnull (d->springs);
  d->springs[d->n_springs] = (FwSpringPart){
    g_strdup_printf ("spring %d", d->n_springs), side, from, to, rate, free_mm, cord
  };
  d->n_springs++;
}

void
build_weight (FwDesign *d, double mass, double radius, double phase, double station)
{
  d->crank.weights
      = realloc (d->crank.weights, (size_t)(d->crank.n_weights + 1) * sizeof *d->crank.weights);
  g_assert_nonnull (d->crank.weights);
  d->crank.weights[d->crank.n_weights++]
      = (FwCrankWeight){ g_strdup ("weight"), mass, radius, phase, station };
}

FwAnchor
from_throw (int index)
{
  return (FwAnchor){ .kind = FW_FROM_THROW, .index = index };
}

FwAnchor
from_base (double x, double y, double z)
{
  return (FwAnchor){ .kind = FW_FROM_BASE, .at_mm = { x, y, z } };
}

FwAnchor
from_body (double x, double y, double z)
{
  return (FwAnchor){ .kind = FW_FROM_BODY, .at_mm = { x, y, z } };
}

FwAnchor
from_panel (int index, double u, double v, double w)
{
  return (FwAnchor){ .kind = FW_FROM_PANEL, .index = index, .at_mm = { u, v, w } };
}

FwDesign *
build_example (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.turns_per_minute = 40;
  int mid = build_throw (d, "mid", 40, 0, 0);
  int in = build_twin_throw (d, "in", 30, 180, 150);
  build_sleeve (d, mid, 420, 0, 180);
  d->body.mass_g = 900;
  d->body.centre_mm = fw_vec3 (0, 35, 60);
  d->body.gyration_mm = 140;
  int inner = build_panel (d, "inner", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (45, 0, 0), 210);
  build_stops (d, inner, -60, 60);
  build_mass (d, inner, 160, 105, -10, 0);
  d->panels[inner].inertia_gmm2[0] = 300000;
  d->panels[inner].inertia_gmm2[1] = 600000;
  d->panels[inner].inertia_gmm2[2] = 900000;
  int rod
      = build_rod (d, "inrod", FW_SIDE_BOTH, from_throw (in), inner, fw_vec3 (140, 0, -12), 412, 0);
  d->rods[rod].mass_g = 30;
  return d;
}

FwDesign *
build_heron (void)
{
  FwDesign *d = build_example ();
  int outer = build_panel (d, "outer", FW_SIDE_BOTH, 0, fw_vec3 (210, 0, 0), 260);
  build_mass (d, outer, 90, 110, 0, 0);
  build_rod (d, "outrod", FW_SIDE_BOTH, from_body (40, 0, -60), outer, fw_vec3 (40, 0, -30), 212,
             0);
  return d;
}
