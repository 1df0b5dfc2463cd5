/* What can be put on a crank and has room there, and what mends one that cannot be made. */
#include <glib.h>
#include <math.h>

#include "core/making.h"
#include "crank_case.h"

/* ---- What cannot be put on ---- */

/* The ring's bore lies along x; the bend's outer edge at the middle and its inner edge within the ring's
 * width are looked for by sampling. */
static double
bore_by_sampling (double pipe, double radius, double width)
{
  double low = INFINITY, high = -INFINITY;
  for (int i = 0; i <= 20000; i++)
    {
      double x = width * (i / 20000.0 - 0.5);
      high = fmax (high, sqrt (pow (radius + pipe / 2, 2) - x * x));
      low = fmin (low, sqrt (pow (radius - pipe / 2, 2) - x * x));
    }
  return high - low;
}

static void
a_ring_gets_round_a_bend_if_its_bore_allows (void)
{
  const double cases[][3] = { { 1.6, 3.2, 1 }, { 2, 5, 4 }, { 6, 12, 8 } };
  for (int i = 0; i < 3; i++)
    {
      double bore = bore_by_sampling (cases[i][0], cases[i][1], cases[i][2]);
      g_assert_true (fw_build_ring_passes (cases[i][0], cases[i][1], bore + 1e-6, cases[i][2]));
      g_assert_false (fw_build_ring_passes (cases[i][0], cases[i][1], bore - 1e-4, cases[i][2]));
    }
  g_assert_false (fw_build_ring_passes (2, 3, 1000, 4)); /* as wide as the inside of the bend */
}

static Case
winged (FwMake make)
{
  Case c = crank (make, 3);
  int t = build_throw (c.design, "mid", 40, 0, 0);
  int p = build_panel (c.design, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (20, 0, 200), 100);
  build_rod (c.design, "rod", FW_SIDE_RIGHT, from_throw (t), p, fw_vec3 (60, 0, 0), 190, 0);
  return c;
}

static void
a_closed_eye_gets_on_pieces_but_not_on_a_bent_crank (void)
{
  Case c = winged (FW_MAKE_BOLTED);
  solve (&c);
  g_assert_cmpint (count (c.build, FW_NO_WAY_IN), ==, 0);
  c.design->crank.build.make = FW_MAKE_BENT;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_NO_WAY_IN), ==, 1);
  g_assert_cmpint (c.build->troubles.items[0].part.kind, ==, FW_PART_LINK);
  c.design->crank.build.open_eyes = true;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_NO_WAY_IN), ==, 0);
  done (&c);
}

static void
a_wide_bore_gets_a_closed_eye_round_the_bends (void)
{
  Case c = winged (FW_MAKE_BENT);
  c.design->crank.build.clamp_mm = 3;
  c.design->crank.build.clamp_given = true;
  c.design->crank.build.bend_radius_mm = 6;
  c.design->crank.build.open_bearings = true;
  c.design->crank.build.eye_bore_mm = bore_by_sampling (3, 6, 3) - 0.01;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_NO_WAY_IN), ==, 1);
  NEAR (c.build->troubles.items[0].limit, bore_by_sampling (3, 6, 3), 1e-6);
  c.design->crank.build.eye_bore_mm += 0.02;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_NO_WAY_IN), ==, 0);
  done (&c);
}

static void
a_closed_bearing_goes_on_the_ends_but_not_between_throws_or_behind_a_handle (void)
{
  Case c = crank (FW_MAKE_BENT, 3);
  build_throw (c.design, "a", 40, 0, -80);
  build_throw (c.design, "b", 40, 180, 80);
  solve (&c);
  g_assert_cmpint (count (c.build, FW_NO_WAY_IN), ==, 0);
  c.design->base.bearings_mm[0] = 0; /* between */
  solve (&c);
  g_assert_cmpint (count (c.build, FW_NO_WAY_IN), ==, 1);
  c.design->base.bearings_mm[0] = -200;
  c.design->base.handle_mm = 60;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_NO_WAY_IN), ==, 1);
  done (&c);
}

static void
a_passable_eye_waits_for_the_bearing_in_its_way (void)
{
  Case c = winged (FW_MAKE_BENT);
  c.design->crank.build.clamp_mm = 3;
  c.design->crank.build.clamp_given = true;
  c.design->crank.build.bend_radius_mm = 6;
  c.design->crank.build.eye_bore_mm = 5;
  solve (&c); /* both bearings come off their ends first */
  g_assert_cmpint (c.build->troubles.n, ==, 0);
  int eye = -1;
  gboolean bearing_after = FALSE;
  for (int i = 0; i < c.build->n_rings; i++)
    if (c.build->rings[i].part.kind == FW_PART_LINK)
      eye = i;
  for (int i = eye + 1; i < c.build->n_rings; i++)
    bearing_after = bearing_after || c.build->rings[i].part.kind == FW_PART_BASE;
  g_assert_true (eye >= 0 && bearing_after);
  done (&c);
}

static void
rods_need_their_room_on_the_pin (void)
{
  Case c = winged (FW_MAKE_BOLTED);
  c.design->crank.build.clamp_mm = 20;
  c.design->crank.build.clamp_given = true;
  solve (&c);
  g_assert_cmpint (c.build->troubles.n, ==, 0);
  c.design->crank.build.clamp_mm = 21;
  c.design->crank.build.clamp_given = true;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_THROWS_COLLIDE), ==, 1);
  done (&c);
}

static void
a_bearing_needs_bare_axis (void)
{
  Case c = crank (FW_MAKE_BOLTED, 10);
  build_throw (c.design, "mid", 40, 0, 0);
  c.design->base.bearings_mm[1] = 10 + 6 + 5; /* pin, web, half a bearing */
  solve (&c);
  g_assert_cmpint (c.build->troubles.n, ==, 0);
  c.design->base.bearings_mm[1] = 20;
  solve (&c);
  g_assert_cmpint (count (c.build, FW_THROWS_COLLIDE), ==, 1);
  g_assert_cmpint (c.build->troubles.items[0].other.kind, ==, FW_PART_BASE);
  NEAR (c.build->troubles.items[0].value, 4, 1e-9);
  done (&c);
}

/* ---- What mends it ---- */

static void
another_make_or_a_longer_throw_mends_one_too_short (void)
{
  Case c = winged (FW_MAKE_ELBOWS);
  c.design->crank.build.pipe_mm = 10;
  fw_making_complete (&c.design->crank.build);
  c.design->crank.build.clamp_mm = 8;
  c.design->crank.build.clamp_given = true;
  solve (&c);
  const FwTrouble *t = &c.build->troubles.items[0];
  g_assert_cmpint (t->kind, ==, FW_THROW_TOO_SHORT);
  FwMake makes[3];
  g_assert_cmpint (fw_shop_other_makes (c.design, t, makes), >=, 1);
  g_assert_cmpint (makes[0], ==, FW_MAKE_BOLTED);
  FwRemedy remedies[4];
  int n = fw_shop_remedies (c.design, t, remedies, 4, NULL, NULL);
  g_assert_cmpint (n, >=, 1);
  for (int i = 0; i < n; i++)
    {
      g_assert_cmpint (remedies[i].param.kind, ==, FW_PARAM_THROW_RADIUS);
      g_assert_cmpfloat (remedies[i].to, >=, 44.45);
    }
  FwParam radius = { FW_PARAM_THROW_RADIUS, 0, 0 };
  FwSwingChange *swing = fw_shop_swing_change (c.mech, radius, 44.5);
  g_assert_cmpfloat (swing[0].after_deg, >, swing[0].before_deg);
  g_free (swing);
  done (&c);
}

static void
a_handle_too_short_is_lengthened_not_taken_away (void)
{
  Case c = winged (FW_MAKE_BOLTED);
  c.design->crank.throws[0].radius_mm = 40;
  c.design->base.handle_mm = 4;
  solve (&c);
  const FwTrouble *t = NULL;
  for (int i = 0; i < c.build->troubles.n && t == NULL; i++)
    t = c.build->troubles.items[i].kind == FW_THROW_TOO_SHORT ? &c.build->troubles.items[i] : NULL;
  g_assert_nonnull (t);
  FwRemedy remedies[4];
  int n = fw_shop_remedies (c.design, t, remedies, 4, NULL, NULL);
  g_assert_cmpint (n, ==, 1);
  g_assert_cmpint (remedies[0].param.kind, ==, FW_PARAM_HANDLE);
  g_assert_cmpfloat (remedies[0].to, >, 4);
  done (&c);
}

#define ADD(name) g_test_add_func ("/put-on/" #name, name)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD (a_ring_gets_round_a_bend_if_its_bore_allows);
  ADD (a_closed_eye_gets_on_pieces_but_not_on_a_bent_crank);
  ADD (a_wide_bore_gets_a_closed_eye_round_the_bends);
  ADD (a_closed_bearing_goes_on_the_ends_but_not_between_throws_or_behind_a_handle);
  ADD (a_passable_eye_waits_for_the_bearing_in_its_way);
  ADD (rods_need_their_room_on_the_pin);
  ADD (a_bearing_needs_bare_axis);
  ADD (another_make_or_a_longer_throw_mends_one_too_short);
  ADD (a_handle_too_short_is_lengthened_not_taken_away);
  return g_test_run ();
}
