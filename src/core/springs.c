#include "core/springs.h"

#include "core/solve.h"

/* ---- Both sides ---- */

/* Where the member of a panel on one side stands; a part in the middle meets a middle panel only. */
static int
member_on (const FwMechanism *m, int panel, bool left, bool middle)
{
  for (int i = 0; i < m->n_members; i++)
    {
      const FwMember *member = &m->members[i];
      bool in_middle = m->design->panels[panel].side == FW_SIDE_MIDDLE;
      if (member->panel == panel && (in_middle || (!middle && member->left == left)))
        return i;
    }
  return -1;
}

static FwStatus
build_end (const FwMechanism *m, const FwAnchor *anchor, bool left, bool middle, FwCoilEnd *end)
{
  *end = (FwCoilEnd) { .kind = anchor->kind, .at_mm = anchor->at_mm };
  int axis = 0;
  if (anchor->kind == FW_FROM_PANEL)
    {
      end->index = member_on (m, anchor->index, left, middle);
      if (end->index < 0)
        return FW_BAD_REFERENCE;
      if (m->members[end->index].rod < 0)
        return FW_ON_HANGING;
      left = left && !m->members[end->index].left;
      axis = left ? fw_across_axis (m->design, anchor->index) : 0;
    }
  if (left && axis == 0)
    end->at_mm.x = -end->at_mm.x;
  else if (left)
    end->at_mm.y = -end->at_mm.y;
  return FW_OK;
}

static FwStatus
build_coil (FwMechanism *m, int index, bool left, const char **what)
{
  const FwSpringPart *s = &m->design->springs[index];
  FwCoil *coil = &m->coils[m->n_coils++];
  *coil = (FwCoil) { .spring = index, .left = left };
  coil->name = fw_side_name (s->name, s->side == FW_SIDE_BOTH, left);
  if (coil->name == NULL)
    return FW_NO_MEMORY;
  *what = "from";
  FwStatus status = build_end (m, &s->from, left, s->side == FW_SIDE_MIDDLE, &coil->ends[0]);
  if (status != FW_OK)
    return status;
  *what = "to";
  return build_end (m, &s->to, left, s->side == FW_SIDE_MIDDLE, &coil->ends[1]);
}

FwStatus
fw_build_coils (FwMechanism *m, FwFault *fault)
{
  for (int i = 0; i < m->design->n_springs; i++)
    {
      FwSide side = m->design->springs[i].side;
      for (int left = 0; left < 2; left++)
        {
          const char *what = NULL;
          if (left ? side == FW_SIDE_RIGHT || side == FW_SIDE_MIDDLE : side == FW_SIDE_LEFT)
            continue;
          FwStatus status = build_coil (m, i, left == 1, &what);
          if (status == FW_OK)
            continue;
          if (fault != NULL)
            *fault = (FwFault) { 'e', i, what };
          return status;
        }
    }
  return FW_OK;
}

/* ---- In one pose ---- */

static const FwMotion *
motion_of (const FwPose *pose, const FwCoilEnd *end)
{
  return end->kind == FW_FROM_BODY ? &pose->body.motion : &pose->members[end->index].motion;
}

static FwVec3
place_of (const FwPose *pose, const FwCoilEnd *end)
{
  return end->kind == FW_FROM_BASE ? end->at_mm : fw_frame_to_world (&motion_of (pose, end)->at, end->at_mm);
}

FwCoilPose
fw_coil_pose (const FwMechanism *m, const FwPose *pose, int index)
{
  const FwCoil *coil = &m->coils[index];
  const FwSpringPart *s = &m->design->springs[coil->spring];
  FwCoilPose c = { .from = place_of (pose, &coil->ends[0]), .to = place_of (pose, &coil->ends[1]) };
  c.length_mm = fw_vec3_distance (c.from, c.to);
  double stretch = c.length_mm - s->free_mm;
  c.pull_N = s->cord && stretch < 0 ? 0 : s->rate_Npmm * stretch;
  return c;
}

bool
fw_coil_pulls (const FwMechanism *m, FwPose *pose, int coil, int steps, double *least, double *most)
{
  double low = INFINITY, high = -INFINITY;
  for (int i = 0; i < steps; i++)
    {
      fw_pose_solve (pose, m, 2 * FW_PI * i / steps);
      if (!fw_pose_closes (pose, m))
        return false;
      double pull = fw_coil_pose (m, pose, coil).pull_N;
      low = fmin (low, pull);
      high = fmax (high, pull);
    }
  *least = low;
  *most = high;
  return steps > 0;
}

/* What holds the end must give the force on it, g mm/s^2, besides what it gives already. */
static void
ask (FwLoads *l, const FwPose *pose, const FwCoilEnd *end, FwVec3 at, FwVec3 force)
{
  if (end->kind == FW_FROM_BASE)
    return;
  FwReaction *demand = &l->demand[end->kind == FW_FROM_BODY ? 0 : end->index + 1];
  demand->force = fw_vec3_sub (demand->force, force);
  demand->moment
      = fw_vec3_sub (demand->moment, fw_vec3_cross (fw_vec3_sub (at, motion_of (pose, end)->at.origin), force));
}

static FwVec3
speed_of (const FwPose *pose, const FwCoilEnd *end)
{
  return end->kind == FW_FROM_BASE ? fw_vec3 (0, 0, 0) : fw_motion_point (motion_of (pose, end), end->at_mm).velocity;
}

void
fw_load_springs (FwLoads *l, const FwMechanism *m, const FwPose *pose)
{
  for (int i = 0; i < m->n_coils; i++)
    {
      FwCoilPose c = fw_coil_pose (m, pose, i);
      const FwCoilEnd *ends = m->coils[i].ends;
      if (!(c.length_mm > 0) || c.pull_N == 0)
        continue; /* its ends meet: it pulls nowhere in particular */
      FwVec3 along = fw_vec3_scale (fw_vec3_sub (c.to, c.from), 1 / c.length_mm);
      FwVec3 pull = fw_vec3_scale (along, c.pull_N * 1e6);
      ask (l, pose, &ends[0], c.from, pull);
      ask (l, pose, &ends[1], c.to, fw_vec3_scale (pull, -1));
      FwVec3 parting = fw_vec3_sub (speed_of (pose, &ends[1]), speed_of (pose, &ends[0]));
      double rate = m->design->springs[m->coils[i].spring].rate_Npmm;
      l->stored += c.pull_N * c.pull_N / (2 * rate) * 1e-3;
      l->torque_energy += c.pull_N * fw_vec3_dot (parting, along) * 1e-3;
    }
  l->potential += l->stored;
}

/* ---- Counterweights of the crank ---- */

FwPointMotion
fw_crank_weight_at (const FwDesign *d, int index, double crank)
{
  const FwCrankWeight *w = &d->crank.weights[index];
  double angle = crank + fw_radians (w->phase_deg), r = w->radius_mm, s = sin (angle), c = cos (angle);
  FwVec3 h = fw_crank_h (d->crank.runs), axis = fw_crank_axis (d->crank.runs);
  FwVec3 arm = fw_vec3_along (fw_vec3 (0, 0, r * c), r * s, h);
  return (FwPointMotion) { .at = fw_vec3_along (arm, w->station_mm, axis),
                           .velocity = fw_vec3_along (fw_vec3 (0, 0, -r * s), r * c, h),
                           .acceleration = fw_vec3_scale (arm, -1) };
}

void
fw_load_weights (FwLoads *l, const FwMechanism *m, const FwPose *pose, double speed)
{
  for (int i = 0; i < m->design->crank.n_weights; i++)
    {
      FwPointMotion at = fw_crank_weight_at (m->design, i, pose->crank);
      double kg = m->design->crank.weights[i].mass_g * 1e-3;
      FwVec3 lifted = fw_vec3_scale (at.acceleration, speed * speed * 1e-3);
      lifted.z += FW_GRAVITY;
      l->weights[i] = fw_vec3_scale (lifted, kg);
      double torque = fw_vec3_dot (l->weights[i], at.velocity) * 1e-3;
      l->weight_torque += torque;
      l->torque_energy += kg * FW_GRAVITY * at.velocity.z * 1e-3; /* it goes round evenly: only its height counts */
      l->potential += kg * FW_GRAVITY * at.at.z * 1e-3;
      l->kinetic += kg * fw_vec3_dot (at.velocity, at.velocity) * speed * speed * 1e-6 / 2;
    }
}
