/* Panels without a rod: at rest where gravity balances, or on a stop.
 *
 * A hanging member and the hanging members on it (a group) stand where their potential energy
 * V = sum m z is least. Turning one member j about its hinge line e_j carries all that hangs on it:
 *   dV/da_j = z . (e_j x S_j),   S_j = first moment about its hinge of it and what hangs on it,
 *   d2V/da_j da_k = z . (e_k x (e_j x S_j)),   k an ancestor of j or j itself.
 * V along one angle is A cos + B sin, so each angle's own best is a closed form; a group goes round
 * its members until none moves, at a cost in proportion to their number. Rates follow from the balance
 * differentiated once and twice.
 * With that alone a chain of n members takes some n^2 rounds: a member that is turned swings all that hangs on it.
 * Where all hinge lines are parallel each begins where it hangs by itself, with what hangs on it as weights at their
 * hinges, and keeps its direction: off the stops that is the answer, and one round says so. (Where they are not
 * parallel that may be a saddle.)
 * Driven panels that hang on a hanging one are carried by their rods and not counted here. */
#include "core/solve.h"

#define SWEEPS 400
#define STILL 1e-15

typedef struct
{
  FwPose *pose;
  const FwMechanism *mech;
  const int *order; /* the group's members, parents first */
  int n;
  bool held;     /* what carries the group is assembled */
  bool parallel; /* all its hinge lines are */
} Group;

static FwMemberPose *
at (const Group *g, int k)
{
  return &g->pose->members[g->order[k]];
}

static const FwMember *
member_at (const Group *g, int k)
{
  return &g->mech->members[g->order[k]];
}

static void
place (const Group *g, int k, double cosine, double sine)
{
  const FwMember *member = member_at (g, k);
  fw_place_member (at (g, k), member, fw_parent_motion (g->pose, member), cosine, sine);
}

static void
place_from (const Group *g, int first)
{
  for (int k = first; k < g->n; k++)
    place (g, k, at (g, k)->cosine, at (g, k)->sine);
}

/* S_j and, to `order` 1 or 2, its derivatives, from the tips inwards. */
static void
gather_loads (const Group *g, int derivatives)
{
  for (int k = 0; k < g->n; k++)
    {
      FwMemberPose *m = at (g, k);
      const FwMotion *motion = &m->motion;
      FwVec3 own = fw_frame_turn (&motion->at, member_at (g, k)->moment_gmm);
      FwVec3 swing = fw_vec3_cross (motion->spin, own);
      m->load_g = member_at (g, k)->mass_g;
      m->load[0] = own;
      m->load[1] = swing;
      m->load[2] = fw_vec3_add (fw_vec3_cross (motion->spin_rate, own), fw_vec3_cross (motion->spin, swing));
    }
  for (int k = g->n - 1; k > 0; k--)
    {
      const FwMemberPose *m = at (g, k);
      FwMemberPose *parent = &g->pose->members[member_at (g, k)->parent];
      const FwVec3 arm[3] = { fw_vec3_sub (m->motion.at.origin, parent->motion.at.origin),
                              fw_vec3_sub (m->motion.velocity, parent->motion.velocity),
                              fw_vec3_sub (m->motion.acceleration, parent->motion.acceleration) };
      parent->load_g += m->load_g;
      for (int i = 0; i <= derivatives; i++)
        parent->load[i] = fw_vec3_along (fw_vec3_add (parent->load[i], m->load[i]), m->load_g, arm[i]);
    }
}

/* The angle between the stops at which A cos a + B sin a is least. */
static double
lowest (const FwMember *member, double a, double b, bool *on_stop)
{
  double best = atan2 (-b, -a);
  *on_stop = false;
  if (!member->has_stops)
    return best;
  double min = member->stop_min, max = member->stop_max;
  double inside = best + 2 * FW_PI * ceil ((min - best) / (2 * FW_PI));
  if (inside <= max)
    return inside;
  *on_stop = true;
  double at_min = a * cos (min) + b * sin (min), at_max = a * cos (max) + b * sin (max);
  return at_min <= at_max ? min : max;
}

/* The vector turned about the unit axis by the angle with that cosine and sine. */
static FwVec3
turned (FwVec3 v, FwVec3 axis, double cosine, double sine)
{
  FwVec3 out = fw_vec3_scale (v, cosine);
  out = fw_vec3_along (out, sine, fw_vec3_cross (axis, v));
  return fw_vec3_along (out, (1 - cosine) * fw_vec3_dot (axis, v), axis);
}

/* Puts one member where its own angle is best with all others as they are; load[0] is its S, and is turned
 * with it. Frames stay as they are. Returns how far it moved (as a chord on the unit circle). */
static double
settle_one (const Group *g, int k)
{
  FwMemberPose *m = at (g, k);
  FwVec3 s = m->load[0], e = m->axis;
  double along = fw_vec3_dot (e, s);
  double here = s.z - along * e.z, quarter = fw_vec3_cross (e, s).z; /* V at this angle, and 90 deg on */
  double size = fabs (s.x) + fabs (s.y) + fabs (s.z);
  if (!(hypot (here, quarter) > 1e-12 * size))
    return 0; /* no weight to turn it: it stays where it is */
  double a = here * m->cosine - quarter * m->sine, b = here * m->sine + quarter * m->cosine;
  double angle = lowest (member_at (g, k), a, b, &m->on_stop);
  double cosine = cos (angle), sine = sin (angle);
  double moved = hypot (cosine - m->cosine, sine - m->sine);
  m->load[0] = turned (s, e, cosine * m->cosine + sine * m->sine, sine * m->cosine - cosine * m->sine);
  m->cosine = cosine;
  m->sine = sine;
  return moved;
}

/* One round from the tips inwards. What hangs on a member has then been turned already, and the member's hinge has
 * not moved yet, so first moments are passed on as they stand and the whole round is one walk. */
static double
sweep (const Group *g)
{
  double moved = 0;
  for (int k = 0; k < g->n; k++)
    {
      at (g, k)->load_g = member_at (g, k)->mass_g;
      at (g, k)->load[0] = fw_frame_turn (&at (g, k)->motion.at, member_at (g, k)->moment_gmm);
    }
  for (int k = g->n - 1; k >= 0; k--)
    {
      moved = fmax (moved, settle_one (g, k));
      if (k == 0)
        break;
      const FwMemberPose *m = at (g, k);
      FwMemberPose *parent = &g->pose->members[member_at (g, k)->parent];
      FwVec3 arm = fw_vec3_sub (m->motion.at.origin, parent->motion.at.origin);
      parent->load_g += m->load_g;
      parent->load[0] = fw_vec3_along (fw_vec3_add (parent->load[0], m->load[0]), m->load_g, arm);
    }
  place_from (g, 0);
  return moved;
}

/* Each member where it hangs by itself, from the first outwards; what hangs on it counts as weights at their hinges. */
static void
hang_each (const Group *g)
{
  for (int k = 0; k < g->n; k++)
    {
      at (g, k)->load_g = member_at (g, k)->mass_g;
      at (g, k)->load[0] = member_at (g, k)->moment_gmm;
    }
  for (int k = g->n - 1; k > 0; k--)
    {
      FwMemberPose *parent = &g->pose->members[member_at (g, k)->parent];
      parent->load_g += at (g, k)->load_g;
      parent->load[0] = fw_vec3_along (parent->load[0], at (g, k)->load_g, member_at (g, k)->hinge);
    }
  for (int k = 0; k < g->n; k++)
    {
      FwMemberPose *m = at (g, k);
      place (g, k, m->cosine, m->sine);
      m->load[0] = fw_frame_turn (&m->motion.at, m->load[0]);
      if (settle_one (g, k) > 0)
        place (g, k, m->cosine, m->sine);
    }
}

static void
settle (Group *g)
{
  g->parallel = true;
  for (int k = 0; k < g->n; k++)
    {
      FwMemberPose *m = at (g, k);
      const FwMember *member = member_at (g, k);
      double angle = !member->has_stops ? 0 : fmin (fmax (0, member->stop_min), member->stop_max);
      m->on_stop = false;
      place (g, k, cos (angle), sin (angle));
      g->parallel = g->parallel && fabs (fw_vec3_dot (m->axis, at (g, 0)->axis)) > 1 - 1e-12;
    }
  if (g->parallel)
    hang_each (g);
  for (int i = 0; i < SWEEPS && g->n > 1; i++)
    if (sweep (g) < STILL)
      break;
}

/* Derivative of the balance z . (e x S) with the member's own rates as they stand. */
static double
unbalance (const Group *g, int k, int order)
{
  const FwMemberPose *m = at (g, k);
  const FwMotion *parent = fw_parent_motion (g->pose, member_at (g, k));
  FwVec3 e = m->axis, e1 = fw_vec3_cross (parent->spin, e);
  if (order == 1)
    return fw_vec3_cross (e1, m->load[0]).z + fw_vec3_cross (e, m->load[1]).z;
  FwVec3 e2 = fw_vec3_add (fw_vec3_cross (parent->spin_rate, e), fw_vec3_cross (parent->spin, e1));
  return fw_vec3_cross (e2, m->load[0]).z + 2 * fw_vec3_cross (e1, m->load[1]).z
         + fw_vec3_cross (e, m->load[2]).z;
}

static double *
rate_of (const Group *g, int k, int order)
{
  return order == 1 ? &at (g, k)->rate : &at (g, k)->rate2;
}

static void
move (const Group *g)
{
  for (int k = 0; k < g->n; k++)
    {
      const FwMember *member = member_at (g, k);
      const FwMotion *parent = fw_parent_motion (g->pose, member);
      FwPointMotion hinge = fw_motion_point (parent, member->hinge);
      fw_move_member (at (g, k), parent, &hinge);
    }
}

/* Off its stops, and with a weight to turn it. */
static bool
turns_it (const FwMemberPose *m)
{
  FwVec3 s = m->load[0];
  double own = fw_vec3_cross (m->axis, fw_vec3_cross (m->axis, s)).z;
  return !m->on_stop && own > 1e-12 * (fabs (s.x) + fabs (s.y) + fabs (s.z));
}

/* One round over H x = -b from the tips inwards. With k an ancestor of j, H_jk = z . (e_k x (e_j x S_j)); so all
 * ancestors together count as the sum of e_k x_k, and all that hangs on j as the sum of (e_k x S_k) x_k. They are
 * kept in load[1] and load[2], which the right side is made of already. Returns how far it moved, over
 * the largest where that is above 1: rates of what keeps its direction are nothing but rounding. */
static double
sweep_rates (const Group *g, int order)
{
  double moved = 0, largest = 0;
  for (int k = 0; k < g->n; k++)
    {
      const FwMemberPose *parent = k == 0 ? NULL : &g->pose->members[member_at (g, k)->parent];
      FwVec3 above = { 0, 0, 0 };
      if (parent)
        above = fw_vec3_along (parent->load[1], order == 1 ? parent->rate : parent->rate2, parent->axis);
      at (g, k)->load[1] = above;
      at (g, k)->load[2] = (FwVec3) { 0, 0, 0 };
    }
  for (int k = g->n - 1; k >= 0; k--)
    {
      FwMemberPose *m = at (g, k);
      FwVec3 turn = fw_vec3_cross (m->axis, m->load[0]);
      double own = fw_vec3_cross (m->axis, turn).z, *rate = rate_of (g, k, order);
      if (turns_it (m))
        {
          double others = fw_vec3_cross (m->load[1], turn).z + fw_vec3_cross (m->axis, m->load[2]).z;
          double value = (m->gap_sine - others) / own;
          moved = fmax (moved, fabs (value - *rate));
          largest = fmax (largest, fabs (value));
          *rate = value;
        }
      if (k == 0)
        break;
      FwMemberPose *parent = &g->pose->members[member_at (g, k)->parent];
      parent->load[2] = fw_vec3_along (fw_vec3_add (parent->load[2], m->load[2]), *rate, turn);
    }
  return moved / fmax (largest, 1);
}

/* A member that hangs by itself keeps its direction, however what carries it turns. `order`: of the rates that are
 * guessed; those of members that stand are 0. */
static void
guess_rates (const Group *g, int order)
{
  for (int k = 0; k < g->n; k++)
    {
      FwMemberPose *m = at (g, k);
      const FwMemberPose *parent = k == 0 ? NULL : &g->pose->members[member_at (g, k)->parent];
      FwVec3 turns = order == 1 ? m->motion.spin : m->motion.spin_rate;
      m->load[1] = (FwVec3) { 0, 0, 0 };
      if (parent)
        m->load[1] = fw_vec3_along (parent->load[1], order == 1 ? parent->rate : parent->rate2, parent->axis);
      if (turns_it (m))
        *rate_of (g, k, order) = -fw_vec3_dot (m->axis, fw_vec3_add (turns, m->load[1]));
    }
}

/* H x = -b for the rates of one order, by the method of Gauss and Seidel: H is the Hessian at a
 * minimum, so it converges. Members on a stop, or without weight to turn them, do not move. The
 * right side is parked in gap_sine, which a hanging member does not use. */
static void
solve_rates (const Group *g, int order)
{
  move (g);
  gather_loads (g, order);
  for (int k = 0; k < g->n; k++)
    at (g, k)->gap_sine = -unbalance (g, k, order);
  if (g->parallel)
    guess_rates (g, order);
  for (int i = 0; i < SWEEPS; i++)
    if (sweep_rates (g, order) <= STILL || g->n == 1)
      break;
  for (int k = 0; k < g->n; k++)
    at (g, k)->gap_sine = 0;
}

void
fw_solve_hanging (FwPose *pose, const FwMechanism *mech, int k, bool derivatives)
{
  const FwMember *root = &mech->members[mech->order[k]];
  Group g = { .pose = pose,
              .mech = mech,
              .order = &mech->order[k],
              .n = root->hanging_group,
              .held = fw_parent_closure (pose, root) == FW_CLOSES };
  for (int i = 0; i < g.n; i++)
    {
      FwMemberPose *m = at (&g, i);
      *m = (FwMemberPose) { .squareness = 1, .gap_cosine = 1, .closure = g.held ? FW_CLOSES : FW_ADRIFT };
    }
  settle (&g);
  if (!derivatives || !g.held)
    return;
  solve_rates (&g, 1);
  solve_rates (&g, 2);
  move (&g);
}

void
fw_solve_free (FwPose *pose, const FwMechanism *mech, int i, double angle, double rate, double rate2)
{
  const FwMember *member = &mech->members[i];
  const FwMotion *parent = fw_parent_motion (pose, member);
  FwMemberPose *m = &pose->members[i];
  bool held = fw_parent_closure (pose, member) == FW_CLOSES;
  bool on_stop = member->has_stops && (angle <= member->stop_min || angle >= member->stop_max);
  *m = (FwMemberPose) { .squareness = 1,
                        .gap_cosine = 1,
                        .on_stop = on_stop,
                        .closure = held ? FW_CLOSES : FW_ADRIFT };
  fw_place_member (m, member, parent, cos (angle), sin (angle));
  if (!held)
    return; /* a picture, not a motion: derivatives stay 0 */
  m->rate = rate;
  m->rate2 = rate2;
  FwPointMotion hinge = fw_motion_point (parent, member->hinge);
  fw_move_member (m, parent, &hinge);
}
