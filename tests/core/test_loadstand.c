/* What mends tipping, locking and heavy sheets, tried again here on a finer turn. */
#include <glib.h>

#include "build_design.h"
#include "load_look.h"

/* A weight high above a plate that is too short and too light for it. */
static FwDesign *
top_heavy (bool fixed)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.turns_per_minute = 20;
  int pin = build_throw (d, "pin", 20, 0, 0);
  if (fixed)
    build_fixed (d, 0, 0, 800, 0);
  else
    build_sleeve (d, pin, 500, 0, 300);
  d->body.mass_g = 1200;
  d->base = (FwBase){ .plate_mm = { 500, 150, 18 }, .top_mm = -90, .handle_mm = 60, .mass_g = 800 };
  return d;
}

/* What stands on too small a foot is told the plate and its weight, which alone mend it: a deeper plate, not a wider
 * one, where it tips ahead. */
static void
test_stand_remedies (void)
{
  for (int fixed = 0; fixed < 2; fixed++)
    {
      FwDesign *d = top_heavy (fixed);
      Look *now = look_at (d, 360);
      g_assert_cmpint (now->list.n, >, 0);
      const FwTrouble t = now->room[0];
      g_assert_cmpint (t.kind, ==, FW_MAY_TIP);
      FwRemedy list[16];
      int n = fw_remedies (d, &t, list, 16, NULL, NULL);
      const FwRemedy *depth = by_kind (list, n, FW_PARAM_PLATE), *weight = by_kind (list, n, FW_PARAM_BASE_MASS);
      g_assert_nonnull (depth);
      g_assert_cmpint (depth->param.component, ==, 1);
      g_assert_cmpfloat (depth->to, >, depth->from);
      g_assert_nonnull (weight);
      g_assert_cmpfloat (weight->to, >, weight->from);
      g_assert_nonnull (by_kind (list, n, FW_PARAM_BODY_MASS));
      for (int k = 0; k < n; k++)
        {
          g_assert_false (list[k].param.kind == FW_PARAM_PLATE && list[k].param.component == 0);
          assert_mends (d, &t, &list[k]);
        }
      look_free (now);
      fw_design_free (d);
    }
}

/* A slide that its rod leans on beyond the angle of friction: less friction mends it, or a smaller offset. */
static void
test_locking_remedies (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.diameter_mm = 6;
  build_rail (d, build_throw (d, "pin", 10, 0, 0), 200, 140);
  d->body.mass_g = 1000;
  d->drive.friction = 1;
  d->drive.pin_radius_mm = 3;
  Look *now = look_at (d, 360);
  const FwTrouble t = now->room[0];
  g_assert_cmpint (t.kind, ==, FW_SELF_LOCKS);
  FwRemedy list[8];
  int n = fw_remedies (d, &t, list, 8, NULL, NULL);
  g_assert_nonnull (by_kind (list, n, FW_PARAM_FRICTION));
  g_assert_nonnull (by_kind (list, n, FW_PARAM_BODY_OFFSET));
  for (int k = 0; k < n; k++)
    assert_mends (d, &t, &list[k]);
  look_free (now);
  fw_design_free (d);
}

/* A wing of sheet whose weight drives the crank on its way down: a lighter sheet is offered. */
static void
test_lighter_sheet (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  d->crank.turns_per_minute = 10;
  int pin = build_throw (d, "pin", 30, 0, 0);
  build_fixed (d, 0, 0, 300, 0);
  int wing = build_panel (d, "wing", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (0, 0, 0), 400);
  build_sheet (d, wing, 150);
  d->panels[wing].areal_gm2 = 6000;
  build_rod (d, "rod", FW_SIDE_BOTH, from_throw (pin), wing, fw_vec3 (60, 0, 0), 300, 0);
  d->base.handle_mm = 60;
  Look *now = look_at (d, 360);
  const FwTrouble *t = NULL;
  for (int i = 0; i < now->list.n && t == NULL; i++)
    t = now->room[i].kind == FW_OVER_RUN ? &now->room[i] : NULL;
  g_assert_nonnull (t);
  FwRemedy list[8];
  int n = fw_remedies (d, t, list, 8, NULL, NULL);
  const FwRemedy *lighter = by_kind (list, n, FW_PARAM_PANEL_AREAL);
  g_assert_nonnull (lighter);
  g_assert_cmpfloat (lighter->to, <, lighter->from);
  for (int k = 0; k < n; k++)
    assert_mends (d, t, &list[k]);
  look_free (now);
  fw_design_free (d);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/load stand/what may tip is mended by a deeper plate, a heavier base or a lighter body", test_stand_remedies);
  g_test_add_func ("/load stand/what locks itself is mended by less friction or a smaller offset", test_locking_remedies);
  g_test_add_func ("/load stand/a sheet that drives the crank is offered lighter", test_lighter_sheet);
  return g_test_run ();
}
