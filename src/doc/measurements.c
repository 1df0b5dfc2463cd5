#include "doc/measurements.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/documenttree.h"
#include "doc/put.h"
#include "doc/read.h"

#define MOST_ROWS 5000

gboolean
fw_measured_what_is_valid (const char *what)
{
  static const char *const whole[] = { "body.h_mm", "body.z_mm", "body.tilt_deg" };
  static const char *const endings[] = { ".angle_deg", ".tip_x_mm", ".tip_z_mm" };
  for (gsize i = 0; i < G_N_ELEMENTS (whole); i++)
    if (strcmp (what, whole[i]) == 0)
      return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (what, endings[i]) && strlen (what) > strlen (endings[i]))
      return TRUE;
  return FALSE;
}

static gboolean
read_row (FwReader *r, const cJSON *object)
{
  const char *what = "";
  double number;
  if (!cJSON_IsObject (object))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _ ("an object { } was expected"));
  if (!fw_read_number (r, object, "crank", FW_REQUIRED, FW_RULE_ANY, &number)
      || !fw_read_text (r, object, "what", FW_REQUIRED, &what))
    return FALSE;
  if (!fw_measured_what_is_valid (what))
    return fw_read_fail (r, "what", FW_DOC_ERROR_INVALID,
                         _ ("what was measured was expected, such as body.z_mm or PANEL.angle_deg"));
  return fw_read_number (r, object, "value", FW_REQUIRED, FW_RULE_ANY, &number);
}

gboolean
fw_read_measured (FwReader *r, const cJSON *root)
{
  const cJSON *array, *item;
  int i = 0;
  if (!fw_read_array (r, root, "measured", FW_OPTIONAL, &array))
    return FALSE;
  if (cJSON_GetArraySize (array) > MOST_ROWS)
    return fw_read_fail (r, "measured", FW_DOC_ERROR_INVALID, _ ("at most %d measurements were expected"), MOST_ROWS);
  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "measured", i++);
    if (!read_row (r, item))
      return FALSE;
    fw_read_leave (r, mark);
  }
  return TRUE;
}

static void
row_clear (gpointer data)
{
  g_free (((FwMeasuredRow *)data)->what);
}

static double
number_at (const cJSON *object, const char *key)
{
  return cJSON_GetNumberValue (cJSON_GetObjectItemCaseSensitive (object, key));
}

GArray *
fw_measurements (const FwDocument *doc)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (FwMeasuredRow));
  const cJSON *item;
  g_array_set_clear_func (list, row_clear);
  cJSON_ArrayForEach (item, fw_document_section (doc, "measured"))
  {
    const char *what = cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (item, "what"));
    FwMeasuredRow row = { number_at (item, "crank"), g_strdup (what), number_at (item, "value") };
    g_array_append_val (list, row);
  }
  return list;
}

gboolean
fw_measurements_set (FwDocument *doc, const FwMeasuredRow *rows, int n, const char *merge_key, GError **error)
{
  cJSON *list = n > 0 ? cJSON_CreateArray () : NULL;
  gboolean room = n <= 0 || list;
  for (int i = 0; room && i < n; i++)
    {
      cJSON *item = cJSON_CreateObject ();
      room = fw_put_number (item, "crank", rows[i].crank_deg) && fw_put_text (item, "what", rows[i].what)
             && fw_put_number (item, "value", rows[i].value);
      if (item)
        cJSON_AddItemToArray (list, item);
    }
  if (!room)
    {
      cJSON_Delete (list);
      return fw_document_no_memory (doc, error);
    }
  return fw_document_set_section (doc, "measured", list, _ ("Measurements"), merge_key, error);
}
