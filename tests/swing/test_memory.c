/* Every allocation of ours fails in turn, and nothing is left behind; while it swings nothing is
 * allocated. The linker hands us malloc and its kin (--wrap); SUNDIALS keeps its own. */
#include "failing_memory.h"
#include "swing_rig.h"

static FwDesign *
design (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 0, 0);
  build_sleeve (d, 0, 420, 0, 180);
  add_pendulum (d, FW_ON_BODY, 40, 150, 80);
  add_pendulum (d, 0, 150, 150, 80);
  add_pendulum (d, FW_ON_BODY, 60, 150, 80);
  build_stops (d, 2, -30, 30);
  d->drive.friction = 0.2;
  d->drive.pin_radius_mm = 2;
  return d;
}

static void
anywhere (void)
{
  FwDesign *d = design ();
  FwMechanism *mech;
  g_assert_cmpint (fw_mechanism_build (d, &mech, NULL), ==, FW_OK);
  int failures = 0;
  for (long n = 0;; n++)
    {
      long before = held;
      left = n;
      FwSwings *s = fw_swing_new (mech, 36);
      FwSwingStatus status = s == NULL ? FW_SWING_NO_MEMORY : fw_swing_solve (s, 5, NULL, NULL);
      gboolean ran_out = left < 0;
      left = -1;
      fw_swing_free (s);
      g_assert_cmpint (held, ==, before);
      g_assert_cmpint (status, ==, ran_out ? FW_SWING_NO_MEMORY : FW_SWING_OK);
      if (!ran_out)
        break;
      failures++;
    }
  g_assert_cmpint (failures, >, 15);
  fw_mechanism_free (mech);
  fw_design_free (d);
}

/* From the first step on the next allocation would fail, and be seen. */
static bool
none_from_now (void *data)
{
  left = 0;
  return false;
}

static void
none_while_it_swings (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 0, 0);
  build_sleeve (d, 0, 420, 0, 180);
  add_pendulum (d, FW_ON_BODY, 40, 150, 80);
  build_stops (d, 0, -30, 30);
  SwingRig r = swing_rig_new (d, 5);
  g_assert_cmpint (fw_swing_solve (r.swing, 16, none_from_now, NULL), ==, FW_SWING_OK);
  g_assert_cmpint (left, ==, 0);
  left = -1;
  g_assert_cmpint (r.swing->n_blows, >, 0);
  swing_rig_free (&r);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/memory/may run out anywhere", anywhere);
  g_test_add_func ("/memory/none is taken while it swings", none_while_it_swings);
  return g_test_run ();
}
