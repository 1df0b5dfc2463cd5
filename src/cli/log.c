/* log: the build log of a design: read it, add to it, export it, bring a design back. */
#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/patience.h"
#include "doc/json.h"
#include "doc/log.h"
#include "doc/words.h"
#include "shop/logmarkdown.h"

typedef struct
{
  char *format, *note, *date, *path, *lengths_word;
  char **pictures, **captions;
  int back; /* number of an entry; 0: none */
  FwLengths lengths;
} Wish;

/* ---- As JSON ---- */

static void
add_lines (cJSON *item, const char *key, const GPtrArray *lines)
{
  cJSON *array = cJSON_AddArrayToObject (item, key);
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    {
      const FwLogLine *line = g_ptr_array_index (lines, i);
      cJSON *out = cJSON_CreateObject ();
      cJSON_AddStringToObject (out, "kind", fw_log_line_name (line->kind));
      if (line->key != NULL)
        cJSON_AddStringToObject (out, "key", line->key);
      if (line->has_values)
        {
          cJSON_AddItemToObject (out, "from", fw_json_number (line->from));
          cJSON_AddItemToObject (out, "to", fw_json_number (line->to));
          cJSON_AddStringToObject (out, "unit", fw_words_unit (line->unit));
        }
      cJSON_AddStringToObject (out, "message", line->text);
      cJSON_AddItemToArray (array, out);
    }
}

static cJSON *
page_json (const FwLogPage *page, const FwDocument *doc)
{
  cJSON *item = cJSON_CreateObject ();
  FwLogEntry entry = { .date = "" };
  fw_log_entry (doc, page->index, &entry);
  if (page->present)
    cJSON_AddNullToObject (item, "entry");
  else
    {
      cJSON_AddNumberToObject (item, "entry", page->index + 1);
      cJSON_AddStringToObject (item, "date", entry.date);
      cJSON_AddStringToObject (item, "note", page->note);
    }
  cJSON *pictures = cJSON_AddArrayToObject (item, "pictures");
  for (guint i = 0; i + 1 < page->pictures->len; i += 2)
    {
      cJSON *picture = cJSON_CreateObject ();
      cJSON_AddStringToObject (picture, "file", g_ptr_array_index (page->pictures, i));
      cJSON_AddStringToObject (picture, "caption", g_ptr_array_index (page->pictures, i + 1));
      cJSON_AddItemToArray (pictures, picture);
    }
  add_lines (item, "changes", page->changes);
  add_lines (item, "effects", page->effects);
  add_lines (item, "trouble", page->troubles);
  return item;
}

static char *
as_json (const FwLogbook *book, const FwDocument *doc)
{
  cJSON *array = cJSON_CreateArray ();
  for (guint i = 0; i < book->pages->len; i++)
    cJSON_AddItemToArray (array, page_json (g_ptr_array_index (book->pages, i), doc));
  char *text = cJSON_Print (array);
  char *out = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (array);
  return out;
}

/* ---- Adding ---- */

/* A picture's path as the log keeps it: from the design's folder downwards. NULL: a line was written. */
static char *
path_from_design (const char *file, const char *picture)
{
  g_autofree char *folder = g_path_get_dirname (file);
  g_autofree char *base = g_canonicalize_filename (folder, NULL), *full = g_canonicalize_filename (picture, NULL);
  g_autofree char *start = g_str_has_suffix (base, "/") ? g_strdup (base) : g_strconcat (base, "/", NULL);
  g_autofree char *shown = g_filename_display_name (picture);
  if (!g_file_test (full, G_FILE_TEST_IS_REGULAR))
    fw_cli_refuse (_ ("log: --picture: %s: a file was expected there"), shown);
  else if (!g_str_has_prefix (full, start) || !fw_log_path_is_valid (full + strlen (start)))
    fw_cli_refuse (_ ("log: --picture: %s: a file in the design's folder or below was expected; copy it there"), shown);
  else
    return g_strdup (full + strlen (start));
  return NULL;
}

static char *
today (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  return g_date_time_format (now, "%Y-%m-%d");
}

/* FALSE: a line was written. */
static gboolean
collect_pictures (const Wish *wish, const char *file, GPtrArray *paths, GArray *pictures)
{
  guint n = wish->captions != NULL ? g_strv_length (wish->captions) : 0;
  for (guint i = 0; wish->pictures != NULL && wish->pictures[i] != NULL; i++)
    {
      char *path = path_from_design (file, wish->pictures[i]);
      if (path == NULL)
        return FALSE;
      g_ptr_array_add (paths, path);
      FwLogPicture picture = { .file = path, .caption = i < n ? wish->captions[i] : "" };
      g_array_append_val (pictures, picture);
    }
  if (n <= pictures->len)
    return TRUE;
  fw_cli_refuse (_ ("log: --caption: expected no more captions than pictures"));
  return FALSE;
}

static int
add_entry (FwDocument *doc, const Wish *wish, const char *file)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) pictures = g_array_new (FALSE, FALSE, sizeof (FwLogPicture));
  g_autofree char *date = wish->date != NULL ? g_strdup (wish->date) : today ();
  if (strcmp (file, "-") == 0)
    return fw_cli_refuse (_ ("log: --add: expected the name of a design file to write to, found -"));
  if (!collect_pictures (wish, file, paths, pictures))
    return FW_EXIT_REFUSED;
  if (!fw_log_add (doc, date, wish->note, (const FwLogPicture *)(void *)pictures->data, (int)pictures->len, &error)
      || !fw_document_save (doc, file, &error))
    return fw_cli_refuse ("%s", error->message);
  return FW_EXIT_FINE;
}

static int
bring_back (FwDocument *doc, const Wish *wish)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *date = wish->date != NULL ? g_strdup (wish->date) : today ();
  if (!fw_log_bring_back (doc, wish->back - 1, date, wish->note, &error) || !fw_document_save (doc, wish->path, &error))
    return fw_cli_refuse ("%s", error->message);
  return FW_EXIT_FINE;
}

/* ---- Reading and exporting ---- */

static int
show (const FwDocument *doc, const Wish *wish, const char *file)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = strcmp (file, "-") == 0 ? g_strdup (".") : g_path_get_dirname (file);
  g_autoptr (FwLogbook) book = fw_logbook_new (doc, folder, wish->lengths, NULL, &error);
  if (book == NULL)
    return fw_cli_refuse ("%s", error->message);
  if (wish->path != NULL)
    {
      gboolean pdf = g_str_has_suffix (wish->path, ".pdf");
      fw_cli_begin_long ();
      gboolean written = pdf ? fw_logbook_write_pdf (book, wish->path, fw_cli_progress (), &error)
                             : fw_logbook_write_markdown (book, wish->path, fw_cli_progress (), &error);
      fw_cli_end_long ();
      return written ? FW_EXIT_FINE : fw_cli_refuse ("%s", error->message);
    }
  g_autofree char *text = g_strcmp0 (wish->format, "json") == 0       ? as_json (book, doc)
                          : g_strcmp0 (wish->format, "markdown") == 0 ? fw_logbook_markdown (book, NULL)
                                                                      : fw_logbook_text (book);
  return fw_cli_print (text, FW_EXIT_FINE);
}

/* FALSE: a line was written. */
static gboolean
makes_sense (Wish *wish)
{
  const char *format = wish->format;
  int refused;
  if (format != NULL && strcmp (format, "text") != 0 && strcmp (format, "json") != 0 && strcmp (format, "markdown") != 0)
    fw_cli_refuse (_ ("log: --format: expected text, json or markdown, found “%s”"), format);
  else if (!fw_cli_lengths ("log", wish->lengths_word, &wish->lengths, &refused))
    return FALSE;
  else if (wish->back != 0 && wish->path == NULL)
    fw_cli_refuse (_ ("log: --bring-back: expected -o with the name of the design file to write"));
  else if (wish->back < 0)
    fw_cli_refuse (_ ("log: --bring-back: expected the number of an entry, found %d"), wish->back);
  else if (wish->note != NULL && wish->path != NULL && wish->back == 0)
    fw_cli_refuse (_ ("log: --add: expected without -o; the design file itself is written"));
  else if (wish->note == NULL && (wish->pictures != NULL || wish->captions != NULL))
    fw_cli_refuse (_ ("log: --picture: expected with --add"));
  else if (wish->date != NULL && wish->note == NULL && wish->back == 0)
    fw_cli_refuse (_ ("log: --date: expected with --add or --bring-back"));
  else if (wish->back != 0 && wish->pictures != NULL)
    fw_cli_refuse (_ ("log: --picture: expected without --bring-back"));
  else
    return TRUE;
  return FALSE;
}

static int
carry_out (Wish *wish, const char *file)
{
  FwJob job;
  int status;
  if (!makes_sense (wish) || !fw_job_open (&job, file, 36))
    return FW_EXIT_REFUSED;
  if (wish->back != 0)
    status = bring_back (job.doc, wish);
  else if (wish->note != NULL)
    status = add_entry (job.doc, wish, file);
  else
    status = show (job.doc, wish, file);
  fw_job_close (&job);
  return status;
}

int
fw_verb_log (int argc, char **argv)
{
  Wish wish = { NULL };
  int status;
  const GOptionEntry entries[] = {
    { "format", 0, 0, G_OPTION_ARG_STRING, &wish.format, N_ ("text (the default), json or markdown"), N_ ("FORMAT") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &wish.lengths_word, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &wish.path,
      N_ ("Write OUT.pdf, OUT.md with a folder of pictures, or a folder with both"), N_ ("OUT") },
    { "add", 0, 0, G_OPTION_ARG_STRING, &wish.note, N_ ("Add an entry with this note to the design file"), N_ ("NOTE") },
    { "date", 0, 0, G_OPTION_ARG_STRING, &wish.date, N_ ("Its date, such as 2026-03-14 (today)"), N_ ("DATE") },
    { "picture", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &wish.pictures, N_ ("A picture beside the design; may be repeated"), N_ ("FILE") },
    { "caption", 0, 0, G_OPTION_ARG_STRING_ARRAY, &wish.captions, N_ ("What the picture shows; the first goes with the first"), N_ ("TEXT") },
    { "bring-back", 0, 0, G_OPTION_ARG_INT, &wish.back, N_ ("Write the design of entry N as a design file, with -o OUT.flap"), N_ ("N") },
    { NULL },
  };
  g_autofree char *file
      = fw_cli_options (argc, argv, "log", _ ("The build log: what changed from entry to entry, and what it did."), entries, &status);
  if (file != NULL)
    status = carry_out (&wish, file);
  g_free (wish.format);
  g_free (wish.lengths_word);
  g_free (wish.path);
  g_free (wish.note);
  g_free (wish.date);
  g_strfreev (wish.pictures);
  g_strfreev (wish.captions);
  return status;
}
