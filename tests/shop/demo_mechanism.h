/* A demo as a mechanism, with one thing in its file changed. */
#pragma once

#include <glib.h>

#include "core/mechanism.h"
#include "doc/document.h"

/* `from`, which must be there, becomes `to`; NULL: as it is. For fw_mechanism_free (). */
static inline FwMechanism *
mechanism_of (const char *demo, const char *from, const char *to)
{
  g_autofree char *path = g_strdup_printf ("%s/%s.flap", FW_DEMOS, demo), *text = NULL;
  g_autoptr (GError) error = NULL;
  FwMechanism *m = NULL;
  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  g_autoptr (GString) edited = g_string_new (text);
  if (from != NULL)
    g_assert_cmpuint (g_string_replace (edited, from, to, 1), ==, 1);
  FwDocument *doc = fw_document_new_from_text (edited->str, -1, demo, &error);
  g_assert_no_error (error);
  g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), &m, NULL), ==, FW_OK);
  fw_document_free (doc);
  return m;
}
