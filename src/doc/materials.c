#include "doc/materials.h"

#include <assert.h>
#include <string.h>

/* The table is read once and never changed. Without it (a program moved away from its data) no
 * material is known, and weights are what the design states. */
static cJSON *
load_table (void)
{
  const char *const places[] = {
#ifdef FW_DATADIR
    FW_DATADIR "/materials.json",
#endif
#ifdef FW_SOURCE_DATA
    FW_SOURCE_DATA "/materials.json",
#endif
    NULL,
  };
  for (int i = 0; places[i] != NULL; i++)
    {
      g_autofree char *text = NULL;
      if (!g_file_get_contents (places[i], &text, NULL, NULL))
        continue;
      cJSON *tree = cJSON_Parse (text);
      cJSON *list = cJSON_DetachItemFromObjectCaseSensitive (tree, "materials");
      cJSON_Delete (tree);
      if (list != NULL)
        return list;
    }
  return cJSON_CreateArray ();
}

static const cJSON *
table (void)
{
  static gsize once = 0;
  static cJSON *list = NULL;

  if (g_once_init_enter (&once))
    {
      list = load_table ();
      g_once_init_leave (&once, 1);
    }
  return list;
}

static double
value (const cJSON *entry, const char *key, double fallback)
{
  const cJSON *item = cJSON_GetObjectItemCaseSensitive (entry, key);
  return cJSON_IsNumber (item) ? item->valuedouble : fallback;
}

static void
take (const cJSON *entry, FwStuff *out)
{
  out->density_kgm3 = value (entry, "density", out->density_kgm3);
  out->young_GPa = value (entry, "young", out->young_GPa);
  out->shear_GPa = value (entry, "shear", out->shear_GPa);
  out->yield_MPa = value (entry, "yield", out->yield_MPa);
}

/* The entry whose name is the longest that stands in the (folded) word. `named`: entries are members
 * of an object rather than items with a name. */
static const cJSON *
longest (const cJSON *entries, const char *folded, gboolean named)
{
  const cJSON *entry, *best = NULL;
  gsize best_length = 0;

  cJSON_ArrayForEach (entry, entries)
  {
    const char *name
        = named ? entry->string : cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (entry, "name"));
    assert (name != NULL); /* the table is our own */
    g_autofree char *key = g_utf8_casefold (name, -1);
    gsize length = strlen (key);
    if (length > best_length && strstr (folded, key) != NULL)
      {
        best = entry;
        best_length = length;
      }
  }
  return best;
}

gboolean
fw_material_find (const char *material, const cJSON *own, FwStuff *out)
{
  g_autofree char *folded = g_utf8_casefold (material, -1);
  const cJSON *known = longest (table (), folded, FALSE), *mine = longest (own, folded, TRUE);

  if (known == NULL && mine == NULL)
    return FALSE;
  *out = (FwStuff){ 0 };
  if (known != NULL)
    take (known, out);
  if (mine != NULL)
    take (mine, out);
  return TRUE;
}

GPtrArray *
fw_material_names (const cJSON *own)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  const cJSON *entry;

  cJSON_ArrayForEach (entry, table ())
  {
    const char *name = cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (entry, "name"));
    g_ptr_array_add (names, g_strdup (name));
  }
  cJSON_ArrayForEach (entry, own) if (!g_ptr_array_find_with_equal_func (names, entry->string, g_str_equal, NULL))
      g_ptr_array_add (names, g_strdup (entry->string));
  return names;
}
