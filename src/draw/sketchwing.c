/* Drawings of a wing and its rod as the core solves them: angle, push, the other root, what is missing. */
#include <glib/gi18n.h>
#include <stdlib.h>

#include "core/pose.h"
#include "draw/sketches.h"

#define P(x, y) fw_vec2 (x, y)

const FwSketchWing fw_sketch_wing = { .throw_px = 18, .rod_px = 72, .hold_px = 52, .span_px = 164, .axis = { 92, 124 }, .hinge = { 40, 56 } };

/* ---- By the core ---- */

/* The left wing as the front view shows it: outward is to the right on the page. */
void
fw_sketch_wing_solve (const FwSketchWing *wing, FwSketchPose *out)
{
  FwThrow one = { .name = (char *)"throw", .radius_mm = wing->throw_px, .width_mm = 20 };
  FwPanel panel = { .name = (char *)"wing", .side = FW_SIDE_LEFT, .on = FW_ON_BODY, .reach = FW_REACH_SIDE, .span_mm = wing->span_px,
                    .hinge_mm = { wing->hinge.x - wing->axis.x, 0, wing->axis.y - wing->hinge.y }, .material = (char *)"card", .thickness_mm = 2 };
  FwRod rod = { .name = (char *)"rod", .side = FW_SIDE_LEFT, .from = { .kind = FW_FROM_THROW }, .at_mm = { wing->hold_px, 0, 0 }, .length_mm = wing->rod_px,
                .near_deg = wing->near_deg, .diameter_mm = 3, .material = (char *)"brass", .lean_limit_deg = 25, .bend_limit_deg = 45 };
  FwDesign design = { .crank = { .runs = FW_RUNS_ALONG, .turns_per_minute = 30, .diameter_mm = 8, .material = (char *)"copper", .throws = &one, .n_throws = 1 },
                      .body = { .ride = FW_RIDE_FIXED, .diameter_mm = 8, .material = (char *)"copper" },
                      .panels = &panel, .n_panels = 1, .rods = &rod, .n_rods = 1, .base = { .plate_mm = { 400, 300, 12 }, .top_mm = -500 } };
  FwMechanism *mechanism = NULL;
  FwPose *pose = NULL;

  *out = (FwSketchPose){ .pin = wing->axis, .hold = wing->hinge, .tip = wing->hinge };
  if (fw_mechanism_build (&design, &mechanism, NULL) == FW_OK)
    pose = fw_pose_new (mechanism);
  if (pose != NULL)
    {
      double a = -wing->crank_deg * G_PI / 180; /* seen from ahead the crank turns the other way */
      fw_pose_solve (pose, mechanism, a);
      double angle = fw_pose_angle (pose, mechanism, 0) * 180 / G_PI, other = fw_pose_other_root (pose, mechanism, 0) * 180 / G_PI;
      FwVec3 pin = pose->links[0].from.at;
      out->pin = P (wing->axis.x - pin.x, wing->axis.y - pin.z);
      out->angle_deg = angle;
      out->push_deg = fw_pose_push (pose, mechanism, 0) * 180 / G_PI;
      out->rate = -pose->members[0].rate;
      out->rate2 = pose->members[0].rate2;
      out->missing_px = pose->members[0].missing_mm;
      out->hold = fw_sketch_at (wing->hinge, wing->hold_px, 90 - angle);
      out->tip = fw_sketch_at (wing->hinge, wing->span_px, 90 - angle);
      out->other_hold = fw_sketch_at (wing->hinge, wing->hold_px, 90 - angle - other);
      out->other_tip = fw_sketch_at (wing->hinge, wing->span_px, 90 - angle - other);
    }
  free (pose);
  fw_mechanism_free (mechanism);
}

/* ---- Pieces ---- */

static void
wing_crank (FwSketch *s, const FwSketchWing *wing, const FwSketchPose *pose)
{
  fw_sketch_dash (s, TRUE);
  fw_sketch_arc (s, FW_SKETCH_FAINT, wing->axis, wing->throw_px, 0, 360, 0);
  fw_sketch_dash (s, FALSE);
  fw_sketch_tube (s, "copper", 7, (const FwVec2[]){ wing->axis, pose->pin }, 2);
  fw_sketch_disc (s, "copper", wing->axis, 5);
}

static void
wing_panel (FwSketch *s, const FwSketchWing *wing, FwVec2 tip)
{
  double length = fw_vec2_distance (wing->hinge, tip), x = (tip.x - wing->hinge.x) / length, y = (tip.y - wing->hinge.y) / length;
  const FwVec2 p[4] = { { wing->hinge.x - y * -3.5, wing->hinge.y + x * -3.5 }, { tip.x - y * -1.5, tip.y + x * -1.5 },
                        { tip.x - y * 1.5, tip.y + x * 1.5 }, { wing->hinge.x - y * 3.5, wing->hinge.y + x * 3.5 } };
  fw_sketch_sheet (s, "kraft", p, 4);
}

static void
wing_rod (FwSketch *s, FwVec2 pin, FwVec2 hold)
{
  fw_sketch_tube (s, "brass", 4.5, (const FwVec2[]){ pin, hold }, 2);
  fw_sketch_pin (s, pin);
  fw_sketch_pin (s, hold);
}

static void
draw_side (FwSketch *s, const FwSketchWing *wing)
{
  fw_sketch_oval (s, "kraft", P (wing->hinge.x - 22, wing->hinge.y), 20, 24, 0);
}

static void
draw_all (FwSketch *s, const FwSketchWing *wing, const FwSketchPose *pose)
{
  draw_side (s, wing);
  wing_panel (s, wing, pose->tip);
  wing_crank (s, wing, pose);
  wing_rod (s, pose->pin, pose->hold);
  fw_sketch_pin (s, wing->hinge);
}

static void
level (FwSketch *s, FwVec2 from, double to)
{
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, from, P (to, from.y));
  fw_sketch_dash (s, FALSE);
}

/* A dimension along a line, `off` px to its left as one goes. */
static void
along (FwSketch *s, FwVec2 a, FwVec2 b, double off, double dx, double dy, const char *text)
{
  double length = fw_vec2_distance (a, b), x = (b.y - a.y) / length * off, y = (a.x - b.x) / length * off;
  FwVec2 from = P (a.x + x, a.y + y), to = P (b.x + x, b.y + y);
  fw_sketch_line (s, FW_SKETCH_FAINT, a, from);
  fw_sketch_line (s, FW_SKETCH_FAINT, b, to);
  fw_sketch_dim (s, FW_SKETCH_HOT, from, to);
  fw_sketch_text (s, FW_SKETCH_HOT, fw_vec2_mix (from, to, 0.5), dx, dy, text);
}

/* ---- Angle and stops ---- */

enum { ANGLE, STOP, PAST, WISH_TOP, WISH_BOTTOM, WISH_STROKE };

static void
draw_stop (FwSketch *s, const FwSketchWing *wing, double angle, gboolean bad)
{
  FwVec2 a = fw_sketch_at (wing->hinge, 30, 90 - angle), b = fw_sketch_at (wing->hinge, 96, 90 - angle);
  fw_sketch_line (s, bad ? FW_SKETCH_BAD : FW_SKETCH_HOT, a, b);
  FwVec2 o = fw_sketch_at (fw_vec2 (0, 0), 7, angle > 0 ? -angle : 180 - angle);
  const FwVec2 band[4] = { a, b, { b.x + o.x, b.y + o.y }, { a.x + o.x, a.y + o.y } };
  fw_sketch_hatch (s, bad ? FW_SKETCH_BAD : FW_SKETCH_HOT, band, 4);
}

static void
draw_angle (FwSketch *s, int what)
{
  FwSketchWing wing = fw_sketch_wing;
  FwSketchPose up, down;
  wing.hinge.y = 74;
  wing.axis.y = 134;
  wing.rod_px = 62;
  wing.throw_px = 14;
  wing.crank_deg = 0;
  fw_sketch_wing_solve (&wing, &up);
  wing.crank_deg = 180;
  fw_sketch_wing_solve (&wing, &down);
  gboolean low = what == WISH_BOTTOM;
  const FwSketchPose *now = low ? &down : &up, *then = low ? &up : &down;
  double top = up.angle_deg, bottom = down.angle_deg;

  fw_sketch_ghost (s, TRUE);
  wing_panel (s, &wing, then->tip);
  fw_sketch_ghost (s, FALSE);
  level (s, wing.hinge, 230);
  draw_all (s, &wing, now);
  if (what == STOP || what == PAST)
    {
      draw_stop (s, &wing, what == PAST ? top - 7 : top + 8, what == PAST);
      if (what == STOP)
        draw_stop (s, &wing, bottom - 8, FALSE);
      fw_sketch_text (s, what == PAST ? FW_SKETCH_BAD : FW_SKETCH_HOT, P (90, 18), 0, 0, C_ ("drawing", "stop"));
      return;
    }
  double from = what == WISH_STROKE ? bottom : 0, to = low ? bottom : top;
  fw_sketch_wedge (s, FW_SKETCH_HOT, wing.hinge, 124, 90 - from, 90 - to);
  fw_sketch_arc (s, FW_SKETCH_HOT, wing.hinge, 124, 90 - from, 90 - to, what == WISH_STROKE ? 2 : 1);
  g_autofree char *figure = what == WISH_STROKE ? g_strdup_printf ("%.0f°", top - bottom) : g_strdup_printf ("%+.0f°", to);
  FwVec2 at = fw_sketch_at (wing.hinge, 134, 90 - (what == WISH_STROKE ? 3 : to / 2));
  fw_sketch_text (s, FW_SKETCH_HOT, at, 1, 0, figure);
  if (what == ANGLE)
    fw_sketch_text (s, FW_SKETCH_FAINT, P (232, 76), -1, 1, "0°");
}

/* ---- Push ---- */

enum { PUSH, WEAK, WISH_PUSH };

/* The angle between the rod and the line from hinge to hold, drawn where it is. */
static void
draw_push_at (FwSketch *s, const FwSketchWing *wing, FwSketchRole role)
{
  FwSketchPose pose;
  fw_sketch_wing_solve (wing, &pose);
  double rod = fw_sketch_angle (pose.hold, pose.pin), arm = fw_sketch_angle (pose.hold, wing->hinge);
  double between = fmod (arm - rod + 900, 360) - 180;
  if (fabs (between) > 90) /* the smaller one, to the panel's other side */
    between -= copysign (180, between);
  arm = rod + between;
  double radius = fabs (between) > 40 ? 24 : 38;
  draw_all (s, wing, &pose);
  fw_sketch_wedge (s, role, pose.hold, radius, rod, arm);
  fw_sketch_arc (s, role, pose.hold, radius, rod, arm, 2);
  g_autofree char *figure = g_strdup_printf ("%.0f°", pose.push_deg);
  FwVec2 at = fw_sketch_at (pose.hold, radius + 3, (rod + arm) / 2);
  fw_sketch_text (s, role, at, at.x < pose.hold.x ? -1 : 1, 1, figure);
}

static void
draw_push (FwSketch *s, int what)
{
  FwSketchWing good = { .throw_px = 13, .rod_px = 66, .hold_px = 46, .span_px = 84, .axis = { 72, 124 }, .hinge = { 26, 60 }, .crank_deg = 60 };
  FwSketchWing weak = { .throw_px = 15, .rod_px = 69, .hold_px = 28, .span_px = 66, .axis = { 194, 122 }, .hinge = { 158, 50 }, .crank_deg = 146 };
  if (what == WEAK)
    {
      weak = (FwSketchWing){ .throw_px = 18, .rod_px = 69, .hold_px = 38, .span_px = 96, .axis = { 110, 122 }, .hinge = { 66, 46 }, .crank_deg = 140 };
      draw_push_at (s, &weak, FW_SKETCH_BAD);
      fw_sketch_text (s, FW_SKETCH_BAD, P (156, 76), 1, 0, C_ ("drawing", "weak"));
      return;
    }
  if (what == WISH_PUSH)
    {
      good.axis.x += 56;
      good.hinge.x += 56;
    }
  draw_push_at (s, &good, FW_SKETCH_HOT);
  if (what == PUSH)
    {
      draw_push_at (s, &weak, FW_SKETCH_BAD);
      fw_sketch_text (s, FW_SKETCH_BAD, P (208, 52), 1, 0, C_ ("drawing", "weak"));
    }
  fw_sketch_text (s, FW_SKETCH_HOT, P (good.axis.x + 24, 132), 1, 0, C_ ("drawing", "good"));
}

/* ---- The two ways of assembly ---- */

enum { NEAR, OTHER, FLIP };

static void
draw_roots (FwSketch *s, int what)
{
  FwSketchWing wing = { .throw_px = 16, .rod_px = 64, .hold_px = 50, .span_px = 128, .axis = { 96, 128 }, .hinge = { 60, 66 },
                        .crank_deg = what == FLIP ? 4 : what == OTHER ? 50 : 90 };
  if (what == FLIP) /* near its dead position */
    wing = (FwSketchWing){ .throw_px = 16, .rod_px = 63, .hold_px = 40, .span_px = 84, .axis = { 106, 122 }, .hinge = { 66, 46 }, .crank_deg = 130 };
  FwSketchPose pose;
  fw_sketch_wing_solve (&wing, &pose);
  FwSketchRole role = what == FLIP ? FW_SKETCH_BAD : FW_SKETCH_HOT;
  double a = fw_sketch_angle (wing.hinge, pose.tip), b = fw_sketch_angle (wing.hinge, pose.other_tip);
  while (b > a)
    b -= 360;
  if (a - b > 180)
    b += 360;
  fw_sketch_ghost (s, TRUE);
  wing_panel (s, &wing, pose.other_tip);
  wing_rod (s, pose.pin, pose.other_hold);
  fw_sketch_ghost (s, FALSE);
  draw_all (s, &wing, &pose);
  if (what == NEAR)
    {
      fw_sketch_text (s, FW_SKETCH_HOT, P (pose.tip.x - 10, pose.tip.y), -1, -1, C_ ("drawing", "as built"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (132, 112), 1, 0, C_ ("drawing", "the other way"));
    }
  else
    {
      fw_sketch_arc (s, role, wing.hinge, what == FLIP ? 92 : 22, a, b, 2);
      g_autofree char *figure = g_strdup_printf ("%.0f°", fabs (b - a));
      FwVec2 at = fw_sketch_at (wing.hinge, what == FLIP ? 94 : 22, what == FLIP ? a : (a + b) / 2);
      fw_sketch_text (s, role, at, 1, 0, figure);
    }
}

/* ---- Lengths ---- */

enum { HINGE, SPAN, HOLD, ROD, FROM, CANNOT_CLOSE, SAME };

static void
draw_lengths (FwSketch *s, int what)
{
  FwSketchWing wing = fw_sketch_wing;
  FwSketchPose pose;
  wing.crank_deg = what == SPAN ? 90 : 40;
  if (what == CANNOT_CLOSE)
    wing = (FwSketchWing){ .throw_px = 22, .rod_px = 68, .hold_px = 40, .span_px = 46, .axis = { 128, 112 }, .hinge = { 66, 36 }, .crank_deg = 140 };
  fw_sketch_wing_solve (&wing, &pose);
  switch (what)
    {
    case SPAN:
      draw_all (s, &wing, &pose);
      along (s, wing.hinge, pose.tip, 16, 0, -1, C_ ("drawing", "span"));
      break;
    case HOLD:
      draw_all (s, &wing, &pose);
      along (s, wing.hinge, pose.hold, 18, 0, -1, C_ ("drawing", "hold"));
      break;
    case ROD:
      draw_all (s, &wing, &pose);
      along (s, pose.hold, pose.pin, 16, 1, 0, C_ ("drawing", "rod length"));
      break;
    case HINGE:
      draw_all (s, &wing, &pose);
      fw_sketch_arc (s, FW_SKETCH_HOT, wing.hinge, 9, 0, 360, 0);
      fw_sketch_pin (s, P (wing.hinge.x - 22, wing.hinge.y + 14));
      fw_sketch_dim (s, FW_SKETCH_HOT, P (wing.hinge.x - 22, 96), P (wing.hinge.x, 96));
      fw_sketch_line (s, FW_SKETCH_FAINT, P (wing.hinge.x - 22, wing.hinge.y + 18), P (wing.hinge.x - 22, 100));
      fw_sketch_line (s, FW_SKETCH_FAINT, P (wing.hinge.x, wing.hinge.y + 10), P (wing.hinge.x, 100));
      fw_sketch_text (s, FW_SKETCH_HOT, P (30, 98), 0, 1, C_ ("drawing", "hinge"));
      break;
    case FROM:
      wing.throw_px = 0;
      fw_sketch_wing_solve (&wing, &pose);
      draw_side (s, &wing);
      wing_panel (s, &wing, pose.tip);
      fw_sketch_ground (s, P (wing.axis.x - 14, wing.axis.y + 5), P (wing.axis.x + 14, wing.axis.y + 5), 0, 1);
      wing_rod (s, wing.axis, pose.hold);
      fw_sketch_pin (s, wing.hinge);
      fw_sketch_arc (s, FW_SKETCH_HOT, wing.axis, 9, 0, 360, 0);
      fw_sketch_text (s, FW_SKETCH_HOT, P (wing.axis.x + 12, wing.axis.y), 1, 0, C_ ("drawing", "start"));
      break;
    default:
      {
        double turn = fw_sketch_angle (pose.pin, pose.hold);
        FwVec2 end = fw_sketch_at (pose.pin, wing.rod_px, turn);
        draw_side (s, &wing);
        wing_panel (s, &wing, pose.tip);
        wing_crank (s, &wing, &pose);
        wing_rod (s, pose.pin, end);
        fw_sketch_pin (s, pose.hold);
        fw_sketch_pin (s, wing.hinge);
        FwVec2 o = fw_sketch_at (P (0, 0), 14, turn + 90);
        fw_sketch_dim (s, FW_SKETCH_BAD, P (end.x + o.x, end.y + o.y), P (pose.hold.x + o.x, pose.hold.y + o.y));
        fw_sketch_text (s, FW_SKETCH_BAD, P ((end.x + pose.hold.x) / 2 + o.x + 4, (end.y + pose.hold.y) / 2 + o.y - 4), 1, 0, C_ ("drawing", "missing"));
      }
      break;
    }
}

/* ---- Weight and force ---- */

enum { MASS, PANEL_CENTRE, ROD_FORCE, HINGE_LOAD };

static void
draw_force (FwSketch *s, int what)
{
  FwSketchWing wing = fw_sketch_wing;
  FwSketchPose pose;
  wing.crank_deg = 60;
  fw_sketch_wing_solve (&wing, &pose);
  FwVec2 centre = fw_vec2_mix (wing.hinge, pose.tip, 0.44), on = fw_vec2_mix (pose.pin, pose.hold, 0.5);
  draw_all (s, &wing, &pose);
  if (what == MASS || what == PANEL_CENTRE)
    {
      fw_sketch_disc (s, "steel", centre, 5);
      fw_sketch_arrow (s, what == MASS ? FW_SKETCH_HOT : FW_SKETCH_FAINT, P (centre.x, centre.y + 6), P (centre.x, centre.y + 44));
      if (what == MASS)
        fw_sketch_text (s, FW_SKETCH_HOT, P (centre.x + 2, centre.y + 38), 1, 0, C_ ("drawing", "mass"));
      else
        along (s, wing.hinge, centre, 18, 0, -1, C_ ("drawing", "centre"));
    }
  else if (what == ROD_FORCE)
    {
      double turn = fw_sketch_angle (pose.pin, pose.hold);
      FwVec2 o = fw_sketch_at (P (0, 0), 12, turn + 90);
      FwVec2 a = P (on.x + o.x, on.y + o.y);
      fw_sketch_dim (s, FW_SKETCH_HOT, fw_sketch_at (a, 26, turn), fw_sketch_at (a, 26, turn + 180));
      fw_sketch_text (s, FW_SKETCH_HOT, P (a.x + 6, a.y), 1, 0, C_ ("drawing", "+ pull, − push"));
    }
  else
    {
      fw_sketch_arrow (s, FW_SKETCH_FAINT, P (centre.x + 30, centre.y + 4), P (centre.x + 30, centre.y + 40));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (centre.x + 34, centre.y + 32), 1, 0, C_ ("drawing", "weight"));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (wing.hinge.x + 8, wing.hinge.y - 44), P (wing.hinge.x + 1, wing.hinge.y - 6));
      fw_sketch_text (s, FW_SKETCH_HOT, P (wing.hinge.x + 12, wing.hinge.y - 38), 1, 0, C_ ("drawing", "load on the hinge"));
    }
}

static const FwSketchEntry entries[] = {
  { "angle", draw_angle, ANGLE },
  { "stop", draw_angle, STOP },
  { "past-stop", draw_angle, PAST },
  { "wish-top", draw_angle, WISH_TOP },
  { "wish-bottom", draw_angle, WISH_BOTTOM },
  { "wish-stroke", draw_angle, WISH_STROKE },
  { "push-angle", draw_push, PUSH },
  { "weak-push", draw_push, WEAK },
  { "wish-push", draw_push, WISH_PUSH },
  { "near", draw_roots, NEAR },
  { "other-root", draw_roots, OTHER },
  { "may-flip", draw_roots, FLIP },
  { "hinge", draw_lengths, HINGE },
  { "span", draw_lengths, SPAN },
  { "rod-hold", draw_lengths, HOLD },
  { "rod-length", draw_lengths, ROD },
  { "rod-from", draw_lengths, FROM },
  { "cannot-close", draw_lengths, CANNOT_CLOSE },
  { "mass", draw_force, MASS },
  { "panel-centre", draw_force, PANEL_CENTRE },
  { "rod-force", draw_force, ROD_FORCE },
  { "hinge-load", draw_force, HINGE_LOAD },
};

const FwSketchEntry *
fw_sketches_wing (int *n)
{
  *n = G_N_ELEMENTS (entries);
  return entries;
}
