/* Designs written in C, as short as a test wants them. Units and frames as in core/design.h. */
#pragma once

#include <glib.h>

#include "core/design.h"

/* A fixed body at the origin, no throws, no panels, no rods; the base far below and never in the
 * way. Free it with fw_design_free (). */
FwDesign *build_design (FwRuns runs);

/* Each returns the index of what it added. */
int build_throw (FwDesign *design, const char *name, double radius, double phase, double station);
int build_twin_throw (FwDesign *design, const char *name, double radius, double phase,
                      double station);
int build_panel (FwDesign *design, const char *name, FwSide side, int on, FwVec3 hinge,
                 double span);
int build_rod (FwDesign *design, const char *name, FwSide side, FwAnchor from, int panel, FwVec3 at,
               double length, double near_deg);

void build_fixed (FwDesign *design, double x, double y, double z, double tilt);
void build_rail (FwDesign *design, int throw_index, double rod, double offset);
void build_sleeve (FwDesign *design, int throw_index, double post, double guide_h, double guide_z);
void build_rocker (FwDesign *design, int throw_index, double post, double pivot_h, double pivot_z,
                   double link, double on);

void build_stops (FwDesign *design, int panel, double min_deg, double max_deg);
void build_mass (FwDesign *design, int panel, double mass_g, double u, double v, double w);

/* A rectangle from u = 0 to the span, v from -half_width to half_width. */
void build_sheet (FwDesign *design, int panel, double half_width);

/* N/mm and mm; a cord does not push. */
void build_spring (FwDesign *design, FwSide side, FwAnchor from, FwAnchor to, double rate,
                   double free_mm, bool cord);
/* A counterweight of the crank, g, mm, degrees. */
void build_weight (FwDesign *design, double mass, double radius, double phase, double station);

FwAnchor from_throw (int index);
FwAnchor from_base (double x, double y, double z);
FwAnchor from_body (double x, double y, double z);
FwAnchor from_panel (int index, double u, double v, double w);

/* The worked example of docs/model.md. */
FwDesign *build_example (void);

/* A heron: the example, with outer panels that a rod each from the body moves: a body, four panels.
 */
FwDesign *build_heron (void);
