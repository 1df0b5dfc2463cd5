#include "doc/fill.h"

#include <string.h>

char *
fw_fill (const char *sentence, const char *word)
{
  const char *gap = strstr (sentence, "%s");
  if (!gap)
    return g_strdup (sentence);
  return g_strdup_printf ("%.*s%s%s", (int)(gap - sentence), sentence, word, gap + 2);
}

char *
fw_one_line (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  GString *line = g_string_new (NULL);
  for (const char *at = valid; *at; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);
      g_string_append_unichar (line, g_unichar_iscntrl (c) || c == 0x2028 || c == 0x2029 ? ' ' : c);
    }
  return g_string_free (line, FALSE);
}

gboolean
fw_has_control (const char *text)
{
  for (const char *c = text; *c; c = g_utf8_next_char (c))
    if (g_unichar_iscntrl (g_utf8_get_char (c)))
      return TRUE;
  return FALSE;
}
