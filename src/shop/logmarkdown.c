#include "shop/logmarkdown.h"

#include <string.h>

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "doc/files.h"
#include "draw/motionstrip.h"
#include "shop/logfolder.h"
#include "shop/logpicture.h"

#define MARKDOWN_LETTERS "\\`*_[]<>|~&" /* that mean something anywhere in a line */
#define MARKDOWN_STARTS "#+-="            /* that do at its start */

/* ---- Words ---- */

/* Plain text as Markdown shows it letter by letter. */
static void
add_escaped (GString *out, const char *text)
{
  for (const char *c = text; *c; c++)
    {
      if (strchr (MARKDOWN_LETTERS, *c) != NULL)
        g_string_append_c (out, '\\');
      g_string_append_c (out, *c == '\t' ? ' ' : *c);
    }
}

/* A line of its own: what would begin a heading or a list is escaped too. */
static void
add_line (GString *out, const char *text)
{
  gsize digits = strspn (text, "0123456789");
  if (digits > 0 && (text[digits] == '.' || text[digits] == ')'))
    {
      g_string_append_printf (out, "%.*s\\%c", (int)digits, text, text[digits]);
      text += digits + 1;
    }
  else if (*text && strchr (MARKDOWN_STARTS, *text) != NULL)
    g_string_append_c (out, '\\');
  add_escaped (out, text);
}

/* An empty line ends a paragraph; a single line end stays one. */
static void
add_note (GString *out, const char *note)
{
  g_auto (GStrv) lines = g_strsplit (note, "\n", -1);
  for (char **line = lines; *note && *line != NULL; line++)
    {
      char *text = g_strstrip (*line);
      add_line (out, text);
      g_string_append (out, *text && line[1] != NULL && *line[1] ? "  \n" : "\n");
    }
  if (*note)
    g_string_append_c (out, '\n');
}

static void
add_lines (GString *out, const char *heading, const GPtrArray *lines)
{
  if (lines == NULL || lines->len == 0)
    return;
  g_string_append_printf (out, "### %s\n\n", heading);
  for (guint i = 0; i < lines->len; i++)
    {
      g_string_append (out, "- ");
      add_line (out, ((FwLogLine *)g_ptr_array_index (lines, i))->text);
      g_string_append_c (out, '\n');
    }
  g_string_append_c (out, '\n');
}

static void
add_table (GString *out, const FwLogPage *page, FwLengths lengths)
{
  g_autoptr (GPtrArray) rows = fw_log_page_table (page, lengths);
  g_string_append_printf (out, "### %s\n\n", _ ("One turn"));
  for (guint r = 0; r < rows->len; r++)
    {
      const GPtrArray *row = g_ptr_array_index (rows, r);
      for (guint c = 0; c < row->len; c++)
        {
          g_string_append (out, c == 0 ? "| " : " | ");
          add_escaped (out, g_ptr_array_index (row, c));
        }
      g_string_append (out, " |\n");
      for (guint c = 0; r == 0 && c < row->len; c++)
        g_string_append (out, c + 1 < row->len ? "|---:" : "|---:|\n");
    }
  g_string_append_c (out, '\n');
}

/* ---- Pictures ---- */

static char *
strip_name (const FwLogPage *page)
{
  return page->present ? g_strdup ("now-strip.png") : g_strdup_printf ("%02d-strip.png", page->index + 1);
}

/* A name of our own with the file's ending, which is all that is kept of what the design says. */
static char *
photo_name (const FwLogPage *page, guint number)
{
  const char *file = g_ptr_array_index (page->pictures, 2 * number);
  const char *dot = strrchr (file, '.');
  gboolean plain = dot != NULL && strlen (dot) >= 2 && strlen (dot) <= 5;
  for (const char *c = plain ? dot + 1 : ""; *c; c++)
    plain = plain && g_ascii_isalnum (*c);
  g_autofree char *ending = plain ? g_ascii_strdown (dot, -1) : g_strdup ("");
  return g_strdup_printf ("%02d-picture-%u%s", page->index + 1, number + 1, ending);
}

static void
add_picture (GString *out, const char *folder, const char *name, const char *caption)
{
  g_autofree char *quoted = g_uri_escape_string (folder, "/", FALSE);
  g_string_append (out, "![");
  add_escaped (out, caption);
  g_string_append_printf (out, "](%s/%s)\n\n", quoted, name);
}

static void
add_photos (GString *out, const FwLogbook *book, const FwLogPage *page, const char *folder)
{
  for (guint i = 0; i < page->pictures->len / 2; i++)
    {
      const char *file = g_ptr_array_index (page->pictures, 2 * i);
      const char *caption = g_ptr_array_index (page->pictures, 2 * i + 1);
      g_autofree char *why = NULL, *name = photo_name (page, i);
      g_autofree char *path = folder != NULL ? fw_log_picture_path (book->folder, file, &why) : NULL;
      if (path != NULL)
        add_picture (out, folder, name, *caption ? caption : _ ("Picture"));
      else
        {
          g_autofree char *words = why != NULL ? g_strdup (why) : g_strdup_printf (_ ("picture: %s"), file);
          add_escaped (out, words);
          g_string_append (out, "\n\n");
        }
      if (*caption)
        {
          g_string_append_c (out, '*');
          add_escaped (out, caption);
          g_string_append (out, "*\n\n");
        }
    }
}

static void
add_page (GString *out, const FwLogbook *book, const FwLogPage *page, const char *folder)
{
  g_autofree char *heading = fw_log_page_heading (page), *strip = strip_name (page);
  g_string_append (out, "## ");
  add_escaped (out, heading);
  g_string_append (out, "\n\n");
  add_note (out, page->note);
  add_photos (out, book, page, folder);
  add_lines (out, _ ("What changed"), page->changes);
  add_lines (out, _ ("What it did"), page->effects);
  if (folder != NULL)
    add_picture (out, folder, strip, _ ("One turn as a strip of frames"));
  add_lines (out, _ ("Trouble"), page->troubles);
  add_table (out, page, book->lengths);
}

char *
fw_logbook_markdown (const FwLogbook *book, const char *pictures)
{
  GString *out = g_string_new ("# ");
  g_autofree char *title = *book->title ? g_strdup_printf (_ ("%s: build log"), book->title)
                                        : g_strdup (_ ("Build log"));
  add_escaped (out, title);
  g_string_append (out, "\n\n");
  if (book->pages->len == 0)
    g_string_append_printf (out, "%s\n", _ ("The log is empty."));
  for (guint i = 0; i < book->pages->len; i++)
    add_page (out, book, g_ptr_array_index (book->pages, i), pictures);
  for (guint i = 0; i < book->remarks->len; i++)
    {
      add_escaped (out, ((FwLogLine *)g_ptr_array_index (book->remarks, i))->text);
      g_string_append (out, "\n\n");
    }
  return g_string_free (out, FALSE);
}

/* ---- Files ---- */

static gboolean
write_strip (const FwLogbook *book, const FwLogPage *page, const char *folder, GError **error)
{
  FwScene scene = fw_log_state_scene (page->state);
  FwMotionStrip strip = fw_motion_strip_default ();
  g_autofree char *name = strip_name (page), *path = g_build_filename (folder, name, NULL);
  strip.lengths = book->lengths;
  return fw_motion_strip_write_png (&scene, &strip, page->title, path, error);
}

static gboolean
copy_photos (const FwLogbook *book, const FwLogPage *page, const char *folder, GError **error)
{
  for (guint i = 0; i < page->pictures->len / 2; i++)
    {
      g_autofree char *why = NULL;
      g_autofree char *from = fw_log_picture_path (book->folder, g_ptr_array_index (page->pictures, 2 * i), &why);
      if (from == NULL)
        continue;
      gsize length;
      g_autofree char *bytes = fw_file_read (from, &length, error);
      g_autofree char *name = photo_name (page, i), *to = g_build_filename (folder, name, NULL);
      if (bytes == NULL || !fw_file_replace (to, bytes, length, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
write_pictures (const FwLogbook *book, const char *folder, const FwProgress *progress, GError **error)
{
  for (guint i = 0; i < book->pages->len; i++)
    {
      const FwLogPage *page = g_ptr_array_index (book->pages, i);
      if (!fw_progress (progress, (double)i / book->pages->len, _ ("Drawing strips")))
        return fw_progress_stopped (error);
      if (!write_strip (book, page, folder, error) || !copy_photos (book, page, folder, error))
        return FALSE;
    }
  return fw_progress (progress, 1, _ ("Drawing strips")) || fw_progress_stopped (error);
}

/* A folder with log.md and its pictures. */
static gboolean
write_folder (const FwLogbook *book, const char *path, const FwProgress *progress, GError **error)
{
  FwLogFolder folder;
  if (!fw_log_folder_open (&folder, path, error))
    return FALSE;
  g_autofree char *pictures = g_build_filename (folder.work, "pictures", NULL),
                  *file = g_build_filename (folder.work, "log.md", NULL), *text = fw_logbook_markdown (book, "pictures");
  gboolean fine = fw_log_folder_make (&folder, pictures, error) && write_pictures (book, pictures, progress, error)
                  && fw_file_replace (file, text, strlen (text), error) && fw_log_folder_place (&folder, error);
  fw_log_folder_close (&folder);
  return fine;
}

/* A file, and beside it the folder of its pictures. */
static gboolean
write_file (const FwLogbook *book, const char *path, const FwProgress *progress, GError **error)
{
  FwLogFolder folder;
  g_autofree char *stem = g_strndup (path, strlen (path) - strlen (".md"));
  g_autofree char *target = g_strconcat (stem, "-pictures", NULL), *name = g_path_get_basename (target);
  g_autofree char *text = fw_logbook_markdown (book, name);
  if (!fw_log_folder_open (&folder, target, error))
    return FALSE;
  gboolean fine = write_pictures (book, folder.work, progress, error) && fw_log_folder_place (&folder, error);
  if (fine && !fw_file_replace (path, text, strlen (text), error))
    {
      fw_log_folder_undo (&folder);
      fine = FALSE;
    }
  fw_log_folder_close (&folder);
  return fine;
}

gboolean
fw_logbook_write_markdown (const FwLogbook *book, const char *path, const FwProgress *progress, GError **error)
{
  return g_str_has_suffix (path, ".md") ? write_file (book, path, progress, error)
                                        : write_folder (book, path, progress, error);
}
