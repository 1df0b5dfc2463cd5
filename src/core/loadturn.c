#include "core/loadturn.h"

#include <stdlib.h>

#include "core/solve.h"
#include "core/springs.h"

static size_t
rows (int n, int steps, size_t size)
{
  return fw_padded ((size_t)n * (size_t)steps * size);
}

size_t
fw_load_turn_size (const FwMechanism *m, int steps)
{
  return fw_padded (sizeof (FwLoadTurn)) + rows (fw_load_count (m), steps, sizeof (double))
         + rows (m->n_pins, steps, sizeof (FwVec3)) + rows (m->n_members, steps, sizeof (FwVec3))
         + 4 * rows (1, steps, sizeof (FwVec3)) + 4 * rows (1, steps, sizeof (double))
         + rows (1, steps, sizeof (int)) + fw_padded (fw_pose_size (m))
         + fw_loads_size (m);
}

static void *
take (char **next, size_t size)
{
  void *here = *next;
  *next += size;
  return here;
}

FwLoadTurn *
fw_load_turn_place (void *memory, const FwMechanism *m, int steps)
{
  char *next = memory;
  FwLoadTurn *t = take (&next, fw_padded (sizeof (FwLoadTurn)));
  *t = (FwLoadTurn) { .steps = steps };
  t->values = take (&next, rows (fw_load_count (m), steps, sizeof (double)));
  t->pins = take (&next, rows (m->n_pins, steps, sizeof (FwVec3)));
  t->hinges = take (&next, rows (m->n_members, steps, sizeof (FwVec3)));
  t->carrier = take (&next, rows (1, steps, sizeof (FwVec3)));
  t->centre = take (&next, rows (1, steps, sizeof (FwVec3)));
  t->push = take (&next, rows (1, steps, sizeof (FwVec3)));
  t->moment = take (&next, rows (1, steps, sizeof (FwVec3)));
  t->kinetic = take (&next, rows (1, steps, sizeof (double)));
  t->stored = take (&next, rows (1, steps, sizeof (double)));
  t->loss = take (&next, rows (1, steps, sizeof (double)));
  t->grip = take (&next, rows (1, steps, sizeof (double)));
  t->grip_at = take (&next, rows (1, steps, sizeof (int)));
  t->pose = fw_pose_place (take (&next, fw_padded (fw_pose_size (m))), m);
  t->loads = fw_loads_place (next, m);
  return t;
}

FwLoadTurn *
fw_load_turn_new (const FwMechanism *m, int steps)
{
  void *memory = calloc (1, fw_load_turn_size (m, steps));
  return memory == NULL ? NULL : fw_load_turn_place (memory, m, steps);
}

/* The counterweights of the crank, in the sums and then in what the base gives. */
static void
add_weights (FwLoadTurn *t, const FwMechanism *m, const FwPose *pose, int step, double *mass, FwVec3 *moment)
{
  for (int i = 0; i < m->design->crank.n_weights; i++)
    {
      FwVec3 at = fw_crank_weight_at (m->design, i, pose->crank).at, force = t->loads->weights[i];
      *mass += m->design->crank.weights[i].mass_g;
      *moment = fw_vec3_along (*moment, m->design->crank.weights[i].mass_g, at);
      t->push[step] = fw_vec3_add (t->push[step], force);
      t->moment[step] = fw_vec3_along (t->moment[step], 1e-3, fw_vec3_cross (at, force));
    }
}

/* Everything that is not base: body, members, what half-rods put on the pins, counterweights. Half-rods
 * on the base do not move and count as base. Springs between base and body are what the base gives, too. */
static void
sum_up (FwLoadTurn *t, const FwMechanism *m, const FwPose *pose, int step)
{
  const FwLoads *l = t->loads;
  FwVec3 moment = { 0, 0, 0 }, push = { 0, 0, 0 }, turning = { 0, 0, 0 };
  FwVec3 its_moment = moment, its_turning = turning; /* of the part in hand, or of the one whose image it is */
  double mass = 0;
  for (int part = 0; part <= m->n_members; part++)
    {
      const FwFrame *f = part == 0 ? &pose->body.motion.at : &pose->members[part - 1].motion.at;
      const FwInertia *i = &l->inertia[part];
      if (l->image[part])
        {
          its_moment.x = -its_moment.x;
          its_turning = fw_vec3 (its_turning.x, -its_turning.y, -its_turning.z);
        }
      else
        {
          its_moment = fw_vec3_along (fw_frame_turn (f, i->moment_gmm), i->mass_g, f->origin);
          its_turning = fw_vec3_add (l->own[part].moment, fw_vec3_cross (f->origin, l->own[part].force));
        }
      mass += i->mass_g;
      moment = fw_vec3_add (moment, its_moment);
      push = fw_vec3_add (push, l->own[part].force);
      turning = fw_vec3_add (turning, its_turning);
    }
  for (int i = 0; i < m->n_pins; i++)
    {
      mass += l->pin_mass[i];
      moment = fw_vec3_along (moment, l->pin_mass[i], pose->pins[i].at);
      push = fw_vec3_add (push, l->own_pins[i]);
      turning = fw_vec3_add (turning, fw_vec3_cross (pose->pins[i].at, l->own_pins[i]));
    }
  t->push[step] = fw_vec3_scale (push, 1e-6); /* g mm/s^2 to N */
  t->moment[step] = fw_vec3_scale (turning, 1e-9);
  add_weights (t, m, pose, step, &mass, &moment);
  t->mass_g = mass;
  t->centre[step] = mass > 0 ? fw_vec3_scale (moment, 1 / mass) : fw_vec3 (0, 0, 0);
}

/* Rows in the order of fw_load_nth (). */
static void
keep_rows (double *out, size_t steps, const FwLoads *l, const FwMechanism *m)
{
  FwRide ride = m->design->body.ride;
  *out = l->torque;
  out += steps;
  for (int k = 0; k < m->n_links; k++, out += steps)
    *out = l->tension[k];
  for (int k = 0; k < m->n_members; k++, out += steps)
    *out = fw_vec3_length (l->hinges[k].force);
  for (int k = 0; k < m->n_pins; k++, out += steps)
    *out = fw_vec3_length (l->pins[k]);
  if (ride == FW_RIDE_FIXED)
    return;
  *out = fw_vec3_length (l->post_pin);
  out += steps;
  if (ride != FW_RIDE_RAIL)
    *out = l->guide;
}

static void
keep (FwLoadTurn *t, const FwMechanism *m, const FwPose *pose, int step)
{
  size_t steps = (size_t)t->steps, at = (size_t)step;
  const FwLoads *l = t->loads;
  const FwVec3 none = { NAN, NAN, NAN };
  keep_rows (t->values + at, steps, l, m);
  for (int k = 0; k < m->n_pins; k++)
    t->pins[(size_t)k * steps + at] = l->pins[k];
  for (int k = 0; k < m->n_members; k++)
    t->hinges[(size_t)k * steps + at] = l->hinges[k].force;
  t->carrier[step] = l->carrier.force;
  t->kinetic[step] = l->kinetic;
  t->stored[step] = l->stored;
  t->loss[step] = l->loss;
  t->grip[step] = l->grip;
  t->grip_at[step] = l->grip_at;
  if (l->known)
    sum_up (t, m, pose, step);
  else
    t->centre[step] = t->push[step] = t->moment[step] = none;
}

void
fw_load_turn_solve_some (FwLoadTurn *t, FwTurn *motion, const FwMechanism *m, double speed, int from, int to)
{
  FwPose *pose = motion ? motion->scratch : t->pose;
  t->speed = speed;
  for (int i = from; i < to; i++)
    {
      fw_pose_solve (pose, m, 2 * FW_PI * i / t->steps);
      if (motion)
        fw_turn_keep (motion, m, i);
      fw_loads_solve (t->loads, m, pose, speed);
      keep (t, m, pose, i);
    }
}

void
fw_load_turn_solve (FwLoadTurn *t, const FwMechanism *m, double speed)
{
  fw_load_turn_solve_some (t, NULL, m, speed, 0, t->steps);
}

void
fw_load_turn_solve_both (FwLoadTurn *t, FwTurn *motion, const FwMechanism *m, double speed)
{
  fw_load_turn_solve_some (t, motion, m, speed, 0, t->steps);
}

const double *
fw_load_turn_row (const FwLoadTurn *t, const FwMechanism *m, FwLoad load)
{
  const int before[] = { 0, 1, 1 + m->n_links, 1 + m->n_links + m->n_members, 1 + m->n_links + m->n_members + m->n_pins,
                         2 + m->n_links + m->n_members + m->n_pins };
  return t->values + (size_t)(before[load.kind] + load.index) * (size_t)t->steps;
}
