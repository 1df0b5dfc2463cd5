#include "app/logedits.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#include "app/sessionprivate.h"
#include "doc/files.h"

#define MOST_NAMES 1000

char *
fw_log_today (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  return g_date_time_format (now, "%Y-%m-%d");
}

/* ---- Pictures ---- */

/* The path from the design's folder downwards; NULL if it does not lie there. */
static char *
path_below (const char *folder, const char *file)
{
  g_autofree char *base = g_canonicalize_filename (folder, NULL), *full = g_canonicalize_filename (file, NULL);
  g_autofree char *start = g_str_has_suffix (base, "/") ? g_strdup (base) : g_strconcat (base, "/", NULL);
  gboolean below = g_str_has_prefix (full, start) && fw_log_path_is_valid (full + strlen (start));
  return below ? g_strdup (full + strlen (start)) : NULL;
}

/* "heron pictures", for /home/a/heron.flap. */
static char *
pictures_folder (const char *design)
{
  g_autofree char *base = g_path_get_basename (design);
  if (g_str_has_suffix (base, ".flap"))
    base[strlen (base) - strlen (".flap")] = '\0';
  return g_strconcat (base, " pictures", NULL);
}

/* A name in the folder that is not taken: "arm.jpg", "arm 2.jpg". NULL: too many are. */
static char *
free_name (const char *folder, const char *file)
{
  g_autofree char *base = g_path_get_basename (file);
  const char *dot = strrchr (base, '.');
  int stem = dot != NULL && dot != base ? (int) (dot - base) : (int) strlen (base);
  for (int i = 1; i < MOST_NAMES; i++)
    {
      g_autofree char *name = i == 1 ? g_strdup (base) : g_strdup_printf ("%.*s %d%s", stem, base, i, base + stem);
      g_autofree char *path = g_build_filename (folder, name, NULL);
      if (!g_file_test (path, G_FILE_TEST_EXISTS))
        return g_steal_pointer (&name);
    }
  return NULL;
}

/* Copies a picture beside the design. Its path from there, or NULL with an error. */
static char *
copy_beside (const char *design, const char *file, GPtrArray *copied, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (design), *into = pictures_folder (design);
  g_autofree char *target = g_build_filename (folder, into, NULL);
  g_autofree char *name = free_name (target, file), *shown = g_filename_display_name (file);
  g_autofree char *below = g_strconcat (into, "/", name != NULL ? name : "", NULL);
  if (name == NULL || !fw_log_path_is_valid (below))
    {
      g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("%s: a picture with a plain name was expected"), shown);
      return NULL;
    }
  g_mkdir_with_parents (target, 0777);
  g_autofree char *path = g_build_filename (target, name, NULL);
  g_autoptr (GFile) from = g_file_new_for_path (file), to = g_file_new_for_path (path);
  if (!g_file_copy (from, to, G_FILE_COPY_NONE, NULL, NULL, NULL, error))
    return NULL;
  g_ptr_array_add (copied, g_steal_pointer (&path));
  return g_steal_pointer (&below);
}

/* The path as the log keeps it; NULL with an error. */
static char *
place_picture (const char *design, const char *file, GPtrArray *copied, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (design), *shown = g_filename_display_name (file);
  if (!g_file_test (file, G_FILE_TEST_IS_REGULAR))
    {
      g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("The picture %s is not there."), shown);
      return NULL;
    }
  char *below = path_below (folder, file);
  return below != NULL ? below : copy_beside (design, file, copied, error);
}

/* ---- Edits ---- */

gboolean
fw_log_edit_add (FwSession *session, const char *date, const char *note, const FwLogPicture *pictures, int n,
                 GError **error)
{
  FwDocument *doc = fw_session_document (session);
  const char *design = fw_session_path (session);
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) copied = g_ptr_array_new_with_free_func (g_free);
  g_autofree FwLogPicture *placed = g_new0 (FwLogPicture, n + 1);
  gboolean good = TRUE;

  if (n > 0 && design == NULL)
    {
      g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID,
                           _("Pictures are kept beside the design: save the design first."));
      return FALSE;
    }
  for (int i = 0; i < n && good; i++)
    {
      char *path = place_picture (design, pictures[i].file, copied, error);
      good = path != NULL;
      g_ptr_array_add (paths, path);
      placed[i] = (FwLogPicture) { .file = path, .caption = pictures[i].caption };
    }
  good = good && fw_log_add (doc, date, note, placed, n, error);
  for (guint i = 0; i < copied->len && !good; i++)
    g_unlink (g_ptr_array_index (copied, i));
  if (!good)
    return FALSE;
  fw_session_refresh (session, -1);
  fw_session_say (session, _("Noted in the build log: entry %d."), fw_log_count (doc));
  return TRUE;
}

gboolean
fw_log_edit_note (FwSession *session, int index, const char *note, GError **error)
{
  FwDocument *doc = fw_session_document (session);
  guint64 before = fw_document_serial (doc);
  if (!fw_log_set_note (doc, index, note, error))
    return FALSE;
  fw_document_end_merge (doc);
  if (fw_document_serial (doc) == before)
    return TRUE;
  fw_session_refresh (session, -1);
  fw_session_say (session, _("Note of entry %d changed."), index + 1);
  return TRUE;
}

void
fw_log_edit_remove (FwSession *session, int index)
{
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_session_document (session);
  FwLogEntry entry;
  if (!fw_log_entry (doc, index, &entry))
    return;
  g_autofree char *date = g_strdup (entry.date);
  if (!fw_log_remove (doc, index, &error))
    {
      fw_session_say (session, "%s", error->message);
      return;
    }
  fw_session_refresh (session, -1);
  /* Translators: %s is a date */
  fw_session_say (session, _("The entry of %s is taken out. Undo puts it back."), date);
}

void
fw_log_edit_bring_back (FwSession *session, int index)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *today = fw_log_today ();
  FwDocument *doc = fw_session_document (session);
  FwLogEntry entry;
  if (!fw_log_entry (doc, index, &entry))
    return;
  g_autofree char *date = g_strdup (entry.date);
  if (!fw_log_bring_back (doc, index, today, NULL, &error))
    {
      fw_session_say (session, "%s", error->message);
      return;
    }
  fw_session_refresh (session, -1);
  /* Translators: %s is a date */
  fw_session_say (session, _("The design of %s is back. Undo takes that back."), date);
}
