/* Drawings of single parts: how hinges and rods lie in space, how parts give way, springs, the base. */
#include <glib/gi18n.h>

#include "draw/sketches.h"

#define P(x, y) fw_vec2 (x, y)

/* ---- Hinge lines ---- */

enum { SWEEP, CANT };

static void
draw_sweep (FwSketch *s)
{
  const FwVec2 body[] = { { 62, 20 }, { 78, 12 }, { 94, 20 }, { 100, 60 }, { 94, 110 }, { 78, 138 }, { 62, 110 }, { 56, 60 } };
  const FwVec2 wing[] = { { 106, 46 }, { 224, 58 }, { 228, 74 }, { 204, 94 }, { 94, 92 } };
  fw_sketch_sheet (s, "kraft", body, G_N_ELEMENTS (body));
  fw_sketch_sheet (s, "kraft", wing, G_N_ELEMENTS (wing));
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, P (98, 118), P (98, 14));
  fw_sketch_dash (s, FALSE);
  fw_sketch_tube (s, "brass", 4, (const FwVec2[]){ { 92, 102 }, { 110, 28 } }, 2);
  FwVec2 pivot = P (98, 78);
  double turn = fw_sketch_angle (P (92, 102), P (110, 28));
  fw_sketch_wedge (s, FW_SKETCH_HOT, pivot, 56, 0, turn);
  fw_sketch_arc (s, FW_SKETCH_HOT, pivot, 56, -8, turn, 1);
  fw_sketch_text (s, FW_SKETCH_HOT, P (118, 22), 1, 0, C_ ("drawing", "sweep"));
  fw_sketch_arrow (s, FW_SKETCH_FAINT, P (30, 70), P (30, 24));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (30, 74), 0, 1, C_ ("drawing", "ahead"));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (166, 112), 0, 1, C_ ("drawing", "from above"));
}

static void
draw_cant (FwSketch *s)
{
  FwVec2 hinge = P (112, 72);
  fw_sketch_bird (s, P (104, 74), 0, 1.45);
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, P (50, 72), P (214, 72));
  fw_sketch_dash (s, FALSE);
  fw_sketch_tube (s, "brass", 4, (const FwVec2[]){ fw_sketch_at (hinge, 40, 255), fw_sketch_at (hinge, 60, 75) }, 2);
  fw_sketch_wedge (s, FW_SKETCH_HOT, hinge, 92, 75, 90);
  fw_sketch_line (s, FW_SKETCH_HOT, fw_sketch_at (hinge, 60, 75), fw_sketch_at (hinge, 96, 75));
  fw_sketch_arc (s, FW_SKETCH_HOT, hinge, 92, 96, 75, 1);
  fw_sketch_text (s, FW_SKETCH_HOT, P (200, 42), 0, -1, C_ ("drawing", "cant"));
  fw_sketch_arrow (s, FW_SKETCH_FAINT, P (176, 118), P (224, 118));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (172, 118), -1, 0, C_ ("drawing", "ahead"));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (60, 112), 0, 1, C_ ("drawing", "from the side"));
}

static void
draw_hinge_line (FwSketch *s, int what)
{
  if (what == SWEEP)
    draw_sweep (s);
  else
    draw_cant (s);
}

/* ---- Lean and bend ---- */

enum { LEAN, LEAN_LIMIT, LEAN_BAD, BEND, BEND_LIMIT, BEND_BAD, ROD_DIAMETER };

static void
draw_lean (FwSketch *s, int what)
{
  FwVec2 pin = P (110, 106), plumb = P (110, 22);
  double lean = what == LEAN_BAD ? 34 : 18, limit = 25;
  FwVec2 top = fw_sketch_at (pin, 86, lean);
  const FwVec2 shaft[6] = { { 30, 130 }, { 88, 130 }, { 88, 106 }, { 132, 106 }, { 132, 130 }, { 214, 130 } };
  FwSketchRole role = what == LEAN_BAD ? FW_SKETCH_BAD : FW_SKETCH_HOT;

  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, pin, plumb);
  if (what != LEAN)
    {
      fw_sketch_line (s, FW_SKETCH_FAINT, pin, fw_sketch_at (pin, 86, limit));
      fw_sketch_line (s, FW_SKETCH_FAINT, pin, fw_sketch_at (pin, 86, -limit));
    }
  fw_sketch_dash (s, FALSE);
  fw_sketch_tube (s, "copper", 9, shaft, 6);
  fw_sketch_box (s, "brass", 102, 98, 16, 16);
  fw_sketch_tube (s, "brass", 5, (const FwVec2[]){ pin, top }, 2);
  fw_sketch_pin (s, top);
  if (what == LEAN_LIMIT)
    {
      fw_sketch_wedge (s, role, pin, 56, -limit, limit);
      fw_sketch_arc (s, role, pin, 56, -limit, limit, 2);
      fw_sketch_text (s, role, P (166, 50), 1, 0, C_ ("drawing", "allowed"));
    }
  else
    {
      fw_sketch_wedge (s, role, pin, 56, 0, lean);
      fw_sketch_arc (s, role, pin, 56, 0, lean, 1);
      fw_sketch_text (s, role, P (170, 56), 1, 0, C_ ("drawing", "lean"));
    }
  fw_sketch_text (s, FW_SKETCH_FAINT, P (228, 122), -1, -1, C_ ("drawing", "along the axis"));
}

static void
draw_bend (FwSketch *s, int what)
{
  FwVec2 hold = P (112, 46);
  double bend = what == BEND_BAD ? 52 : 26, limit = 45, from = 180, to = 180 - bend;
  FwSketchRole role = what == BEND_BAD ? FW_SKETCH_BAD : FW_SKETCH_HOT;
  FwVec2 pin = fw_sketch_at (hold, 88, to);
  const FwVec2 sheet[4] = { { 40, 38 }, { 190, 38 }, { 190, 44 }, { 40, 44 } };

  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, hold, P (112, 138));
  if (what != BEND)
    for (int side = -1; side <= 1; side += 2)
      fw_sketch_line (s, FW_SKETCH_FAINT, hold, fw_sketch_at (hold, 80, 180 + side * limit));
  fw_sketch_dash (s, FALSE);
  fw_sketch_sheet (s, "kraft", sheet, 4);
  fw_sketch_tube (s, "brass", 5, (const FwVec2[]){ hold, pin }, 2);
  fw_sketch_pin (s, hold);
  fw_sketch_pin (s, pin);
  if (what == BEND_LIMIT)
    {
      fw_sketch_wedge (s, role, hold, 46, 180 + limit, 180 - limit);
      fw_sketch_arc (s, role, hold, 46, 180 + limit, 180 - limit, 2);
      fw_sketch_text (s, role, P (158, 78), 1, 0, C_ ("drawing", "allowed"));
    }
  else
    {
      fw_sketch_wedge (s, role, hold, 50, from, to);
      fw_sketch_arc (s, role, hold, 50, from, to, 1);
      fw_sketch_text (s, role, what == BEND_BAD ? P (134, 124) : P (166, 92), 1, 0, C_ ("drawing", "bend"));
    }
  fw_sketch_text (s, FW_SKETCH_FAINT, P (115, 34), 0, -1, C_ ("drawing", "the panel's edge"));
}

static void
draw_thick_rod (FwSketch *s)
{
  fw_sketch_tube (s, "brass", 22, (const FwVec2[]){ { 40, 108 }, { 200, 44 } }, 2);
  double turn = fw_sketch_angle (P (40, 108), P (200, 44));
  FwVec2 mid = P (120, 76), a = fw_sketch_at (mid, 11, turn - 90), b = fw_sketch_at (mid, 11, turn + 90);
  fw_sketch_arrow (s, FW_SKETCH_HOT, fw_sketch_at (mid, 38, turn - 90), a);
  fw_sketch_arrow (s, FW_SKETCH_HOT, fw_sketch_at (mid, 38, turn + 90), b);
  fw_sketch_text (s, FW_SKETCH_HOT, P (140, 108), 1, 0, C_ ("drawing", "diameter"));
}

static void
draw_rod (FwSketch *s, int what)
{
  if (what == ROD_DIAMETER)
    draw_thick_rod (s);
  else if (what <= LEAN_BAD)
    draw_lean (s, what);
  else
    draw_bend (s, what);
}

/* ---- Sheets, bars and how they give ---- */

enum { THICKNESS, SHEET, SAG, STRESS, BUCKLE, RESONANCE, OVER_STRESS };

/* A cantilever's deflection line, textbook: y = 1.5 t^2 - 0.5 t^3 of the end's. */
static void
draw_beam (FwSketch *s, double sag)
{
  enum { N = 21 };
  FwVec2 p[N];
  for (int i = 0; i < N; i++)
    {
      double t = i / (N - 1.0);
      p[i] = P (44 + 156 * t, 58 + sag * (1.5 * t * t - 0.5 * t * t * t));
    }
  fw_sketch_tube (s, "brass", 9, p, N);
}

static void
draw_sheet (FwSketch *s, int what)
{
  const FwVec2 top[4] = { { 46, 62 }, { 120, 34 }, { 206, 54 }, { 132, 84 } };
  const FwVec2 front[4] = { { 46, 62 }, { 132, 84 }, { 132, 100 }, { 46, 78 } };
  const FwVec2 side[4] = { { 132, 84 }, { 206, 54 }, { 206, 70 }, { 132, 100 } };
  fw_sketch_sheet (s, "kraft", front, 4);
  fw_sketch_sheet (s, "kraft", side, 4);
  fw_sketch_sheet (s, "kraft", top, 4);
  if (what == THICKNESS)
    {
      fw_sketch_dim (s, FW_SKETCH_HOT, P (36, 60), P (36, 76));
      fw_sketch_text (s, FW_SKETCH_HOT, P (20, 88), 1, 1, C_ ("drawing", "thickness"));
      return;
    }
  fw_sketch_dim (s, FW_SKETCH_FAINT, P (46, 90), P (132, 112));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (80, 104), -1, 1, "1 m");
  fw_sketch_dim (s, FW_SKETCH_FAINT, P (132, 112), P (206, 82));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (174, 102), 1, 1, "1 m");
  fw_sketch_arrow (s, FW_SKETCH_HOT, P (126, 58), P (126, 30));
  fw_sketch_text (s, FW_SKETCH_HOT, P (130, 28), 1, -1, C_ ("drawing", "so many grams"));
}

static void
draw_bending (FwSketch *s, int what)
{
  fw_sketch_ground (s, P (44, 32), P (44, 88), -1, 0);
  if (what == SAG || what == RESONANCE)
    {
      fw_sketch_ghost (s, TRUE);
      draw_beam (s, what == RESONANCE ? -26 : 0);
      fw_sketch_ghost (s, FALSE);
    }
  draw_beam (s, what == STRESS ? 14 : what == OVER_STRESS ? 40 : 28);
  if (what == SAG)
    {
      fw_sketch_dim (s, FW_SKETCH_HOT, P (214, 58), P (214, 86));
      fw_sketch_text (s, FW_SKETCH_HOT, P (214, 54), 0, -1, C_ ("drawing", "sag"));
      fw_sketch_arrow (s, FW_SKETCH_FAINT, P (196, 92), P (196, 126));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (192, 116), -1, 0, C_ ("drawing", "load"));
    }
  else if (what == RESONANCE)
    {
      fw_sketch_arc (s, FW_SKETCH_BAD, P (44, 58), 168, 81, 99, 2);
      fw_sketch_text (s, FW_SKETCH_BAD, P (120, 112), 0, 0, C_ ("drawing", "shakes more and more"));
    }
  else
    {
      FwSketchRole role = what == OVER_STRESS ? FW_SKETCH_BAD : FW_SKETCH_HOT;
      const FwVec2 spot[4] = { { 45, 51 }, { 72, 52 }, { 72, 64 }, { 45, 63 } };
      fw_sketch_hatch (s, role, spot, 4);
      fw_sketch_line (s, role, P (58, 50), P (82, 28));
      fw_sketch_text (s, role, P (82, 26), 1, 0, what == STRESS ? C_ ("drawing", "strained most here") : C_ ("drawing", "bends for good"));
      fw_sketch_arrow (s, FW_SKETCH_FAINT, P (198, what == STRESS ? 84 : 108), P (198, what == STRESS ? 122 : 140));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (194, what == STRESS ? 112 : 130), -1, 0, C_ ("drawing", "load"));
    }
}

/* Half a sine: the shape in which a pinned bar buckles (Euler). */
static void
draw_buckle (FwSketch *s)
{
  enum { N = 25 };
  FwVec2 p[N];
  for (int i = 0; i < N; i++)
    p[i] = P (96 + 34 * sin (G_PI * i / (N - 1.0)), 126 - 104.0 * i / (N - 1));
  fw_sketch_ghost (s, TRUE);
  fw_sketch_tube (s, "brass", 6, (const FwVec2[]){ { 96, 126 }, { 96, 22 } }, 2);
  fw_sketch_ghost (s, FALSE);
  fw_sketch_tube (s, "brass", 6, p, N);
  fw_sketch_pin (s, p[0]);
  fw_sketch_pin (s, p[N - 1]);
  fw_sketch_arrow (s, FW_SKETCH_BAD, P (72, 12), P (72, 44));
  fw_sketch_arrow (s, FW_SKETCH_BAD, P (72, 138), P (72, 106));
  fw_sketch_text (s, FW_SKETCH_BAD, P (66, 75), -1, 0, C_ ("drawing", "push"));
  fw_sketch_text (s, FW_SKETCH_BAD, P (138, 74), 1, 0, C_ ("drawing", "bows out"));
}

static void
draw_giving (FwSketch *s, int what)
{
  if (what == BUCKLE)
    draw_buckle (s);
  else if (what <= SHEET)
    draw_sheet (s, what);
  else
    draw_bending (s, what);
}

/* ---- Springs ---- */

enum { RATE, FREE, END };

static void
draw_spring (FwSketch *s, int what)
{
  fw_sketch_ground (s, P (40, 20), P (200, 20), 0, -1);
  if (what != END)
    fw_sketch_coil (s, FW_SKETCH_INK, P (84, 20), P (84, 70), 9);
  if (what != END)
    {
      fw_sketch_coil (s, FW_SKETCH_INK, P (160, 20), P (160, 98), 9);
      fw_sketch_box (s, "steel", 148, 98, 24, 24);
    }
  fw_sketch_dash (s, TRUE);
  if (what != END)
    fw_sketch_line (s, FW_SKETCH_FAINT, P (92, 70), P (204, 70));
  fw_sketch_dash (s, FALSE);
  if (what == RATE)
    {
      fw_sketch_dim (s, FW_SKETCH_HOT, P (190, 70), P (190, 98));
      fw_sketch_text (s, FW_SKETCH_HOT, P (192, 84), 1, 0, C_ ("drawing", "mm"));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (160, 124), P (160, 146));
      fw_sketch_text (s, FW_SKETCH_HOT, P (164, 137), 1, 0, C_ ("drawing", "N"));
    }
  else if (what == FREE)
    {
      fw_sketch_dim (s, FW_SKETCH_HOT, P (62, 20), P (62, 70));
      fw_sketch_text (s, FW_SKETCH_HOT, P (60, 46), -1, 0, C_ ("drawing", "free"));
      fw_sketch_dim (s, FW_SKETCH_FAINT, P (142, 70), P (142, 98));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (140, 84), -1, 0, C_ ("drawing", "preload"));
    }
  else
    {
      const FwVec2 arm[4] = { { 30, 96 }, { 210, 70 }, { 210, 75 }, { 30, 103 } };
      fw_sketch_sheet (s, "kraft", arm, 4);
      fw_sketch_coil (s, FW_SKETCH_INK, P (132, 20), P (132, 84), 9);
      fw_sketch_pin (s, P (34, 99));
      fw_sketch_arc (s, FW_SKETCH_HOT, P (132, 84), 8, 0, 360, 0);
      fw_sketch_arc (s, FW_SKETCH_HOT, P (132, 20), 8, 90, 270, 0);
      fw_sketch_text (s, FW_SKETCH_HOT, P (144, 98), 1, 1, C_ ("drawing", "end"));
    }
}

/* ---- Base ---- */

enum { PLATE, PLATE_TOP, BASE_MASS, TIP };

static void
draw_base_piece (FwSketch *s)
{
  fw_sketch_box (s, "birch", 60, 110, 120, 12);
  fw_sketch_box (s, "birch", 112, 78, 16, 32);
  fw_sketch_tube (s, "copper", 6, (const FwVec2[]){ { 120, 78 }, { 120, 46 } }, 2);
  fw_sketch_bird (s, P (120, 36), 0, 0.7);
  fw_sketch_disc (s, "copper", P (120, 84), 6);
}

static void
draw_tipping (FwSketch *s)
{
  const double slope = 10;
  FwVec2 rim = P (176, 116), left = fw_sketch_at (rim, 170, 270 + slope), feet = fw_sketch_at (rim, 96, 270 + slope);
  FwVec2 far = fw_sketch_at (rim, 60, 90 + slope), mid = fw_vec2_mix (rim, feet, 0.5), top = fw_sketch_at (mid, 66, slope);
  FwVec2 up = fw_sketch_at (P (0, 0), 10, slope);
  const FwVec2 plate[4] = { rim, feet, { feet.x + up.x, feet.y + up.y }, { rim.x + up.x, rim.y + up.y } };
  fw_sketch_ground (s, left, far, 0, 1);
  fw_sketch_sheet (s, "birch", plate, 4);
  fw_sketch_tube (s, "copper", 7, (const FwVec2[]){ fw_sketch_at (mid, 12, slope), top }, 2);
  fw_sketch_bird (s, top, slope, 0.7);
  FwVec2 centre = fw_sketch_at (mid, 62, slope);
  fw_sketch_arrow (s, FW_SKETCH_BAD, centre, P (centre.x, 134));
  fw_sketch_text (s, FW_SKETCH_BAD, P (centre.x + 30, 30), 1, -1, C_ ("drawing", "weight"));
  fw_sketch_line (s, FW_SKETCH_BAD, P (centre.x, 44), P (centre.x + 30, 26));
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, left, P (left.x + 90, left.y));
  fw_sketch_dash (s, FALSE);
  fw_sketch_arc (s, FW_SKETCH_HOT, left, 62, 90, 90 + slope, 1);
  fw_sketch_text (s, FW_SKETCH_HOT, P (left.x + 64, left.y - 2), 1, -1, C_ ("drawing", "slope"));
}

static void
draw_base (FwSketch *s, int what)
{
  if (what == TIP)
    {
      draw_tipping (s);
      return;
    }
  draw_base_piece (s);
  if (what == PLATE)
    {
      fw_sketch_dim (s, FW_SKETCH_HOT, P (60, 132), P (180, 132));
      fw_sketch_text (s, FW_SKETCH_HOT, P (184, 132), 1, 0, C_ ("drawing", "width"));
      fw_sketch_dim (s, FW_SKETCH_HOT, P (192, 110), P (192, 122));
      fw_sketch_text (s, FW_SKETCH_HOT, P (192, 106), 0, -1, C_ ("drawing", "thickness"));
    }
  else if (what == PLATE_TOP)
    {
      fw_sketch_dash (s, TRUE);
      fw_sketch_line (s, FW_SKETCH_FAINT, P (128, 84), P (206, 84));
      fw_sketch_dash (s, FALSE);
      fw_sketch_line (s, FW_SKETCH_FAINT, P (180, 110), P (206, 110));
      fw_sketch_dim (s, FW_SKETCH_HOT, P (198, 84), P (198, 110));
      fw_sketch_text (s, FW_SKETCH_HOT, P (198, 80), 0, -1, C_ ("drawing", "height"));
    }
  else
    {
      fw_sketch_box (s, "steel", 76, 122, 88, 10);
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (190, 108), P (190, 140));
      fw_sketch_text (s, FW_SKETCH_HOT, P (190, 124), 1, 0, C_ ("drawing", "mass"));
    }
}

static const FwSketchEntry entries[] = {
  { "sweep", draw_hinge_line, SWEEP },
  { "cant", draw_hinge_line, CANT },
  { "rod-lean", draw_rod, LEAN },
  { "lean-allowed", draw_rod, LEAN_LIMIT },
  { "lean-limit", draw_rod, LEAN_BAD },
  { "rod-bend", draw_rod, BEND },
  { "bend-allowed", draw_rod, BEND_LIMIT },
  { "bend-limit", draw_rod, BEND_BAD },
  { "rod-diameter", draw_rod, ROD_DIAMETER },
  { "thickness", draw_giving, THICKNESS },
  { "sheet-weight", draw_giving, SHEET },
  { "sag", draw_giving, SAG },
  { "stress", draw_giving, STRESS },
  { "over-stress", draw_giving, OVER_STRESS },
  { "may-buckle", draw_giving, BUCKLE },
  { "resonance", draw_giving, RESONANCE },
  { "spring-rate", draw_spring, RATE },
  { "spring-free", draw_spring, FREE },
  { "spring-end", draw_spring, END },
  { "plate", draw_base, PLATE },
  { "plate-top", draw_base, PLATE_TOP },
  { "base-mass", draw_base, BASE_MASS },
  { "may-tip", draw_base, TIP },
};

const FwSketchEntry *
fw_sketches_part (int *n)
{
  *n = G_N_ELEMENTS (entries);
  return entries;
}
