#include "draw/forcerows.h"

#define NEAR (1.5 * G_PI / 180)

gboolean
fw_quantity_known (const FwMechanism *m, FwQuantity q)
{
  int kind = (int)q.kind;
  double station;
  if (kind < 0 || kind >= FW_N_CURVE_KINDS || q.index < 0)
    return FALSE;
  switch (q.kind)
    {
    case FW_Q_BODY_H:
    case FW_Q_BODY_Z:
    case FW_Q_BODY_TILT:
    case FW_Q_TORQUE:
      return TRUE;
    case FW_Q_ANGLE:
    case FW_Q_RATE:
    case FW_Q_RATE2:
    case FW_Q_OTHER_ROOT:
    case FW_Q_HINGE:
      return q.index < m->n_members;
    case FW_Q_SWING:
      return q.index < m->n_members && m->members[q.index].rod < 0;
    case FW_Q_HANDLE:
      return m->design->base.handle_mm > 0;
    case FW_Q_GUIDE:
    case FW_Q_FOOT:
      return m->design->body.ride != FW_RIDE_FIXED;
    case FW_Q_PIN:
      return q.index < m->n_pins;
    case FW_Q_BEARING:
      return q.index < fw_design_bearings (m->design, &station, 1);
    case FW_Q_STRESS:
    case FW_Q_SAG:
      return q.index < 2 + m->n_links + m->n_members;
    default:
      return q.index < m->n_links;
    }
}

/* The core's row of a load; false for those that have none. */
static gboolean
core_load (const FwMechanism *m, FwQuantity q, FwLoad *load)
{
  static const FwLoadKind kinds[] = { FW_LOAD_TORQUE, FW_LOAD_TORQUE, FW_LOAD_TENSION,
                                      FW_LOAD_GUIDE,  FW_LOAD_POST,   FW_LOAD_HINGE,
                                      FW_LOAD_PIN };
  gboolean slide = q.kind == FW_Q_GUIDE && m->design->body.ride == FW_RIDE_RAIL;
  if (q.kind > FW_Q_PIN || slide)
    return FALSE;
  *load = (FwLoad){ kinds[q.kind - FW_Q_TORQUE], q.kind == FW_Q_HANDLE ? 0 : q.index };
  return TRUE;
}

/* A slide's push along +h. */
static double
slide_push (const FwScene *s, FwVec3 force)
{
  return fw_vec3_dot (force, fw_crank_h (s->mechanism->design->crank.runs));
}

static FwRow
own_row (int steps)
{
  FwRow row = { .steps = steps, .owned = g_new (double, MAX (steps, 1)) };
  row.values = row.owned;
  return row;
}

static FwRow
load_row (const FwScene *s, FwQuantity q)
{
  FwLoad load;
  for (int i = 0; i < s->n_rows; i++)
    if (s->rows[i].quantity.kind == q.kind && s->rows[i].quantity.index == q.index)
      return (FwRow){ s->rows[i].values, s->rows[i].steps, NULL };
  if (q.kind == FW_Q_BEARING && q.index < s->bearings.n)
    {
      FwRow row = own_row (s->bearings.steps);
      for (int i = 0; i < row.steps; i++)
        row.owned[i] = fw_vec3_length (s->bearings.forces[q.index * row.steps + i]);
      return row;
    }
  if (s->loads == NULL || q.kind > FW_Q_PIN)
    return (FwRow){ 0 };
  if (core_load (s->mechanism, q, &load) && q.kind != FW_Q_HANDLE)
    return (FwRow){ fw_load_turn_row (s->loads, s->mechanism, load), s->loads->steps, NULL };
  FwRow row = own_row (s->loads->steps);
  const double *torque
      = fw_load_turn_row (s->loads, s->mechanism, (FwLoad){ FW_LOAD_TORQUE, 0 });
  for (int i = 0; i < row.steps; i++)
    row.owned[i] = q.kind == FW_Q_HANDLE ? torque[i] * 1000 / s->mechanism->design->base.handle_mm
                                         : slide_push (s, s->loads->carrier[i]);
  return row;
}

FwRow
fw_scene_row (const FwScene *s, FwQuantity q)
{
  if (!fw_quantity_known (s->mechanism, q))
    return (FwRow){ 0 };
  if (fw_quantity_is_load (q))
    return load_row (s, q);
  if (s->turn == NULL)
    return (FwRow){ 0 };
  return (FwRow){ fw_turn_row (s->turn, s->mechanism, q), s->turn->steps, NULL };
}

static double
between_steps (const FwRow *row, double crank)
{
  double at = crank / (2 * G_PI);
  at = (at - floor (at)) * row->steps;
  int i = (int)at % row->steps;
  double a = row->values[i], b = row->values[(i + 1) % row->steps];
  return a + (b - a) * (at - floor (at));
}

double
fw_scene_value (const FwScene *s, FwQuantity q)
{
  FwLoad load;
  if (!fw_quantity_known (s->mechanism, q))
    return NAN;
  if (!fw_quantity_is_load (q))
    return fw_quantity_value (s->pose, s->mechanism, q);
  if (s->loads != NULL && core_load (s->mechanism, q, &load))
    {
      fw_loads_solve (s->loads->loads, s->mechanism, s->pose, s->loads->speed);
      double value = fw_load_value (s->loads->loads, load);
      return q.kind == FW_Q_HANDLE ? value * 1000 / s->mechanism->design->base.handle_mm : value;
    }
  FwRow row = load_row (s, q);
  double value = row.steps > 0 ? between_steps (&row, s->pose->crank) : NAN;
  g_free (row.owned);
  return value;
}

int
fw_scene_turning_points (const FwScene *s, FwQuantity q, FwExtreme *points, int capacity)
{
  if (!fw_quantity_is_load (q))
    return s->turn == NULL ? 0
                           : fw_turn_turning_points (s->turn, s->mechanism, q, points, capacity);
  FwRow row = fw_scene_row (s, q);
  int n = 0;
  double size = 0;
  for (int i = 0; i < row.steps; i++)
    size = fmax (size, isfinite (row.values[i]) ? fabs (row.values[i]) : 0);
  for (int i = 0; i < row.steps; i++)
    {
      double a = row.values[(i + row.steps - 1) % row.steps], b = row.values[i],
             c = row.values[(i + 1) % row.steps];
      gboolean turns = (b >= a && b > c) || (b <= a && b < c);
      /* What is even but for rounding does not turn. */
      if (!turns || fabs (2 * b - a - c) < 1e-9 * size)
        continue;
      double off = 0.5 * (a - c) / (a - 2 * b + c);
      double crank = 2 * G_PI * (i + off) / row.steps;
      crank -= 2 * G_PI * floor (crank / (2 * G_PI));
      if (n < capacity)
        points[n] = (FwExtreme){ crank, b - 0.25 * (a - c) * off };
      n++;
    }
  g_free (row.owned);
  return n;
}

int
fw_scene_loads (const FwScene *s, FwQuantity *list, int capacity)
{
  const FwMechanism *m = s->mechanism;
  const int most[FW_N_CURVE_KINDS - FW_Q_TORQUE]
      = { 1, 1, m->n_links, 1, 1, m->n_members, m->n_pins, s->bearings.n, 0, 0 };
  int n = 0;
  for (int kind = FW_Q_TORQUE; kind <= FW_Q_BEARING; kind++)
    for (int i = 0; s->loads != NULL && i < most[kind - FW_Q_TORQUE]; i++)
      {
        FwQuantity q = { (FwQuantityKind)kind, i };
        if (!fw_quantity_known (m, q))
          continue;
        if (n < capacity)
          list[n] = q;
        n++;
      }
  for (int i = 0; i < s->n_rows; i++, n++)
    if (n < capacity)
      list[n] = s->rows[i].quantity;
  return n;
}

gboolean
fw_bounce_is_real (const FwMechanism *m, const FwBounce *b)
{
  return fw_joint_play (m, b->part) > 0;
}

gboolean
fw_bounce_holds (const FwBounce *b, double crank)
{
  double turn = 2 * G_PI, span = fmod (b->knock - b->crank + turn, turn),
         at = fmod (crank - b->crank + NEAR + 2 * turn, turn);
  return at <= span + 2 * NEAR;
}
