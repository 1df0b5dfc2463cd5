/* Drawings of the crank: along its axis, and from the side. */
#include <glib/gi18n.h>

#include "draw/sketches.h"

#define P(x, y) fw_vec2 (x, y)

/* ---- Shared pieces ---- */

void
fw_sketch_ground (FwSketch *s, FwVec2 a, FwVec2 b, double dx, double dy)
{
  const FwVec2 p[4] = { a, b, { b.x + dx * 6, b.y + dy * 6 }, { a.x + dx * 6, a.y + dy * 6 } };
  fw_sketch_hatch (s, FW_SKETCH_FAINT, p, 4);
  fw_sketch_line (s, FW_SKETCH_INK, a, b);
}

void
fw_sketch_bird (FwSketch *s, FwVec2 at, double turn, double size)
{
  static const FwVec2 outline[] = {
    { -62, 6 }, { -40, -2 }, { -20, -14 }, { 4, -17 }, { 18, -14 }, { 26, -22 }, { 36, -24 }, { 44, -19 },
    { 60, -15 }, { 45, -12 }, { 38, -4 }, { 26, 8 }, { 6, 14 }, { -16, 13 }, { -40, 8 },
  };
  FwVec2 p[G_N_ELEMENTS (outline)];
  double a = turn * G_PI / 180;
  for (guint i = 0; i < G_N_ELEMENTS (outline); i++)
    p[i] = P (at.x + size * (outline[i].x * cos (a) - outline[i].y * sin (a)),
              at.y + size * (outline[i].x * sin (a) + outline[i].y * cos (a)));
  fw_sketch_sheet (s, "kraft", p, G_N_ELEMENTS (outline));
}

/* ---- Along the axis ---- */

enum { SPEED, RADIUS, PHASE, CRANK_ANGLE, WEIGHT_MASS, WEIGHT_RADIUS, WEIGHT_PHASE };

#define THROW 46.0

static const FwVec2 axis = { 92, 82 };

static void
draw_web (FwSketch *s, double phase, double radius)
{
  FwVec2 pin = fw_sketch_at (axis, radius, phase);
  fw_sketch_tube (s, "copper", 12, (const FwVec2[]){ axis, pin }, 2);
  fw_sketch_disc (s, "copper", axis, 9);
  fw_sketch_disc (s, "copper", pin, 8);
  fw_sketch_pin (s, pin);
}

static void
draw_circle (FwSketch *s, double radius)
{
  fw_sketch_dash (s, TRUE);
  fw_sketch_arc (s, FW_SKETCH_FAINT, axis, radius, 0, 360, 0);
  fw_sketch_dash (s, FALSE);
}

static void
draw_up (FwSketch *s, double radius)
{
  fw_sketch_line (s, FW_SKETCH_FAINT, axis, P (axis.x, axis.y - radius - 14));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (axis.x, axis.y - radius - 10), 0, -1, C_ ("drawing", "up"));
}

static void
draw_weight (FwSketch *s, int what)
{
  const double phase = 35, at = 215, far = 40;
  FwVec2 weight = fw_sketch_at (axis, far, at), pin = fw_sketch_at (axis, THROW, phase);
  draw_circle (s, THROW);
  if (what == WEIGHT_PHASE)
    draw_up (s, THROW);
  fw_sketch_tube (s, "steel", 6, (const FwVec2[]){ axis, weight }, 2);
  draw_web (s, phase, THROW);
  fw_sketch_disc (s, "steel", weight, what == WEIGHT_MASS ? 18 : 15);
  fw_sketch_arrow (s, FW_SKETCH_FAINT, P (pin.x + 42, pin.y - 4), P (pin.x + 42, pin.y + 28));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (pin.x + 44, pin.y + 12), 1, 0, C_ ("drawing", "panels"));
  fw_sketch_line (s, FW_SKETCH_FAINT, P (pin.x + 8, pin.y), P (pin.x + 46, pin.y));
  if (what == WEIGHT_MASS)
    {
      fw_sketch_arrow (s, FW_SKETCH_HOT, weight, P (weight.x, weight.y + 30));
      fw_sketch_text (s, FW_SKETCH_HOT, P (weight.x - 20, weight.y), -1, 0, C_ ("drawing", "mass"));
    }
  else if (what == WEIGHT_RADIUS)
    {
      FwVec2 o = fw_sketch_at (P (0, 0), 20, at + 90);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (axis.x + o.x, axis.y + o.y), P (weight.x + o.x, weight.y + o.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P ((axis.x + weight.x) / 2 + o.x, (axis.y + weight.y) / 2 + o.y), -1, 0, C_ ("drawing", "radius"));
    }
  else
    {
      fw_sketch_wedge (s, FW_SKETCH_HOT, axis, 26, 0, at);
      fw_sketch_arc (s, FW_SKETCH_HOT, axis, 26, 0, at, 1);
      fw_sketch_text (s, FW_SKETCH_HOT, P (axis.x + 30, axis.y + 28), 1, 0, C_ ("drawing", "phase"));
    }
}

static void
draw_end (FwSketch *s, int what)
{
  const double phase = 52;
  FwVec2 pin = fw_sketch_at (axis, THROW, phase);
  if (what >= WEIGHT_MASS)
    {
      draw_weight (s, what);
      return;
    }
  draw_circle (s, THROW);
  if (what == PHASE || what == CRANK_ANGLE)
    draw_up (s, THROW);
  if (what == CRANK_ANGLE)
    {
      fw_sketch_ghost (s, TRUE);
      draw_web (s, 0, THROW);
      fw_sketch_ghost (s, FALSE);
    }
  draw_web (s, phase, THROW);
  if (what == SPEED)
    {
      fw_sketch_arc (s, FW_SKETCH_HOT, axis, THROW + 14, phase + 18, phase + 100, 1);
      fw_sketch_text (s, FW_SKETCH_HOT, P (axis.x + THROW + 20, axis.y + 24), 1, 0, C_ ("drawing", "forward"));
    }
  else if (what == RADIUS)
    {
      FwVec2 o = fw_sketch_at (P (0, 0), 17, phase + 90), a = P (axis.x + o.x, axis.y + o.y), b = P (pin.x + o.x, pin.y + o.y);
      fw_sketch_line (s, FW_SKETCH_FAINT, axis, P (axis.x + o.x * 1.3, axis.y + o.y * 1.3));
      fw_sketch_line (s, FW_SKETCH_FAINT, pin, P (pin.x + o.x * 1.3, pin.y + o.y * 1.3));
      fw_sketch_dim (s, FW_SKETCH_HOT, a, b);
      fw_sketch_text (s, FW_SKETCH_HOT, P ((a.x + b.x) / 2 + 2, (a.y + b.y) / 2 + 2), 1, 1, C_ ("drawing", "radius"));
      fw_sketch_dim (s, FW_SKETCH_FAINT, P (28, axis.y - THROW), P (28, axis.y + THROW));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (27, axis.y), -1, 0, "2 ×");
    }
  else
    {
      fw_sketch_wedge (s, FW_SKETCH_HOT, axis, 28, 0, phase);
      fw_sketch_arc (s, FW_SKETCH_HOT, axis, 28, 0, phase, 1);
      FwVec2 at = fw_sketch_at (axis, 34, 22);
      fw_sketch_text (s, FW_SKETCH_HOT, P (158, 26), 1, 0, what == PHASE ? C_ ("drawing", "phase") : C_ ("drawing", "crank angle"));
      fw_sketch_line (s, FW_SKETCH_HOT, at, P (158, 26));
    }
}

/* ---- Handle ---- */

enum { HANDLE, TORQUE, HANDLE_FORCE, MOTOR, OVER_RUN };

static void
draw_handle (FwSketch *s, int what)
{
  const FwVec2 hub = { 84, 80 };
  const double arm = 56, at = 62;
  FwVec2 grip = fw_sketch_at (hub, arm, at);
  gboolean back = what == OVER_RUN;

  fw_sketch_dash (s, TRUE);
  if (what != MOTOR)
    fw_sketch_arc (s, FW_SKETCH_FAINT, hub, arm, 0, 360, 0);
  fw_sketch_dash (s, FALSE);
  if (what == MOTOR)
    {
      fw_sketch_box (s, "steel", hub.x - 26, hub.y - 24, 52, 48);
      fw_sketch_disc (s, "copper", hub, 9);
    }
  else
    {
      fw_sketch_tube (s, "copper", 12, (const FwVec2[]){ hub, grip }, 2);
      fw_sketch_disc (s, "copper", hub, 10);
      fw_sketch_disc (s, "birch", grip, 11);
    }
  if (what == HANDLE)
    {
      FwVec2 o = fw_sketch_at (P (0, 0), 18, at + 90);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (hub.x + o.x, hub.y + o.y), P (grip.x + o.x, grip.y + o.y));
      fw_sketch_text (s, FW_SKETCH_HOT, P ((hub.x + grip.x) / 2 + o.x, (hub.y + grip.y) / 2 + o.y), 1, 1, C_ ("drawing", "radius"));
    }
  else if (what == HANDLE_FORCE || back)
    {
      double sense = back ? -1 : 1;
      FwVec2 o = fw_sketch_at (P (0, 0), 46 * sense, at + 90), from = fw_sketch_at (grip, 12 * sense, at + 90);
      fw_sketch_arrow (s, back ? FW_SKETCH_BAD : FW_SKETCH_HOT, from, P (grip.x + o.x, grip.y + o.y));
      fw_sketch_text (s, back ? FW_SKETCH_BAD : FW_SKETCH_HOT, P (grip.x + o.x + 4, grip.y + o.y), 1, 0,
                      back ? C_ ("drawing", "hold back") : C_ ("drawing", "push"));
      if (back)
        {
          fw_sketch_arc (s, FW_SKETCH_INK, hub, arm + 14, at + 24, at + 84, 1);
          fw_sketch_text (s, FW_SKETCH_INK, P (hub.x + arm + 18, hub.y + 34), 1, 0, C_ ("drawing", "it drives"));
        }
    }
  else
    {
      double radius = what == MOTOR ? 44 : 36;
      FwVec2 word = what == MOTOR ? P (hub.x + 54, 26) : P (hub.x + 66, hub.y + 42);
      if (what == TORQUE)
        fw_sketch_wedge (s, FW_SKETCH_HOT, hub, radius, 110, 290);
      fw_sketch_arc (s, FW_SKETCH_HOT, hub, radius, what == MOTOR ? -40 : 110, what == MOTOR ? 40 : 290, 1);
      fw_sketch_text (s, FW_SKETCH_HOT, word, 1, 0, C_ ("drawing", "torque"));
      fw_sketch_line (s, FW_SKETCH_HOT, fw_sketch_at (hub, radius, what == MOTOR ? 30 : 130), word);
    }
  if (what == MOTOR)
    {
      fw_sketch_box (s, "birch", 178, 84, 14, 40);
      fw_sketch_box (s, "birch", 204, 44, 14, 80);
      fw_sketch_text (s, FW_SKETCH_HOT, P (211, 44), 0, -1, "× 2");
      fw_sketch_text (s, FW_SKETCH_FAINT, P (185, 84), 0, -1, "1");
    }
}

/* ---- From the front ---- */

enum { STATION, WIDTH, DIAMETER, BEARING, WEIGHT_STATION, PIN_LOAD, BEARING_LOAD, TOO_SHORT, COLLIDE, NO_WAY_IN };

#define SHAFT 92.0

static void
draw_upright (FwSketch *s, double x)
{
  const FwVec2 p[4] = { { x - 6, SHAFT - 10 }, { x + 6, SHAFT - 10 }, { x + 9, 132 }, { x - 9, 132 } };
  fw_sketch_sheet (s, "birch", p, 4);
}

/* A crank line with pins up at the given places. */
static void
draw_shaft (FwSketch *s, const double *pins, int n, double half, double height, double left, double right)
{
  FwVec2 p[20];
  int k = 0;
  p[k++] = P (left, SHAFT);
  for (int i = 0; i < n; i++)
    {
      p[k++] = P (pins[i] - half, SHAFT);
      p[k++] = P (pins[i] - half, SHAFT - height);
      p[k++] = P (pins[i] + half, SHAFT - height);
      p[k++] = P (pins[i] + half, SHAFT);
    }
  p[k++] = P (right, SHAFT);
  fw_sketch_tube (s, "copper", 10, p, k);
}

static void
draw_plain (FwSketch *s)
{
  const double pin = 160;
  fw_sketch_box (s, "birch", 14, 132, 212, 8);
  draw_upright (s, 26);
  draw_upright (s, 214);
  draw_shaft (s, &pin, 1, 18, 38, 12, 228);
}

static void
draw_front (FwSketch *s, int what)
{
  const double middle = 100;
  draw_plain (s);
  switch (what)
    {
    case STATION:
    case WEIGHT_STATION:
      if (what == WEIGHT_STATION)
        fw_sketch_box (s, "steel", 150, SHAFT + 6, 20, 28);
      fw_sketch_dash (s, TRUE);
      fw_sketch_line (s, FW_SKETCH_FAINT, P (middle, 24), P (middle, 128));
      fw_sketch_line (s, FW_SKETCH_FAINT, P (160, 24), P (160, what == STATION ? 50 : 128));
      fw_sketch_dash (s, FALSE);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (middle, 34), P (160, 34));
      fw_sketch_text (s, FW_SKETCH_HOT, P (130, 33), 0, -1, C_ ("drawing", "station"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (middle - 2, 44), -1, 0, C_ ("drawing", "middle"));
      break;
    case WIDTH:
      fw_sketch_dim (s, FW_SKETCH_HOT, P (147, 70), P (173, 70));
      fw_sketch_tube (s, "brass", 7, (const FwVec2[]){ { 160, 12 }, { 160, 54 } }, 2);
      fw_sketch_text (s, FW_SKETCH_HOT, P (182, 70), 1, 0, C_ ("drawing", "pin width"));
      break;
    case DIAMETER:
      fw_sketch_dim (s, FW_SKETCH_HOT, P (80, SHAFT - 22), P (80, SHAFT - 5));
      fw_sketch_dim (s, FW_SKETCH_HOT, P (80, SHAFT + 22), P (80, SHAFT + 5));
      fw_sketch_text (s, FW_SKETCH_HOT, P (80, SHAFT - 24), 0, -1, C_ ("drawing", "diameter"));
      break;
    case BEARING:
      fw_sketch_dash (s, TRUE);
      fw_sketch_line (s, FW_SKETCH_FAINT, P (middle, 24), P (middle, 128));
      fw_sketch_line (s, FW_SKETCH_FAINT, P (214, 24), P (214, 78));
      fw_sketch_dash (s, FALSE);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (middle, 34), P (214, 34));
      fw_sketch_text (s, FW_SKETCH_HOT, P (157, 33), 0, -1, C_ ("drawing", "station"));
      break;
    case PIN_LOAD:
      fw_sketch_tube (s, "brass", 7, (const FwVec2[]){ { 160, 8 }, { 160, 46 } }, 2);
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (146, 10), P (146, 46));
      fw_sketch_text (s, FW_SKETCH_HOT, P (142, 26), -1, 0, C_ ("drawing", "load"));
      break;
    default:
      fw_sketch_arrow (s, FW_SKETCH_FAINT, P (160, 14), P (160, 46));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (164, 24), 1, 0, C_ ("drawing", "load"));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (40, 128), P (40, SHAFT + 8));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (200, 128), P (200, SHAFT + 8));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (192, 128), P (192, SHAFT + 8));
      break;
    }
}

/* ---- How it is made ---- */

static void
draw_making (FwSketch *s, int what)
{
  const double one = 120, two[2] = { 88, 140 };
  if (what == TOO_SHORT)
    {
      draw_shaft (s, &one, 1, 26, 24, 16, 224);
      const FwVec2 elbows[4] = { { 94, SHAFT }, { 94, SHAFT - 24 }, { 146, SHAFT - 24 }, { 146, SHAFT } };
      for (int i = 0; i < 4; i++)
        fw_sketch_box (s, "brass", elbows[i].x - 11, elbows[i].y - 15, 22, 30);
      const FwVec2 lap[4] = { { 83, 77 }, { 105, 77 }, { 105, 83 }, { 83, 83 } };
      fw_sketch_hatch (s, FW_SKETCH_BAD, lap, 4);
      const FwVec2 lap2[4] = { { 135, 77 }, { 157, 77 }, { 157, 83 }, { 135, 83 } };
      fw_sketch_hatch (s, FW_SKETCH_BAD, lap2, 4);
      fw_sketch_dim (s, FW_SKETCH_BAD, P (70, SHAFT - 24), P (70, SHAFT));
      fw_sketch_text (s, FW_SKETCH_BAD, P (66, SHAFT - 12), -1, 0, C_ ("drawing", "too short"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (120, 116), 0, 1, C_ ("drawing", "elbows overlap"));
    }
  else if (what == COLLIDE)
    {
      draw_shaft (s, two, 2, 18, 38, 16, 224);
      fw_sketch_box (s, "brass", 78, SHAFT - 46, 36, 16);
      fw_sketch_box (s, "brass", 114, SHAFT - 46, 36, 16);
      fw_sketch_tube (s, "brass", 7, (const FwVec2[]){ { 96, 10 }, { 96, 46 } }, 2);
      fw_sketch_tube (s, "brass", 7, (const FwVec2[]){ { 132, 10 }, { 132, 46 } }, 2);
      const FwVec2 lap[4] = { { 104, 40 }, { 124, 40 }, { 124, 100 }, { 104, 100 } };
      fw_sketch_hatch (s, FW_SKETCH_BAD, lap, 4);
      fw_sketch_dim (s, FW_SKETCH_BAD, P (104, 112), P (124, 112));
      fw_sketch_text (s, FW_SKETCH_BAD, P (114, 116), 0, 1, C_ ("drawing", "no room"));
    }
  else
    {
      draw_shaft (s, &one, 1, 30, 44, 60, 224);
      fw_sketch_disc (s, "steel", P (34, SHAFT), 17);
      fw_sketch_disc (s, "copper", P (34, SHAFT), 7);
      fw_sketch_arrow (s, FW_SKETCH_FAINT, P (54, SHAFT - 24), P (80, SHAFT - 24));
      fw_sketch_arrow (s, FW_SKETCH_BAD, P (104, 118), P (92, 102));
      fw_sketch_text (s, FW_SKETCH_BAD, P (106, 118), 1, 0, C_ ("drawing", "does not pass"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (34, SHAFT + 18), 0, 1, C_ ("drawing", "closed eye"));
    }
}

/* ---- Tube or bar ---- */

static void
draw_wall (FwSketch *s, int what)
{
  fw_sketch_disc (s, "copper", P (76, 72), 46);
  fw_sketch_disc (s, "paper", P (76, 72), 35);
  fw_sketch_disc (s, "copper", P (184, 72), 46 * 0.7);
  fw_sketch_dim (s, FW_SKETCH_HOT, P (30, 72), P (41, 72));
  fw_sketch_line (s, FW_SKETCH_HOT, P (36, 72), P (56, 72));
  fw_sketch_text (s, FW_SKETCH_HOT, P (56, 72), 1, 0, C_ ("drawing", "wall"));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (76, 122), 0, 1, C_ ("drawing", "tube"));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (184, 122), 0, 1, C_ ("drawing", "0: solid"));
}

static const FwSketchEntry entries[] = {
  { "crank-speed", draw_end, SPEED },
  { "throw-radius", draw_end, RADIUS },
  { "throw-phase", draw_end, PHASE },
  { "crank-angle", draw_end, CRANK_ANGLE },
  { "counterweight-mass", draw_end, WEIGHT_MASS },
  { "counterweight-radius", draw_end, WEIGHT_RADIUS },
  { "counterweight-phase", draw_end, WEIGHT_PHASE },
  { "handle", draw_handle, HANDLE },
  { "crank-torque", draw_handle, TORQUE },
  { "wish-torque", draw_handle, TORQUE },
  { "handle-force", draw_handle, HANDLE_FORCE },
  { "margin", draw_handle, MOTOR },
  { "over-run", draw_handle, OVER_RUN },
  { "throw-station", draw_front, STATION },
  { "throw-width", draw_front, WIDTH },
  { "crank-diameter", draw_front, DIAMETER },
  { "bearing", draw_front, BEARING },
  { "counterweight-station", draw_front, WEIGHT_STATION },
  { "pin-load", draw_front, PIN_LOAD },
  { "bearing-load", draw_front, BEARING_LOAD },
  { "throw-too-short", draw_making, TOO_SHORT },
  { "throws-collide", draw_making, COLLIDE },
  { "no-way-in", draw_making, NO_WAY_IN },
  { "wall", draw_wall, 0 },
};

const FwSketchEntry *
fw_sketches_crank (int *n)
{
  *n = G_N_ELEMENTS (entries);
  return entries;
}
