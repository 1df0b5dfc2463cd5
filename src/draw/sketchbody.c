/* Drawings of how the body rides, solved by the core, and of what it weighs. */
#include <glib/gi18n.h>
#include <stdlib.h>

#include "core/pose.h"
#include "draw/sketches.h"

#define P(x, y) fw_vec2 (x, y)

typedef enum
{
  AT, TILT_SET, RAIL_ROD, RAIL_OFFSET, POST, GUIDE, PIVOT, LINK, LINK_ON, DIAMETER, PLAY, SHIFT, HEIGHT, TILT, GUIDE_FORCE,
  FOOT_LOAD, LEAVES, TRAVEL, ROCKING
} What;

static const FwVec2 axis = { 92, 120 };

static FwVec2
page (double h, double z)
{
  return P (axis.x + h, axis.y - z);
}

/* ---- By the core ---- */

typedef struct
{
  FwVec2 pin, datum;
  double tilt; /* degrees */
} Stand;

static FwBody
body_of (What what)
{
  FwBody body = { .ride = FW_RIDE_SLEEVE, .throw_index = 0, .post_mm = 80, .guide_mm = { 0, 50 }, .rod_mm = 78, .diameter_mm = 8, .material = (char *)"copper" };
  if (what == RAIL_ROD || what == RAIL_OFFSET)
    body.ride = FW_RIDE_RAIL;
  if (what == RAIL_OFFSET)
    body.offset_mm = 22;
  if (what == PIVOT || what == LINK || what == LINK_ON)
    {
      body.ride = FW_RIDE_ROCKER;
      body.pivot_mm = (FwVec2){ 62, 40 };
      body.link_mm = 56;
      body.on_mm = 44;
    }
  if (what == LEAVES)
    body.guide_mm = (FwVec2){ 0, 74 };
  return body;
}

static Stand
solve (const FwBody *body, double throw_mm, double crank)
{
  FwThrow one = { .name = (char *)"throw", .radius_mm = throw_mm, .width_mm = 20 };
  FwDesign design = { .crank = { .runs = FW_RUNS_ACROSS, .turns_per_minute = 30, .diameter_mm = 8, .material = (char *)"copper", .throws = &one, .n_throws = 1 },
                      .body = *body, .base = { .plate_mm = { 400, 300, 12 }, .top_mm = -500 } };
  Stand stand = { .pin = axis, .datum = page (0, 90) };
  FwMechanism *mechanism = NULL;
  if (fw_mechanism_build (&design, &mechanism, NULL) != FW_OK)
    return stand;
  FwPose *pose = fw_pose_new (mechanism);
  double a = crank * G_PI / 180;
  if (pose != NULL)
    {
      fw_pose_solve (pose, mechanism, a);
      stand = (Stand){ page (throw_mm * sin (a), throw_mm * cos (a)), page (pose->body.h_mm, pose->body.z_mm), pose->body.tilt * 180 / G_PI };
    }
  free (pose);
  fw_mechanism_free (mechanism);
  return stand;
}

/* ---- Pieces ---- */

static void
draw_base (FwSketch *s, double throw_px)
{
  fw_sketch_dash (s, TRUE);
  fw_sketch_arc (s, FW_SKETCH_FAINT, axis, throw_px, 0, 360, 0);
  fw_sketch_dash (s, FALSE);
}

static void
draw_crank (FwSketch *s, const Stand *stand)
{
  fw_sketch_tube (s, "copper", 8, (const FwVec2[]){ axis, stand->pin }, 2);
  fw_sketch_disc (s, "copper", axis, 6);
}

static void
draw_stand (FwSketch *s, const Stand *stand)
{
  fw_sketch_bird (s, stand->datum, stand->tilt, 0.62);
  fw_sketch_tube (s, "copper", 6, (const FwVec2[]){ stand->pin, stand->datum }, 2);
  fw_sketch_pin (s, stand->pin);
  fw_sketch_pin (s, stand->datum);
}

static void
draw_rail (FwSketch *s, double h)
{
  FwVec2 low = page (h, 40), high = page (h, 112);
  fw_sketch_line (s, FW_SKETCH_FAINT, P (low.x - 5, low.y), P (high.x - 5, high.y));
  fw_sketch_line (s, FW_SKETCH_FAINT, P (low.x + 5, low.y), P (high.x + 5, high.y));
}

static void
draw_guide (FwSketch *s, FwVec2 at, double tilt)
{
  double a = tilt * G_PI / 180, u = 9, w = 5.5;
  FwVec2 along = { sin (a) * u, -cos (a) * u }, across = { cos (a) * w, sin (a) * w };
  for (int side = -1; side <= 1; side += 2)
    {
      FwVec2 m = P (at.x + side * across.x, at.y + side * across.y);
      fw_sketch_tube (s, "birch", 5, (const FwVec2[]){ { m.x - along.x, m.y - along.y }, { m.x + along.x, m.y + along.y } }, 2);
    }
}

/* The mechanism once, with the ghost of half a turn later. */
static Stand
draw_ride (FwSketch *s, What what, double throw_px, double crank, gboolean ghost)
{
  FwBody body = body_of (what);
  Stand now = solve (&body, throw_px, crank), later = solve (&body, throw_px, crank + 180);
  FwVec2 guide = page (body.guide_mm.x, body.guide_mm.y), pivot = page (body.pivot_mm.x, body.pivot_mm.y);

  draw_base (s, throw_px);
  if (body.ride == FW_RIDE_RAIL)
    draw_rail (s, body.offset_mm);
  if (ghost)
    {
      fw_sketch_ghost (s, TRUE);
      draw_stand (s, &later);
      fw_sketch_ghost (s, FALSE);
    }
  draw_crank (s, &now);
  draw_stand (s, &now);
  if (body.ride == FW_RIDE_SLEEVE)
    draw_guide (s, guide, now.tilt);
  if (body.ride == FW_RIDE_ROCKER)
    {
      double n = body.on_mm / body.post_mm;
      FwVec2 on = fw_vec2_mix (now.pin, now.datum, n);
      fw_sketch_tube (s, "brass", 5, (const FwVec2[]){ pivot, on }, 2);
      fw_sketch_pin (s, on);
      fw_sketch_ground (s, P (pivot.x - 9, pivot.y + 4), P (pivot.x + 9, pivot.y + 4), 0, 1);
      fw_sketch_pin (s, pivot);
    }
  return now;
}

/* A dimension beside a line between two points, `off` px to its right. */
static void
beside (FwSketch *s, FwVec2 a, FwVec2 b, double off, const char *text)
{
  double length = fw_vec2_distance (a, b), x = (a.y - b.y) / length * off, y = (b.x - a.x) / length * off;
  fw_sketch_dim (s, FW_SKETCH_HOT, P (a.x + x, a.y + y), P (b.x + x, b.y + y));
  fw_sketch_text (s, FW_SKETCH_HOT, P ((a.x + b.x) / 2 + x, (a.y + b.y) / 2 + y), x > 0 ? 1 : -1, 0, text);
}

static void
level (FwSketch *s, FwVec2 from, double to)
{
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, from, P (to, from.y));
  fw_sketch_dash (s, FALSE);
}

static void
plumb (FwSketch *s, FwVec2 from, double to)
{
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, from, P (from.x, to));
  fw_sketch_dash (s, FALSE);
}

/* ---- Fixed ---- */

static void
draw_fixed (FwSketch *s, int what)
{
  FwVec2 datum = P (128, 46);
  double turn = what == TILT_SET ? 14 : 0;
  fw_sketch_box (s, "birch", 40, 134, 160, 8);
  fw_sketch_tube (s, "birch", 10, (const FwVec2[]){ { datum.x, 132 }, datum }, 2);
  fw_sketch_disc (s, "copper", P (80, 112), 7);
  if (what == TILT_SET)
    {
      fw_sketch_ghost (s, TRUE);
      fw_sketch_bird (s, datum, 0, 0.8);
      fw_sketch_ghost (s, FALSE);
    }
  fw_sketch_bird (s, datum, turn, 0.8);
  fw_sketch_pin (s, datum);
  if (what == AT)
    {
      level (s, P (80, 112), 196);
      level (s, datum, 196);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (188, 46), P (188, 112));
      fw_sketch_text (s, FW_SKETCH_HOT, P (188, 80), 1, 0, C_ ("drawing", "height"));
      plumb (s, P (80, 112), 66);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (80, 76), P (122, 76));
      fw_sketch_text (s, FW_SKETCH_HOT, P (76, 76), -1, 0, C_ ("drawing", "forward"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (70, 112), -1, 0, C_ ("drawing", "crank"));
    }
  else
    {
      plumb (s, datum, 8);
      fw_sketch_wedge (s, FW_SKETCH_HOT, datum, 36, 0, turn);
      fw_sketch_line (s, FW_SKETCH_HOT, datum, fw_sketch_at (datum, 40, turn));
      fw_sketch_arc (s, FW_SKETCH_HOT, datum, 36, -12, turn, 1);
      fw_sketch_text (s, FW_SKETCH_HOT, P (142, 10), 1, 0, C_ ("drawing", "tilt"));
    }
}

/* ---- Riding ---- */

static void
draw_rod_and_post (FwSketch *s, What what)
{
  Stand now = draw_ride (s, what, what == RAIL_OFFSET ? 16 : 18, what == LINK_ON ? 40 : 60, what == RAIL_ROD);
  FwBody body = body_of (what);
  FwVec2 pivot = page (body.pivot_mm.x, body.pivot_mm.y), guide = page (0, body.guide_mm.y);
  FwVec2 on = fw_vec2_mix (now.pin, now.datum, body.on_mm / body.post_mm);
  switch (what)
    {
    case RAIL_ROD: beside (s, now.pin, now.datum, 16, C_ ("drawing", "rod length")); break;
    case RAIL_OFFSET:
      plumb (s, axis, 16);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (axis.x, 78), P (axis.x + body.offset_mm, 78));
      fw_sketch_text (s, FW_SKETCH_HOT, P (axis.x + 28, 78), 1, 0, C_ ("drawing", "offset"));
      break;
    case POST: beside (s, now.pin, now.datum, 34, C_ ("drawing", "post length")); break;
    case GUIDE:
      level (s, axis, 46);
      level (s, guide, 46);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (54, axis.y), P (54, guide.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P (52, 95), -1, 0, C_ ("drawing", "height"));
      fw_sketch_line (s, FW_SKETCH_HOT, P (guide.x + 12, guide.y), P (140, guide.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P (140, guide.y), 1, 0, C_ ("drawing", "guide"));
      fw_sketch_arc (s, FW_SKETCH_HOT, guide, 22, 60, 120, 2);
      break;
    case PIVOT:
      level (s, P (axis.x, axis.y), 190);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (178, axis.y), P (178, pivot.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P (178, 100), 1, 0, C_ ("drawing", "height"));
      fw_sketch_dim (s, FW_SKETCH_HOT, P (axis.x, 134), P (pivot.x, 134));
      plumb (s, pivot, 138);
      fw_sketch_text (s, FW_SKETCH_HOT, P (pivot.x + 2, 137), 1, 0, C_ ("drawing", "offset"));
      break;
    case LINK: 
      {
        FwVec2 o = fw_sketch_at (P (0, 0), 15, fw_sketch_angle (on, pivot) - 90);
        fw_sketch_dim (s, FW_SKETCH_HOT, P (on.x + o.x, on.y + o.y), P (pivot.x + o.x, pivot.y + o.y));
        fw_sketch_text (s, FW_SKETCH_HOT, P ((on.x + pivot.x) / 2 + o.x, (on.y + pivot.y) / 2 + o.y), 1, -1, C_ ("drawing", "link length"));
      }
      break;
    default: beside (s, now.pin, on, -18, C_ ("drawing", "height")); break;
    }
}

static void
draw_moving (FwSketch *s, What what)
{
  Stand now = draw_ride (s, what, 20, what == TILT || what == ROCKING ? 90 : what == SHIFT ? 60 : 0, TRUE);
  FwBody body = body_of (what);
  Stand low = solve (&body, 20, what == HEIGHT ? 0 : 180), back = solve (&body, 20, 270);
  switch (what)
    {
    case SHIFT:
      plumb (s, axis, 10);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (axis.x, now.datum.y), now.datum);
      fw_sketch_text (s, FW_SKETCH_HOT, P (142, now.datum.y + 24), 1, 0, C_ ("drawing", "forward or back"));
      fw_sketch_line (s, FW_SKETCH_HOT, P ((axis.x + now.datum.x) / 2, now.datum.y), P (142, now.datum.y + 24));
      break;
    case HEIGHT:
      level (s, axis, 184);
      level (s, low.datum, 184);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (176, axis.y), P (176, low.datum.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P (176, 78), 1, 0, C_ ("drawing", "height"));
      break;
    case TRAVEL:
      level (s, now.datum, 184);
      level (s, low.datum, 184);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (176, low.datum.y), P (176, now.datum.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P (176, (low.datum.y + now.datum.y) / 2), 1, 0, C_ ("drawing", "travel"));
      break;
    default:
      {
        FwVec2 guide = page (0, body.guide_mm.y);
        double from = what == ROCKING ? back.tilt : 0;
        plumb (s, guide, 6);
        fw_sketch_wedge (s, FW_SKETCH_HOT, guide, 62, from, now.tilt);
        fw_sketch_arc (s, FW_SKETCH_HOT, guide, 62, from, now.tilt, what == ROCKING ? 2 : 1);
        FwVec2 at = fw_sketch_at (guide, 64, now.tilt);
        fw_sketch_text (s, FW_SKETCH_HOT, P (at.x - 10, at.y), -1, 0, C_ ("drawing", "tilt"));
      }
      break;
    }
}

/* The pin is at its lowest: the post has slipped out below the guide, above which the body is. */
static void
draw_leaving (FwSketch *s)
{
  const double throw_px = 26;
  FwBody body = body_of (LEAVES);
  Stand now = solve (&body, throw_px, 180);
  FwVec2 guide = page (body.guide_mm.x, body.guide_mm.y);

  draw_base (s, throw_px);
  draw_crank (s, &now);
  fw_sketch_ghost (s, TRUE);
  fw_sketch_bird (s, P (guide.x, guide.y - 18), 0, 0.62);
  fw_sketch_ghost (s, FALSE);
  fw_sketch_tube (s, "copper", 6, (const FwVec2[]){ now.pin, now.datum }, 2);
  fw_sketch_pin (s, now.pin);
  draw_guide (s, guide, 0);
  fw_sketch_line (s, FW_SKETCH_FAINT, P (guide.x + 14, guide.y), P (134, guide.y));
  fw_sketch_line (s, FW_SKETCH_FAINT, P (now.datum.x + 6, now.datum.y), P (134, now.datum.y));
  fw_sketch_dim (s, FW_SKETCH_BAD, P (128, now.datum.y), P (128, guide.y));
  fw_sketch_text (s, FW_SKETCH_BAD, P (130, (now.datum.y + guide.y) / 2), 1, 0, C_ ("drawing", "too short"));
}

static void
draw_pressed (FwSketch *s, What what)
{
  Stand now = draw_ride (s, what, 20, 90, FALSE);
  FwBody body = body_of (what);
  FwVec2 guide = page (0, body.guide_mm.y);
  if (what == GUIDE_FORCE)
    {
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (guide.x + 54, guide.y), P (guide.x + 12, guide.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P (guide.x + 56, guide.y), 1, 0, C_ ("drawing", "force"));
      fw_sketch_arrow (s, FW_SKETCH_FAINT, P (now.datum.x, now.datum.y + 4), P (now.datum.x, now.datum.y + 34));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (now.datum.x - 4, now.datum.y + 26), -1, 0, C_ ("drawing", "weight"));
    }
  else if (what == FOOT_LOAD)
    {
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (now.pin.x + 16, now.pin.y - 42), P (now.pin.x + 8, now.pin.y - 4));
      fw_sketch_text (s, FW_SKETCH_HOT, P (now.pin.x + 22, now.pin.y - 30), 1, 0, C_ ("drawing", "load"));
    }
  else
    {
      FwVec2 mid = fw_vec2_mix (now.pin, now.datum, 0.3);
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (mid.x + 28, mid.y + 4), P (mid.x + 4, mid.y));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (mid.x - 28, mid.y - 6), P (mid.x - 4, mid.y - 1));
      fw_sketch_text (s, FW_SKETCH_HOT, P (mid.x + 30, mid.y + 4), 1, 0, C_ ("drawing", "diameter"));
    }
}

static void
draw_body (FwSketch *s, int what)
{
  if (what == AT || what == TILT_SET)
    draw_fixed (s, what);
  else if (what <= LINK_ON)
    draw_rod_and_post (s, (What)what);
  else if (what == SHIFT || what == HEIGHT || what == TILT || what == TRAVEL || what == ROCKING)
    draw_moving (s, (What)what);
  else if (what == LEAVES)
    draw_leaving (s);
  else
    draw_pressed (s, (What)what);
}

/* ---- Weight ---- */

enum { MASS, CENTRE, GYRATION, LUMP, LUMP_AT };

static void
draw_centre_mark (FwSketch *s, FwVec2 at)
{
  fw_sketch_arc (s, FW_SKETCH_HOT, at, 6, 0, 360, 0);
  fw_sketch_line (s, FW_SKETCH_HOT, P (at.x - 9, at.y), P (at.x + 9, at.y));
  fw_sketch_line (s, FW_SKETCH_HOT, P (at.x, at.y - 9), P (at.x, at.y + 9));
}

static void
draw_weight (FwSketch *s, int what)
{
  FwVec2 datum = P (112, 84), centre = P (132, 66);
  fw_sketch_tube (s, "copper", 8, (const FwVec2[]){ { datum.x, 146 }, datum }, 2);
  fw_sketch_bird (s, P (centre.x - 14, centre.y + 6), 0, 1.35);
  fw_sketch_pin (s, datum);
  switch (what)
    {
    case MASS:
      draw_centre_mark (s, centre);
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (centre.x, centre.y + 10), P (centre.x, centre.y + 58));
      fw_sketch_text (s, FW_SKETCH_HOT, P (centre.x + 4, centre.y + 48), 1, 0, C_ ("drawing", "weight"));
      break;
    case CENTRE:
      draw_centre_mark (s, centre);
      level (s, datum, 206);
      plumb (s, datum, 24);
      plumb (s, centre, 24);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (datum.x, 30), P (centre.x, 30));
      fw_sketch_text (s, FW_SKETCH_HOT, P (datum.x - 4, 28), -1, 0, C_ ("drawing", "forward"));
      level (s, centre, 218);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (214, datum.y), P (214, centre.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P (214, 92), 0, 1, C_ ("drawing", "height"));
      break;
    case GYRATION:
      draw_centre_mark (s, centre);
      fw_sketch_dash (s, TRUE);
      fw_sketch_arc (s, FW_SKETCH_HOT, centre, 40, 0, 360, 0);
      fw_sketch_dash (s, FALSE);
      fw_sketch_dim (s, FW_SKETCH_HOT, centre, fw_sketch_at (centre, 40, 125));
      fw_sketch_text (s, FW_SKETCH_HOT, P (176, 116), 1, 0, C_ ("drawing", "radius"));
      fw_sketch_line (s, FW_SKETCH_HOT, P (157, 84), P (176, 116));
      fw_sketch_arc (s, FW_SKETCH_FAINT, centre, 50, 290, 330, 2);
      break;
    default:
      fw_sketch_disc (s, "steel", P (56, 78), 13);
      if (what == LUMP)
        {
          fw_sketch_arrow (s, FW_SKETCH_HOT, P (56, 92), P (56, 124));
          fw_sketch_text (s, FW_SKETCH_HOT, P (60, 116), 1, 0, C_ ("drawing", "mass"));
        }
      else
        {
          plumb (s, P (56, 92), 116);
          plumb (s, datum, 116);
          fw_sketch_dim (s, FW_SKETCH_HOT, P (56, 112), P (datum.x, 112));
          fw_sketch_text (s, FW_SKETCH_HOT, P (84, 114), 0, 1, C_ ("drawing", "place"));
        }
      break;
    }
}

static const FwSketchEntry entries[] = {
  { "body-at", draw_body, AT },
  { "body-tilt-set", draw_body, TILT_SET },
  { "rail-rod", draw_body, RAIL_ROD },
  { "rail-offset", draw_body, RAIL_OFFSET },
  { "post", draw_body, POST },
  { "guide", draw_body, GUIDE },
  { "link-pivot", draw_body, PIVOT },
  { "link-length", draw_body, LINK },
  { "link-on", draw_body, LINK_ON },
  { "post-diameter", draw_body, DIAMETER },
  { "body-shift", draw_body, SHIFT },
  { "body-height", draw_body, HEIGHT },
  { "body-tilt", draw_body, TILT },
  { "guide-force", draw_body, GUIDE_FORCE },
  { "foot-load", draw_body, FOOT_LOAD },
  { "leaves-guide", draw_body, LEAVES },
  { "wish-travel", draw_body, TRAVEL },
  { "wish-tilt", draw_body, ROCKING },
  { "body-mass", draw_weight, MASS },
  { "body-centre", draw_weight, CENTRE },
  { "gyration", draw_weight, GYRATION },
  { "lump-mass", draw_weight, LUMP },
  { "lump-at", draw_weight, LUMP_AT },
};

const FwSketchEntry *
fw_sketches_body (int *n)
{
  *n = G_N_ELEMENTS (entries);
  return entries;
}
