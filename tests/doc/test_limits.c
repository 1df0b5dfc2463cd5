/* What is too much, too long or not there is refused by the edits themselves: one line, and nothing has changed. And
 * parts that are added beside the one that is picked. */
#include <string.h>

#include "core/mechanism.h"
#include "doc/choices.h"
#include "doc/log.h"
#include "doc/logtree.h"
#include "doc/partedit.h"
#include "doc/versions.h"
#include "support.h"

static char *
repeated (const char *head, int n, const char *item, const char *tail)
{
  GString *text = g_string_new (head);
  for (int i = 0; i < n; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "," : "", item);
  g_string_append (text, tail);
  return g_string_free (text, FALSE);
}

static void
assert_refused (const FwDocument *doc, gboolean done, GError **error, const char *before, const char *said)
{
  g_assert_false (done);
  g_assert_error (*error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_assert_null (strpbrk ((*error)->message, "\n\r"));
  if (!strstr ((*error)->message, said))
    g_error ("\"%s\" was expected in: %s", said, (*error)->message);
  g_clear_error (error);
  char *after = fw_document_to_text (doc);
  g_assert_cmpstr (before, ==, after);
  g_free (after);
}

static void
the_log_refuses_what_it_cannot_hold (void)
{
  FwDocument *doc = test_open_valid ("springs");
  GError *error = NULL;
  const FwLogPicture good = { "a.jpg", "" };
  char *before = fw_document_to_text (doc), *long_note = g_strnfill (FW_LOG_MOST_LETTERS + 1, 'x'), *long_path = g_strnfill (1001, 'x');
#define REFUSED(call, said) assert_refused (doc, call, &error, before, said)
  REFUSED (fw_log_remove (doc, 0, &error), "no entry yet");
  REFUSED (fw_log_set_note (doc, -1, "", &error), "no entry yet");
  REFUSED (fw_log_bring_back (doc, 0, NULL, NULL, &error), "no entry yet");
  REFUSED (fw_log_add (doc, "2026-03-14", long_note, NULL, 0, &error), "at most 20000 letters");
  REFUSED (fw_log_add (doc, "2026-03-14", "a\x01", NULL, 0, &error), "control characters");
  REFUSED (fw_log_add (doc, "2026-03-14", "\xff", NULL, 0, &error), "control characters");
  REFUSED (fw_log_add (doc, "\xff", "", NULL, 0, &error), "a date such as");
  FwLogPicture *many = g_new (FwLogPicture, FW_LOG_MOST_PICTURES + 1);
  for (int i = 0; i <= FW_LOG_MOST_PICTURES; i++)
    many[i] = good;
  REFUSED (fw_log_add (doc, "2026-03-14", "", many, FW_LOG_MOST_PICTURES + 1, &error), "at most 100 pictures");
  const char *const paths[] = { "", "/a.jpg", "../a.jpg", "a/../b.jpg", "a\\b.jpg", "a\nb.jpg", "./a.jpg", "a//b.jpg", long_path };
  for (gsize i = 0; i < G_N_ELEMENTS (paths); i++)
    {
      const FwLogPicture picture = { paths[i], "" };
      REFUSED (fw_log_add (doc, "2026-03-14", "", &picture, 1, &error), "from the design's folder downwards");
    }
  const FwLogPicture lines = { "a.jpg", "two\nlines" };
  REFUSED (fw_log_add (doc, "2026-03-14", "", &lines, 1, &error), "captions of one line");

  /* With an entry. */
  g_free (before);
  g_assert_true (fw_log_add (doc, "2026-03-14", "note", many, FW_LOG_MOST_PICTURES, &error));
  before = fw_document_to_text (doc);
  REFUSED (fw_log_remove (doc, 1, &error), "from 1 to 1 was expected, 2 was asked for");
  REFUSED (fw_log_set_note (doc, 0, "a\x7f", &error), "control characters");
  REFUSED (fw_log_bring_back (doc, 0, "14.3.2026", NULL, &error), "a date such as");
  REFUSED (fw_log_bring_back (doc, 0, "2026-03-15", "a\x01", &error), "control characters");
  FwLogPicture picture;
  g_assert_true (fw_log_picture (doc, 0, 99, &picture));
  g_assert_cmpstr (picture.file, ==, "a.jpg");
  g_assert_false (fw_log_picture (doc, 0, 100, &picture) || fw_log_picture (doc, 0, -1, &picture) || fw_log_picture (doc, 1, 0, &picture));
  g_assert_null (fw_log_title (doc, 2));
  g_assert_null (fw_log_design (doc, 2));
  g_assert_null (fw_log_design_key (doc, 1));
  gconstpointer key = fw_log_design_key (doc, 0);
  g_assert_true (fw_log_set_note (doc, 0, "another", &error));
  g_assert_true (fw_log_design_key (doc, 0) == key && key != NULL);
  g_free (many);
  g_free (long_note);
  g_free (long_path);
  g_free (before);
  fw_document_free (doc);
}

/* A log, and versions, that are full. */
static void
what_is_full_takes_no_more (void)
{
  static const char small[] = "{\"format\":\"flapwright design\",\"version\":1,\"title\":\"\",\"crank\":{\"runs\":\"across\",\"throws\":[]},"
                              "\"body\":{\"ride\":\"fixed\",\"at\":[0,0,0],\"tilt\":0},\"panels\":[],\"rods\":[]";
  char *entry = g_strdup_printf ("{\"date\":\"2026-03-14\",\"note\":\"\",\"design\":%s}}", small), *head = g_strconcat (small, ",\"log\":[", NULL);
  char *text = repeated (head, FW_LOG_MOST_ENTRIES, entry, "]}"), *over = repeated (head, FW_LOG_MOST_ENTRIES + 1, entry, "]}");
  FwDocument *doc = test_open (text);
  GError *error = NULL;
  g_assert_cmpint (fw_log_count (doc), ==, FW_LOG_MOST_ENTRIES);
  g_assert_false (fw_log_add (doc, "2026-03-15", "", NULL, 0, &error));
  g_assert_nonnull (strstr (error->message, "at most 2000 entries"));
  g_clear_error (&error);
  g_assert_false (fw_log_bring_back (doc, 0, "2026-03-15", NULL, &error));
  g_clear_error (&error);
  g_assert_true (fw_log_bring_back (doc, 0, NULL, NULL, &error)); /* without an entry of its own */
  g_assert_null (fw_document_new_from_text (over, -1, "over.flap", &error));
  test_assert_one_line (error, "over.flap");
  g_assert_nonnull (strstr (error->message, "at most 2000 entries were expected, 2001 were found"));
  g_clear_error (&error);
  fw_document_free (doc);
  g_free (entry);
  g_free (head);
  g_free (text);
  g_free (over);

  char *plain = g_strconcat (small, "}", NULL);
  doc = test_open (plain);
  for (int i = 0; i < FW_VERSIONS_MOST; i++)
    {
      char *name = g_strdup_printf ("version %d", i);
      g_assert_true (fw_versions_keep (doc, name, &error));
      g_free (name);
    }
  char *before = fw_document_to_text (doc);
  REFUSED (fw_versions_keep (doc, "one more", &error), "at most 200 versions");
  REFUSED (fw_versions_rename (doc, 0, "version 1", &error), "no version has");
  REFUSED (fw_versions_rename (doc, 200, "x", &error), "no such version");
  REFUSED (fw_versions_rename (doc, -1, "x", &error), "no such version");
  REFUSED (fw_versions_remove (doc, 200, &error), "no such version");
  REFUSED (fw_versions_bring_back (doc, 200, &error), "no such version");
  REFUSED (fw_versions_rename (doc, 0, "", &error), "");
  REFUSED (fw_versions_rename (doc, 0, "a\nb", &error), "");
  g_assert_null (fw_versions_name (doc, 200));
  g_assert_null (fw_versions_changes (doc, 0, 200, FW_LENGTHS_MM, NULL));
  g_assert_null (fw_versions_changes (doc, 200, 0, FW_LENGTHS_MM, NULL));
  g_assert_true (fw_versions_rename (doc, 0, "version 0", &error)); /* as it is: no step */
  test_assert_text_is (doc, before);
  g_free (plain);
  fw_document_free (doc);
}

/* After ISO 8601 (calendar date, extended format) and RFC 3339, section 5.6: seconds up to 60 for a leap second, an
 * offset of hours and minutes or Z. */
static void
dates_are_those_of_the_calendar (void)
{
  static const char *const good[] = { "2026-03-14", "2024-02-29", "2000-02-29", "2026-12-31T23:59", "2026-03-14T00:00:00", "2016-12-31T23:59:60Z",
                                      "2026-03-14T18:30Z", "2026-03-14T18:30+02:00", "2026-03-14T18:30:15-23:59", "2026-03-14T18:30:15.25Z" };
  static const char *const bad[] = { "", "2026", "2026-3-14", "2026-03-1", "2026-02-29", "1900-02-29", "2026-13-01", "2026-00-10", "2026-03-00",
                                     "2026-04-31", "2026/03/14", "2026-03-14 18:30", "2026-03-14T", "2026-03-14T24:00", "2026-03-14T18",
                                     "2026-03-14T18:60", "2026-03-14T18:30:61", "2026-03-14T18:30.", "2026-03-14T18:30:15.", "2026-03-14T18:30+24:00",
                                     "2026-03-14T18:30+02", "2026-03-14T18:30+02:60", "2026-03-14T18:30+02:0x", "2026-03-14T18:30z9",
                                     "2026-03-14T18:30:15.1234567890123456789012345Z", "-2026-03-14", "2026-03-14T1a:30", "today" };
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    if (!fw_log_date_is_valid (good[i]))
      g_error ("%s is a date", good[i]);
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    if (fw_log_date_is_valid (bad[i]))
      g_error ("%s is no date", bad[i]);
}

static void
choices_that_are_not_there_are_refused (void)
{
  FwDocument *doc = test_open_valid ("springs");
  GError *error = NULL;
  char *before = fw_document_to_text (doc);
  const int nowhere[] = { -1, 99 };
  for (int i = 0; i < 2; i++)
    {
      GPtrArray *none = fw_choices_of (doc, (FwHolder){ FW_HOLDER_PART, { FW_PLACE_PANEL, nowhere[i] } });
      g_assert_cmpuint (none->len, ==, 0);
      g_ptr_array_unref (none);
      GPtrArray *list = fw_choices_of (doc, (FwHolder){ FW_HOLDER_CRANK, { FW_PLACE_THROW, 0 } });
      REFUSED (fw_document_choose (doc, list->pdata[0], nowhere[i], &error), "no such choice");
      g_ptr_array_unref (list);
      FwPartRef ref = { FW_PLACE_PANEL, nowhere[i] };
      char *also = NULL;
      g_assert_false (fw_document_remove_part (doc, ref, &also, &error));
      g_clear_error (&error);
      g_assert_false (fw_document_rename_part (doc, ref, "x", &error));
      g_clear_error (&error);
    }
  REFUSED (fw_document_rename_part (doc, (FwPartRef){ FW_PLACE_PANEL, 0 }, "\xff", &error), "");
  g_assert_true (fw_document_rename_part (doc, (FwPartRef){ FW_PLACE_PANEL, 0 }, "inner", &error)); /* as it is */
  g_free (before);
  fw_document_free (doc);
}

/* Each kind of part beside each part: a valid design, or one line; what is added stands where it says. */
static void
parts_are_added_beside_what_is_picked (void)
{
  static const char *const files[] = { "springs", "along", "no-throws-no-parts", "hanging-panel" };
  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      FwDocument *doc = test_open_valid (files[f]);
      char *before = fw_document_to_text (doc);
      for (FwPlace place = 0; place < FW_N_PLACES; place++)
        for (FwPlace beside = 0; beside < FW_N_PLACES; beside++)
          for (int index = -1; index < 3; index++)
            {
              const FwPartRef near = { beside, index };
              FwPartRef added = { FW_N_PLACES, -1 };
              GError *error = NULL;
              if (place == FW_PLACE_ROD && index > 0)
                continue; /* the same search again */
              if (!fw_document_add_part (doc, place, &near, &added, &error))
                {
                  g_assert_true (error->domain == FW_DOC_ERROR && strchr (error->message, '\n') == NULL);
                  g_clear_error (&error);
                  continue;
                }
              const FwDesign *d = fw_document_design (doc);
              FwMechanism *m = NULL;
              g_assert_true (added.place == place && added.index == fw_part_count (d, place) - 1);
              g_assert_cmpint (fw_mechanism_build (d, &m, NULL), ==, FW_OK);
              fw_mechanism_free (m);
              if (place == FW_PLACE_PANEL && beside == FW_PLACE_PANEL && index >= 0 && index < d->n_panels - 1)
                {
                  const FwPanel *new = &d->panels[added.index]; /* on the tip of the one picked */
                  g_assert_cmpint (new->on, ==, index);
                  g_assert_cmpfloat (new->hinge_mm.x, ==, d->panels[index].span_mm);
                  g_assert_cmpint (new->side, ==, d->panels[index].side);
                }
              if (place == FW_PLACE_SPRING && beside == FW_PLACE_PANEL && index == 0 && d->n_rods > 0 && d->rods[0].panel == 0)
                g_assert_cmpint (d->springs[added.index].to.kind, ==, FW_FROM_PANEL);
              if (place == FW_PLACE_WEIGHT && beside == FW_PLACE_THROW && index >= 0 && index < d->crank.n_throws)
                g_assert_cmpfloat (d->crank.weights[added.index].radius_mm, ==, d->crank.throws[index].radius_mm);
              g_assert_true (fw_document_undo (doc));
            }
      test_assert_text_is (doc, before);
      fw_document_free (doc);
    }
}

/* Each number of each kind of part, a little off: the design has it, so does what is saved, and undo takes it back.
 * A wall of 0 is a solid part, which the file says by having none. */
static void
every_number_can_be_changed_in_the_file (void)
{
  static const char *const files[] = { "drive-and-weights", "springs", "rocker", "rail", "along", "from-body-and-panel" };
  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      FwDocument *doc = test_open_valid (files[f]);
      char *before = fw_document_to_text (doc);
      int n = fw_design_params (fw_document_design (doc), NULL, 0);
      FwParam *list = g_new (FwParam, n);
      fw_design_params (fw_document_design (doc), list, n);
      for (int i = 0; i < n; i++)
        {
          double was = fw_param_get (fw_document_design (doc), list[i]), from, to;
          fw_param_range (fw_document_design (doc), list[i], &from, &to);
          gboolean wall = list[i].kind == FW_PARAM_CRANK_WALL || list[i].kind == FW_PARAM_BODY_WALL || list[i].kind == FW_PARAM_ROD_WALL;
          double new = wall ? 0 : was + 0.01 * (was < (from + to) / 2 ? to - from : from - to);
          FwChange change = { list[i], new };
          GError *error = NULL;
          if (!fw_document_change (doc, &change, 1, "Number", NULL, &error))
            {
              test_assert_one_line (error, "test.flap"); /* some hang on others: a bore, a stop */
              g_clear_error (&error);
              continue;
            }
          g_assert_cmpfloat (fw_param_get (fw_document_design (doc), list[i]), ==, new);
          char *text = fw_document_to_text (doc);
          FwDocument *again = test_open (text);
          g_assert_cmpfloat (fw_param_get (fw_document_design (again), list[i]), ==, new);
          fw_document_free (again);
          g_free (text);
          if (new != was)
            g_assert_true (fw_document_undo (doc));
        }
      char *after = fw_document_to_text (doc);
      g_assert_cmpstr (before, ==, after);
      g_free (list);
      g_free (before);
      g_free (after);
      fw_document_free (doc);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/limits/the log refuses what it cannot hold", the_log_refuses_what_it_cannot_hold);
  g_test_add_func ("/doc/limits/what is full takes no more", what_is_full_takes_no_more);
  g_test_add_func ("/doc/limits/dates are those of the calendar", dates_are_those_of_the_calendar);
  g_test_add_func ("/doc/limits/choices and parts that are not there are refused", choices_that_are_not_there_are_refused);
  g_test_add_func ("/doc/limits/parts are added beside what is picked", parts_are_added_beside_what_is_picked);
  g_test_add_func ("/doc/limits/every number can be changed in the file", every_number_can_be_changed_in_the_file);
  return g_test_run ();
}
