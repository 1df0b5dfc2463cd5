/* Springs and cords between parts, and counterweights on the crank. */
#include "doc/read.h"

#include <stdlib.h>

#include <glib/gi18n.h>


/* A panel that an end on this side can meet: a middle panel, or one that has that side. */
static gboolean
end_fits (FwSide spring, FwSide panel)
{
  return panel == FW_SIDE_MIDDLE || panel == spring || (panel == FW_SIDE_BOTH && spring != FW_SIDE_MIDDLE);
}

static gboolean
read_end (FwReader *r, const cJSON *spring, const char *key, const FwDesign *design, FwSide side, FwNames *panels,
          FwAnchor *end)
{
  static const char *const kinds[] = { "base", "body", "panel" };
  static const FwFrom froms[] = { FW_FROM_BASE, FW_FROM_BODY, FW_FROM_PANEL };
  const cJSON *object;
  int found = 0, kind = 0;

  if (!fw_read_object (r, spring, key, FW_REQUIRED, &object))
    return FALSE;
  gsize mark = fw_read_enter (r, key);
  for (int i = 0; i < 3; i++)
    if (cJSON_GetObjectItemCaseSensitive (object, kinds[i]))
      {
        kind = i;
        found++;
      }
  if (found != 1)
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                         _("one of \"base\", \"body\" or \"panel\" was expected, %d were found"), found);
  end->kind = froms[kind];
  if (end->kind != FW_FROM_PANEL && !fw_read_point (r, object, kinds[kind], FW_REQUIRED, &end->at_mm))
    return FALSE;
  if (end->kind == FW_FROM_PANEL)
    {
      if (!fw_read_reference (r, object, "panel", panels, FALSE, &end->index)
          || !fw_read_point (r, object, "at", FW_REQUIRED, &end->at_mm))
        return FALSE;
      const FwPanel *panel = &design->panels[end->index];
      if (!end_fits (side, panel->side))
        return fw_read_fail (r, "panel", FW_DOC_ERROR_INVALID,
                             _("a panel on the spring's side was expected: \"%s\" is \"%s\", this spring \"%s\""),
                             panel->name, fw_side_words[panel->side], fw_side_words[side]);
    }
  fw_read_leave (r, mark);
  return TRUE;
}

static gboolean
read_spring (FwReader *r, const cJSON *object, FwDesign *design, int index, FwNames *names, FwNames *panels)
{
  FwSpringPart *s = &design->springs[index];
  int side = 0;

  if (!cJSON_IsObject (object))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _("an object { } was expected for a spring"));
  if (!fw_read_name (r, object, names, index, &s->name)
      || !fw_read_choice (r, object, "side", FW_REQUIRED, fw_side_words, &side))
    return FALSE;
  s->side = (FwSide)side;
  return read_end (r, object, "from", design, s->side, panels, &s->from)
         && read_end (r, object, "to", design, s->side, panels, &s->to)
         && fw_read_number (r, object, "rate", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &s->rate_Npmm)
         && fw_read_number (r, object, "free", FW_REQUIRED, FW_RULE_NOT_NEGATIVE, &s->free_mm)
         && fw_read_flag (r, object, "cord", &s->cord);
}

static gboolean
read_spring_list (FwReader *r, const cJSON *array, FwDesign *design, FwNames *names, FwNames *panels)
{
  const cJSON *item;
  int i = 0;

  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "springs", i);
    if (!read_spring (r, item, design, i, names, panels))
      return FALSE;
    fw_read_leave (r, mark);
    i++;
  }
  for (i = 0; i < design->n_springs; i++)
    {
      gsize mark = fw_read_enter_nth (r, "springs", i);
      if (design->springs[i].side == FW_SIDE_BOTH && !fw_read_twin_names (r, design->springs[i].name, names))
        return FALSE;
      fw_read_leave (r, mark);
    }
  return TRUE;
}

gboolean
fw_read_springs (FwReader *r, const cJSON *root, FwDesign *design, FwNames *panels)
{
  const cJSON *array;

  if (!fw_read_array (r, root, "springs", FW_OPTIONAL, &array))
    return FALSE;
  int n = array ? cJSON_GetArraySize (array) : 0;
  if (n == 0)
    return TRUE;
  design->springs = calloc ((size_t)n, sizeof *design->springs);
  if (!design->springs)
    return fw_read_no_memory (r);
  design->n_springs = n;
  FwNames *names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gboolean good = read_spring_list (r, array, design, names, panels);
  g_hash_table_unref (names);
  return good;
}

static gboolean
read_weight (FwReader *r, const cJSON *object, FwCrankWeight *w, int index, FwNames *names)
{
  if (!cJSON_IsObject (object))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _("an object { } was expected for a counterweight"));
  return fw_read_name (r, object, names, index, &w->name)
         && fw_read_number (r, object, "mass", FW_REQUIRED, FW_RULE_NOT_NEGATIVE, &w->mass_g)
         && fw_read_number (r, object, "radius", FW_REQUIRED, FW_RULE_NOT_NEGATIVE, &w->radius_mm)
         && fw_read_number (r, object, "phase", FW_OPTIONAL, FW_RULE_ANY, &w->phase_deg)
         && fw_read_number (r, object, "station", FW_OPTIONAL, FW_RULE_ANY, &w->station_mm);
}

gboolean
fw_read_crank_weights (FwReader *r, const cJSON *crank, FwCrank *out)
{
  const cJSON *array, *item;
  gboolean good = TRUE;
  int i = 0;

  if (!fw_read_array (r, crank, "counterweights", FW_OPTIONAL, &array))
    return FALSE;
  int n = array ? cJSON_GetArraySize (array) : 0;
  if (n == 0)
    return TRUE;
  out->weights = calloc ((size_t)n, sizeof *out->weights);
  if (!out->weights)
    return fw_read_no_memory (r);
  out->n_weights = n;
  FwNames *names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "counterweights", i);
    good = read_weight (r, item, &out->weights[i], i, names);
    if (!good)
      break;
    fw_read_leave (r, mark);
    i++;
  }
  g_hash_table_unref (names);
  return good;
}
