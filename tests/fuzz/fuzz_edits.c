/* A script of edits, a line each: the first letter says what, the second where, the rest is typed: names, notes,
 * dates, choices. Each is done or refused with one line; the file can then be read again; undoing all of them
 * gives the first file back, redoing the last. */
#include "fuzz.h"

#include <string.h>

#include "doc/choices.h"
#include "doc/log.h"
#include "doc/makeedit.h"
#include "doc/measurements.h"
#include "doc/partedit.h"
#include "doc/versions.h"
#include "shop/logmarkdown.h"

#define MOST 24 /* edits of one script */

static gboolean
edit_part (FwDocument *doc, char what, guint where, const char *text, GError **error)
{
  const FwDesign *design = fw_document_design (doc);
  FwPlace place = (FwPlace)(where % FW_N_PLACES);
  int n = fw_part_count (design, place);
  FwPartRef ref = { place, n > 0 ? (int)(where / FW_N_PLACES) % n : 0 }, added;
  if (what == 'a')
    return fw_document_add_part (doc, place, NULL, &added, error);
  if (n == 0)
    return TRUE;
  if (what == 'n')
    return fw_document_rename_part (doc, ref, text, error);
  char *also = NULL;
  gboolean done = fw_document_remove_part (doc, ref, &also, error);
  g_free (also);
  return done;
}

static gboolean
edit_choice (FwDocument *doc, guint where, const char *text, GError **error)
{
  FwHolder holder = { (FwHolderKind)(where % 5), { (FwPlace)(where % FW_N_PLACES), 0 } };
  if (holder.kind == FW_HOLDER_PART && fw_part_count (fw_document_design (doc), holder.ref.place) == 0)
    return TRUE;
  GPtrArray *choices = fw_choices_of (doc, holder);
  gboolean done = TRUE;
  if (choices->len > 0)
    {
      const FwChoice *choice = g_ptr_array_index (choices, (guchar)text[0] % choices->len);
      if (choice->ids->len > 0)
        done = fw_document_choose (doc, choice, (int)(strlen (text) % choice->ids->len), error);
    }
  g_ptr_array_unref (choices);
  return done;
}

static gboolean
edit_log (FwDocument *doc, char what, guint where, const char *text, GError **error)
{
  int n = fw_log_count (doc), at = n > 0 ? (int)where % n : (int)where;
  const FwLogPicture picture = { text, "Caption" };
  switch (what)
    {
    case 'l':
      return fw_log_add (doc, "2026-03-14", text, NULL, 0, error);
    case 'd':
      return fw_log_add (doc, text, "A note", NULL, 0, error);
    case 'p':
      return fw_log_add (doc, "2026-03-14T18:30", "", &picture, 1, error);
    case 't':
      return fw_log_set_note (doc, at, text, error);
    case 'x':
      return fw_log_remove (doc, at, error);
    default:
      return fw_log_bring_back (doc, at, "2026-03-15", text, error);
    }
}

static gboolean
edit_version (FwDocument *doc, char what, guint where, const char *text, GError **error)
{
  int n = fw_versions_count (doc), at = n > 0 ? (int)where % n : (int)where;
  if (what == 'k')
    return fw_versions_keep (doc, text, error);
  if (what == 'm')
    return fw_versions_rename (doc, at, text, error);
  return what == 'y' ? fw_versions_remove (doc, at, error) : fw_versions_bring_back (doc, at, error);
}

static gboolean
edit_making (FwDocument *doc, char what, guint where, const char *text, GError **error)
{
  static const char *const keys[] = { "pipe", "diameter", "wall", "make", "kerf", "count", "length", "name", "price" };
  const char *key = keys[where % G_N_ELEMENTS (keys)];
  double number = g_ascii_strtod (text, NULL);
  cJSON *value = where & 64 ? cJSON_CreateNumber (number) : cJSON_CreateString (text);
  FwStockKind kind = where & 32 ? FW_STOCK_SHEETS : FW_STOCK_BARS;
  switch (what)
    {
    case 'b':
      return fw_document_set_build (doc, "elbows", key, value, "Build", NULL, error);
    case 's':
      return fw_document_set_stock (doc, key, value, "Stock", "key", error);
    case 'e':
      return fw_document_set_stock_entry (doc, kind, (int)where % 4, key, value, "Entry", NULL, error);
    default:
      cJSON_Delete (value);
      return fw_document_remove_stock (doc, kind, (int)where % 4, "Gone", error);
    }
}

static gboolean
edit_measured (FwDocument *doc, guint where, const char *text, GError **error)
{
  FwMeasuredRow rows[2] = { { where, (char *)text, 12 }, { 30, (char *)"body.z_mm", g_ascii_strtod (text, NULL) } };
  return fw_measurements_set (doc, rows, (int)(where % 3), NULL, error);
}

static gboolean
edit (FwDocument *doc, char what, guint where, const char *text, GError **error)
{
  if (what == 'T')
    return fw_document_set_title (doc, text), TRUE;
  if (what == 'u')
    return fw_document_undo (doc), TRUE;
  if (what == 'r')
    return fw_document_redo (doc), TRUE;
  if (what == 'c')
    return edit_choice (doc, where, text, error);
  if (what == 'z')
    return edit_measured (doc, where, text, error);
  if (strchr ("anR", what))
    return edit_part (doc, what, where, text, error);
  if (strchr ("ldptxB", what))
    return edit_log (doc, what, where, text, error);
  if (strchr ("kmyV", what))
    return edit_version (doc, what, where, text, error);
  return strchr ("bseg", what) ? edit_making (doc, what, where, text, error) : TRUE;
}

static void
require_sound (const FwDocument *doc)
{
  g_autofree char *text = fw_document_to_text (doc);
  FwDocument *again = fw_document_new_from_text (text, -1, "again", NULL);
  fuzz_require (again != NULL);
  g_autofree char *twice = fw_document_to_text (again);
  fuzz_require (strcmp (text, twice) == 0);
  fw_document_free (again);
}

static void
undo_and_redo_all (FwDocument *doc, const char *first)
{
  g_autofree char *last = fw_document_to_text (doc);
  int steps = 0;
  while (fw_document_redo (doc))
    steps--;
  while (fw_document_undo (doc))
    steps++;
  g_autofree char *begin = fw_document_to_text (doc);
  fuzz_require (strcmp (begin, first) == 0);
  for (int i = 0; i < steps; i++)
    fuzz_require (fw_document_redo (doc));
  g_autofree char *end = fw_document_to_text (doc);
  fuzz_require (strcmp (end, last) == 0);
}

static void
write_log (const FwDocument *doc)
{
  g_autoptr (FwLogbook) book = fw_logbook_new (doc, ".", FW_LENGTHS_MM, NULL, NULL);
  fuzz_require (book != NULL);
  g_free (fw_logbook_markdown (book, "pictures"));
  g_free (fw_logbook_text (book));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_begin ();
  FwDocument *doc = fw_document_new_from_text (fuzz_design_text, -1, "fixed", NULL);
  g_autofree char *first = fw_document_to_text (doc);
  for (int i = 0; i < MOST && size > 0; i++)
    {
      g_autofree char *line = fuzz_line (&data, &size);
      if (strlen (line) < 2)
        continue;
      g_autofree char *typed = g_utf8_make_valid (line + 2, -1); /* fields give nothing else */
      GError *error = NULL;
      g_autofree char *before = fw_document_to_text (doc);
      if (!edit (doc, line[0], (guchar)line[1], typed, &error))
        {
          g_autofree char *after = fw_document_to_text (doc);
          fuzz_require_line (error);
          fuzz_require (strcmp (before, after) == 0);
        }
      g_clear_error (&error);
      require_sound (doc);
    }
  if (fw_log_count (doc) > 0 && fw_log_count (doc) < 3)
    write_log (doc);
  undo_and_redo_all (doc, first);
  fw_document_free (doc);
  return 0;
}
