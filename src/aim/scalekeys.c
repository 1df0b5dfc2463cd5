#include "aim/scalekeys.h"

#include <math.h>
#include <string.h>

#include "doc/fitweight.h"
#include "doc/json.h"

/* Key paths, * for any item of a list or any name; the power of the factor. A list of numbers under a
 * path is meant with all in it. */
static const struct
{
  const char *path;
  int power;
} powers[] = {
  { "crank.diameter", 1 }, { "crank.wall", 1 },
  { "crank.throws.*.radius", 1 }, { "crank.throws.*.station", 1 }, { "crank.throws.*.width", 1 },
  { "crank.counterweights.*.mass", 3 }, { "crank.counterweights.*.radius", 1 }, { "crank.counterweights.*.station", 1 },
  { "crank.build.web_thickness", 1 }, { "crank.build.web_width", 1 }, { "crank.build.bolt", 1 },
  { "crank.build.bend_radius", 1 }, { "crank.build.leg", 1 }, { "crank.build.clamp", 1 }, { "crank.build.bearing", 1 },
  { "body.at", 1 }, { "body.rod", 1 }, { "body.offset", 1 }, { "body.post", 1 }, { "body.guide", 1 },
  { "body.link.pivot", 1 }, { "body.link.length", 1 }, { "body.link.on", 1 },
  { "body.diameter", 1 }, { "body.wall", 1 }, { "body.play", 1 },
  { "body.mass", 3 }, { "body.centre", 1 }, { "body.gyration", 1 }, { "body.lumps.*.mass", 3 }, { "body.lumps.*.at", 1 },
  { "panels.*.hinge", 1 }, { "panels.*.span", 1 }, { "panels.*.outline", 1 }, { "panels.*.thickness", 1 },
  { "panels.*.areal", 1 }, { "panels.*.mass", 3 }, { "panels.*.centre", 1 }, { "panels.*.inertia", 5 }, { "panels.*.inertia_kgm2", 5 },
  { "panels.*.play", 1 },
  { "rods.*.from.base", 1 }, { "rods.*.from.body", 1 }, { "rods.*.from.at", 1 }, { "rods.*.to.at", 1 },
  { "rods.*.length", 1 }, { "rods.*.diameter", 1 }, { "rods.*.wall", 1 }, { "rods.*.mass", 3 }, { "rods.*.play", 1 },
  { "springs.*.from.base", 1 }, { "springs.*.from.body", 1 }, { "springs.*.from.at", 1 },
  { "springs.*.to.base", 1 }, { "springs.*.to.body", 1 }, { "springs.*.to.at", 1 },
  { "springs.*.rate", 2 }, { "springs.*.free", 1 },
  { "base.plate", 1 }, { "base.top", 1 }, { "base.bearings", 1 }, { "base.handle", 1 }, { "base.mass", 3 },
  { "drive.pin_radius", 1 },
  { "look.body.sections", 1 }, { "look.body.eye", 1 }, { "look.panels.*.sections", 1 }, { "look.panels.*.eye", 1 },
};

static gboolean
matches (const char *pattern, char **path, guint depth)
{
  for (guint i = 0; i < depth; i++)
    {
      gsize length = strcspn (pattern, ".");
      if (length == 0)
        return FALSE;
      gboolean any = length == 1 && pattern[0] == '*';
      if (!any && (strlen (path[i]) != length || strncmp (pattern, path[i], length) != 0))
        return FALSE;
      pattern += length + (pattern[length] == '.');
    }
  return *pattern == '\0';
}

static int
power_of (const GPtrArray *path)
{
  for (gsize i = 0; i < G_N_ELEMENTS (powers); i++)
    if (matches (powers[i].path, (char **)path->pdata, path->len))
      return powers[i].power;
  return 0;
}

static void
multiply_all (cJSON *item, double by)
{
  if (cJSON_IsNumber (item))
    fw_json_set_number (item, item->valuedouble * by);
  for (cJSON *child = item->child; child; child = child->next)
    multiply_all (child, by);
}

static void
walk (cJSON *item, GPtrArray *path, double factor)
{
  int power = path->len > 0 ? power_of (path) : 0;
  if (power != 0)
    {
      multiply_all (item, pow (factor, power));
      return;
    }
  for (cJSON *child = item->child; child; child = child->next)
    {
      g_ptr_array_add (path, child->string ? child->string : (char *)"*");
      walk (child, path, factor);
      g_ptr_array_set_size (path, (int)path->len - 1);
    }
}

gboolean
fw_scale_put (cJSON *object, const char *key, double value)
{
  cJSON *item = cJSON_GetObjectItemCaseSensitive (object, key);
  if (item && cJSON_IsNumber (item))
    {
      fw_json_set_number (item, value);
      return TRUE;
    }
  cJSON_DeleteItemFromObjectCaseSensitive (object, key);
  return cJSON_AddNumberToObject (object, key, value) != NULL;
}

static gboolean
write_out (cJSON *object, const char *key, double value)
{
  return cJSON_HasObjectItem (object, key) || fw_scale_put (object, key, value);
}

static gboolean
write_out_each (cJSON *list, const char *key, double value)
{
  cJSON *item;
  cJSON_ArrayForEach (item, list)
    if (!write_out (item, key, value))
      return FALSE;
  return TRUE;
}

gboolean
fw_scale_inertias (cJSON *root)
{
  cJSON *panel;

  cJSON_ArrayForEach (panel, cJSON_GetObjectItemCaseSensitive (root, "panels"))
  {
    const cJSON *small = cJSON_GetObjectItemCaseSensitive (panel, "inertia");
    const cJSON *list = small ? small : cJSON_GetObjectItemCaseSensitive (panel, "inertia_kgm2");
    double values[4] = { 0 };
    for (int i = 0; i < 4 && list; i++)
      values[i] = cJSON_GetArrayItem (list, i)->valuedouble * (small ? 1 : 1e9);
    if (list && !fw_inertia_put (panel, values))
      return FALSE;
  }
  return TRUE;
}

gboolean
fw_scale_tree (cJSON *root, double factor)
{
  static const char *const behind[] = { "log", "versions", "wishes", "measured" };
  cJSON *crank = cJSON_GetObjectItemCaseSensitive (root, "crank");
  cJSON *drive = cJSON_GetObjectItemCaseSensitive (root, "drive");
  cJSON *base = cJSON_GetObjectItemCaseSensitive (root, "base");
  GPtrArray *path = g_ptr_array_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (behind); i++)
    cJSON_DeleteItemFromObjectCaseSensitive (root, behind[i]);
  /* Measured on a fitting of the small one: the big one's are others. */
  static const char *const fitting[] = { "pipe", "take_off", "cup" };
  cJSON *build = cJSON_GetObjectItemCaseSensitive (crank, "build");
  for (gsize i = 0; build && i < G_N_ELEMENTS (fitting); i++)
    cJSON_DeleteItemFromObjectCaseSensitive (build, fitting[i]);
  if (!base)
    base = cJSON_AddObjectToObject (root, "base");
  gboolean good = base && write_out (crank, "diameter", 8)
                  && write_out_each (cJSON_GetObjectItemCaseSensitive (crank, "throws"), "width", 20)
                  && write_out_each (cJSON_GetObjectItemCaseSensitive (root, "panels"), "thickness", 2)
                  && write_out_each (cJSON_GetObjectItemCaseSensitive (root, "rods"), "diameter", 3)
                  && write_out (base, "handle", 60) && (!drive || write_out (drive, "pin_radius", 2));
  if (good)
    walk (root, path, factor);
  good = good && fw_scale_inertias (root);
  g_ptr_array_unref (path);
  return good;
}
