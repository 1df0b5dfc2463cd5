#include "core/reach.h"

#include <assert.h>

#include "core/solve.h"

/* ---- Where they are ---- */

int
fw_turn_kept (const FwTurn *turn)
{
  return (turn->steps + turn->stride - 1) / turn->stride;
}

FwInstant
fw_instant_kept (const FwTurn *turn, const FwMechanism *mech, int k)
{
  size_t row = (size_t)(6 * mech->n_links + 12 * mech->n_members);
  return (FwInstant) { .mech = mech, .kept = turn->frames + (size_t)k * row };
}

FwSegment
fw_instant_rod (const FwInstant *now, int link)
{
  assert (now->kept != NULL || now->pose != NULL);
  if (now->kept == NULL)
    return (FwSegment) { now->pose->links[link].from.at, now->pose->links[link].to.at };
  const double *v = now->kept + 6 * link;
  return (FwSegment) { { v[0], v[1], v[2] }, { v[3], v[4], v[5] } };
}

FwFrame
fw_instant_frame (const FwInstant *now, int member)
{
  assert (now->kept != NULL || now->pose != NULL);
  if (now->kept == NULL)
    return now->pose->members[member].motion.at;
  const double *v = now->kept + 6 * now->mech->n_links + 12 * member;
  return (FwFrame) { { v[0], v[1], v[2] }, { v[3], v[4], v[5] }, { v[6], v[7], v[8] }, { v[9], v[10], v[11] } };
}

static void
stretch (FwReachBox *box, FwVec3 p, double r)
{
  box->low = fw_vec3 (fw_lesser (p.x - r, box->low.x), fw_lesser (p.y - r, box->low.y), fw_lesser (p.z - r, box->low.z));
  box->high = fw_vec3 (fw_greater (p.x + r, box->high.x), fw_greater (p.y + r, box->high.y), fw_greater (p.z + r, box->high.z));
}

bool
fw_boxes_apart (const FwReachBox *a, const FwReachBox *b, double gap)
{
  return a->low.x > b->high.x + gap || b->low.x > a->high.x + gap || a->low.y > b->high.y + gap
         || b->low.y > a->high.y + gap || a->low.z > b->high.z + gap || b->low.z > a->high.z + gap;
}

static FwReachBox
box_of_rod (const FwTurn *turn, const FwMechanism *mech, FwReachBox box, int link)
{
  double r = mech->design->rods[mech->links[link].rod].diameter_mm / 2 + 5;
  for (int k = 0; k < fw_turn_kept (turn); k++)
    {
      FwInstant now = fw_instant_kept (turn, mech, k);
      FwSegment s = fw_instant_rod (&now, link);
      stretch (&box, s.a, r);
      stretch (&box, s.b, r);
    }
  return box;
}

static FwReachBox
box_of_panel (const FwTurn *turn, const FwMechanism *mech, FwReachBox box, int member)
{
  const FwPanel *panel = &mech->design->panels[mech->members[member].panel];
  double r = panel->thickness_mm + 5;
  for (int k = 0; k < fw_turn_kept (turn); k++)
    {
      FwInstant now = fw_instant_kept (turn, mech, k);
      FwFrame f = fw_instant_frame (&now, member);
      stretch (&box, f.origin, r);
      stretch (&box, fw_frame_to_world (&f, fw_vec3 (panel->span_mm, 0, 0)), r);
      for (int i = 0; i < panel->n_outline; i++)
        stretch (&box, fw_frame_to_world (&f, fw_vec3 (panel->outline_mm[i].x, panel->outline_mm[i].y, 0)), r);
    }
  return box;
}

void
fw_reach_boxes (const FwTurn *turn, const FwMechanism *mech)
{
  const FwReachBox empty = { { INFINITY, INFINITY, INFINITY }, { -INFINITY, -INFINITY, -INFINITY } };
  for (int i = 0; i < mech->n_links; i++)
    turn->boxes[i] = box_of_rod (turn, mech, empty, i);
  for (int i = 0; i < mech->n_members; i++)
    turn->boxes[mech->n_links + i] = box_of_panel (turn, mech, empty, i);
}

/* ---- What they stand on ---- */

static int
member_of (const FwMechanism *mech, FwPart part)
{
  return part.kind == FW_PART_MEMBER ? part.index : part.kind == FW_PART_LINK ? mech->links[part.index].member : -1;
}

/* A panel that hangs finds its rest with all that hangs with it, from the first of them on. */
static void
need (FwNeeded *out, const FwMechanism *mech, int *members, int member)
{
  while (member >= 0 && mech->members[member].mirror_of < 0 && mech->members[member].hangs_with_parent)
    member = mech->members[member].parent;
  for (int i = 0; i < out->n; i++)
    if (members[i] == member)
      return;
  if (member < 0 || out->all)
    return;
  if (out->n == FW_MOST_NEEDED)
    out->all = true;
  else
    members[out->n++] = member;
}

FwNeeded
fw_needed_by (const FwMechanism *mech, FwPart a, FwPart b)
{
  int members[FW_MOST_NEEDED] = { 0 }, n = 0;
  FwNeeded out = { .n = 0 };
  need (&out, mech, members, member_of (mech, a));
  need (&out, mech, members, member_of (mech, b));
  for (int i = 0; i < out.n && !out.all; i++)
    {
      const FwMember *member = &mech->members[members[i]];
      const FwLink *link = member->rod >= 0 ? &mech->links[member->rod] : NULL;
      need (&out, mech, members, member->parent);
      need (&out, mech, members, member->mirror_of);
      if (link != NULL && link->from == FW_FROM_PANEL)
        need (&out, mech, members, link->index);
    }
  for (int k = 0; k < mech->n_members && !out.all && n < out.n; k++)
    for (int i = 0; i < out.n; i++)
      if (members[i] == mech->order[k])
        out.place[n++] = k;
  return out;
}

/* Rods that drive the member, and those that it holds and that weigh on it. */
static bool
rods_move (const FwMechanism *mech, int member, FwParamOwner who, int index)
{
  for (int i = 0; i < mech->n_links; i++)
    {
      const FwLink *link = &mech->links[i];
      if (link->member != member && !(link->from == FW_FROM_PANEL && link->index == member))
        continue;
      if (who == FW_OWNER_ROD
              ? link->rod == index
              : link->from == FW_FROM_THROW && mech->pins[link->index].throw_index == index)
        return true;
    }
  return false;
}

bool
fw_needed_moves (const FwNeeded *needed, const FwMechanism *mech, FwParam param)
{
  FwParamOwner who = fw_param_owner (param);
  bool of_body = who == FW_OWNER_THROW && mech->body_pin >= 0
                 && mech->pins[mech->body_pin].throw_index == param.index;
  bool of_one = who == FW_OWNER_THROW || who == FW_OWNER_PANEL || who == FW_OWNER_ROD;
  if (who == FW_OWNER_SPRING && !needed->all)
    return false;
  if (needed->all || !of_one || of_body)
    return true;
  for (int i = 0; i < needed->n; i++)
    {
      int first = needed->place[i], past = first + 1;
      if (mech->members[mech->order[first]].mirror_of < 0 && mech->members[mech->order[first]].rod < 0)
        past = first + mech->members[mech->order[first]].hanging_group;
      for (int k = first; k < past; k++)
        if (who == FW_OWNER_PANEL ? mech->members[mech->order[k]].panel == param.index
                                  : rods_move (mech, mech->order[k], who, param.index))
          return true;
    }
  return false;
}

void
fw_needed_solve (const FwNeeded *needed, FwPose *pose, const FwMechanism *mech, double cosine, double sine, bool derivatives)
{
  if (needed->all)
    {
      fw_pose_solve_at (pose, mech, cosine, sine, derivatives);
      return;
    }
  fw_solve_ground (pose, mech, cosine, sine, derivatives);
  for (int i = 0; i < needed->n; i++)
    {
      int member = mech->order[needed->place[i]];
      if (mech->members[member].mirror_of >= 0)
        fw_mirror_member (pose, mech, member, derivatives);
      else if (mech->members[member].rod >= 0)
        fw_solve_driven (pose, mech, member, derivatives);
      else
        fw_solve_hanging (pose, mech, needed->place[i], derivatives);
    }
}
