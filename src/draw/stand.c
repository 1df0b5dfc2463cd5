#include "draw/stand.h"

#include <math.h>

#define MOST_BEARINGS 64

double
fw_stand_timber (const FwDesign *design)
{
  return CLAMP (1.3 * design->crank.diameter_mm, 3, 24);
}

FwVec3
fw_stand_place (const FwDesign *design, double station, double h, double z)
{
  return design->crank.runs == FW_RUNS_ACROSS ? fw_vec3 (station, h, z) : fw_vec3 (h, station, z);
}

double
fw_stand_leg (const FwDesign *design)
{
  double plate[3], top, thick = fw_stand_timber (design);
  fw_design_base (design, plate, &top);
  double half_depth = (design->crank.runs == FW_RUNS_ACROSS ? plate[1] : plate[0]) / 2;
  return fmax (fmin (0.5 * -top + thick, half_depth - thick), thick);
}

double
fw_stand_body_station (const FwMechanism *m)
{
  if (m->body_pin >= 0)
    return m->pins[m->body_pin].station_mm;
  FwVec3 at = m->design->body.at_mm;
  return m->design->crank.runs == FW_RUNS_ACROSS ? at.x : at.y;
}

double
fw_stand_half (const FwDesign *design)
{
  return fmax (1.5 * design->body.diameter_mm, 12) + fw_stand_timber (design) / 2;
}

static double
swing_reach (const FwDesign *design)
{
  double r = 0;
  for (int i = 0; i < design->crank.n_throws; i++)
    r = fmax (r, design->crank.throws[i].radius_mm);
  return r + design->crank.diameter_mm + 14;
}

FwCarried
fw_stand_columns (const FwDesign *design, double station, double h, double half, FwVec2 columns[2])
{
  double thick = fw_stand_timber (design) * 0.8, reach = swing_reach (design) + thick;
  gboolean straight = fabs (h) >= reach;
  if (design->crank.runs == FW_RUNS_ALONG && !straight)
    {
      /* Columns beside the swing would stand in the way of a wing. */
      double ends[MOST_BEARINGS];
      int n = MIN (fw_design_bearings (design, ends, MOST_BEARINGS), MOST_BEARINGS);
      columns[0] = (FwVec2){ (n > 0 ? ends[0] : 0) - 2 * thick, h };
      columns[1] = (FwVec2){ (n > 0 ? ends[n - 1] : 0) + 2 * thick, h };
      return FW_CARRIED_BRIDGE;
    }
  for (int i = 0; i < 2; i++)
    columns[i] = (FwVec2){ station + (2 * i - 1) * half, straight ? h : -reach };
  return straight ? FW_CARRIED_STRAIGHT : FW_CARRIED_BEHIND;
}

double
fw_stand_upright (const FwDesign *design)
{
  return CLAMP (1.3 * design->crank.diameter_mm, 5, 24);
}

FwVec2
fw_stand_anchor (const FwDesign *design, FwVec3 at)
{
  double plate[3], top, width = fw_stand_upright (design);
  fw_design_base (design, plate, &top);
  return (FwVec2){ CLAMP (at.x, width - plate[0] / 2, plate[0] / 2 - width),
                   CLAMP (at.y, width - plate[1] / 2, plate[1] / 2 - width) };
}
