/* Fuzz target: whatever the bytes are, loading ends with a design or with one line, and what was
 * loaded can be saved, loaded again and changed. Built by fuzz.sh. */
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "doc/document.h"
#include "doc/units.h"

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

static void
require (gboolean holds)
{
  if (!holds)
    abort ();
}

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
      require (fw_param_get (fw_document_design (doc), param) == change.value);
      require (fw_document_undo (doc));
    }
  char *after = fw_document_to_text (doc);
  require (strcmp (before, after) == 0);
  g_free (before);
  g_free (after);
  g_free (params);
}

static void
save_and_load (FwDocument *doc)
{
  char *once = fw_document_to_text (doc);
  FwDocument *again = fw_document_new_from_text (once, -1, "again", NULL);
  require (again != NULL);
  char *twice = fw_document_to_text (again);
  require (strcmp (once, twice) == 0);
  g_free (once);
  g_free (twice);
  fw_document_free (again);
}

static void
read_as_typed (const uint8_t *data, size_t size)
{
  char *text = g_strndup ((const char *)data, MIN (size, 200));
  double value;
  for (int unit = FW_UNIT_NONE; unit <= FW_UNIT_MPS; unit++)
    fw_units_parse (text, (FwUnit)unit, FW_LENGTHS_INCH, &value, NULL);
  g_free (text);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  GError *error = NULL;
  FwDocument *doc = fw_document_new_from_text ((const char *)data, (gssize)size, "fuzz", &error);

  if (doc)
    {
      save_and_load (doc);
      change_one_number (doc, size);
    }
  else
    require (error && strchr (error->message, '\n') == NULL
             && g_utf8_validate (error->message, -1, NULL));
  g_clear_error (&error);
  fw_document_free (doc);
  read_as_typed (data, size);
  return 0;
}
