/* The crankshaft's centre line. Stations are sorted; between two throws that stand too close for a
 * return to the axis the line goes from pin to pin. */
#include "core/pose.h"

#define END 2.5 /* of crank beyond its outer bearing, in diameters: so that all sizes are similar */
#define MOST_PINS 256

typedef struct
{
  double from, to, h, z;
} Pin;

FwVec3
fw_crank_axis (FwRuns runs)
{
  return runs == FW_RUNS_ACROSS ? fw_vec3 (1, 0, 0) : fw_vec3 (0, 1, 0);
}

FwVec3
fw_crank_h (FwRuns runs)
{
  return runs == FW_RUNS_ACROSS ? fw_vec3 (0, 1, 0) : fw_vec3 (1, 0, 0);
}

static FwVec3
place (FwRuns runs, double station, double h, double z)
{
  return runs == FW_RUNS_ACROSS ? fw_vec3 (station, h, z) : fw_vec3 (h, station, z);
}

/* Keeps the list sorted by station. */
static int
insert_pin (Pin *pins, int n, Pin pin)
{
  if (n == MOST_PINS)
    return n;
  int i = n;
  for (; i > 0 && pins[i - 1].from + pins[i - 1].to > pin.from + pin.to; i--)
    pins[i] = pins[i - 1];
  pins[i] = pin;
  return n + 1;
}

static int
gather_pins (const FwCrank *crank, Pin *pins)
{
  int n = 0;
  for (int i = 0; i < crank->n_throws; i++)
    {
      const FwThrow *t = &crank->throws[i];
      double phase = t->phase_deg * (acos (-1.0) / 180), half = t->width_mm / 2;
      Pin pin = { t->station_mm - half, t->station_mm + half, t->radius_mm * sin (phase),
                  t->radius_mm * cos (phase) };
      n = insert_pin (pins, n, pin);
      if (t->both && crank->runs == FW_RUNS_ACROSS && t->station_mm != 0)
        {
          pin.from = -t->station_mm - half;
          pin.to = -t->station_mm + half;
          n = insert_pin (pins, n, pin);
        }
    }
  return n;
}

typedef struct
{
  FwVec3 *points;
  int n, capacity;
} Line;

static void
add (Line *line, FwVec3 point)
{
  if (line->n < line->capacity)
    line->points[line->n] = point;
  line->n++;
}

int
fw_crank_line (const FwDesign *design, FwVec3 *points, int capacity)
{
  const FwCrank *crank = &design->crank;
  Pin pins[MOST_PINS];
  int n = gather_pins (crank, pins);
  if (n == 0)
    return 0;
  double bearings[64];
  int n_bearings = fw_design_bearings (design, bearings, 64);
  if (n_bearings > 64)
    n_bearings = 64;
  double start = fmin (pins[0].from, bearings[0]) - END * design->crank.diameter_mm;
  double end = fmax (pins[n - 1].to, bearings[n_bearings - 1]) + END * design->crank.diameter_mm;

  Line line = { .points = points, .capacity = capacity };
  FwRuns runs = crank->runs;
  add (&line, place (runs, start, 0, 0));
  for (int i = 0; i < n; i++)
    {
      bool after_axis = i == 0 || pins[i].from > pins[i - 1].to;
      bool before_axis = i == n - 1 || pins[i + 1].from > pins[i].to;
      double from = after_axis ? pins[i].from : (pins[i].from + pins[i - 1].to) / 2;
      double to = before_axis ? pins[i].to : (pins[i].to + pins[i + 1].from) / 2;
      if (after_axis)
        add (&line, place (runs, from, 0, 0));
      add (&line, place (runs, from, pins[i].h, pins[i].z));
      add (&line, place (runs, to, pins[i].h, pins[i].z));
      if (before_axis)
        add (&line, place (runs, to, 0, 0));
    }
  add (&line, place (runs, end, 0, 0));
  return line.n;
}

FwVec3
fw_crank_turn (FwRuns runs, FwVec3 p, double cosine, double sine)
{
  double h = runs == FW_RUNS_ACROSS ? p.y : p.x;
  double turned_h = h * cosine + p.z * sine, turned_z = p.z * cosine - h * sine;
  return runs == FW_RUNS_ACROSS ? fw_vec3 (p.x, turned_h, turned_z)
                                : fw_vec3 (turned_h, p.y, turned_z);
}
