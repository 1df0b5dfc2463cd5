/* Friction of joints, one joint at a time: each has one unknown (a rod's push, the guide's force), so
 * its friction is found by a fixed point in one number, from the tips inwards like the forces. */
#include "core/friction.h"

#include <float.h>

#include "core/solve.h"

#define MOST_ROUNDS 200

/* What friction can add to x for each 1 of x, a ratio: below 1 the equation has one answer, and repeating
 * x = (wanted - friction (x)) / lever closes in on it. From 1 on the joint locks itself. */
static double
balance_grip (const FwBalance *b)
{
  double both = fmax (fw_vec3_length (fw_vec3_add (b->a, b->b)), fw_vec3_length (fw_vec3_sub (b->a, b->b)));
  return (fabs (b->drag) + fabs (b->rub) * both) / fabs (b->lever);
}

static double
again (const FwBalance *b, double x)
{
  FwVec3 left = fw_vec3_along (fw_vec3_along (b->load, -x, b->a), -fabs (x), b->b);
  return (b->wanted - fabs (x) * b->drag + b->rub * fw_vec3_length (left)) / b->lever;
}

/* Repeating closes in by the factor of the grip each time; between, the step of Steffensen, taken
 * where it does come nearer. */
static bool
balance_solve (const FwBalance *b, double *out)
{
  if (!(balance_grip (b) < 1))
    return false;
  double noise = 4 * DBL_EPSILON * (fabs (b->wanted) + fabs (b->rub) * fw_vec3_length (b->load)) / fabs (b->lever);
  double x = again (b, b->wanted / b->lever);
  for (int i = 0; i < MOST_ROUNDS; i++)
    {
      double y = again (b, x), z = again (b, y), bend = z - 2 * y + x;
      if (fabs (y - x) <= noise + 4 * DBL_EPSILON * fabs (y))
        {
          *out = y;
          return true;
        }
      double leap = bend != 0 ? x - (y - x) * (y - x) / bend : z;
      x = fabs (again (b, leap) - leap) < fabs (again (b, z) - z) ? leap : z;
    }
  return false; /* so near to locking that nothing can be said */
}

static double
sign_of (double rate)
{
  return rate > FW_STILL ? 1 : rate < -FW_STILL ? -1 : 0;
}

/* ---- A rod with friction at both ends ---- */

/* The force on what it leads to is x along + |x| side: friction moments at its ends want a pair of
 * forces across it. Its size is |x| size. Moments on the parts at its ends and the loss to a radian
 * of the crank are for each 1 of |x|. */
typedef struct
{
  FwVec3 along, side, on_from, on_to;
  double size, loss;
} Rod;

/* The part's turning against the rod, square to the rod: about itself a rod is free to follow. */
static double
turning (FwVec3 spin, FwVec3 rod_spin, FwVec3 along, FwVec3 *unit)
{
  FwVec3 relative = fw_vec3_sub (spin, rod_spin);
  relative = fw_vec3_along (relative, -fw_vec3_dot (relative, along), along);
  double size = fw_vec3_length (relative);
  *unit = size > FW_STILL ? fw_vec3_scale (relative, 1 / size) : fw_vec3 (0, 0, 0);
  return size > FW_STILL ? size : 0;
}

typedef struct
{
  FwVec3 at, velocity, spin; /* of the rod's end and of the part there, by crank angle */
  double rub;                /* coefficient times radius */
} End;

/* False where the friction circles of its ends fill the rod. */
static bool
rod_between (const End *from, const End *to, double way, Rod *rod)
{
  FwVec3 arm = fw_vec3_sub (to->at, from->at), moving = fw_vec3_sub (to->velocity, from->velocity), n_from, n_to;
  double length = fw_vec3_length (arm);
  *rod = (Rod) { .along = fw_vec3_scale (arm, 1 / length) };
  FwVec3 spin = fw_vec3_scale (fw_vec3_cross (arm, moving), 1 / (length * length));
  double slip = from->rub * turning (from->spin, spin, rod->along, &n_from);
  slip += to->rub * turning (to->spin, spin, rod->along, &n_to);
  FwVec3 m = fw_vec3_scale (fw_vec3_along (fw_vec3_scale (n_to, to->rub), from->rub, n_from), -way);
  double share = fw_vec3_length (m) / length;
  if (!(share < 1))
    return false;
  rod->size = 1 / sqrt (1 - share * share);
  rod->side = fw_vec3_scale (fw_vec3_cross (rod->along, m), rod->size / length);
  rod->on_to = fw_vec3_scale (n_to, -way * to->rub * rod->size);
  rod->on_from = fw_vec3_scale (n_from, -way * from->rub * rod->size);
  rod->loss = way * slip * rod->size;
  return true;
}

static FwVec3
force_of (const Rod *rod, double x)
{
  return fw_vec3_along (fw_vec3_scale (rod->along, x), fabs (x), rod->side);
}

/* ---- Members ---- */

static End
anchor_end (const FwLoads *l, const FwMechanism *mech, const FwPose *pose, const FwLink *link, const FwPointMotion *at)
{
  End end = { .at = at->at, .velocity = at->velocity, .rub = l->friction * l->pin_radius };
  if (link->from == FW_FROM_THROW)
    {
      end.spin = fw_crank_spin (mech->design->crank.runs);
      end.rub = l->friction * l->crank_radius;
    }
  else if (link->from == FW_FROM_BODY)
    end.spin = pose->body.motion.spin;
  else if (link->from == FW_FROM_PANEL)
    end.spin = pose->members[link->index].motion.spin;
  return end;
}

static void
turn_anchor (FwLoads *l, const FwMechanism *mech, const FwLink *link, FwVec3 moment)
{
  if (link->from == FW_FROM_THROW)
    l->drag -= fw_vec3_dot (moment, fw_crank_spin (mech->design->crank.runs));
  else if (link->from != FW_FROM_BASE)
    {
      FwReaction *demand = &l->demand[link->from == FW_FROM_BODY ? 0 : link->index + 1];
      demand->moment = fw_vec3_sub (demand->moment, moment);
    }
}

/* Keeps the greatest grip, and solves. */
static bool
settle (FwLoads *l, const FwBalance *balance, int member, double *x)
{
  double grip = balance_grip (balance);
  if (!(grip <= l->grip))
    {
      l->grip = grip;
      l->grip_at = member;
    }
  return balance_solve (balance, x);
}

static bool
fills (FwLoads *l, int member)
{
  l->grip = INFINITY;
  l->grip_at = member;
  return false;
}

bool
fw_rub_member (FwLoads *l, const FwMechanism *mech, const FwPose *pose, int index, FwReaction *given, FwVec3 *force)
{
  const FwMemberPose *m = &pose->members[index];
  const FwLink *link = &mech->links[mech->members[index].rod];
  const FwLinkPose *ends = &pose->links[mech->members[index].rod];
  const End from = anchor_end (l, mech, pose, link, &ends->from);
  const End to = { ends->to.at, ends->to.velocity, m->motion.spin, l->friction * l->pin_radius };
  Rod rod;
  if (!rod_between (&from, &to, l->way, &rod))
    return fills (l, index);
  FwVec3 arm = fw_vec3_sub (ends->to.at, m->motion.at.origin);
  FwVec3 turned = fw_vec3_add (fw_vec3_cross (arm, rod.side), rod.on_to);
  const FwBalance balance = { .lever = fw_vec3_dot (m->axis, fw_vec3_cross (arm, rod.along)),
                              .drag = fw_vec3_dot (m->axis, turned),
                              .wanted = fw_vec3_dot (given->moment, m->axis),
                              .rub = l->friction * l->pin_radius * l->way * sign_of (m->rate),
                              .load = given->force,
                              .a = rod.along,
                              .b = rod.side };
  double x;
  if (!settle (l, &balance, index, &x))
    return false;
  *force = force_of (&rod, x);
  given->force = fw_vec3_sub (given->force, *force);
  given->moment = fw_vec3_sub (given->moment, fw_vec3_along (fw_vec3_cross (arm, *force), fabs (x), rod.on_to));
  turn_anchor (l, mech, link, fw_vec3_scale (rod.on_from, fabs (x)));
  l->tension[mech->members[index].rod] = -x;
  l->loss += fabs (x) * rod.loss + balance.rub * m->rate * fw_vec3_length (given->force);
  return true;
}

/* ---- The body ---- */

typedef struct
{
  FwVec3 h, spin;  /* h axis, and the axis of crank and tilt */
  double tilting;  /* of the body, rad/rad */
  FwVec2 up, fore; /* in (h, z): up the post, and square to it */
  double rub;      /* coefficient times radius of a pin of the drive */
} Ride;

static FwVec3
in_plane (const Ride *r, double h, double z)
{
  FwVec3 v = fw_vec3_scale (r->h, h);
  v.z = z;
  return v;
}

/* On the crank pin: its friction drags the post along with the crank. */
static void
drag_post (FwLoads *l, const Ride *r, const FwBalance *b, double x)
{
  FwVec3 left = fw_vec3_along (fw_vec3_along (b->load, -x, b->a), -fabs (x), b->b);
  double moment = -b->rub * fw_vec3_length (left);
  l->drag += moment;
  l->loss -= moment * (r->tilting - 1);
}

static bool
rub_rail (FwLoads *l, const FwMechanism *mech, const FwPose *pose, const Ride *r, FwVec2 force, FwVec2 *side)
{
  const FwPointMotion *pin = &pose->pins[mech->body_pin];
  const FwMotion *body = &pose->body.motion;
  const End from = { pin->at, pin->velocity, r->spin, l->friction * l->crank_radius };
  const End to = { body->at.origin, body->velocity, body->spin, r->rub };
  Rod rod;
  if (!rod_between (&from, &to, l->way, &rod))
    return fills (l, -1);
  const FwBalance b = { .lever = rod.along.z,
                        .drag = rod.side.z,
                        .wanted = force.y,
                        .rub = l->friction * l->way * sign_of (body->velocity.z),
                        .load = { force.x, 0, 0 },
                        .a = { fw_vec3_dot (rod.along, r->h), 0, 0 },
                        .b = { fw_vec3_dot (rod.side, r->h), 0, 0 } };
  double x;
  if (!settle (l, &b, -1, &x))
    return false;
  side->x = force.x - fw_vec3_dot (force_of (&rod, x), r->h);
  side->y = -b.rub * fabs (side->x);
  l->drag -= fabs (x) * fw_vec3_dot (rod.on_from, r->spin);
  l->loss += fabs (x) * rod.loss - side->y * body->velocity.z;
  return true;
}

static bool
rub_sleeve (FwLoads *l, const FwMechanism *mech, const FwPose *pose, const Ride *r, FwVec2 force, double about_pin,
            FwVec2 *side)
{
  FwVec3 guide = fw_vec3_along (pose->pins[mech->body_pin].at, pose->body.guide_mm, in_plane (r, r->up.x, r->up.y));
  const FwMotion *body = &pose->body.motion;
  FwVec3 arm = fw_vec3_sub (guide, body->at.origin);
  FwVec3 moving = fw_vec3_add (body->velocity, fw_vec3_cross (body->spin, arm));
  double sliding = fw_vec3_dot (moving, in_plane (r, r->up.x, r->up.y));
  double along = -l->friction * l->way * sign_of (sliding); /* the guide's force up the post, to 1 across it */
  double swivel = r->rub * sqrt (1 + along * along) * l->way * sign_of (r->tilting);
  const FwBalance b = { .lever = pose->body.guide_mm,
                        .drag = -swivel,
                        .wanted = about_pin,
                        .rub = l->friction * l->crank_radius * l->way * sign_of (r->tilting - 1),
                        .load = { force.x, force.y, 0 },
                        .a = { r->fore.x, r->fore.y, 0 },
                        .b = { along * r->up.x, along * r->up.y, 0 } };
  double x;
  if (!settle (l, &b, -1, &x))
    return false;
  *side = (FwVec2) { x * b.a.x + fabs (x) * b.b.x, x * b.a.y + fabs (x) * b.b.y };
  l->guide = x;
  l->loss += fabs (x) * (swivel * r->tilting - along * sliding);
  drag_post (l, r, &b, x);
  return true;
}

static bool
rub_rocker (FwLoads *l, const FwMechanism *mech, const FwPose *pose, const Ride *r, FwVec2 force, double about_pin,
            FwVec2 *side)
{
  const FwBody *body = &mech->design->body;
  const FwMotion *motion = &pose->body.motion;
  FwVec3 held = in_plane (r, body->on_mm * r->up.x, body->on_mm * r->up.y);
  FwVec3 pin = pose->pins[mech->body_pin].at;
  FwVec3 pivot = fw_vec3_along (in_plane (r, body->pivot_mm.x, body->pivot_mm.y), fw_vec3_dot (pin, r->spin), r->spin);
  End to = { .at = fw_vec3_add (pin, held), .spin = motion->spin, .rub = r->rub };
  to.velocity = fw_vec3_add (motion->velocity, fw_vec3_cross (motion->spin, fw_vec3_sub (to.at, motion->at.origin)));
  const End from = { .at = pivot, .rub = r->rub };
  Rod link;
  if (!rod_between (&from, &to, l->way, &link))
    return fills (l, -1);
  FwVec3 turned = fw_vec3_add (fw_vec3_cross (held, link.side), link.on_to);
  const FwBalance b = { .lever = fw_vec3_dot (r->spin, fw_vec3_cross (held, link.along)),
                        .drag = fw_vec3_dot (r->spin, turned),
                        .wanted = about_pin,
                        .rub = l->friction * l->crank_radius * l->way * sign_of (r->tilting - 1),
                        .load = { force.x, force.y, 0 },
                        .a = { fw_vec3_dot (link.along, r->h), link.along.z, 0 },
                        .b = { fw_vec3_dot (link.side, r->h), link.side.z, 0 } };
  double x;
  if (!settle (l, &b, -1, &x))
    return false;
  *side = (FwVec2) { x * b.a.x + fabs (x) * b.b.x, x * b.a.y + fabs (x) * b.b.y };
  l->guide = -x;
  l->loss += fabs (x) * link.loss;
  drag_post (l, r, &b, x);
  return true;
}

bool
fw_rub_body (FwLoads *l, const FwMechanism *mech, const FwPose *pose, FwVec2 force, double about_pin, FwVec2 *side)
{
  FwRuns runs = mech->design->crank.runs;
  double sine = sin (pose->body.tilt), cosine = cos (pose->body.tilt);
  Ride r = { .h = fw_crank_h (runs),
             .spin = fw_crank_spin (runs),
             .up = { sine, cosine },
             .fore = { cosine, -sine },
             .rub = l->friction * l->pin_radius };
  r.tilting = fw_vec3_dot (pose->body.motion.spin, r.spin);
  switch (mech->design->body.ride)
    {
    case FW_RIDE_RAIL:
      return rub_rail (l, mech, pose, &r, force, side);
    case FW_RIDE_SLEEVE:
      return rub_sleeve (l, mech, pose, &r, force, about_pin, side);
    case FW_RIDE_ROCKER:
    case FW_RIDE_FIXED: /* never asked */
      break;
    }
  return rub_rocker (l, mech, pose, &r, force, about_pin, side);
}

/* ---- The crank ---- */

void
fw_rub_bearings (FwLoads *l, const FwMechanism *mech)
{
  for (int i = 0; i < l->n_bearings; i++)
    l->bearings[i] = fw_vec3 (0, 0, 0);
  for (int i = 0; i < mech->n_pins && l->n_bearings > 0; i++)
    fw_bearing_share (l, mech->pins[i].station_mm, l->pins[i]);
  const FwCrank *crank = &mech->design->crank;
  for (int i = 0; i < crank->n_weights && l->n_bearings > 0; i++)
    fw_bearing_share (l, crank->weights[i].station_mm, fw_vec3_scale (l->weights[i], 1e6));
  double size = 0;
  for (int i = 0; i < l->n_bearings; i++)
    size += fw_vec3_length (l->bearings[i]);
  double moment = l->way * l->friction * l->crank_radius * size;
  l->drag += moment;
  l->loss += moment;
}
