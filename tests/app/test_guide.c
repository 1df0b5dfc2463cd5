/* Where the guide's pages lie, in which language, and what their links and headings mean. */
#include <glib.h>
#include <glib/gstdio.h>

#include "app/guidefiles.h"

static char *folder;

static void
write_page (const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (folder, name, NULL), *own = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;
  g_assert_cmpint (g_mkdir_with_parents (own, 0700), ==, 0);
  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
}

static void
assert_file (const char *name, const char *expected)
{
  g_autofree char *path = fw_guide_file (folder, name), *whole = g_build_filename (folder, expected, NULL);
  g_assert_cmpstr (path, ==, whole);
}

static void
a_page_is_in_the_language_asked_for_first_that_has_a_guide (void)
{
  g_setenv ("LANGUAGE", "nl:de_AT:fr", TRUE);
  assert_file ("guide.md", "de/guide.md"); /* Dutch has a folder, but no guide */
  assert_file ("words.md", "words.md");
  g_assert_true (fw_guide_only_in_english (folder, "words.md"));
  g_assert_false (fw_guide_only_in_english (folder, "guide.md"));
}

static void
in_english_pages_are_english_and_nothing_is_said_of_it (void)
{
  const char *const languages[] = { "en_GB:de", "C", "ja" };
  for (gsize i = 0; i < G_N_ELEMENTS (languages); i++)
    {
      g_setenv ("LANGUAGE", languages[i], TRUE);
      assert_file ("guide.md", "guide.md");
      g_assert_false (fw_guide_only_in_english (folder, "words.md"));
    }
}

static void
a_language_is_no_way_out_of_the_folder (void)
{
  g_autofree char *inner = g_build_filename (folder, "fr", NULL), *path = NULL;
  g_setenv ("LANGUAGE", "../de", TRUE);
  path = fw_guide_file (inner, "guide.md");
  g_assert_null (strstr (path, ".."));
}

static void
a_link_is_a_place_of_the_guide_or_leads_out_of_it (void)
{
  static const struct { const char *link, *place; } cases[] = {
    { "words.md", "words.md" }, { "words.md#throw", "words.md#throw" }, { "../words.md#throw", "words.md#throw" },
    { "../../README.md", NULL }, { "../secret.txt", NULL }, { "lost.md", NULL }, { "de/guide.md", NULL },
    { "https://flapwright.example/words.md", NULL }, { "", NULL },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *place = fw_guide_place (folder, cases[i].link);
      g_assert_cmpstr (place, ==, cases[i].place);
    }
}

static void
headings_are_counted_as_links_name_them (void)
{
  const char *text = "# The guide\n\n#no heading\n```\n# code\n```\n## It knocks: why?\ntext # none\n### 3 Panels\n";
  g_assert_cmpint (fw_guide_heading_number (text, "the-guide"), ==, 0);
  g_assert_cmpint (fw_guide_heading_number (text, "it-knocks-why"), ==, 1);
  g_assert_cmpint (fw_guide_heading_number (text, "3-panels"), ==, 2);
  g_assert_cmpint (fw_guide_heading_number (text, "code"), ==, -1);
  g_assert_cmpint (fw_guide_heading_number (text, ""), ==, -1);
  g_autofree char *anchor = fw_guide_anchor ("Flügel, „schlägt“ – (sehr) weit"), *title = fw_guide_title ("# Der Anfang\nText", "x.md");
  g_assert_cmpstr (anchor, ==, "flügel-schlägt--sehr-weit");
  g_assert_cmpstr (title, ==, "Der Anfang");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  folder = g_dir_make_tmp ("flapwright-guide-XXXXXX", NULL);
  write_page ("guide.md", "# The guide\n");
  write_page ("words.md", "# Words\n");
  write_page ("de/guide.md", "# Das Handbuch\n");
  write_page ("fr/guide.md", "# Le guide\n");
  write_page ("nl/words.md", "# Woorden\n");
  g_test_add_func ("/guide/a page is in the language asked for first that has a guide", a_page_is_in_the_language_asked_for_first_that_has_a_guide);
  g_test_add_func ("/guide/in English pages are English and nothing is said of it", in_english_pages_are_english_and_nothing_is_said_of_it);
  g_test_add_func ("/guide/a language is no way out of the folder", a_language_is_no_way_out_of_the_folder);
  g_test_add_func ("/guide/a link is a place of the guide or leads out of it", a_link_is_a_place_of_the_guide_or_leads_out_of_it);
  g_test_add_func ("/guide/headings are counted as links name them", headings_are_counted_as_links_name_them);
  return g_test_run ();
}
