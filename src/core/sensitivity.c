#include "core/sensitivity.h"

#include <stdlib.h>

#include "core/solve.h"

#define DEG (FW_PI / 180)
#define HANG_STEP 1e-3 /* file units: halfway between rounding and curvature */

FwSensitivity *
fw_sensitivity_new (const FwMechanism *mech, const FwParam *params, int n)
{
  size_t numbers = (size_t)n, members = (size_t)mech->n_members, links = (size_t)mech->n_links;
  size_t sizes[] = { sizeof (FwParam) * numbers,           sizeof (FwTwist) * numbers,
                     sizeof (double) * numbers,            sizeof (FwTwist) * numbers * members,
                     sizeof (FwVec3) * numbers * members,  sizeof (double) * numbers * members,
                     sizeof (FwVec3) * numbers * links,    sizeof (FwVec3) * numbers * links,
                     sizeof (double) * numbers * (members + 1) };
  size_t total = fw_padded (sizeof (FwSensitivity));
  for (int i = 0; i < 9; i++)
    total += fw_padded (sizes[i]);
  char *memory = calloc (1, total);
  if (memory == NULL)
    return NULL;
  void *rooms[9];
  char *next = memory + fw_padded (sizeof (FwSensitivity));
  for (int i = 0; i < 9; i++)
    {
      rooms[i] = next;
      next += fw_padded (sizes[i]);
    }
  FwSensitivity *s = (FwSensitivity *)memory;
  *s = (FwSensitivity) { .n = n, .params = rooms[0], .n_members = mech->n_members, .n_links = mech->n_links,
                         .body = rooms[1], .tilt = rooms[2], .members = rooms[3], .axes = rooms[4],
                         .angles = rooms[5], .from = rooms[6], .to = rooms[7], .missing = rooms[8] };
  for (int i = 0; i < n; i++)
    s->params[i] = params[i];
  return s;
}

/* ---- One number ---- */

typedef struct
{
  FwSensitivity *s;
  const FwMechanism *mech;
  const FwPose *pose;
  int k; /* which number */
  FwParam param;
} Seed;

static FwVec3
unit (int component)
{
  return fw_vec3 (component == 0, component == 1, component == 2);
}

static FwVec3
times (FwVec3 a, FwVec3 b)
{
  return fw_vec3 (a.x * b.x, a.y * b.y, a.z * b.z);
}

static bool
is (const Seed *d, FwParamKind kind, int index)
{
  return d->param.kind == kind && d->param.index == index;
}

/* A vector fixed in a part that turns. */
static FwVec3
carried (const FwTwist *part, FwVec3 arm)
{
  return fw_vec3_add (part->move, fw_vec3_cross (part->turn, arm));
}

/* ---- Pins and body ---- */

static FwVec3
pin_moves (const Seed *d, int index)
{
  const FwPin *pin = &d->mech->pins[index];
  FwRuns runs = d->mech->design->crank.runs;
  FwVec3 h = fw_crank_h (runs), at = d->pose->pins[index].at;
  double cosine = cos (d->pose->crank), sine = sin (d->pose->crank);
  if (is (d, FW_PARAM_THROW_STATION, pin->throw_index))
    return fw_vec3_scale (fw_crank_axis (runs), pin->twin ? -1 : 1);
  if (is (d, FW_PARAM_THROW_RADIUS, pin->throw_index))
    return fw_vec3_along (fw_vec3 (0, 0, cosine * pin->cos_phase - sine * pin->sin_phase),
                          sine * pin->cos_phase + cosine * pin->sin_phase, h);
  if (is (d, FW_PARAM_THROW_PHASE, pin->throw_index))
    return fw_vec3_scale (fw_vec3_along (fw_vec3 (0, 0, -fw_vec3_dot (at, h)), at.z, h), DEG);
  return fw_vec3 (0, 0, 0);
}

static FwVec2
in_plane (FwVec3 v, FwVec3 h)
{
  return (FwVec2) { fw_vec3_dot (v, h), v.z };
}

static double
dot2 (FwVec2 a, FwVec2 b)
{
  return a.x * b.x + a.y * b.y;
}

/* 1 for the body's number in hand, or its component; 0 for any other. */
static double
one_if (const Seed *d, FwParamKind kind, int component)
{
  return d->param.kind == kind && d->param.component == component ? 1 : 0;
}

static double
rail_rise (const Seed *d, FwVec2 pin, FwVec2 pin_moves_by)
{
  const FwBody *body = &d->mech->design->body;
  double across = body->offset_mm - pin.x, rise2 = body->rod_mm * body->rod_mm - across * across;
  double across_by = one_if (d, FW_PARAM_BODY_OFFSET, 0) - pin_moves_by.x;
  double rod_by = one_if (d, FW_PARAM_BODY_ROD, 0);
  if (rise2 > 0)
    return (body->rod_mm * rod_by - across * across_by) / sqrt (rise2);
  d->s->missing[d->k] = (across < 0 ? -across_by : across_by) - rod_by;
  return 0;
}

/* How the post's direction n turns: n = (sin, cos) of the tilt, m = dn/dtilt. */
static double
sleeve_tilt (const Seed *d, FwVec2 pin_moves_by, FwVec2 m)
{
  double length = d->pose->body.guide_mm;
  FwVec2 by = { one_if (d, FW_PARAM_BODY_GUIDE, 0) - pin_moves_by.x,
                one_if (d, FW_PARAM_BODY_GUIDE, 1) - pin_moves_by.y };
  return length > 1e-9 ? dot2 (by, m) / length : 0;
}

static double
rocker_tilt (const Seed *d, FwVec2 pin, FwVec2 pin_moves_by, FwVec2 n, FwVec2 m)
{
  const FwBody *body = &d->mech->design->body;
  double on = body->on_mm, on_by = one_if (d, FW_PARAM_BODY_ON, 0);
  FwVec2 pivot_by = { one_if (d, FW_PARAM_BODY_PIVOT, 0), one_if (d, FW_PARAM_BODY_PIVOT, 1) };
  FwVec2 to_pivot = { body->pivot_mm.x - pin.x, body->pivot_mm.y - pin.y };
  FwVec2 by = { pivot_by.x - pin_moves_by.x, pivot_by.y - pin_moves_by.y };
  if (d->pose->body.closure == FW_CLOSES)
    {
      FwVec2 e = { on * n.x - to_pivot.x, on * n.y - to_pivot.y }; /* from the pivot to the held point */
      FwVec2 fixed = { on_by * n.x - by.x, on_by * n.y - by.y };
      double lever = on * dot2 (e, m), link_by = one_if (d, FW_PARAM_BODY_LINK, 0);
      return lever != 0 ? (body->link_mm * link_by - dot2 (e, fixed)) / lever : 0;
    }
  /* The post points at the pivot, or away from it. */
  double distance = sqrt (dot2 (to_pivot, to_pivot)), toward = dot2 (n, to_pivot) < 0 ? -1 : 1;
  if (!(distance > 0))
    return 0;
  double distance_by = dot2 (by, to_pivot) / distance, link = body->link_mm;
  double link_by = one_if (d, FW_PARAM_BODY_LINK, 0);
  d->s->missing[d->k] = distance > on + link   ? distance_by - on_by - link_by
                        : on > distance + link ? on_by - distance_by - link_by
                                               : distance_by + on_by - link_by;
  return toward * dot2 (by, m) / distance;
}

static void
body_moves (const Seed *d)
{
  const FwBody *body = &d->mech->design->body;
  FwRuns runs = d->mech->design->crank.runs;
  FwVec3 axis = runs == FW_RUNS_ACROSS ? fw_vec3 (-1, 0, 0) : fw_vec3 (0, 1, 0); /* of a growing tilt */
  FwTwist *out = &d->s->body[d->k];
  *out = (FwTwist) { { 0, 0, 0 }, { 0, 0, 0 } };
  d->s->missing[d->k] = 0;
  d->s->tilt[d->k] = 0;
  if (body->ride == FW_RIDE_FIXED)
    {
      if (d->param.kind == FW_PARAM_BODY_AT)
        out->move = unit (d->param.component);
      d->s->tilt[d->k] = one_if (d, FW_PARAM_BODY_TILT, 0) * DEG;
      out->turn = fw_vec3_scale (axis, d->s->tilt[d->k]);
      return;
    }
  FwVec3 h = fw_crank_h (runs), moves = pin_moves (d, d->mech->body_pin);
  FwVec2 pin = in_plane (d->pose->pins[d->mech->body_pin].at, h), by = in_plane (moves, h);
  FwVec3 station = fw_vec3_sub (moves, fw_vec3_along (fw_vec3 (0, 0, by.y), by.x, h));
  if (body->ride == FW_RIDE_RAIL)
    {
      double up = by.y + rail_rise (d, pin, by);
      out->move = fw_vec3_along (fw_vec3_add (station, fw_vec3 (0, 0, up)), one_if (d, FW_PARAM_BODY_OFFSET, 0), h);
      return;
    }
  double sine = sin (d->pose->body.tilt), cosine = cos (d->pose->body.tilt);
  FwVec2 n = { sine, cosine }, m = { cosine, -sine };
  double tilt = body->ride == FW_RIDE_SLEEVE ? sleeve_tilt (d, by, m) : rocker_tilt (d, pin, by, n, m);
  double post_by = one_if (d, FW_PARAM_BODY_POST, 0), swing = body->post_mm * tilt;
  d->s->tilt[d->k] = tilt;
  out->turn = fw_vec3_scale (axis, tilt);
  out->move = fw_vec3_add (moves, fw_vec3_along (fw_vec3 (0, 0, post_by * n.y + swing * m.y),
                                                 post_by * n.x + swing * m.x, h));
}

/* ---- Members ---- */

static FwTwist
part_moves (const Seed *d, int member)
{
  return member == FW_ON_BODY ? d->s->body[d->k] : d->s->members[member * d->s->n + d->k];
}

/* The hinge line's own change, in the parent's frame: by sweep or cant. */
static FwVec3
own_axis (const Seed *d, const FwMember *member)
{
  bool sweeps = is (d, FW_PARAM_PANEL_SWEEP, member->panel);
  if (!sweeps && !is (d, FW_PARAM_PANEL_CANT, member->panel))
    return fw_vec3 (0, 0, 0);
  const FwPanel *p = &d->mech->design->panels[member->panel];
  double s = fw_radians (p->sweep_deg), c = fw_radians (p->cant_deg);
  FwVec3 u = fw_vec3_add (member->fixed[0], member->even[0]); /* at angle 0 */
  FwVec3 w = fw_vec3_add (member->fixed[1], member->even[1]);
  double hand = member->flip.x * member->flip.y * member->flip.z;
  FwVec3 v = fw_vec3_scale (fw_vec3_cross (w, u), hand);
  FwVec3 e = sweeps ? fw_vec3 (-cos (s) * cos (c), sin (s) * cos (c), 0)
                    : fw_vec3 (sin (s) * sin (c), cos (s) * sin (c), -cos (c));
  FwVec3 by = fw_vec3_along (fw_vec3_along (fw_vec3_scale (u, e.x), e.y, v), e.z, w);
  return fw_vec3_scale (by, member->handed * DEG);
}

/* Everything about a member but what its own angle does. */
static FwTwist
place_moves (const Seed *d, int index, FwVec3 *axis_by)
{
  const FwMember *member = &d->mech->members[index];
  const FwMemberPose *m = &d->pose->members[index];
  const FwFrame *parent = &fw_parent_motion (d->pose, member)->at;
  FwTwist by = part_moves (d, member->parent);
  FwVec3 own = fw_frame_turn (parent, own_axis (d, member));
  FwTwist out = { .move = carried (&by, fw_frame_turn (parent, member->hinge)) };
  if (is (d, FW_PARAM_PANEL_HINGE, member->panel))
    out.move = fw_vec3_add (out.move, fw_frame_turn (parent, times (member->flip, unit (d->param.component))));
  /* Turning by a about a line that is itself tilted by `own`. */
  FwVec3 tilted = fw_vec3_scale (fw_vec3_cross (m->axis, own), 1 - m->cosine);
  out.turn = fw_vec3_add (by.turn, fw_vec3_along (tilted, m->sine, own));
  *axis_by = fw_vec3_add (fw_vec3_cross (by.turn, m->axis), own);
  return out;
}

static FwVec3
anchor_moves (const Seed *d, const FwLink *link)
{
  if (link->from == FW_FROM_THROW)
    return pin_moves (d, link->index);
  FwVec3 own = is (d, FW_PARAM_ROD_FROM, link->rod) ? times (link->flip, unit (d->param.component)) : fw_vec3 (0, 0, 0);
  if (link->from == FW_FROM_BASE)
    return own;
  int on = link->from == FW_FROM_BODY ? FW_ON_BODY : link->index;
  const FwFrame *frame = on == FW_ON_BODY ? &d->pose->body.motion.at : &d->pose->members[on].motion.at;
  FwTwist by = part_moves (d, on);
  return fw_vec3_add (carried (&by, fw_frame_turn (frame, link->from_mm)), fw_frame_turn (frame, own));
}

/* The angle at which a rod that does not reach comes nearest: L is square to the point's motion. */
static double
nearest_turns (FwVec3 l, FwVec3 l_by, FwVec3 axis, FwVec3 axis_by, FwVec3 r, FwVec3 r_by)
{
  FwVec3 g = fw_vec3_cross (axis, r);
  FwVec3 g_by = fw_vec3_add (fw_vec3_cross (axis_by, r), fw_vec3_cross (axis, r_by));
  double bend = fw_vec3_dot (g, g) + fw_vec3_dot (l, fw_vec3_cross (axis, g));
  double rest = fw_vec3_dot (l_by, g) + fw_vec3_dot (l, g_by);
  return bend != 0 ? -rest / bend : 0;
}

static void
driven_moves (const Seed *d, int index)
{
  const FwMember *member = &d->mech->members[index];
  const FwLink *link = &d->mech->links[member->rod];
  const FwMemberPose *m = &d->pose->members[index];
  const FwLinkPose *rod = &d->pose->links[member->rod];
  int at = index * d->s->n + d->k, at_link = member->rod * d->s->n + d->k;
  FwTwist by = place_moves (d, index, &d->s->axes[at]);
  FwVec3 r = fw_vec3_sub (rod->to.at, m->motion.at.origin), l = fw_vec3_sub (rod->to.at, rod->from.at);
  FwVec3 held = carried (&by, r), from = anchor_moves (d, link);
  if (is (d, FW_PARAM_ROD_AT, link->rod))
    held = fw_vec3_add (held, fw_frame_turn (&m->motion.at, unit (d->param.component)));
  FwVec3 l_by = fw_vec3_sub (held, from), g = fw_vec3_cross (m->axis, r);
  double length_by = is (d, FW_PARAM_ROD_LENGTH, link->rod) ? 1 : 0;
  double lever = fw_vec3_dot (l, g), angle;
  double *missing = &d->s->missing[(index + 1) * d->s->n + d->k];
  *missing = 0;
  if (m->gap_sine > 0)
    angle = lever != 0 ? (link->length_mm * length_by - fw_vec3_dot (l, l_by)) / lever : 0;
  else
    {
      double reach = fw_vec3_length (l);
      angle = nearest_turns (l, l_by, m->axis, d->s->axes[at], r, fw_vec3_sub (held, by.move));
      if (m->closure == FW_SHORT && reach > 0)
        *missing = fw_vec3_dot (l, l_by) / reach - length_by;
    }
  d->s->angles[at] = angle;
  d->s->from[at_link] = from;
  d->s->to[at_link] = fw_vec3_along (held, angle, g);
  by.turn = fw_vec3_along (by.turn, angle, m->axis);
  d->s->members[at] = by;
}

static void
hanging_moves (const Seed *d, int index, double angle)
{
  int at = index * d->s->n + d->k;
  FwTwist by = place_moves (d, index, &d->s->axes[at]);
  by.turn = fw_vec3_along (by.turn, angle, d->pose->members[index].axis);
  d->s->angles[at] = angle;
  d->s->members[at] = by;
  d->s->missing[(index + 1) * d->s->n + d->k] = 0;
}

/* ---- Panels that hang ---- */

/* Angles of all members with the number a little off; NaN where the design refuses it. */
static bool
angles_with (const Seed *d, double step, double *angles)
{
  FwDesign *design = fw_design_copy (d->mech->design);
  FwMechanism *mech = NULL;
  if (design == NULL)
    return false;
  fw_param_set (design, d->param, fw_param_get (design, d->param) + step);
  FwStatus status = fw_mechanism_build (design, &mech, NULL);
  FwPose *pose = status == FW_OK ? fw_pose_new (mech) : NULL;
  for (int i = 0; pose != NULL && i < mech->n_members; i++)
    mech->members[i].root = d->mech->members[i].root;
  if (pose != NULL)
    fw_pose_solve (pose, mech, d->pose->crank);
  for (int i = 0; i < d->s->n_members; i++)
    angles[i] = pose != NULL ? fw_pose_angle (pose, mech, i) : NAN;
  bool had_room = status == FW_OK ? pose != NULL : status != FW_NO_MEMORY;
  free (pose);
  fw_mechanism_free (mech);
  fw_design_free (design);
  return had_room;
}

/* In `slopes` [member]: differences of the exact solution, one-sided at the edge of what is allowed. */
static bool
difference_hanging (const Seed *d, double *slopes)
{
  int n = d->s->n_members;
  double *less = malloc (sizeof (double) * (size_t)n * 2);
  if (less == NULL)
    return false;
  double *more = less + n;
  bool good = angles_with (d, -HANG_STEP, less) && angles_with (d, HANG_STEP, more);
  for (int i = 0; good && i < n; i++)
    {
      double here = fw_pose_angle (d->pose, d->mech, i);
      double a = isnan (less[i]) ? here : less[i], b = isnan (more[i]) ? here : more[i];
      double apart = (isnan (less[i]) ? 0 : HANG_STEP) + (isnan (more[i]) ? 0 : HANG_STEP);
      slopes[i] = apart > 0 ? fw_wrap_near (b - a, 0) / apart : 0;
    }
  free (less);
  return good;
}

bool
fw_sensitivity_solve (FwSensitivity *s, const FwMechanism *mech, const FwPose *pose)
{
  double *slopes = fw_mechanism_hangs (mech) ? calloc ((size_t)mech->n_members, sizeof *slopes) : NULL;
  bool good = slopes != NULL || !fw_mechanism_hangs (mech);
  for (int k = 0; good && k < s->n; k++)
    {
      Seed d = { s, mech, pose, k, s->params[k] };
      body_moves (&d);
      if (slopes != NULL)
        good = difference_hanging (&d, slopes);
      for (int i = 0; good && i < mech->n_members; i++)
        {
          int index = mech->order[i];
          if (mech->members[index].rod >= 0)
            driven_moves (&d, index);
          else
            hanging_moves (&d, index, slopes[index]);
        }
    }
  free (slopes);
  return good;
}

/* ---- Quantities ---- */

/* What push, lean, bend and the other root are made of, and how it changes. */
typedef struct
{
  double length, length_by;
  FwVec3 l, l_by;       /* the rod */
  FwVec3 r, r_by;       /* hinge to held point */
  FwVec3 axis, axis_by; /* hinge line */
} Rod;

static Rod
rod_of (const FwSensitivity *s, const FwMechanism *mech, const FwPose *pose, int link, int k)
{
  int member = mech->links[link].member, at = member * s->n + k, at_link = link * s->n + k;
  const FwLinkPose *p = &pose->links[link];
  const FwMemberPose *m = &pose->members[member];
  FwParam param = s->params[k];
  bool own = param.kind == FW_PARAM_ROD_LENGTH && param.index == mech->links[link].rod;
  return (Rod) { .length = mech->links[link].length_mm, .length_by = own ? 1 : 0,
                 .l = fw_vec3_sub (p->to.at, p->from.at), .l_by = fw_vec3_sub (s->to[at_link], s->from[at_link]),
                 .r = fw_vec3_sub (p->to.at, m->motion.at.origin),
                 .r_by = fw_vec3_sub (s->to[at_link], s->members[at].move),
                 .axis = m->axis, .axis_by = s->axes[at] };
}

/* Of asin of |y|; 0 at its kinks, where both ways are alike. */
static double
of_asin (double y, double y_by)
{
  double cosine2 = 1 - y * y;
  return cosine2 > 1e-18 && fabs (y) > 1e-12 ? (y < 0 ? -y_by : y_by) / sqrt (cosine2) : 0;
}

static double
push_by (const Rod *rod)
{
  FwVec3 g = fw_vec3_cross (rod->axis, rod->r);
  FwVec3 g_by = fw_vec3_add (fw_vec3_cross (rod->axis_by, rod->r), fw_vec3_cross (rod->axis, rod->r_by));
  double size = fw_vec3_length (g);
  if (!(size > 1e-12 * fw_vec3_length (rod->r))) /* held on the hinge line */
    return 0;
  double y = fw_vec3_dot (rod->l, g) / (rod->length * size);
  double y_by = (fw_vec3_dot (rod->l_by, g) + fw_vec3_dot (rod->l, g_by)) / (rod->length * size)
                - y * (rod->length_by / rod->length + fw_vec3_dot (g, g_by) / (size * size));
  return of_asin (y, y_by);
}

/* Out of the plane square to a direction n that changes by n_by. */
static double
out_of_plane_by (const Rod *rod, FwVec3 n, FwVec3 n_by)
{
  double y = fw_vec3_dot (rod->l, n) / rod->length;
  double y_by = (fw_vec3_dot (rod->l_by, n) + fw_vec3_dot (rod->l, n_by)) / rod->length - y * rod->length_by / rod->length;
  return of_asin (y, y_by);
}

/* The part of a vector square to the hinge line, and how it changes. */
static FwVec3
square_part (const Rod *rod, FwVec3 v, FwVec3 v_by, FwVec3 *by)
{
  double along = fw_vec3_dot (v, rod->axis);
  double along_by = fw_vec3_dot (v_by, rod->axis) + fw_vec3_dot (v, rod->axis_by);
  *by = fw_vec3_along (fw_vec3_along (v_by, -along_by, rod->axis), -along, rod->axis_by);
  return fw_vec3_along (v, -along, rod->axis);
}

/* The two roots stand at +-x about the line from hinge to anchor, cos x = C / R with
 * C = q . d and R = |q| |d|, q and d being the held point and the anchor seen along the hinge line. */
static double
other_root_by (const Rod *rod)
{
  FwVec3 q_by, d_by;
  FwVec3 d_all = fw_vec3_sub (rod->r, rod->l), d_all_by = fw_vec3_sub (rod->r_by, rod->l_by);
  FwVec3 q = square_part (rod, rod->r, rod->r_by, &q_by), d = square_part (rod, d_all, d_all_by, &d_by);
  double size = fw_vec3_length (q) * fw_vec3_length (d);
  double cross = fw_vec3_length (fw_vec3_cross (q, d));
  if (!(size > 0) || !(cross > 1e-12 * size))
    return 0;
  double dot = fw_vec3_dot (q, d), dot_by = fw_vec3_dot (q_by, d) + fw_vec3_dot (q, d_by);
  double size_by = size * (fw_vec3_dot (q, q_by) / fw_vec3_dot (q, q) + fw_vec3_dot (d, d_by) / fw_vec3_dot (d, d));
  double half_by = -(dot_by - dot * size_by / size) / cross;
  return dot >= 0 ? 2 * half_by : -2 * half_by; /* the shorter way round */
}

static double
value_by (const FwSensitivity *s, const FwMechanism *mech, const FwPose *pose, FwQuantity q, int k)
{
  const FwVec3 still = { 0, 0, 0 };
  FwRuns runs = mech->design->crank.runs;
  Rod rod;
  switch (q.kind)
    {
    case FW_Q_BODY_H:
      return fw_vec3_dot (s->body[k].move, fw_crank_h (runs));
    case FW_Q_BODY_Z:
      return s->body[k].move.z;
    case FW_Q_BODY_TILT:
      return s->tilt[k];
    case FW_Q_ANGLE:
      return s->angles[q.index * s->n + k];
    case FW_Q_OTHER_ROOT:
      if (mech->members[q.index].rod < 0)
        return 0;
      rod = rod_of (s, mech, pose, mech->members[q.index].rod, k);
      return other_root_by (&rod);
    case FW_Q_PUSH:
      rod = rod_of (s, mech, pose, q.index, k);
      return push_by (&rod);
    case FW_Q_LEAN:
      rod = rod_of (s, mech, pose, q.index, k);
      return out_of_plane_by (&rod, fw_crank_axis (runs), still);
    case FW_Q_BEND:
      rod = rod_of (s, mech, pose, q.index, k);
      return out_of_plane_by (&rod, rod.axis, rod.axis_by);
    default:
      return 0;
    }
}

bool
fw_sensitivity_quantity (const FwSensitivity *s, const FwMechanism *mech, const FwPose *pose, FwQuantity q, double *out)
{
  for (int k = 0; k < s->n; k++)
    out[k] = value_by (s, mech, pose, q, k);
  return q.kind != FW_Q_RATE && q.kind != FW_Q_RATE2;
}
