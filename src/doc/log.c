/* The build log as part of an open document. */
#include "doc/log.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/documenttree.h"
#include "doc/json.h"
#include "doc/logchanges.h"
#include "doc/logtree.h"
#include "doc/paramkeys.h"
#include "doc/put.h"
#include "doc/read.h"

/* ---- Reading ---- */

static const cJSON *
get (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static const cJSON *
log_of (const FwDocument *doc)
{
  return get (fw_document_tree (doc), "log");
}

int
fw_log_count (const FwDocument *doc)
{
  return cJSON_GetArraySize (log_of (doc));
}

static const cJSON *
entry_at (const FwDocument *doc, int index)
{
  return index < 0 ? NULL : cJSON_GetArrayItem (log_of (doc), index);
}

static const char *
text_of (const cJSON *object, const char *key)
{
  const cJSON *item = get (object, key);
  return item ? item->valuestring : "";
}

gboolean
fw_log_entry (const FwDocument *doc, int index, FwLogEntry *entry)
{
  const cJSON *item = entry_at (doc, index);
  if (!item)
    return FALSE;
  *entry = (FwLogEntry){ .date = text_of (item, "date"),
                         .note = text_of (item, "note"),
                         .n_pictures = cJSON_GetArraySize (get (item, "pictures")) };
  return TRUE;
}

gboolean
fw_log_picture (const FwDocument *doc, int index, int picture, FwLogPicture *out)
{
  const cJSON *item = cJSON_GetArrayItem (get (entry_at (doc, index), "pictures"), picture);
  if (!item)
    return FALSE;
  *out = (FwLogPicture){ .file = text_of (item, "file"), .caption = text_of (item, "caption") };
  return TRUE;
}

/* The tree of an entry's design, or the present one for the index behind the last. */
static const cJSON *
tree_at (const FwDocument *doc, int index)
{
  if (index == fw_log_count (doc))
    return fw_document_tree (doc);
  return get (entry_at (doc, index), "design");
}

FwDesign *
fw_log_design (const FwDocument *doc, int index)
{
  const cJSON *tree = tree_at (doc, index);
  return tree ? fw_design_read (tree, fw_document_name (doc), NULL) : NULL;
}

const char *
fw_log_title (const FwDocument *doc, int index)
{
  const cJSON *tree = tree_at (doc, index);
  return tree ? text_of (tree, "title") : NULL;
}

/* Entries are referred to, never copied, so what they hold stays where it is. */
gconstpointer
fw_log_design_key (const FwDocument *doc, int index)
{
  const cJSON *design = get (entry_at (doc, index), "design");
  return design ? design->child : NULL;
}

GPtrArray *
fw_log_changes (const FwDocument *doc, int index, FwLengths lengths)
{
  const cJSON *after = tree_at (doc, index), *before = index > 0 ? tree_at (doc, index - 1) : NULL;
  GPtrArray *lines;

  if (!after)
    return NULL;
  if (!before)
    {
      lines = fw_log_lines_new ();
      fw_log_lines_add (lines, FW_LOG_FIRST, g_strdup (_("This is the first entry.")));
      return lines;
    }
  FwDesign *old = fw_log_design (doc, index - 1), *new = fw_log_design (doc, index);
  lines = old && new ? fw_tree_changes (before, old, after, new, lengths) : fw_log_lines_new ();
  fw_design_free (old);
  fw_design_free (new);
  return lines;
}

/* ---- Refusing ---- */

static gboolean
refuse (const FwDocument *doc, GError **error, const char *why)
{
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, "%s: %s: %s", fw_document_name (doc), "log",
               why);
  return FALSE;
}

static gboolean
no_entry (const FwDocument *doc, int index, GError **error)
{
  char *why = g_strdup_printf (ngettext ("an entry from 1 to %d was expected, %d was asked for",
                                         "an entry from 1 to %d was expected, %d was asked for",
                                         (gulong)fw_log_count (doc)),
                               fw_log_count (doc), index + 1);
  if (fw_log_count (doc) == 0)
    refuse (doc, error, _("the log has no entry yet"));
  else
    refuse (doc, error, why);
  g_free (why);
  return FALSE;
}

static gboolean
can_note (const FwDocument *doc, const char *note, GError **error)
{
  return fw_log_text_is_valid (note, TRUE)
         ? TRUE
         : refuse (doc, error,
                   _("a note without control characters and of at most 20000 letters was "
                      "expected"));
}

static gboolean
can_date (const FwDocument *doc, const char *date, GError **error)
{
  if (fw_log_date_is_valid (date))
    return TRUE;
  char *quoted = g_utf8_validate (date, -1, NULL) ? fw_json_quote (date) : g_strdup ("?");
  char *why = g_strdup_printf (
      _("a date such as 2026-03-14 or 2026-03-14T18:30 was expected, %s was found"), quoted);
  refuse (doc, error, why);
  g_free (why);
  g_free (quoted);
  return FALSE;
}

static gboolean
can_picture (const FwDocument *doc, const FwLogPicture *picture, GError **error)
{
  if (!fw_log_path_is_valid (picture->file))
    return refuse (doc, error,
                   _("pictures were expected by their path from the design's folder downwards"));
  return fw_log_text_is_valid (picture->caption, FALSE)
         ? TRUE
         : refuse (doc, error, _("captions of one line were expected"));
}

/* ---- Building trees ---- */

static cJSON *
pictures_tree (const FwLogPicture *pictures, int n)
{
  cJSON *list = cJSON_CreateArray ();
  gboolean good = list != NULL;

  for (int i = 0; i < n && good; i++)
    {
      cJSON *item = cJSON_CreateObject ();
      good = item && cJSON_AddItemToArray (list, item)
             && fw_put_item (item, "file", cJSON_CreateString (pictures[i].file))
             && (!*pictures[i].caption
                 || fw_put_item (item, "caption", cJSON_CreateString (pictures[i].caption)));
    }
  if (good)
    return list;
  cJSON_Delete (list);
  return NULL;
}

/* A design's tree without its log and its versions. */
static cJSON *
design_tree (const cJSON *tree)
{
  cJSON *copy = fw_log_tree_copy (tree);
  cJSON_DeleteItemFromObjectCaseSensitive (copy, "log");
  cJSON_DeleteItemFromObjectCaseSensitive (copy, "versions");
  return copy;
}

/* The present versions put into the tree of a design that comes back. Takes it over; NULL: no memory. */
static cJSON *
with_versions (const FwDocument *doc, cJSON *tree)
{
  const cJSON *versions = get (fw_document_tree (doc), "versions");
  if (!versions || fw_put_item (tree, "versions", cJSON_CreateArrayReference (versions->child)))
    return tree;
  cJSON_Delete (tree);
  return NULL;
}

static cJSON *
entry_tree (const cJSON *design, const char *date, const char *note, const FwLogPicture *pictures,
            int n_pictures)
{
  cJSON *entry = cJSON_CreateObject ();
  if (entry && fw_put_item (entry, "date", cJSON_CreateString (date))
      && fw_put_item (entry, "note", cJSON_CreateString (note))
      && (n_pictures == 0 || fw_put_item (entry, "pictures", pictures_tree (pictures, n_pictures)))
      && fw_put_item (entry, "design", design_tree (design)))
    return entry;
  cJSON_Delete (entry);
  return NULL;
}

/* Puts the log in its place in the tree, or at the end; takes both over. NULL: no memory. */
static cJSON *
with_log (cJSON *tree, cJSON *log)
{
  if (fw_put_item (tree, "log", log))
    return tree;
  cJSON_Delete (tree);
  return NULL;
}

/* Takes the tree over. */
static gboolean
take (FwDocument *doc, cJSON *tree, const char *label, const char *merge_key, GError **error)
{
  return tree ? fw_document_take_tree (doc, tree, label, merge_key, error) : fw_document_no_memory (doc, error);
}

/* ---- Changes ---- */

static gboolean
can_hold_one_more (const FwDocument *doc, GError **error)
{
  return fw_log_count (doc) < FW_LOG_MOST_ENTRIES
         ? TRUE
         : refuse (doc, error, _("a log of at most 2000 entries was expected: take out old ones"));
}

gboolean
fw_log_add (FwDocument *doc, const char *date, const char *note, const FwLogPicture *pictures,
            int n_pictures, GError **error)
{
  const cJSON *now = fw_document_tree (doc);

  if (!can_date (doc, date, error) || !can_note (doc, note, error)
      || !can_hold_one_more (doc, error))
    return FALSE;
  if (n_pictures > FW_LOG_MOST_PICTURES)
    return refuse (doc, error, _("at most 100 pictures were expected for one entry"));
  for (int i = 0; i < n_pictures; i++)
    if (!can_picture (doc, &pictures[i], error))
      return FALSE;

  cJSON *entry = entry_tree (now, date, note, pictures, n_pictures);
  if (!entry)
    return fw_document_no_memory (doc, error);
  cJSON *tree = with_log (fw_document_copy_tree (doc), fw_log_tree_list (log_of (doc), -1, NULL, entry));
  return take (doc, tree, _("New log entry"), NULL, error);
}

gboolean
fw_log_remove (FwDocument *doc, int index, GError **error)
{
  if (!entry_at (doc, index))
    return no_entry (doc, index, error);
  cJSON *tree = fw_document_copy_tree (doc);
  if (tree && fw_log_count (doc) == 1)
    cJSON_DeleteItemFromObjectCaseSensitive (tree, "log");
  else
    tree = with_log (tree, fw_log_tree_list (log_of (doc), index, NULL, NULL));
  return take (doc, tree, _("Log entry taken out"), NULL, error);
}

gboolean
fw_log_set_note (FwDocument *doc, int index, const char *note, GError **error)
{
  const cJSON *entry = entry_at (doc, index);
  if (!entry)
    return no_entry (doc, index, error);
  if (!can_note (doc, note, error))
    return FALSE;
  if (strcmp (text_of (entry, "note"), note) == 0)
    return TRUE;

  cJSON *changed = fw_log_tree_entry (entry, "note", note, "date");
  if (!changed)
    return fw_document_no_memory (doc, error);
  char *merge_key = g_strdup_printf ("log[%d].note", index);
  cJSON *tree = with_log (fw_document_copy_tree (doc), fw_log_tree_list (log_of (doc), index, changed, NULL));
  gboolean good = take (doc, tree, _("Note in the log"), merge_key, error);
  g_free (merge_key);
  return good;
}

gboolean
fw_log_bring_back (FwDocument *doc, int index, const char *date, const char *note, GError **error)
{
  const cJSON *entry = entry_at (doc, index);
  if (!entry)
    return no_entry (doc, index, error);
  if (date && (!can_date (doc, date, error) || (note && !can_note (doc, note, error))
               || !can_hold_one_more (doc, error)))
    return FALSE;

  char *said = note ? g_strdup (note)
                    : g_strdup_printf (_("Brought back the design of %s."), text_of (entry, "date"));
  cJSON *added = date ? entry_tree (get (entry, "design"), date, said, NULL, 0) : NULL;
  g_free (said);
  if (date && !added)
    return fw_document_no_memory (doc, error);
  cJSON *tree = with_log (with_versions (doc, design_tree (get (entry, "design"))), fw_log_tree_list (log_of (doc), -1, NULL, added));
  char *label = g_strdup_printf (_("Bring back %s"), text_of (entry, "date"));
  gboolean good = take (doc, tree, label, NULL, error);
  g_free (label);
  return good;
}
