#include "core/bounce.h"

#include "core/search.h"
#include "core/solve.h"

#define STEPS_ACROSS 12 /* of the integration, where the load grows evenly */
#define WIDEST_STEP fw_radians (1)
#define MOST_GROWTH 1.2        /* of the mass felt within one step */
#define SHORTEST_SHARE 256     /* of a usual step */
#define FORCE_OF_ROUNDING 1e-7 /* N: what never exceeds this is no load */
#define HINGES_AT_ONCE 32

/* ---- The mass felt at a joint ---- */

static const FwFrame *
frame_of (const FwPose *pose, int part)
{
  return part == 0 ? &pose->body.motion.at : &pose->members[part - 1].motion.at;
}

/* Velocity of a point of a drifting part; `drift` holds velocity of the origin and spin. */
static FwVec3
drift_at (const FwReaction *drift, const FwPose *pose, int part, FwVec3 at)
{
  FwVec3 arm = fw_vec3_sub (at, frame_of (pose, part)->origin);
  return fw_vec3_add (drift[part].force, fw_vec3_cross (drift[part].moment, arm));
}

/* How the body gives way by 1 mm at its guide, slide or link while the crank stands. */
static FwReaction
body_drift (const FwMechanism *mech, const FwPose *pose)
{
  const FwBody *body = &mech->design->body;
  FwRuns runs = mech->design->crank.runs;
  FwVec3 h_axis = fw_crank_h (runs),
         tilt_axis = runs == FW_RUNS_ACROSS ? fw_vec3 (-1, 0, 0) : fw_vec3 (0, 1, 0);
  FwReaction drift = { { 0, 0, 0 }, { 0, 0, 0 } };
  if (body->ride == FW_RIDE_FIXED)
    return drift;
  FwVec3 arm = fw_vec3_sub (pose->body.motion.at.origin, pose->pins[mech->body_pin].at);
  if (body->ride == FW_RIDE_RAIL)
    {
      drift.force = h_axis; /* and along the circle about the pin */
      drift.force.z = -fw_vec3_dot (arm, h_axis) / arm.z;
      return drift;
    }
  double rate = 1 / pose->body.guide_mm;
  if (body->ride == FW_RIDE_ROCKER)
    {
      FwVec3 held = fw_vec3_scale (arm, body->on_mm / body->post_mm);
      FwVec3 pivot = fw_vec3_scale (h_axis, body->pivot_mm.x);
      pivot.z = body->pivot_mm.y;
      FwVec3 held_at = fw_vec3_add (pose->pins[mech->body_pin].at, held);
      FwVec3 link = fw_vec3_scale (fw_vec3_sub (held_at, pivot),
                                   1 / body->link_mm); /* its part in the plane */
      rate = 1 / fw_vec3_dot (fw_vec3_cross (tilt_axis, held), link);
    }
  drift.moment = fw_vec3_scale (tilt_axis, rate);
  drift.force = fw_vec3_cross (drift.moment, arm);
  return drift;
}

/* One member, when what carries it is done. A panel without a rod keeps its angle to its parent. */
static void
member_drift (const FwMechanism *mech, const FwPose *pose, FwReaction *drift, int index,
              FwPart part, FwVec3 along)
{
  const FwMember *member = &mech->members[index];
  const FwMemberPose *m = &pose->members[index];
  FwVec3 hinge = m->motion.at.origin, spin = drift[member->parent + 1].moment;
  FwVec3 velocity = drift_at (drift, pose, member->parent + 1, hinge);
  if (part.kind == FW_PART_MEMBER && part.index == index)
    velocity = fw_vec3_add (velocity, along);
  if (member->rod >= 0)
    {
      const FwLink *link = &mech->links[member->rod];
      const FwLinkPose *rod = &pose->links[member->rod];
      FwVec3 line = fw_vec3_scale (fw_vec3_sub (rod->to.at, rod->from.at), 1 / link->length_mm);
      FwVec3 arm = fw_vec3_sub (rod->to.at, hinge);
      FwVec3 anchor = link->from == FW_FROM_BODY ? drift_at (drift, pose, 0, rod->from.at)
                      : link->from == FW_FROM_PANEL
                          ? drift_at (drift, pose, link->index + 1, rod->from.at)
                          : fw_vec3 (0, 0, 0);
      FwVec3 carried = fw_vec3_sub (fw_vec3_add (velocity, fw_vec3_cross (spin, arm)), anchor);
      double stretch = part.kind == FW_PART_LINK && part.index == member->rod ? 1 : 0;
      double lever = fw_vec3_dot (m->axis, fw_vec3_cross (arm, line));
      spin = fw_vec3_along (spin, (stretch - fw_vec3_dot (line, carried)) / lever, m->axis);
    }
  drift[index + 1] = (FwReaction){ velocity, spin };
}

/* Twice the kinetic energy of a part that drifts: m v^2 + 2 v . (omega x s) + omega . I omega. */
static double
twice_energy (const FwInertia *inertia, const FwFrame *f, FwReaction drift)
{
  FwVec3 v = drift.force, spin = drift.moment;
  FwVec3 turning = fw_frame_turn (f, fw_inertia_times (inertia, fw_frame_unturn (f, spin)));
  return inertia->mass_g * fw_vec3_dot (v, v)
         + 2 * fw_vec3_dot (v, fw_vec3_cross (spin, fw_frame_turn (f, inertia->moment_gmm)))
         + fw_vec3_dot (spin, turning);
}

double
fw_joint_mass (const FwMechanism *mech, const FwPose *pose, FwLoads *loads, FwPart part,
               FwVec3 along)
{
  FwReaction *drift = loads->demand; /* room of the right size, free between two poses */
  drift[0] = part.kind == FW_PART_BODY ? body_drift (mech, pose)
                                       : (FwReaction){ { 0, 0, 0 }, { 0, 0, 0 } };
  double sum = twice_energy (&loads->inertia[0], frame_of (pose, 0), drift[0]);
  for (int k = 0; k < mech->n_members; k++)
    {
      int index = mech->order[k];
      member_drift (mech, pose, drift, index, part, along);
      sum += twice_energy (&loads->inertia[index + 1], frame_of (pose, index + 1),
                           drift[index + 1]);
    }
  return sum;
}

double
fw_joint_play (const FwMechanism *mech, FwPart part)
{
  const FwDesign *d = mech->design;
  if (part.kind == FW_PART_LINK)
    return d->rods[mech->links[part.index].rod].play_mm;
  if (part.kind == FW_PART_MEMBER)
    return d->panels[mech->members[part.index].panel].play_mm;
  return d->body.ride == FW_RIDE_FIXED ? 0 : d->body.play_mm;
}

/* ---- The load on a joint ---- */

typedef struct
{
  const FwLoadTurn *turn;
  const FwMechanism *mech;
  FwPart part;
  FwVec3 along; /* hinge: direction in the parent's frame */
} Joint;

static bool
solve (const Joint *j, double crank)
{
  fw_pose_solve (j->turn->pose, j->mech, crank);
  fw_loads_solve (j->turn->loads, j->mech, j->turn->pose, j->turn->speed);
  return j->turn->loads->known;
}

static const FwFrame *
parent_frame (const Joint *j, int member)
{
  return frame_of (j->turn->pose, j->mech->members[member].parent + 1);
}

/* A hinge's force in its parent's frame, without what runs along the hinge line: that slides. */
static FwVec3
across_hinge (const Joint *j, int member, FwVec3 force)
{
  FwVec3 axis = j->mech->members[member].axis,
         local = fw_frame_unturn (parent_frame (j, member), force);
  return fw_vec3_along (local, -fw_vec3_dot (local, axis), axis);
}

static double
solved_load (const Joint *j)
{
  const FwLoads *l = j->turn->loads;
  if (j->part.kind == FW_PART_LINK)
    return l->tension[j->part.index];
  if (j->part.kind == FW_PART_MEMBER)
    return fw_vec3_dot (j->along, across_hinge (j, j->part.index, l->hinges[j->part.index].force));
  if (j->mech->design->body.ride == FW_RIDE_RAIL)
    return fw_vec3_dot (l->carrier.force, fw_crank_h (j->mech->design->crank.runs));
  return l->guide;
}

static double
load_at (void *context, double crank)
{
  const Joint *j = context;
  return solve (j, crank) ? solved_load (j) : NAN;
}

static double
mass_here (const Joint *j)
{
  FwVec3 along = { 0, 0, 0 };
  if (j->part.kind == FW_PART_MEMBER)
    along = fw_frame_turn (parent_frame (j, j->part.index), j->along);
  return fw_joint_mass (j->mech, j->turn->pose, j->turn->loads, j->part, along) / 1000;
}

/* Load, N, positive where it drives the parts apart, and the mass felt, kg. */
typedef struct
{
  double load, mass;
} Drive;

static Drive
drive_at (const Joint *j, double crank, int after)
{
  double load = load_at ((void *)j, crank);
  return (Drive){ after * load, mass_here (j) };
}

/* ---- Across the gap ---- */

/* One step of (m v)' = F: the speed as the parabola through its values at the ends and in the
 * middle. */
typedef struct
{
  double speed, slope, bend;
  double way; /* at the start of the step */
} Stretch;

static double
speed_in (const Stretch *s, double t)
{
  return s->speed + t * (s->slope + t * s->bend);
}

static double
way_in (const Stretch *s, double t)
{
  return s->way + t * (s->speed + t * (s->slope / 2 + t * s->bend / 3));
}

/* When within a step of `width` the way reaches `aim`, which lies between its values at the ends.
 */
static double
time_of (const Stretch *s, double aim, double width)
{
  double from = 0, to = width;
  bool rising = way_in (s, width) > aim;
  for (int i = 0; i < 60; i++)
    {
      double middle = (from + to) / 2;
      *((way_in (s, middle) > aim) == rising ? &to : &from) = middle;
    }
  return to;
}

/* Integrates the actual load from the change of sign on. The mass felt changes as the crank turns,
 * and it is the momentum across the gap that the load feeds (docs/forces.md). False: it neither
 * crosses nor lands within a turn, or something cannot be assembled on the way. */
static bool
cross (const Joint *j, FwBounce *b, double growth)
{
  double gap = b->gap_mm / 1000, speed = j->turn->speed, momentum = 0;
  double even = cbrt (6 * gap / growth); /* from gap = growth t^3 / 6 */
  double usual = fmin (even / STEPS_ACROSS, WIDEST_STEP / speed), width = usual;
  Drive start = drive_at (j, b->crank, b->after);
  Stretch s = { .way = 0 };
  for (double t = 0; t * speed < 2 * FW_PI;)
    {
      Drive middle = drive_at (j, b->crank + (t + width / 2) * speed, b->after);
      Drive end = drive_at (j, b->crank + (t + width) * speed, b->after);
      /* Near a dead position the mass felt grows without bound: shorter steps there. */
      bool steep = !(end.mass < MOST_GROWTH * start.mass && start.mass < MOST_GROWTH * end.mass);
      if (steep && width > usual / SHORTEST_SHARE)
        {
          width /= 2;
          continue;
        }
      double half
          = (momentum + width * (5 * start.load + 8 * middle.load - end.load) / 24) / middle.mass;
      momentum += width * (start.load + 4 * middle.load + end.load) / 6;
      s.slope = (4 * half - 3 * s.speed - momentum / end.mass) / width;
      s.bend = 2 * (s.speed - 2 * half + momentum / end.mass) / (width * width);
      double way = way_in (&s, width);
      if (isnan (way))
        return false;
      b->crosses = way >= gap;
      if (b->crosses || way <= 0)
        {
          double part = time_of (&s, b->crosses ? gap : 0, width);
          b->cross_s = t + part;
          b->speed_mps = fabs (speed_in (&s, part));
          return true;
        }
      s = (Stretch){ .speed = momentum / end.mass, .way = way };
      start = end;
      t += width;
      width = fmin (usual, 2 * width);
    }
  return false;
}

/* Fills in a bounce whose part, gap and crank are set. */
static bool
examine (const Joint *j, FwBounce *b)
{
  const double h = 1e-4;
  double before = load_at ((void *)j, b->crank - h), after = load_at ((void *)j, b->crank + h);
  if (!(before * after < 0)) /* it touches nothing and turns back, or is not known */
    return false;
  b->before = before > 0 ? 1 : -1;
  b->after = -b->before;
  b->slope_Nps = fabs (after - before) / (2 * h) * j->turn->speed;
  solve (j, b->crank);
  b->mass_kg = mass_here (j);
  if (!(b->mass_kg > 0) || !cross (j, b, b->slope_Nps / b->mass_kg))
    return false;
  b->energy_J = b->mass_kg * b->speed_mps * b->speed_mps / 2;
  b->knock = fw_into_turn (b->crank + b->cross_s * j->turn->speed);
  b->crank = fw_into_turn (b->crank);
  return true;
}

/* ---- Over the turn ---- */

typedef struct
{
  double worn_mm; /* play of joints that have none */
  FwBounce *list;
  int n, capacity;
  FwStop stop; /* may be NULL */
  void *stop_data;
  bool stopped;
} Found;

static bool
told_to_stop (Found *f)
{
  f->stopped = f->stopped || (f->stop && f->stop (f->stop_data));
  return f->stopped;
}

static void
found (Found *f, const FwBounce *b)
{
  if (f->n < f->capacity)
    f->list[f->n] = *b;
  f->n++;
}

static double
gap_of (const Found *f, const FwMechanism *mech, FwPart part)
{
  double play = fw_joint_play (mech, part);
  return play > 0 ? play : f->worn_mm;
}

static double
row_value (const Joint *j, int step)
{
  if (j->part.kind == FW_PART_BODY && j->mech->design->body.ride == FW_RIDE_RAIL)
    return fw_vec3_dot (j->turn->carrier[step], fw_crank_h (j->mech->design->crank.runs));
  FwLoad load = { j->part.kind == FW_PART_LINK ? FW_LOAD_TENSION : FW_LOAD_GUIDE, j->part.index };
  return fw_load_turn_row (j->turn, j->mech, load)[step];
}

/* A joint whose load keeps to one line: where it changes sign. */
static void
look_along (const FwLoadTurn *turn, const FwMechanism *mech, FwPart part, Found *f)
{
  Joint j = { .turn = turn, .mech = mech, .part = part };
  FwBounce b = { .part = part, .gap_mm = gap_of (f, mech, part), .turning = INFINITY };
  if (!(b.gap_mm > 0))
    return;
  double width = 2 * FW_PI / turn->steps;
  for (int i = 0; i < turn->steps; i++)
    {
      double here = row_value (&j, i), next = row_value (&j, (i + 1) % turn->steps);
      if ((here > 0) == (next > 0) || !(fabs (here) + fabs (next) > FORCE_OF_ROUNDING))
        continue;
      if (told_to_stop (f))
        return;
      b.crank = fw_root (load_at, &j, i * width, (i + 1) * width);
      if (examine (&j, &b))
        found (f, &b);
    }
}

static double
across_size (void *context, double crank)
{
  const Joint *j = context;
  if (!solve (j, crank))
    return NAN;
  return fw_vec3_length (
      across_hinge (j, j->part.index, j->turn->loads->hinges[j->part.index].force));
}

/* Near the step where a hinge's load is least: its direction of change is square to it there, so
 * along that direction it changes sign. What is left of it presses the pin sideways; if that
 * carries it half the play while it crosses, it rolls along the wall and does not knock. */
static void
look_at_hinge (const FwLoadTurn *turn, const FwMechanism *mech, int member, int step, Found *f)
{
  Joint j = { .turn = turn, .mech = mech, .part = { FW_PART_MEMBER, member } };
  double width = 2 * FW_PI / turn->steps, middle = step * width, least;
  double crank = fw_least (across_size, &j, middle - width, middle, middle + width, &least);
  const double h = 1e-4;
  if (!solve (&j, crank + h))
    return;
  FwVec3 after = across_hinge (&j, member, turn->loads->hinges[member].force);
  if (!solve (&j, crank - h))
    return;
  FwVec3 change = fw_vec3_sub (after, across_hinge (&j, member, turn->loads->hinges[member].force));
  double rate = fw_vec3_length (change) / (2 * h) * turn->speed;
  if (!(rate > FORCE_OF_ROUNDING))
    return;
  j.along = fw_vec3_scale (change, 1 / fw_vec3_length (change));
  FwBounce b = { .part = j.part, .gap_mm = gap_of (f, mech, j.part), .crank = crank };
  b.turning = rate / (least * least);
  if (!examine (&j, &b))
    return;
  double aside = least / b.mass_kg * b.cross_s * b.cross_s / 2;
  if (aside * 1000 < b.gap_mm / 2)
    found (f, &b);
}

/* All hinges in one pass over the steps, a handful at a time. */
static void
look_at_hinges (const FwLoadTurn *turn, const FwMechanism *mech, int first, int count, Found *f)
{
  Joint j = { .turn = turn, .mech = mech };
  double before[HINGES_AT_ONCE], here[HINGES_AT_ONCE];
  for (int k = 0; k < count; k++)
    before[k] = here[k] = NAN;
  for (int i = -1; i <= turn->steps; i++)
    {
      int step = (i + turn->steps) % turn->steps;
      double crank = 2 * FW_PI * step / turn->steps;
      fw_pose_solve_at (turn->pose, mech, cos (crank), sin (crank), false);
      for (int k = 0; k < count; k++)
        {
          FwVec3 force = turn->hinges[(size_t)(first + k) * (size_t)turn->steps + (size_t)step];
          double size = gap_of (f, mech, (FwPart){ FW_PART_MEMBER, first + k }) > 0
                            ? fw_vec3_length (across_hinge (&j, first + k, force))
                            : NAN;
          bool low = here[k] <= before[k] && here[k] < size;
          before[k] = here[k];
          here[k] = size;
          if (!low)
            continue;
          if (told_to_stop (f))
            return;
          look_at_hinge (turn, mech, first + k, i - 1, f);
          fw_pose_solve_at (turn->pose, mech, cos (crank), sin (crank), false);
        }
    }
}

static bool
any_hinge (const FwMechanism *mech, const Found *f)
{
  bool any = false;
  for (int i = 0; i < mech->n_members; i++)
    any = any || gap_of (f, mech, (FwPart){ FW_PART_MEMBER, i }) > 0;
  return any;
}

static int
look (const FwLoadTurn *turn, const FwMechanism *mech, Found f)
{
  if (!(turn->speed > 0))
    return 0;
  for (int i = 0; i < mech->n_links; i++)
    look_along (turn, mech, (FwPart){ FW_PART_LINK, i }, &f);
  if (mech->design->body.ride != FW_RIDE_FIXED)
    look_along (turn, mech, (FwPart){ FW_PART_BODY, 0 }, &f);
  for (int i = 0; any_hinge (mech, &f) && i < mech->n_members && !told_to_stop (&f);
       i += HINGES_AT_ONCE)
    {
      int left = mech->n_members - i;
      look_at_hinges (turn, mech, i, left < HINGES_AT_ONCE ? left : HINGES_AT_ONCE, &f);
    }
  return f.stopped ? -1 : f.n;
}

int
fw_bounces (const FwLoadTurn *turn, const FwMechanism *mech, FwBounce *list, int capacity)
{
  return look (turn, mech, (Found){ .worn_mm = 0, .list = list, .capacity = capacity });
}

int
fw_reversals (const FwLoadTurn *turn, const FwMechanism *mech, FwBounce *list, int capacity,
              FwStop stop, void *stop_data)
{
  return look (turn, mech,
               (Found){ .worn_mm = FW_WORN_PLAY_MM,
                        .list = list,
                        .capacity = capacity,
                        .stop = stop,
                        .stop_data = stop_data });
}
