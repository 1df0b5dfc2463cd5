/* The form of the section `wishes`. Whether its names are those of parts is asked when it is used, so
 * that a wish outlives the part it speaks of. */
#include "doc/read.h"

#include <string.h>

#include <glib/gi18n.h>

#include "core/trouble.h"
#include "doc/json.h"

static const char *const wish_words[] = { "top", "bottom", "stroke", "angle", "after", "travel", "tilt", "push", "torque",
                                          "without", "number", "same", NULL };
enum { TOP, BOTTOM, STROKE, ANGLE, AFTER, TRAVEL, TILT, PUSH, TORQUE, WITHOUT, NUMBER, SAME };

static gboolean
is_trouble (const char *name)
{
  for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
    if (strcmp (name, fw_trouble_name ((FwTroubleKind)k)) == 0)
      return TRUE;
  return FALSE;
}

/* A list of texts under `key`, at least `least` of them. */
static gboolean
read_texts (FwReader *r, const cJSON *object, const char *key, int least, gboolean troubles)
{
  const cJSON *array, *item;
  int i = 0;
  if (!fw_read_array (r, object, key, FW_REQUIRED, &array))
    return FALSE;
  if (cJSON_GetArraySize (array) < least)
    return fw_read_fail (r, key, FW_DOC_ERROR_INVALID,
                         ngettext ("at least %d item was expected", "at least %d items were expected", (gulong)least), least);
  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, key, i++);
    if (!cJSON_IsString (item))
      return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _ ("text was expected"));
    if (troubles && !is_trouble (item->valuestring))
      return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _ ("a kind of trouble was expected"));
    fw_read_leave (r, mark);
  }
  return TRUE;
}

static gboolean
read_among (FwReader *r, const cJSON *object, gboolean *given)
{
  const cJSON *array;
  if (!fw_read_array (r, object, "among", FW_OPTIONAL, &array))
    return FALSE;
  *given = array != NULL;
  if (array == NULL)
    return TRUE;
  int n = cJSON_GetArraySize (array);
  if (n == 0)
    return fw_read_fail (r, "among", FW_DOC_ERROR_INVALID, _ ("at least one number was expected"));
  double *values = g_new (double, n);
  gboolean good = fw_read_numbers (r, object, "among", FW_REQUIRED, FW_RULE_ANY, n, values);
  g_free (values);
  return good;
}

/* `least` and `most`, not crossed. */
static gboolean
read_limits (FwReader *r, const cJSON *object)
{
  double least = -G_MAXDOUBLE, most = G_MAXDOUBLE;
  if (!fw_read_number (r, object, "least", FW_OPTIONAL, FW_RULE_ANY, &least)
      || !fw_read_number (r, object, "most", FW_OPTIONAL, FW_RULE_ANY, &most))
    return FALSE;
  return least <= most ? TRUE : fw_read_fail (r, "most", FW_DOC_ERROR_INVALID, _ ("a number not below “least” was expected"));
}

static gboolean
has (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key) != NULL;
}

static gboolean
read_value (FwReader *r, const cJSON *object, int wish)
{
  double value = 0;
  gboolean among = FALSE;
  if (!fw_read_number (r, object, "value", FW_OPTIONAL, FW_RULE_ANY, &value) || !read_limits (r, object)
      || (wish == NUMBER && !read_among (r, object, &among)))
    return FALSE;
  gboolean limits = has (object, "least") || has (object, "most");
  if ((has (object, "value") ? 1 : 0) + (limits ? 1 : 0) + (among ? 1 : 0) != 1)
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                         wish == NUMBER ? _ ("one of “value”, “least” with “most”, or “among” was expected")
                                        : _ ("either “value”, or “least” with “most” or one of them, was expected"));
  return TRUE;
}

static gboolean
read_wish (FwReader *r, const cJSON *object)
{
  const char *text;
  double number = 0;
  int wish = 0;
  if (!fw_read_choice (r, object, "wish", FW_REQUIRED, wish_words, &wish)
      || !fw_read_text (r, object, "part", wish <= AFTER ? FW_REQUIRED : FW_OPTIONAL, &text)
      || !fw_read_text (r, object, "other", wish == AFTER ? FW_REQUIRED : FW_OPTIONAL, &text)
      || !fw_read_text (r, object, "number", wish == NUMBER ? FW_REQUIRED : FW_OPTIONAL, &text)
      || !fw_read_number (r, object, "crank", wish == ANGLE ? FW_REQUIRED : FW_OPTIONAL, FW_RULE_ANY, &number)
      || !fw_read_number (r, object, "weight", FW_OPTIONAL, FW_RULE_ABOVE_ZERO, &number))
    return FALSE;
  if (wish == WITHOUT)
    return read_texts (r, object, "kinds", 1, TRUE);
  if (wish == SAME)
    return read_texts (r, object, "numbers", 2, FALSE);
  return read_value (r, object, wish);
}

static gboolean
read_free (FwReader *r, const cJSON *object)
{
  const char *text;
  gboolean among;
  return fw_read_text (r, object, "number", FW_REQUIRED, &text) && read_limits (r, object) && read_among (r, object, &among);
}

static gboolean
read_each (FwReader *r, const cJSON *object, const char *key, gboolean (*read) (FwReader *, const cJSON *))
{
  const cJSON *array, *item;
  int i = 0;
  if (!fw_read_array (r, object, key, FW_OPTIONAL, &array))
    return FALSE;
  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, key, i++);
    if (!cJSON_IsObject (item))
      return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _ ("an object { } was expected"));
    if (!read (r, item))
      return FALSE;
    fw_read_leave (r, mark);
  }
  return TRUE;
}

gboolean
fw_read_wishes (FwReader *r, const cJSON *root)
{
  const cJSON *object;
  if (!fw_read_object (r, root, "wishes", FW_OPTIONAL, &object))
    return FALSE;
  if (object == NULL)
    return TRUE;
  gsize mark = fw_read_enter (r, "wishes");
  if (!read_each (r, object, "list", read_wish) || !read_each (r, object, "free", read_free))
    return FALSE;
  fw_read_leave (r, mark);
  return TRUE;
}

/* ---- Versions ---- */

static gboolean
read_version (FwReader *r, const cJSON *object, FwNames *names, int index)
{
  char *name = NULL;
  const cJSON *design;
  gboolean good = fw_read_name (r, object, names, index, &name) && fw_read_object (r, object, "design", FW_REQUIRED, &design);
  free (name);
  if (!good)
    return FALSE;
  return !has (design, "versions")
         ? TRUE
         : fw_read_fail (r, "design", FW_DOC_ERROR_INVALID, _ ("a design without versions of its own was expected"));
}

gboolean
fw_read_versions (FwReader *r, const cJSON *root)
{
  const cJSON *array, *item;
  int i = 0;
  gboolean good = TRUE;
  if (!fw_read_array (r, root, "versions", FW_OPTIONAL, &array))
    return FALSE;
  FwNames *names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "versions", i);
    good = cJSON_IsObject (item) ? read_version (r, item, names, i)
                                 : fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _ ("an object { } was expected"));
    if (!good)
      break;
    fw_read_leave (r, mark);
    i++;
  }
  g_hash_table_unref (names);
  return good;
}
