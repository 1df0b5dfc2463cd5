/* Starts on two positions: the closed form, taken at the crank angles of the ends of swing. With a hinge
 * that stands still and a throw's radius free those angles are known at once; else they are taken from
 * the design as it stands and found again a few times. An error in them tells only in the second order,
 * for an end of swing is where the angle does not change. */
#include <math.h>
#include <string.h>

#include "aim/runs.h"
#include "aim/twoposition.h"

#define RADIANS (G_PI / 180)
#define PASSES 30

typedef struct
{
  int member;
  double top_deg, bottom_deg;
} Swing;

/* The top and bottom that exact wishes ask of a panel. */
static gboolean
wished_swing (const FwProblem *p, int member, Swing *out)
{
  double top = NAN, bottom = NAN, stroke = NAN;
  for (int i = 0; i < p->n_goals; i++)
    {
      const FwGoal *goal = &p->goals[i];
      if (goal->member != member || goal->wish->part == NULL || goal->wish->least != goal->wish->most)
        continue;
      if (goal->wish->kind == FW_WISH_TOP)
        top = goal->wish->least;
      if (goal->wish->kind == FW_WISH_BOTTOM)
        bottom = goal->wish->least;
      if (goal->wish->kind == FW_WISH_STROKE)
        stroke = goal->wish->least;
    }
  if (isnan (top))
    top = bottom + stroke;
  if (isnan (bottom))
    bottom = top - stroke;
  *out = (Swing) { member, top, bottom };
  return !isnan (top) && !isnan (bottom) && top > bottom;
}

static int
free_number (const FwProblem *p, FwParamKind kind, int index, int component)
{
  FwParam param = { kind, index, component };
  for (int i = 0; i < p->n; i++)
    if (fw_param_equal (p->params[i], param))
      return i;
  return -1;
}

/* Which free numbers can be the second one, beside the rod's length. */
static int
second_numbers (const FwJudge *j, int member, int list[10])
{
  const FwProblem *p = j->problem;
  const FwMember *m = &j->mech->members[member];
  const FwLink *link = &j->mech->links[m->rod];
  int n = 0, found;
  if (link->from == FW_FROM_THROW
      && (found = free_number (p, FW_PARAM_THROW_RADIUS, j->mech->pins[link->index].throw_index, 0)) >= 0)
    list[n++] = found;
  for (int c = 0; c < 3; c++)
    {
      if ((found = free_number (p, FW_PARAM_ROD_AT, link->rod, c)) >= 0)
        list[n++] = found;
      if ((found = free_number (p, FW_PARAM_ROD_FROM, link->rod, c)) >= 0 && link->from != FW_FROM_PANEL)
        list[n++] = found;
      if ((found = free_number (p, FW_PARAM_PANEL_HINGE, m->panel, c)) >= 0)
        list[n++] = found;
    }
  return n;
}

static FwVec3
unit (int c)
{
  return fw_vec3 (c == 0, c == 1, c == 2);
}

static FwVec3
times (FwVec3 a, FwVec3 b)
{
  return fw_vec3 (a.x * b.x, a.y * b.y, a.z * b.z);
}

/* From the anchor to the held point with the panel at `angle`, at a crank angle, as the number moves it. */
static FwReachLine
reach (FwJudge *j, int member, double angle, double crank, FwParam number, double value)
{
  const FwMember *m = &j->mech->members[member];
  const FwLink *link = &j->mech->links[m->rod];
  fw_pose_solve (j->pose, j->mech, crank);
  const FwFrame *parent = m->parent == FW_ON_BODY ? &j->pose->body.motion.at : &j->pose->members[m->parent].motion.at;
  double c = cos (angle), s = sin (angle);
  FwVec3 local = fw_vec3_along (fw_vec3_along (m->centre, c, m->q_perp), s, m->q_odd);
  FwVec3 rod = fw_vec3_sub (fw_frame_to_world (parent, local), j->pose->links[m->rod].from.at), grows = { 0, 0, 0 };
  if (number.kind == FW_PARAM_THROW_RADIUS)
    {
      const FwPin *pin = &j->mech->pins[link->index];
      FwRuns runs = j->mech->design->crank.runs;
      double sine = sin (crank) * pin->cos_phase + cos (crank) * pin->sin_phase;
      double cosine = cos (crank) * pin->cos_phase - sin (crank) * pin->sin_phase;
      grows = fw_vec3_scale (fw_vec3_along (fw_vec3 (0, 0, cosine), sine, fw_crank_h (runs)), -1);
    }
  else if (number.kind == FW_PARAM_PANEL_HINGE)
    grows = fw_frame_turn (parent, times (m->flip, unit (number.component)));
  else if (number.kind == FW_PARAM_ROD_FROM)
    {
      grows = fw_vec3_scale (times (link->flip, unit (number.component)), -1);
      if (link->from == FW_FROM_BODY)
        grows = fw_frame_turn (&j->pose->body.motion.at, grows);
    }
  else
    {
      FwVec3 u = fw_vec3_along (fw_vec3_along (m->fixed[0], c, m->even[0]), s, m->odd[0]);
      FwVec3 w = fw_vec3_along (fw_vec3_along (m->fixed[1], c, m->even[1]), s, m->odd[1]);
      double hand = m->flip.x * m->flip.y * m->flip.z;
      FwVec3 axes[3] = { u, fw_vec3_scale (fw_vec3_cross (w, u), hand), w };
      grows = fw_frame_turn (parent, axes[number.component]);
    }
  return (FwReachLine) { fw_vec3_along (rod, -value, grows), grows };
}

/* Crank angles of top and bottom: of the panel as it moves now; at a dead position of the rod where
 * it starts from a throw and the hinge stands still. */
static void
ends_of_swing (FwJudge *j, int member, double *top, double *bottom)
{
  const double *row = j->angles + member * FW_AIM_STEPS;
  int high = 0, low = 0;
  for (int i = 1; i < FW_AIM_STEPS; i++)
    {
      high = row[i] > row[high] ? i : high;
      low = row[i] < row[low] ? i : low;
    }
  double step = 2 * G_PI / FW_AIM_STEPS;
  int ends[2] = { high, low };
  // cppcheck-suppress ctuuninitvar ; both are written through it
  double *out[2] = { top, bottom };
  for (int e = 0; e < 2; e++)
    {
      double before = row[(ends[e] + FW_AIM_STEPS - 1) % FW_AIM_STEPS], here = row[ends[e]],
             after = row[(ends[e] + 1) % FW_AIM_STEPS], bend = before - 2 * here + after;
      double shift = bend != 0 ? CLAMP ((before - after) / (2 * bend), -1, 1) : 0;
      *out[e] = (ends[e] + shift) * step;
    }
}

static gboolean
put_on_swing (FwJudge *j, const Swing *swing, int second, int length, double *x)
{
  const FwProblem *p = j->problem;
  gboolean found = FALSE;
  for (int pass = 0; pass < PASSES; pass++)
    {
      if (!fw_judge_rows (j, x, j->spare, NULL))
        return FALSE;
      double top, bottom, value, rod;
      ends_of_swing (j, swing->member, &top, &bottom);
      FwParam number = p->params[second];
      FwReachLine one = reach (j, swing->member, swing->top_deg * RADIANS, top, number, x[second]);
      FwReachLine other = reach (j, swing->member, swing->bottom_deg * RADIANS, bottom, number, x[second]);
      if (!fw_two_positions (&one, &other, &value, &rod))
        return found;
      double old = x[second], old_length = x[length];
      x[second] = CLAMP (value, p->lower[second], p->upper[second]);
      x[length] = CLAMP (rod, p->lower[length], p->upper[length]);
      found = TRUE;
      if (fabs (x[second] - old) + fabs (x[length] - old_length) < 1e-7)
        break;
    }
  return found;
}

gboolean
fw_start_on_two_positions (FwJudge *j, int choice, double *x)
{
  const FwProblem *p = j->problem;
  gboolean any = FALSE;
  if (!fw_judge_rows (j, x, j->spare, NULL))
    return FALSE;
  for (int k = 0; k < j->mech->n_members; k++)
    {
      int member = j->mech->order[k], seconds[10];
      Swing swing;
      if (j->mech->members[member].rod < 0 || !wished_swing (p, member, &swing))
        continue;
      int rod = j->mech->links[j->mech->members[member].rod].rod;
      int length = free_number (p, FW_PARAM_ROD_LENGTH, rod, 0), n = second_numbers (j, member, seconds);
      int near = free_number (p, FW_PARAM_ROD_NEAR, rod, 0);
      if (near >= 0)
        x[near] = CLAMP ((swing.top_deg + swing.bottom_deg) / 2, p->lower[near], p->upper[near]);
      if (length >= 0 && n > 0)
        any = put_on_swing (j, &swing, seconds[choice % n], length, x) || any;
    }
  return any;
}
