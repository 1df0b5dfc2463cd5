#include "draw/unbroken.h"

#include <string.h>

#include "doc/units.h"

/* Bytes of the unit that begins there; 0: none does. */
static gsize
unit_at (const char *text)
{
  gsize longest = 0;
  for (int unit = FW_UNIT_MM; unit <= FW_UNIT_GPM2; unit++)
    for (int lengths = FW_LENGTHS_MM; lengths <= FW_LENGTHS_INCH; lengths++)
      {
        const char *symbol = fw_units_symbol ((FwUnit)unit, (FwLengths)lengths);
        gsize length = strlen (symbol);
        if (length > longest && strncmp (text, symbol, length) == 0
            && !g_unichar_isalnum (g_utf8_get_char (text + length)))
          longest = length;
      }
  return longest;
}

/* Of the rest of a mixed number, "1/2 in". */
static gsize
fraction_at (const char *text)
{
  gsize above = strspn (text, "0123456789");
  gsize below = above > 0 && text[above] == '/' ? strspn (text + above + 1, "0123456789") : 0;
  return below > 0 ? above + 1 + below : 0;
}

PangoAttrList *
fw_unbroken_figures (const char *text)
{
  PangoAttrList *list = pango_attr_list_new ();
  for (const char *at = strchr (text, ' '); at != NULL; at = strchr (at + 1, ' '))
    {
      if (at == text || !g_ascii_isdigit (at[-1]))
        continue;
      gsize held = fraction_at (at + 1);
      held = held > 0 ? held : unit_at (at + 1);
      if (held == 0)
        continue;
      const char *start = at - 1;
      while (start > text && strchr ("0123456789.,/-", start[-1]) != NULL)
        start--;
      PangoAttribute *whole = pango_attr_allow_breaks_new (FALSE);
      whole->start_index = (guint)(start - text);
      whole->end_index = (guint)(at + 1 + held - text);
      pango_attr_list_insert (list, whole);
    }
  return list;
}
