/* Pins and body: what stands between the crank and the panels. Plane mechanisms, solved in (h, z);
 * n = (sin tilt, cos tilt) points up the post and m = dn/dtilt squarely forward of it. */
#include "core/angle.h"
#include "core/solve.h"

typedef struct
{
  double h, z;
} Plane;

static inline double
dot2 (Plane a, Plane b)
{
  return a.h * b.h + a.z * b.z;
}

/* The pin's position and derivatives by crank angle: P, P', P'' = -P. */
static inline void
pin_plane (const FwPin *pin, double cosine, double sine, Plane *at, Plane *velocity)
{
  double s = sine * pin->cos_phase + cosine * pin->sin_phase;
  double c = cosine * pin->cos_phase - sine * pin->sin_phase;
  *at = (Plane) { pin->radius_mm * s, pin->radius_mm * c };
  *velocity = (Plane) { at->z, -at->h };
}

static FwVec3
in_space (FwRuns runs, double station, Plane p)
{
  return runs == FW_RUNS_ACROSS ? fw_vec3 (station, p.h, p.z) : fw_vec3 (p.h, station, p.z);
}

/* Everything about the plane motion of the body; derivatives stay 0 where they are not asked for. */
typedef struct
{
  Plane at, velocity, acceleration;
  double sin_tilt, cos_tilt, rate, rate2;
  bool derivatives; /* asked for */
} PlaneBody;

/* The datum at `post` up the post from the pin, once tilt and its rates are known. */
static void
put_datum (PlaneBody *b, double post, Plane pin, Plane pin_velocity)
{
  Plane n = { b->sin_tilt, b->cos_tilt }, m = { b->cos_tilt, -b->sin_tilt };
  double turn = b->rate * b->rate;
  b->at = (Plane) { pin.h + post * n.h, pin.z + post * n.z };
  if (!b->derivatives)
    return;
  b->velocity = (Plane) { pin_velocity.h + post * b->rate * m.h, pin_velocity.z + post * b->rate * m.z };
  b->acceleration = (Plane) { -pin.h + post * (b->rate2 * m.h - turn * n.h),
                              -pin.z + post * (b->rate2 * m.z - turn * n.z) };
}

/* Slider-crank: (h_datum - h_pin)^2 + (z_datum - z_pin)^2 = rod^2. */
static void
ride_rail (FwBodyPose *pose, PlaneBody *b, const FwBody *body, Plane pin, Plane pin_velocity)
{
  double across = body->offset_mm - pin.h;
  double rise2 = body->rod_mm * body->rod_mm - across * across;
  double rise = sqrt (fmax (rise2, 0));
  b->at = (Plane) { body->offset_mm, pin.z + rise };
  if (!(rise2 > 0))
    {
      pose->closure = FW_SHORT;
      pose->missing_mm = fabs (across) - body->rod_mm;
      return;
    }
  double across_rate = -pin_velocity.h;
  double rise_rate = -across * across_rate / rise;
  double rise_rate2 = -(across_rate * across_rate + across * pin.h + rise_rate * rise_rate) / rise;
  b->velocity = (Plane) { 0, pin_velocity.z + rise_rate };
  b->acceleration = (Plane) { 0, -pin.z + rise_rate2 };
}

/* Crank with swinging guide: the post points from the pin to the guide. */
static void
ride_sleeve (FwBodyPose *pose, PlaneBody *b, const FwBody *body, Plane pin, Plane pin_velocity)
{
  Plane d = { body->guide_mm.x - pin.h, body->guide_mm.y - pin.z };
  double length = sqrt (dot2 (d, d));
  pose->guide_mm = length;
  if (length < 1e-9)
    {
      pose->closure = FW_SHORT; /* pin and guide fall together: the post may point anywhere */
      put_datum (b, body->post_mm, pin, pin_velocity);
      return;
    }
  b->sin_tilt = d.h / length;
  b->cos_tilt = d.z / length;
  if (!b->derivatives)
    {
      put_datum (b, body->post_mm, pin, pin_velocity);
      return;
    }
  Plane n = { b->sin_tilt, b->cos_tilt }, m = { b->cos_tilt, -b->sin_tilt };
  double length_rate = -dot2 (pin_velocity, n);
  b->rate = -dot2 (pin_velocity, m) / length;
  b->rate2 = (dot2 (pin, m) - 2 * length_rate * b->rate) / length; /* d'' = -P'' = P */
  put_datum (b, body->post_mm, pin, pin_velocity);
}

/* What the link's length lacks (positive) or has too much (negative) for the rocker to close. */
static double
rocker_missing (const FwBody *body, double distance)
{
  double link = body->link_mm, on = body->on_mm;
  if (distance > on + link)
    return distance - on - link;
  if (on > distance + link)
    return on - distance - link;
  return -(link - distance - on);
}

/* Four-bar: the point `on` up the post is `link` from the pivot. */
static void
ride_rocker (FwBodyPose *pose, PlaneBody *b, const FwBody *body, double root, Plane pin, Plane pin_velocity)
{
  Plane d = { body->pivot_mm.x - pin.h, body->pivot_mm.y - pin.z };
  double on = body->on_mm, link = body->link_mm, distance2 = dot2 (d, d);
  double c = (on * on + distance2 - link * link) / (2 * on); /* n . d must be this */
  double w2 = distance2 - c * c;
  if (!(w2 >= 0) || distance2 == 0)
    {
      double distance = sqrt (distance2), toward = c < 0 ? -1 : 1;
      pose->closure = FW_SHORT;
      pose->missing_mm = rocker_missing (body, distance);
      if (distance > 0)
        {
          b->sin_tilt = toward * d.h / distance;
          b->cos_tilt = toward * d.z / distance;
        }
      put_datum (b, body->post_mm, pin, (Plane) { 0, 0 });
      return;
    }
  double w = root * sqrt (w2);
  b->cos_tilt = (d.z * c - d.h * w) / distance2;
  b->sin_tilt = (d.h * c + d.z * w) / distance2;
  Plane n = { b->sin_tilt, b->cos_tilt }, m = { b->cos_tilt, -b->sin_tilt };
  Plane e = { on * n.h - d.h, on * n.z - d.z }; /* from the pivot to the held point */
  double lever = on * dot2 (e, m);
  if (lever != 0)
    {
      b->rate = -dot2 (e, pin_velocity) / lever;
      double turn = on * b->rate * b->rate;
      Plane v = { pin_velocity.h + on * b->rate * m.h, pin_velocity.z + on * b->rate * m.z };
      Plane bias = { -pin.h - turn * n.h, -pin.z - turn * n.z };
      b->rate2 = -(dot2 (v, v) + dot2 (e, bias)) / lever;
    }
  put_datum (b, body->post_mm, pin, pin_velocity);
}

static void
ride_fixed (FwMotion *motion, FwBodyPose *pose, const FwBody *body, FwRuns runs, PlaneBody *b)
{
  double tilt = fw_radians (body->tilt_deg);
  b->sin_tilt = sin (tilt);
  b->cos_tilt = cos (tilt);
  motion->at.origin = body->at_mm;
  pose->h_mm = fw_vec3_dot (body->at_mm, fw_crank_h (runs));
  pose->z_mm = body->at_mm.z;
  pose->tilt = fw_wrap_near (tilt, 0);
}

/* Body axes from the tilt: z turns toward +h. */
static void
put_axes (FwFrame *f, FwRuns runs, double sine, double cosine)
{
  if (runs == FW_RUNS_ACROSS)
    {
      f->u = fw_vec3 (1, 0, 0);
      f->v = fw_vec3 (0, cosine, -sine);
      f->w = fw_vec3 (0, sine, cosine);
      return;
    }
  f->u = fw_vec3 (cosine, 0, -sine);
  f->v = fw_vec3 (0, 1, 0);
  f->w = fw_vec3 (sine, 0, cosine);
}

static void
solve_body (FwPose *pose, const FwMechanism *mech, double cosine, double sine, bool derivatives)
{
  const FwBody *body = &mech->design->body;
  FwRuns runs = mech->design->crank.runs;
  FwBodyPose *p = &pose->body;
  PlaneBody b = { .cos_tilt = 1, .derivatives = derivatives };
  FwMotion *motion = &p->motion;
  p->closure = FW_CLOSES;
  p->missing_mm = p->guide_mm = 0;
  if (body->ride == FW_RIDE_FIXED)
    {
      ride_fixed (motion, p, body, runs, &b);
      put_axes (&motion->at, runs, b.sin_tilt, b.cos_tilt);
      fw_stand_still (motion);
      return;
    }
  const FwPin *pin = &mech->pins[mech->body_pin];
  Plane at, velocity;
  pin_plane (pin, cosine, sine, &at, &velocity);
  switch (body->ride)
    {
    case FW_RIDE_FIXED: /* above */
      break;
    case FW_RIDE_RAIL:
      ride_rail (p, &b, body, at, velocity);
      break;
    case FW_RIDE_SLEEVE:
      ride_sleeve (p, &b, body, at, velocity);
      break;
    case FW_RIDE_ROCKER:
      ride_rocker (p, &b, body, mech->body_root, at, velocity);
      break;
    }
  p->h_mm = b.at.h;
  p->z_mm = b.at.z;
  p->tilt = body->ride == FW_RIDE_RAIL ? 0 : fw_angle_of (b.sin_tilt, b.cos_tilt);
  motion->at.origin = in_space (runs, pin->station_mm, b.at);
  put_axes (&motion->at, runs, b.sin_tilt, b.cos_tilt);
  if (p->closure != FW_CLOSES)
    fw_stand_still (motion);
  if (p->closure != FW_CLOSES || !derivatives)
    return;
  motion->velocity = in_space (runs, 0, b.velocity);
  motion->acceleration = in_space (runs, 0, b.acceleration);
  FwVec3 axis = runs == FW_RUNS_ACROSS ? fw_vec3 (-1, 0, 0) : fw_vec3 (0, 1, 0);
  motion->spin = fw_vec3_scale (axis, b.rate);
  motion->spin_rate = fw_vec3_scale (axis, b.rate2);
}

void
fw_solve_ground (FwPose *pose, const FwMechanism *mech, double cosine, double sine, bool derivatives)
{
  FwRuns runs = mech->design->crank.runs;
  Plane at = { 0, 0 }, velocity = { 0, 0 };
  for (int i = 0; i < mech->n_pins; i++)
    {
      const FwPin *pin = &mech->pins[i];
      if (!pin->twin) /* a twin follows its throw, at the same radius and phase */
        pin_plane (pin, cosine, sine, &at, &velocity);
      pose->pins[i].at = in_space (runs, pin->station_mm, at);
      if (!derivatives)
        continue;
      pose->pins[i].velocity = in_space (runs, 0, velocity);
      pose->pins[i].acceleration = in_space (runs, 0, (Plane) { -at.h, -at.z });
    }
  solve_body (pose, mech, cosine, sine, derivatives);
}
