/* A design file open for editing: reading, changing, undoing. */
#include "doc/document.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/documenttree.h"
#include "doc/files.h"
#include "doc/history.h"
#include "doc/json.h"
#include "doc/logtree.h"
#include "doc/paramkeys.h"
#include "doc/put.h"
#include "doc/read.h"
#include "doc/treefits.h"

struct FwDocument
{
  char *name; /* for messages */
  FwHistory *history;
  FwDesign *design; /* read from the history's present tree */
  guint64 serial;
  GPtrArray *owners; /* cJSON*: what logs and versions of the history's trees refer to */
  FwTreeMeasures measures; /* of those logs and versions */
};

/* clang-format off */
G_DEFINE_QUARK (fw-doc-error-quark, fw_doc_error)
/* clang-format on */

/* ---- Opening ---- */

/* Parses and checks; both outputs are set or neither. */
static gboolean
read_text (const char *text, gsize length, const char *name, cJSON **tree, FwDesign **design,
           GError **error)
{
  cJSON *root = fw_json_parse (text, length, name, error);
  if (!root)
    return FALSE;
  FwDesign *read = fw_design_read (root, name, error);
  if (!read || !fw_log_tree_check (root, name, error))
    {
      fw_design_free (read);
      cJSON_Delete (root);
      return FALSE;
    }
  *tree = root;
  *design = read;
  return TRUE;
}

/* One count for all documents, which threads read too: what is kept for a state is never taken for that of another. */
static guint64
next_serial (void)
{
  static gsize last; /* atomic */
  return g_atomic_pointer_add (&last, 1) + 1;
}

FwDocument *
fw_document_new_from_text (const char *text, gssize length, const char *name, GError **error)
{
  cJSON *tree;
  FwDesign *design;
  gsize size = length < 0 ? strlen (text) : (gsize)length;
  char *shown = fw_file_display_name (name);

  if (!read_text (text, size, shown, &tree, &design, error))
    {
      g_free (shown);
      return NULL;
    }
  FwDocument *doc = g_new0 (FwDocument, 1);
  doc->name = shown;
  doc->owners = g_ptr_array_new_with_free_func ((GDestroyNotify)cJSON_Delete);
  fw_log_tree_share (tree, doc->owners); /* if memory is short it is only larger */
  doc->history = fw_history_new (tree);
  doc->design = design;
  doc->serial = next_serial ();
  return doc;
}

FwDocument *
fw_document_load (const char *path, GError **error)
{
  gsize length;
  char *text = fw_file_read (path, &length, error);
  if (!text)
    return NULL;
  FwDocument *doc = fw_document_new_from_text (text, (gssize)length, path, error);
  g_free (text);
  return doc;
}

void
fw_document_free (FwDocument *doc)
{
  if (!doc)
    return;
  fw_history_free (doc->history);
  g_ptr_array_unref (doc->owners);
  fw_design_free (doc->design);
  g_free (doc->name);
  g_free (doc);
}

/* ---- Writing ---- */

char *
fw_document_to_text (const FwDocument *doc)
{
  return fw_json_print (fw_history_tree (doc->history));
}

gboolean
fw_document_save (FwDocument *doc, const char *path, GError **error)
{
  char *text = fw_document_to_text (doc);
  gboolean good = fw_file_replace (path, text, strlen (text), error);

  g_free (text);
  if (!good)
    return FALSE;
  fw_history_mark_saved (doc->history);
  fw_history_end_merge (doc->history);
  g_free (doc->name);
  doc->name = fw_file_display_name (path);
  return TRUE;
}

/* ---- The present state ---- */

const FwDesign *
fw_document_design (const FwDocument *doc)
{
  return doc->design;
}

const char *
fw_document_title (const FwDocument *doc)
{
  const cJSON *item = cJSON_GetObjectItemCaseSensitive (fw_history_tree (doc->history), "title");
  return item ? item->valuestring : "";
}

guint64
fw_document_serial (const FwDocument *doc)
{
  return doc->serial;
}

gboolean
fw_document_is_modified (const FwDocument *doc)
{
  return !fw_history_is_saved (doc->history);
}

/* ---- Changes ---- */

gboolean
fw_document_no_memory (const FwDocument *doc, GError **error)
{
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO,
               _("%s: there is not enough memory for the change"), doc->name);
  return FALSE;
}

/* Takes both over as the new present state. */
static void
accept (FwDocument *doc, cJSON *tree, FwDesign *design, const char *label, const char *merge_key)
{
  fw_log_tree_share (tree, doc->owners);
  fw_history_push (doc->history, tree, label, merge_key);
  fw_design_free (doc->design);
  doc->design = design;
  doc->serial = next_serial ();
}

/* Takes the tree over if it states a valid design and can be read again once written, else deletes it. */
static gboolean
accept_tree (FwDocument *doc, cJSON *tree, const char *label, const char *merge_key, GError **error)
{
  FwDesign *design = fw_design_read (tree, doc->name, error);
  if (!design || !fw_tree_fits (tree, &doc->measures, doc->name, error))
    {
      fw_design_free (design);
      cJSON_Delete (tree);
      return FALSE;
    }
  accept (doc, tree, design, label, merge_key);
  return TRUE;
}

const cJSON *
fw_document_tree (const FwDocument *doc)
{
  return fw_history_tree (doc->history);
}

cJSON *
fw_document_copy_tree (const FwDocument *doc)
{
  return fw_log_tree_copy (fw_history_tree (doc->history));
}

gboolean
fw_document_take_tree (FwDocument *doc, cJSON *tree, const char *label, const char *merge_key,
                       GError **error)
{
  return accept_tree (doc, tree, label, merge_key, error);
}

const char *
fw_document_name (const FwDocument *doc)
{
  return doc->name;
}

static gboolean
changes_anything (const FwDocument *doc, const FwChange *changes, int n)
{
  for (int i = 0; i < n; i++)
    if (fw_param_get (doc->design, changes[i].param) != changes[i].value)
      return TRUE;
  return FALSE;
}

gboolean
fw_document_change (FwDocument *doc, const FwChange *changes, int n_changes, const char *label,
                    const char *merge_key, GError **error)
{
  for (int i = 0; i < n_changes; i++)
    if (!fw_tree_has_param (doc->design, changes[i].param))
      {
        g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID,
                     _("%s: the design has no such number to change"), doc->name);
        return FALSE;
      }
  if (!changes_anything (doc, changes, n_changes))
    return TRUE;

  cJSON *tree = fw_document_copy_tree (doc);
  if (!tree)
    return fw_document_no_memory (doc, error);
  for (int i = 0; i < n_changes; i++)
    if (!fw_tree_set_param (tree, doc->design, changes[i].param, changes[i].value))
      {
        cJSON_Delete (tree);
        return fw_document_no_memory (doc, error);
      }
  return accept_tree (doc, tree, label, merge_key, error);
}

void
fw_document_end_merge (FwDocument *doc)
{
  fw_history_end_merge (doc->history);
}

gboolean
fw_document_set_title (FwDocument *doc, const char *title)
{
  if (!g_utf8_validate (title, -1, NULL))
    return FALSE;
  if (strcmp (title, fw_document_title (doc)) == 0)
    return TRUE;

  cJSON *tree = fw_document_copy_tree (doc);
  if (!tree || !fw_tree_set_text (tree, "title", title, "version"))
    {
      cJSON_Delete (tree);
      return FALSE;
    }
  /* Typing a title letter by letter is one step. */
  return accept_tree (doc, tree, _("Title"), "title", NULL);
}

static gboolean
replace (FwDocument *doc, const char *text, gsize length, const char *label, GError **error)
{
  cJSON *tree;
  FwDesign *design;

  if (!read_text (text, length, doc->name, &tree, &design, error))
    return FALSE;
  char *now = fw_document_to_text (doc);
  char *then = fw_json_print (tree);
  gboolean same = strcmp (now, then) == 0;
  g_free (now);
  g_free (then);
  if (same)
    {
      cJSON_Delete (tree);
      fw_design_free (design);
      return TRUE;
    }
  accept (doc, tree, design, label, NULL);
  return TRUE;
}

gboolean
fw_document_replace (FwDocument *doc, const char *text, const char *label, GError **error)
{
  return replace (doc, text, strlen (text), label, error);
}

gboolean
fw_document_reload (FwDocument *doc, const char *text, gsize length, const char *label,
                    GError **error)
{
  fw_history_end_merge (doc->history);
  if (!replace (doc, text, length, label, error))
    return FALSE;
  fw_history_mark_saved (doc->history);
  return TRUE;
}

const cJSON *
fw_document_section (const FwDocument *doc, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (fw_history_tree (doc->history), key);
}

/* TRUE if the tree now holds the section, or no longer holds the key; takes the section over. */
static gboolean
put_section (cJSON *tree, const char *key, cJSON *section)
{
  if (section)
    return fw_put_item (tree, key, section);
  cJSON_DeleteItemFromObjectCaseSensitive (tree, key);
  return TRUE;
}

gboolean
fw_document_set_section (FwDocument *doc, const char *key, cJSON *section, const char *label,
                         const char *merge_key, GError **error)
{
  const cJSON *now = fw_document_section (doc, key);

  if (now == section || (now && section && cJSON_Compare (now, section, TRUE)))
    {
      cJSON_Delete (section);
      return TRUE;
    }
  cJSON *tree = fw_document_copy_tree (doc);
  if (!tree)
    {
      cJSON_Delete (section);
      return fw_document_no_memory (doc, error);
    }
  if (!put_section (tree, key, section))
    {
      cJSON_Delete (tree);
      return fw_document_no_memory (doc, error);
    }
  return accept_tree (doc, tree, label, merge_key, error);
}

/* ---- Undo ---- */

static gboolean
move (FwDocument *doc, int direction)
{
  const cJSON *tree = fw_history_peek (doc->history, direction);
  FwDesign *design = tree ? fw_design_read (tree, doc->name, NULL) : NULL;
  if (!design)
    return FALSE;
  fw_history_move (doc->history, direction);
  fw_design_free (doc->design);
  doc->design = design;
  doc->serial = next_serial ();
  return TRUE;
}

gboolean
fw_document_undo (FwDocument *doc)
{
  return move (doc, -1);
}

gboolean
fw_document_redo (FwDocument *doc)
{
  return move (doc, 1);
}

const char *
fw_document_undo_label (const FwDocument *doc)
{
  return fw_history_undo_label (doc->history);
}

const char *
fw_document_redo_label (const FwDocument *doc)
{
  return fw_history_redo_label (doc->history);
}
