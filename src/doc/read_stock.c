/* What parts are made of, how they fit, and how the crank is driven. */
#include "doc/read.h"

#include <stdlib.h>

#include <glib/gi18n.h>

#include "doc/json.h"
#include "doc/materials.h"

/* ---- Stock ---- */

static gboolean
check_material (FwReader *r, const cJSON *entry)
{
  static const char *const keys[] = { "density", "young", "shear", "yield" };
  double value = 0;

  if (!cJSON_IsObject (entry))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                         _("an object { } was expected for a material"));
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (!fw_read_number (r, entry, keys[i], FW_OPTIONAL, FW_RULE_ABOVE_ZERO, &value))
      return FALSE;
  return TRUE;
}

gboolean
fw_read_stock (FwReader *r, const cJSON *root)
{
  const cJSON *stock, *list, *entry;

  r->materials = NULL;
  if (!fw_read_object (r, root, "stock", FW_OPTIONAL, &stock))
    return FALSE;
  if (!stock)
    return TRUE;
  gsize mark = fw_read_enter (r, "stock");
  if (!fw_read_object (r, stock, "materials", FW_OPTIONAL, &list))
    return FALSE;
  if (list)
    {
      gsize inner = fw_read_enter (r, "materials");
      cJSON_ArrayForEach (entry, list)
      {
        char *quoted = fw_json_quote (entry->string);
        gsize name = r->path->len;
        g_string_append_printf (r->path, "[%s]", quoted);
        g_free (quoted);
        if (!check_material (r, entry))
          return FALSE;
        fw_read_leave (r, name);
      }
      fw_read_leave (r, inner);
    }
  fw_read_leave (r, mark);
  r->materials = list;
  return TRUE;
}

FwStuff
fw_read_stuff (FwReader *r, const cJSON *object)
{
  const cJSON *item = cJSON_GetObjectItemCaseSensitive (object, "material");
  FwStuff stuff = { 0 };

  if (cJSON_IsString (item))
    fw_material_find (item->valuestring, r->materials, &stuff);
  return stuff;
}

gboolean
fw_read_wall (FwReader *r, const cJSON *object, double diameter_mm, double *wall_mm)
{
  if (!fw_read_number (r, object, "wall", FW_OPTIONAL, FW_RULE_ABOVE_ZERO, wall_mm))
    return FALSE;
  if (*wall_mm > diameter_mm / 2)
    return fw_read_fail (r, "wall", FW_DOC_ERROR_INVALID,
                         _("at most half the diameter was expected"));
  return TRUE;
}

double
fw_bar_mass (double diameter_mm, double wall_mm, double density_kgm3)
{
  double bore = wall_mm > 0 ? diameter_mm - 2 * wall_mm : 0;
  return density_kgm3 * 1e-6 * G_PI / 4 * (diameter_mm * diameter_mm - bore * bore);
}

/* ---- Drive ---- */

gboolean
fw_read_drive (FwReader *r, const cJSON *root, FwDesign *design)
{
  static const char *const by[] = { "hand", "motor", NULL };
  FwDrive *drive = &design->drive;
  const cJSON *object;
  int how = 0;

  *drive = (FwDrive){ .pin_radius_mm = 2, .restitution = 0.3, .margin = 2 };
  if (!fw_read_object (r, root, "drive", FW_OPTIONAL, &object))
    return FALSE;
  if (!object)
    return TRUE;
  gsize mark = fw_read_enter (r, "drive");
  if (!fw_read_choice (r, object, "by", FW_OPTIONAL, by, &how)
      || !fw_read_number (r, object, "friction", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &drive->friction)
      || !fw_read_number (r, object, "pin_radius", FW_OPTIONAL, FW_RULE_ABOVE_ZERO,
                          &drive->pin_radius_mm)
      || !fw_read_number (r, object, "restitution", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE,
                          &drive->restitution)
      || !fw_read_number (r, object, "margin", FW_OPTIONAL, FW_RULE_ABOVE_ZERO, &drive->margin))
    return FALSE;
  if (drive->restitution > 1)
    return fw_read_fail (r, "restitution", FW_DOC_ERROR_INVALID, _("a number from 0 to 1 was expected"));
  drive->motor = how == 1;
  fw_read_leave (r, mark);
  return TRUE;
}

/* ---- Lumps ---- */

gboolean
fw_read_lumps (FwReader *r, const cJSON *body, FwBody *out)
{
  const cJSON *array, *item;
  int i = 0;

  if (!fw_read_array (r, body, "lumps", FW_OPTIONAL, &array))
    return FALSE;
  int n = array ? cJSON_GetArraySize (array) : 0;
  if (n == 0)
    return TRUE;
  out->lumps = calloc ((size_t)n, sizeof *out->lumps);
  if (!out->lumps)
    return fw_read_no_memory (r);
  out->n_lumps = n;
  FwNames *names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gboolean good = TRUE;
  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "lumps", i);
    good = cJSON_IsObject (item)
               ? fw_read_name (r, item, names, i, &out->lumps[i].name)
                     && fw_read_number (r, item, "mass", FW_REQUIRED, FW_RULE_NOT_NEGATIVE,
                                        &out->lumps[i].mass_g)
                     && fw_read_point (r, item, "at", FW_REQUIRED, &out->lumps[i].at_mm)
               : fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                               _("an object { } was expected for a lump"));
    if (!good)
      break;
    fw_read_leave (r, mark);
    i++;
  }
  g_hash_table_unref (names);
  return good;
}
