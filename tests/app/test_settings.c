/* What is remembered between runs: as it was left, in spite of broken files, and from an older file. */
#include <glib/gstdio.h>

#include "app/settings.h"

#define RECENT 10

static FwSettings *
load (void)
{
  g_autoptr (GError) error = NULL;
  FwSettings *settings = fw_settings_load (&error);
  g_assert_no_error (error);
  return settings;
}

/* In the configuration folder, or the state folder; nothing of an earlier test is left there. */
static char *
settings_file (gboolean state, const char *name, const char *text)
{
  static const char *const files[] = { "settings.keyfile", "settings.keyfile.broken", "settings.ini", "state.keyfile" };
  for (gsize i = 0; text != NULL && i < 2 * G_N_ELEMENTS (files); i++)
    {
      g_autofree char *old = settings_file (i % 2 != 0, files[i / 2], NULL);
      g_remove (old);
    }
  g_autofree char *folder = g_build_filename (state ? g_get_user_state_dir () : g_get_user_config_dir (), "flapwright", NULL);
  char *path = g_build_filename (folder, name, NULL);
  g_mkdir_with_parents (folder, 0700);
  if (text != NULL)
    g_assert_true (g_file_set_contents (path, text, -1, NULL));
  return path;
}

static void
test_settings_come_back_as_they_were_left (void)
{
  FwSettings *left = load ();
  g_autoptr (FwSession) fresh = fw_session_new ();
  g_assert_null (left->problem);
  g_assert_cmpuint (fw_settings_show (left), ==, fw_session_show (fresh));
  for (int i = 0; i < FW_N_OVERLAYS; i++) /* each has its word in the schema */
    {
      fw_settings_set_show (left, fw_overlays[i].bit);
      g_autofree char *word = g_variant_print (g_settings_get_user_value (left->choices, "show"), FALSE);
      g_autofree char *expected = g_strdup_printf ("['%s']", fw_overlays[i].key);
      g_assert_cmpstr (word, ==, expected);
    }
  g_settings_set_enum (left->choices, "lengths", FW_LENGTHS_INCH);
  g_settings_set_string (left->choices, "appearance", "dark");
  fw_settings_set_show (left, FW_SHOW_NAMES | FW_SHOW_GHOSTS);
  g_settings_set_int (left->state, "width", 1500);
  g_settings_set_boolean (left->state, "first-steps-done", TRUE);
  for (int i = 0; i < RECENT + 3; i++)
    {
      g_autofree char *path = g_strdup_printf ("/designs/%d.flap", i);
      fw_settings_add_recent (left, path);
    }
  fw_settings_add_recent (left, "/designs/7.flap");
  fw_settings_free (left);

  FwSettings *found = load ();
  g_auto (GStrv) recent = fw_settings_paths (found, "recent");
  g_assert_cmpint (fw_settings_lengths (found), ==, FW_LENGTHS_INCH);
  g_assert_cmpint (fw_settings_appearance (found), ==, FW_APPEARANCE_DARK);
  g_assert_cmpuint (fw_settings_show (found), ==, FW_SHOW_NAMES | FW_SHOW_GHOSTS);
  g_assert_cmpint (g_settings_get_int (found->state, "width"), ==, 1500);
  g_assert_true (g_settings_get_boolean (found->state, "first-steps-done"));
  g_assert_cmpuint (g_strv_length (recent), ==, RECENT);
  g_assert_cmpstr (recent[0], ==, "/designs/7.flap");
  g_assert_cmpstr (recent[1], ==, "/designs/12.flap");
  fw_settings_free (found);
}

static void
test_a_wrong_value_counts_as_not_set (void)
{
  g_autofree char *state = settings_file (TRUE, "state.keyfile", "[State]\nwidth=-5\nheight='many'\nrecent=7\nfront-share=4.0\n");
  g_autofree char *choices = settings_file (FALSE, "settings.keyfile", NULL);
  g_assert_true (g_file_set_contents (choices, "[flapwright]\nlengths='cubits'\nappearance=pink\nshow=['names']\nnew=1\n", -1, NULL));
  FwSettings *found = load ();
  g_auto (GStrv) recent = fw_settings_paths (found, "recent");
  g_assert_null (found->problem);
  g_assert_cmpint (g_settings_get_int (found->state, "width"), >=, 640);
  g_assert_cmpint (g_settings_get_int (found->state, "height"), ==, 800);
  g_assert_cmpfloat (g_settings_get_double (found->state, "front-share"), <=, 1);
  g_assert_null (recent[0]);
  g_assert_cmpint (fw_settings_lengths (found), ==, FW_LENGTHS_MM);
  g_assert_cmpint (fw_settings_appearance (found), ==, FW_APPEARANCE_FOLLOW);
  g_assert_cmpuint (fw_settings_show (found), ==, FW_SHOW_NAMES);
  fw_settings_free (found);
}

static void
test_a_broken_file_is_set_aside (void)
{
  const char *text = "\x01 no key file";
  g_autofree char *path = settings_file (FALSE, "settings.keyfile", text), *aside = g_strconcat (path, ".broken", NULL), *kept = NULL;
  FwSettings *found = load ();
  g_assert_true (g_str_has_prefix (found->problem, path) && strchr (found->problem, '\n') == NULL);
  g_assert_cmpint (fw_settings_lengths (found), ==, FW_LENGTHS_MM);
  g_settings_set_string (found->choices, "lengths", "inch");
  fw_settings_free (found);
  g_assert_true (g_file_get_contents (aside, &kept, NULL, NULL));
  g_assert_cmpstr (kept, ==, text);
  found = load ();
  g_assert_null (found->problem);
  g_assert_cmpint (fw_settings_lengths (found), ==, FW_LENGTHS_INCH);
  fw_settings_free (found);
}

/* A folder in the file's place stands for whatever cannot be read, also by root. */
static void
test_settings_that_cannot_be_kept_hold_for_one_run (void)
{
  g_autofree char *path = settings_file (FALSE, "settings.keyfile", "");
  g_remove (path);
  g_assert_cmpint (g_mkdir (path, 0700), ==, 0);
  FwSettings *found = load ();
  g_assert_true (g_str_has_prefix (found->problem, path) && strchr (found->problem, '\n') == NULL);
  g_settings_set_string (found->choices, "appearance", "dark");
  g_assert_cmpint (fw_settings_appearance (found), ==, FW_APPEARANCE_DARK);
  fw_settings_free (found);
  g_assert_cmpint (g_rmdir (path), ==, 0);
}

static void
test_an_older_file_is_taken_over_once (void)
{
  g_autofree char *old = settings_file (FALSE, "settings.ini",
                                        "[view]\nlengths=inch\nappearance=dark\nshow=names;ghosts;\n"
                                        "[window]\nwidth=1500\nheight=many\nmaximized=true\nmargin=false\n"
                                        "[help]\nfirst-steps-done=true\n[recent]\nfiles=/designs/a b.flap;/designs/c.flap;\n");
  for (int run = 0; run < 2; run++)
    {
      FwSettings *found = load ();
      g_auto (GStrv) recent = fw_settings_paths (found, "recent");
      g_assert_cmpint (fw_settings_lengths (found), ==, FW_LENGTHS_INCH);
      g_assert_cmpint (fw_settings_appearance (found), ==, FW_APPEARANCE_DARK);
      g_assert_cmpuint (fw_settings_show (found), ==, FW_SHOW_NAMES | FW_SHOW_GHOSTS);
      g_assert_cmpint (g_settings_get_int (found->state, "width"), ==, 1500);
      g_assert_cmpint (g_settings_get_int (found->state, "height"), ==, 800);
      g_assert_true (g_settings_get_boolean (found->state, "maximized"));
      g_assert_false (g_settings_get_boolean (found->state, "margin"));
      g_assert_true (g_settings_get_boolean (found->state, "first-steps-done"));
      g_assert_cmpuint (g_strv_length (recent), ==, 2);
      g_assert_cmpstr (recent[0], ==, "/designs/a b.flap");
      g_assert_cmpstr (recent[1], ==, "/designs/c.flap");
      fw_settings_free (found);
      g_assert_false (g_file_test (old, G_FILE_TEST_EXISTS));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/settings/come back as they were left", test_settings_come_back_as_they_were_left);
  g_test_add_func ("/settings/a wrong value counts as not set", test_a_wrong_value_counts_as_not_set);
  g_test_add_func ("/settings/a broken file is set aside with a word", test_a_broken_file_is_set_aside);
  g_test_add_func ("/settings/what cannot be kept holds for one run", test_settings_that_cannot_be_kept_hold_for_one_run);
  g_test_add_func ("/settings/an older file is taken over once", test_an_older_file_is_taken_over_once);
  return g_test_run ();
}
