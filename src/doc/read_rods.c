/* Rods: where they start, what they drive, and on which side. */
#include "doc/read.h"

#include <stdlib.h>
#include <string.h>

#include <glib/gi18n.h>


/* True if a rod of this side can meet a panel of that side, as its anchor. */
static gboolean
anchor_fits (FwSide rod, FwSide panel)
{
  return panel == FW_SIDE_MIDDLE || panel == rod
         || (panel == FW_SIDE_BOTH && rod != FW_SIDE_MIDDLE);
}

/* True if a rod of this side can drive a panel of that side: no twin is left over. */
static gboolean
drive_fits (FwSide rod, FwSide panel)
{
  return rod == panel || (panel == FW_SIDE_BOTH && (rod == FW_SIDE_RIGHT || rod == FW_SIDE_LEFT));
}

static gboolean
fail_side (FwReader *r, const FwPanel *panel, FwSide side)
{
  return fw_read_fail (
      r, "side", FW_DOC_ERROR_INVALID,
      _("a side that fits \"%s\" was expected: that panel is \"%s\", this rod \"%s\""),
      panel->name, fw_side_words[panel->side], fw_side_words[side]);
}

static gboolean
read_from (FwReader *r, const cJSON *object, const FwDesign *design, FwNames *throws,
           FwNames *panels, FwAnchor *from)
{
  static const char *const kinds[] = { "throw", "base", "body", "panel" };
  int found = 0;

  for (int i = 0; i < 4; i++)
    if (cJSON_GetObjectItemCaseSensitive (object, kinds[i]))
      {
        from->kind = (FwFrom)i;
        found++;
      }
  if (found != 1)
    return fw_read_fail (
        r, NULL, FW_DOC_ERROR_INVALID,
        _("one of \"throw\", \"base\", \"body\" or \"panel\" was expected, %d were found"), found);
  switch (from->kind)
    {
    case FW_FROM_THROW:
      return fw_read_reference (r, object, "throw", throws, TRUE, &from->index);
    case FW_FROM_PANEL:
      return fw_read_reference (r, object, "panel", panels, FALSE, &from->index)
             && fw_read_point (r, object, "at", FW_REQUIRED, &from->at_mm);
    case FW_FROM_BASE:
    case FW_FROM_BODY:
    default:
      return fw_read_point (r, object, kinds[from->kind], FW_REQUIRED, &from->at_mm);
    }
}

static gboolean
read_ends (FwReader *r, const cJSON *object, FwDesign *design, FwRod *rod, FwNames *throws,
           FwNames *panels)
{
  const cJSON *from, *to;

  if (!fw_read_object (r, object, "from", FW_REQUIRED, &from))
    return FALSE;
  gsize mark = fw_read_enter (r, "from");
  if (!read_from (r, from, design, throws, panels, &rod->from))
    return FALSE;
  fw_read_leave (r, mark);

  if (!fw_read_object (r, object, "to", FW_REQUIRED, &to))
    return FALSE;
  mark = fw_read_enter (r, "to");
  if (!fw_read_reference (r, to, "panel", panels, FALSE, &rod->panel)
      || !fw_read_point (r, to, "at", FW_REQUIRED, &rod->at_mm))
    return FALSE;
  fw_read_leave (r, mark);

  const FwPanel *driven = &design->panels[rod->panel];
  if (!drive_fits (rod->side, driven->side))
    return fail_side (r, driven, rod->side);
  if (rod->from.kind == FW_FROM_PANEL
      && !anchor_fits (rod->side, design->panels[rod->from.index].side))
    return fail_side (r, &design->panels[rod->from.index], rod->side);
  return TRUE;
}

static gboolean
read_weight (FwReader *r, const cJSON *object, FwRod *rod)
{
  rod->diameter_mm = 3;
  rod->lean_limit_deg = 25;
  rod->bend_limit_deg = 45;
  if (!fw_read_number (r, object, "diameter", FW_OPTIONAL, FW_RULE_ABOVE_ZERO, &rod->diameter_mm)
      || !fw_read_material (r, object, "brass", &rod->material)
      || !fw_read_wall (r, object, rod->diameter_mm, &rod->wall_mm)
      || !fw_read_number (r, object, "play", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &rod->play_mm)
      || !fw_read_number (r, object, "lean_limit", FW_OPTIONAL, FW_RULE_JOINT_LIMIT,
                          &rod->lean_limit_deg)
      || !fw_read_number (r, object, "bend_limit", FW_OPTIONAL, FW_RULE_JOINT_LIMIT,
                          &rod->bend_limit_deg))
    return FALSE;
  /* A material that the file names implies a round bar's mass; the default material does not. */
  rod->stuff = fw_read_stuff (r, object);
  rod->mass_g
      = fw_bar_mass (rod->diameter_mm, rod->wall_mm, rod->stuff.density_kgm3) * rod->length_mm;
  return fw_read_number (r, object, "mass", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &rod->mass_g);
}

static gboolean
read_rod (FwReader *r, const cJSON *object, FwDesign *design, int index, FwNames *names,
          FwNames *throws, FwNames *panels)
{
  FwRod *rod = &design->rods[index];
  int side = 0;

  if (!cJSON_IsObject (object))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID, _("an object { } was expected for a rod"));
  if (!fw_read_name (r, object, names, index, &rod->name)
      || !fw_read_choice (r, object, "side", FW_REQUIRED, fw_side_words, &side))
    return FALSE;
  rod->side = (FwSide)side;
  return read_ends (r, object, design, rod, throws, panels)
         && fw_read_number (r, object, "length", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &rod->length_mm)
         && fw_read_number (r, object, "near", FW_OPTIONAL, FW_RULE_ANY, &rod->near_deg)
         && read_weight (r, object, rod);
}

/* `driver` holds, panel by panel, the rod (index + 1) on the right or in the middle, then on the
 * left. */
static gboolean
claim_panel (FwReader *r, const FwDesign *design, int index, int *driver)
{
  const FwRod *rod = &design->rods[index];
  gboolean uses[2]
      = { rod->side != FW_SIDE_LEFT, rod->side == FW_SIDE_LEFT || rod->side == FW_SIDE_BOTH };

  for (int s = 0; s < 2; s++)
    {
      int *slot = &driver[2 * rod->panel + s];
      if (uses[s] && *slot)
        return fw_read_fail (
            r, "to.panel", FW_DOC_ERROR_INVALID,
            _("one rod a panel was expected, but \"%s\" is driven by \"%s\" already"),
            design->panels[rod->panel].name, design->rods[*slot - 1].name);
      if (uses[s])
        *slot = index + 1;
    }
  return TRUE;
}

static gboolean
read_list (FwReader *r, const cJSON *array, FwDesign *design, FwNames *names, FwNames *throws,
           FwNames *panels)
{
  int *driver = g_new0 (int, 2 * design->n_panels + 1);
  const cJSON *item;
  gboolean good = TRUE;
  int i = 0;

  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "rods", i);
    good = read_rod (r, item, design, i, names, throws, panels)
           && claim_panel (r, design, i, driver);
    if (!good)
      break;
    fw_read_leave (r, mark);
    i++;
  }
  g_free (driver);
  return good;
}

static gboolean
check_twins (FwReader *r, const FwDesign *design, FwNames *names)
{
  for (int i = 0; i < design->n_rods; i++)
    {
      gsize mark = fw_read_enter_nth (r, "rods", i);
      if (design->rods[i].side == FW_SIDE_BOTH
          && !fw_read_twin_names (r, design->rods[i].name, names))
        return FALSE;
      fw_read_leave (r, mark);
    }
  return TRUE;
}

gboolean
fw_read_rods (FwReader *r, const cJSON *root, FwDesign *design, FwNames *throws, FwNames *panels)
{
  const cJSON *array;

  if (!fw_read_array (r, root, "rods", FW_REQUIRED, &array))
    return FALSE;
  int n = cJSON_GetArraySize (array);
  design->rods = calloc ((size_t)n + 1, sizeof *design->rods);
  if (!design->rods)
    return fw_read_no_memory (r);
  design->n_rods = n;

  FwNames *names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gboolean good = read_list (r, array, design, names, throws, panels)
                  && check_twins (r, design, names);
  g_hash_table_unref (names);
  return good;
}
