/* Wishes in whole sentences' parts: one translated line each, nothing glued but lists. */
#include <math.h>

#include <glib/gi18n.h>

#include "aim/wish.h"
#include "doc/words.h"

/* The number's own unit, told by its key path alone: angles are the few that are named so. */
static FwUnit
number_unit (const char *path)
{
  static const char *const angles[] = { ".phase", ".sweep", ".cant", ".near", "body.tilt", ".stops.0", ".stops.1",
                                        ".lean_limit", ".bend_limit" };
  for (gsize i = 0; i < G_N_ELEMENTS (angles); i++)
    if (g_str_has_suffix (path, angles[i]))
      return FW_UNIT_DEG;
  if (g_str_has_suffix (path, ".mass"))
    return FW_UNIT_G;
  return g_str_has_suffix (path, "turns_per_minute") ? FW_UNIT_TURNS_PER_MINUTE : FW_UNIT_MM;
}

static FwUnit
unit_of (const FwWish *wish)
{
  if (wish->kind == FW_WISH_NUMBER || wish->kind == FW_WISH_SAME)
    return number_unit (wish->numbers[0]);
  return fw_wish_unit (wish);
}

char *
fw_wish_value_words (const FwWish *wish, double value, FwLengths lengths)
{
  if (isnan (value))
    return g_strdup (_ ("cannot be told"));
  if (wish->kind == FW_WISH_WITHOUT)
    {
      int n = (int)lround (value);
      return n == 0 ? g_strdup (C_ ("spots of trouble", "none")) : g_strdup_printf (ngettext ("%d spot", "%d spots", (gulong)n), n); /* of trouble */
    }
  if (wish->kind == FW_WISH_SAME)
    {
      g_autofree char *apart = fw_units_format (value, unit_of (wish), lengths, 1);
      return g_strdup_printf (_ ("%s apart"), apart);
    }
  if (wish->kind == FW_WISH_TORQUE)
    return g_strdup_printf (_ ("%.3g N m"), value);
  return fw_units_format (value, unit_of (wish), lengths, fabs (value) >= 0.1 || value == 0 ? 1 : 2); /* 0.04° off is not 0.0° */
}

/* "from 20 to 45", "at least 20", ... */
static char *
span_words (const FwWish *wish, FwLengths lengths)
{
  g_autofree char *least = isinf (wish->least) ? NULL : fw_wish_value_words (wish, wish->least, lengths);
  g_autofree char *most = isinf (wish->most) ? NULL : fw_wish_value_words (wish, wish->most, lengths);
  if (wish->n_among > 0)
    {
      g_autoptr (GString) list = g_string_new (NULL);
      for (int i = 0; i < wish->n_among; i++)
        {
          g_autofree char *one = fw_wish_value_words (wish, wish->among[i], lengths);
          g_string_append_printf (list, "%s%s", i > 0 ? ", " : "", one);
        }
      return g_strdup_printf (_ ("one of %s"), list->str);
    }
  if (least != NULL && most != NULL)
    /* Translators: two values of a wish, such as "from 20° to 45°" after "top of inner". */
    return wish->least == wish->most ? g_strdup (least) : g_strdup_printf (_ ("from %s to %s"), least, most);
  return least != NULL ? g_strdup_printf (_ ("at least %s"), least) : g_strdup_printf (_ ("at most %s"), most != NULL ? most : "");
}

static char *
without_words (const FwWish *wish)
{
  g_autoptr (GString) list = g_string_new (NULL);
  for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
    if (wish->kinds & (1u << k))
      g_string_append_printf (list, "%s%s", list->len > 0 ? ", " : "", fw_words_trouble_short ((FwTroubleKind)k));
  return g_strdup_printf (_ ("none of these: %s"), list->str);
}

/* A wish is short enough for a list: what, then how much of it. */
static char *
kind_words (const FwWish *w, const char *value)
{
  switch (w->kind)
    {
    case FW_WISH_TOP:
      /* Translators: a panel, and where it should be: "top of inner 30°", "top of inner from 20° to 45°", "... at least 20°". */
      return g_strdup_printf (_ ("top of %s %s"), w->part, value);
    case FW_WISH_BOTTOM:
      /* Translators: a panel, and where it should be, as for its top. */
      return g_strdup_printf (_ ("bottom of %s %s"), w->part, value);
    case FW_WISH_STROKE:
      /* Translators: a panel, and through how much it should swing. */
      return g_strdup_printf (_ ("stroke of %s %s"), w->part, value);
    case FW_WISH_ANGLE:
      return g_strdup_printf (_ ("%s at crank angle %g° %s"), w->part, w->crank_deg, value);
    case FW_WISH_AFTER:
      /* Translators: a panel, another one, and how much later: "outer at its top after inner by 30° of the crank". */
      return g_strdup_printf (_ ("%s at its top after %s by %s of the crank"), w->part, w->other, value);
    case FW_WISH_TRAVEL:
      return g_strdup_printf (_ ("travel of the body %s"), value);
    case FW_WISH_TILT:
      return g_strdup_printf (_ ("tilt of the body over a range of %s"), value);
    case FW_WISH_PUSH:
      /* Translators: a rod, and what is wished: "least push angle of inrod at least 40°". */
      return w->part != NULL ? g_strdup_printf (_ ("least push angle of %s %s"), w->part, value)
                             : g_strdup_printf (_ ("least push angle %s"), value);
    case FW_WISH_TORQUE:
      return g_strdup_printf (_ ("largest crank torque %s"), value);
    default:
      /* Translators: the path of a number, and what it should be: "throws.in.radius at least 20 mm". */
      return g_strdup_printf (C_ ("wish for a number", "%s %s"), w->numbers[0], value);
    }
}

char *
fw_wish_words (const FwWish *wish, FwLengths lengths)
{
  if (wish->kind == FW_WISH_WITHOUT)
    return without_words (wish);
  if (wish->kind == FW_WISH_SAME)
    {
      g_autofree char *names = g_strjoinv (", ", wish->numbers);
      return g_strdup_printf (_ ("alike: %s"), names);
    }
  g_autofree char *value = span_words (wish, lengths);
  return kind_words (wish, value);
}
