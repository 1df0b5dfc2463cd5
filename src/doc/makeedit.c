#include "doc/makeedit.h"

#include <glib/gi18n.h>
#include <string.h>

#include "core/making.h"
#include "doc/documenttree.h"
#include "doc/json.h"
#include "doc/put.h"

static gboolean
no_memory (const FwDocument *doc, cJSON *tree, cJSON *value, GError **error)
{
  cJSON_Delete (tree);
  cJSON_Delete (value);
  return fw_document_no_memory (doc, error);
}

static const char *
list_key (FwStockKind kind)
{
  return kind == FW_STOCK_BARS ? "bars" : "sheets";
}

/* The object or list under a key, made where it is not there; NULL: no memory. */
static cJSON *
child_of (cJSON *parent, const char *key, gboolean list)
{
  cJSON *child = cJSON_GetObjectItemCaseSensitive (parent, key);

  if (child != NULL)
    return child;
  return list ? cJSON_AddArrayToObject (parent, key) : cJSON_AddObjectToObject (parent, key);
}

static gboolean
holds (const cJSON *object, const char *key, const cJSON *value)
{
  const cJSON *now = cJSON_GetObjectItemCaseSensitive (object, key);

  if (now == NULL || value == NULL)
    return now == NULL && value == NULL;
  return cJSON_Compare (now, value, TRUE);
}

/* Takes the value over, whatever comes of it. */
static gboolean
put (cJSON *object, const char *key, cJSON *value)
{
  if (value == NULL)
    {
      cJSON_DeleteItemFromObjectCaseSensitive (object, key);
      return TRUE;
    }
  return fw_put_item (object, key, value);
}

/* ---- The crank ---- */

gboolean
fw_document_set_build (FwDocument *doc, const char *make, const char *key, cJSON *value, const char *label,
                       const char *merge_key, GError **error)
{
  const cJSON *crank_now = cJSON_GetObjectItemCaseSensitive (fw_document_tree (doc), "crank");
  const cJSON *now = cJSON_GetObjectItemCaseSensitive (crank_now, "build");
  if (now != NULL && holds (now, key, value))
    {
      cJSON_Delete (value);
      return TRUE;
    }
  cJSON *tree = fw_document_copy_tree (doc);
  cJSON *crank = cJSON_GetObjectItemCaseSensitive (tree, "crank");
  cJSON *build = crank != NULL ? child_of (crank, "build", FALSE) : NULL;
  if (build == NULL)
    return no_memory (doc, tree, value, error);
  gboolean good = now != NULL || cJSON_AddStringToObject (build, "make", make) != NULL;
  if (!put (build, key, value) || !good)
    return no_memory (doc, tree, NULL, error);
  return fw_document_take_tree (doc, tree, label, merge_key, error);
}

gboolean
fw_document_drop_build (FwDocument *doc, const char *label, GError **error)
{
  const cJSON *crank = cJSON_GetObjectItemCaseSensitive (fw_document_tree (doc), "crank");
  if (cJSON_GetObjectItemCaseSensitive (crank, "build") == NULL)
    return TRUE;
  cJSON *tree = fw_document_copy_tree (doc);
  if (tree == NULL)
    return no_memory (doc, NULL, NULL, error);
  cJSON_DeleteItemFromObjectCaseSensitive (cJSON_GetObjectItemCaseSensitive (tree, "crank"), "build");
  return fw_document_take_tree (doc, tree, label, NULL, error);
}

/* ---- The stock ---- */

gboolean
fw_document_set_stock (FwDocument *doc, const char *key, cJSON *value, const char *label, const char *merge_key,
                       GError **error)
{
  if (holds (fw_document_section (doc, "stock"), key, value))
    {
      cJSON_Delete (value);
      return TRUE;
    }
  cJSON *tree = fw_document_copy_tree (doc);
  cJSON *stock = tree != NULL ? child_of (tree, "stock", FALSE) : NULL;
  if (stock == NULL)
    return no_memory (doc, tree, value, error);
  if (!put (stock, key, value))
    return no_memory (doc, tree, NULL, error);
  return fw_document_take_tree (doc, tree, label, merge_key, error);
}

static gboolean
name_taken (const cJSON *stock, const char *name)
{
  for (int kind = FW_STOCK_BARS; kind <= FW_STOCK_SHEETS; kind++)
    {
      const cJSON *entry;
      cJSON_ArrayForEach (entry, cJSON_GetObjectItemCaseSensitive (stock, list_key ((FwStockKind) kind)))
      {
        if (g_strcmp0 (cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (entry, "name")), name) == 0)
          return TRUE;
      }
    }
  return FALSE;
}

/* FALSE: no memory. */
static gboolean
name_unlike (const cJSON *stock, cJSON *entry)
{
  const char *wished = cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (entry, "name"));
  if (wished == NULL || !name_taken (stock, wished))
    return TRUE;
  for (int n = 2;; n++)
    {
      g_autofree char *name = g_strdup_printf ("%s %d", wished, n);
      if (!name_taken (stock, name))
        return fw_put_text (entry, "name", name);
    }
}

gboolean
fw_document_add_stock (FwDocument *doc, FwStockKind kind, cJSON *entry, const char *label, GError **error)
{
  cJSON *tree = fw_document_copy_tree (doc);
  cJSON *stock = tree != NULL ? child_of (tree, "stock", FALSE) : NULL;
  cJSON *list = stock != NULL ? child_of (stock, list_key (kind), TRUE) : NULL;

  if (list == NULL || !name_unlike (stock, entry) || !cJSON_AddItemToArray (list, entry))
    return no_memory (doc, tree, entry, error);
  return fw_document_take_tree (doc, tree, label, NULL, error);
}

/* The entry and, where the crank's pipe is of its name, the crank's build; FALSE: there is no such
 * entry. */
static gboolean
find_entry (cJSON *tree, FwStockKind kind, int nth, cJSON **entry, cJSON **user)
{
  cJSON *stock = cJSON_GetObjectItemCaseSensitive (tree, "stock");
  *entry = cJSON_GetArrayItem (cJSON_GetObjectItemCaseSensitive (stock, list_key (kind)), nth);
  *user = NULL;
  if (*entry == NULL)
    return FALSE;
  cJSON *crank = cJSON_GetObjectItemCaseSensitive (tree, "crank");
  cJSON *build = cJSON_GetObjectItemCaseSensitive (crank, "build");
  const char *pipe = cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (build, "pipe"));
  const char *name = cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (*entry, "name"));
  if (kind == FW_STOCK_BARS && pipe != NULL && g_strcmp0 (pipe, name) == 0)
    *user = build;
  return TRUE;
}

static gboolean
no_entry (const FwDocument *doc, cJSON *tree, cJSON *value, GError **error)
{
  cJSON_Delete (tree);
  cJSON_Delete (value);
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("%s: the stock has no such bar or sheet"),
               fw_document_name (doc));
  return FALSE;
}

gboolean
fw_document_set_stock_entry (FwDocument *doc, FwStockKind kind, int nth, const char *key, cJSON *value,
                             const char *label, const char *merge_key, GError **error)
{
  cJSON *entry, *user;
  cJSON *tree = fw_document_copy_tree (doc);

  if (tree == NULL)
    return no_memory (doc, NULL, value, error);
  if (!find_entry (tree, kind, nth, &entry, &user))
    return no_entry (doc, tree, value, error);
  if (holds (entry, key, value))
    {
      cJSON_Delete (tree);
      cJSON_Delete (value);
      return TRUE;
    }
  const char *name = g_str_equal (key, "name") ? cJSON_GetStringValue (value) : NULL;
  if (user != NULL && name != NULL && !fw_put_text (user, "pipe", name))
    return no_memory (doc, tree, value, error);
  if (!put (entry, key, value))
    return no_memory (doc, tree, NULL, error);
  return fw_document_take_tree (doc, tree, label, merge_key, error);
}

/* A copy under that key; where there is nothing to copy the key goes. */
static gboolean
put_copy (cJSON *object, const char *key, const cJSON *value)
{
  if (value != NULL)
    return fw_put_item (object, key, cJSON_Duplicate (value, TRUE));
  cJSON_DeleteItemFromObjectCaseSensitive (object, key);
  return TRUE;
}

/* The measures of a bar in the place of its name. A common tube of the same name would do as well. */
static gboolean
keep_pipe (cJSON *build, const cJSON *bar)
{
  const char *name = cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (build, "pipe"));
  if (fw_tube_find (name) != NULL)
    return TRUE;
  const cJSON *diameter = cJSON_GetObjectItemCaseSensitive (bar, "diameter");
  const cJSON *wall = cJSON_GetObjectItemCaseSensitive (bar, "wall");
  return put_copy (build, "pipe", diameter) && put_copy (build, "wall", wall);
}

gboolean
fw_document_remove_stock (FwDocument *doc, FwStockKind kind, int nth, const char *label, GError **error)
{
  cJSON *entry, *user;
  cJSON *tree = fw_document_copy_tree (doc);

  if (tree == NULL)
    return no_memory (doc, NULL, NULL, error);
  if (!find_entry (tree, kind, nth, &entry, &user))
    return no_entry (doc, tree, NULL, error);
  if (user != NULL && !keep_pipe (user, entry))
    return no_memory (doc, tree, NULL, error);
  cJSON *stock = cJSON_GetObjectItemCaseSensitive (tree, "stock");
  cJSON_DeleteItemFromArray (cJSON_GetObjectItemCaseSensitive (stock, list_key (kind)), nth);
  return fw_document_take_tree (doc, tree, label, NULL, error);
}
