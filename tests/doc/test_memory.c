/* The n-th allocation fails, for every n that opening or changing a design asks for: the answer is
 * an error of one line, nothing is changed, nothing is lost.
 *
 * The linker sends malloc, calloc and strdup of this program's own objects here (GLib's own
 * allocations end the program by its own rule and are left alone), and cJSON takes hooks. */
#include "doc/materials.h"
#include "support.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

void *__real_malloc (size_t size);
void *__real_calloc (size_t n, size_t size);
char *__real_strdup (const char *text);
void *__wrap_malloc (size_t size);
void *__wrap_calloc (size_t n, size_t size);
char *__wrap_strdup (const char *text);

static long fail_at = -1; /* counts down; the one that meets 0 fails */

static gboolean
fails_now (void)
{
  return fail_at >= 0 && fail_at-- == 0;
}

void *
__wrap_malloc (size_t size)
{
  return fails_now () ? NULL : __real_malloc (size);
}

void *
__wrap_calloc (size_t n, size_t size)
{
  return fails_now () ? NULL : __real_calloc (n, size);
}

char *
__wrap_strdup (const char *text)
{
  return fails_now () ? NULL : __real_strdup (text);
}

static void
opens_or_says_why_not (void)
{
  static const char *const files[] = { "all-extras", "two-wings", "rocker", "from-body-and-panel",
                                       "build-and-stock" };

  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      char *text = test_valid_text (files[f]);
      long n = 0;
      for (;; n++)
        {
          GError *error = NULL;
          fail_at = n;
          FwDocument *doc = fw_document_new_from_text (text, -1, "test.flap", &error);
          gboolean failed = fail_at < 0;
          fail_at = -1;
          g_assert_cmpint (doc == NULL, ==, failed);
          fw_document_free (doc);
          if (!failed)
            break;
          g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
          g_assert_null (strchr (error->message, '\n'));
          g_error_free (error);
        }
      g_assert_cmpint (n, >, 100);
      g_free (text);
    }
}

static void
changes_whole_or_not_at_all (void)
{
  FwDocument *doc = test_open_valid ("all-extras");
  FwChange changes[] = { { test_param (doc, "rods.pull.length"), 208 },
                         { test_param (doc, "panels.wing.centre.1"), 3 } };
  char *before = fw_document_to_text (doc);

  for (long n = 0;; n++)
    {
      GError *error = NULL;
      fail_at = n;
      gboolean changed = fw_document_change (doc, changes, 2, "step", NULL, &error);
      gboolean failed = fail_at < 0;
      fail_at = -1;
      g_assert_cmpint (changed, ==, !failed);
      if (changed)
        break;
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
      g_error_free (error);
      char *after = fw_document_to_text (doc);
      g_assert_cmpstr (before, ==, after);
      g_assert_null (fw_document_undo_label (doc));
      g_free (after);
    }
  g_free (before);
  fw_document_free (doc);
}

static void
undoes_whole_or_not_at_all (void)
{
  FwDocument *doc = test_open_valid ("two-wings");

  g_assert_true (test_change (doc, "rods.inrod.length", 410, NULL));
  for (long n = 0;; n++)
    {
      fail_at = n;
      gboolean undone = fw_document_undo (doc);
      gboolean failed = fail_at < 0;
      fail_at = -1;
      g_assert_cmpint (undone, ==, !failed);
      g_assert_cmpfloat (test_number (doc, "rods.inrod.length"), ==, undone ? 412 : 410);
      if (undone)
        break;
      g_assert_true (fw_document_is_modified (doc));
    }
  fw_document_free (doc);
}

static void
sets_the_title_or_not_at_all (void)
{
  FwDocument *doc = test_open_valid ("two-wings");

  for (long n = 0;; n++)
    {
      fail_at = n;
      gboolean set = fw_document_set_title (doc, "Owl");
      gboolean failed = fail_at < 0;
      fail_at = -1;
      g_assert_cmpint (set, ==, !failed);
      g_assert_cmpstr (fw_document_title (doc), ==, set ? "Owl" : "Two wings on a sleeve");
      if (set)
        break;
    }
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  cJSON_Hooks hooks = { .malloc_fn = __wrap_malloc, .free_fn = free };

  FwStuff stuff;

  g_test_init (&argc, &argv, NULL);
  /* The table of materials is read once for the whole program, by whoever asks first. */
  g_assert_true (fw_material_find ("copper", NULL, &stuff));
  cJSON_InitHooks (&hooks);
  g_test_add_func ("/doc/memory/opens-or-says-why-not", opens_or_says_why_not);
  g_test_add_func ("/doc/memory/changes-whole-or-not-at-all", changes_whole_or_not_at_all);
  g_test_add_func ("/doc/memory/undoes-whole-or-not-at-all", undoes_whole_or_not_at_all);
  g_test_add_func ("/doc/memory/sets-the-title-or-not-at-all", sets_the_title_or_not_at_all);
  return g_test_run ();
}
