#include "core/turn.h"

#include <stdlib.h>

#include "core/solve.h"

#define PER_MEMBER 4 /* angle, rate, rate2, other root */
#define PER_LINK 3   /* push, lean, bend */
#define KEPT_STEPS 72

int
fw_quantity_count (const FwMechanism *mech)
{
  return 3 + PER_MEMBER * mech->n_members + PER_LINK * mech->n_links;
}

FwQuantity
fw_quantity_nth (const FwMechanism *mech, int i)
{
  if (i < 3)
    return (FwQuantity) { FW_Q_BODY_H + (FwQuantityKind)i, 0 };
  i -= 3;
  if (i < PER_MEMBER * mech->n_members)
    return (FwQuantity) { FW_Q_ANGLE + (FwQuantityKind)(i % PER_MEMBER), i / PER_MEMBER };
  i -= PER_MEMBER * mech->n_members;
  return (FwQuantity) { FW_Q_PUSH + (FwQuantityKind)(i % PER_LINK), i / PER_LINK };
}

int
fw_quantity_index (const FwMechanism *mech, FwQuantity q)
{
  if (q.kind <= FW_Q_BODY_TILT)
    return (int)q.kind;
  if (q.kind <= FW_Q_OTHER_ROOT)
    return 3 + PER_MEMBER * q.index + (int)(q.kind - FW_Q_ANGLE);
  return 3 + PER_MEMBER * mech->n_members + PER_LINK * q.index + (int)(q.kind - FW_Q_PUSH);
}

static double
member_value (const FwPose *pose, const FwMechanism *mech, FwQuantity q)
{
  const FwMemberPose *m = &pose->members[q.index];
  if (m->closure != FW_CLOSES)
    return NAN;
  switch (q.kind)
    {
    case FW_Q_ANGLE:
      return fw_pose_angle (pose, mech, q.index);
    case FW_Q_RATE:
      return m->rate;
    case FW_Q_RATE2:
      return m->rate2;
    default:
      return fabs (fw_pose_other_root (pose, mech, q.index));
    }
}

double
fw_quantity_value (const FwPose *pose, const FwMechanism *mech, FwQuantity q)
{
  const FwBodyPose *body = &pose->body;
  switch (q.kind)
    {
    case FW_Q_BODY_H:
      return body->closure == FW_CLOSES ? body->h_mm : NAN;
    case FW_Q_BODY_Z:
      return body->closure == FW_CLOSES ? body->z_mm : NAN;
    case FW_Q_BODY_TILT:
      return body->closure == FW_CLOSES ? body->tilt : NAN;
    case FW_Q_PUSH:
      return fw_pose_push (pose, mech, q.index);
    case FW_Q_LEAN:
      return fw_pose_lean (pose, mech, q.index);
    case FW_Q_BEND:
      return fw_pose_bend (pose, mech, q.index);
    default:
      return member_value (pose, mech, q);
    }
}

static size_t
doubles (int a, int b)
{
  return fw_padded (sizeof (double) * (size_t)a * (size_t)b);
}

static int
stride_of (int steps)
{
  return steps <= KEPT_STEPS ? 1 : steps / KEPT_STEPS;
}

static int
kept_steps (int steps)
{
  int stride = stride_of (steps);
  return (steps + stride - 1) / stride;
}

static int
frame_doubles (const FwMechanism *mech)
{
  return 6 * mech->n_links + 12 * mech->n_members;
}

size_t
fw_turn_size (const FwMechanism *mech, int steps)
{
  return fw_padded (sizeof (FwTurn)) + doubles (fw_quantity_count (mech), steps)
         + doubles (1 + mech->n_members, steps) + doubles (frame_doubles (mech), kept_steps (steps))
         + fw_padded (sizeof (FwReachBox) * (size_t)(mech->n_links + mech->n_members)) + fw_pose_size (mech);
}

FwTurn *
fw_turn_place (void *memory, const FwMechanism *mech, int steps)
{
  FwTurn *turn = memory;
  char *next = (char *)memory + fw_padded (sizeof (FwTurn));
  *turn = (FwTurn) { .steps = steps, .n_quantities = fw_quantity_count (mech), .stride = stride_of (steps) };
  turn->values = (void *)next;
  next += doubles (turn->n_quantities, steps);
  turn->missing = (void *)next;
  next += doubles (1 + mech->n_members, steps);
  turn->frames = (void *)next;
  next += doubles (frame_doubles (mech), kept_steps (steps));
  turn->boxes = (FwReachBox *)next;
  next += fw_padded (sizeof (FwReachBox) * (size_t)(mech->n_links + mech->n_members));
  turn->scratch = fw_pose_place (next, mech);
  return turn;
}

FwTurn *
fw_turn_new (const FwMechanism *mech, int steps)
{
  void *memory = calloc (1, fw_turn_size (mech, steps));
  return memory == NULL ? NULL : fw_turn_place (memory, mech, steps);
}

static double
missing_or_adrift (FwClosure closure, double missing_mm)
{
  return closure == FW_CLOSES ? 0 : closure == FW_SHORT ? missing_mm : NAN;
}

static void
keep_step (FwTurn *turn, const FwMechanism *mech, int step)
{
  const FwPose *pose = turn->scratch;
  size_t steps = (size_t)turn->steps;
  double *out = turn->values + step;
  for (int q = 0; q < 3; q++, out += steps)
    *out = fw_quantity_value (pose, mech, (FwQuantity) { FW_Q_BODY_H + (FwQuantityKind)q, 0 });
  for (int i = 0; i < mech->n_members; i++)
    {
      size_t back = (size_t)PER_MEMBER * steps; /* a twin's rows stand right before its own */
      bool mirror = mech->members[i].mirror_of >= 0;
      for (int q = 0; q < PER_MEMBER; q++, out += steps)
        *out = mirror ? *(out - back)
                      : member_value (pose, mech, (FwQuantity) { FW_Q_ANGLE + (FwQuantityKind)q, i });
    }
  for (int i = 0; i < mech->n_links; i++)
    {
      if (mech->links[i].mirror_of >= 0)
        {
          for (int q = 0; q < PER_LINK; q++, out += steps)
            *out = *(out - (size_t)PER_LINK * steps);
          continue;
        }
      *out = fw_pose_push (pose, mech, i);
      out += steps;
      *out = fw_pose_lean (pose, mech, i);
      out += steps;
      *out = fw_pose_bend (pose, mech, i);
      out += steps;
    }
  turn->missing[step] = missing_or_adrift (pose->body.closure, pose->body.missing_mm);
  for (int i = 0; i < mech->n_members; i++)
    {
      const FwMemberPose *m = &pose->members[i];
      turn->missing[(size_t)(i + 1) * steps + (size_t)step] = missing_or_adrift (m->closure, m->missing_mm);
    }
}

/* A part that is not assembled is nowhere. */
static double *
keep (double *out, const void *from, int n, bool stands)
{
  for (int i = 0; i < n; i++)
    out[i] = stands ? ((const double *)from)[i] : NAN;
  return out + n;
}

static void
keep_frames (FwTurn *turn, const FwMechanism *mech, int step)
{
  const FwPose *pose = turn->scratch;
  double *out = turn->frames + (size_t)(step / turn->stride) * (size_t)frame_doubles (mech);
  for (int i = 0; i < mech->n_links; i++)
    {
      bool stands = pose->members[mech->links[i].member].closure == FW_CLOSES;
      out = keep (out, &pose->links[i].from.at, 3, stands);
      out = keep (out, &pose->links[i].to.at, 3, stands);
    }
  for (int i = 0; i < mech->n_members; i++)
    out = keep (out, &pose->members[i].motion.at, 12, pose->members[i].closure == FW_CLOSES);
}

void
fw_turn_keep (FwTurn *turn, const FwMechanism *mech, int step)
{
  keep_step (turn, mech, step);
  if (step % turn->stride == 0)
    keep_frames (turn, mech, step);
}

void
fw_turn_solve (FwTurn *turn, const FwMechanism *mech)
{
  for (int i = 0; i < turn->steps; i++)
    {
      fw_pose_solve (turn->scratch, mech, 2 * FW_PI * i / turn->steps);
      fw_turn_keep (turn, mech, i);
    }
}

const double *
fw_turn_row (const FwTurn *turn, const FwMechanism *mech, FwQuantity q)
{
  return turn->values + (size_t)fw_quantity_index (mech, q) * (size_t)turn->steps;
}

bool
fw_turn_closes (const FwTurn *turn, const FwMechanism *mech)
{
  size_t n = (size_t)turn->steps * (size_t)(1 + mech->n_members);
  for (size_t i = 0; i < n; i++)
    if (turn->missing[i] != 0)
      return false;
  return true;
}
