/* Every allocation fails in turn: the answer is "out of memory", and nothing is left behind. The
 * linker hands us malloc and its kin (--wrap); libc's own, inside strdup, too. */
#include <string.h>

#include "build_design.h"
#include "core/loadremedy.h"
#include "core/sensitivity.h"
#include "core/trouble.h"
#include "failing_memory.h"
#include "near.h"

void *__real_realloc (void *p, size_t size);
char *__real_strdup (const char *s);
void *__wrap_realloc (void *p, size_t size);
char *__wrap_strdup (const char *s);

void *
__wrap_realloc (void *old, size_t size)
{
  void *p = fails () ? NULL : __real_realloc (old, size);
  held += old == NULL && p != NULL;
  return p;
}

char *
__wrap_strdup (const char *s)
{
  char *p = fails () ? NULL : __real_strdup (s);
  held += p != NULL;
  return p;
}

/* All that a design may own. */
static FwDesign *
full_design (void)
{
  FwDesign *d = build_heron ();
  build_sheet (d, 0, 40);
  d->body.solid.sections = calloc (2, sizeof (FwSection));
  d->body.solid.n_sections = 2;
  d->panels[1].solid.sections = calloc (3, sizeof (FwSection));
  d->panels[1].solid.n_sections = 3;
  d->base.bearings_mm = calloc (2, sizeof (double));
  d->base.bearings_mm[0] = -200;
  d->base.bearings_mm[1] = 200;
  d->base.n_bearings = 2;
  d->springs = calloc (1, sizeof *d->springs);
  d->springs[0] = (FwSpringPart){ .name = strdup ("cord"),
                                  .side = FW_SIDE_BOTH,
                                  .from = from_body (30, 0, 80),
                                  .to = from_panel (0, 90, 0, 0),
                                  .rate_Npmm = 0.1,
                                  .free_mm = 40 };
  d->n_springs = 1;
  d->crank.weights = calloc (1, sizeof *d->crank.weights);
  d->crank.weights[0] = (FwCrankWeight){ strdup ("lead"), 100, 30, 180, 0 };
  d->crank.n_weights = 1;
  build_panel (d, "tail", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, -60, 0), 90);
  d->panels[2].reach = FW_REACH_BACK;
  return d;
}

static void
test_copy (void)
{
  FwDesign *d = full_design ();
  int failures = 0;
  for (long n = 0;; n++)
    {
      long before = held;
      left = n;
      FwDesign *copy = fw_design_copy (d);
      bool ran_out = left < 0;
      left = -1;
      if (copy == NULL)
        {
          g_assert_true (ran_out);
          g_assert_cmpint (held, ==, before);
          failures++;
          continue;
        }
      g_assert_false (ran_out);
      fw_design_free (copy);
      g_assert_cmpint (held, ==, before);
      break;
    }
  g_assert_cmpint (failures, >, 10);
  fw_design_free (d);
}

static void
test_build (void)
{
  FwDesign *d = full_design ();
  int failures = 0;
  for (long n = 0;; n++)
    {
      long before = held;
      FwMechanism *untouched = (FwMechanism *)(void *)&failures, *out = untouched;
      left = n;
      FwStatus status = fw_mechanism_build (d, &out, NULL);
      bool ran_out = left < 0;
      left = -1;
      if (status == FW_OK)
        {
          g_assert_false (ran_out);
          fw_mechanism_free (out);
          g_assert_cmpint (held, ==, before);
          break;
        }
      g_assert_cmpint (status, ==, FW_NO_MEMORY);
      g_assert_true (out == untouched);
      g_assert_cmpint (held, ==, before);
      failures++;
    }
  g_assert_cmpint (failures, >, 20);
  fw_design_free (d);
}

static void
test_refused_build (void)
{
  FwDesign *d = full_design ();
  d->rods[0].from = from_panel (1, 0, 0, 0);
  for (long n = 0; n < 100; n++)
    {
      long before = held;
      FwMechanism *out = NULL;
      left = n;
      FwStatus status = fw_mechanism_build (d, &out, NULL);
      left = -1;
      g_assert_true (status == FW_NO_MEMORY || status == FW_RING);
      g_assert_cmpint (held, ==, before);
    }
  fw_design_free (d);
}

static void
test_pose_and_turn (void)
{
  Rig rig = rig_new (full_design ());
  long before = held;
  left = 0;
  g_assert_null (fw_pose_new (rig.mechanism));
  left = 0;
  g_assert_null (fw_turn_new (rig.mechanism, 72));
  left = -1;
  g_assert_cmpint (held, ==, before);
  rig_free (&rig);
}

/* Solving and finding trouble allocate nothing. */
static void
test_no_allocation (void)
{
  Rig rig = rig_new (full_design ());
  FwTurn *turn = fw_turn_new (rig.mechanism, 72);
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  FwExtreme low, high;
  left = 0; /* the next one fails, and says so */
  rig_solve (&rig, 33);
  fw_turn_solve (turn, rig.mechanism);
  fw_trouble_find (turn, rig.mechanism, &list);
  fw_turn_extremes (turn, rig.mechanism, (FwQuantity){ FW_Q_ANGLE, 0 }, &low, &high);
  g_assert_cmpint (left, ==, 0);
  left = -1;
  free (turn);
  rig_free (&rig);
}

/* Searches that cannot have their memory find nothing, and leave nothing behind. */
static void
test_searches (void)
{
  FwDesign *d = full_design ();
  d->rods[0].length_mm += 60;
  Rig rig = rig_new (d);
  FwTurn *turn = fw_turn_new (rig.mechanism, 72);
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  fw_turn_solve (turn, rig.mechanism);
  fw_trouble_find (turn, rig.mechanism, &list);
  g_assert_cmpint (list.n, >, 0);
  FwParam length = { FW_PARAM_ROD_LENGTH, 0, 0 };
  for (long n = 0; n < 60; n += n < 20 ? 1 : 5)
    {
      long before = held;
      FwRemedy remedies[2];
      FwBand bands[8];
      left = n;
      fw_remedies (d, &list.items[0], remedies, 2, NULL, NULL);
      left = n;
      fw_bands (d, length, 380, 440, bands, 8, NULL, NULL);
      left = n;
      fw_try_value (d, length, 412);
      left = -1;
      g_assert_cmpint (held, ==, before);
    }
  free (turn);
  rig_free (&rig);
}

/* Room for loads, and for derivatives. */
static void
test_loads_and_derivatives (void)
{
  Rig rig = rig_new (full_design ());
  FwParam params[8];
  g_assert_cmpint (fw_design_params (rig.design, params, 8), >, 8);
  long before = held;
  left = 0;
  g_assert_null (fw_loads_new (rig.mechanism));
  left = 0;
  g_assert_null (fw_load_turn_new (rig.mechanism, 72));
  left = 0;
  g_assert_null (fw_sensitivity_new (rig.mechanism, params, 8));
  left = -1;
  /* Its panel that hangs is differenced, which takes memory: it says where that is not to be had. */
  FwSensitivity *s = fw_sensitivity_new (rig.mechanism, params, 8);
  rig_solve (&rig, 40);
  int refused = 0;
  for (long n = 0;; n++, refused++)
    {
      long taken = held;
      left = n;
      bool solved = fw_sensitivity_solve (s, rig.mechanism, rig.pose), ran_out = left < 0;
      left = -1;
      g_assert_cmpint (held, ==, taken);
      g_assert_true (solved == !ran_out);
      if (solved)
        break;
    }
  g_assert_cmpint (refused, >, 3);
  free (s);
  g_assert_cmpint (held, ==, before);
  rig_free (&rig);
}

/* What mends trouble of forces: without memory nothing is found, nothing is left and the design is as it was. */
static void
test_load_searches (void)
{
  FwDesign *d = build_heron ();
  d->body.play_mm = 0.8;
  Rig rig = rig_new (fw_design_copy (d));
  FwLoadTurn *turn = fw_load_turn_new (rig.mechanism, 72);
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  fw_load_turn_solve (turn, rig.mechanism, fw_crank_speed (d));
  fw_load_trouble_find (turn, rig.mechanism, &list);
  int at = 0;
  while (at < list.n && room[at].kind != FW_LOAD_REVERSAL)
    at++;
  g_assert_cmpint (at, <, list.n);
  for (long n = 0; n < 80; n += n < 24 ? 1 : 7)
    {
      long before = held;
      FwRemedy remedies[2];
      FwSpringFit spring;
      FwCounterweight weight;
      left = n;
      int found = fw_load_remedies (d, &room[at], remedies, 2, NULL, NULL);
      left = n;
      bool spring_found = fw_spring_fit_for (d, &room[at], &spring, NULL, NULL);
      left = n;
      bool weight_found = fw_counterweight_for (d, &room[at], &weight, NULL, NULL);
      left = -1;
      /* Later on one trial may fail and another be found. */
      g_assert_true (n > 10 || (found == 0 && !spring_found && !weight_found));
      g_assert_cmpint (held, ==, before);
      g_assert_cmpint (d->n_springs + d->body.n_lumps, ==, 0);
    }
  /* Putting one on: the design is as it was where it cannot be had. */
  FwSpringFit spring = { .spring = { .side = FW_SIDE_BOTH, .from = from_base (60, 0, 0), .to = from_panel (0, 90, 0, 0),
                                     .rate_Npmm = 1, .free_mm = 10 } };
  FwCounterweight weight = { .panel = FW_ON_BODY, .mass_g = 100 };
  for (long n = 0; n < 2; n++)
    {
      left = n;
      g_assert_false (fw_spring_fit (d, &spring));
      left = 0;
      g_assert_false (fw_counterweight_fit (d, &weight));
      left = -1;
      g_assert_cmpint (d->n_springs + d->body.n_lumps, ==, 0);
    }
  free (turn);
  rig_free (&rig);
  fw_design_free (d);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/memory/a copy that runs out of memory is none and leaves nothing", test_copy);
  g_test_add_func ("/memory/a mechanism that runs out of memory says so and leaves nothing",
                   test_build);
  g_test_add_func ("/memory/a refused design leaves nothing", test_refused_build);
  g_test_add_func ("/memory/poses and turns that run out of memory are none", test_pose_and_turn);
  g_test_add_func ("/memory/solving and listing trouble allocate nothing", test_no_allocation);
  g_test_add_func ("/memory/searches without memory find nothing and leave nothing", test_searches);
  g_test_add_func ("/memory/loads and derivatives that run out of memory say so", test_loads_and_derivatives);
  g_test_add_func ("/memory/searches for what mends forces find nothing without memory", test_load_searches);
  return g_test_run ();
}
