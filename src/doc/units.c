/* Formatting, and the units themselves; what is typed is read in typed.c. */
#include "doc/units.h"

#include <math.h>

#include <glib/gi18n.h>

#define MM_PER_INCH 25.4
#define SIXTY_FOURTHS 64
#define LARGEST_FRACTION 1e12 /* inches; beyond, fractions mean nothing */

const char *
fw_units_symbol (FwUnit unit, FwLengths lengths)
{
  switch (unit)
    {
    case FW_UNIT_MM:
      return lengths == FW_LENGTHS_INCH ? C_("unit", "in") : C_("unit", "mm");
    case FW_UNIT_DEG:
      return C_("unit", "°");
    case FW_UNIT_G:
      return C_("unit", "g");
    case FW_UNIT_TURNS_PER_MINUTE:
      return C_("unit", "turns/min");
    case FW_UNIT_PER_RAD:
      return C_("unit", "rad/rad");
    case FW_UNIT_PER_RAD2:
      return C_("unit", "rad/rad²");
    case FW_UNIT_N:
      return C_("unit", "N");
    case FW_UNIT_NM:
      return C_("unit", "N m");
    case FW_UNIT_MPA:
      return C_("unit", "MPa");
    case FW_UNIT_HZ:
      return C_("unit", "Hz");
    case FW_UNIT_J:
      return C_("unit", "J");
    case FW_UNIT_MPS:
      return C_("unit", "m/s");
    case FW_UNIT_NPMM:
      return C_("unit", "N/mm");
    case FW_UNIT_GPM2:
      return C_("unit", "g/m²");
    case FW_UNIT_NONE:
    default:
      return "";
    }
}

/* As many digits as makers cut; a speed has three that matter. */
static int
usual_digits (double value, FwUnit unit)
{
  switch (unit)
    {
    case FW_UNIT_G:
    case FW_UNIT_GPM2:
      return 0;
    case FW_UNIT_NONE:
    case FW_UNIT_PER_RAD:
    case FW_UNIT_PER_RAD2:
    case FW_UNIT_NM:
      return 2;
    case FW_UNIT_MPS:
      return fabs (value) < 1 ? 3 : fabs (value) < 10 ? 2 : fabs (value) < 100 ? 1 : 0;
    case FW_UNIT_NPMM:
      return 3;
    case FW_UNIT_J:
      return 4;
    case FW_UNIT_N:
    case FW_UNIT_MPA:
    case FW_UNIT_HZ:
    case FW_UNIT_MM:
    case FW_UNIT_DEG:
    case FW_UNIT_TURNS_PER_MINUTE:
    default:
      return 1;
    }
}

static guint64
common_divisor (guint64 a, guint64 b)
{
  return b == 0 ? a : common_divisor (b, a % b);
}

/* Whole inches and a reduced fraction, to the nearest 1/64, half up in size; what is less than 1/64, in
 * thousandths. */
static char *
format_inches (double value_mm)
{
  double inches = fabs (value_mm) / MM_PER_INCH;
  if (inches > LARGEST_FRACTION)
    return g_strdup_printf ("%.6g", value_mm / MM_PER_INCH);

  if (inches >= 0.0005 && inches < 1.0 / SIXTY_FOURTHS - 1e-9)
    return g_strdup_printf ("%.3f", value_mm / MM_PER_INCH); /* play, sag, spread: no fraction is fine enough */

  guint64 parts = (guint64)floor (inches * SIXTY_FOURTHS + 0.5);
  guint64 whole = parts / SIXTY_FOURTHS, rest = parts % SIXTY_FOURTHS;
  guint64 divisor = common_divisor (SIXTY_FOURTHS, rest);
  const char *minus = value_mm < 0 && parts > 0 ? "-" : "";

  if (rest == 0)
    return g_strdup_printf ("%s%" G_GUINT64_FORMAT, minus, whole);
  if (whole == 0)
    return g_strdup_printf ("%s%" G_GUINT64_FORMAT "/%" G_GUINT64_FORMAT, minus, rest / divisor,
                            SIXTY_FOURTHS / divisor);
  return g_strdup_printf ("%s%" G_GUINT64_FORMAT " %" G_GUINT64_FORMAT "/%" G_GUINT64_FORMAT, minus,
                          whole, rest / divisor, SIXTY_FOURTHS / divisor);
}

char *
fw_units_format_bare (double value, FwUnit unit, FwLengths lengths, int digits)
{
  if (!isfinite (value))
    return g_strdup ("—");
  if (unit == FW_UNIT_MM && lengths == FW_LENGTHS_INCH)
    return format_inches (value);

  int places = CLAMP (digits < 0 ? usual_digits (value, unit) : digits, 0, 12);
  if (fabs (value) < 0.5 * pow (10, -places))
    value = 0; /* never "-0.0" */
  return g_strdup_printf ("%.*f", places, value);
}

char *
fw_units_format (double value, FwUnit unit, FwLengths lengths, int digits)
{
  char *number = fw_units_format_bare (value, unit, lengths, digits);
  const char *symbol = fw_units_symbol (unit, lengths);
  char *text = !isfinite (value) || !*symbol ? g_strdup (number)
               : unit == FW_UNIT_DEG
                   ? g_strdup_printf (C_("number, degree sign", "%s%s"), number, symbol)
                   : g_strdup_printf (C_("number, unit", "%s %s"), number, symbol);
  g_free (number);
  return text;
}
