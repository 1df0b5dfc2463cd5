/* How printed parts are made: fits, walls, chamfers. */
#include "doc/read.h"

#include <glib/gi18n.h>

static gboolean
read_numbers (FwReader *r, const cJSON *object, FwPrint *print)
{
  const struct
  {
    const char *key;
    FwRule rule;
    double *out;
  } keys[] = {
    { "fit", FW_RULE_NOT_NEGATIVE, &print->fit_mm },
    { "tight", FW_RULE_NOT_NEGATIVE, &print->tight_mm },
    { "wall", FW_RULE_ABOVE_ZERO, &print->wall_mm },
    { "chamfer", FW_RULE_NOT_NEGATIVE, &print->chamfer_mm },
    { "lean_margin", FW_RULE_NOT_NEGATIVE, &print->lean_margin_deg },
    { "end_play", FW_RULE_NOT_NEGATIVE, &print->end_play_mm },
    { "tee_bore", FW_RULE_ABOVE_ZERO, &print->tee_bore_mm },
    { "tee_depth", FW_RULE_ABOVE_ZERO, &print->tee_depth_mm },
    { "screw", FW_RULE_ABOVE_ZERO, &print->screw_mm },
    { "pin", FW_RULE_ABOVE_ZERO, &print->pin_mm },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (!fw_read_number (r, object, keys[i].key, FW_OPTIONAL, keys[i].rule, keys[i].out))
      return FALSE;
  return TRUE;
}

gboolean
fw_read_print (FwReader *r, const cJSON *root, FwDesign *design)
{
  const cJSON *object;

  design->print = (FwPrint){ .fit_mm = 0.4,
                             .tight_mm = 0.1,
                             .wall_mm = 2.4,
                             .chamfer_mm = 0.6,
                             .lean_margin_deg = 3,
                             .end_play_mm = 0.5,
                             .screw_mm = 3 };
  if (!fw_read_object (r, root, "print", FW_OPTIONAL, &object))
    return FALSE;
  if (!object)
    return TRUE;
  gsize mark = fw_read_enter (r, "print");
  if (!read_numbers (r, object, &design->print))
    return FALSE;
  if (design->print.lean_margin_deg > 45)
    return fw_read_fail (r, "lean_margin", FW_DOC_ERROR_INVALID,
                         _("a number from 0 to 45 was expected"));
  fw_read_leave (r, mark);
  return TRUE;
}
