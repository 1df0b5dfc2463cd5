#include "app/fitwords.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "doc/document.h"

static void
write_number (GString *out, const FwDesign *design, const FwFitNumber *n, FwLengths lengths)
{
  FwUnit unit = fw_fit_name_unit (n->name);
  g_autofree char *name = fw_fit_name_words (design, n->name);
  g_autofree char *from = fw_units_format (n->from, unit, lengths, 1);
  g_autofree char *to = fw_units_format (n->to, unit, lengths, 1);
  g_autofree char *sure = fw_units_format (n->sure, unit, lengths, 1);
  g_autofree char *off = fw_units_format (fabs (n->to - n->from), unit, lengths, 1);

  /* Translators: a number; as drawn; as built; by how much it is sure; by how much it is off. */
  g_string_append_printf (out, n->to < n->from ? _ ("%s: drawn %s, built %s ± %s, less by %s.\n")
                                               : _ ("%s: drawn %s, built %s ± %s, more by %s.\n"),
                          name, from, to, sure, off);
  for (int k = 0; k < n->n_others; k++)
    {
      g_autofree char *other = fw_fit_name_words (design, n->others[k]);
      g_autofree char *value = fw_units_format (n->others_to[k], fw_fit_name_unit (n->others[k]), lengths, 1);
      g_string_append_printf (out, /* Translators: another number that could be off, and the value it would have: "Length of inrod 412.5 mm". */
                              _ ("    or just as likely instead: %s %s\n"), other, value);
    }
}

static void
write_miss (GString *out, double before, double after, FwUnit unit, FwLengths lengths)
{
  if (isnan (before))
    return;
  g_autofree char *a = fw_units_format (before, unit, lengths, 2), *b = fw_units_format (after, unit, lengths, 2);
  /* Translators: root mean squares. */
  g_string_append_printf (out, unit == FW_UNIT_DEG ? _ ("Angles missed by %s as drawn, by %s as built.\n")
                                                   : _ ("Heights and places missed by %s as drawn, by %s as built.\n"), a, b);
}

static char *
refusal (const FwDesign *design, const FwFit *fit)
{
  if (fit->status == FW_FIT_TOO_FEW)
    return g_strdup_printf (ngettext ("At least 3 measurements were expected, %d was found.",
                                      "At least 3 measurements were expected, %d were found.", (gulong) fit->n_measurements),
                            fit->n_measurements);
  if (fit->status == FW_FIT_CANNOT_TELL)
    {
      g_autofree char *a = fw_fit_name_words (design, fit->numbers[0].name), *b = fw_fit_name_words (design, fit->numbers[1].name);
      return g_strdup_printf (_ ("These measurements cannot tell “%s” from “%s”: measure elsewhere too."), a, b);
    }
  return g_strdup (fit->status == FW_FIT_STOPPED ? _ ("Stopped.") : _ ("There is not enough memory to work it out."));
}

char *
fw_fit_words (const FwDesign *design, const FwFit *fit, FwLengths lengths)
{
  if (fit->status != FW_FIT_FOUND && fit->status != FW_FIT_AS_DRAWN)
    return refusal (design, fit);
  GString *out = g_string_new (NULL);
  if (fit->status == FW_FIT_AS_DRAWN)
    g_string_append (out, _ ("It is built as drawn, as far as these measurements tell.\n"));
  for (int i = 0; i < fit->n; i++)
    write_number (out, design, &fit->numbers[i], lengths);
  write_miss (out, fit->angle_before_deg, fit->angle_after_deg, FW_UNIT_DEG, lengths);
  write_miss (out, fit->length_before_mm, fit->length_after_mm, FW_UNIT_MM, lengths);
  g_string_truncate (out, out->len > 0 ? out->len - 1 : 0);
  return g_string_free (out, FALSE);
}

FwDesign *
fw_fit_design (const FwDesign *design, const FwFit *fit)
{
  FwDesign *built = fw_design_copy (design);
  for (int i = 0; built != NULL && i < fit->n; i++)
    if (!fit->numbers[i].name.is_zero)
      fw_param_set (built, fit->numbers[i].name.param, fit->numbers[i].to);
  return built;
}
