/* Hanging panels as a window shows them, without a window: followed beside the main loop, drawn where they
 * swing, listed where they slam. */
#include <math.h>

#include "app/session.h"
#include "draw/forcerows.h"

#define PATIENCE_S 60

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
watch_open (Watch *watch, const char *demo)
{
  g_autofree char *path = g_build_filename (FW_SOURCE_DEMOS, demo, NULL);
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_document_load (path, &error);
  g_assert_no_error (error);
  *watch = (Watch) { .session = fw_session_new () };
  g_signal_connect_swapped (watch->session, "design-changed", G_CALLBACK (on_design), watch);
  fw_session_set_document (watch->session, doc, path);
}

static void
watch_close (Watch *watch)
{
  g_signal_handlers_disconnect_by_data (watch->session, watch);
  g_object_unref (watch->session);
}

static gboolean
set_speed (Watch *watch, double turns_per_minute)
{
  FwChange one = { { FW_PARAM_SPEED, 0, 0 }, turns_per_minute };
  return fw_session_change (watch->session, &one, 1, "Change", NULL);
}

static gboolean
slams (const FwScene *scene)
{
  for (int i = 0; i < scene->troubles->n; i++)
    if (scene->troubles->items[i].kind == FW_SLAMS)
      return TRUE;
  return FALSE;
}

static void
wait_for_swing (const FwScene *scene, gboolean until_slams)
{
  gint64 end = g_get_monotonic_time () + PATIENCE_S * G_USEC_PER_SEC;
  while ((scene->swung == NULL || (until_slams && !slams (scene))) && g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  g_assert_nonnull (scene->swung);
}

static int
member_named (const FwScene *scene, const char *name)
{
  for (int i = 0; i < scene->mechanism->n_members; i++)
    if (g_str_equal (scene->mechanism->members[i].name, name))
      return i;
  g_assert_not_reached ();
}

/* At rest the tail lies on its stop; turned fast enough it is thrown off it, and slams. */
static void
test_hanging_panels_are_shown_where_they_swing (void)
{
  Watch watch;
  watch_open (&watch, "manta.flap");
  const FwScene *scene = fw_session_scene (watch.session);
  g_assert_null (scene->swung); /* it comes beside the main loop */
  wait_for_swing (scene, FALSE);
  g_assert_cmpint (watch.designs, ==, 1);
  g_assert_false (slams (scene));

  g_assert_true (set_speed (&watch, 400));
  g_assert_null (scene->swung);
  wait_for_swing (scene, TRUE);
  g_assert_true (slams (scene));
  g_assert_cmpint (watch.designs, ==, 3); /* the edit, and the trouble that came after it */

  int tail = member_named (scene, "tail");
  FwRow row = fw_scene_row (scene, (FwQuantity) { FW_Q_SWING, tail });
  g_assert_cmpint (row.steps, ==, 360);
  double apart = 0;
  for (int step = 5; step < 360; step += 10)
    {
      fw_session_set_crank (watch.session, step * G_PI / 180);
      double angle = fw_pose_angle (scene->swung, scene->mechanism, tail);
      g_assert_cmpfloat_with_epsilon (angle, row.values[step], 1e-6);
      apart = MAX (apart, fabs (angle - fw_pose_angle (scene->pose, scene->mechanism, tail)));
    }
  g_assert_cmpfloat (apart, >, 0.05);

  fw_session_set_show (watch.session, fw_session_show (watch.session) & ~(guint) FW_SHOW_SWING);
  g_assert_null (scene->swung);
  fw_session_set_show (watch.session, fw_session_show (watch.session) | FW_SHOW_SWING);
  g_assert_nonnull (scene->swung);
  watch_close (&watch);
}

/* Nobody is called back. */
static void
test_a_session_may_end_while_it_swings (void)
{
  Watch watch;
  watch_open (&watch, "manta.flap");
  for (int i = 0; i < 5; i++)
    set_speed (&watch, 100 + 20 * i);
  watch_close (&watch);
  for (int i = 0; i < 200; i++)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/swing/hanging panels are shown where they swing", test_hanging_panels_are_shown_where_they_swing);
  g_test_add_func ("/swing/a session may end while it swings", test_a_session_may_end_while_it_swings);
  return g_test_run ();
}
