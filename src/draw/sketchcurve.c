/* Drawings of curves over one turn; the curves are those of the wing as the core solves it. */
#include <glib/gi18n.h>

#include "draw/sketches.h"

#define P(x, y) fw_vec2 (x, y)
#define STEPS 60

enum { RATE, RATE2, SNAP, WISH_ANGLE, WISH_AFTER, BAND, MEASURED, MISS, BUILT };

static const FwBox field = { 30, 22, 188, 98 };

typedef struct
{
  double angle[STEPS + 1], rate[STEPS + 1], rate2[STEPS + 1];
} Turn;

static void
solve_turn (FwSketchWing wing, Turn *turn)
{
  for (int i = 0; i <= STEPS; i++)
    {
      FwSketchPose pose;
      wing.crank_deg = 360.0 * i / STEPS;
      fw_sketch_wing_solve (&wing, &pose);
      turn->angle[i] = pose.angle_deg;
      turn->rate[i] = pose.rate;
      turn->rate2[i] = pose.rate2;
    }
}

static FwVec2
place (double step, double value, double most)
{
  return P (field.x + field.width * step / STEPS, field.y + field.height / 2 - value / most * field.height / 2);
}

static void
draw_field (FwSketch *s)
{
  fw_sketch_line (s, FW_SKETCH_FAINT, P (field.x, field.y + field.height), P (field.x + field.width, field.y + field.height));
  fw_sketch_line (s, FW_SKETCH_FAINT, P (field.x, field.y), P (field.x, field.y + field.height));
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, place (0, 0, 1), place (STEPS, 0, 1));
  fw_sketch_dash (s, FALSE);
  fw_sketch_text (s, FW_SKETCH_FAINT, P (field.x, field.y + field.height), 0, 1, "0°");
  fw_sketch_text (s, FW_SKETCH_FAINT, P (field.x + field.width, field.y + field.height), 0, 1, "360°");
}

static void
draw_curve (FwSketch *s, FwSketchRole role, const double *values, double most, double shift)
{
  FwVec2 p[STEPS + 1];
  for (int i = 0; i <= STEPS; i++)
    p[i] = place (i, values[(int)(i + shift * STEPS + STEPS) % STEPS], most);
  fw_sketch_path (s, role, p, STEPS + 1);
}

static int
peak_of (const double *values)
{
  int best = 0;
  for (int i = 0; i < STEPS; i++)
    if (values[i] > values[best])
      best = i;
  return best;
}

static double
size_of (const double *values)
{
  double most = 0;
  for (int i = 0; i < STEPS; i++)
    most = fmax (most, fabs (values[i]));
  return most * 1.12;
}

/* ---- Rates ---- */

static void
draw_rates (FwSketch *s, int what)
{
  FwSketchWing wing = fw_sketch_wing;
  Turn turn;
  if (what == SNAP) /* near its dead position */
    {
      wing.hold_px = 30;
      wing.throw_px = 22;
      wing.rod_px = 77.8;
    }
  solve_turn (wing, &turn);
  draw_field (s);
  if (what == SNAP)
    {
      double most = size_of (turn.rate2);
      int at = 0;
      for (int i = 0; i < STEPS; i++)
        if (fabs (turn.rate2[i]) > fabs (turn.rate2[at]))
          at = i;
      FwVec2 peak = place (at, turn.rate2[at], most);
      draw_curve (s, FW_SKETCH_INK, turn.rate2, most, 0);
      fw_sketch_text (s, FW_SKETCH_INK, P (field.x + field.width, 4), -1, 1, C_ ("drawing", "second rate"));
      fw_sketch_arc (s, FW_SKETCH_BAD, peak, 9, 0, 360, 0);
      fw_sketch_text (s, FW_SKETCH_BAD, P (peak.x + (at > STEPS / 2 ? -14 : 14), peak.y), at > STEPS / 2 ? -1 : 1, 0, C_ ("drawing", "snap"));
      return;
    }
  draw_curve (s, FW_SKETCH_FAINT, turn.angle, size_of (turn.angle) * 1.3, 0);
  draw_curve (s, FW_SKETCH_HOT, what == RATE ? turn.rate : turn.rate2, size_of (what == RATE ? turn.rate : turn.rate2), 0);
  fw_sketch_text (s, FW_SKETCH_HOT, P (field.x + 4, 4), 1, 1, what == RATE ? C_ ("drawing", "rate") : C_ ("drawing", "second rate"));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (field.x + field.width, 4), -1, 1, C_ ("drawing", "angle"));
}

/* ---- Wishes ---- */

static void
draw_wishes (FwSketch *s, int what)
{
  Turn turn;
  solve_turn (fw_sketch_wing, &turn);
  double most = size_of (turn.angle);
  draw_field (s);
  if (what == WISH_AFTER)
    {
      const double later = 0.14;
      int first = peak_of (turn.angle);
      double shift = first < STEPS / 3 ? 0 : (first - STEPS / 4.0) / STEPS;
      double a = first - shift * STEPS, b = a + later * STEPS;
      draw_curve (s, FW_SKETCH_INK, turn.angle, most, shift);
      fw_sketch_dash (s, TRUE);
      draw_curve (s, FW_SKETCH_HOT, turn.angle, most, shift - later);
      fw_sketch_dash (s, FALSE);
      double y = place (0, turn.angle[first], most).y;
      fw_sketch_line (s, FW_SKETCH_FAINT, P (place (a, 0, 1).x, y), P (place (a, 0, 1).x, 12));
      fw_sketch_line (s, FW_SKETCH_FAINT, P (place (b, 0, 1).x, y), P (place (b, 0, 1).x, 12));
      fw_sketch_dim (s, FW_SKETCH_HOT, P (place (a, 0, 1).x, 15), P (place (b, 0, 1).x, 15));
      fw_sketch_text (s, FW_SKETCH_HOT, P (place (b, 0, 1).x + 2, 14), 1, 0, C_ ("drawing", "later"));
      return;
    }
  const int at = STEPS / 4;
  FwVec2 now = place (at, turn.angle[at], most), wanted = P (now.x, now.y - 24);
  draw_curve (s, FW_SKETCH_INK, turn.angle, most, 0);
  fw_sketch_dash (s, TRUE);
  fw_sketch_line (s, FW_SKETCH_FAINT, P (now.x, field.y + field.height), wanted);
  fw_sketch_dash (s, FALSE);
  fw_sketch_arrow (s, FW_SKETCH_HOT, now, P (wanted.x, wanted.y + 5));
  fw_sketch_arc (s, FW_SKETCH_HOT, wanted, 5, 0, 360, 0);
  fw_sketch_text (s, FW_SKETCH_HOT, P (wanted.x + 8, wanted.y - 4), 1, 0, C_ ("drawing", "so high, here"));
}

/* ---- Hand-made and measured ---- */

static void
draw_real (FwSketch *s, int what)
{
  static const double scatter[] = { 0.09, -0.05, 0.12, 0.02, 0.1, 0.06, -0.02, 0.09 };
  Turn turn;
  FwVec2 band[2 * (STEPS + 1)];
  solve_turn (fw_sketch_wing, &turn);
  double most = size_of (turn.angle) * 1.15;
  draw_field (s);
  if (what == BAND)
    {
      for (int i = 0; i <= STEPS; i++)
        {
          band[i] = place (i, turn.angle[i] + most * 0.17, most);
          band[2 * STEPS + 1 - i] = place (i, turn.angle[i] - most * 0.17, most);
        }
      fw_sketch_hatch (s, FW_SKETCH_HOT, band, 2 * (STEPS + 1));
      draw_curve (s, FW_SKETCH_INK, turn.angle, most, 0);
      fw_sketch_text (s, FW_SKETCH_HOT, P (field.x + field.width, 4), -1, 1, C_ ("drawing", "nine of ten"));
      return;
    }
  fw_sketch_dash (s, TRUE);
  draw_curve (s, FW_SKETCH_FAINT, turn.angle, most, 0);
  fw_sketch_dash (s, FALSE);
  if (what == BUILT || what == MISS)
    {
      for (int i = 0; i <= STEPS; i++)
        turn.angle[i] += most * 0.16;
      draw_curve (s, FW_SKETCH_INK, turn.angle, most, 0);
    }
  for (guint i = 0; i < G_N_ELEMENTS (scatter); i++)
    {
      int step = 4 + (int)i * 7;
      double base = turn.angle[step], off = (what == MEASURED ? 0.16 : 0) + scatter[i] - 0.05;
      FwVec2 p = place (step, base + most * off * (what == BUILT ? 0.6 : 1), most);
      if (what == MISS && i == 2)
        {
          p.y -= 12;
          fw_sketch_dim (s, FW_SKETCH_HOT, place (step, base, most), P (p.x, p.y + 4));
          fw_sketch_text (s, FW_SKETCH_HOT, P (p.x + 6, p.y - 2), 1, -1, C_ ("drawing", "miss"));
        }
      fw_sketch_arc (s, FW_SKETCH_HOT, p, 3.5, 0, 360, 0);
    }
  if (what == MEASURED)
    fw_sketch_text (s, FW_SKETCH_HOT, P (field.x + 4, 4), 1, 1, C_ ("drawing", "measured"));
  if (what == BUILT)
    fw_sketch_text (s, FW_SKETCH_INK, P (field.x + 4, 4), 1, 1, C_ ("drawing", "as built"));
  fw_sketch_text (s, FW_SKETCH_FAINT, P (field.x + field.width, 4), -1, 1, C_ ("drawing", "as drawn"));
}

static const FwSketchEntry entries[] = {
  { "rate", draw_rates, RATE },
  { "second-rate", draw_rates, RATE2 },
  { "snap", draw_rates, SNAP },
  { "wish-angle", draw_wishes, WISH_ANGLE },
  { "wish-after", draw_wishes, WISH_AFTER },
  { "band", draw_real, BAND },
  { "measured", draw_real, MEASURED },
  { "miss", draw_real, MISS },
  { "built", draw_real, BUILT },
};

const FwSketchEntry *
fw_sketches_curve (int *n)
{
  *n = G_N_ELEMENTS (entries);
  return entries;
}
