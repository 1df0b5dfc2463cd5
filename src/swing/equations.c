#include "swing/equations.h"

#include <stdlib.h>

#include "core/solve.h"
#include "core/springs.h"

/* ---- Who moves with whom ---- */

static int
anchor_of (const FwMechanism *mech, int member)
{
  int rod = mech->members[member].rod;
  return rod >= 0 && mech->links[rod].from == FW_FROM_PANEL ? mech->links[rod].index : -1;
}

static int
label_of (const int *group, int member)
{
  return member < 0 ? -1 : group[member];
}

/* Gives all of group `from` to group `to`. */
static void
unite (int *group, int n, int from, int to)
{
  for (int i = 0; i < n; i++)
    if (group[i] == from)
      group[i] = to;
}

/* The member that an end of a spring holds; -1: none. */
static int
held_by (const FwMechanism *mech, int coil, int end)
{
  const FwCoilEnd *e = &mech->coils[coil].ends[end];
  return e->kind == FW_FROM_PANEL ? e->index : -1;
}

void
fw_free_groups (const FwMechanism *mech, int *group)
{
  for (int i = 0; i < mech->n_members; i++)
    group[i] = -1;
  for (int k = 0; k < mech->n_members; k++)
    {
      int i = mech->order[k];
      int carried = label_of (group, mech->members[i].parent);
      int driven = label_of (group, anchor_of (mech, i));
      group[i] = carried >= 0 ? carried : driven >= 0 ? driven : mech->members[i].rod < 0 ? i : -1;
      if (carried >= 0 && driven >= 0 && carried != driven)
        unite (group, mech->n_members, driven, carried);
    }
  for (int i = 0; i < mech->n_coils; i++)
    {
      int from = label_of (group, held_by (mech, i, 0)), to = label_of (group, held_by (mech, i, 1));
      if (from >= 0 && to >= 0 && from != to)
        unite (group, mech->n_members, from, to);
    }
}

/* True if the spring has an end on the group. */
static bool
pulls_on (const FwMechanism *mech, const int *group, int label, int coil)
{
  return label_of (group, held_by (mech, coil, 0)) == label || label_of (group, held_by (mech, coil, 1)) == label;
}

/* Marks what the members of a group stand on, through parents and anchors, backwards from the tips; and
 * what springs hold them to. */
static void
mark_needed (const FwMechanism *mech, const int *group, int label, bool *needed)
{
  for (int i = 0; i < mech->n_members; i++)
    needed[i] = group[i] == label;
  for (int i = 0; i < mech->n_coils; i++)
    for (int end = 0; end < 2 && pulls_on (mech, group, label, i); end++)
      if (held_by (mech, i, end) >= 0)
        needed[held_by (mech, i, end)] = true;
  for (int k = mech->n_members - 1; k >= 0; k--)
    {
      int i = mech->order[k], parent = mech->members[i].parent, anchor = anchor_of (mech, i);
      if (!needed[i])
        continue;
      if (parent >= 0)
        needed[parent] = true;
      if (anchor >= 0)
        needed[anchor] = true;
    }
}

/* A weightless panel swings as the thin sheet that its outline says it is, as it hangs (mechanism.c). */
static FwInertia
inertia_of (const FwMechanism *mech, int member)
{
  FwInertia own = fw_inertia_member (mech, member);
  const FwPanel *p = &mech->design->panels[mech->members[member].panel];
  if (own.mass_g > 0 || own.uu > 0 || own.vv > 0 || own.ww > 0)
    return own;
  return fw_inertia_plate (p->outline_mm, p->n_outline, 1e-3);
}

/* Hands out one piece of memory after another; without memory it only counts. */
typedef struct
{
  char *memory;
  size_t used;
} Room;

static void *
take (Room *room, size_t n, size_t size)
{
  void *here = room->memory == NULL ? NULL : room->memory + room->used;
  room->used += fw_padded ((n + 1) * size);
  return here;
}

/* Lays the group out in memory; with NULL only counts how much it takes. */
static FwFree *
lay_out (char *memory, const FwMechanism *mech, size_t n, size_t moving, size_t *size)
{
  size_t members = (size_t)mech->n_members;
  Room room = { memory, 0 };
  FwFree f = { 0 };
  FwFree *place = take (&room, 1, sizeof (FwFree));
  f.coordinate = take (&room, n, sizeof (int));
  f.needed = take (&room, members, sizeof (int));
  f.moving = take (&room, moving, sizeof (int));
  f.coils = take (&room, (size_t)mech->n_coils, sizeof (int));
  f.inertia = take (&room, moving, sizeof (FwInertia));
  f.shift = take (&room, n * members, sizeof (FwVec3));
  f.turn = take (&room, n * members, sizeof (FwVec3));
  f.own = take (&room, moving, sizeof (FwReaction));
  f.gain = take (&room, n * moving, sizeof (FwReaction));
  f.mass = take (&room, n * n, sizeof (double));
  f.bias = take (&room, n, sizeof (double));
  f.demand = take (&room, members, sizeof (FwReaction));
  f.angle = take (&room, members, sizeof (double));
  f.rate = take (&room, members, sizeof (double));
  f.rate2 = take (&room, members, sizeof (double));
  char *pose = take (&room, fw_pose_size (mech), 1);
  *size = room.used;
  if (memory == NULL)
    return NULL;
  f.pose = fw_pose_place (pose, mech);
  *place = f;
  return place;
}

static void
fill (FwFree *f, const int *group, int label, const bool *needed)
{
  const FwMechanism *mech = f->mech;
  for (int k = 0; k < mech->n_members; k++)
    {
      int i = mech->order[k];
      if (needed[i])
        f->needed[f->n_needed++] = i;
      if (group[i] != label)
        continue;
      f->inertia[f->n_moving] = inertia_of (mech, i);
      f->moving[f->n_moving++] = i;
      if (mech->members[i].rod < 0)
        f->coordinate[f->n++] = i;
    }
  for (int i = 0; i < mech->n_coils; i++)
    if (pulls_on (mech, group, label, i))
      f->coils[f->n_coils++] = i;
}

FwFree *
fw_free_new (const FwMechanism *mech, const int *group, int label, double speed)
{
  size_t n = 0, moving = 0, size;
  for (int i = 0; i < mech->n_members; i++)
    if (group[i] == label)
      {
        moving++;
        n += mech->members[i].rod < 0;
      }
  lay_out (NULL, mech, n, moving, &size);
  char *memory = calloc (1, size);
  bool *needed = calloc ((size_t)mech->n_members + 1, sizeof *needed);
  if (memory == NULL || needed == NULL)
    {
      free (memory);
      free (needed);
      return NULL;
    }
  FwFree *f = lay_out (memory, mech, n, moving, &size);
  f->mech = mech;
  f->speed = speed;
  mark_needed (mech, group, label, needed);
  fill (f, group, label, needed);
  free (needed);
  return f;
}

/* ---- Masses and biases ---- */

/* Newton and Euler about the moving origin, as in loads.c, with all q'' 0. */
static FwReaction
own_demand (const FwInertia *inertia, const FwMotion *motion, double speed)
{
  const FwFrame *at = &motion->at;
  FwVec3 s = fw_frame_turn (at, inertia->moment_gmm);
  FwVec3 spin = fw_vec3_scale (motion->spin, speed), alpha = fw_vec3_scale (motion->spin_rate, speed * speed);
  FwVec3 lifted = fw_vec3_scale (motion->acceleration, speed * speed);
  lifted.z += 1000 * FW_GRAVITY;
  FwVec3 turning = fw_frame_turn (at, fw_inertia_times (inertia, fw_frame_unturn (at, spin)));
  FwVec3 gained = fw_frame_turn (at, fw_inertia_times (inertia, fw_frame_unturn (at, alpha)));
  FwVec3 pushed = fw_vec3_add (fw_vec3_cross (alpha, s), fw_vec3_cross (spin, fw_vec3_cross (spin, s)));
  FwVec3 moment = fw_vec3_add (fw_vec3_add (gained, fw_vec3_cross (spin, turning)), fw_vec3_cross (s, lifted));
  return (FwReaction) { fw_vec3_along (pushed, inertia->mass_g, lifted), moment };
}

/* What more must act on a part when its origin is to gain the acceleration `shift` and its spin `turn`. */
static FwReaction
more_demand (const FwInertia *inertia, const FwFrame *at, FwVec3 shift, FwVec3 turn)
{
  FwVec3 s = fw_frame_turn (at, inertia->moment_gmm);
  FwVec3 gained = fw_frame_turn (at, fw_inertia_times (inertia, fw_frame_unturn (at, turn)));
  return (FwReaction) { fw_vec3_along (fw_vec3_cross (turn, s), inertia->mass_g, shift),
                        fw_vec3_add (gained, fw_vec3_cross (s, shift)) };
}

static FwVec3
moved (FwVec3 shift, FwVec3 turn, FwVec3 arm)
{
  return fw_vec3_add (shift, fw_vec3_cross (turn, arm));
}

/* How one member moves for one rad/s of coordinate k with the crank still: as its hinge is carried,
 * and about it by one (the coordinate itself), or by what its rod asks for. */
static void
find_partial (FwFree *f, int k, int member)
{
  const FwMember *m = &f->mech->members[member];
  const FwMemberPose *at = &f->pose->members[member];
  FwVec3 *shift = f->shift + (size_t)k * (size_t)f->mech->n_members;
  FwVec3 *turn = f->turn + (size_t)k * (size_t)f->mech->n_members;
  FwVec3 carried = { 0, 0, 0 }, turned = { 0, 0, 0 };
  if (m->parent >= 0)
    {
      FwVec3 arm = fw_vec3_sub (at->motion.at.origin, f->pose->members[m->parent].motion.at.origin);
      turned = turn[m->parent];
      carried = moved (shift[m->parent], turned, arm);
    }
  double rate = member == f->coordinate[k] ? 1 : 0;
  if (m->rod >= 0)
    {
      const FwLink *link = &f->mech->links[m->rod];
      const FwLinkPose *rod = &f->pose->links[m->rod];
      FwVec3 l = fw_vec3_sub (rod->to.at, rod->from.at), r = fw_vec3_sub (rod->to.at, at->motion.at.origin);
      FwVec3 v = moved (carried, turned, r);
      if (link->from == FW_FROM_PANEL)
        {
          FwVec3 arm = fw_vec3_sub (rod->from.at, f->pose->members[link->index].motion.at.origin);
          v = fw_vec3_sub (v, moved (shift[link->index], turn[link->index], arm));
        }
      double lever = fw_vec3_dot (l, fw_vec3_cross (at->axis, r));
      rate = lever == 0 ? 0 : -fw_vec3_dot (l, v) / lever;
    }
  shift[member] = carried;
  turn[member] = fw_vec3_along (turned, rate, at->axis);
}

static void
find_masses (FwFree *f)
{
  size_t members = (size_t)f->mech->n_members, n = (size_t)f->n, moving = (size_t)f->n_moving;
  for (size_t k = 0; k < n; k++)
    {
      f->bias[k] = 0;
      for (size_t j = 0; j <= k; j++)
        f->mass[k * n + j] = 0;
      for (size_t p = 0; p < moving; p++)
        {
          int i = f->moving[p];
          find_partial (f, (int)k, i);
          FwVec3 shift = f->shift[k * members + (size_t)i], turn = f->turn[k * members + (size_t)i];
          f->gain[k * moving + p] = more_demand (&f->inertia[p], &f->pose->members[i].motion.at, shift, turn);
          f->bias[k] += fw_vec3_dot (f->own[p].force, shift) + fw_vec3_dot (f->own[p].moment, turn);
          for (size_t j = 0; j <= k; j++)
            f->mass[k * n + j] += fw_vec3_dot (f->gain[j * moving + p].force, shift)
                                  + fw_vec3_dot (f->gain[j * moving + p].moment, turn);
        }
      for (size_t j = 0; j < k; j++)
        f->mass[j * n + k] = f->mass[k * n + j];
    }
}

/* What a spring does for a part that moves, nobody else need. */
static void
relieve (FwFree *f, int coil, int end, FwVec3 at, FwVec3 force)
{
  int member = held_by (f->mech, coil, end);
  for (int p = 0; p < f->n_moving && member >= 0; p++)
    if (f->moving[p] == member)
      fw_reaction_add (&f->own[p], fw_vec3_sub (at, f->pose->members[member].motion.at.origin), fw_vec3_scale (force, -1));
}

static void
count_springs (FwFree *f)
{
  for (int i = 0; i < f->n_coils; i++)
    {
      FwCoilPose c = fw_coil_pose (f->mech, f->pose, f->coils[i]);
      if (!(c.length_mm > 0) || c.pull_N == 0)
        continue; /* its ends meet: it pulls nowhere in particular */
      FwVec3 pull = fw_vec3_scale (fw_vec3_sub (c.to, c.from), c.pull_N * 1e6 / c.length_mm);
      relieve (f, f->coils[i], 0, c.from, pull);
      relieve (f, f->coils[i], 1, c.to, fw_vec3_scale (pull, -1));
    }
}

bool
fw_free_at (FwFree *f, double crank, const double *q, const double *qd)
{
  for (int k = 0; k < f->n; k++)
    {
      f->angle[f->coordinate[k]] = q[k];
      f->rate[f->coordinate[k]] = qd[k] / f->speed;
    }
  const FwFreeState state
      = { .angle = f->angle, .rate = f->rate, .rate2 = f->rate2, .order = f->needed, .n = f->n_needed };
  f->pose->crank = crank;
  fw_pose_solve_free (f->pose, f->mech, cos (crank), sin (crank), &state);
  for (int k = 0; k < f->n_needed; k++)
    if (f->pose->members[f->needed[k]].closure != FW_CLOSES)
      return false;
  for (int p = 0; p < f->n_moving; p++)
    f->own[p] = own_demand (&f->inertia[p], &f->pose->members[f->moving[p]].motion, f->speed);
  count_springs (f);
  find_masses (f);
  return true;
}

/* ---- What the hinges bear ---- */

/* Takes the rod's share out of what a driven member needs, and asks it of the anchor if that moves too. */
static void
lean_on_rod (FwFree *f, int member, FwReaction *given)
{
  const FwMemberPose *m = &f->pose->members[member];
  const FwLink *link = &f->mech->links[f->mech->members[member].rod];
  const FwLinkPose *rod = &f->pose->links[f->mech->members[member].rod];
  FwVec3 along = fw_vec3_sub (rod->to.at, rod->from.at), arm = fw_vec3_sub (rod->to.at, m->motion.at.origin);
  double lever = fw_vec3_dot (m->axis, fw_vec3_cross (arm, along));
  FwVec3 force = fw_vec3_scale (along, lever == 0 ? 0 : fw_vec3_dot (given->moment, m->axis) / lever);
  fw_reaction_add (given, arm, fw_vec3_scale (force, -1));
  if (link->from == FW_FROM_PANEL)
    fw_reaction_add (&f->demand[link->index],
               fw_vec3_sub (rod->from.at, f->pose->members[link->index].motion.at.origin), force);
}

void
fw_free_hinge_forces (FwFree *f, const double *qdd, double *size)
{
  size_t moving = (size_t)f->n_moving;
  static const FwReaction none = { { 0, 0, 0 }, { 0, 0, 0 } };
  for (int k = 0; k < f->n_needed; k++)
    f->demand[f->needed[k]] = none;
  for (size_t p = 0; p < moving; p++)
    {
      FwReaction *d = &f->demand[f->moving[p]];
      *d = f->own[p];
      for (size_t k = 0; k < (size_t)f->n; k++)
        {
          d->force = fw_vec3_along (d->force, qdd[k], f->gain[k * moving + p].force);
          d->moment = fw_vec3_along (d->moment, qdd[k], f->gain[k * moving + p].moment);
        }
    }
  int k = f->n - 1;
  for (size_t p = moving; p-- > 0;)
    {
      int i = f->moving[p], parent = f->mech->members[i].parent;
      const FwMemberPose *m = &f->pose->members[i];
      FwReaction given = f->demand[i];
      if (f->mech->members[i].rod >= 0)
        lean_on_rod (f, i, &given);
      else
        size[k--] = fw_vec3_length (given.force);
      if (parent < 0)
        continue;
      FwVec3 arm = fw_vec3_sub (m->motion.at.origin, f->pose->members[parent].motion.at.origin);
      fw_reaction_add (&f->demand[parent], arm, given.force);
      f->demand[parent].moment = fw_vec3_add (f->demand[parent].moment, given.moment);
    }
}

double
fw_free_tip_mm (const FwMechanism *mech, int member)
{
  const FwPanel *p = &mech->design->panels[mech->members[member].panel];
  double s = fw_radians (p->sweep_deg), c = fw_radians (p->cant_deg);
  FwVec3 line = fw_vec3 (sin (s) * cos (c), cos (s) * cos (c), sin (c));
  return fw_vec3_length (fw_vec3_cross (line, fw_vec3 (p->span_mm, 0, 0)));
}
