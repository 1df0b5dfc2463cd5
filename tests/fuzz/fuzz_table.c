/* A table of measurements: read or refused with one line that names the place. What is read and short is fitted. */
#include "fuzz.h"

#include <math.h>
#include <string.h>

#include "aim/fit.h"
#include "doc/document.h"

#define FEW 6 /* measurements of a table that is fitted too, which takes long */

static void
fit_one_number (const FwDesign *design, const GArray *measured)
{
  FwParam rod;
  FwFit fit;
  fuzz_require (fw_param_from_path (design, "rods.inrod.length", &rod));
  FwFitWish wish = { .numbers = &rod, .n_numbers = 1 };
  fw_fit (design, (const FwMeasurement *)(const void *)measured->data, (int)measured->len, &wish, &fit);
  for (int i = 0; i < fit.n && fit.status == FW_FIT_FOUND; i++)
    fuzz_require (isfinite (fit.numbers[i].to));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  fuzz_begin ();
  FwDocument *doc = fw_document_new_from_text (fuzz_design_text, -1, "fixed", NULL);
  const FwDesign *design = fw_document_design (doc);
  FwMechanism *mechanism;
  FwFault fault;
  GError *error = NULL;
  fuzz_require (fw_mechanism_build (design, &mechanism, &fault) == FW_OK);

  g_autofree char *text = g_strndup ((const char *)data, size);
  GArray *measured = fw_measured_read (text, "table", mechanism, &error);
  if (measured)
    {
      fuzz_require (measured->len > 0);
      for (guint i = 0; i < measured->len; i++)
        fuzz_require (isfinite (g_array_index (measured, FwMeasurement, i).value));
      if (measured->len <= FEW)
        fit_one_number (design, measured);
      g_array_unref (measured);
    }
  else
    fuzz_require_line (error);
  g_clear_error (&error);
  fw_mechanism_free (mechanism);
  fw_document_free (doc);
  return 0;
}
