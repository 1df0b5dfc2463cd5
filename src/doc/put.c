#include "doc/put.h"

#include "doc/json.h"

/* Not by cJSON_ReplaceItemInObject (): where that cannot copy the key it puts the item in without one. The two
 * exchange their keys, which takes no memory; no key here is a constant's (cJSON_StringIsConst). */
gboolean
fw_put_item (cJSON *object, const char *key, cJSON *item)
{
  cJSON *old = cJSON_GetObjectItemCaseSensitive (object, key);
  if (!item)
    return FALSE;
  if (!old)
    {
      gboolean added = cJSON_AddItemToObject (object, key, item);
      if (!added)
        cJSON_Delete (item);
      return added;
    }
  char *own = item->string; /* from where it stood before */
  item->string = old->string;
  old->string = own;
  return cJSON_ReplaceItemViaPointer (object, old, item);
}

gboolean
fw_put_number (cJSON *object, const char *key, double value)
{
  cJSON *item = cJSON_GetObjectItemCaseSensitive (object, key);
  if (!item)
    item = cJSON_AddNumberToObject (object, key, 0);
  if (item)
    fw_json_set_number (item, value);
  return item != NULL;
}

gboolean
fw_put_numbers (cJSON *object, const char *key, const double *values, int n)
{
  cJSON *list = cJSON_CreateArray ();
  for (int i = 0; list && i < n; i++)
    {
      cJSON *item = cJSON_CreateNumber (0);
      if (!item)
        {
          cJSON_Delete (list);
          return FALSE;
        }
      fw_json_set_number (item, values[i]);
      cJSON_AddItemToArray (list, item); /* takes no memory */
    }
  return fw_put_item (object, key, list);
}

gboolean
fw_put_text (cJSON *object, const char *key, const char *text)
{
  return fw_put_item (object, key, cJSON_CreateString (text));
}
