/* What is typed in a field: numbers with units, wishes, free numbers, names of numbers. It is taken or refused
 * with one line; what is taken can be written out and typed again. */
#include "fuzz.h"

#include <math.h>
#include <string.h>

#include "aim/wish.h"
#include "doc/log.h"

static void
as_number (const char *text)
{
  for (int unit = FW_UNIT_NONE; unit <= FW_UNIT_MPS; unit++)
    for (int lengths = FW_LENGTHS_MM; lengths <= FW_LENGTHS_INCH; lengths++)
      {
        double value = 17, again = 0;
        GError *error = NULL;
        if (!fw_units_parse (text, (FwUnit)unit, (FwLengths)lengths, &value, &error))
          {
            fuzz_require (value == 17);
            fuzz_require_line (error);
            g_error_free (error);
            continue;
          }
        fuzz_require (isfinite (value));
        if (!(fabs (value) < 1e6))
          continue; /* no design holds it */
        char *shown = fw_units_format (value, (FwUnit)unit, (FwLengths)lengths, -1);
        /* As shown: to a tenth of a mm or of 1/64 inch, a degree, a gram. */
        if (unit == FW_UNIT_MM || unit == FW_UNIT_DEG || unit == FW_UNIT_G)
          fuzz_require (fw_units_parse (shown, (FwUnit)unit, (FwLengths)lengths, &again, NULL)
                        && fabs (again - value) < 0.5001);
        g_free (shown);
      }
}

static void
as_wish (const FwDocument *doc, const char *text)
{
  const FwDesign *design = fw_document_design (doc);
  GError *error = NULL;
  FwWishes *wishes = fw_wishes_new ();
  FwWish wish;
  FwFree item;
  FwParam param;

  if (fw_wish_parse (design, text, &wish, &error))
    {
      g_free (fw_wish_words (&wish, FW_LENGTHS_INCH));
      g_free (fw_wish_value_words (&wish, 1, FW_LENGTHS_MM));
      fw_wishes_add (wishes, wish);
    }
  else
    fuzz_require_line (error);
  g_clear_error (&error);
  if (fw_free_parse (design, text, &item, &error))
    fw_wishes_add_free (wishes, item);
  else
    fuzz_require_line (error);
  g_clear_error (&error);
  if (!fw_wishes_check (wishes, design, &error))
    fuzz_require_line (error);
  g_clear_error (&error);
  if (!fw_number_from_name (design, text, &param, &error))
    fuzz_require_line (error);
  g_clear_error (&error);
  fw_wishes_free (wishes);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_begin ();
  FwDocument *doc = fw_document_new_from_text (fuzz_design_text, -1, "fixed", NULL);
  fuzz_require (doc != NULL);
  while (size > 0)
    {
      char *text = fuzz_line (&data, &size);
      as_number (text);
      as_wish (doc, text);
      fw_log_text_is_valid (text, TRUE);
      fw_log_path_is_valid (text);
      g_free (text);
    }
  fw_document_free (doc);
  return 0;
}
