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
