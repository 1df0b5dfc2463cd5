/* Whatever the bytes are, loading ends with a design or with one line, and what was loaded can be saved,
 * loaded again and changed. */
#include "fuzz.h"

#include <string.h>

#include "doc/document.h"

static void
change_one_number (FwDocument *doc, size_t seed)
{
  int n = fw_design_params (fw_document_design (doc), NULL, 0);
  FwParam *params = g_new (FwParam, n);
  fw_design_params (fw_document_design (doc), params, n);
  FwParam param = params[seed % (size_t)n];
  FwChange change = { param, fw_param_get (fw_document_design (doc), param) / 2 + 1 };
  char *before = fw_document_to_text (doc);

  if (fw_document_change (doc, &change, 1, "step", NULL, NULL) && fw_document_undo_label (doc))
    {
      fuzz_require (fw_param_get (fw_document_design (doc), param) == change.value);
      fuzz_require (fw_document_undo (doc));
    }
  char *after = fw_document_to_text (doc);
  fuzz_require (strcmp (before, after) == 0);
  g_free (before);
  g_free (after);
  g_free (params);
}

static void
save_and_load (FwDocument *doc)
{
  char *once = fw_document_to_text (doc);
  FwDocument *again = fw_document_new_from_text (once, -1, "again", NULL);
  fuzz_require (again != NULL);
  char *twice = fw_document_to_text (again);
  fuzz_require (strcmp (once, twice) == 0);
  g_free (once);
  g_free (twice);
  fw_document_free (again);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  GError *error = NULL;
  fuzz_begin ();
  FwDocument *doc = fw_document_new_from_text ((const char *)data, (gssize)size, "fuzz", &error);

  if (doc)
    {
      save_and_load (doc);
      change_one_number (doc, size);
    }
  else
    fuzz_require_line (error);
  g_clear_error (&error);
  fw_document_free (doc);
  return 0;
}
