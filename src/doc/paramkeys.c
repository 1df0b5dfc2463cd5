#include "doc/paramkeys.h"

#include <string.h>

#include "doc/document.h"
#include "doc/json.h"
#include "doc/put.h"

typedef enum
{
  IN_CRANK,
  IN_THROW,
  IN_BODY,
  IN_LINK,
  IN_PANEL,
  IN_ROD,
  IN_ROD_FROM,
  IN_ROD_TO,
  IN_BASE,
  IN_BEARINGS, /* the list itself: the index is in it */
  IN_LUMP,
  IN_DRIVE,
  IN_SPRING,
  IN_SPRING_FROM,
  IN_SPRING_TO,
  IN_WEIGHT,
} Place;

typedef struct
{
  Place place;
  const char *key; /* NULL: it depends on the anchor */
  int count;       /* of a point or pair; 0: a single number */
} Key;

static const Key keys[FW_N_PARAM_KINDS] = {
  [FW_PARAM_SPEED] = { IN_CRANK, "turns_per_minute", 0 },
  [FW_PARAM_CRANK_DIAMETER] = { IN_CRANK, "diameter", 0 },
  [FW_PARAM_THROW_RADIUS] = { IN_THROW, "radius", 0 },
  [FW_PARAM_THROW_PHASE] = { IN_THROW, "phase", 0 },
  [FW_PARAM_THROW_STATION] = { IN_THROW, "station", 0 },
  [FW_PARAM_THROW_WIDTH] = { IN_THROW, "width", 0 },
  [FW_PARAM_BODY_AT] = { IN_BODY, "at", 3 },
  [FW_PARAM_BODY_TILT] = { IN_BODY, "tilt", 0 },
  [FW_PARAM_BODY_ROD] = { IN_BODY, "rod", 0 },
  [FW_PARAM_BODY_OFFSET] = { IN_BODY, "offset", 0 },
  [FW_PARAM_BODY_POST] = { IN_BODY, "post", 0 },
  [FW_PARAM_BODY_GUIDE] = { IN_BODY, "guide", 2 },
  [FW_PARAM_BODY_PIVOT] = { IN_LINK, "pivot", 2 },
  [FW_PARAM_BODY_LINK] = { IN_LINK, "length", 0 },
  [FW_PARAM_BODY_ON] = { IN_LINK, "on", 0 },
  [FW_PARAM_BODY_MASS] = { IN_BODY, "mass", 0 },
  [FW_PARAM_BODY_CENTRE] = { IN_BODY, "centre", 3 },
  [FW_PARAM_BODY_GYRATION] = { IN_BODY, "gyration", 0 },
  [FW_PARAM_PANEL_HINGE] = { IN_PANEL, "hinge", 3 },
  [FW_PARAM_PANEL_SWEEP] = { IN_PANEL, "sweep", 0 },
  [FW_PARAM_PANEL_CANT] = { IN_PANEL, "cant", 0 },
  [FW_PARAM_PANEL_SPAN] = { IN_PANEL, "span", 0 },
  [FW_PARAM_PANEL_STOP] = { IN_PANEL, "stops", 2 },
  [FW_PARAM_PANEL_THICKNESS] = { IN_PANEL, "thickness", 0 },
  [FW_PARAM_PANEL_MASS] = { IN_PANEL, "mass", 0 },
  [FW_PARAM_PANEL_CENTRE] = { IN_PANEL, "centre", 3 },
  [FW_PARAM_ROD_FROM] = { IN_ROD_FROM, NULL, 3 },
  [FW_PARAM_ROD_AT] = { IN_ROD_TO, "at", 3 },
  [FW_PARAM_ROD_LENGTH] = { IN_ROD, "length", 0 },
  [FW_PARAM_ROD_NEAR] = { IN_ROD, "near", 0 },
  [FW_PARAM_ROD_DIAMETER] = { IN_ROD, "diameter", 0 },
  [FW_PARAM_ROD_MASS] = { IN_ROD, "mass", 0 },
  [FW_PARAM_ROD_LEAN_LIMIT] = { IN_ROD, "lean_limit", 0 },
  [FW_PARAM_ROD_BEND_LIMIT] = { IN_ROD, "bend_limit", 0 },
  [FW_PARAM_HANDLE] = { IN_BASE, "handle", 0 },
  [FW_PARAM_ROD_PLAY] = { IN_ROD, "play", 0 },
  [FW_PARAM_BODY_PLAY] = { IN_BODY, "play", 0 },
  [FW_PARAM_PANEL_PLAY] = { IN_PANEL, "play", 0 },
  [FW_PARAM_SPRING_RATE] = { IN_SPRING, "rate", 0 },
  [FW_PARAM_SPRING_FREE] = { IN_SPRING, "free", 0 },
  [FW_PARAM_SPRING_FROM] = { IN_SPRING_FROM, NULL, 3 },
  [FW_PARAM_SPRING_TO] = { IN_SPRING_TO, NULL, 3 },
  [FW_PARAM_WEIGHT_MASS] = { IN_WEIGHT, "mass", 0 },
  [FW_PARAM_WEIGHT_RADIUS] = { IN_WEIGHT, "radius", 0 },
  [FW_PARAM_WEIGHT_PHASE] = { IN_WEIGHT, "phase", 0 },
  [FW_PARAM_WEIGHT_STATION] = { IN_WEIGHT, "station", 0 },
  [FW_PARAM_BODY_DIAMETER] = { IN_BODY, "diameter", 0 },
  [FW_PARAM_CRANK_WALL] = { IN_CRANK, "wall", 0 },
  [FW_PARAM_BODY_WALL] = { IN_BODY, "wall", 0 },
  [FW_PARAM_ROD_WALL] = { IN_ROD, "wall", 0 },
  [FW_PARAM_PANEL_AREAL] = { IN_PANEL, "areal", 0 },
  [FW_PARAM_LUMP_MASS] = { IN_LUMP, "mass", 0 },
  [FW_PARAM_LUMP_AT] = { IN_LUMP, "at", 3 },
  [FW_PARAM_PLATE] = { IN_BASE, "plate", 3 },
  [FW_PARAM_PLATE_TOP] = { IN_BASE, "top", 0 },
  [FW_PARAM_BEARING] = { IN_BEARINGS, NULL, 0 },
  [FW_PARAM_BASE_MASS] = { IN_BASE, "mass", 0 },
  [FW_PARAM_FRICTION] = { IN_DRIVE, "friction", 0 },
  [FW_PARAM_PIN_RADIUS] = { IN_DRIVE, "pin_radius", 0 },
  [FW_PARAM_RESTITUTION] = { IN_DRIVE, "restitution", 0 },
  [FW_PARAM_MARGIN] = { IN_DRIVE, "margin", 0 },
};

/* ---- In the tree ---- */

static cJSON *
child (cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static cJSON *
child_or_new_object (cJSON *object, const char *key)
{
  cJSON *item = child (object, key);
  return item ? item : cJSON_AddObjectToObject (object, key);
}

static cJSON *
place_in_tree (cJSON *tree, Place place, int index)
{
  switch (place)
    {
    case IN_CRANK:
      return child (tree, "crank");
    case IN_THROW:
      return cJSON_GetArrayItem (child (child (tree, "crank"), "throws"), index);
    case IN_BODY:
      return child (tree, "body");
    case IN_LINK:
      return child (child (tree, "body"), "link");
    case IN_PANEL:
      return cJSON_GetArrayItem (child (tree, "panels"), index);
    case IN_ROD:
      return cJSON_GetArrayItem (child (tree, "rods"), index);
    case IN_ROD_FROM:
      return child (cJSON_GetArrayItem (child (tree, "rods"), index), "from");
    case IN_ROD_TO:
      return child (cJSON_GetArrayItem (child (tree, "rods"), index), "to");
    case IN_SPRING:
      return cJSON_GetArrayItem (child (tree, "springs"), index);
    case IN_SPRING_FROM:
      return child (cJSON_GetArrayItem (child (tree, "springs"), index), "from");
    case IN_SPRING_TO:
      return child (cJSON_GetArrayItem (child (tree, "springs"), index), "to");
    case IN_WEIGHT:
      return cJSON_GetArrayItem (child (child (tree, "crank"), "counterweights"), index);
    case IN_LUMP:
      return cJSON_GetArrayItem (child (child (tree, "body"), "lumps"), index);
    case IN_BEARINGS:
      return child (child (tree, "base"), "bearings");
    case IN_DRIVE:
      return child_or_new_object (tree, "drive");
    case IN_BASE:
    default:
      return child_or_new_object (tree, "base");
    }
}

/* Where a number of an anchor stands; NULL for any other place. */
static const FwAnchor *
anchor_in (const FwDesign *design, Place place, int index)
{
  switch (place)
    {
    case IN_ROD_FROM:
      return &design->rods[index].from;
    case IN_SPRING_FROM:
      return &design->springs[index].from;
    case IN_SPRING_TO:
      return &design->springs[index].to;
    default:
      return NULL;
    }
}

static const char *
key_of (const FwDesign *design, FwParam param)
{
  const Key *key = &keys[param.kind];
  const FwAnchor *anchor = anchor_in (design, key->place, param.index);
  if (key->key || anchor == NULL)
    return key->key;
  switch (anchor->kind)
    {
    case FW_FROM_BASE:
      return "base";
    case FW_FROM_BODY:
      return "body";
    case FW_FROM_PANEL:
      return "at";
    case FW_FROM_THROW:
    default:
      return NULL;
    }
}

static cJSON *
new_zeros (int count)
{
  double zeros[4] = { 0 };
  return count > 0 ? cJSON_CreateDoubleArray (zeros, count) : cJSON_CreateNumber (0);
}

gboolean
fw_tree_has_param (const FwDesign *design, FwParam param)
{
  int n = fw_design_params (design, NULL, 0);
  FwParam *list = g_new (FwParam, n);
  gboolean found = FALSE;

  fw_design_params (design, list, n);
  for (int i = 0; i < n && !found; i++)
    found = fw_param_equal (list[i], param);
  g_free (list);
  return found;
}

static gboolean
is_wall (FwParam param)
{
  return param.kind == FW_PARAM_CRANK_WALL || param.kind == FW_PARAM_BODY_WALL || param.kind == FW_PARAM_ROD_WALL;
}

gboolean
fw_tree_set_param (cJSON *tree, const FwDesign *design, FwParam param, double value)
{
  if (!fw_tree_has_param (design, param))
    return FALSE;
  int count = keys[param.kind].count;
  const char *key = key_of (design, param);
  cJSON *object = place_in_tree (tree, keys[param.kind].place, param.index);
  if (param.kind == FW_PARAM_BEARING)
    {
      cJSON *station = cJSON_GetArrayItem (object, param.index);
      if (station)
        fw_json_set_number (station, value);
      return station != NULL;
    }
  if (is_wall (param) && value == 0 && object) /* solid, as the file says it */
    {
      cJSON_DeleteItemFromObjectCaseSensitive (object, key);
      return TRUE;
    }
  if (!key || !object)
    return FALSE;

  cJSON *item = child (object, key);
  if (!item)
    {
      item = new_zeros (count);
      if (!fw_put_item (object, key, item))
        return FALSE;
    }
  if (count > 0)
    item = cJSON_GetArrayItem (item, param.component);
  if (!item)
    return FALSE;
  fw_json_set_number (item, value);
  return TRUE;
}

/* Moves the last key of an object to stand behind `after`. */
static void
move_last_behind (cJSON *object, cJSON *after)
{
  cJSON *last = object->child->prev; /* cJSON keeps the last child there */

  if (last == after || last == after->next)
    return;
  last->prev->next = NULL;
  object->child->prev = last->prev;
  last->next = after->next;
  after->next->prev = last;
  after->next = last;
  last->prev = after;
}

gboolean
fw_tree_set_text (cJSON *object, const char *key, const char *text, const char *after)
{
  gboolean there = child (object, key) != NULL;
  if (!fw_put_text (object, key, text))
    return FALSE;
  cJSON *before = child (object, after);
  if (before && !there)
    move_last_behind (object, before);
  return TRUE;
}

/* ---- Paths ---- */

static char *
part_prefix (const FwDesign *design, Place place, int index)
{
  switch (place)
    {
    case IN_CRANK:
      return g_strdup ("crank");
    case IN_THROW:
      return g_strdup_printf ("crank.throws.%s", design->crank.throws[index].name);
    case IN_BODY:
      return g_strdup ("body");
    case IN_LINK:
      return g_strdup ("body.link");
    case IN_PANEL:
      return g_strdup_printf ("panels.%s", design->panels[index].name);
    case IN_ROD:
      return g_strdup_printf ("rods.%s", design->rods[index].name);
    case IN_ROD_FROM:
      return g_strdup_printf ("rods.%s.from", design->rods[index].name);
    case IN_ROD_TO:
      return g_strdup_printf ("rods.%s.to", design->rods[index].name);
    case IN_SPRING:
      return g_strdup_printf ("springs.%s", design->springs[index].name);
    case IN_SPRING_FROM:
      return g_strdup_printf ("springs.%s.from", design->springs[index].name);
    case IN_SPRING_TO:
      return g_strdup_printf ("springs.%s.to", design->springs[index].name);
    case IN_WEIGHT:
      return g_strdup_printf ("crank.counterweights.%s", design->crank.weights[index].name);
    case IN_LUMP:
      return g_strdup_printf ("body.lumps.%s", design->body.lumps[index].name);
    case IN_BEARINGS:
      return g_strdup ("base.bearings");
    case IN_DRIVE:
      return g_strdup ("drive");
    case IN_BASE:
    default:
      return g_strdup ("base");
    }
}

char *
fw_param_path (const FwDesign *design, FwParam param)
{
  const Key *key = &keys[param.kind];
  char *prefix = part_prefix (design, key->place, param.index);
  if (param.kind == FW_PARAM_BEARING)
    {
      char *station = g_strdup_printf ("%s.%d", prefix, param.index);
      g_free (prefix);
      return station;
    }
  /* An anchor keeps its path when it moves from base to body, so its own key is not in it. */
  char *path = anchor_in (design, key->place, param.index) != NULL && key->key == NULL
                   ? g_strdup_printf ("%s.%d", prefix, param.component)
               : key->count > 0 ? g_strdup_printf ("%s.%s.%d", prefix, key->key, param.component)
                                : g_strdup_printf ("%s.%s", prefix, key->key);
  g_free (prefix);
  return path;
}

char *
fw_param_part_path (const FwDesign *design, FwParam param)
{
  Place place = keys[param.kind].place;
  if (place == IN_ROD_FROM || place == IN_ROD_TO)
    place = IN_ROD;
  if (place == IN_SPRING_FROM || place == IN_SPRING_TO)
    place = IN_SPRING;
  return part_prefix (design, place, param.index);
}

gboolean
fw_param_from_path (const FwDesign *design, const char *path, FwParam *param)
{
  int n = fw_design_params (design, NULL, 0);
  FwParam *list = g_new (FwParam, n);
  gboolean found = FALSE;

  fw_design_params (design, list, n);
  for (int i = 0; i < n && !found; i++)
    {
      char *own = fw_param_path (design, list[i]);
      found = strcmp (own, path) == 0;
      if (found)
        *param = list[i];
      g_free (own);
    }
  g_free (list);
  return found;
}
