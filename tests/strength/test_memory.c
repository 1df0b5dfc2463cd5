/* Every allocation fails in turn, and nothing is left behind; solving allocates nothing. The linker
 * hands us malloc and its kin (--wrap). */
#include <glib.h>

#include "build_design.h"
#include "failing_memory.h"
#include "near.h"
#include "strength/strengthtrouble.h"

static FwDesign *
full_design (void)
{
  FwDesign *d = build_heron ();
  d->crank.stuff = d->body.stuff = (FwStuff){ 8940, 117, 44, 207 };
  for (int i = 0; i < d->n_panels; i++)
    {
      build_sheet (d, i, 40);
      d->panels[i].stuff = (FwStuff){ 250, 3, 1, 8 };
    }
  for (int i = 0; i < d->n_rods; i++)
    d->rods[i].stuff = (FwStuff){ 8490, 97, 37, 124 };
  return d;
}

static void
working_out (void)
{
  Rig rig = rig_new (full_design ());
  int failures = 0;
  for (long n = 0;; n++)
    {
      long before = held;
      left = n;
      FwStrength *s = fw_strength_new (rig.mechanism);
      gboolean ran_out = left < 0;
      left = -1;
      if (s != NULL)
        {
          g_assert_false (ran_out);
          g_assert_cmpint (s->crank->status, ==, FW_FRAME_OK);
          fw_strength_free (s);
          g_assert_cmpint (held, ==, before);
          break;
        }
      g_assert_true (ran_out);
      g_assert_cmpint (held, ==, before);
      failures++;
    }
  g_assert_cmpint (failures, >, 20);
  rig_free (&rig);
}

static void
solving (void)
{
  Rig rig = rig_new (full_design ());
  FwLoadTurn *turn = fw_load_turn_new (rig.mechanism, 72);
  FwStrength *s = fw_strength_new (rig.mechanism);
  FwTrouble room[8];
  FwTroubleList list = { .items = room, .capacity = 8 };
  fw_load_turn_solve (turn, rig.mechanism, 3);
  left = 0; /* the next one fails, and says so */
  fw_strength_solve (s, turn);
  fw_strength_troubles (s, &list);
  g_assert_cmpint (left, ==, 0);
  left = -1;
  fw_strength_free (s);
  free (turn);
  rig_free (&rig);
}

/* The list cannot hold what was not found. */
static void
finding (void)
{
  Rig rig = rig_new (full_design ());
  FwLoadTurn *turn = fw_load_turn_new (rig.mechanism, 72);
  fw_load_turn_solve (turn, rig.mechanism, 3);
  long before = held;
  FwTroubleList list = { 0 };
  left = 0;
  fw_strength_trouble_find (turn, rig.mechanism, &list);
  left = -1;
  g_assert_true (list.full);
  g_assert_cmpint (held, ==, before);
  free (turn);
  rig_free (&rig);
}

static void
frequencies (void)
{
  FwSpaceFrame *f = fw_space_frame_new (2, 1);
  f->nodes[1].at.x = 1;
  f->nodes[0].held = FW_HOLD_ALL;
  f->bars[0] = (FwFrameBar){ .from = 0,
                             .to = 1,
                             .section = fw_section_round (0.01, 0),
                             .young = 1e9,
                             .shear = 4e8,
                             .density = 1 };
  g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
  for (long n = 0; n < 5; n++)
    {
      long before = held;
      double omega;
      left = n;
      g_assert_cmpint (fw_space_frame_frequencies (f, FW_MASS_CONSISTENT, 1, &omega, NULL), ==,
                       FW_FRAME_NO_MEMORY);
      left = -1;
      g_assert_cmpint (held, ==, before);
    }
  fw_space_frame_free (f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/memory/working out a design may fail anywhere", working_out);
  g_test_add_func ("/memory/solving takes none", solving);
  g_test_add_func ("/memory/a search without memory says that it is not whole", finding);
  g_test_add_func ("/memory/frequencies may fail anywhere", frequencies);
  return g_test_run ();
}
