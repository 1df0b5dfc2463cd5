/* The n-th allocation fails, for every n that opening or changing a design asks for: the answer is
 * an error of one line, nothing is changed, nothing is lost.
 *
 * The linker sends malloc, calloc and strdup of this program's own objects here (GLib's own
 * allocations end the program by its own rule and are left alone), and cJSON takes hooks. */
#include "doc/choices.h"
#include "doc/documenttree.h"
#include "doc/fitweight.h"
#include "doc/guided.h"
#include "doc/log.h"
#include "doc/makeedit.h"
#include "doc/materials.h"
#include "doc/measurements.h"
#include "doc/spread.h"
#include "doc/versions.h"
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

static const FwGuide answers = { .span_mm = 600, .both_sides = FALSE, .panels_a_side = 1, .runs = FW_RUNS_ALONG, .ride = FW_RIDE_FIXED,
                                 .top_deg = 25, .bottom_deg = -25 };

/* A design from answers: whole, or none and a line that says so. */
static gboolean
made_with_failure (long at)
{
  char *text = NULL;
  GError *error = NULL;
  fail_at = at;
  gboolean made = fw_guided_design (&answers, "Heron", &text, &error);
  fail_at = -1;
  if (made)
    {
      FwDocument *doc = test_open (text);
      g_assert_cmpstr (fw_document_title (doc), ==, "Heron");
      g_assert_nonnull (fw_document_section (doc, "base"));
      const cJSON *body = cJSON_GetObjectItem (fw_document_section (doc, "look"), "body");
      g_assert_cmpint (cJSON_GetArraySize (cJSON_GetObjectItem (body, "sections")), ==, 7);
      g_assert_cmpint (cJSON_GetArraySize (cJSON_GetObjectItem (body, "eye")), ==, 3); /* the last to be written */
      fw_document_free (doc);
    }
  else
    {
      g_assert_true (text == NULL && error != NULL && error->domain == FW_DOC_ERROR);
      g_assert_null (strchr (error->message, '\n'));
    }
  g_clear_error (&error);
  g_free (text);
  return made;
}

static void
makes_a_design_or_says_why_not (void)
{
  static const long at[] = { 0, 1, 2, 3, 5, 8, 13, 21, 34, 55, 89, 144, 233 };
  const long many = 1000000;
  int refused = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (at); i++)
    refused += made_with_failure (at[i]) ? 0 : 1;
  /* The last that it asks for are those of the text that it gives. */
  char *text = NULL;
  fail_at = many;
  g_assert_true (fw_guided_design (&answers, "Heron", &text, NULL));
  long needs = many - fail_at;
  g_free (text);
  int late = 0;
  for (long back = 1; back < 340; back = back * 3 / 2 + 1)
    late += made_with_failure (needs - back) ? 0 : 1;
  g_test_message ("%ld allocations; %d refused, %d of them late", needs, refused + late, late);
  g_assert_cmpint (late, >, 5);
}

/* ---- Every other edit ---- */

/* A document with something of everything that can be edited. */
static FwDocument *
full_document (void)
{
  FwDocument *doc = test_open_valid ("springs");
  GError *error = NULL;
  const FwLogPicture picture = { "photos/first.jpg", "First turn" };
  g_assert_true (fw_log_add (doc, "2026-03-14", "First turn", &picture, 1, &error));
  g_assert_true (fw_versions_keep (doc, "first", &error));
  g_assert_true (fw_document_set_build (doc, "bolted", "bolt", cJSON_CreateNumber (5), "Bolts", NULL, &error));
  g_assert_true (fw_document_add_stock (doc, FW_STOCK_BARS,
                                        cJSON_Parse ("{\"name\":\"tube\",\"material\":\"copper\",\"diameter\":12,\"wall\":1,\"length\":3000}"),
                                        "Bar", &error));
  g_assert_true (fw_document_set_build (doc, "bolted", "pipe", cJSON_CreateString ("tube"), "Pipe", NULL, &error));
  g_assert_true (fw_spread_set (doc, test_param (doc, "rods.inrod.length"), 0.5, NULL, &error));
  g_assert_true (test_change (doc, "rods.inrod.length", 411, NULL));
  return doc;
}

static gboolean
add_part (FwDocument *doc, int place, GError **error)
{
  FwPartRef added;
  return fw_document_add_part (doc, (FwPlace)place, NULL, &added, error);
}

static gboolean
add_beside (FwDocument *doc, int place, GError **error)
{
  static const FwPartRef throw_in = { FW_PLACE_THROW, 1 }, inner = { FW_PLACE_PANEL, 0 };
  FwPartRef added;
  gboolean on_crank = place == FW_PLACE_THROW || place == FW_PLACE_WEIGHT;
  return fw_document_add_part (doc, (FwPlace)place, on_crank ? &throw_in : &inner, &added, error);
}

static gboolean
remove_part (FwDocument *doc, int place, GError **error)
{
  char *also = NULL;
  int index = place == FW_PLACE_THROW ? 1 : 0;
  gboolean done = fw_document_remove_part (doc, (FwPartRef){ (FwPlace)place, index }, &also, error);
  g_free (also);
  return done;
}

static gboolean
rename_part (FwDocument *doc, int place, GError **error)
{
  return fw_document_rename_part (doc, (FwPartRef){ (FwPlace)place, 0 }, "another name", error);
}

/* Of all choices of the holder the k-th with another option than it has. */
static gboolean
choose (FwDocument *doc, FwHolder holder, int k, GError **error)
{
  GPtrArray *list = fw_choices_of (doc, holder);
  gboolean done = FALSE;
  if (k >= (int)list->len)
    g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, "no such choice");
  else
    {
      const FwChoice *c = list->pdata[k];
      done = fw_document_choose (doc, c, c->now == 0 ? (int)c->ids->len - 1 : 0, error);
    }
  g_ptr_array_unref (list);
  return done;
}

static gboolean
choose_of_panel (FwDocument *doc, int k, GError **error)
{
  return choose (doc, (FwHolder){ FW_HOLDER_PART, { FW_PLACE_PANEL, 0 } }, k, error);
}

static gboolean
choose_of_one (FwDocument *doc, int k, GError **error)
{
  return choose (doc, (FwHolder){ (FwHolderKind)(FW_HOLDER_CRANK + k / 3), { FW_PLACE_THROW, 0 } }, k % 3, error);
}

static gboolean
choose_ride (FwDocument *doc, int ride, GError **error)
{
  GPtrArray *list = fw_choices_of (doc, (FwHolder){ FW_HOLDER_BODY, { FW_PLACE_THROW, 0 } });
  gboolean done = fw_document_choose (doc, list->pdata[0], ride, error);
  g_ptr_array_unref (list);
  return done;
}

static gboolean
edit_log (FwDocument *doc, int what, GError **error)
{
  static const FwLogPicture bare = { "third.jpg", "" };
  if (what > 3)
    return what == 4   ? fw_log_add (doc, "2026-04-01", "", NULL, 0, error)
           : what == 5 ? fw_log_add (doc, "2026-04-01", "", &bare, 1, error)
                       : fw_log_bring_back (doc, 0, NULL, NULL, error);
  static const FwLogPicture picture = { "second.jpg", "Second" };
  return what == 0   ? fw_log_add (doc, "2026-04-01T18:30", "Again", &picture, 1, error)
         : what == 1 ? fw_log_set_note (doc, 0, "Another note", error)
         : what == 2 ? fw_log_bring_back (doc, 0, "2026-04-02", NULL, error)
                     : fw_log_remove (doc, 0, error);
}

static gboolean
edit_versions (FwDocument *doc, int what, GError **error)
{
  return what == 0   ? fw_versions_keep (doc, "second", error)
         : what == 1 ? fw_versions_rename (doc, 0, "the first", error)
         : what == 2 ? fw_versions_bring_back (doc, 0, error)
                     : fw_versions_remove (doc, 0, error);
}

/* What the caller hands in was made while there was memory. */
static cJSON *
spared (const char *json)
{
  long then = fail_at;
  fail_at = -1;
  cJSON *value = cJSON_Parse (json);
  fail_at = then;
  return value;
}

static gboolean
edit_making (FwDocument *doc, int what, GError **error)
{
  switch (what)
    {
    case 0:
      return fw_document_drop_build (doc, "Build", error);
    case 1:
      return fw_document_set_build (doc, "bolted", "bolt", NULL, "Bolt", NULL, error);
    case 2:
      return fw_document_set_stock (doc, "kerf", spared ("2"), "Kerf", NULL, error);
    case 3:
      return fw_document_add_stock (doc, FW_STOCK_BARS, spared ("{\"name\":\"tube\",\"diameter\":8,\"length\":1000}"),
                                    "Bar", error);
    case 4:
      return fw_document_set_stock_entry (doc, FW_STOCK_BARS, 0, "name", spared ("\"pipe\""), "Name", NULL, error);
    default:
      return fw_document_remove_stock (doc, FW_STOCK_BARS, 0, "Bar", error);
    }
}

static gboolean
fit_things (FwDocument *doc, int what, GError **error)
{
  const FwSpringFit spring = { .spring = { .side = FW_SIDE_MIDDLE, .from = { FW_FROM_BASE, 0, { 0, 10, 500 } },
                                           .to = { FW_FROM_BODY, 0, { 0, 5, 10 } }, .rate_Npmm = 0.1, .free_mm = 20, .cord = true } };
  const FwCounterweight on_body = { .panel = FW_ON_BODY, .mass_g = 120, .at_mm = { 0, 60, 0 } };
  const FwCounterweight on_panel = { .panel = 0, .mass_g = 50, .at_mm = { -40, 0, 0 } };
  const FwMeasuredRow row = { 30, (char *)"body.z_mm", 451 };
  return what == 0   ? fw_document_fit_spring (doc, &spring, "Spring", error)
         : what == 1 ? fw_document_fit_weight (doc, &on_body, "Weight", error)
         : what == 2 ? fw_document_fit_weight (doc, &on_panel, "Weight", error)
         : what == 3 ? fw_measurements_set (doc, &row, 1, NULL, error)
         : what == 4 ? fw_spread_set (doc, test_param (doc, "rods.inrod.length"), -1, NULL, error)
                     : fw_spread_set (doc, test_param (doc, "body.post"), 0.3, NULL, error);
}

static const struct
{
  const char *name;
  gboolean (*edit) (FwDocument *doc, int what, GError **error);
  int kinds; /* `what` is 0 .. kinds - 1 */
} edits[] = {
  { "adding a part", add_part, FW_N_PLACES },
  { "adding a part beside another", add_beside, FW_N_PLACES },
  { "the ride", choose_ride, 4 },
  { "taking a part away", remove_part, FW_N_PLACES },
  { "renaming a part", rename_part, FW_N_PLACES },
  { "a choice of a panel", choose_of_panel, 6 },
  { "a choice of crank, body, base or drive", choose_of_one, 12 },
  { "the log", edit_log, 7 },
  { "versions", edit_versions, 4 },
  { "making and stock", edit_making, 6 },
  { "things fitted, measured and spread", fit_things, 6 },
};

/* What it makes when memory suffices; NULL: it is refused anyway. */
static char *
made_by (int edit, int what)
{
  FwDocument *doc = full_document ();
  GError *error = NULL;
  char *text = edits[edit].edit (doc, what, &error) ? fw_document_to_text (doc) : NULL;
  g_assert_true ((text == NULL) == (error != NULL));
  g_clear_error (&error);
  fw_document_free (doc);
  return text;
}

/* How many allocations a copy of the document's tree takes, which is how each edit begins. */
static long
needs_for_copy (const FwDocument *doc)
{
  const long many = 1000000;
  fail_at = many;
  cJSON *tree = fw_document_copy_tree (doc);
  long needs = many - fail_at;
  fail_at = -1;
  cJSON_Delete (tree);
  return needs;
}

/* One by one where the edit itself works; the copy before it and the reading after it repeat themselves. */
static long
next (long n, long copy)
{
  if (n < copy)
    return MIN (n + 1 + n / 12, copy);
  return n < copy + 60 ? n + 1 : n + 1 + (n - copy) / 12;
}

static void
edits_whole_or_not_at_all (gconstpointer data)
{
  int edit = GPOINTER_TO_INT (data), refused = 0, done = 0;
  for (int what = 0; what < edits[edit].kinds; what++)
    {
      char *wanted = made_by (edit, what);
      FwDocument *doc = full_document ();
      char *before = fw_document_to_text (doc);
      gboolean failed = wanted != NULL;
      long copy = needs_for_copy (doc);
      for (long n = 0; failed; n = next (n, copy))
        {
          GError *error = NULL;
          fail_at = n;
          gboolean good = edits[edit].edit (doc, what, &error);
          failed = fail_at < 0;
          fail_at = -1;
          char *after = fw_document_to_text (doc);
          if (good)
            {
              done++;
              g_assert_no_error (error);
              /* Of the rods tried one may have been lost to it, and another is best. */
              gboolean tried = (edits[edit].edit == add_part || edits[edit].edit == add_beside) && what == FW_PLACE_ROD;
              if (!tried && strcmp (after, wanted) != 0)
                g_error ("%s (%d), allocation %ld failed: done, but not whole", edits[edit].name, what, n);
              if (strcmp (after, before) != 0)
                g_assert_true (fw_document_undo (doc));
            }
          else
            {
              refused++;
              g_assert_true (failed);
              g_assert_true (error != NULL && error->domain == FW_DOC_ERROR);
              g_assert_null (strchr (error->message, '\n'));
              g_clear_error (&error);
              if (strcmp (after, before) != 0)
                g_error ("%s (%d), allocation %ld failed: refused, but something changed", edits[edit].name, what, n);
            }
          g_free (after);
        }
      fw_document_free (doc);
      g_free (before);
      g_free (wanted);
    }
  g_test_message ("%d refused, %d done", refused, done);
  g_assert_cmpint (refused, >, 20);
  g_assert_cmpint (done, >, 0);
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
  g_test_add_func ("/doc/memory/makes a design from answers, or says why not", makes_a_design_or_says_why_not);
  for (int i = 0; i < (int)G_N_ELEMENTS (edits); i++)
    {
      char *path = g_strconcat ("/doc/memory/does whole or not at all: ", edits[i].name, NULL);
      g_test_add_data_func (path, GINT_TO_POINTER (i), edits_whole_or_not_at_all);
      g_free (path);
    }
  return g_test_run ();
}
