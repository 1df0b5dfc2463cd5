#include "core/pose.h"

#include <stdlib.h>

#include "core/angle.h"
#include "core/solve.h"

void
fw_place_member (FwMemberPose *m, const FwMember *member, const FwMotion *parent, double cosine, double sine)
{
  const FwFrame *f = &parent->at;
  FwVec3 u = fw_vec3_along (member->fixed[0], cosine, member->even[0]);
  FwVec3 w = fw_vec3_along (member->fixed[1], cosine, member->even[1]);
  m->cosine = cosine;
  m->sine = sine;
  m->motion.at.origin = fw_frame_to_world (f, member->hinge);
  m->motion.at.u = fw_frame_turn (f, fw_vec3_along (u, sine, member->odd[0]));
  m->motion.at.w = fw_frame_turn (f, fw_vec3_along (w, sine, member->odd[1]));
  m->motion.at.v = fw_vec3_scale (fw_vec3_cross (m->motion.at.w, m->motion.at.u), member->handed);
  m->axis = fw_frame_turn (f, member->axis);
}

void
fw_move_member (FwMemberPose *m, const FwMotion *parent, const FwPointMotion *hinge)
{
  FwVec3 turned = fw_vec3_cross (parent->spin, m->axis);
  m->motion.velocity = hinge->velocity;
  m->motion.acceleration = hinge->acceleration;
  m->motion.spin = fw_vec3_along (parent->spin, m->rate, m->axis);
  m->motion.spin_rate
      = fw_vec3_along (fw_vec3_along (parent->spin_rate, m->rate2, m->axis), m->rate, turned);
}

/* Where the rod's anchor is. */
static FwVec3
anchor_place (const FwPose *pose, const FwLink *link)
{
  switch (link->from)
    {
    case FW_FROM_THROW:
      return pose->pins[link->index].at;
    case FW_FROM_BODY:
      return fw_frame_to_world (&pose->body.motion.at, link->from_mm);
    case FW_FROM_PANEL:
      return fw_frame_to_world (&pose->members[link->index].motion.at, link->from_mm);
    default:
      return link->from_mm;
    }
}

/* And how it moves. */
static void
move_anchor (FwPointMotion *anchor, const FwPose *pose, const FwLink *link)
{
  if (link->from == FW_FROM_THROW)
    *anchor = pose->pins[link->index];
  else if (link->from == FW_FROM_BODY)
    *anchor = fw_motion_point (&pose->body.motion, link->from_mm);
  else if (link->from == FW_FROM_PANEL)
    *anchor = fw_motion_point (&pose->members[link->index].motion, link->from_mm);
  else
    anchor->velocity = anchor->acceleration = fw_vec3 (0, 0, 0);
}

static bool
anchor_closes (const FwPose *pose, const FwLink *link)
{
  if (link->from == FW_FROM_PANEL)
    return pose->members[link->index].closure == FW_CLOSES;
  return link->from != FW_FROM_BODY || pose->body.closure == FW_CLOSES;
}

/* What the loop |W(a) - P| = length comes down to: A cos a + B sin a = C. */
typedef struct
{
  double a, b, c, r2;
  double p2; /* |P - H - q_par|^2 */
} Loop;

static Loop
loop_of (const FwMember *member, const FwFrame *parent, FwVec3 anchor)
{
  FwVec3 d = fw_vec3_sub (fw_frame_to_local (parent, anchor), member->centre);
  Loop loop = { .a = fw_vec3_dot (d, member->q_perp), .b = fw_vec3_dot (d, member->q_odd) };
  loop.p2 = fw_vec3_dot (d, d);
  loop.c = (member->q2_less_length2 + loop.p2) / 2;
  loop.r2 = loop.a * loop.a + loop.b * loop.b;
  return loop;
}

/* The reach of the driven point from the anchor as the panel turns right round, against the rod. */
static double
missing_length (const Loop *loop, double q2, double length)
{
  double mean = q2 + loop->p2, swing = 2 * sqrt (loop->r2);
  double nearest = sqrt (fmax (mean - swing, 0)), farthest = sqrt (mean + swing);
  return length < nearest ? nearest - length : farthest - length;
}

/* Where no angle closes the loop: the angle at which the rod comes nearest, at rest. */
static void
nearest_approach (FwMemberPose *m, const FwMember *member, const FwMotion *parent, const Loop *loop)
{
  double r = sqrt (loop->r2), toward = loop->c < 0 ? -1 : 1;
  double cosine = r > 0 ? toward * loop->a / r : cos (member->near);
  double sine = r > 0 ? toward * loop->b / r : sin (member->near);
  fw_place_member (m, member, parent, cosine, sine);
}

/* Rates from the constraint L . L = length^2 differentiated twice, L = W - P from anchor to panel:
 * L . L' = 0 and L . L'' = -L' . L'. W moves with the parent and turns about the hinge. */
static void
differentiate (FwMemberPose *m, FwPointMotion *w, const FwMotion *parent, const FwPointMotion *hinge,
               const FwPointMotion *anchor)
{
  FwVec3 r = fw_vec3_sub (w->at, hinge->at), l = fw_vec3_sub (w->at, anchor->at);
  FwVec3 g = fw_vec3_cross (m->axis, r); /* dW/da */
  FwVec3 swing = fw_vec3_cross (parent->spin, r);
  FwVec3 carried = fw_vec3_add (hinge->velocity, swing);
  double lever = fw_vec3_dot (l, g);
  /* At an exact dead position the rates do not exist; they are given as 0 and squareness says why. */
  m->rate = lever == 0 ? 0 : -fw_vec3_dot (l, fw_vec3_sub (carried, anchor->velocity)) / lever;
  w->velocity = fw_vec3_along (carried, m->rate, g);

  FwVec3 bias = fw_vec3_add (hinge->acceleration, fw_vec3_cross (parent->spin_rate, r));
  bias = fw_vec3_add (bias, fw_vec3_cross (parent->spin, swing));
  bias = fw_vec3_along (bias, 2 * m->rate, fw_vec3_cross (parent->spin, g));
  bias = fw_vec3_along (bias, m->rate * m->rate, fw_vec3_cross (m->axis, g));
  FwVec3 l_rate = fw_vec3_sub (w->velocity, anchor->velocity);
  double rest = fw_vec3_dot (l_rate, l_rate) + fw_vec3_dot (l, fw_vec3_sub (bias, anchor->acceleration));
  m->rate2 = lever == 0 ? 0 : -rest / lever;
  w->acceleration = fw_vec3_along (bias, m->rate2, g);
}

/* No angle closes the loop. */
static void
fall_short (FwPose *pose, const FwMechanism *mech, int index, const FwMotion *parent, const Loop *loop, bool held)
{
  const FwMember *member = &mech->members[index];
  const FwLink *link = &mech->links[member->rod];
  FwMemberPose *m = &pose->members[index];
  m->closure = held ? FW_SHORT : FW_ADRIFT;
  m->missing_mm = held ? missing_length (loop, member->q2, link->length_mm) : 0;
  m->squareness = m->gap_sine = 0;
  m->gap_cosine = loop->c < 0 ? -1 : 1;
  nearest_approach (m, member, parent, loop);
}

/* What cannot be assembled is at rest: a picture, not a motion. */
static void
rest (FwMemberPose *m, FwLinkPose *rod)
{
  const FwVec3 zero = { 0, 0, 0 };
  m->rate = m->rate2 = 0;
  fw_stand_still (&m->motion);
  rod->from.velocity = rod->from.acceleration = rod->to.velocity = rod->to.acceleration = zero;
}

void
fw_solve_driven (FwPose *pose, const FwMechanism *mech, int index, bool derivatives)
{
  const FwMember *member = &mech->members[index];
  const FwLink *link = &mech->links[member->rod];
  const FwMotion *parent = fw_parent_motion (pose, member);
  FwMemberPose *m = &pose->members[index];
  FwLinkPose *rod = &pose->links[member->rod];
  bool held = fw_parent_closure (pose, member) == FW_CLOSES && anchor_closes (pose, link);

  rod->from.at = anchor_place (pose, link);
  Loop loop = loop_of (member, &parent->at, rod->from.at);
  double w2 = loop.r2 - loop.c * loop.c;
  m->missing_mm = 0;
  m->on_stop = false;
  bool closes = w2 >= 0 && loop.r2 > 0;
  if (closes)
    {
      double w = sqrt (w2), turned = member->root * w, scale = 1 / loop.r2;
      m->closure = held ? FW_CLOSES : FW_ADRIFT;
      m->squareness = w * member->lever_scale;
      m->gap_cosine = loop.c;
      m->gap_sine = w;
      fw_place_member (m, member, parent, (loop.a * loop.c - loop.b * turned) * scale,
                       (loop.b * loop.c + loop.a * turned) * scale);
    }
  else
    fall_short (pose, mech, index, parent, &loop, held);
  rod->to.at = fw_frame_to_world (&m->motion.at, link->at_mm);
  if (!closes || !held)
    rest (m, rod);
  else if (derivatives)
    {
      FwPointMotion hinge = fw_motion_point (parent, member->hinge);
      move_anchor (&rod->from, pose, link);
      differentiate (m, &rod->to, parent, &hinge, &rod->from);
      fw_move_member (m, parent, &hinge);
    }
}

void
fw_pose_solve_at (FwPose *pose, const FwMechanism *mech, double cosine, double sine, bool derivatives)
{
  fw_solve_ground (pose, mech, cosine, sine, derivatives);
  for (int k = 0; k < mech->n_members; k++)
    {
      int i = mech->order[k];
      if (mech->members[i].mirror_of >= 0)
        fw_mirror_member (pose, mech, i, derivatives);
      else if (mech->members[i].rod >= 0)
        fw_solve_driven (pose, mech, i, derivatives);
      else if (!mech->members[i].hangs_with_parent)
        fw_solve_hanging (pose, mech, k, derivatives);
    }
}

void
fw_pose_solve (FwPose *pose, const FwMechanism *mech, double crank)
{
  pose->crank = crank;
  fw_pose_solve_at (pose, mech, cos (crank), sin (crank), true);
}

void
fw_pose_solve_free (FwPose *pose, const FwMechanism *mech, double cosine, double sine, const FwFreeState *free)
{
  const int *order = free->order == NULL ? mech->order : free->order;
  int n = free->order == NULL ? mech->n_members : free->n;
  fw_solve_ground (pose, mech, cosine, sine, true);
  for (int k = 0; k < n; k++)
    {
      int i = order[k];
      if (mech->members[i].rod >= 0)
        fw_solve_driven (pose, mech, i, true);
      else
        fw_solve_free (pose, mech, i, free->angle[i], free->rate[i], free->rate2[i]);
    }
}

bool
fw_pose_closes (const FwPose *pose, const FwMechanism *mech)
{
  if (pose->body.closure != FW_CLOSES)
    return false;
  for (int i = 0; i < mech->n_members; i++)
    if (pose->members[i].closure != FW_CLOSES)
      return false;
  return true;
}

double
fw_pose_angle (const FwPose *pose, const FwMechanism *mech, int member)
{
  const FwMemberPose *m = &pose->members[member];
  return fw_wrap_near (fw_angle_of (m->sine, m->cosine), mech->members[member].near);
}

double
fw_pose_other_root (const FwPose *pose, const FwMechanism *mech, int member)
{
  const FwMemberPose *m = &pose->members[member];
  if (mech->members[member].rod < 0 || m->closure != FW_CLOSES)
    return NAN;
  double half = fw_angle_of (m->gap_sine, m->gap_cosine);
  /* The roots are phi + half and phi - half; from one to the other is twice half, or the other way
   * round where that is shorter. */
  double other = -2 * half * mech->members[member].root;
  return fw_wrap_near (other, 0);
}

double
fw_pose_push (const FwPose *pose, const FwMechanism *mech, int link)
{
  const FwMemberPose *m = &pose->members[mech->links[link].member];
  return m->closure == FW_CLOSES ? asin (fmin (1, m->squareness)) : NAN;
}

/* Angle of the rod out of the plane square to a unit vector. */
static double
out_of_plane (const FwPose *pose, const FwMechanism *mech, int link, FwVec3 square)
{
  if (pose->members[mech->links[link].member].closure != FW_CLOSES)
    return NAN;
  const FwLinkPose *rod = &pose->links[link];
  FwVec3 l = fw_vec3_sub (rod->to.at, rod->from.at);
  return asin (fmin (1, fabs (fw_vec3_dot (l, square)) / mech->links[link].length_mm));
}

double
fw_pose_lean (const FwPose *pose, const FwMechanism *mech, int link)
{
  return out_of_plane (pose, mech, link, fw_crank_axis (mech->design->crank.runs));
}

double
fw_pose_bend (const FwPose *pose, const FwMechanism *mech, int link)
{
  return out_of_plane (pose, mech, link, pose->members[mech->links[link].member].axis);
}

static double
body_slack (const FwPose *pose, const FwMechanism *mech)
{
  const FwBody *body = &mech->design->body;
  if (body->ride != FW_RIDE_RAIL && body->ride != FW_RIDE_ROCKER)
    return pose->body.closure == FW_CLOSES ? INFINITY : -1;
  FwVec3 pin = pose->pins[mech->body_pin].at;
  double h = fw_vec3_dot (pin, fw_crank_h (mech->design->crank.runs));
  if (body->ride == FW_RIDE_RAIL)
    return body->rod_mm - fabs (body->offset_mm - h);
  double distance = hypot (body->pivot_mm.x - h, body->pivot_mm.y - pin.z);
  return fmin (body->on_mm + body->link_mm - distance, distance - fabs (body->on_mm - body->link_mm));
}

double
fw_pose_slack (const FwPose *pose, const FwMechanism *mech, int index)
{
  if (index < 0)
    return body_slack (pose, mech);
  const FwMember *member = &mech->members[index];
  if (pose->members[index].closure == FW_ADRIFT)
    return NAN;
  if (member->rod < 0)
    return INFINITY;
  Loop loop = loop_of (member, &fw_parent_motion (pose, member)->at, pose->links[member->rod].from.at);
  double mean = member->q2 + loop.p2, swing = 2 * sqrt (loop.r2);
  double length = mech->links[member->rod].length_mm;
  return fmin (sqrt (mean + swing) - length, length - sqrt (fmax (mean - swing, 0)));
}

size_t
fw_pose_size (const FwMechanism *mech)
{
  return fw_padded (sizeof (FwPose)) + fw_padded (sizeof (FwPointMotion) * (size_t)mech->n_pins)
         + fw_padded (sizeof (FwMemberPose) * (size_t)mech->n_members)
         + fw_padded (sizeof (FwLinkPose) * (size_t)mech->n_links);
}

FwPose *
fw_pose_place (void *memory, const FwMechanism *mech)
{
  FwPose *pose = memory;
  char *next = (char *)memory + fw_padded (sizeof (FwPose));
  *pose = (FwPose) { .crank = 0 };
  pose->pins = (FwPointMotion *)next;
  next += fw_padded (sizeof (FwPointMotion) * (size_t)mech->n_pins);
  pose->members = (FwMemberPose *)next;
  next += fw_padded (sizeof (FwMemberPose) * (size_t)mech->n_members);
  pose->links = (FwLinkPose *)next;
  return pose;
}

FwPose *
fw_pose_new (const FwMechanism *mech)
{
  void *memory = calloc (1, fw_pose_size (mech));
  return memory == NULL ? NULL : fw_pose_place (memory, mech);
}
