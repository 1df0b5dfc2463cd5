/* What the numbers are called that a fit finds. */
#include <glib/gi18n.h>

#include "aim/fit.h"
#include "doc/document.h"

char *
fw_fit_name_words (const FwDesign *design, FwFitName name)
{
  return name.is_zero ? g_strdup (_ ("Mark on the crank")) : fw_param_label (design, name.param);
}

FwUnit
fw_fit_name_unit (FwFitName name)
{
  return name.is_zero ? FW_UNIT_DEG : fw_param_unit (name.param);
}
