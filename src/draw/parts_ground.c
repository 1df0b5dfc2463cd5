/* What stands still and what turns: base, bearings, the frame that carries guide or rail, crank,
 * post. */
#include "draw/drawing.h"
#include "draw/stand.h"

#define MOST_CRANK 1200
#define BEND_POINTS 4

static const FwPart base_part = { FW_PART_BASE, 0 }, crank_part = { FW_PART_CRANK, 0 },
                    body_part = { FW_PART_BODY, 0 };

static void
add_bar_square (FwDrawing *d, FwVec3 a, FwVec3 b, double width)
{
  FwPiece *bar = fw_drawing_bar (d, base_part, "birch", a, b, width);
  bar->flat_ends = TRUE;
}

static void
add_bearing (FwDrawing *d, double station, double top)
{
  const FwDesign *design = d->scene->mechanism->design;
  double thick = fw_stand_timber (design), foot = fw_stand_leg (design);
  /* The corner of a leg cut square, not its middle, stands on the plate. */
  double stand = top + thick / 2 * foot / hypot (foot, top);
  double near = -INFINITY;
  for (int side = -1; side <= 1; side += 2)
    {
      FwVec3 low = fw_stand_place (design, station, side * foot, stand),
             high = fw_stand_place (design, station, 0, 0);
      add_bar_square (d, low, high, thick);
      near = fmax (near, (fw_drawing_depth (d, low) + fw_drawing_depth (d, high)) / 2);
    }
  FwPiece *collar = fw_drawing_cylinder (
      d, base_part, "brass", fw_stand_place (design, station - 0.6 * thick, 0, 0),
      fw_stand_place (design, station + 0.6 * thick, 0, 0), design->crank.diameter_mm + 0.8 * thick);
  collar->depth = near + 0.5;
}

/* Columns beyond the ends of a crank that runs along, with a beam towards the middle each. */
static void
add_bridge (FwDrawing *d, const FwVec2 columns[2], double station, double z, double half,
            double top)
{
  const FwDesign *design = d->scene->mechanism->design;
  double thick = fw_stand_timber (design) * 0.8;
  for (int i = 0; i < 2; i++)
    {
      double s = columns[i].x, h = columns[i].y, inner = station + (2 * i - 1) * half;
      add_bar_square (d, fw_stand_place (design, s, h, top),
                      fw_stand_place (design, s, h, z + thick / 2), thick);
      add_bar_square (d, fw_stand_place (design, s, h, z), fw_stand_place (design, inner, h, z),
                      thick * 0.8);
    }
}

/* Two columns with arms that hold something at (station, h, z). */
static void
add_carrier (FwDrawing *d, double station, double h, double z, double half, double top)
{
  const FwDesign *design = d->scene->mechanism->design;
  double thick = fw_stand_timber (design) * 0.8;
  FwVec2 columns[2];
  if (z < top + thick)
    return;
  FwCarried carried = fw_stand_columns (design, station, h, half, columns);
  if (carried == FW_CARRIED_BRIDGE)
    {
      add_bridge (d, columns, station, z, half, top);
      return;
    }
  double column = columns[0].y;
  for (int i = 0; i < 2; i++)
    {
      double s = columns[i].x;
      add_bar_square (d, fw_stand_place (design, s, column, top),
                      fw_stand_place (design, s, column, z + thick / 2), thick);
      if (carried == FW_CARRIED_BEHIND)
        add_bar_square (d, fw_stand_place (design, s, column, z),
                        fw_stand_place (design, s, h + thick, z), thick * 0.8);
    }
  add_bar_square (d, fw_stand_place (design, columns[0].x, column, z),
                  fw_stand_place (design, columns[1].x, column, z), thick * 0.8);
}

static void
body_travel (const FwScene *scene, double *least, double *most)
{
  *least = *most = scene->pose->body.z_mm;
  const double *row = scene->turn == NULL ? NULL
                                          : fw_turn_row (scene->turn, scene->mechanism,
                                                         (FwQuantity){ FW_Q_BODY_Z, 0 });
  for (int i = 0; row != NULL && i < scene->turn->steps; i++)
    if (isfinite (row[i]))
      {
        *least = fmin (*least, row[i]);
        *most = fmax (*most, row[i]);
      }
}

static void
add_rail (FwDrawing *d, double station, double half, double top)
{
  const FwDesign *design = d->scene->mechanism->design;
  double h = design->body.offset_mm, least, most;
  body_travel (d->scene, &least, &most);
  double thick = CLAMP (0.8 * design->body.diameter_mm, 1.2, 5);
  double low = fmax (least - 8 * thick, top + 10), high = most + 2.4 * thick;
  add_carrier (d, station, h, low, half, top);
  if (design->crank.runs == FW_RUNS_ACROSS)
    add_carrier (d, station, h, high, half, top);
  for (int side = -1; side <= 1; side += 2)
    {
      double s = station + side * half;
      FwPiece *rail = fw_drawing_bar (d, base_part, "steel", fw_stand_place (design, s, h, low),
                                      fw_stand_place (design, s, h, high), thick);
      rail->flat_ends = TRUE;
    }
  double z = d->scene->pose->body.z_mm;
  fw_drawing_cylinder (d, body_part, "brass", fw_stand_place (design, station - half - thick, h, z),
                       fw_stand_place (design, station + half + thick, h, z), 1.8 * thick);
}

static void
add_link (FwDrawing *d, double station, double half, double top)
{
  const FwDesign *design = d->scene->mechanism->design;
  const FwBody *body = &design->body;
  const FwPose *pose = d->scene->pose;
  FwVec3 pivot = fw_stand_place (design, station, body->pivot_mm.x, body->pivot_mm.y);
  FwVec3 pin = pose->pins[d->scene->mechanism->body_pin].at, datum = pose->body.motion.at.origin;
  FwVec3 held = fw_vec3_along (pin, body->on_mm / body->post_mm, fw_vec3_sub (datum, pin));
  FwVec3 axis = fw_crank_axis (design->crank.runs);
  add_carrier (d, station, body->pivot_mm.x, body->pivot_mm.y, half, top);
  double width = fmax (body->diameter_mm * 0.8, 4);
  for (int side = -1; side <= 1; side += 2)
    {
      FwVec3 aside = fw_vec3_scale (axis, side * 0.55 * half);
      fw_drawing_bar (d, body_part, "aluminium", fw_vec3_add (pivot, aside),
                      fw_vec3_add (held, aside), width)
          ->shows_through
          = TRUE;
    }
  const FwVec3 ends[2] = { pivot, held };
  for (int i = 0; i < 2; i++)
    fw_drawing_cylinder (d, body_part, "brass", fw_vec3_along (ends[i], -half * 0.8, axis),
                         fw_vec3_along (ends[i], half * 0.8, axis), 7)
        ->depth
        += half;
}

static void
add_guide (FwDrawing *d, double station, double half, double top)
{
  const FwDesign *design = d->scene->mechanism->design;
  const FwBody *body = &design->body;
  const FwPose *pose = d->scene->pose;
  FwVec3 at = fw_stand_place (design, station, body->guide_mm.x, body->guide_mm.y);
  FwVec3 axis = fw_crank_axis (design->crank.runs);
  FwVec3 pin = pose->pins[d->scene->mechanism->body_pin].at, datum = pose->body.motion.at.origin;
  FwVec3 post = fw_vec3_sub (datum, pin);
  double length = fw_vec3_length (post);
  add_carrier (d, station, body->guide_mm.x, body->guide_mm.y, half, top);
  if (length <= 0)
    return;
  fw_drawing_cylinder (d, base_part, "steel", fw_vec3_along (at, -half - 3, axis),
                       fw_vec3_along (at, half + 3, axis), 5);
  FwVec3 along = fw_vec3_scale (post, 1.5 * body->diameter_mm / length);
  FwPiece *sleeve = fw_drawing_cylinder (d, base_part, "brass", fw_vec3_sub (at, along),
                                         fw_vec3_add (at, along), body->diameter_mm * 1.7);
  sleeve->depth += 60; /* it wraps the post, which is long and deep in its middle elsewhere */
}

void
fw_drawing_add_stand (FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  const FwDesign *design = m->design;
  double plate[3], top, stations[64];
  fw_design_base (design, plate, &top);
  fw_drawing_block (d, base_part, FW_LAYER_BASE, "birch ply", fw_vec3 (0, 0, top - plate[2] / 2),
                    fw_vec3 (plate[0] / 2, 0, 0), fw_vec3 (0, plate[1] / 2, 0),
                    fw_vec3 (0, 0, plate[2] / 2));
  int n = MIN (fw_design_bearings (design, stations, 64), 64);
  for (int i = 0; i < n && top < 0; i++)
    add_bearing (d, stations[i], top);

  double station = fw_stand_body_station (m), half = fw_stand_half (design);
  switch (design->body.ride)
    {
    case FW_RIDE_SLEEVE:
      add_guide (d, station, half, top);
      break;
    case FW_RIDE_RAIL:
      add_rail (d, station, half, top);
      break;
    case FW_RIDE_ROCKER:
      add_link (d, station, half, top);
      break;
    case FW_RIDE_FIXED:
      {
        FwVec3 at = design->body.at_mm;
        add_carrier (d, station, design->crank.runs == FW_RUNS_ACROSS ? at.y : at.x, at.z, half,
                     top);
        break;
      }
    }
}

/* ---- Crank ---- */

/* The crank's line with its handle, turned to the pose. */
static int
crank_points (const FwDrawing *d, FwVec3 *points, int capacity)
{
  const FwDesign *design = d->scene->mechanism->design;
  FwRuns runs = design->crank.runs;
  FwVec3 axis = fw_crank_axis (runs);
  double cosine = cos (d->scene->pose->crank), sine = sin (d->scene->pose->crank);
  int n = 0, before = design->base.handle_mm > 0 ? 2 : 0;
  n = MIN (fw_crank_line (design, points + before, capacity - before), capacity - before);
  if (n < 2)
    return 0;
  if (before > 0)
    {
      FwVec3 arm = fw_vec3_along (points[2], design->base.handle_mm, fw_vec3 (0, 0, 1));
      points[1] = arm;
      points[0] = fw_vec3_along (arm, -fmax (14, 2 * design->crank.diameter_mm), axis);
    }
  for (int i = 0; i < n + before; i++)
    points[i] = fw_crank_turn (runs, points[i], cosine, sine);
  return n + before;
}

/* A corner as a bend that the pipe could be drawn round. */
static void
add_bend (FwDrawing *d, FwVec3 before, FwVec3 corner, FwVec3 after, double reach)
{
  FwVec3 in = fw_vec3_sub (before, corner), out = fw_vec3_sub (after, corner);
  double l0 = fw_vec3_length (in), l1 = fw_vec3_length (out);
  double r = fmin (reach, 0.48 * fmin (l0, l1));
  if (l0 <= 0 || l1 <= 0 || r * d->camera.scale < 0.7)
    {
      fw_drawing_point (d, fw_drawing_project (d, corner));
      return;
    }
  FwVec3 a = fw_vec3_along (corner, r / l0, in), b = fw_vec3_along (corner, r / l1, out);
  for (int i = 0; i <= BEND_POINTS; i++)
    {
      double t = (double)i / BEND_POINTS, s = 1 - t;
      FwVec3 p = fw_vec3_scale (a, s * s);
      p = fw_vec3_along (p, 2 * s * t, corner);
      fw_drawing_point (d, fw_drawing_project (d, fw_vec3_along (p, t * t, b)));
    }
}

static void
add_crank_piece (FwDrawing *d, const FwVec3 *points, int n, gboolean end_on, int joint)
{
  const FwCrank *crank = &d->scene->mechanism->design->crank;
  FwPiece *piece = fw_drawing_begin (d, FW_PIECE_TUBE, crank_part, FW_LAYER_WORK, crank->material);
  double depth = 0;
  for (int i = 0; i < n; i++)
    {
      depth += fw_drawing_depth (d, points[i]);
      if (i == 0 || i == n - 1)
        fw_drawing_point (d, fw_drawing_project (d, points[i]));
      else
        add_bend (d, points[i - 1], points[i], points[i + 1], 1.1 * crank->diameter_mm);
    }
  piece->n = (int)d->points->len - piece->first;
  piece->width = crank->diameter_mm * d->camera.scale;
  piece->depth = depth / n;
  piece->flat_ends = !end_on;
  piece->joint = end_on ? 0 : joint;
  piece->shows_through = TRUE;
}

/* Where a run along the axis is cut, as shares of its length: in the middle, and on the axis itself
 * a little beyond both bends, so that the straight shaft sorts by its own depth, as its bearings
 * do. Returns how many. */
static int
run_cuts (FwVec3 from, FwVec3 leg, double length, FwVec3 axis, double bend, gboolean first,
          gboolean last, double cuts[2])
{
  FwVec3 off = fw_vec3_along (from, -fw_vec3_dot (from, axis), axis);
  int n = 0;
  if (fw_vec3_length (off) > 1e-6 || length < 3 * bend)
    {
      cuts[0] = 0.5;
      return first || last ? 0 : 1;
    }
  if (!first)
    cuts[n++] = bend / length;
  if (!last)
    cuts[n++] = 1 - bend / length;
  return n;
}

/* Cut along every run on the axis, so that webs sort by their own depth and the cuts meet where the
 * pipe is straight. */
static void
add_crank_pieces (FwDrawing *d, const FwVec3 *points, int n, FwVec3 axis, gboolean end_on)
{
  FwVec3 run[16];
  int in_run = 0, joint = 0;
  double overlap = 0.6 / fmax (d->camera.scale, 1e-6);
  double bend = 1.7 * d->scene->mechanism->design->crank.diameter_mm;
  for (int i = 0; i < n; i++)
    {
      run[in_run++] = points[i];
      if (i == n - 1)
        break;
      FwVec3 leg = fw_vec3_sub (points[i + 1], points[i]);
      double length = fw_vec3_length (leg), cuts[2] = { 0.5, 0.5 };
      int n_cuts = in_run >= 12 ? 1 : 0;
      if (length > 0 && fabs (fw_vec3_dot (leg, axis)) > 0.99 * length)
        n_cuts = run_cuts (points[i], leg, length, axis, bend, i == 0, i == n - 2, cuts);
      double lap = length > 0 ? fmin (overlap / length, 0.2) : 0;
      for (int k = 0; k < n_cuts; k++)
        {
          run[in_run++] = fw_vec3_along (points[i], cuts[k] + lap, leg);
          add_crank_piece (d, run, in_run, end_on, ++joint);
          run[0] = fw_vec3_along (points[i], cuts[k] - lap, leg);
          in_run = 1;
        }
    }
  if (in_run > 1)
    add_crank_piece (d, run, in_run, end_on, ++joint);
}

static void
add_pin_ends (FwDrawing *d, FwVec3 axis)
{
  const FwMechanism *m = d->scene->mechanism;
  for (int i = 0; i < m->n_pins; i++)
    {
      double half = m->design->crank.throws[m->pins[i].throw_index].width_mm / 2;
      FwVec3 at = d->scene->pose->pins[i].at;
      FwPiece *pin = fw_drawing_cylinder (
          d, crank_part, m->design->crank.material, fw_vec3_along (at, -half, axis),
          fw_vec3_along (at, half, axis), m->design->crank.diameter_mm);
      pin->depth = fw_drawing_depth (d, at) + half + 0.5;
    }
}

void
fw_drawing_add_crank (FwDrawing *d)
{
  const FwDesign *design = d->scene->mechanism->design;
  FwVec3 points[MOST_CRANK];
  int n = crank_points (d, points, MOST_CRANK);
  if (n < 2)
    return;
  FwVec3 axis = fw_crank_axis (design->crank.runs);
  gboolean end_on = fabs (fw_vec3_dot (axis, d->axes.toward)) > 0.97;
  add_crank_pieces (d, points, n, axis, end_on);
  double diameter = design->crank.diameter_mm;
  FwPiece *tail = fw_drawing_cylinder (d, crank_part, design->crank.material,
                                       fw_vec3_along (points[n - 1], -0.4 * diameter, axis),
                                       points[n - 1], diameter);
  tail->depth += 1;
  if (design->base.handle_mm > 0)
    {
      double handle = design->base.handle_mm, grip = CLAMP (0.65 * handle, 9, 38);
      FwPiece *knob
          = fw_drawing_cylinder (d, crank_part, "oak", fw_vec3_along (points[0], -grip, axis),
                                 points[0], fmax (CLAMP (0.3 * handle, 4, 14), 1.8 * diameter));
      knob->depth += 1;
    }
  if (end_on)
    add_pin_ends (d, axis);
}

/* ---- Post ---- */

void
fw_drawing_add_post (FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  const FwBody *body = &m->design->body;
  const FwPose *pose = d->scene->pose;
  if (m->body_pin < 0)
    return;
  FwVec3 pin = pose->pins[m->body_pin].at, datum = pose->body.motion.at.origin;
  FwVec3 axis = fw_crank_axis (m->design->crank.runs);
  FwPiece *post = fw_drawing_bar (d, body_part, body->material, pin, datum, body->diameter_mm);
  post->flat_ends = TRUE;
  post->shows_through = TRUE;
  post->faint = pose->body.closure != FW_CLOSES;
  double depth = post->depth;
  double eye = m->design->crank.diameter_mm + 0.9 * body->diameter_mm;
  double half = 0.3 * m->design->crank.throws[m->pins[m->body_pin].throw_index].width_mm;
  FwPiece *fitting = fw_drawing_cylinder (d, body_part, "brass", fw_vec3_along (pin, -half, axis),
                                          fw_vec3_along (pin, half, axis), eye);
  fitting->depth = fmax (depth, fitting->depth) + 0.5;
}
