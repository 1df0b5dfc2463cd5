/* Reading one value at a time: types, ranges, names, and the key path of what is at fault. */
#include "doc/read.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/fill.h"
#include "doc/json.h"

/* ---- Errors and places ---- */

gboolean
fw_read_fail (FwReader *r, const char *key, FwDocError code, const char *format, ...)
{
  va_list args;
  gsize mark = key ? fw_read_enter (r, key) : r->path->len;

  va_start (args, format);
  char *message = g_strdup_vprintf (format, args);
  va_end (args);
  if (r->path->len > 0)
    g_set_error (r->error, FW_DOC_ERROR, code, "%s: %s: %s", r->name, r->path->str, message);
  else
    g_set_error (r->error, FW_DOC_ERROR, code, _("%s: line 1: %s"), r->name, message);
  g_free (message);
  fw_read_leave (r, mark);
  return FALSE;
}

gboolean
fw_read_no_memory (FwReader *r)
{
  g_set_error (r->error, FW_DOC_ERROR, FW_DOC_ERROR_IO,
               _("%s: there is not enough memory to read it"), r->name);
  return FALSE;
}

gsize
fw_read_enter (FwReader *r, const char *key)
{
  gsize mark = r->path->len;
  if (mark > 0)
    g_string_append_c (r->path, '.');
  g_string_append (r->path, key);
  return mark;
}

gsize
fw_read_enter_nth (FwReader *r, const char *key, int index)
{
  gsize mark = fw_read_enter (r, key);
  g_string_append_printf (r->path, "[%d]", index);
  return mark;
}

void
fw_read_leave (FwReader *r, gsize mark)
{
  g_string_truncate (r->path, mark);
}

static const cJSON *
lookup (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

/* Fails with `expected`, a whole sentence with one %s for what was found. */
static gboolean
fail_found (FwReader *r, const char *key, const cJSON *found, const char *expected)
{
  char *brief = fw_json_brief (found);
  char *message = fw_fill (expected, brief);

  fw_read_fail (r, key, FW_DOC_ERROR_INVALID, "%s", message);
  g_free (message);
  g_free (brief);
  return FALSE;
}

static gboolean
fail_missing (FwReader *r, const char *key)
{
  return fw_read_fail (r, key, FW_DOC_ERROR_INVALID,
                       _("this key was expected, but it is not there"));
}

/* ---- Numbers ---- */

static gboolean
number_fits (double value, FwRule rule)
{
  if (!isfinite (value) || fabs (value) >= 1e6)
    return FALSE;
  switch (rule)
    {
    case FW_RULE_ABOVE_ZERO:
      return value > 0;
    case FW_RULE_NOT_NEGATIVE:
      return value >= 0;
    case FW_RULE_JOINT_LIMIT:
      return value > 0 && value <= 90;
    case FW_RULE_ANY:
    default:
      return TRUE;
    }
}

static const char *
rule_sentence (FwRule rule)
{
  switch (rule)
    {
    case FW_RULE_ABOVE_ZERO:
      return _("a number above 0 and below 1000000 was expected, %s was found");
    case FW_RULE_NOT_NEGATIVE:
      return _("a number from 0 to below 1000000 was expected, %s was found");
    case FW_RULE_JOINT_LIMIT:
      return _("an angle above 0 and up to 90 degrees was expected, %s was found");
    case FW_RULE_ANY:
    default:
      return _("a number below 1000000 in size was expected, %s was found");
    }
}

gboolean
fw_read_number (FwReader *r, const cJSON *object, const char *key, FwNeed need, FwRule rule,
                double *out)
{
  const cJSON *item = lookup (object, key);

  if (!item)
    return need == FW_OPTIONAL ? TRUE : fail_missing (r, key);
  if (!cJSON_IsNumber (item) || !number_fits (item->valuedouble, rule))
    return fail_found (r, key, item, rule_sentence (rule));
  *out = item->valuedouble;
  return TRUE;
}

gboolean
fw_read_numbers (FwReader *r, const cJSON *object, const char *key, FwNeed need, FwRule rule,
                 int count, double *out)
{
  const cJSON *array = lookup (object, key);
  const cJSON *item;
  int i = 0;

  if (!array)
    return need == FW_OPTIONAL ? TRUE : fail_missing (r, key);
  if (!cJSON_IsArray (array) || cJSON_GetArraySize (array) != count)
    {
      char *brief = fw_json_brief (array);
      fw_read_fail (r, key, FW_DOC_ERROR_INVALID,
                    ngettext ("a list of %d number was expected, %s was found",
                              "a list of %d numbers was expected, %s was found", (gulong)count),
                    count, brief);
      g_free (brief);
      return FALSE;
    }
  cJSON_ArrayForEach (item, array)
  {
    if (!cJSON_IsNumber (item) || !number_fits (item->valuedouble, rule))
      {
        gsize mark = fw_read_enter_nth (r, key, i);
        fail_found (r, NULL, item, rule_sentence (rule));
        fw_read_leave (r, mark);
        return FALSE;
      }
    out[i++] = item->valuedouble;
  }
  return TRUE;
}

gboolean
fw_read_point (FwReader *r, const cJSON *object, const char *key, FwNeed need, FwVec3 *out)
{
  double v[3] = { out->x, out->y, out->z };
  if (!fw_read_numbers (r, object, key, need, FW_RULE_ANY, 3, v))
    return FALSE;
  *out = fw_vec3 (v[0], v[1], v[2]);
  return TRUE;
}

gboolean
fw_read_pair (FwReader *r, const cJSON *object, const char *key, FwNeed need, FwVec2 *out)
{
  double v[2] = { out->x, out->y };
  if (!fw_read_numbers (r, object, key, need, FW_RULE_ANY, 2, v))
    return FALSE;
  *out = (FwVec2){ v[0], v[1] };
  return TRUE;
}

/* ---- Text ---- */

gboolean
fw_read_text (FwReader *r, const cJSON *object, const char *key, FwNeed need, const char **out)
{
  const cJSON *item = lookup (object, key);

  if (!item)
    return need == FW_OPTIONAL ? TRUE : fail_missing (r, key);
  if (!cJSON_IsString (item))
    return fail_found (r, key, item, _("text in quotes was expected, %s was found"));
  *out = item->valuestring;
  return TRUE;
}

gboolean
fw_read_choice (FwReader *r, const cJSON *object, const char *key, FwNeed need,
                const char *const *words, int *out)
{
  const cJSON *item = lookup (object, key);

  if (!item)
    return need == FW_OPTIONAL ? TRUE : fail_missing (r, key);
  if (cJSON_IsString (item))
    for (int i = 0; words[i]; i++)
      if (strcmp (words[i], item->valuestring) == 0)
        {
          *out = i;
          return TRUE;
        }

  char *all = g_strjoinv ("\", \"", (char **)words);
  char *brief = fw_json_brief (item);
  fw_read_fail (r, key, FW_DOC_ERROR_INVALID, _("one of \"%s\" was expected, %s was found"), all,
                brief);
  g_free (brief);
  g_free (all);
  return FALSE;
}

/* C0, DEL and C1: none may stand in a name. */
gboolean
fw_read_flag (FwReader *r, const cJSON *object, const char *key, bool *out)
{
  const cJSON *item = lookup (object, key);

  if (!item)
    return TRUE;
  if (!cJSON_IsBool (item))
    return fail_found (r, key, item, _("true or false was expected, %s was found"));
  *out = cJSON_IsTrue (item);
  return TRUE;
}

gboolean
fw_read_material (FwReader *r, const cJSON *object, const char *fallback, char **out)
{
  const char *text = fallback;

  if (!fw_read_text (r, object, "material", FW_OPTIONAL, &text))
    return FALSE;
  if (!*text || fw_has_control (text))
    return fail_found (r, "material", lookup (object, "material"),
                       _("a name without control characters was expected, %s was found"));
  *out = strdup (text);
  return *out ? TRUE : fw_read_no_memory (r);
}

gboolean
fw_read_name (FwReader *r, const cJSON *object, FwNames *names, int index, char **out)
{
  const char *text = NULL;

  if (!fw_read_text (r, object, "name", FW_REQUIRED, &text))
    return FALSE;
  assert (text != NULL); /* what is required and was read is there */
  if (!*text || fw_has_control (text))
    return fail_found (r, "name", lookup (object, "name"),
                       _("a name without control characters was expected, %s was found"));
  if (g_hash_table_contains (names, text))
    return fail_found (r, "name", lookup (object, "name"),
                       _("a name of its own was expected, but %s is taken already"));
  *out = strdup (text);
  if (!*out)
    return fw_read_no_memory (r);
  g_hash_table_insert (names, g_strdup (text), GINT_TO_POINTER (index + 1));
  return TRUE;
}

gboolean
fw_read_twin_names (FwReader *r, const char *name, FwNames *names)
{
  static const char *const endings[] = { ".right", ".left" };

  for (int i = 0; i < 2; i++)
    {
      char *twin = g_strconcat (name, endings[i], NULL);
      gboolean taken = g_hash_table_contains (names, twin);
      if (taken)
        fw_read_fail (r, "name", FW_DOC_ERROR_INVALID,
                      _("another name was expected, as \"%s\" is already what its twin is called"),
                      twin);
      g_free (twin);
      if (taken)
        return FALSE;
    }
  return TRUE;
}

gboolean
fw_read_reference (FwReader *r, const cJSON *object, const char *key, FwNames *names,
                   gboolean is_throw, int *out)
{
  const char *text = NULL;

  if (!fw_read_text (r, object, key, FW_REQUIRED, &text))
    return FALSE;
  int found = GPOINTER_TO_INT (g_hash_table_lookup (names, text));
  if (found == 0)
    return fail_found (r, key, lookup (object, key),
                       is_throw ? _("the name of a throw was expected, but there is no %s")
                                : _("the name of a panel was expected, but there is no %s"));
  *out = found - 1;
  return TRUE;
}

/* ---- Objects and lists ---- */

gboolean
fw_read_object (FwReader *r, const cJSON *object, const char *key, FwNeed need, const cJSON **out)
{
  const cJSON *item = lookup (object, key);

  *out = NULL;
  if (!item)
    return need == FW_OPTIONAL ? TRUE : fail_missing (r, key);
  if (!cJSON_IsObject (item))
    return fail_found (r, key, item, _("an object { } was expected, %s was found"));
  *out = item;
  return TRUE;
}

gboolean
fw_read_array (FwReader *r, const cJSON *object, const char *key, FwNeed need, const cJSON **out)
{
  const cJSON *item = lookup (object, key);

  *out = NULL;
  if (!item)
    return need == FW_OPTIONAL ? TRUE : fail_missing (r, key);
  if (!cJSON_IsArray (item))
    return fail_found (r, key, item, _("a list [ ] was expected, %s was found"));
  *out = item;
  return TRUE;
}
