/* Drawings of searching and making: numbers that may move, odds and shares, saw cuts and templates. */
#include <glib/gi18n.h>

#include "draw/sketches.h"

#define P(x, y) fw_vec2 (x, y)

/* ---- Numbers ---- */

enum { FREE, LIMITS, SAME, WITHOUT, HELPS, SHARE };

static void
draw_slider (FwSketch *s, double y, double from, double to, double at)
{
  fw_sketch_line (s, FW_SKETCH_FAINT, P (30, y), P (210, y));
  fw_sketch_line (s, FW_SKETCH_HOT, P (from, y), P (to, y));
  fw_sketch_disc (s, "brass", P (at, y), 8);
}

static void
draw_numbers (FwSketch *s, int what)
{
  switch (what)
    {
    case FREE:
      draw_slider (s, 52, 72, 172, 118);
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (130, 52), P (158, 52));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (106, 52), P (82, 52));
      fw_sketch_text (s, FW_SKETCH_HOT, P (122, 36), 0, -1, C_ ("drawing", "may change"));
      fw_sketch_line (s, FW_SKETCH_FAINT, P (30, 108), P (210, 108));
      fw_sketch_disc (s, "steel", P (92, 108), 8);
      fw_sketch_text (s, FW_SKETCH_FAINT, P (106, 98), 1, -1, C_ ("drawing", "stays"));
      break;
    case LIMITS:
      draw_slider (s, 74, 72, 172, 128);
      fw_sketch_ground (s, P (72, 54), P (72, 94), -1, 0);
      fw_sketch_ground (s, P (172, 54), P (172, 94), 1, 0);
      fw_sketch_text (s, FW_SKETCH_HOT, P (72, 98), 0, 1, C_ ("drawing", "least"));
      fw_sketch_text (s, FW_SKETCH_HOT, P (172, 98), 0, 1, C_ ("drawing", "most"));
      break;
    case SAME:
      for (int i = 0; i < 2; i++)
        {
          FwVec2 a = P (48, 46 + 56 * i), b = P (192, 46 + 56 * i);
          fw_sketch_tube (s, "brass", 8, (const FwVec2[]){ a, b }, 2);
          fw_sketch_pin (s, a);
          fw_sketch_pin (s, b);
        }
      fw_sketch_dash (s, TRUE);
      fw_sketch_line (s, FW_SKETCH_FAINT, P (48, 28), P (48, 120));
      fw_sketch_line (s, FW_SKETCH_FAINT, P (192, 28), P (192, 120));
      fw_sketch_dash (s, FALSE);
      fw_sketch_dim (s, FW_SKETCH_HOT, P (48, 74), P (192, 74));
      fw_sketch_text (s, FW_SKETCH_HOT, P (120, 76), 0, -1, "=");
      break;
    case WITHOUT:
      for (int i = 0; i < 3; i++)
        {
          double y = 34 + 36 * i;
          fw_sketch_arc (s, FW_SKETCH_HOT, P (60, y), 10, 0, 360, 0);
          fw_sketch_path (s, FW_SKETCH_HOT, (const FwVec2[]){ { 55, y }, { 59, y + 4 }, { 66, y - 5 } }, 3);
          fw_sketch_line (s, FW_SKETCH_FAINT, P (82, y), P (200 - 22 * i, y));
        }
      break;
    default:
      {
        static const double lengths[4] = { 120, 70, 34, 14 };
        for (int i = 0; i < 4; i++)
          {
            double y = 30 + 28 * i, x = what == HELPS ? 116 : 70;
            gboolean left = what == HELPS && i == 1;
            const FwVec2 bar[4] = { { x, y - 8 }, { x + (left ? -1 : 1) * lengths[i] * (what == HELPS ? 0.7 : 1), y - 8 },
                                    { x + (left ? -1 : 1) * lengths[i] * (what == HELPS ? 0.7 : 1), y + 8 }, { x, y + 8 } };
            fw_sketch_sheet (s, i == 0 ? "brass" : "board", bar, 4);
            if (i == 0)
              fw_sketch_text (s, FW_SKETCH_HOT, P (bar[1].x + 2, y), 1, 0, what == HELPS ? "+" : "62 %");
            if (left)
              fw_sketch_text (s, FW_SKETCH_FAINT, P (bar[1].x - 2, y), -1, 0, "−");
          }
        fw_sketch_line (s, FW_SKETCH_INK, P (what == HELPS ? 116 : 70, 12), P (what == HELPS ? 116 : 70, 130));
      }
      break;
    }
}

/* ---- By chance ---- */

enum { SPREAD, ODDS };

static void
draw_chance (FwSketch *s, int what)
{
  if (what == ODDS)
    {
      for (int i = 0; i < 40; i++)
        {
          FwVec2 at = P (48 + 16 * (i % 10), 40 + 20 * (i / 10));
          gboolean bad = i == 17 || i == 34;
          fw_sketch_arc (s, bad ? FW_SKETCH_BAD : FW_SKETCH_HOT, at, 5, 0, 360, 0);
          if (bad)
            {
              fw_sketch_line (s, FW_SKETCH_BAD, P (at.x - 5, at.y - 5), P (at.x + 5, at.y + 5));
              fw_sketch_line (s, FW_SKETCH_BAD, P (at.x - 5, at.y + 5), P (at.x + 5, at.y - 5));
            }
        }
      fw_sketch_text (s, FW_SKETCH_HOT, P (120, 118), 0, 1, C_ ("drawing", "38 of 40 go round"));
      return;
    }
  /* The normal curve with a standard deviation of half the spread, cut at 1.5 spreads. */
  enum { N = 49 };
  const double spread = 52;
  FwVec2 p[N], inside[N + 2];
  int k = 0;
  inside[k++] = P (120 - spread, 116);
  for (int i = 0; i < N; i++)
    {
      double x = (i / (N - 1.0) * 2 - 1) * 1.5 * spread, y = exp (-2 * x * x / (spread * spread));
      p[i] = P (120 + x, 116 - 84 * y);
      if (fabs (x) <= spread)
        inside[k++] = p[i];
    }
  inside[k++] = P (120 + spread, 116);
  fw_sketch_hatch (s, FW_SKETCH_HOT, inside, k);
  fw_sketch_path (s, FW_SKETCH_INK, p, N);
  fw_sketch_line (s, FW_SKETCH_FAINT, P (30, 116), P (210, 116));
  fw_sketch_dim (s, FW_SKETCH_HOT, P (120, 126), P (120 + spread, 126));
  fw_sketch_line (s, FW_SKETCH_FAINT, P (120, 24), P (120, 130));
  fw_sketch_text (s, FW_SKETCH_HOT, P (120 + spread + 2, 128), 1, 0, C_ ("drawing", "spread"));
  fw_sketch_text (s, FW_SKETCH_HOT, P (150, 40), 1, 0, C_ ("drawing", "19 of 20"));
}

/* ---- At the bench ---- */

enum { SIZE, KERF, TEMPLATE };

static void
draw_bench (FwSketch *s, int what)
{
  switch (what)
    {
    case SIZE:
      fw_sketch_ground (s, P (20, 132), P (220, 132), 0, 1);
      fw_sketch_tube (s, "copper", 4, (const FwVec2[]){ { 58, 130 }, { 58, 106 } }, 2);
      fw_sketch_bird (s, P (58, 104), 0, 0.55);
      fw_sketch_tube (s, "copper", 8, (const FwVec2[]){ { 158, 128 }, { 158, 80 } }, 2);
      fw_sketch_bird (s, P (158, 76), 0, 1.1);
      fw_sketch_text (s, FW_SKETCH_FAINT, P (58, 82), 0, -1, "1");
      fw_sketch_text (s, FW_SKETCH_HOT, P (158, 42), 0, -1, C_ ("drawing", "× 2: weighs 8 times"));
      break;
    case KERF:
      fw_sketch_box (s, "brass", -10, 74, 127, 28);
      fw_sketch_box (s, "brass", 125, 74, 130, 28);
      fw_sketch_box (s, "steel", 118, 14, 6, 98);
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (94, 124), P (117, 124));
      fw_sketch_arrow (s, FW_SKETCH_HOT, P (148, 124), P (125, 124));
      fw_sketch_text (s, FW_SKETCH_HOT, P (152, 124), 1, 0, C_ ("drawing", "kerf"));
      fw_sketch_text (s, FW_SKETCH_FAINT, P (128, 26), 1, 0, C_ ("drawing", "saw"));
      break;
    default:
      {
        const FwVec2 wing[] = { { 62, 66 }, { 76, 40 }, { 126, 30 }, { 178, 48 }, { 172, 62 }, { 118, 80 }, { 72, 86 } };
        fw_sketch_box (s, "paper", 34, 10, 172, 130);
        fw_sketch_sheet (s, "kraft", wing, G_N_ELEMENTS (wing));
        fw_sketch_dim (s, FW_SKETCH_HOT, P (62, 106), P (178, 106));
        fw_sketch_line (s, FW_SKETCH_HOT, P (62, 100), P (62, 112));
        fw_sketch_line (s, FW_SKETCH_HOT, P (178, 100), P (178, 112));
        fw_sketch_text (s, FW_SKETCH_HOT, P (120, 108), 0, 1, "100 mm");
      }
      break;
    }
}

static const FwSketchEntry entries[] = {
  { "free-number", draw_numbers, FREE },
  { "wish-number", draw_numbers, LIMITS },
  { "wish-same", draw_numbers, SAME },
  { "wish-without", draw_numbers, WITHOUT },
  { "helps", draw_numbers, HELPS },
  { "share", draw_numbers, SHARE },
  { "spread", draw_chance, SPREAD },
  { "odds", draw_chance, ODDS },
  { "size", draw_bench, SIZE },
  { "kerf", draw_bench, KERF },
  { "template", draw_bench, TEMPLATE },
};

const FwSketchEntry *
fw_sketches_making (int *n)
{
  *n = G_N_ELEMENTS (entries);
  return entries;
}
