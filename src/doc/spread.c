#include "doc/spread.h"

#include <glib/gi18n.h>

#include "doc/documenttree.h"
#include "doc/json.h"
#include "doc/put.h"
#include "doc/read.h"

gboolean
fw_read_spread (FwReader *r, const cJSON *root, const FwDesign *design)
{
  const cJSON *spread, *item;
  gboolean good = TRUE;

  if (!fw_read_object (r, root, "spread", FW_OPTIONAL, &spread))
    return FALSE;
  if (!spread)
    return TRUE;
  gsize mark = fw_read_enter (r, "spread");
  for (item = spread->child; item && good; item = item->next)
    {
      FwParam param;
      double value = 0;
      char *quoted = fw_json_quote (item->string);
      gsize name = r->path->len;
      g_string_append_printf (r->path, "[%s]", quoted);
      if (!fw_param_from_path (design, item->string, &param))
        good = fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                             _ ("the path of a number of this design was expected, such as rods.NAME.length"));
      fw_read_leave (r, name);
      /* As a key of the object, so that the place is right. */
      good = good && fw_read_number (r, spread, item->string, FW_REQUIRED, FW_RULE_NOT_NEGATIVE, &value);
      g_free (quoted);
    }
  if (good)
    fw_read_leave (r, mark);
  return good;
}

FwChange *
fw_spreads (const FwDocument *doc, int *n)
{
  const cJSON *spread = fw_document_section (doc, "spread"), *item;
  FwChange *list = g_new0 (FwChange, MAX (cJSON_GetArraySize (spread), 1));

  *n = 0;
  cJSON_ArrayForEach (item, spread)
  {
    if (!fw_param_from_path (fw_document_design (doc), item->string, &list[*n].param))
      continue;
    list[(*n)++].value = item->valuedouble;
  }
  return list;
}

gboolean
fw_spread_set (FwDocument *doc, FwParam param, double spread, const char *merge_key, GError **error)
{
  const cJSON *old = fw_document_section (doc, "spread");
  cJSON *section = old ? cJSON_Duplicate (old, TRUE) : cJSON_CreateObject ();
  char *path = fw_param_path (fw_document_design (doc), param);
  char *name = fw_param_label (fw_document_design (doc), param);
  gboolean room = section != NULL && (spread < 0 || fw_put_number (section, path, spread));

  if (spread < 0)
    cJSON_DeleteItemFromObjectCaseSensitive (section, path);
  if (!room || !section->child)
    g_clear_pointer (&section, cJSON_Delete);
  /* Translators: a step of undo; %s is a number such as "Length of inrod". */
  char *label = g_strdup_printf (_ ("Spread: %s"), name);
  gboolean done = room && fw_document_set_section (doc, "spread", section, label, merge_key, error);
  if (!room)
    fw_document_no_memory (doc, error);
  g_free (label);
  g_free (name);
  g_free (path);
  return done;
}
