/* Left-hand parts that move as the exact mirror image, in the plane x = 0, of their right-hand twins.
 *
 * With the crank across and the body in the middle, everything that both sides have alike is mirrored:
 * such a twin is not solved but copied. With the crank along the two sides share their pins and differ
 * in time, so nothing is. A middle part carries mirror images only if it moves in the plane itself. */
#include "core/solve.h"

static bool
body_in_plane (const FwMechanism *m)
{
  const FwBody *body = &m->design->body;
  if (m->design->crank.runs != FW_RUNS_ACROSS)
    return false;
  return body->ride == FW_RIDE_FIXED ? body->at_mm.x == 0 : m->pins[m->body_pin].station_mm == 0;
}

/* A middle panel that reaches forward or back, square to the plane's normal, down to the body. */
static bool
panel_in_plane (const FwDesign *d, int panel)
{
  for (; panel != FW_ON_BODY; panel = d->panels[panel].on)
    {
      const FwPanel *p = &d->panels[panel];
      bool on_body = p->on == FW_ON_BODY;
      double aside = on_body ? p->hinge_mm.x : p->hinge_mm.y;
      bool square = p->sweep_deg == 0 && p->cant_deg == 0 && aside == 0;
      if (p->side != FW_SIDE_MIDDLE || !square || (on_body && p->reach == FW_REACH_SIDE))
        return false;
    }
  return true;
}

/* Whether a left-hand part that hangs on, or is anchored to, `left` mirrors one that does so with
 * `right`. */
static bool
mirrored_carrier (const FwMechanism *m, int left, int right)
{
  if (left < 0 || right < 0)
    return left == right;
  if (left == right)
    return panel_in_plane (m->design, m->members[left].panel);
  return m->members[left].mirror_of == right;
}

static bool
mirrored_links (const FwMechanism *m, int left, int right)
{
  if (left < 0 || right < 0)
    return left == right;
  const FwLink *l = &m->links[left], *r = &m->links[right];
  if (l->rod != r->rod)
    return false;
  if (l->from == FW_FROM_THROW)
    return m->pins[l->index].station_mm == -m->pins[r->index].station_mm
           && m->pins[l->index].throw_index == m->pins[r->index].throw_index;
  return l->from != FW_FROM_PANEL || mirrored_carrier (m, l->index, r->index);
}

static bool
same_weight (const FwMember *a, const FwMember *b)
{
  return a->mass_g == b->mass_g && a->moment_gmm.x == b->moment_gmm.x && a->moment_gmm.y == b->moment_gmm.y
         && a->moment_gmm.z == b->moment_gmm.z;
}

/* A hanging member is the mirror image of its twin only if all that hangs with it is, and weighs the
 * same. `k`: its place in the order, where its group begins. */
static bool
hang_alike (const FwMechanism *m, int k)
{
  const FwMember *root = &m->members[m->order[k]];
  if (root->hanging_group != m->members[m->order[k] - 1].hanging_group)
    return false;
  for (int i = k; i < k + root->hanging_group; i++)
    {
      const FwMember *left = &m->members[m->order[i]], *right = left - 1;
      if (!left->left || m->order[i] == 0 || right->panel != left->panel || !same_weight (left, right))
        return false;
    }
  return true;
}

/* In solve order, so that what carries a member has been looked at before it. */
void
fw_find_mirrors (FwMechanism *m)
{
  for (int i = 0; i < m->n_members; i++)
    m->members[i].mirror_of = m->members[i].image = -1;
  for (int i = 0; i < m->n_links; i++)
    m->links[i].mirror_of = m->links[i].image = -1;
  if (!body_in_plane (m))
    return;
  for (int k = 0; k < m->n_members; k++)
    {
      int left = m->order[k], right = left - 1; /* twins follow each other */
      FwMember *member = &m->members[left];
      if (!member->left || right < 0 || m->members[right].panel != member->panel)
        continue;
      FwMember *twin = &m->members[right];
      if (!mirrored_carrier (m, member->parent, twin->parent) || !mirrored_links (m, member->rod, twin->rod))
        continue;
      if (member->hanging_group > 0 && !hang_alike (m, k))
        continue;
      member->mirror_of = right;
      twin->image = left;
      if (member->rod < 0)
        continue;
      m->links[member->rod].mirror_of = twin->rod;
      m->links[twin->rod].image = member->rod;
    }
}

static FwVec3
across (FwVec3 v)
{
  return fw_vec3 (-v.x, v.y, v.z);
}

/* Of a turning: what it turns about keeps its part across and reverses the rest. */
static FwVec3
turned (FwVec3 v)
{
  return fw_vec3 (v.x, -v.y, -v.z);
}

static void
mirror_point (FwPointMotion *to, const FwPointMotion *from, bool derivatives)
{
  to->at = across (from->at);
  if (!derivatives)
    return;
  to->velocity = across (from->velocity);
  to->acceleration = across (from->acceleration);
}

static void
mirror_motion (FwMotion *to, const FwMotion *from, bool derivatives)
{
  to->at.origin = across (from->at.origin);
  to->at.u = across (from->at.u);
  to->at.v = across (from->at.v);
  to->at.w = across (from->at.w);
  if (!derivatives)
    return;
  to->velocity = across (from->velocity);
  to->acceleration = across (from->acceleration);
  to->spin = turned (from->spin);
  to->spin_rate = turned (from->spin_rate);
}

void
fw_mirror_member (FwPose *pose, const FwMechanism *mech, int left, bool derivatives)
{
  const FwMember *member = &mech->members[left];
  const FwMemberPose *from = &pose->members[member->mirror_of];
  FwMemberPose *to = &pose->members[left];
  to->cosine = from->cosine;
  to->sine = from->sine;
  to->squareness = from->squareness;
  to->gap_cosine = from->gap_cosine;
  to->gap_sine = from->gap_sine;
  to->missing_mm = from->missing_mm;
  to->closure = from->closure;
  to->on_stop = from->on_stop;
  to->rate = from->rate;
  to->rate2 = from->rate2;
  to->axis = turned (from->axis);
  mirror_motion (&to->motion, &from->motion, derivatives || from->closure != FW_CLOSES);
  if (member->rod < 0)
    return;
  const FwLinkPose *rod = &pose->links[mech->links[member->rod].mirror_of];
  mirror_point (&pose->links[member->rod].from, &rod->from, derivatives || from->closure != FW_CLOSES);
  mirror_point (&pose->links[member->rod].to, &rod->to, derivatives || from->closure != FW_CLOSES);
}
