/* Designs too large to be solved between two frames, without a window: the pose is there at once, the whole turn comes
 * from beside the main loop, and of many changes it is the last that is solved. */
#include <math.h>

#include "app/session.h"
#include "app/whole.h"
#include "manypairs.h"

#define PATIENCE_S 120
#define PAIRS 40

typedef struct
{
  FwSession *session;
  int designs;
} Watch;

static void
on_design (Watch *watch)
{
  watch->designs++;
}

static void
watch_open (Watch *watch, int pairs)
{
  *watch = (Watch) { .session = fw_session_new () };
  g_signal_connect_swapped (watch->session, "design-changed", G_CALLBACK (on_design), watch);
  fw_session_set_document (watch->session, many_pairs (pairs), NULL);
}

static void
watch_close (Watch *watch)
{
  g_signal_handlers_disconnect_by_data (watch->session, watch);
  g_object_unref (watch->session);
}

static void
wait_until_known (Watch *watch)
{
  gint64 end = g_get_monotonic_time () + PATIENCE_S * G_USEC_PER_SEC;
  while (!fw_session_turn_is_known (watch->session) && g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  g_assert_true (fw_session_turn_is_known (watch->session));
}

static void
set_length (Watch *watch, int rod, double length)
{
  g_autofree char *path = g_strdup_printf ("rods.r%d.length", rod);
  FwChange one = { .value = length };
  g_assert_true (fw_param_from_path (fw_document_design (fw_session_document (watch->session)), path, &one.param));
  g_assert_true (fw_session_change (watch->session, &one, 1, "Change", NULL));
}

/* What the session knows is what comes of its document when it is solved here and now. */
static void
check_is_of_the_document (Watch *watch)
{
  const FwScene *scene = fw_session_scene (watch->session);
  FwWhole *whole = g_new0 (FwWhole, 1);
  FwMechanism *mech = NULL;
  const FwQuantity last = { FW_Q_ANGLE, scene->mechanism->n_members - 1 };

  g_assert_cmpint (fw_mechanism_build (fw_document_design (fw_session_document (watch->session)), &mech, NULL), ==, FW_OK);
  g_assert_true (fw_whole_solve (whole, mech, FALSE, NULL, NULL));
  g_assert_cmpint (scene->troubles->n, ==, whole->troubles.n);
  for (int i = 0; i < whole->troubles.n; i++)
    {
      const FwTrouble *a = &scene->troubles->items[i], *b = &whole->troubles.items[i];
      g_assert_true (fw_trouble_same (a, b));
      g_assert_cmpfloat (a->value, ==, b->value);
    }
  for (int i = 0; i < FW_SOLVED_STEPS; i++)
    {
      g_assert_cmpfloat (fw_turn_row (scene->turn, scene->mechanism, last)[i], ==, fw_turn_row (whole->turn, mech, last)[i]);
      g_assert_cmpfloat (scene->loads->values[i], ==, whole->forces->values[i]); /* torque */
    }
  fw_whole_free (whole);
  fw_mechanism_free (mech);
}

static void
test_the_pose_is_there_at_once_and_the_turn_comes (void)
{
  Watch watch;
  watch_open (&watch, PAIRS);
  const FwScene *scene = fw_session_scene (watch.session);

  g_assert_false (fw_session_turn_is_known (watch.session));
  g_assert_true (scene->turn == NULL && scene->loads == NULL && scene->n_rows == 0 && scene->n_bounces == 0);
  g_assert_cmpint (scene->troubles->n, ==, 0);
  g_assert_null (fw_session_strength (watch.session));
  fw_session_set_crank (watch.session, 1);
  g_assert_cmpfloat (scene->pose->crank, ==, 1);
  wait_until_known (&watch);
  g_assert_cmpint (watch.designs, ==, 2);
  g_assert_cmpfloat (scene->pose->crank, ==, 1);
  g_assert_cmpint (scene->troubles->n, >, 0);
  check_is_of_the_document (&watch);
  watch_close (&watch);
}

static void
test_of_many_changes_the_last_is_solved (void)
{
  Watch watch;
  watch_open (&watch, PAIRS);

  for (int i = 1; i <= 8; i++)
    set_length (&watch, PAIRS - 1, 412 + i);
  wait_until_known (&watch);
  g_assert_cmpint (watch.designs, ==, 1 + 8 + 1); /* nothing came of the seven before */
  check_is_of_the_document (&watch);
  fw_session_undo (watch.session);
  g_assert_false (fw_session_turn_is_known (watch.session));
  wait_until_known (&watch);
  check_is_of_the_document (&watch);
  watch_close (&watch);
}

static void
test_picked_trouble_is_picked_again (void)
{
  Watch watch;
  watch_open (&watch, PAIRS);
  wait_until_known (&watch);
  const FwScene *scene = fw_session_scene (watch.session);

  fw_session_pick_trouble (watch.session, 3);
  FwTrouble before = scene->troubles->items[3];
  set_length (&watch, PAIRS - 1, 412.5);
  g_assert_cmpint (fw_session_picked_trouble (watch.session), ==, -1);
  set_length (&watch, PAIRS - 1, 413);
  wait_until_known (&watch);
  int picked = fw_session_picked_trouble (watch.session);
  g_assert_cmpint (picked, >=, 0);
  g_assert_true (fw_trouble_same (&before, &scene->troubles->items[picked]));

  set_length (&watch, PAIRS - 1, 414);
  fw_session_pick (watch.session, NULL); /* let go of meanwhile */
  wait_until_known (&watch);
  g_assert_cmpint (fw_session_picked_trouble (watch.session), ==, -1);
  watch_close (&watch);
}

static void
test_a_small_design_after_a_large_one_is_solved_at_once (void)
{
  Watch watch;
  watch_open (&watch, PAIRS);
  fw_session_set_document (watch.session, many_pairs (1), NULL);
  g_assert_true (fw_session_turn_is_known (watch.session));
  check_is_of_the_document (&watch);
  int n = fw_session_scene (watch.session)->troubles->n;
  for (int i = 0; i < 200; i++) /* what was asked for before must not come */
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (1000);
    }
  g_assert_cmpint (fw_session_scene (watch.session)->troubles->n, ==, n);
  check_is_of_the_document (&watch);
  watch_close (&watch);
}

static void
test_a_session_may_end_while_the_turn_is_worked_out (void)
{
  for (int i = 0; i < 5; i++)
    {
      Watch watch;
      watch_open (&watch, PAIRS);
      set_length (&watch, 0, 411);
      if (i > 2)
        g_usleep (5000 * (gulong) i);
      watch_close (&watch);
    }
  while (g_main_context_iteration (NULL, FALSE))
    ;
}

/* Here so much runs into each other that not every number can be tried. */
static void
test_the_search_for_what_mends_is_bounded_and_says_so (void)
{
  Watch watch;
  watch_open (&watch, PAIRS);
  wait_until_known (&watch);
  gint64 end = g_get_monotonic_time () + PATIENCE_S * G_USEC_PER_SEC;
  gboolean done = FALSE;
  int n;

  g_assert_cmpint (fw_session_scene (watch.session)->troubles->items[0].kind, ==, FW_HITS);
  while (!done && g_get_monotonic_time () < end)
    {
      fw_session_remedies (watch.session, 0, &n, &done);
      if (!g_main_context_iteration (NULL, FALSE))
        g_usleep (1000);
    }
  g_assert_true (done);
  g_assert_true (fw_session_remedies_cut_short (watch.session, 0));
  watch_close (&watch);
}

/* The demos are dragged with all of it in each frame. */
static void
test_every_demo_is_solved_at_once (void)
{
  g_autoptr (GDir) demos = g_dir_open (FW_SOURCE_DEMOS, 0, NULL);
  int n = 0;
  for (const char *name; (name = g_dir_read_name (demos)) != NULL;)
    {
      g_autofree char *path = g_build_filename (FW_SOURCE_DEMOS, name, NULL);
      if (!g_str_has_suffix (name, ".flap"))
        continue;
      Watch watch = { .session = fw_session_new () };
      fw_session_set_document (watch.session, fw_document_load (path, NULL), path);
      g_assert_true (fw_session_turn_is_known (watch.session));
      g_object_unref (watch.session);
      n++;
    }
  g_assert_cmpint (n, >, 4);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/large/the pose is there at once, and the turn comes", test_the_pose_is_there_at_once_and_the_turn_comes);
  g_test_add_func ("/large/of many changes the last is solved", test_of_many_changes_the_last_is_solved);
  g_test_add_func ("/large/picked trouble is picked again when the turn is known", test_picked_trouble_is_picked_again);
  g_test_add_func ("/large/a small design after a large one is solved at once",
                   test_a_small_design_after_a_large_one_is_solved_at_once);
  g_test_add_func ("/large/a session may end while the turn is worked out",
                   test_a_session_may_end_while_the_turn_is_worked_out);
  g_test_add_func ("/large/the search for what mends is bounded, and says so",
                   test_the_search_for_what_mends_is_bounded_and_says_so);
  g_test_add_func ("/large/every demo is solved at once", test_every_demo_is_solved_at_once);
  return g_test_run ();
}
