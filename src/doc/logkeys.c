/* Keys of two design files that differ and are neither sliders' numbers nor joints: walls, the base,
 * the drive, materials, stock, and whatever a later program has added. */
#include "doc/logchanges.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/fill.h"
#include "doc/json.h"
#include "doc/materials.h"

#define MOST_LINES 24 /* of keys; a file can hold anything */

/* Said elsewhere, or of no meaning to people. A * stands for one item of a list. */
static const char *const said_elsewhere[] = {
  "format", "version", "title", "log", "versions", "measured", "look.body", "look.panels",
  "crank.runs", "crank.turns_per_minute", "crank.diameter",
  "crank.throws.*.name", "crank.throws.*.radius", "crank.throws.*.phase", "crank.throws.*.station",
  "crank.throws.*.width", "crank.throws.*.side",
  "body.ride", "body.throw", "body.at", "body.tilt", "body.rod", "body.offset", "body.post",
  "body.guide", "body.link.pivot", "body.link.length", "body.link.on", "body.mass", "body.centre",
  "body.gyration", "body.play", "body.diameter",
  "panels.*.name", "panels.*.side", "panels.*.on", "panels.*.hinge", "panels.*.reach",
  "panels.*.sweep", "panels.*.cant", "panels.*.span", "panels.*.outline", "panels.*.stops",
  "panels.*.thickness", "panels.*.mass", "panels.*.centre", "panels.*.play",
  "rods.*.name", "rods.*.side", "rods.*.from", "rods.*.to.panel", "rods.*.to.at", "rods.*.length",
  "rods.*.near", "rods.*.diameter", "rods.*.mass", "rods.*.lean_limit", "rods.*.bend_limit",
  "rods.*.play",
  "base.handle",
  "springs.*.rate", "springs.*.free", "springs.*.from.base",
  "springs.*.from.body", "springs.*.from.at", "springs.*.to.base", "springs.*.to.body",
  "springs.*.to.at",
  "crank.counterweights.*.mass", "crank.counterweights.*.radius",
  "crank.counterweights.*.phase", "crank.counterweights.*.station",
};

typedef struct
{
  const char *pattern;
  const char *label; /* with the part's name in the gap, if it has one */
  FwUnit unit;
} Known;

static const Known known[] = {
  { "crank.material", N_("Material of the crank"), FW_UNIT_NONE },
  { "crank.wall", N_("Wall of the crank"), FW_UNIT_MM },
  { "body.material", N_("Material of the post"), FW_UNIT_NONE },
  { "body.wall", N_("Wall of the post"), FW_UNIT_MM },
  { "body.lumps.*.mass", N_("Weight of %s"), FW_UNIT_G },
  { "body.lumps.*.at", N_("Place of %s"), FW_UNIT_MM },
  { "panels.*.material", N_("Material of %s"), FW_UNIT_NONE },
  { "panels.*.areal", N_("Sheet mass of %s, g/m²"), FW_UNIT_NONE },
  { "panels.*.inertia", N_("Inertia of %s, g mm²"), FW_UNIT_NONE },
  { "panels.*.inertia_kgm2", N_("Inertia of %s, kg m²"), FW_UNIT_NONE },
  { "rods.*.material", N_("Material of %s"), FW_UNIT_NONE },
  { "rods.*.wall", N_("Wall of %s"), FW_UNIT_MM },
  { "base.plate", N_("Base plate"), FW_UNIT_MM },
  { "base.top", N_("Height of the base plate"), FW_UNIT_MM },
  { "base.bearings", N_("Bearings"), FW_UNIT_MM },
  { "base.mass", N_("Mass of the base"), FW_UNIT_G },
  { "base.hung", N_("Hung from above"), FW_UNIT_NONE },
  { "drive.by", N_("Driven by"), FW_UNIT_NONE },
  { "drive.margin", N_("Motor margin"), FW_UNIT_NONE },
  { "drive.friction", N_("Friction"), FW_UNIT_NONE },
  { "drive.pin_radius", N_("Radius of the joints' pins"), FW_UNIT_MM },
  { "drive.restitution", N_("Restitution"), FW_UNIT_NONE },
};

/* Where the walk stands: the place as a path with names in it, the same with * for list items, and
 * the name of the part it is in. */
typedef struct
{
  GPtrArray *lines;
  const FwPartMap *map;
  FwLengths lengths;
  GString *path, *pattern;
  const char *part;
  int n, hidden;
} Walk;

static void compare (Walk *w, const cJSON *a, const cJSON *b);

/* ---- Words ---- */

static const Known *
find_known (const char *pattern)
{
  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    if (strcmp (known[i].pattern, pattern) == 0)
      return &known[i];
  return NULL;
}

static gboolean
is_said_elsewhere (const char *pattern)
{
  for (gsize i = 0; i < G_N_ELEMENTS (said_elsewhere); i++)
    if (strcmp (said_elsewhere[i], pattern) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
is_numbers (const cJSON *list)
{
  const cJSON *item;
  cJSON_ArrayForEach (item, list) if (!cJSON_IsNumber (item)) return FALSE;
  return list->child != NULL;
}

/* "560, 320, 18 mm" */
static char *
numbers_words (const cJSON *list, FwUnit unit, FwLengths lengths)
{
  const cJSON *item;
  GString *out = g_string_new (NULL);

  cJSON_ArrayForEach (item, list)
  {
    char *text = item->next ? fw_units_format_bare (item->valuedouble, unit, lengths,
                                                    item->valuedouble == rint (item->valuedouble) ? 0 : 2)
                            : fw_log_figure (item->valuedouble, NAN, unit, lengths);
    g_string_append_printf (out, "%s%s", out->len > 0 ? ", " : "", text);
    g_free (text);
  }
  return g_string_free (out, FALSE);
}

static gboolean
is_material (const Walk *w)
{
  return g_str_has_suffix (w->pattern->str, ".material");
}

/* How a value of the file is said; texts without their quotes, objects as they stand there. */
static char *
value_words (const Walk *w, const cJSON *item, const cJSON *other, FwUnit unit)
{
  if (cJSON_IsNumber (item))
    return fw_log_figure (item->valuedouble, cJSON_IsNumber (other) ? other->valuedouble : NAN, unit,
                          w->lengths);
  if (cJSON_IsArray (item) && is_numbers (item) && cJSON_GetArraySize (item) <= 8)
    return numbers_words (item, unit, w->lengths);
  if (cJSON_IsBool (item))
    return g_strdup (cJSON_IsTrue (item) ? C_("value", "yes") : C_("value", "no"));
  if (cJSON_IsString (item) && g_utf8_strlen (item->valuestring, -1) <= 60
      && fw_log_text_is_valid (item->valuestring, FALSE) && *item->valuestring)
    return g_strdup (is_material (w) ? fw_material_words (item->valuestring) : item->valuestring);
  return fw_json_brief (item);
}

/* One value that is another now, or is there in one design only. */
static void
say (Walk *w, const cJSON *a, const cJSON *b)
{
  const Known *entry = find_known (w->pattern->str);
  FwUnit unit = entry ? entry->unit : FW_UNIT_NONE;

  if (w->n++ >= MOST_LINES)
    {
      w->hidden++;
      return;
    }
  char *label = entry ? fw_fill (_(entry->label), w->part ? w->part : "") : g_strdup (w->path->str);
  char *old = a ? value_words (w, a, b, unit) : NULL, *new = b ? value_words (w, b, a, unit) : NULL;
  char *text = !a   ? g_strdup_printf (_("%s: now %s."), label, new)
               : !b ? g_strdup_printf (_("%s: no longer given, was %s."), label, old)
                    : g_strdup_printf (_("%s: from %s to %s."), label, old, new);
  FwLogLine *line = fw_log_lines_add (w->lines, is_material (w) ? FW_LOG_MATERIAL : FW_LOG_OTHER, text);
  line->key = g_strdup (w->path->str);
  if (a && b && cJSON_IsNumber (a) && cJSON_IsNumber (b))
    {
      line->has_values = TRUE;
      line->from = a->valuedouble;
      line->to = b->valuedouble;
      line->unit = unit;
    }
  g_free (label);
  g_free (old);
  g_free (new);
}

/* ---- The walk ---- */

static const cJSON *
get (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static const char *
name_of (const cJSON *item)
{
  const cJSON *name = cJSON_IsObject (item) ? get (item, "name") : NULL;
  return name && cJSON_IsString (name) ? name->valuestring : NULL;
}

static void
step (Walk *w, const char *key, const char *pattern, const cJSON *a, const cJSON *b)
{
  gsize path = w->path->len, mark = w->pattern->len;
  g_string_append_printf (w->path, "%s%s", path > 0 ? "." : "", key);
  g_string_append_printf (w->pattern, "%s%s", mark > 0 ? "." : "", pattern);
  if (!is_said_elsewhere (w->pattern->str))
    compare (w, a, b);
  g_string_truncate (w->path, path);
  g_string_truncate (w->pattern, mark);
}

static void
compare_objects (Walk *w, const cJSON *a, const cJSON *b)
{
  const cJSON *item;
  cJSON_ArrayForEach (item, a) step (w, item->string, item->string, item, get (b, item->string));
  cJSON_ArrayForEach (item, b) if (!get (a, item->string))
      step (w, item->string, item->string, NULL, item);
}

static gboolean
is_named_list (const cJSON *list)
{
  const cJSON *item;
  cJSON_ArrayForEach (item, list) if (!name_of (item)) return FALSE;
  return cJSON_IsArray (list) && list->child;
}

static void
enter_part (Walk *w, const char *name, const cJSON *a, const cJSON *b)
{
  const char *outer = w->part;
  w->part = name;
  step (w, name, "*", a, b);
  w->part = outer;
}

/* Throws, panels and rods: what is new, gone and renamed has been said. */
static gboolean
compare_parts (Walk *w, const cJSON *a, const cJSON *b)
{
  const int *map = strcmp (w->pattern->str, "crank.throws") == 0 ? w->map->throws
                   : strcmp (w->pattern->str, "panels") == 0     ? w->map->panels
                   : strcmp (w->pattern->str, "rods") == 0       ? w->map->rods
                                                                 : NULL;
  const cJSON *item;
  int i = 0;

  if (!map)
    return FALSE;
  cJSON_ArrayForEach (item, b)
  {
    if (map[i] >= 0)
      enter_part (w, name_of (item), cJSON_GetArrayItem (a, map[i]), item);
    i++;
  }
  return TRUE;
}

static const cJSON *
find_named (const cJSON *list, const char *name)
{
  const cJSON *item;
  cJSON_ArrayForEach (item, list) if (strcmp (name_of (item), name) == 0) return item;
  return NULL;
}

static void
compare_named (Walk *w, const cJSON *a, const cJSON *b)
{
  const cJSON *item;
  cJSON_ArrayForEach (item, a)
      enter_part (w, name_of (item), item, find_named (b, name_of (item)));
  cJSON_ArrayForEach (item, b) if (!find_named (a, name_of (item)))
      enter_part (w, name_of (item), NULL, item);
}

static void
compare (Walk *w, const cJSON *a, const cJSON *b)
{
  if (compare_parts (w, a, b) || (a && b && cJSON_Compare (a, b, TRUE)))
    return;
  /* A whole section that has come or gone is told key by key. */
  if ((cJSON_IsObject (a) && (!b || cJSON_IsObject (b))) || (cJSON_IsObject (b) && !a && w->pattern->len > 0))
    compare_objects (w, a, b);
  else if (is_named_list (a) && is_named_list (b))
    compare_named (w, a, b);
  else
    say (w, a, b);
}

void
fw_key_changes (GPtrArray *lines, const FwPartMap *map, const cJSON *before, const cJSON *after,
                FwLengths lengths)
{
  Walk w = { .lines = lines, .map = map, .lengths = lengths, .path = g_string_new (NULL),
             .pattern = g_string_new (NULL) };

  compare_objects (&w, before, after);
  if (w.hidden > 0)
    fw_log_lines_add (lines, FW_LOG_OTHER,
                      g_strdup_printf (ngettext ("%d more key of the file is different.",
                                                 "%d more keys of the file are different.",
                                                 (gulong)w.hidden),
                                       w.hidden));
  g_string_free (w.path, TRUE);
  g_string_free (w.pattern, TRUE);
}
