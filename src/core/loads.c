/* Inside, lengths are mm and masses g, so a force comes out in g mm/s^2 = 1e-6 N and a moment in
 * 1e-9 N m; both are converted as they are stored. */
#include "core/loads.h"

#include <stdlib.h>
#include <string.h>

#include "core/friction.h"
#include "core/solve.h"
#include "core/springs.h"

#define NEWTON 1e-6
#define NEWTON_METRE 1e-9
#define JOULE 1e-9

double
fw_crank_speed (const FwDesign *design)
{
  return design->crank.turns_per_minute * (2 * FW_PI / 60);
}

static int
count_bearings (const FwMechanism *m)
{
  double none;
  return fw_design_bearings (m->design, &none, 0);
}

size_t
fw_loads_size (const FwMechanism *m)
{
  size_t members = (size_t)m->n_members, links = (size_t)m->n_links, pins = (size_t)m->n_pins;
  size_t bearings = (size_t)count_bearings (m);
  return fw_padded (sizeof (FwLoads)) + fw_padded (links * sizeof (double)) + 3 * fw_padded ((members + 1) * sizeof (FwReaction))
         + 2 * fw_padded ((members + 1) * sizeof (int)) + fw_padded (3 * (members + 1) * sizeof (double))
         + 2 * fw_padded (pins * sizeof (FwVec3)) + fw_padded ((members + 1) * sizeof (FwInertia))
         + fw_padded (pins * sizeof (double)) + fw_padded (bearings * sizeof (double))
         + fw_padded (bearings * sizeof (FwVec3)) + fw_padded ((size_t)m->design->crank.n_weights * sizeof (FwVec3));
}

static void *
take (char **next, size_t size)
{
  void *here = *next;
  *next += fw_padded (size);
  return here;
}

/* A left-hand member that moves as the mirror image of its twin, with the same masses on it. A shortcut: where only the
 * bytes differ (0 and -0), both are worked out. */
static int
twin_part (const FwLoads *l, const FwMechanism *m, int member)
{
  int twin = m->members[member].mirror_of;
  // NOLINTNEXTLINE(bugprone-suspicious-memory-comparison,cert-exp42-c,cert-flp37-c): a shortcut, as said above
  if (twin < 0 || memcmp (&l->inertia[member + 1], &l->inertia[twin + 1], sizeof (FwInertia)) != 0)
    return -1;
  return twin + 1;
}

FwLoads *
fw_loads_place (void *memory, const FwMechanism *m)
{
  size_t members = (size_t)m->n_members, links = (size_t)m->n_links, pins = (size_t)m->n_pins;
  char *next = memory;
  FwLoads *l = take (&next, sizeof (FwLoads));
  *l = (FwLoads) { .known = false };
  l->tension = take (&next, links * sizeof (double));
  l->hinges = take (&next, (members + 1) * sizeof (FwReaction));
  l->demand = take (&next, (members + 1) * sizeof (FwReaction));
  l->own = take (&next, (members + 1) * sizeof (FwReaction));
  l->like = take (&next, (members + 1) * sizeof (int));
  l->image = take (&next, (members + 1) * sizeof (int));
  l->own_energy = take (&next, 3 * (members + 1) * sizeof (double));
  l->pins = take (&next, pins * sizeof (FwVec3));
  l->own_pins = take (&next, pins * sizeof (FwVec3));
  l->inertia = take (&next, (members + 1) * sizeof (FwInertia));
  l->pin_mass = take (&next, pins * sizeof (double));
  l->n_bearings = count_bearings (m);
  l->stations = take (&next, (size_t)l->n_bearings * sizeof (double));
  l->bearings = take (&next, (size_t)l->n_bearings * sizeof (FwVec3));
  l->weights = take (&next, (size_t)m->design->crank.n_weights * sizeof (FwVec3));
  fw_design_bearings (m->design, l->stations, l->n_bearings);
  l->friction = m->design->drive.friction;
  l->pin_radius = m->design->drive.pin_radius_mm;
  l->crank_radius = m->design->crank.diameter_mm / 2;
  l->inertia[0] = fw_inertia_body (m);
  l->like[0] = -1;
  for (int i = 0; i < m->n_members; i++)
    l->inertia[i + 1] = fw_inertia_member (m, i);
  for (int i = 0; i < m->n_members; i++)
    l->like[i + 1] = twin_part (l, m, i);
  for (int i = 0; i < m->n_pins; i++)
    l->pin_mass[i] = fw_inertia_pin (m, i);
  return l;
}

FwLoads *
fw_loads_new (const FwMechanism *m)
{
  void *memory = calloc (1, fw_loads_size (m));
  return memory == NULL ? NULL : fw_loads_place (memory, m);
}

/* A part's motion in time and its mass properties in world axes, about its frame's origin. */
typedef struct
{
  FwVec3 moment;              /* first moment, world axes */
  FwVec3 turning;             /* I omega */
  FwVec3 velocity, spin;      /* mm/s, rad/s */
  FwReaction demand;          /* what must act on it for it to move so under gravity */
} Moving;

/* Newton and Euler about the moving origin o:
 *   F = m a_o + alpha x s + omega x (omega x s) - m g,
 *   N = I alpha + omega x (I omega) + s x (a_o - g). */
static Moving
moving (const FwInertia *inertia, const FwMotion *motion, double speed)
{
  const FwFrame *f = &motion->at;
  double speed2 = speed * speed;
  Moving m = { .moment = fw_frame_turn (f, inertia->moment_gmm),
               .velocity = fw_vec3_scale (motion->velocity, speed),
               .spin = fw_vec3_scale (motion->spin, speed) };
  FwVec3 alpha = fw_vec3_scale (motion->spin_rate, speed2);
  FwVec3 lifted = fw_vec3_scale (motion->acceleration, speed2);
  lifted.z += FW_GRAVITY * 1000;
  m.turning = fw_frame_turn (f, fw_inertia_times (inertia, fw_frame_unturn (f, m.spin)));
  FwVec3 gained = fw_frame_turn (f, fw_inertia_times (inertia, fw_frame_unturn (f, alpha)));
  FwVec3 swing = fw_vec3_cross (m.spin, fw_vec3_cross (m.spin, m.moment));
  FwVec3 pushed = fw_vec3_add (fw_vec3_cross (alpha, m.moment), swing);
  m.demand.force = fw_vec3_along (pushed, inertia->mass_g, lifted);
  m.demand.moment = fw_vec3_add (fw_vec3_add (gained, fw_vec3_cross (m.spin, m.turning)),
                                 fw_vec3_cross (m.moment, lifted));
  return m;
}

static double
power (const Moving *m)
{
  return fw_vec3_dot (m->demand.force, m->velocity) + fw_vec3_dot (m->demand.moment, m->spin);
}

/* 1/2 m v^2 + v . (omega x s) + 1/2 omega . I omega */
static double
kinetic (const Moving *m, double mass)
{
  return mass * fw_vec3_dot (m->velocity, m->velocity) / 2
         + fw_vec3_dot (m->velocity, fw_vec3_cross (m->spin, m->moment)) + fw_vec3_dot (m->spin, m->turning) / 2;
}

static const FwFrame *
frame_of (const FwPose *pose, int part)
{
  return part == 0 ? &pose->body.motion.at : &pose->members[part - 1].motion.at;
}

/* The rod's other end pulls on its anchor as much as on the panel. `pull` is the force on the panel. */
static void
load_anchor (FwLoads *l, const FwPose *pose, const FwLink *link, FwVec3 at, FwVec3 pull)
{
  if (link->from == FW_FROM_THROW)
    {
      l->pins[link->index] = fw_vec3_add (l->pins[link->index], pull);
      return;
    }
  if (link->from == FW_FROM_BASE)
    return;
  int part = link->from == FW_FROM_BODY ? 0 : link->index + 1;
  fw_reaction_add (&l->demand[part], fw_vec3_sub (at, frame_of (pose, part)->origin), pull);
}

/* What the rod gives to its panel, without friction; `given` is left with what the hinge gives. */
static FwVec3
push_of_rod (FwLoads *l, const FwMechanism *mech, const FwPose *pose, int index, FwReaction *given)
{
  const FwMemberPose *m = &pose->members[index];
  int link = mech->members[index].rod;
  const FwLinkPose *rod = &pose->links[link];
  FwVec3 along = fw_vec3_scale (fw_vec3_sub (rod->to.at, rod->from.at), 1 / mech->links[link].length_mm);
  FwVec3 arm = fw_vec3_sub (rod->to.at, m->motion.at.origin);
  double lever = fw_vec3_dot (m->axis, fw_vec3_cross (arm, along));
  double push = fw_vec3_dot (given->moment, m->axis) / lever;
  FwVec3 force = fw_vec3_scale (along, push);
  l->tension[link] = -push;
  fw_reaction_add (given, arm, fw_vec3_scale (force, -1));
  return force;
}

/* One member: its rod gives the moment about the hinge line, its hinge all the rest. False: it locks. */
static bool
carry_member (FwLoads *l, const FwMechanism *mech, const FwPose *pose, int index)
{
  const FwMember *member = &mech->members[index];
  FwReaction given = l->demand[index + 1];
  FwVec3 hinge = pose->members[index].motion.at.origin;
  if (member->rod >= 0)
    {
      FwVec3 force;
      if (!(l->friction > 0))
        force = push_of_rod (l, mech, pose, index, &given);
      else if (!fw_rub_member (l, mech, pose, index, &given, &force))
        return false;
      l->tension[member->rod] *= NEWTON;
      load_anchor (l, pose, &mech->links[member->rod], pose->links[member->rod].from.at, force);
    }
  l->hinges[index] = (FwReaction) { fw_vec3_scale (given.force, NEWTON), fw_vec3_scale (given.moment, NEWTON_METRE) };
  int parent = member->parent + 1;
  FwReaction *carrier = &l->demand[parent];
  fw_reaction_add (carrier, fw_vec3_sub (hinge, frame_of (pose, parent)->origin), given.force);
  carrier->moment = fw_vec3_add (carrier->moment, given.moment);
  return true;
}

static FwVec3
in_space (FwRuns runs, double h, double z)
{
  return runs == FW_RUNS_ACROSS ? fw_vec3 (0, h, z) : fw_vec3 (h, 0, z);
}

/* Moment, in the sense that turns z toward h, of a force at an arm. */
static double
tilting (double arm_h, double arm_z, double force_h, double force_z)
{
  return arm_z * force_h - arm_h * force_z;
}

/* What guide, link or slide gives in the plane, without friction. */
static FwVec2
side_of_ride (FwLoads *l, const FwMechanism *mech, const FwPose *pose, FwVec2 force, double about_pin)
{
  const FwBody *body = &mech->design->body;
  FwVec3 h_axis = fw_crank_h (mech->design->crank.runs), pin = pose->pins[mech->body_pin].at;
  FwVec3 upright = pose->body.motion.at.w; /* along the post */
  switch (body->ride)
    {
    case FW_RIDE_RAIL:
      {
        FwVec3 datum = pose->body.motion.at.origin;
        double arm_h = fw_vec3_dot (fw_vec3_sub (datum, pin), h_axis), arm_z = datum.z - pin.z;
        return (FwVec2) { force.x - force.y * arm_h / arm_z, 0 }; /* the rod gives the lift, along itself */
      }
    case FW_RIDE_SLEEVE:
      l->guide = about_pin / pose->body.guide_mm;
      return (FwVec2) { l->guide * upright.z, -l->guide * fw_vec3_dot (upright, h_axis) };
    case FW_RIDE_ROCKER:
    case FW_RIDE_FIXED: /* never asked */
      break;
    }
  double held_h = body->on_mm * fw_vec3_dot (upright, h_axis), held_z = body->on_mm * upright.z;
  double link_h = (fw_vec3_dot (pin, h_axis) + held_h - body->pivot_mm.x) / body->link_mm;
  double link_z = (pin.z + held_z - body->pivot_mm.y) / body->link_mm;
  double size = about_pin / tilting (held_h, held_z, link_h, link_z);
  l->guide = -size;
  return (FwVec2) { size * link_h, size * link_z };
}

/* The body's ride: in its plane three equations give the pin, and the guide, link or slide; what is
 * out of the plane goes to the guide as it is. False: it locks. */
static bool
carry_body (FwLoads *l, const FwMechanism *mech, const FwPose *pose)
{
  FwRuns runs = mech->design->crank.runs;
  FwVec3 h_axis = fw_crank_h (runs);
  FwReaction d = l->demand[0];
  l->carrier = (FwReaction) { fw_vec3_scale (d.force, NEWTON), fw_vec3_scale (d.moment, NEWTON_METRE) };
  if (mech->design->body.ride == FW_RIDE_FIXED)
    return true;
  FwVec3 pin = pose->pins[mech->body_pin].at, datum = pose->body.motion.at.origin;
  double fh = fw_vec3_dot (d.force, h_axis), fz = d.force.z;
  double arm_h = fw_vec3_dot (fw_vec3_sub (datum, pin), h_axis), arm_z = datum.z - pin.z;
  double about_pin = fw_vec3_dot (d.moment, fw_crank_spin (runs)) + tilting (arm_h, arm_z, fh, fz);
  const FwVec2 force = { fh, fz };
  FwVec2 side;
  if (!(l->friction > 0))
    side = side_of_ride (l, mech, pose, force, about_pin);
  else if (!fw_rub_body (l, mech, pose, force, about_pin, &side))
    return false;
  l->guide *= NEWTON;
  FwVec3 from_pin = in_space (runs, fh - side.x, fz - side.y);
  l->pins[mech->body_pin] = fw_vec3_add (l->pins[mech->body_pin], from_pin);
  l->post_pin = fw_vec3_scale (from_pin, NEWTON);
  l->carrier.force = fw_vec3_scale (fw_vec3_sub (d.force, from_pin), NEWTON);
  return true;
}

static void
forget (FwLoads *l, const FwMechanism *mech)
{
  const FwVec3 none = { NAN, NAN, NAN };
  l->known = false;
  l->torque = l->torque_energy = l->loss = l->kinetic = l->potential = l->guide = NAN;
  l->stored = l->weight_torque = NAN;
  l->carrier = (FwReaction) { none, none };
  l->post_pin = none;
  for (int i = 0; i < mech->n_links; i++)
    l->tension[i] = NAN;
  for (int i = 0; i < mech->n_members; i++)
    l->hinges[i] = (FwReaction) { none, none };
  for (int i = 0; i < mech->n_pins; i++)
    l->pins[i] = none;
  for (int i = 0; i < mech->design->crank.n_weights; i++)
    l->weights[i] = none;
}

/* In this pose, too: panels that hang may be put anywhere, each side for itself (fw_pose_solve_free ()). */
static bool
is_image (const FwMotion *a, const FwMotion *b)
{
  return a->at.origin.z == b->at.origin.z && a->at.u.z == b->at.u.z && a->acceleration.y == b->acceleration.y
         && a->acceleration.z == b->acceleration.z && a->spin_rate.x == b->spin_rate.x;
}

/* What one part asks for itself. The mirror image in x = 0 of one that is done is copied: to the last
 * bit the same, since only signs differ. */
static void
own_demand (FwLoads *l, const FwPose *pose, int part, double speed)
{
  const FwMotion *motion = part == 0 ? &pose->body.motion : &pose->members[part - 1].motion;
  double *energy = l->own_energy + 3 * part;
  int twin = l->like[part];
  l->image[part] = twin >= 0 && is_image (motion, &pose->members[twin - 1].motion);
  if (l->image[part])
    {
      const FwReaction *from = &l->own[twin];
      l->own[part] = (FwReaction) { fw_vec3 (-from->force.x, from->force.y, from->force.z),
                                    fw_vec3 (from->moment.x, -from->moment.y, -from->moment.z) };
      memcpy (energy, l->own_energy + 3 * twin, 3 * sizeof *energy);
    }
  else
    {
      Moving m = moving (&l->inertia[part], motion, speed);
      l->own[part] = m.demand;
      energy[0] = kinetic (&m, l->inertia[part].mass_g);
      energy[1] = power (&m);
      energy[2] = 1000 * FW_GRAVITY * (l->inertia[part].mass_g * motion->at.origin.z + m.moment.z);
    }
  l->demand[part] = l->own[part];
}

/* Own demands of every part, and energy and power on the way. */
static void
own_demands (FwLoads *l, const FwMechanism *mech, const FwPose *pose, double speed)
{
  double e_kinetic = 0, e_potential = 0, watts = 0;
  for (int part = 0; part <= mech->n_members; part++)
    {
      own_demand (l, pose, part, speed);
      e_kinetic += l->own_energy[3 * part];
      watts += l->own_energy[3 * part + 1];
      e_potential += l->own_energy[3 * part + 2];
    }
  for (int i = 0; i < mech->n_pins; i++)
    {
      const FwPointMotion *pin = &pose->pins[i];
      FwVec3 lifted = fw_vec3_scale (pin->acceleration, speed * speed);
      lifted.z += 1000 * FW_GRAVITY;
      l->pins[i] = l->own_pins[i] = fw_vec3_scale (lifted, l->pin_mass[i]);
      e_kinetic += l->pin_mass[i] * fw_vec3_dot (pin->velocity, pin->velocity) * speed * speed / 2;
      e_potential += l->pin_mass[i] * 1000 * FW_GRAVITY * pin->at.z;
      watts += fw_vec3_dot (l->pins[i], pin->velocity) * speed;
    }
  l->kinetic = e_kinetic * JOULE;
  l->potential = e_potential * JOULE;
  l->torque_energy = watts / speed * NEWTON_METRE;
}

void
fw_bearing_share (FwLoads *l, double station, FwVec3 force)
{
  int last = l->n_bearings - 1, k = 0;
  if (last < 1)
    {
      l->bearings[0] = fw_vec3_add (l->bearings[0], force);
      return;
    }
  while (k < last - 1 && l->stations[k + 1] < station)
    k++;
  double span = l->stations[k + 1] - l->stations[k];
  double share = span > 0 ? (station - l->stations[k]) / span : 0.5;
  l->bearings[k] = fw_vec3_along (l->bearings[k], 1 - share, force);
  l->bearings[k + 1] = fw_vec3_along (l->bearings[k + 1], share, force);
}

/* Members from the tips inwards, then the body. False: a joint locks. */
static bool
carry_all (FwLoads *l, const FwMechanism *mech, const FwPose *pose)
{
  double hinge_power = 0;
  for (int k = mech->n_members - 1; k >= 0; k--)
    {
      int i = mech->order[k];
      if (mech->members[i].rod < 0) /* nothing but the hinge drives a hanging panel in this model */
        hinge_power += fw_vec3_dot (l->demand[i + 1].moment, pose->members[i].axis) * pose->members[i].rate;
      if (!carry_member (l, mech, pose, i))
        return false;
    }
  l->torque_energy -= hinge_power * NEWTON_METRE;
  return carry_body (l, mech, pose);
}

void
fw_loads_solve (FwLoads *l, const FwMechanism *mech, const FwPose *pose, double speed)
{
  l->grip = l->loss = l->drag = l->stored = l->weight_torque = 0;
  l->grip_at = -1;
  if (!fw_pose_closes (pose, mech))
    {
      forget (l, mech);
      return;
    }
  /* Statics is the limit of a slow turn: power over speed stays finite, so a still crank is turned
   * at a speed whose inertia is far below rounding. */
  double turning = fmax (fabs (speed), 1e-9);
  l->way = speed < 0 ? -1 : 1;
  l->known = true;
  l->guide = 0;
  l->post_pin = fw_vec3 (0, 0, 0);
  own_demands (l, mech, pose, turning);
  fw_load_springs (l, mech, pose);
  fw_load_weights (l, mech, pose, turning);
  if (!carry_all (l, mech, pose))
    {
      forget (l, mech);
      return;
    }
  double torque = 0;
  for (int i = 0; i < mech->n_pins; i++)
    torque += fw_vec3_dot (l->pins[i], pose->pins[i].velocity); /* virtual work of one radian */
  if (l->friction > 0)
    fw_rub_bearings (l, mech);
  for (int i = 0; i < mech->n_pins; i++)
    l->pins[i] = fw_vec3_scale (l->pins[i], NEWTON);
  l->torque = (torque + l->drag) * NEWTON_METRE + l->weight_torque;
  l->loss *= NEWTON_METRE;
  l->torque_energy += l->loss;
}
