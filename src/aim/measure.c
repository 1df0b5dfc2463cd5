/* One turn, measured for the wishes: sampled, then exact where an extreme lies. */
#include <math.h>

#include "aim/problem.h"
#include "core/loadtrouble.h"
#include "strength/strengthtrouble.h"

#define STEP (2 * G_PI / FW_AIM_STEPS)
#define DEGREES (180 / G_PI)
#define SPOT 0.1 /* what a spot of trouble counts beside its excess, so that none is left just inside */

/* ---- Sampling ---- */

static double *
row_of_angle (const FwJudge *j, int member)
{
  return j->angles + member * FW_AIM_STEPS;
}

static double *
row_of_other (const FwJudge *j, FwQuantity q)
{
  int row = q.kind == FW_Q_BODY_Z ? 0 : q.kind == FW_Q_BODY_TILT ? 1 : 2 + q.index;
  return j->others + row * FW_AIM_STEPS;
}

static void
note_missing (FwJudge *j, int row, FwClosure closure, double missing_mm, double crank)
{
  if (closure != FW_SHORT || fabs (missing_mm) <= fabs (j->missing[row]))
    return;
  j->missing[row] = missing_mm != 0 ? missing_mm : 1e-12;
  j->missing_at[row] = crank;
}

static void
keep_sample (FwJudge *j, int step)
{
  const FwMechanism *mech = j->mech;
  double crank = step * STEP;
  j->others[step] = j->pose->body.z_mm;
  j->others[FW_AIM_STEPS + step] = j->pose->body.tilt;
  note_missing (j, 0, j->pose->body.closure, j->pose->body.missing_mm, crank);
  for (int i = 0; i < mech->n_members; i++)
    {
      j->angles[i * FW_AIM_STEPS + step] = fw_pose_angle (j->pose, mech, i);
      note_missing (j, i + 1, j->pose->members[i].closure, j->pose->members[i].missing_mm, crank);
    }
  for (int i = 0; i < mech->n_links; i++)
    j->others[(2 + i) * FW_AIM_STEPS + step] = j->pose->members[mech->links[i].member].squareness;
}

/* ---- Extremes ---- */

/* In the terms of `got`: mm, degrees. */
static double
value_now (const FwJudge *j, FwQuantity q)
{
  switch (q.kind)
    {
    case FW_Q_BODY_Z:
      return j->pose->body.z_mm;
    case FW_Q_BODY_TILT:
      return j->pose->body.tilt * DEGREES;
    case FW_Q_ANGLE:
      return fw_pose_angle (j->pose, j->mech, q.index) * DEGREES;
    default:
      return asin (fmin (1, j->pose->members[j->mech->links[q.index].member].squareness)) * DEGREES;
    }
}

static double
value_at (FwJudge *j, FwQuantity q, double crank)
{
  fw_pose_solve (j->pose, j->mech, crank);
  return value_now (j, q);
}

/* Top of the parabola through three points a step apart, in steps from the middle one. */
static double
vertex (double before, double here, double after)
{
  double bend = before - 2 * here + after;
  return bend != 0 ? CLAMP ((before - after) / (2 * bend), -1, 1) : 0;
}

/* Newton's method on the rate, which is known exactly; where the panel is not assembled, or it leads
 * away, the sampled extreme stands. */
static double
refine_angle (FwJudge *j, int member, double crank)
{
  double at = crank;
  for (int i = 0; i < 4; i++)
    {
      fw_pose_solve (j->pose, j->mech, at);
      const FwMemberPose *m = &j->pose->members[member];
      if (m->closure != FW_CLOSES || m->rate2 == 0)
        return crank;
      double step = -m->rate / m->rate2;
      at += step;
      if (fabs (at - crank) > 1.5 * STEP)
        return crank;
      if (fabs (step) < 1e-9)
        break;
    }
  return at;
}

/* Two parabolas, the second a sixteenth as wide. */
static double
refine_other (FwJudge *j, FwQuantity q, double crank, double first)
{
  double at = crank + first * STEP, width = STEP / 16;
  double before = value_at (j, q, at - width), here = value_at (j, q, at), after = value_at (j, q, at + width);
  return at + vertex (before, here, after) * width;
}

static FwTerm
extreme (FwJudge *j, FwQuantity q, double sense, double sign)
{
  const double *row = q.kind == FW_Q_ANGLE ? row_of_angle (j, q.index) : row_of_other (j, q);
  int best = 0;
  for (int i = 1; i < FW_AIM_STEPS; i++)
    if (sense * row[i] > sense * row[best])
      best = i;
  double before = row[(best + FW_AIM_STEPS - 1) % FW_AIM_STEPS], after = row[(best + 1) % FW_AIM_STEPS];
  double first = vertex (before, row[best], after);
  double crank = best * STEP;
  FwTerm term = { q, sign, q.kind == FW_Q_ANGLE ? refine_angle (j, q.index, crank + first * STEP)
                                                : refine_other (j, q, crank, first), 0 };
  term.value = value_at (j, q, term.crank);
  if (sense * (term.value - value_at (j, q, crank)) < 0) /* a corner, or an edge of what can be assembled */
    term.crank = crank;
  term.value = value_at (j, q, term.crank);
  return term;
}

static FwReading
range (FwJudge *j, FwQuantity q)
{
  return (FwReading) { .terms = { extreme (j, q, 1, 1), extreme (j, q, -1, -1) }, .n = 2 };
}

static FwReading
weakest_push (FwJudge *j, int link)
{
  if (link >= 0)
    return (FwReading) { .terms = { extreme (j, (FwQuantity) { FW_Q_PUSH, link }, -1, 1) }, .n = 1 };
  FwReading worst = { .n = 0 };
  for (int i = 0; i < j->mech->n_links; i++)
    {
      if (j->mech->links[i].mirror_of >= 0)
        continue;
      FwTerm term = extreme (j, (FwQuantity) { FW_Q_PUSH, i }, -1, 1);
      if (worst.n == 0 || term.value < worst.terms[0].value)
        worst = (FwReading) { .terms = { term }, .n = 1 };
    }
  return worst;
}

static FwReading
read_goal (FwJudge *j, const FwGoal *goal)
{
  FwQuantity angle = { FW_Q_ANGLE, goal->member };
  double crank = goal->wish->crank_deg / DEGREES;
  switch (goal->wish->kind)
    {
    case FW_WISH_TOP:
      return (FwReading) { .terms = { extreme (j, angle, 1, 1) }, .n = 1 };
    case FW_WISH_BOTTOM:
      return (FwReading) { .terms = { extreme (j, angle, -1, 1) }, .n = 1 };
    case FW_WISH_STROKE:
      return range (j, angle);
    case FW_WISH_ANGLE:
      return (FwReading) { .terms = { { angle, 1, crank, value_at (j, angle, crank) } }, .n = 1 };
    case FW_WISH_AFTER:
      return (FwReading) { .terms = { extreme (j, angle, 1, 1), extreme (j, (FwQuantity) { FW_Q_ANGLE, goal->other }, 1, -1) },
                           .n = 2 };
    case FW_WISH_TRAVEL:
      return range (j, (FwQuantity) { FW_Q_BODY_Z, 0 });
    case FW_WISH_TILT:
      return range (j, (FwQuantity) { FW_Q_BODY_TILT, 0 });
    case FW_WISH_PUSH:
      return weakest_push (j, goal->link);
    default:
      return (FwReading) { .n = 0 };
    }
}

void
fw_judge_measure (FwJudge *j)
{
  for (int i = 0; i <= j->mech->n_members; i++)
    j->missing[i] = j->missing_at[i] = 0;
  for (int step = 0; step < FW_AIM_STEPS; step++)
    {
      fw_pose_solve_at (j->pose, j->mech, j->cosine[step], j->sine[step], false);
      keep_sample (j, step);
    }
  for (int i = 0; i < j->problem->n_goals; i++)
    j->readings[i] = read_goal (j, &j->problem->goals[i]);
}

/* ---- Forces and trouble ---- */

static double
torque_at (FwJudge *j, double crank)
{
  fw_pose_solve (j->pose, j->mech, crank);
  fw_loads_solve (j->loads, j->mech, j->pose, fw_crank_speed (j->design));
  return j->loads->torque;
}

double
fw_judge_torque (FwJudge *j)
{
  double most = 0;
  j->torque_at = 0;
  j->torque_sign = 1;
  for (int i = 0; i < FW_AIM_STEPS; i++)
    {
      double torque = torque_at (j, i * STEP);
      if (!(fabs (torque) > most))
        continue;
      most = fabs (torque);
      j->torque_at = i * STEP;
      j->torque_sign = torque < 0 ? -1 : 1;
    }
  double at = j->torque_at, sign = j->torque_sign, here = most;
  for (double width = STEP; width > STEP / 64; width /= 8)
    {
      double before = sign * torque_at (j, at - width), after = sign * torque_at (j, at + width);
      double next = at + vertex (before, here, after) * width, there = sign * torque_at (j, next);
      if (!(there >= here))
        break;
      at = next;
      here = there;
    }
  j->torque_at = at;
  return here;
}

double
fw_judge_trouble (FwJudge *j, guint kinds, int *spots)
{
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  j->turn->rough = true;
  fw_turn_solve (j->turn, j->mech);
  fw_trouble_find (j->turn, j->mech, &list);
  if (kinds >> FW_LOAD_REVERSAL != 0)
    {
      fw_load_turn_solve (j->forces, j->mech, fw_crank_speed (j->design));
      fw_strength_trouble_find (j->forces, j->mech, &list);
      fw_load_trouble_find (j->forces, j->mech, &list);
    }
  double sum = 0;
  *spots = 0;
  for (int i = 0; i < list.n; i++)
    {
      // cppcheck-suppress uninitvar ; the list writes to it
      if ((kinds & (1u << room[i].kind)) == 0)
        continue;
      double excess = fabs (room[i].value - room[i].limit);
      if (room[i].unit != FW_UNIT_MM && room[i].unit != FW_UNIT_DEG)
        excess *= 10 / fmax (fabs (room[i].limit), 1e-3); /* a tenth over counts as a degree */
      sum += SPOT + fmin (excess, 1000);
      (*spots)++;
    }
  return sum;
}
