/* How the crank is made (crank.build) and what the maker has to cut from (stock). */
#include "doc/read.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <glib/gi18n.h>

#include "core/making.h"

/* ---- Stock ---- */

static gboolean
read_count (FwReader *r, const cJSON *object, int *count, double *price)
{
  double number = FW_STOCK_ENDLESS;

  *price = -1;
  if (!fw_read_number (r, object, "count", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &number)
      || !fw_read_number (r, object, "price", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, price))
    return FALSE;
  if (number != floor (number))
    return fw_read_fail (r, "count", FW_DOC_ERROR_INVALID, _("a whole number was expected"));
  *count = (int)number;
  return TRUE;
}

static gboolean
read_bar (FwReader *r, const cJSON *item, int i, FwNames *names, FwStockBar *bar)
{
  if (!cJSON_IsObject (item))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _("an object { } was expected for a bar"));
  gboolean flat = cJSON_GetObjectItemCaseSensitive (item, "diameter") == NULL;
  FwNeed round_need = flat ? FW_OPTIONAL : FW_REQUIRED, flat_need = flat ? FW_REQUIRED : FW_OPTIONAL;
  if (!fw_read_name (r, item, names, i, &bar->name)
      || !fw_read_material (r, item, "copper", &bar->material)
      || !fw_read_number (r, item, "diameter", round_need, FW_RULE_ABOVE_ZERO, &bar->diameter_mm)
      || !fw_read_number (r, item, "width", flat_need, FW_RULE_ABOVE_ZERO, &bar->width_mm)
      || !fw_read_number (r, item, "thickness", flat_need, FW_RULE_ABOVE_ZERO, &bar->thickness_mm)
      || !fw_read_number (r, item, "length", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &bar->length_mm)
      || !read_count (r, item, &bar->count, &bar->price))
    return FALSE;
  if (!flat && !fw_read_wall (r, item, bar->diameter_mm, &bar->wall_mm))
    return FALSE;
  bar->stuff = fw_read_stuff (r, item);
  return TRUE;
}

static gboolean
read_sheet (FwReader *r, const cJSON *item, int i, FwNames *names, FwStockSheet *sheet)
{
  static const char *const grains[] = { "none", "width", "height", NULL };
  int grain = 0;

  if (!cJSON_IsObject (item))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _("an object { } was expected for a sheet"));
  if (!fw_read_name (r, item, names, i, &sheet->name)
      || !fw_read_material (r, item, "card", &sheet->material)
      || !fw_read_number (r, item, "thickness", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &sheet->thickness_mm)
      || !fw_read_number (r, item, "width", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &sheet->width_mm)
      || !fw_read_number (r, item, "height", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &sheet->height_mm)
      || !fw_read_number (r, item, "areal", FW_OPTIONAL, FW_RULE_ABOVE_ZERO, &sheet->areal_gm2)
      || !fw_read_choice (r, item, "grain", FW_OPTIONAL, grains, &grain)
      || !read_count (r, item, &sheet->count, &sheet->price))
    return FALSE;
  sheet->grain = (FwGrain)grain;
  sheet->stuff = fw_read_stuff (r, item);
  return TRUE;
}

/* Walks a list of the stock; `size` of one entry, already allocated one for each. */
static gboolean
read_entries (FwReader *r, const cJSON *array, const char *key, FwNames *names, FwStock *stock)
{
  gboolean bars = strcmp (key, "bars") == 0;
  const cJSON *item;
  int i = 0;

  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, key, i);
    if (!(bars ? read_bar (r, item, i, names, &stock->bars[i])
               : read_sheet (r, item, i, names, &stock->sheets[i])))
      return FALSE;
    fw_read_leave (r, mark);
    i++;
  }
  return TRUE;
}

static gboolean
read_lists (FwReader *r, const cJSON *object, FwStock *stock, FwNames *names)
{
  const cJSON *bars, *sheets;

  if (!fw_read_array (r, object, "bars", FW_OPTIONAL, &bars)
      || !fw_read_array (r, object, "sheets", FW_OPTIONAL, &sheets))
    return FALSE;
  int n_bars = bars ? cJSON_GetArraySize (bars) : 0, n_sheets = sheets ? cJSON_GetArraySize (sheets) : 0;
  if (n_bars > 0 && !(stock->bars = calloc ((size_t)n_bars, sizeof *stock->bars)))
    return fw_read_no_memory (r);
  stock->n_bars = n_bars;
  if (n_sheets > 0 && !(stock->sheets = calloc ((size_t)n_sheets, sizeof *stock->sheets)))
    return fw_read_no_memory (r);
  stock->n_sheets = n_sheets;
  return read_entries (r, bars, "bars", names, stock) && read_entries (r, sheets, "sheets", names, stock);
}

gboolean
fw_read_cutting (FwReader *r, const cJSON *root, FwDesign *design)
{
  FwStock *stock = &design->stock;
  const cJSON *object, *ends;

  stock->kerf_mm = 1;
  if (!fw_read_object (r, root, "stock", FW_OPTIONAL, &object))
    return FALSE;
  if (!object)
    return TRUE;
  gsize mark = fw_read_enter (r, "stock");
  if (!fw_read_number (r, object, "kerf", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &stock->kerf_mm)
      || !fw_read_object (r, object, "rod_ends", FW_OPTIONAL, &ends))
    return FALSE;
  if (ends)
    {
      gsize inner = fw_read_enter (r, "rod_ends");
      if (!fw_read_number (r, ends, "lower", FW_OPTIONAL, FW_RULE_ANY, &stock->rod_ends_mm[0])
          || !fw_read_number (r, ends, "upper", FW_OPTIONAL, FW_RULE_ANY, &stock->rod_ends_mm[1]))
        return FALSE;
      fw_read_leave (r, inner);
    }
  FwNames *names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gboolean good = read_lists (r, object, stock, names);
  g_hash_table_unref (names);
  if (good)
    fw_read_leave (r, mark);
  return good;
}

/* ---- The crank ---- */

static const FwStockBar *
round_bar (const FwStock *stock, const char *name)
{
  for (int i = 0; i < stock->n_bars; i++)
    if (stock->bars[i].diameter_mm > 0 && strcmp (stock->bars[i].name, name) == 0)
      return &stock->bars[i];
  return NULL;
}

/* A diameter, or the name of a bar of the stock or of a common tube. */
static gboolean
read_pipe (FwReader *r, const cJSON *object, const FwDesign *design, FwCrankBuild *build)
{
  const cJSON *item = cJSON_GetObjectItemCaseSensitive (object, "pipe");
  const char *name = NULL;

  build->pipe_mm = design->crank.diameter_mm;
  build->wall_mm = design->crank.wall_mm;
  if (!item)
    return TRUE;
  if (!cJSON_IsString (item))
    {
      build->wall_mm = 0;
      return fw_read_number (r, object, "pipe", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &build->pipe_mm)
             && fw_read_wall (r, object, build->pipe_mm, &build->wall_mm);
    }
  if (!fw_read_text (r, object, "pipe", FW_REQUIRED, &name))
    return FALSE;
  const FwStockBar *bar = round_bar (&design->stock, name);
  const FwTube *tube = fw_tube_find (name);
  if (!bar && !tube)
    return fw_read_fail (r, "pipe", FW_DOC_ERROR_INVALID,
                         _("the name of a round bar of the stock or of a common tube (such as "
                           "\"1/2 in M\") was expected"));
  build->pipe_mm = bar ? bar->diameter_mm : tube->outside_mm;
  build->wall_mm = bar ? bar->wall_mm : tube->wall_mm;
  build->pipe = strdup (name);
  return build->pipe ? TRUE : fw_read_no_memory (r);
}

static gboolean
read_lengths (FwReader *r, const cJSON *object, FwCrankBuild *build)
{
  const struct
  {
    const char *key;
    double *out;
  } lengths[] = {
    { "take_off", &build->take_off_mm },       { "cup", &build->cup_mm },
    { "web_thickness", &build->web_thickness_mm }, { "web_width", &build->web_width_mm },
    { "bolt", &build->bolt_mm },               { "bend_radius", &build->bend_radius_mm },
    { "neutral", &build->neutral },            { "leg", &build->leg_mm },
    { "clamp", &build->clamp_mm },             { "eye_bore", &build->eye_bore_mm },
    { "bearing", &build->bearing_mm },         { "bearing_bore", &build->bearing_bore_mm },
    { "grip", &build->grip_mm },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    if (!fw_read_number (r, object, lengths[i].key, FW_OPTIONAL, FW_RULE_ABOVE_ZERO, lengths[i].out))
      return FALSE;
  return TRUE;
}

/* A fitting of the wrong size would give lengths that mean nothing. */
static gboolean
check_fit (FwReader *r, const FwCrankBuild *build)
{
  if (build->neutral > 1)
    return fw_read_fail (r, "neutral", FW_DOC_ERROR_INVALID, _("a number above 0 and up to 1 was expected"));
  if (build->bend_radius_mm < build->pipe_mm / 2)
    return fw_read_fail (r, "bend_radius", FW_DOC_ERROR_INVALID,
                         _("at least half the pipe's diameter was expected"));
  if (build->eye_bore_mm < build->pipe_mm)
    return fw_read_fail (r, "eye_bore", FW_DOC_ERROR_INVALID, _("at least the pipe's diameter was expected"));
  if (build->bearing_bore_mm < build->pipe_mm)
    return fw_read_fail (r, "bearing_bore", FW_DOC_ERROR_INVALID,
                         _("at least the pipe's diameter was expected"));
  if (build->make == FW_MAKE_BOLTED && build->bolt_mm >= build->web_width_mm)
    return fw_read_fail (r, "bolt", FW_DOC_ERROR_INVALID, _("less than the width of the web was expected"));
  return TRUE;
}

gboolean
fw_read_build (FwReader *r, const cJSON *crank, FwDesign *design)
{
  static const char *const makes[] = { "elbows", "bolted", "bent", NULL };
  static const char *const kinds[] = { "closed", "open", NULL };
  FwCrankBuild *build = &design->crank.build;
  const cJSON *object;
  int make = 0, eyes = 0, bearings = 0;

  if (!fw_read_object (r, crank, "build", FW_OPTIONAL, &object))
    return FALSE;
  if (!object)
    return TRUE;
  gsize mark = fw_read_enter (r, "build");
  build->returns = true;
  if (!fw_read_choice (r, object, "make", FW_REQUIRED, makes, &make)
      || !read_pipe (r, object, design, build) || !read_lengths (r, object, build)
      || !fw_read_flag (r, object, "returns", &build->returns)
      || !fw_read_choice (r, object, "eyes", FW_OPTIONAL, kinds, &eyes)
      || !fw_read_choice (r, object, "bearings", FW_OPTIONAL, kinds, &bearings))
    return FALSE;
  build->given = true;
  build->make = (FwMake)make;
  build->open_eyes = eyes == 1;
  build->open_bearings = bearings == 1;
  build->clamp_given = build->clamp_mm > 0;
  fw_making_complete (build);
  if (!check_fit (r, build))
    return FALSE;
  fw_read_leave (r, mark);
  return TRUE;
}
