#include "strength/crank.h"

#include <stdlib.h>
#include <string.h>

#include "core/springs.h"

#define METRE 0.001
#define SAME_MM 0.001  /* nodes this close are one */
#define ON_AXIS_MM 0.5 /* a bearing holds what passes it within this */
#define POISSON 0.3    /* common practice, where only Young's modulus is known */
#define PIN_ROWS 5
#define BAR_ROWS 8

enum
{
  MARK_NONE,
  MARK_PIN,
  MARK_BEARING,
  MARK_WEIGHT
};

/* A place on the line: a corner, the middle of a pin or a bearing. */
typedef struct
{
  double way; /* along the line, mm */
  int mark, index;
} Place;

typedef struct
{
  FwVec3 *points;
  int n_points;
  Place *places;
  int n_places;
} Line;

bool
fw_crank_flex_known (const FwDesign *design)
{
  const FwCrank *c = &design->crank;
  return c->stuff.young_GPa > 0 && c->diameter_mm > 0 && c->n_throws > 0;
}

/* The nearest point of the line; its distance. */
static double
nearest (const Line *line, FwVec3 p, double *way)
{
  double best = INFINITY, before = 0;
  for (int i = 0; i + 1 < line->n_points; i++)
    {
      FwVec3 a = line->points[i], along = fw_vec3_sub (line->points[i + 1], a);
      double length = fw_vec3_length (along);
      double part = length > 0 ? fw_vec3_dot (fw_vec3_sub (p, a), along) / (length * length) : 0;
      part = fmax (0, fmin (1, part));
      double distance = fw_vec3_distance (p, fw_vec3_along (a, part, along));
      if (distance < best)
        {
          best = distance;
          *way = before + part * length;
        }
      before += length;
    }
  return best;
}

static FwVec3
point_at (const Line *line, double way)
{
  for (int i = 0; i + 1 < line->n_points; i++)
    {
      double length = fw_vec3_distance (line->points[i], line->points[i + 1]);
      if (way <= length || i + 2 == line->n_points)
        return fw_vec3_along (line->points[i], length > 0 ? fmin (way / length, 1) : 0,
                              fw_vec3_sub (line->points[i + 1], line->points[i]));
      way -= length;
    }
  return line->points[0];
}

static FwVec3
in_space (FwRuns runs, double station, double h, double z)
{
  return runs == FW_RUNS_ACROSS ? fw_vec3 (station, h, z) : fw_vec3 (h, station, z);
}

static FwVec3
pin_middle (FwRuns runs, const FwPin *pin)
{
  return in_space (runs, pin->station_mm, pin->radius_mm * pin->sin_phase,
                   pin->radius_mm * pin->cos_phase);
}

static int
by_way (const void *a, const void *b)
{
  const Place *x = a, *y = b;
  return (x->way > y->way) - (x->way < y->way);
}

static void
add_place (Line *line, double way, int mark, int index)
{
  line->places[line->n_places++] = (Place){ way, mark, index };
}

/* Corners, pins and bearings in the order in which they lie along the crank. */
static void
gather_places (Line *line, const FwMechanism *mech, const double *bearings, int n_bearings)
{
  FwRuns runs = mech->design->crank.runs;
  double way = 0;
  for (int i = 0; i < line->n_points; i++)
    {
      way += i > 0 ? fw_vec3_distance (line->points[i - 1], line->points[i]) : 0;
      add_place (line, way, MARK_NONE, 0);
    }
  for (int i = 0; i < mech->n_pins; i++)
    {
      double at = 0;
      nearest (line, pin_middle (runs, &mech->pins[i]), &at);
      add_place (line, at, MARK_PIN, i);
    }
  for (int i = 0; i < n_bearings; i++)
    {
      double at = 0;
      if (nearest (line, in_space (runs, bearings[i], 0, 0), &at) < ON_AXIS_MM)
        add_place (line, at, MARK_BEARING, i);
    }
  for (int i = 0; i < mech->design->crank.n_weights; i++)
    {
      double at = 0;
      nearest (line, in_space (runs, mech->design->crank.weights[i].station_mm, 0, 0), &at);
      add_place (line, at, MARK_WEIGHT, i);
    }
  qsort (line->places, (size_t)line->n_places, sizeof (Place), by_way);
}

static int
count_nodes (const Line *line)
{
  int n = 1;
  double last = 0;
  for (int i = 0; i < line->n_places; i++)
    if (line->places[i].way > last + SAME_MM)
      {
        n++;
        last = line->places[i].way;
      }
  return n;
}

static unsigned
sideways (FwRuns runs)
{
  return runs == FW_RUNS_ACROSS ? FW_HOLD_Y | FW_HOLD_Z : FW_HOLD_X | FW_HOLD_Z;
}

static unsigned
driven (FwRuns runs)
{
  return runs == FW_RUNS_ACROSS ? FW_HOLD_X | FW_HOLD_TURN_X : FW_HOLD_Y | FW_HOLD_TURN_Y;
}

static void
place_nodes (FwCrankFlex *flex, const Line *line, const double *bearings)
{
  FwFrameNode *nodes = flex->frame->nodes;
  int node = 0;
  double last = 0;
  nodes[0].at = fw_vec3_scale (line->points[0], METRE);
  for (int i = 0; i < line->n_places; i++)
    {
      const Place *p = &line->places[i];
      if (p->way > last + SAME_MM)
        {
          nodes[++node].at = fw_vec3_scale (point_at (line, p->way), METRE);
          last = p->way;
        }
      if (p->mark == MARK_PIN)
        flex->pin_nodes[p->index] = node;
      if (p->mark == MARK_WEIGHT)
        flex->weights[p->index].node = node;
      if (p->mark != MARK_BEARING)
        continue;
      nodes[node].held |= sideways (flex->runs);
      flex->bearings_mm[flex->n_bearings] = bearings[p->index];
      flex->bearing_nodes[flex->n_bearings++] = node;
    }
  nodes[0].held |= driven (flex->runs);
}

static void
lay_bars (FwSpaceFrame *frame, const FwCrank *crank)
{
  FwBarSection section = fw_section_stock (crank->diameter_mm, crank->wall_mm);
  double young = crank->stuff.young_GPa * 1e9;
  double shear
      = crank->stuff.shear_GPa > 0 ? crank->stuff.shear_GPa * 1e9 : young / (2 * (1 + POISSON));
  for (int i = 0; i < frame->n_bars; i++)
    frame->bars[i] = (FwFrameBar){ .from = i,
                                   .to = i + 1,
                                   .section = section,
                                   .young = young,
                                   .shear = shear,
                                   .density = crank->stuff.density_kgm3 };
}

/* +1 where a turn about the crank axis by the right-hand rule is forward. */
static double
forward (FwRuns runs)
{
  return runs == FW_RUNS_ACROSS ? -1 : 1;
}

/* Where the pin goes when the crank turns on, at crank angle 0. */
static FwVec3
onward (const FwCrankFlex *flex, int pin)
{
  return in_space (flex->runs, 0, flex->pins[pin].cos_phase, -flex->pins[pin].sin_phase);
}

static FwVec3
get3 (const double *v)
{
  return fw_vec3 (v[0], v[1], v[2]);
}

static void
answer_pins (const FwCrankFlex *flex, const double *moves, double *row)
{
  FwVec3 axis = fw_crank_axis (flex->runs), h = fw_crank_h (flex->runs);
  for (int i = 0; i < flex->n_pins; i++, row += PIN_ROWS)
    {
      const double *node = moves + 6 * flex->pin_nodes[i];
      FwVec3 moved = get3 (node);
      double radius = flex->pins[i].radius_mm * METRE;
      row[0] = fw_vec3_dot (moved, axis);
      row[1] = fw_vec3_dot (moved, h);
      row[2] = moved.z;
      row[3] = -forward (flex->runs) * fw_vec3_dot (get3 (node + 3), axis);
      row[4] = radius > 0 ? -fw_vec3_dot (moved, onward (flex, i)) / radius : row[3];
    }
}

static void
answer_bearings (const FwCrankFlex *flex, const double *moves, const double *loads,
                 double *reactions, double *row)
{
  FwVec3 h = fw_crank_h (flex->runs);
  fw_space_frame_reactions (flex->frame, moves, loads, reactions);
  for (int i = 0; i < flex->n_bearings; i++, row += 2)
    {
      const double *node = reactions + 6 * flex->bearing_nodes[i];
      row[0] = fw_vec3_dot (get3 (node), h);
      row[1] = node[2];
    }
}

/* The load per length of a case: none on pins, own weight, or whirling. */
static FwVec3
spread (const FwCrankFlex *flex, int load_case, int bar)
{
  const FwFrameBar *b = &flex->frame->bars[bar];
  double per_length = b->density * b->section.area;
  int weight = load_case - 3 * flex->n_pins;
  if (weight < 0)
    return fw_vec3 (0, 0, 0);
  if (weight < 2)
    return fw_vec3_scale (weight == 0 ? fw_crank_h (flex->runs) : fw_vec3 (0, 0, 1), per_length);
  FwVec3 middle = fw_vec3_scale (
      fw_vec3_add (flex->frame->nodes[b->from].at, flex->frame->nodes[b->to].at), 0.5);
  FwVec3 axis = fw_crank_axis (flex->runs);
  return fw_vec3_scale (fw_vec3_along (middle, -fw_vec3_dot (middle, axis), axis), per_length);
}

/* A force at the centre of a counterweight, carried to its node by a stiff arm. */
static void
load_weight (const FwCrankFlex *flex, const FwFlexWeight *w, FwVec3 force, double *loads)
{
  double *node = loads + 6 * w->node;
  FwVec3 moment = fw_vec3_cross (fw_vec3_sub (w->at, flex->frame->nodes[w->node].at), force);
  const double more[6] = { force.x, force.y, force.z, moment.x, moment.y, moment.z };
  for (int i = 0; i < 6; i++)
    node[i] += more[i];
}

/* Of own weight and whirling, the part of the counterweights. */
static void
load_weights (const FwCrankFlex *flex, int load_case, double *loads)
{
  int kind = load_case - 3 * flex->n_pins;
  FwVec3 axis = fw_crank_axis (flex->runs);
  for (int i = 0; i < flex->n_weights; i++)
    {
      const FwFlexWeight *w = &flex->weights[i];
      FwVec3 way = kind == 0   ? fw_crank_h (flex->runs)
                   : kind == 1 ? fw_vec3 (0, 0, 1)
                               : fw_vec3_along (w->at, -fw_vec3_dot (w->at, axis), axis);
      load_weight (flex, w, fw_vec3_scale (way, w->mass), loads);
    }
}

/* What the counterweights add to 1/omega^2: mass times give along its circle, each by itself. */
static double
slowness_of_weights (const FwCrankFlex *flex, double *moves)
{
  double slowness = 0;
  FwVec3 spin = fw_vec3_scale (fw_crank_axis (flex->runs), forward (flex->runs));
  for (int i = 0; i < flex->n_weights; i++)
    {
      const FwFlexWeight *w = &flex->weights[i];
      FwVec3 onward = fw_vec3_cross (spin, w->at); /* its length is the radius */
      double radius = fw_vec3_length (onward);
      if (!(radius > 0 && w->mass > 0))
        continue;
      onward = fw_vec3_scale (onward, 1 / radius);
      memset (moves, 0, (size_t)flex->frame->n_nodes * 6 * sizeof (double));
      load_weight (flex, w, onward, moves);
      fw_space_frame_solve (flex->frame, moves);
      const double *node = moves + 6 * w->node;
      FwVec3 arm = fw_vec3_sub (w->at, flex->frame->nodes[w->node].at);
      FwVec3 moved = fw_vec3_add (get3 (node), fw_vec3_cross (get3 (node + 3), arm));
      slowness += w->mass * fw_vec3_dot (moved, onward);
    }
  return slowness;
}

static void
fill_case (const FwCrankFlex *flex, int load_case, double *loads)
{
  memset (loads, 0, (size_t)flex->frame->n_nodes * 6 * sizeof (double));
  if (load_case < 3 * flex->n_pins)
    {
      const FwVec3 ways[3] = { fw_crank_axis (flex->runs), fw_crank_h (flex->runs), { 0, 0, 1 } };
      FwVec3 way = ways[load_case % 3];
      double *node = loads + 6 * flex->pin_nodes[load_case / 3];
      node[0] = way.x;
      node[1] = way.y;
      node[2] = way.z;
      return;
    }
  for (int b = 0; b < flex->frame->n_bars; b++)
    fw_space_frame_add_uniform (flex->frame, b, spread (flex, load_case, b), loads);
  load_weights (flex, load_case, loads);
}

static void
answer_bars (const FwCrankFlex *flex, int load_case, const double *moves, double *row)
{
  for (int b = 0; b < flex->frame->n_bars; b++)
    {
      double ends[12];
      fw_space_frame_ends (flex->frame, b, moves, spread (flex, load_case, b), ends);
      for (int end = 0; end < 12; end += 6, row += 4)
        {
          row[0] = ends[end];
          row[1] = ends[end + 4];
          row[2] = ends[end + 5];
          row[3] = ends[end + 3];
        }
    }
}

static bool
answer_cases (FwCrankFlex *flex)
{
  size_t n = (size_t)flex->frame->n_nodes * 6;
  flex->n_cases = 3 * flex->n_pins + 3;
  flex->n_rows = PIN_ROWS * flex->n_pins + 2 * flex->n_bearings + BAR_ROWS * flex->frame->n_bars;
  flex->answers = calloc ((size_t)flex->n_cases * (size_t)flex->n_rows, sizeof (double));
  flex->rows = calloc ((size_t)flex->n_rows, sizeof (double));
  double *work = malloc (3 * n * sizeof (double));
  bool room = flex->answers != NULL && flex->rows != NULL && work != NULL;
  for (int c = 0; c < flex->n_cases && room; c++)
    {
      double *moves = work, *loads = work + n,
             *row = flex->answers + (size_t)c * (size_t)flex->n_rows;
      fill_case (flex, c, loads);
      memcpy (moves, loads, n * sizeof (double));
      fw_space_frame_solve (flex->frame, moves);
      answer_pins (flex, moves, row);
      answer_bearings (flex, moves, loads, work + 2 * n, row + PIN_ROWS * flex->n_pins);
      answer_bars (flex, c, moves, row + PIN_ROWS * flex->n_pins + 2 * flex->n_bearings);
    }
  if (room)
    flex->weights_slowness = slowness_of_weights (flex, work);
  free (work);
  return room;
}

static void
note_weights (FwCrankFlex *flex, const FwDesign *design)
{
  flex->n_weights = design->crank.n_weights;
  for (int i = 0; i < flex->n_weights; i++)
    flex->weights[i] = (FwFlexWeight){ .mass = design->crank.weights[i].mass_g / 1000,
                                       .at = fw_vec3_scale (fw_crank_weight_at (design, i, 0).at, METRE) };
}

/* Nodes, bars, factor and answers; false when memory runs out. */
static bool
build (FwCrankFlex *flex, const FwMechanism *mech, Line *line)
{
  const FwDesign *design = mech->design;
  double first;
  int n_bearings = fw_design_bearings (design, &first, 1);
  double *bearings = malloc (sizeof (double) * (size_t)(n_bearings + 1));
  line->n_points = fw_crank_line (design, NULL, 0);
  line->points = malloc (sizeof (FwVec3) * (size_t)line->n_points);
  line->places = malloc (sizeof (Place) * (size_t)(line->n_points + mech->n_pins + n_bearings + design->crank.n_weights));
  flex->weights = calloc ((size_t)design->crank.n_weights + 1, sizeof *flex->weights);
  flex->pin_nodes = calloc ((size_t)mech->n_pins + 1, sizeof (int));
  flex->bearing_nodes = calloc ((size_t)n_bearings + 1, sizeof (int));
  flex->bearings_mm = calloc ((size_t)n_bearings + 1, sizeof (double));
  bool room = bearings != NULL && line->points != NULL && line->places != NULL
              && flex->pin_nodes != NULL && flex->bearing_nodes != NULL
              && flex->bearings_mm != NULL && flex->weights != NULL;
  if (room)
    {
      note_weights (flex, design);
      fw_design_bearings (design, bearings, n_bearings);
      fw_crank_line (design, line->points, line->n_points);
      gather_places (line, mech, bearings, n_bearings);
      int n = count_nodes (line);
      flex->frame = fw_space_frame_new (n, n - 1);
      room = flex->frame != NULL;
    }
  if (room)
    {
      place_nodes (flex, line, bearings);
      lay_bars (flex->frame, &design->crank);
      flex->status = flex->n_bearings < 2 ? FW_FRAME_LOOSE : fw_space_frame_factorise (flex->frame);
      room = flex->status != FW_FRAME_NO_MEMORY
             && (flex->status != FW_FRAME_OK || answer_cases (flex));
    }
  free (bearings);
  return room;
}

FwCrankFlex *
fw_crank_flex_new (const FwMechanism *mech)
{
  FwCrankFlex *flex = calloc (1, sizeof *flex);
  if (flex == NULL)
    return NULL;
  *flex = (FwCrankFlex){ .n_pins = mech->n_pins,
                         .runs = mech->design->crank.runs,
                         .pins = mech->pins,
                         .allowed = mech->design->crank.stuff.yield_MPa * 1e6 / 2,
                         .status = FW_FRAME_BAD };
  if (!fw_crank_flex_known (mech->design))
    return flex;
  Line line = { NULL };
  bool room = build (flex, mech, &line);
  free (line.points);
  free (line.places);
  if (room)
    return flex;
  fw_crank_flex_free (flex);
  return NULL;
}

void
fw_crank_flex_free (FwCrankFlex *flex)
{
  if (flex == NULL)
    return;
  fw_space_frame_free (flex->frame);
  free (flex->bearings_mm);
  free (flex->pin_nodes);
  free (flex->bearing_nodes);
  free (flex->weights);
  free (flex->answers);
  free (flex->rows);
  free (flex);
}

/* Three neighbouring cases at once, which halves the traffic with memory. */
static void
add_cases (FwCrankFlex *flex, int first, double a, double b, double c)
{
  size_t n = (size_t)flex->n_rows;
  const double *restrict x = flex->answers + (size_t)first * n, *restrict y = x + n,
                         *restrict z = y + n;
  double *restrict rows = flex->rows;
  for (size_t i = 0; i < n; i++)
    rows[i] += a * x[i] + b * y[i] + c * z[i];
}

void
fw_crank_flex_load (FwCrankFlex *flex, const FwVec3 *forces, double cosine, double sine,
                    double speed)
{
  FwVec3 axis = fw_crank_axis (flex->runs), h = fw_crank_h (flex->runs);
  memset (flex->rows, 0, sizeof (double) * (size_t)flex->n_rows);
  for (int i = 0; i < flex->n_pins; i++)
    {
      /* what it gives weighs on it; turned back into the crank's own axes */
      FwVec3 load = fw_crank_turn (flex->runs, fw_vec3_scale (forces[i], -1), cosine, -sine);
      add_cases (flex, 3 * i, fw_vec3_dot (load, axis), fw_vec3_dot (load, h), load.z);
    }
  FwVec3 weight = fw_crank_turn (flex->runs, fw_vec3 (0, 0, -FW_GRAVITY), cosine, -sine);
  add_cases (flex, 3 * flex->n_pins, fw_vec3_dot (weight, h), weight.z, speed * speed);
}

FwVec3
fw_crank_flex_moved (const FwCrankFlex *flex, int pin)
{
  const double *row = flex->rows + PIN_ROWS * pin;
  return in_space (flex->runs, row[0], row[1], row[2]);
}

double
fw_crank_flex_sag (const FwCrankFlex *flex, int pin)
{
  return hypot (flex->rows[PIN_ROWS * pin + 1], flex->rows[PIN_ROWS * pin + 2]);
}

double
fw_crank_flex_wind_up (const FwCrankFlex *flex, int pin)
{
  return flex->rows[PIN_ROWS * pin + 3];
}

double
fw_crank_flex_lag (const FwCrankFlex *flex, int pin)
{
  return flex->rows[PIN_ROWS * pin + 4];
}

double
fw_crank_flex_reaction (const FwCrankFlex *flex, int bearing, double *h, double *z)
{
  const double *row = flex->rows + PIN_ROWS * flex->n_pins + 2 * bearing;
  *h = row[0];
  *z = row[1];
  return hypot (row[0], row[1]);
}

double
fw_crank_flex_stress (const FwCrankFlex *flex, int *at)
{
  const double *row = flex->rows + PIN_ROWS * flex->n_pins + 2 * flex->n_bearings;
  const FwBarSection *s = &flex->frame->bars[0].section; /* one stock all along */
  double area = 1 / s->area, bend = s->edge_y / s->second_y, twist = s->edge_twist / s->twist,
         most = 0;
  for (int i = 0; i < 2 * flex->frame->n_bars; i++, row += 4)
    {
      double direct = fabs (row[0]) * area + sqrt (row[1] * row[1] + row[2] * row[2]) * bend,
             shear = row[3] * twist;
      double squared = direct * direct + 3 * shear * shear;
      if (!(squared <= most)) /* NaN comes through */
        {
          most = squared;
          if (at != NULL)
            *at = (i + 1) / 2;
        }
    }
  return sqrt (most);
}

double
fw_crank_flex_give (const FwCrankFlex *flex, int pin)
{
  /* movement in the plane per force in the plane, both along the circle */
  double t[2] = { flex->pins[pin].cos_phase, -flex->pins[pin].sin_phase }, give = 0;
  for (int force = 0; force < 2; force++)
    for (int move = 0; move < 2; move++)
      give += t[force] * t[move]
              * flex->answers[(size_t)(3 * pin + 1 + force) * (size_t)flex->n_rows
                              + (size_t)(PIN_ROWS * pin + 1 + move)];
  return give;
}
