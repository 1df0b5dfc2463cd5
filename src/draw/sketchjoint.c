/* Drawings of joints: play, knocks, friction, stops that are met, and what closes on a finger. */
#include <glib/gi18n.h>

#include "draw/sketches.h"

#define P(x, y) fw_vec2 (x, y)

/* ---- Play, seen close ---- */

enum { HINGE_PLAY, ROD_PLAY, BODY_PLAY, FIT, KNOCK, FRICTION, PIN_RADIUS, LOCKS };

/* An eye with a pin that is thinner than its hole, touching on one side. */
static void
draw_eye (FwSketch *s, FwVec2 at, double hole, double pin, double side, const char *material)
{
  fw_sketch_disc (s, material, at, hole + 12);
  fw_sketch_disc (s, "paper", at, hole);
  fw_sketch_disc (s, "copper", P (at.x + side * (hole - pin), at.y), pin);
}

static void
draw_play (FwSketch *s, int what)
{
  FwVec2 at = P (104, 74);
  if (what == BODY_PLAY)
    {
      fw_sketch_tube (s, "copper", 30, (const FwVec2[]){ { 104, 164 }, { 104, -14 } }, 2);
      fw_sketch_box (s, "birch", 43, 50, 46, 48);
      fw_sketch_box (s, "birch", 132, 50, 46, 48);
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (164, 38), P (132, 38));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (90, 38), P (119, 38));
      fw_sketch_text (s, FW_SKETCH_HOT, P (168, 38), 1, 0, C_ ("drawing", "play"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (155, 102), 0, 1, C_ ("drawing", "guide"));
      return;
    }
  double hole = 32, pin = 25;
  if (what == HINGE_PLAY)
    fw_sketch_box (s, "kraft", 104, 64, 120, 20);
  else if (what != FIT)
    fw_sketch_tube (s, "brass", 20, (const FwVec2[]){ at, { 256, 74 } }, 2);
  draw_eye (s, at, hole, pin, -1, what == FIT ? "board" : what == HINGE_PLAY ? "steel" : "brass");
  double right = at.x - (hole - pin) + pin;
  fw_sketch_arrow (s, FW_SKETCH_HOT, P (right - 24, at.y), P (right, at.y));
  fw_sketch_arrow (s, FW_SKETCH_HOT, P (at.x + hole + 24, at.y), P (at.x + hole, at.y));
  fw_sketch_line (s, FW_SKETCH_HOT, P (at.x + hole - 6, at.y - 12), P (176, 28));
  fw_sketch_text (s, FW_SKETCH_HOT, P (176, 26), 1, 0, what == FIT ? C_ ("drawing", "fit") : C_ ("drawing", "play"));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (50, 126), 0, 1, what == FIT ? C_ ("drawing", "printed") : C_ ("drawing", "pin"));
  fw_sketch_line (s, FW_SKETCH_FAINT, P (56, 126), P (what == FIT ? 74 : 86, what == FIT ? 104 : 88));
}

static void
draw_knock (FwSketch *s)
{
  for (int i = 0; i < 2; i++)
    {
      FwVec2 at = P (62 + 116 * i, 66);
      double side = i == 0 ? -1 : 1;
      draw_eye (s, at, 22, 16, side, "brass");
      fw_sketch_arrow (s, i == 0 ? FW_SKETCH_INK : FW_SKETCH_BAD, P (at.x + (i == 0 ? 20 : -20), 118), P (at.x + (i == 0 ? -20 : 20), 118));
      fw_sketch_text (s, i == 0 ? FW_SKETCH_INK : FW_SKETCH_BAD, P (at.x, 122), 0, 1, i == 0 ? C_ ("drawing", "pull") : C_ ("drawing", "push"));
    }
  FwVec2 hit = P (178 + 22, 66);
  for (int k = -1; k <= 1; k++)
    fw_sketch_line (s, FW_SKETCH_BAD, fw_sketch_at (hit, 16, 90 + 28 * k), fw_sketch_at (hit, 26, 90 + 28 * k));
  fw_sketch_arrow (s, FW_SKETCH_FAINT, P (106, 66), P (134, 66));
  fw_sketch_text (s, FW_SKETCH_BAD, P (214, 36), 0, -1, C_ ("drawing", "click"));
}

static void
draw_friction (FwSketch *s, int what)
{
  if (what == FRICTION || what == LOCKS)
    {
      gboolean locks = what == LOCKS;
      double lean = locks ? 62 : 20;
      FwVec2 foot = P (118, 92);
      fw_sketch_ground (s, P (24, 104), P (216, 104), 0, 1);
      fw_sketch_box (s, "birch", 84, 76, 68, 28);
      FwVec2 from = fw_sketch_at (foot, 66, locks ? -90 + lean : 0);
      fw_sketch_arrow (s, FW_SKETCH_INK, locks ? P (92, 20) : from, locks ? P (112, 74) : P (118, 74));
      fw_sketch_text (s, FW_SKETCH_INK, P (locks ? 88 : 114, 30), -1, 0, C_ ("drawing", "force"));
      fw_sketch_arrow (s, locks ? FW_SKETCH_BAD : FW_SKETCH_HOT, P (150, 114), P (locks ? 82 : 112, 114));
      fw_sketch_text (s, locks ? FW_SKETCH_BAD : FW_SKETCH_HOT, P (154, 120), 1, 0, C_ ("drawing", "friction"));
      if (locks)
        fw_sketch_text (s, FW_SKETCH_BAD, P (160, 56), 1, 0, C_ ("drawing", "stands"));
      else
        {
          fw_sketch_arrow (s, FW_SKETCH_FAINT, P (158, 90), P (192, 90));
          fw_sketch_text (s, FW_SKETCH_FAINT, P (176, 86), 0, -1, C_ ("drawing", "slides"));
        }
      return;
    }
  FwVec2 at = P (98, 74);
  fw_sketch_tube (s, "brass", 20, (const FwVec2[]){ at, { 256, 74 } }, 2);
  draw_eye (s, at, 30, 30, 0, "brass");
  fw_sketch_dim (s, FW_SKETCH_HOT, at, fw_sketch_at (at, 30, 45));
  fw_sketch_text (s, FW_SKETCH_HOT, P (150, 30), 1, 0, C_ ("drawing", "radius"));
  fw_sketch_line (s, FW_SKETCH_HOT, fw_sketch_at (at, 20, 45), P (150, 30));
  fw_sketch_arc (s, FW_SKETCH_FAINT, at, 50, 200, 300, 2);
}

static void
draw_close (FwSketch *s, int what)
{
  if (what <= FIT)
    draw_play (s, what);
  else if (what == KNOCK)
    draw_knock (s);
  else
    draw_friction (s, what);
}

/* ---- Meeting a stop ---- */

enum { RESTITUTION, SLAMS, SWING };

/* A ball that falls from height 1 and keeps 0.55 of its speed, seen moment by moment. */
static void
draw_bounce (FwSketch *s)
{
  const double e = 0.55, floor = 122, drop = 88;
  FwVec2 p[64];
  int n = 0;
  double x = 40, rise = sqrt (drop);
  fw_sketch_ground (s, P (20, floor + 8), P (220, floor + 8), 0, 1);
  for (int i = 0; i <= 12; i++)
    p[n++] = P (x + 22 * i / 12.0, floor - drop * (1 - (i / 12.0) * (i / 12.0)));
  x += 22;
  for (int hop = 0; hop < 2; hop++)
    {
      rise *= e;
      double width = 2 * 22 * rise / sqrt (drop);
      for (int i = 1; i <= 16; i++)
        p[n++] = P (x + width * i / 16, floor - rise * rise * (1 - pow (2 * i / 16.0 - 1, 2)));
      x += width;
    }
  fw_sketch_dash (s, TRUE);
  fw_sketch_path (s, FW_SKETCH_FAINT, p, n);
  fw_sketch_dash (s, FALSE);
  fw_sketch_ghost (s, TRUE);
  fw_sketch_disc (s, "copper", p[0], 8);
  fw_sketch_ghost (s, FALSE);
  fw_sketch_disc (s, "copper", p[20], 8);
  double top = floor - drop * e * e;
  fw_sketch_line (s, FW_SKETCH_FAINT, P (100, top), P (150, top));
  fw_sketch_line (s, FW_SKETCH_FAINT, P (52, floor - drop), P (194, floor - drop));
  fw_sketch_dim (s, FW_SKETCH_HOT, P (140, top), P (140, floor));
  g_autofree char *share = g_strdup_printf ("%.1f", e * e);
  fw_sketch_text (s, FW_SKETCH_HOT, P (142, (top + floor) / 2), 1, 0, share);
  fw_sketch_dim (s, FW_SKETCH_FAINT, P (184, floor - drop), P (184, floor));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (186, floor - drop / 2), 1, 0, "1");
}

static void
draw_hanging (FwSketch *s, int what)
{
  FwVec2 hinge = P (88, 26), tip = fw_sketch_at (hinge, 92, what == SLAMS ? 148 : 164);
  fw_sketch_tube (s, "kraft", 12, (const FwVec2[]){ { 16, 26 }, { 88, 26 } }, 2);
  for (int k = 1; k <= 2; k++)
    {
      fw_sketch_ghost (s, TRUE);
      fw_sketch_tube (s, "kraft", 8, (const FwVec2[]){ hinge, fw_sketch_at (hinge, 92, what == SLAMS ? 148 + 18 * k : 164 + 20 * k) }, 2);
      fw_sketch_ghost (s, FALSE);
    }
  fw_sketch_tube (s, "kraft", 8, (const FwVec2[]){ hinge, tip }, 2);
  fw_sketch_pin (s, hinge);
  if (what == SLAMS)
    {
      FwVec2 a = fw_sketch_at (P (hinge.x + 5, hinge.y), 34, 146), b = fw_sketch_at (P (hinge.x + 5, hinge.y), 64, 146);
      fw_sketch_ground (s, a, b, 1, 0);
      fw_sketch_arc (s, FW_SKETCH_BAD, hinge, 102, 196, 152, 1);
      for (int k = -1; k <= 1; k++)
        fw_sketch_line (s, FW_SKETCH_BAD, fw_sketch_at (tip, 12, 70 + 30 * k), fw_sketch_at (tip, 22, 70 + 30 * k));
      fw_sketch_text (s, FW_SKETCH_BAD, P (168, 112), 1, 0, C_ ("drawing", "claps"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (140, 60), 1, 0, C_ ("drawing", "stop"));
      return;
    }
  fw_sketch_arc (s, FW_SKETCH_HOT, hinge, 104, 160, 208, 2);
  fw_sketch_text (s, FW_SKETCH_HOT, P (136, 120), 1, 0, C_ ("drawing", "swing"));
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, hinge, P (88, 120));
  fw_sketch_dash (s, FALSE);
}

static void
draw_stop (FwSketch *s, int what)
{
  if (what == RESTITUTION)
    draw_bounce (s);
  else
    draw_hanging (s, what);
}

/* ---- Too near ---- */

enum { HITS, PINCH };

static void
draw_near (FwSketch *s, int what)
{
  if (what == HITS)
    {
      fw_sketch_box (s, "birch", 20, 104, 200, 14);
      fw_sketch_tube (s, "brass", 9, (const FwVec2[]){ { 52, 20 }, { 128, 124 } }, 2);
      fw_sketch_pin (s, P (52, 20));
      const FwVec2 lap[4] = { { 100, 98 }, { 138, 98 }, { 138, 124 }, { 100, 124 } };
      fw_sketch_hatch (s, FW_SKETCH_BAD, lap, 4);
      fw_sketch_arc (s, FW_SKETCH_BAD, P (119, 111), 22, 0, 360, 0);
      fw_sketch_text (s, FW_SKETCH_BAD, P (146, 92), 1, -1, C_ ("drawing", "both are here"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (190, 122), 0, 1, C_ ("drawing", "base"));
      return;
    }
  const FwVec2 low[4] = { { 40, 92 }, { 214, 112 }, { 214, 120 }, { 40, 104 } };
  const FwVec2 high[4] = { { 40, 88 }, { 206, 20 }, { 210, 28 }, { 40, 98 } };
  const FwVec2 closing[4] = { { 40, 90 }, { 214, 78 }, { 214, 86 }, { 40, 100 } };
  fw_sketch_ghost (s, TRUE);
  fw_sketch_sheet (s, "kraft", high, 4);
  fw_sketch_ghost (s, FALSE);
  fw_sketch_tube (s, "paper", 16, (const FwVec2[]){ { 262, 100 }, { 152, 97 } }, 2);
  fw_sketch_sheet (s, "kraft", low, 4);
  fw_sketch_sheet (s, "kraft", closing, 4);
  fw_sketch_pin (s, P (42, 96));
  fw_sketch_arc (s, FW_SKETCH_BAD, P (42, 96), 130, 66, 82, 1);
  fw_sketch_dim (s, FW_SKETCH_BAD, P (128, 84), P (128, 104));
  fw_sketch_text (s, FW_SKETCH_BAD, P (124, 118), 0, 1, C_ ("drawing", "below 25 mm"));
  fw_sketch_line (s, FW_SKETCH_BAD, P (126, 120), P (128, 104));
}

static const FwSketchEntry entries[] = {
  { "hinge-play", draw_close, HINGE_PLAY },
  { "rod-play", draw_close, ROD_PLAY },
  { "body-play", draw_close, BODY_PLAY },
  { "fit", draw_close, FIT },
  { "load-reversal", draw_close, KNOCK },
  { "friction", draw_close, FRICTION },
  { "pin-radius", draw_close, PIN_RADIUS },
  { "self-locks", draw_close, LOCKS },
  { "restitution", draw_stop, RESTITUTION },
  { "slams", draw_stop, SLAMS },
  { "swing", draw_stop, SWING },
  { "hits", draw_near, HITS },
  { "pinch", draw_near, PINCH },
};

const FwSketchEntry *
fw_sketches_joint (int *n)
{
  *n = G_N_ELEMENTS (entries);
  return entries;
}
