#include "swing/swing.h"

#include <stdlib.h>
#include <string.h>

#include "core/solve.h"
#include "swing/march.h"

#define STILL_SPEED 1e-6 /* rad/s: a turn takes two months */

FwSwings *
fw_swing_new (const FwMechanism *mech, int steps)
{
  size_t members = (size_t)mech->n_members, row = (size_t)steps, hanging = 0;
  for (size_t i = 0; i < members; i++)
    hanging += mech->members[i].rod < 0;
  size_t rows = hanging * row * (2 * FW_SWING_KEPT + 1);
  FwSwings *s = calloc (1, sizeof *s);
  if (s == NULL)
    return NULL;
  s->mechanism = mech;
  s->steps = steps;
  s->most_turns = 64;
  s->tolerance = 1e-4;
  s->friction_mm = mech->design->drive.friction * mech->design->drive.pin_radius_mm;
  s->restitution = mech->design->drive.restitution;
  s->members = calloc (members + 1, sizeof *s->members);
  s->blows = calloc (FW_SWING_BLOWS, sizeof *s->blows);
  double *next = calloc (rows + 1, sizeof *next);
  if (s->members == NULL || s->blows == NULL || next == NULL)
    {
      free (next);
      fw_swing_free (s);
      return NULL;
    }
  s->rows = next;
  for (size_t i = 0; i < members; i++)
    {
      if (mech->members[i].rod >= 0)
        continue;
      s->members[i].angle = next;
      s->members[i].rate = next + row * FW_SWING_KEPT;
      s->members[i].rest = next + row * FW_SWING_KEPT * 2;
      next += row * (2 * FW_SWING_KEPT + 1);
    }
  return s;
}

void
fw_swing_free (FwSwings *s)
{
  if (s == NULL)
    return;
  free (s->rows);
  free (s->members);
  free (s->blows);
  free (s);
}

/* ---- The rest pose, and what cannot swing ---- */

static void
forget (FwSwings *s)
{
  s->n_blows = 0;
  s->blows_full = false;
  s->looks = 0;
  for (int i = 0; i < s->mechanism->n_members; i++)
    {
      FwSwingMember *m = &s->members[i];
      *m = (FwSwingMember) { .angle = m->angle, .rate = m->rate, .rest = m->rest };
    }
}

/* Rest angles of the turn; for the time being `rate` holds the rest pose's rates. */
static void
find_rest (FwSwings *s, FwPose *pose)
{
  const FwMechanism *mech = s->mechanism;
  for (int step = 0; step < s->steps; step++)
    {
      fw_pose_solve (pose, mech, 2 * FW_PI * step / s->steps);
      for (int i = 0; i < mech->n_members; i++)
        {
          if (mech->members[i].rod >= 0)
            continue;
          bool stands = pose->members[i].closure == FW_CLOSES;
          s->members[i].rest[step] = stands ? fw_pose_angle (pose, mech, i) : NAN;
          s->members[i].rate[step] = stands ? pose->members[i].rate : NAN;
        }
    }
}

/* True if what carries the group can be assembled at every step. What it drives itself is looked at as
 * it swings. */
static bool
carried_all_round (FwSwings *s, FwFree *f, FwMarch *march)
{
  for (int k = 0; k < f->n; k++)
    for (int step = 0; step < s->steps; step++)
      if (isnan (s->members[f->coordinate[k]].rest[step]))
        {
          march->fate = FW_FATE_OPEN;
          march->at = 2 * FW_PI * step / s->steps;
          return false;
        }
  return true;
}

/* ---- One group ---- */

static void
unroll (FwSwings *s, const FwMarch *m)
{
  const FwFree *f = m->free;
  long first = ((long)m->turns - m->period) * s->steps;
  for (int k = 0; k < f->n; k++)
    {
      FwSwingMember *out = &s->members[f->coordinate[k]];
      for (int step = 0; step < m->period * s->steps; step++)
        {
          const double *row = fw_march_row (m, first + step);
          out->angle[step] = row[k];
          out->rate[step] = row[f->n + k] / f->speed;
        }
      double least = INFINITY, greatest = -INFINITY;
      for (int turn = 0; turn <= m->period; turn++)
        {
          double angle = fw_march_row (m, first + (long)turn * s->steps)[k];
          least = fmin (least, angle);
          greatest = fmax (greatest, angle);
        }
      out->spread = m->fate == FW_FATE_UNSETTLED ? greatest - least : 0;
    }
}

static void
add_blows (FwSwings *s, const FwMarch *m, int member)
{
  int first = m->turns - m->period;
  s->blows_full = s->blows_full || m->blows_full;
  for (int i = 0; i < m->n_blows; i++)
    {
      const FwSwingBlow *b = &m->blows[i];
      if (b->member != member || b->turn < first || b->turn >= m->turns)
        continue;
      if (s->n_blows == FW_SWING_BLOWS)
        {
          s->blows_full = true;
          return;
        }
      s->blows[s->n_blows] = *b;
      s->blows[s->n_blows++].turn -= first;
    }
}

static void
sum_up (FwSwings *s, const FwMarch *m, int member)
{
  FwSwingMember *out = &s->members[member];
  const FwMember *panel = &s->mechanism->members[member];
  out->least.value = INFINITY;
  out->greatest.value = -INFINITY;
  for (int step = 0; step < m->period * s->steps; step++)
    {
      double angle = out->angle[step], crank = 2 * FW_PI * (step % s->steps) / s->steps;
      double astray = fabs (angle - fw_wrap_near (out->rest[step % s->steps], angle));
      if (angle < out->least.value)
        out->least = (FwExtreme) { crank, angle };
      if (angle > out->greatest.value)
        out->greatest = (FwExtreme) { crank, angle };
      if (astray > out->astray)
        {
          out->astray = astray;
          out->astray_at = crank;
        }
    }
  int before = s->n_blows;
  add_blows (s, m, member);
  bool quiet = s->n_blows == before && out->least.value == out->greatest.value && panel->has_stops;
  out->on_low = quiet && out->least.value == panel->stop_min;
  out->on_high = quiet && out->least.value == panel->stop_max;
}

static FwSwingStatus
follow (FwSwings *s, FwMarch *m)
{
  FwFree *f = m->free;
  double *q = calloc (2 * (size_t)f->n + 1, sizeof *q);
  if (q == NULL)
    return FW_SWING_NO_MEMORY;
  for (int k = 0; k < f->n; k++)
    {
      int i = f->coordinate[k];
      q[k] = s->start != NULL ? s->start[i] : s->members[i].rest[0];
      q[f->n + k] = s->start_rate != NULL ? s->start_rate[i] : s->members[i].rate[0] * f->speed;
    }
  FwSwingStatus status = fw_march (m, q, q + f->n);
  free (q);
  return status;
}

static void
hand_over (FwSwings *s, const FwMarch *m)
{
  const FwFree *f = m->free;
  for (int k = 0; k < f->n; k++)
    {
      FwSwingMember *out = &s->members[f->coordinate[k]];
      out->fate = m->fate;
      out->period = m->period;
      out->turns = m->turns;
      out->at = m->at;
    }
  if (m->period == 0)
    return;
  unroll (s, m);
  for (int k = 0; k < f->n; k++)
    sum_up (s, m, f->coordinate[k]);
}

/* One group with all the memory it takes. */
static FwSwingStatus
solve_group (FwSwings *s, const int *group, int label, FwStop stop, void *stop_data)
{
  FwSwingStatus status = FW_SWING_NO_MEMORY;
  FwMarch m = { .swing = s, .stop = stop, .stop_data = stop_data };
  m.free = fw_free_new (s->mechanism, group, label, s->speed);
  m.contact = m.free == NULL ? NULL : fw_contact_new (m.free);
  if (m.contact != NULL)
    {
      size_t kept = (size_t)FW_SWING_KEPT * (size_t)s->steps + 1;
      m.contact->friction_mm = s->friction_mm;
      m.contact->restitution = s->restitution;
      m.rows = calloc (kept * 2 * (size_t)m.free->n + 1, sizeof *m.rows);
      m.blows = calloc (FW_SWING_BLOWS, sizeof *m.blows);
    }
  if (m.rows != NULL && m.blows != NULL)
    {
      status = !carried_all_round (s, m.free, &m) ? FW_SWING_OK : follow (s, &m);
      if (status == FW_SWING_OK)
        hand_over (s, &m);
    }
  free (m.rows);
  free (m.blows);
  free (m.contact);
  free (m.free);
  return status;
}

/* ---- Twins ---- */

static int
count (const FwMechanism *mech, const int *group, int label)
{
  int n = 0;
  for (int i = 0; i < mech->n_members; i++)
    n += group[i] == label;
  return n;
}

/* A spring may stand on one side alone. */
static bool
sprung (const FwMechanism *mech, const int *group, int label)
{
  for (int i = 0; i < mech->n_coils; i++)
    for (int end = 0; end < 2; end++)
      {
        const FwCoilEnd *e = &mech->coils[i].ends[end];
        if (e->kind == FW_FROM_PANEL && group[e->index] == label)
          return true;
      }
  return false;
}

/* The group on the right whose exact mirror image this one is, whatever it swings like; -1: none. */
static int
mirrored_group (const FwMechanism *mech, const int *group, int label)
{
  int other = -1;
  for (int i = 0; i < mech->n_members; i++)
    {
      if (group[i] != label)
        continue;
      int twin = mech->members[i].mirror_of;
      if (twin < 0 || group[twin] == label || (other >= 0 && group[twin] != other))
        return -1;
      other = group[twin];
    }
  bool alike = other >= 0 && count (mech, group, other) == count (mech, group, label)
               && !sprung (mech, group, label) && !sprung (mech, group, other);
  return alike ? other : -1;
}

static void
copy_twin (FwSwings *s, int left, int right)
{
  FwSwingMember *to = &s->members[left];
  const FwSwingMember *from = &s->members[right], rows = *to;
  size_t bytes = sizeof (double) * (size_t)(from->period * s->steps);
  *to = *from;
  to->angle = rows.angle;
  to->rate = rows.rate;
  to->rest = rows.rest;
  memcpy (to->angle, from->angle, bytes);
  memcpy (to->rate, from->rate, bytes);
  for (int i = 0, n = s->n_blows; i < n; i++)
    {
      if (s->blows[i].member != right)
        continue;
      s->blows_full = s->blows_full || s->n_blows == FW_SWING_BLOWS;
      if (s->n_blows == FW_SWING_BLOWS)
        return;
      s->blows[s->n_blows] = s->blows[i];
      s->blows[s->n_blows++].member = left;
    }
}

/* ---- All of them ---- */

static int
by_member_and_time (const void *a, const void *b)
{
  const FwSwingBlow *p = a, *q = b;
  if (p->member != q->member)
    return p->member < q->member ? -1 : 1;
  if (p->turn != q->turn)
    return p->turn < q->turn ? -1 : 1;
  return (p->crank > q->crank) - (p->crank < q->crank);
}

/* Twins come after what they mirror: their labels are those of left-hand members. */
static FwSwingStatus
solve_all (FwSwings *s, int *group, FwStop stop, void *stop_data)
{
  const FwMechanism *mech = s->mechanism;
  fw_free_groups (mech, group);
  for (int i = 0; i < mech->n_members; i++)
    {
      bool first = mech->members[i].rod < 0 && group[i] >= 0;
      for (int j = 0; j < i && first; j++)
        first = mech->members[j].rod >= 0 || group[j] != group[i];
      if (!first)
        continue;
      int twin = mirrored_group (mech, group, group[i]);
      if (twin >= 0 && s->start == NULL && s->start_rate == NULL)
        {
          for (int j = 0; j < mech->n_members; j++)
            if (group[j] == group[i] && mech->members[j].rod < 0)
              copy_twin (s, j, mech->members[j].mirror_of);
          continue;
        }
      FwSwingStatus status = solve_group (s, group, group[i], stop, stop_data);
      if (status != FW_SWING_OK)
        return status;
    }
  qsort (s->blows, (size_t)s->n_blows, sizeof *s->blows, by_member_and_time);
  return FW_SWING_OK;
}

/* The crank stands: they hang at rest, wherever it stands. */
static void
stand_still (FwSwings *s)
{
  for (int i = 0; i < s->mechanism->n_members; i++)
    {
      if (s->mechanism->members[i].rod >= 0)
        continue;
      FwMarch m = { .fate = FW_FATE_STILL, .period = 1 };
      FwSwingMember *out = &s->members[i];
      out->fate = FW_FATE_STILL;
      out->period = 1;
      memcpy (out->angle, out->rest, sizeof (double) * (size_t)s->steps);
      sum_up (s, &m, i);
    }
}

FwSwingStatus
fw_swing_solve (FwSwings *s, double speed, FwStop stop, void *stop_data)
{
  FwPose *pose = fw_pose_new (s->mechanism);
  int *group = calloc ((size_t)s->mechanism->n_members + 1, sizeof *group);
  FwSwingStatus status = FW_SWING_NO_MEMORY;
  forget (s);
  s->speed = speed;
  if (pose != NULL && group != NULL)
    {
      find_rest (s, pose);
      status = FW_SWING_OK;
      if (speed < STILL_SPEED)
        stand_still (s);
      else
        status = solve_all (s, group, stop, stop_data);
    }
  free (pose);
  free (group);
  return status;
}

/* ---- Reading it ---- */

double
fw_swing_angle (const FwSwings *s, int member, double crank, double *rate)
{
  const FwSwingMember *m = &s->members[member];
  int n = m->period * s->steps;
  if (n == 0)
    {
      if (rate != NULL)
        *rate = NAN;
      return NAN;
    }
  double width = 2 * FW_PI / s->steps, place = crank / width;
  place -= n * floor (place / n);
  int i = (int)place % n, j = (i + 1) % n;
  double x = place - floor (place);
  double a = m->angle[i], b = m->angle[j], da = m->rate[i] * width, db = m->rate[j] * width;
  if (!s->mechanism->members[member].has_stops && j == 0)
    b = fw_wrap_near (b, a); /* it may have gone right round */
  double bend = 2 * a - 2 * b + da + db, slope = -3 * a + 3 * b - 2 * da - db;
  if (rate != NULL)
    *rate = ((3 * bend * x + 2 * slope) * x + da) / width;
  double angle = ((bend * x + slope) * x + da) * x + a;
  /* Between two rows with a blow the cubic would run on into the stop. */
  const FwMember *panel = &s->mechanism->members[member];
  return panel->has_stops ? fmin (fmax (angle, panel->stop_min), panel->stop_max) : angle;
}

void
fw_swing_pose (const FwSwings *s, FwPose *pose, double crank, double *room)
{
  const FwMechanism *mech = s->mechanism;
  int n = mech->n_members;
  double *angle = room, *rate = room + n, *rate2 = room + 2 * n;
  double within = fw_into_turn (crank);
  memset (room, 0, sizeof (double) * 3 * (size_t)n);
  for (int i = 0; i < n; i++)
    {
      if (mech->members[i].rod >= 0)
        continue;
      angle[i] = fw_swing_angle (s, i, crank, &rate[i]);
      if (!isnan (angle[i]))
        continue;
      double rest = s->members[i].rest[(int)(within / (2 * FW_PI) * s->steps) % s->steps];
      angle[i] = isnan (rest) ? 0 : rest;
      rate[i] = 0;
    }
  pose->crank = within;
  fw_pose_solve_free (pose, mech, cos (within), sin (within),
                      &(FwFreeState) { .angle = angle, .rate = rate, .rate2 = rate2 });
}
