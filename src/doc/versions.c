#include "doc/versions.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/documenttree.h"
#include "doc/fill.h"
#include "doc/logchanges.h"
#include "doc/logtree.h"
#include "doc/put.h"
#include "doc/read.h"

static const cJSON *
get (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static const cJSON *
list_of (const FwDocument *doc)
{
  return get (fw_document_tree (doc), "versions");
}

static const cJSON *
version_at (const FwDocument *doc, int version)
{
  return version < 0 ? NULL : cJSON_GetArrayItem (list_of (doc), version);
}

int
fw_versions_count (const FwDocument *doc)
{
  return cJSON_GetArraySize (list_of (doc));
}

const char *
fw_versions_name (const FwDocument *doc, int version)
{
  const cJSON *item = version_at (doc, version);
  return item ? get (item, "name")->valuestring : NULL;
}

int
fw_versions_find (const FwDocument *doc, const char *name)
{
  for (int i = 0; i < fw_versions_count (doc); i++)
    if (strcmp (fw_versions_name (doc, i), name) == 0)
      return i;
  return -1;
}

/* ---- Refusing ---- */

static gboolean
refuse (const FwDocument *doc, GError **error, const char *why)
{
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, "%s: versions: %s", fw_document_name (doc), why);
  return FALSE;
}

static gboolean
can_name (const FwDocument *doc, const char *name, GError **error)
{
  if (!g_utf8_validate (name, -1, NULL) || !*name || fw_has_control (name))
    return refuse (doc, error, _ ("a name without control characters was expected"));
  return fw_versions_find (doc, name) < 0 ? TRUE : refuse (doc, error, _ ("a name was expected that no version has yet"));
}

static gboolean
is_there (const FwDocument *doc, int version, GError **error)
{
  return version_at (doc, version) != NULL ? TRUE : refuse (doc, error, _ ("there is no such version"));
}

/* ---- Reading ---- */

static const cJSON *
tree_of (const FwDocument *doc, int version)
{
  return version == FW_VERSION_NOW ? fw_document_tree (doc) : get (version_at (doc, version), "design");
}

FwDesign *
fw_versions_design (const FwDocument *doc, int version, GError **error)
{
  const cJSON *tree = tree_of (doc, version);
  if (!tree)
    {
      refuse (doc, error, _ ("there is no such version"));
      return NULL;
    }
  char *name = version == FW_VERSION_NOW ? g_strdup (fw_document_name (doc))
                                         : g_strdup_printf ("%s: versions[%d].design", fw_document_name (doc), version);
  FwDesign *design = fw_design_read (tree, name, error);
  g_free (name);
  return design;
}

GPtrArray *
fw_versions_changes (const FwDocument *doc, int before, int after, FwLengths lengths, GError **error)
{
  FwDesign *old = fw_versions_design (doc, before, error);
  FwDesign *new = old ? fw_versions_design (doc, after, error) : NULL;
  GPtrArray *lines = new ? fw_tree_changes (tree_of (doc, before), old, tree_of (doc, after), new, lengths) : NULL;
  fw_design_free (old);
  fw_design_free (new);
  return lines;
}

/* ---- Changing ---- */

/* Takes the list over; NULL: no memory. */
static gboolean
put_list (FwDocument *doc, cJSON *list, const char *label, GError **error)
{
  if (!list)
    return fw_document_no_memory (doc, error);
  if (cJSON_GetArraySize (list) == 0)
    {
      cJSON_Delete (list);
      list = NULL;
    }
  return fw_document_set_section (doc, "versions", list, label, NULL, error);
}

gboolean
fw_versions_keep (FwDocument *doc, const char *name, GError **error)
{
  if (!can_name (doc, name, error))
    return FALSE;
  if (fw_versions_count (doc) >= FW_VERSIONS_MOST)
    return refuse (doc, error, _ ("at most 200 versions were expected: take out old ones"));
  cJSON *item = cJSON_CreateObject (), *design = fw_document_copy_tree (doc);
  cJSON_DeleteItemFromObjectCaseSensitive (design, "versions");
  cJSON_DeleteItemFromObjectCaseSensitive (design, "log");
  gboolean named = fw_put_text (item, "name", name), whole = fw_put_item (item, "design", design);
  if (!named || !whole)
    {
      cJSON_Delete (item);
      return fw_document_no_memory (doc, error);
    }
  char *label = g_strdup_printf (_ ("Keep version %s"), name);
  gboolean good = put_list (doc, fw_log_tree_list (list_of (doc), -1, NULL, item), label, error);
  g_free (label);
  return good;
}

gboolean
fw_versions_rename (FwDocument *doc, int version, const char *name, GError **error)
{
  if (!is_there (doc, version, error))
    return FALSE;
  if (strcmp (fw_versions_name (doc, version), name) == 0)
    return TRUE;
  if (!can_name (doc, name, error))
    return FALSE;
  cJSON *item = fw_log_tree_entry (version_at (doc, version), "name", name, NULL);
  return put_list (doc, item ? fw_log_tree_list (list_of (doc), version, item, NULL) : NULL, _ ("Rename version"), error);
}

gboolean
fw_versions_remove (FwDocument *doc, int version, GError **error)
{
  if (!is_there (doc, version, error))
    return FALSE;
  return put_list (doc, fw_log_tree_list (list_of (doc), version, NULL, NULL), _ ("Take out version"), error);
}

gboolean
fw_versions_bring_back (FwDocument *doc, int version, GError **error)
{
  if (!is_there (doc, version, error))
    return FALSE;
  cJSON *now = fw_document_copy_tree (doc), *tree = cJSON_Duplicate (tree_of (doc, version), TRUE);
  static const char *const stay[] = { "versions", "log" };
  gboolean kept = now && tree;
  for (int i = 0; i < 2; i++)
    {
      cJSON *section = cJSON_DetachItemFromObjectCaseSensitive (now, stay[i]);
      cJSON_DeleteItemFromObjectCaseSensitive (tree, stay[i]);
      if (section)
        kept = fw_put_item (tree, stay[i], section) && kept;
    }
  cJSON_Delete (now);
  if (!kept)
    {
      cJSON_Delete (tree);
      return fw_document_no_memory (doc, error);
    }
  char *label = g_strdup_printf (_ ("Bring back %s"), fw_versions_name (doc, version));
  gboolean good = fw_document_take_tree (doc, tree, label, NULL, error);
  g_free (label);
  return good;
}
