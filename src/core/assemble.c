/* The roots that the assembled linkage keeps: at crank angle 0 the driven panel nearest its `near`,
 * the body nearest upright. What cannot be assembled at 0 is looked at a degree further on. */
#include <stdlib.h>

#include "core/solve.h"

static void
settle_body (FwMechanism *m, FwPose *pose, double cosine, double sine)
{
  double tilt[2];
  for (int i = 0; i < 2; i++)
    {
      m->body_root = i == 0 ? 1 : -1;
      fw_solve_ground (pose, m, cosine, sine, false);
      tilt[i] = fabs (pose->body.tilt);
    }
  m->body_root = tilt[0] <= tilt[1] ? 1 : -1;
  fw_solve_ground (pose, m, cosine, sine, false);
}

/* How far from `near` the member stands with the given root. */
static double
away_from_near (FwMechanism *m, FwPose *pose, int member, double root)
{
  m->members[member].root = root;
  fw_solve_driven (pose, m, member, false);
  return fabs (fw_pose_angle (pose, m, member) - m->members[member].near);
}

static bool
settle_member (FwMechanism *m, FwPose *pose, int member)
{
  double plus = away_from_near (m, pose, member, 1);
  if (pose->members[member].closure != FW_CLOSES)
    return false;
  double minus = away_from_near (m, pose, member, -1);
  if (plus <= minus)
    away_from_near (m, pose, member, 1);
  return true;
}

/* One look at one crank angle. Returns how many roots are still open. */
static int
settle (FwMechanism *m, FwPose *pose, double crank, bool *settled, bool *body_settled)
{
  double cosine = cos (crank), sine = sin (crank);
  if (*body_settled)
    fw_solve_ground (pose, m, cosine, sine, false);
  else
    settle_body (m, pose, cosine, sine);
  if (pose->body.closure == FW_CLOSES)
    *body_settled = true;
  int open = 0;
  for (int k = 0; k < m->n_members; k++)
    {
      int i = m->order[k], twin = m->members[i].mirror_of;
      if (twin >= 0)
        {
          m->members[i].root = m->members[twin].root;
          settled[i] = settled[twin];
          fw_mirror_member (pose, m, i, false);
          continue;
        }
      if (m->members[i].rod < 0)
        {
          if (!m->members[i].hangs_with_parent)
            fw_solve_hanging (pose, m, k, false);
          continue;
        }
      if (settled[i])
        fw_solve_driven (pose, m, i, false);
      else if (settle_member (m, pose, i))
        settled[i] = true;
      else
        open++;
    }
  return open + (*body_settled ? 0 : 1);
}

FwStatus
fw_assemble (FwMechanism *m)
{
  FwPose *pose = fw_pose_new (m);
  bool *settled = calloc ((size_t)m->n_members + 1, sizeof *settled);
  FwStatus status = pose == NULL || settled == NULL ? FW_NO_MEMORY : FW_OK;
  bool body_settled = m->design->body.ride != FW_RIDE_ROCKER;
  for (int degree = 0; status == FW_OK && degree < 360; degree++)
    if (settle (m, pose, fw_radians (degree), settled, &body_settled) == 0)
      break;
  free (settled);
  free (pose);
  return status;
}
