/* Reading numbers with units as people type them. */
#include "doc/units.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/document.h"
#include "doc/fill.h"
#include "doc/json.h"

#define LONGEST_TEXT 120 /* bytes; nobody types more, and error messages quote it */

typedef struct
{
  FwUnit unit;
  const char *name;
  double factor; /* to the file's unit */
} UnitName;

#define INCH 25.4

static const UnitName unit_names[] = {
  { FW_UNIT_MM, "mm", 1 },
  { FW_UNIT_MM, "cm", 10 },
  { FW_UNIT_MM, "m", 1000 },
  { FW_UNIT_MM, "in", INCH },
  { FW_UNIT_MM, "inch", INCH },
  { FW_UNIT_MM, "inches", INCH },
  { FW_UNIT_MM, "\"", INCH },
  { FW_UNIT_MM, "″", INCH },
  { FW_UNIT_MM, "”", INCH },
  { FW_UNIT_MM, "''", INCH },
  { FW_UNIT_MM, "ft", 12 * INCH },
  { FW_UNIT_MM, "foot", 12 * INCH },
  { FW_UNIT_MM, "feet", 12 * INCH },
  { FW_UNIT_MM, "'", 12 * INCH },
  { FW_UNIT_MM, "′", 12 * INCH },
  { FW_UNIT_MM, "’", 12 * INCH },
  { FW_UNIT_DEG, "deg", 1 },
  { FW_UNIT_DEG, "degree", 1 },
  { FW_UNIT_DEG, "degrees", 1 },
  { FW_UNIT_DEG, "°", 1 },
  { FW_UNIT_DEG, "rad", 180 / G_PI },
  { FW_UNIT_G, "g", 1 },
  { FW_UNIT_G, "kg", 1000 },
  { FW_UNIT_G, "oz", 28.349523125 },
  { FW_UNIT_G, "lb", 453.59237 },
  { FW_UNIT_TURNS_PER_MINUTE, "/min", 1 },
  { FW_UNIT_TURNS_PER_MINUTE, "1/min", 1 },
  { FW_UNIT_TURNS_PER_MINUTE, "turns/min", 1 },
  { FW_UNIT_TURNS_PER_MINUTE, "rpm", 1 },
  { FW_UNIT_TURNS_PER_MINUTE, "/s", 60 },
  { FW_UNIT_TURNS_PER_MINUTE, "turns/s", 60 },
};

static const struct
{
  const char *sign;
  double value;
} fraction_signs[] = {
  { "½", 1.0 / 2 }, { "¼", 1.0 / 4 }, { "¾", 3.0 / 4 }, { "⅛", 1.0 / 8 }, { "⅜", 3.0 / 8 },
  { "⅝", 5.0 / 8 }, { "⅞", 7.0 / 8 }, { "⅓", 1.0 / 3 }, { "⅔", 2.0 / 3 },
};

/* ---- Small steps: each moves *at past what it read, or leaves it and returns FALSE ---- */

static void
skip_space (const char **at)
{
  while (g_unichar_isspace (g_utf8_get_char (*at)))
    *at = g_utf8_next_char (*at);
}

static gboolean
skip_text (const char **at, const char *text)
{
  if (!g_str_has_prefix (*at, text))
    return FALSE;
  *at += strlen (text);
  return TRUE;
}

static gboolean
read_whole (const char **at, double *value)
{
  if (!g_ascii_isdigit (**at))
    return FALSE;
  for (*value = 0; g_ascii_isdigit (**at); (*at)++)
    *value = *value * 10 + (**at - '0');
  return TRUE;
}

/* 12, 12.5, 12,5, .5 */
static gboolean
read_decimal (const char **at, double *value, gboolean *whole)
{
  char digits[LONGEST_TEXT + 8];
  gsize n = 0;
  const char *c = *at;

  while (g_ascii_isdigit (*c) && n < LONGEST_TEXT)
    digits[n++] = *c++;
  gsize before = n;
  *whole = TRUE;
  if ((*c == '.' || *c == ',') && (before > 0 || g_ascii_isdigit (c[1])))
    {
      *whole = FALSE;
      digits[n++] = '.';
      c++;
      while (g_ascii_isdigit (*c) && n < LONGEST_TEXT)
        digits[n++] = *c++;
    }
  if (n == 0)
    return FALSE;
  digits[n] = '\0';
  *value = g_ascii_strtod (digits, NULL);
  *at = c;
  return TRUE;
}

static gboolean
read_fraction (const char **at, double *value)
{
  const char *c = *at;
  double above, below;

  for (gsize i = 0; i < G_N_ELEMENTS (fraction_signs); i++)
    if (skip_text (at, fraction_signs[i].sign))
      {
        *value = fraction_signs[i].value;
        return TRUE;
      }
  if (!read_whole (&c, &above))
    return FALSE;
  skip_space (&c);
  if (!skip_text (&c, "/") && !skip_text (&c, "⁄"))
    return FALSE;
  skip_space (&c);
  if (!read_whole (&c, &below) || below == 0)
    return FALSE;
  *value = above / below;
  *at = c;
  return TRUE;
}

/* A decimal, a fraction, or a whole number and a fraction ("1 1/2", "1-1/2", "1½"). */
static gboolean
read_amount (const char **at, double *value)
{
  double fraction;
  gboolean whole;

  if (read_fraction (at, value))
    return TRUE;
  if (!read_decimal (at, value, &whole))
    return FALSE;
  if (!whole)
    return TRUE;
  const char *c = *at;
  skip_space (&c);
  if (skip_text (&c, "-"))
    skip_space (&c);
  if (read_fraction (&c, &fraction) && fraction < 1)
    {
      *value += fraction;
      *at = c;
    }
  return TRUE;
}

static gboolean
begins_amount (const char *at)
{
  double value;
  return g_ascii_isdigit (*at) || *at == '-' || read_fraction (&at, &value);
}

/* Length in bytes of the unit name at `text`: up to a space or where another amount begins. */
static gsize
word_length (const char *text)
{
  const char *c = text;

  if (skip_text (&c, "1/min"))
    return (gsize)(c - text);
  while (*c && !g_unichar_isspace (g_utf8_get_char (c)) && !begins_amount (c))
    c = g_utf8_next_char (c);
  return (gsize)(c - text);
}

static gboolean
word_is (const char *word, gsize length, const char *name)
{
  return strlen (name) == length && g_ascii_strncasecmp (word, name, length) == 0;
}

/* The unit's own symbol, as it is printed in the user's language, is understood too. */
static gboolean
read_unit (const char **at, FwUnit unit, FwLengths lengths, double *factor)
{
  gsize length = word_length (*at);
  if (length == 0)
    return FALSE;

  for (gsize i = 0; i < G_N_ELEMENTS (unit_names); i++)
    if (unit_names[i].unit == unit && word_is (*at, length, unit_names[i].name))
      {
        *factor = unit_names[i].factor;
        *at += length;
        return TRUE;
      }
  if (word_is (*at, length, fw_units_symbol (unit, lengths)))
    {
      *factor = unit == FW_UNIT_MM && lengths == FW_LENGTHS_INCH ? INCH : 1;
      *at += length;
      return TRUE;
    }
  return FALSE;
}

/* ---- The whole ---- */

/* "1' 6 1/2" and the like: what follows feet is inches. */
static gboolean
read_inches_after_feet (const char **at, double *value)
{
  double inches, factor = INCH;

  skip_space (at);
  if (!**at)
    return TRUE;
  if (skip_text (at, "-"))
    skip_space (at);
  if (!read_amount (at, &inches))
    return FALSE;
  skip_space (at);
  if (**at && (!read_unit (at, FW_UNIT_MM, FW_LENGTHS_INCH, &factor) || factor != INCH))
    return FALSE;
  *value += inches * INCH;
  skip_space (at);
  return **at == '\0';
}

static gboolean
read_typed (const char *text, FwUnit unit, FwLengths lengths, double *value)
{
  const char *at = text;
  double amount, factor = unit == FW_UNIT_MM && lengths == FW_LENGTHS_INCH ? INCH : 1;
  gboolean negative = FALSE;

  skip_space (&at);
  if (skip_text (&at, "-") || skip_text (&at, "−"))
    negative = TRUE;
  else
    skip_text (&at, "+");
  skip_space (&at);
  if (!read_amount (&at, &amount))
    return FALSE;
  skip_space (&at);
  if (*at && !read_unit (&at, unit, lengths, &factor))
    return FALSE;

  double total = amount * factor;
  if (unit == FW_UNIT_MM && factor == 12 * INCH)
    {
      if (!read_inches_after_feet (&at, &total))
        return FALSE;
    }
  skip_space (&at);
  if (*at || !isfinite (total))
    return FALSE;
  *value = negative ? -total : total;
  return TRUE;
}

static const char *
expected_sentence (FwUnit unit)
{
  switch (unit)
    {
    case FW_UNIT_MM:
      return _("a length such as 19 mm, 2.5 cm or 3/4 in was expected, %s was found");
    case FW_UNIT_DEG:
      return _("an angle such as 30, 30° or 0.5 rad was expected, %s was found");
    case FW_UNIT_G:
      return _("a mass such as 120 g or 0.2 kg was expected, %s was found");
    case FW_UNIT_TURNS_PER_MINUTE:
      return _("a speed such as 40 or 40 /min was expected, %s was found");
    case FW_UNIT_NONE:
    case FW_UNIT_PER_RAD:
    case FW_UNIT_PER_RAD2:
    case FW_UNIT_N:
    case FW_UNIT_NM:
    case FW_UNIT_MPA:
    case FW_UNIT_HZ:
    case FW_UNIT_J:
    case FW_UNIT_MPS:
    case FW_UNIT_NPMM:
    default:
      return _("a number such as 1.5 was expected, %s was found");
    }
}

gboolean
fw_units_parse (const char *text, FwUnit unit, FwLengths lengths, double *value, GError **error)
{
  gsize length = text ? strlen (text) : 0;
  gboolean readable = length > 0 && length <= LONGEST_TEXT && g_utf8_validate (text, -1, NULL);

  if (readable && read_typed (text, unit, lengths, value))
    return TRUE;

  char *found = length == 0 ? g_strdup (_("nothing"))
                : readable  ? fw_json_quote (text)
                            : g_strdup (_("something unreadable"));
  char *message = fw_fill (expected_sentence (unit), found);
  g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, message);
  g_free (message);
  g_free (found);
  return FALSE;
}
