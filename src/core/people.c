#include "core/people.h"

#include "core/solve.h"

static const double *
torque_row (const FwLoadTurn *turn, const FwMechanism *mech)
{
  return fw_load_turn_row (turn, mech, (FwLoad){ FW_LOAD_TORQUE, 0 });
}

static bool
goes_round (const FwLoadTurn *turn, const FwMechanism *mech)
{
  const double *torque = torque_row (turn, mech);
  for (int i = 0; i < turn->steps; i++)
    if (isnan (torque[i]))
      return false;
  return turn->steps > 2;
}

/* The greatest of sign * row, at the top of the parabola through three steps. */
static FwExtreme
top_of (const double *row, int steps, double sign)
{
  int at = 0;
  for (int i = 1; i < steps; i++)
    if (sign * row[i] > sign * row[at])
      at = i;
  double before = row[(at + steps - 1) % steps], here = row[at], after = row[(at + 1) % steps];
  double bend = before - 2 * here + after, slope = (after - before) / 2;
  double shift = bend != 0 ? fmax (-0.5, fmin (0.5, -slope / bend)) : 0;
  double crank = 2 * FW_PI * (at + shift + (at + shift < 0 ? steps : 0)) / steps;
  return (FwExtreme){ crank, here + shift * (slope + shift * bend / 2) };
}

bool
fw_hand (const FwLoadTurn *turn, const FwMechanism *mech, FwHand *hand)
{
  double radius = mech->design->base.handle_mm / 1000;
  if (!(radius > 0) || !goes_round (turn, mech))
    return false;
  const double *torque = torque_row (turn, mech);
  FwExtreme push = top_of (torque, turn->steps, 1), back = top_of (torque, turn->steps, -1);
  double sum = 0;
  for (int i = 0; i < turn->steps; i++)
    sum += fabs (torque[i]);
  *hand = (FwHand){ .peak_N = fmax (0, push.value) / radius,
                    .peak_crank = push.crank,
                    .back_N = fmax (0, -back.value) / radius,
                    .back_crank = back.crank,
                    .mean_N = sum / turn->steps / radius };
  return true;
}

bool
fw_motor (const FwLoadTurn *turn, const FwMechanism *mech, FwMotor *motor)
{
  if (!goes_round (turn, mech))
    return false;
  const double *torque = torque_row (turn, mech);
  double peak = fmax (0, top_of (torque, turn->steps, 1).value), given = 0;
  for (int i = 0; i < turn->steps; i++)
    given += fmax (0, torque[i]);
  *motor = (FwMotor){ .torque_Nm = peak,
                      .rated_Nm = peak * mech->design->drive.margin,
                      .holding_Nm = fmax (0, -top_of (torque, turn->steps, -1).value),
                      .turns_per_minute = turn->speed * 60 / (2 * FW_PI),
                      .mean_W = given / turn->steps * turn->speed,
                      .peak_W = peak * turn->speed };
  return true;
}

bool
fw_centre_of_mass (const FwLoadTurn *turn, const FwMechanism *mech, FwCentre *out)
{
  if (!goes_round (turn, mech) || !(turn->mass_g > 0))
    return false;
  *out = (FwCentre){ turn->mass_g, turn->centre[0], turn->centre[0] };
  for (int i = 1; i < turn->steps; i++)
    {
      FwVec3 c = turn->centre[i];
      out->low_mm = fw_vec3 (fmin (out->low_mm.x, c.x), fmin (out->low_mm.y, c.y), fmin (out->low_mm.z, c.z));
      out->high_mm = fw_vec3 (fmax (out->high_mm.x, c.x), fmax (out->high_mm.y, c.y), fmax (out->high_mm.z, c.z));
    }
  return true;
}

/* ---- Ripple ---- */

/* In heights and springs. */
static double
resting_energy (const FwLoadTurn *turn, int step)
{
  return turn->mass_g * FW_GRAVITY * turn->centre[step].z * 1e-6 + turn->stored[step];
}

/* J(crank) of everything that moves with the crank, kg m^2. */
static double
inertia_at (const FwLoadTurn *turn, int step)
{
  return 2 * turn->kinetic[step] / (turn->speed * turn->speed);
}

/* What the even push has brought since crank angle 0 less what friction took, added step by step:
 * the push is the mean of the loss, so over a turn it is nothing. */
static double
brought (const FwLoadTurn *turn, double mean_loss, int step)
{
  return mean_loss == 0 ? 0 : (mean_loss - turn->loss[step]) * (2 * FW_PI / turn->steps);
}

static double
mean_loss_of (const FwLoadTurn *turn)
{
  double sum = 0;
  for (int i = 0; i < turn->steps; i++)
    sum += turn->loss[i];
  return sum / turn->steps;
}

/* Time of a turn, s. Kinetic and potential energy together are `energy` and what has been brought since:
 * omega^2 = 2 (E - V) / (J + hand). */
static double
turn_time (const FwLoadTurn *turn, double hand, double energy, double *low, double *high)
{
  double sum = 0, mean_loss = mean_loss_of (turn);
  *low = INFINITY;
  *high = 0;
  for (int i = 0; i < turn->steps; i++)
    {
      double speed = sqrt (2 * (energy - resting_energy (turn, i)) / (inertia_at (turn, i) + hand));
      *low = fmin (*low, speed);
      *high = fmax (*high, speed);
      sum += 2 * FW_PI / turn->steps / speed;
      energy += brought (turn, mean_loss, i);
    }
  return sum;
}

bool
fw_ripple (const FwLoadTurn *turn, const FwMechanism *mech, double hand, FwRipple *out)
{
  if (!goes_round (turn, mech) || !(turn->speed > 0))
    return false;
  double top = -INFINITY, low = INFINITY, high = -INFINITY, mean = 0, most = 0;
  double mean_loss = mean_loss_of (turn), gained = 0; /* since crank angle 0 */
  for (int i = 0; i < turn->steps; i++)
    {
      double energy = turn->kinetic[i] + resting_energy (turn, i) - gained,
             inertia = inertia_at (turn, i) + hand;
      top = fmax (top, resting_energy (turn, i) - gained);
      gained += brought (turn, mean_loss, i);
      low = fmin (low, energy);
      high = fmax (high, energy);
      mean += inertia / turn->steps;
      most = fmax (most, inertia);
    }
  if (!(mean > 0))
    return false;
  /* The energy with which a turn takes as long as at steady speed. Even the heaviest pose from the
   * highest point would be fast enough with `room`. */
  double from = top, room = 2 * most * turn->speed * turn->speed + 1e-12,
         time = 2 * FW_PI / turn->speed, l, h;
  for (int i = 0; i < 100; i++)
    {
      double middle = from + room / 2;
      room /= 2;
      if (turn_time (turn, hand, middle, &l, &h) > time)
        from = middle;
    }
  turn_time (turn, hand, from + room, &l, &h);
  *out = (FwRipple){ .energy_J = high - low,
                     .coefficient = (h - l) / turn->speed,
                     .flywheel = (high - low) / (mean * turn->speed * turn->speed),
                     .low = l,
                     .high = h };
  return true;
}

/* ---- Stand ---- */

typedef struct
{
  double plate[3], top, floor;
  double base_N; /* weight of the base */
} Ground;

static Ground
ground_of (const FwMechanism *mech)
{
  Ground g;
  fw_design_base (mech->design, g.plate, &g.top);
  g.floor = g.top - g.plate[2];
  g.base_N = mech->design->base.mass_g * FW_GRAVITY / 1000;
  return g;
}

static FwVec3
outward (int rim)
{
  const FwVec3 ways[4] = { { 1, 0, 0 }, { -1, 0, 0 }, { 0, 1, 0 }, { 0, -1, 0 } };
  return ways[rim];
}

/* Moment about the rim, N m, that turns the top outward: of a force (N) with its moment about the
 * origin. */
static double
overturning (const Ground *g, int rim, FwVec3 force, FwVec3 moment)
{
  FwVec3 out = outward (rim), corner = fw_vec3_scale (out, g->plate[rim / 2] / 2000);
  corner.z = g->floor / 1000;
  FwVec3 about = fw_vec3_sub (moment, fw_vec3_cross (corner, force));
  return fw_vec3_dot (fw_vec3_cross (fw_vec3 (0, 0, 1), out), about);
}

/* Moments about a rim: weight turns with the floor, inertia does not. On a slope a it tips where
 * cos a * upright + sin a * across + inertia is above zero. */
typedef struct
{
  double upright, across, inertia;
} Rim;

static Rim
rim_at (const FwLoadTurn *turn, const Ground *g, int step, int rim)
{
  FwVec3 c = fw_vec3_scale (turn->centre[step], 1e-3), base = { 0, 0, g->top / 1000 };
  double weight = turn->mass_g * FW_GRAVITY / 1000;
  FwVec3 out = outward (rim), all = { 0, 0, -weight - g->base_N };
  FwVec3 first
      = fw_vec3_along (fw_vec3_scale (c, weight), g->base_N, base); /* moment of weight, N m */
  FwVec3 side = fw_vec3_scale (out, weight + g->base_N);
  /* What the base gives, less what carries the weight, goes into inertia; its reaction overturns.
   */
  FwVec3 force = fw_vec3_sub (fw_vec3 (0, 0, weight), turn->push[step]);
  FwVec3 moment = fw_vec3_sub (fw_vec3_cross (c, fw_vec3 (0, 0, weight)), turn->moment[step]);
  return (Rim){ .upright = overturning (g, rim, all, fw_vec3_cross (first, fw_vec3 (0, 0, -1))),
                .across = overturning (g, rim, side, fw_vec3_cross (first, out)),
                .inertia = overturning (g, rim, force, moment) };
}

static double
tilt_of (const Rim *r)
{
  double ratio = fmax (-1, fmin (1, -r->inertia / hypot (r->upright, r->across)));
  return atan2 (-r->upright, r->across) + asin (ratio);
}

double
fw_stand_tilt (const FwLoadTurn *turn, const FwMechanism *mech, int step, int rim)
{
  Ground g = ground_of (mech);
  Rim r = rim_at (turn, &g, step, rim);
  return tilt_of (&r);
}

/* Where the floor's reaction acts without moment; way to the nearest rim, mm. */
static double
zero_moment_margin (const FwLoadTurn *turn, const Ground *g, int step)
{
  FwVec3 force = turn->push[step], moment = turn->moment[step];
  double lift = force.z + g->base_N, z = g->floor / 1000;
  if (!(lift > 0))
    return -INFINITY; /* it leaps */
  double x = (z * force.x - moment.y) / lift, y = (moment.x + z * force.y) / lift;
  return fmin (g->plate[0] / 2 - fabs (x) * 1000, g->plate[1] / 2 - fabs (y) * 1000);
}

bool
fw_stand (const FwLoadTurn *turn, const FwMechanism *mech, FwStand *out)
{
  const FwBase *base = &mech->design->base;
  bool stands = base->plate_mm[0] > 0 && base->mass_g > 0 && !base->hung;
  if (!stands || !goes_round (turn, mech) || !(turn->mass_g > 0))
    return false;
  Ground g = ground_of (mech);
  double width = 2 * FW_PI / turn->steps, cosine = 1, sine = 0;
  *out = (FwStand){ .tilt_deg = INFINITY, .margin_mm = INFINITY };
  for (int i = 0; i < turn->steps; i++)
    {
      double margin = zero_moment_margin (turn, &g, i);
      if (margin < out->margin_mm)
        {
          out->margin_mm = margin;
          out->margin_crank = i * width;
        }
      for (int rim = 0; rim < 4; rim++)
        {
          Rim r = rim_at (turn, &g, i, rim);
          bool stands_level = r.upright + r.inertia <= 0;
          if (stands_level && isfinite (out->tilt_deg)
              && cosine * r.upright + sine * r.across + r.inertia <= 0)
            continue; /* it holds on the slope on which another tips */
          double tilt = tilt_of (&r);
          if (fw_degrees (tilt) >= out->tilt_deg)
            continue;
          cosine = cos (tilt);
          sine = sin (tilt);
          out->tilt_deg = fw_degrees (tilt);
          out->tilt_crank = i * width;
          out->tilt_rim = rim;
        }
    }
  return true;
}

bool
fw_hanger (const FwLoadTurn *turn, const FwMechanism *mech, double *peak_N, double *strength_N)
{
  if (!mech->design->base.hung || !goes_round (turn, mech))
    return false;
  double peak = 0, base = mech->design->base.mass_g * FW_GRAVITY / 1000;
  for (int i = 0; i < turn->steps; i++)
    peak = fmax (peak, turn->push[i].z + base);
  *peak_N = peak;
  *strength_N = FW_HANG_FACTOR * peak;
  return true;
}
