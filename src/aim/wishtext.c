/* Wishes and free numbers as they are typed. */
#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "aim/wish.h"
#include "doc/fill.h"

#define LARGEST 1e6 /* the file format's bound */

static gboolean
fail (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
fail (GError **error, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *said = g_strdup_vprintf (format, args);
  g_autofree char *line = fw_one_line (said);
  va_end (args);
  g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, line);
  return FALSE;
}

/* ---- Numbers by name ---- */

/* The key path without the kind of part: "crank.throws.in.radius" -> "in.radius". */
static const char *
short_path (const char *path)
{
  static const char *const prefixes[] = { "crank.throws.", "panels.", "rods." };
  for (gsize i = 0; i < G_N_ELEMENTS (prefixes); i++)
    if (g_str_has_prefix (path, prefixes[i]))
      return path + strlen (prefixes[i]);
  return path;
}

/* "inrod.to.at.0" is also "inrod.at.0". */
static gboolean
is_short_for (const char *name, const char *path)
{
  const char *brief = short_path (path);
  if (strcmp (name, brief) == 0)
    return TRUE;
  const char *to = g_strrstr (brief, ".to.at.");
  if (to == NULL)
    return FALSE;
  g_autofree char *without = g_strdup_printf ("%.*s%s", (int)(to - brief), brief, to + strlen (".to"));
  return strcmp (name, without) == 0;
}

gboolean
fw_number_from_name (const FwDesign *design, const char *name, FwParam *param, GError **error)
{
  if (fw_param_from_path (design, name, param))
    return TRUE;
  int n = fw_design_params (design, NULL, 0), found = 0;
  g_autofree FwParam *list = g_new (FwParam, n);
  g_autofree char *first = NULL;
  fw_design_params (design, list, n);
  for (int i = 0; i < n; i++)
    {
      g_autofree char *path = fw_param_path (design, list[i]);
      if (!is_short_for (name, path))
        continue;
      if (found++ > 0)
        return fail (error, _ ("“%s” may be %s or %s: give the full name"), name, first, path);
      first = g_steal_pointer (&path);
      *param = list[i];
    }
  if (found == 0)
    return fail (error, _ ("“%s”: the design has no such number"), name);
  return TRUE;
}

static gboolean
has_panel (const FwDesign *design, const char *name)
{
  for (int i = 0; i < design->n_panels; i++)
    {
      const char *own = design->panels[i].name;
      if (strcmp (own, name) == 0)
        return TRUE;
      gsize length = strlen (own);
      if (design->panels[i].side == FW_SIDE_BOTH && strncmp (own, name, length) == 0
          && (strcmp (name + length, ".right") == 0 || strcmp (name + length, ".left") == 0))
        return TRUE;
    }
  return FALSE;
}

static gboolean
has_rod (const FwDesign *design, const char *name)
{
  for (int i = 0; i < design->n_rods; i++)
    {
      const char *own = design->rods[i].name;
      gsize length = strlen (own);
      if (strcmp (own, name) == 0)
        return TRUE;
      if (design->rods[i].side == FW_SIDE_BOTH && strncmp (own, name, length) == 0
          && (strcmp (name + length, ".right") == 0 || strcmp (name + length, ".left") == 0))
        return TRUE;
    }
  return FALSE;
}

/* ---- Values ---- */

static gboolean
parse_number (const char *text, FwUnit unit, double *out, GError **error)
{
  g_autofree char *stripped = g_strstrip (g_strdup (text));
  char *end = NULL;
  double value = g_ascii_strtod (stripped, &end);
  if (stripped[0] == '\0' || (*end != '\0' && !fw_units_parse (stripped, unit, FW_LENGTHS_MM, &value, NULL)))
    return fail (error, _ ("a number was expected, “%s” was found"), text);
  if (!isfinite (value) || fabs (value) >= LARGEST)
    return fail (error, _ ("a finite number below 1000000 in size was expected, “%s” was found"), text);
  *out = value;
  return TRUE;
}

static gboolean
parse_list (const char *text, FwUnit unit, double **out, int *n, GError **error)
{
  g_auto (GStrv) items = g_strsplit (text, ",", -1);
  int count = (int)g_strv_length (items);
  g_autofree double *values = g_new (double, count);
  for (int i = 0; i < count; i++)
    if (!parse_number (items[i], unit, &values[i], error))
      return FALSE;
  *out = g_steal_pointer (&values);
  *n = count;
  return TRUE;
}

/* "LO..HI", "LO..", "..HI" */
static gboolean
parse_range (const char *text, FwUnit unit, double *least, double *most, GError **error)
{
  const char *dots = strstr (text, "..");
  g_autofree char *low = g_strndup (text, (gsize)(dots - text));
  const char *high = dots + 2;
  double a = -INFINITY, b = INFINITY;
  if (low[0] == '\0' && high[0] == '\0')
    return fail (error, _ ("“%s”: a lower or an upper limit was expected"), text);
  if ((low[0] != '\0' && !parse_number (low, unit, &a, error)) || (high[0] != '\0' && !parse_number (high, unit, &b, error)))
    return FALSE;
  if (a > b)
    return fail (error, _ ("“%s”: the lower limit is above the upper one"), text);
  *least = a;
  *most = b;
  return TRUE;
}

static gboolean
parse_value (FwWish *wish, const char *text, FwUnit unit, GError **error)
{
  wish->least = -INFINITY;
  wish->most = INFINITY;
  if (strstr (text, "..") != NULL)
    return parse_range (text, unit, &wish->least, &wish->most, error);
  if (wish->kind == FW_WISH_NUMBER && strchr (text, ',') != NULL)
    return parse_list (text, unit, &wish->among, &wish->n_among, error);
  double value = 0;
  if (!parse_number (text, unit, &value, error))
    return FALSE;
  if (wish->kind != FW_WISH_TORQUE)
    wish->least = value;
  if (wish->kind != FW_WISH_PUSH)
    wish->most = value;
  return TRUE;
}

/* ---- What a wish speaks of ---- */

static gboolean
parse_without (FwWish *wish, const char *text, GError **error)
{
  g_auto (GStrv) items = g_strsplit (text, ",", -1);
  wish->kind = FW_WISH_WITHOUT;
  wish->least = -INFINITY;
  wish->most = 0;
  for (char **item = items; *item != NULL; item++)
    {
      guint before = wish->kinds;
      for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
        if (strcmp (*item, fw_trouble_name ((FwTroubleKind)k)) == 0 || (strcmp (*item, "any") == 0 && k < FW_LOAD_REVERSAL))
          wish->kinds |= 1u << k;
      if (wish->kinds == before && (wish->kinds == 0 || strcmp (*item, "any") != 0))
        return fail (error, _ ("“%s”: a kind of trouble was expected, as check names it, or any"), *item);
    }
  if (wish->kinds == 0)
    return fail (error, _ ("a kind of trouble was expected, as check names it, or any"));
  return TRUE;
}

static gboolean
parse_same (const FwDesign *design, FwWish *wish, const char *text, GError **error)
{
  g_auto (GStrv) items = g_strsplit (text, ",", -1);
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  FwUnit unit = FW_UNIT_NONE;
  for (char **item = items; *item != NULL; item++)
    {
      FwParam param;
      if (!fw_number_from_name (design, *item, &param, error))
        return FALSE;
      if (paths->len > 0 && fw_param_unit (param) != unit)
        return fail (error, _ ("“%s”: numbers of one unit were expected"), text);
      unit = fw_param_unit (param);
      g_ptr_array_add (paths, fw_param_path (design, param));
    }
  if (paths->len < 2)
    return fail (error, _ ("“%s”: two or more numbers were expected"), text);
  g_ptr_array_add (paths, NULL);
  wish->kind = FW_WISH_SAME;
  wish->least = -INFINITY;
  wish->most = 0;
  wish->numbers = (char **)g_ptr_array_steal (paths, NULL);
  return TRUE;
}

/* PART.WORD with a panel before the word. */
static gboolean
subject_panel (const FwDesign *design, FwWish *wish, const char *subject)
{
  static const struct { const char *word; FwWishKind kind; } words[]
      = { { ".top", FW_WISH_TOP }, { ".bottom", FW_WISH_BOTTOM }, { ".stroke", FW_WISH_STROKE } };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_has_suffix (subject, words[i].word))
      {
        g_autofree char *part = g_strndup (subject, strlen (subject) - strlen (words[i].word));
        if (!has_panel (design, part))
          continue;
        wish->kind = words[i].kind;
        wish->part = g_steal_pointer (&part);
        return TRUE;
      }
  for (const char *at = strstr (subject, ".after."); at != NULL; at = strstr (at + 1, ".after."))
    {
      g_autofree char *part = g_strndup (subject, (gsize)(at - subject));
      if (!has_panel (design, part) || !has_panel (design, at + strlen (".after.")))
        continue;
      wish->kind = FW_WISH_AFTER;
      wish->part = g_steal_pointer (&part);
      wish->other = g_strdup (at + strlen (".after."));
      return TRUE;
    }
  return FALSE;
}

/* PANEL@CRANK or PANEL.angle@CRANK */
static gboolean
subject_angle (const FwDesign *design, FwWish *wish, const char *subject)
{
  const char *at = strrchr (subject, '@');
  if (at == NULL)
    return FALSE;
  g_autofree char *part = g_strndup (subject, (gsize)(at - subject));
  if (!has_panel (design, part) && g_str_has_suffix (part, ".angle"))
    part[strlen (part) - strlen (".angle")] = '\0';
  double crank = 0;
  if (!has_panel (design, part) || !parse_number (at + 1, FW_UNIT_DEG, &crank, NULL))
    return FALSE;
  wish->kind = FW_WISH_ANGLE;
  wish->crank_deg = crank;
  wish->part = g_steal_pointer (&part);
  return TRUE;
}

static gboolean
subject_other (const FwDesign *design, FwWish *wish, const char *subject)
{
  gboolean rides = design->body.ride != FW_RIDE_FIXED;
  if (strcmp (subject, "push") == 0)
    wish->kind = FW_WISH_PUSH;
  else if (strcmp (subject, "torque") == 0)
    wish->kind = FW_WISH_TORQUE;
  else if (strcmp (subject, "body.travel") == 0 && rides)
    wish->kind = FW_WISH_TRAVEL;
  else if (strcmp (subject, "body.tilt") == 0 && rides)
    wish->kind = FW_WISH_TILT;
  else
    return FALSE;
  return TRUE;
}

static gboolean
subject_push (const FwDesign *design, FwWish *wish, const char *subject)
{
  if (!g_str_has_suffix (subject, ".push"))
    return FALSE;
  g_autofree char *part = g_strndup (subject, strlen (subject) - strlen (".push"));
  if (!has_rod (design, part))
    return FALSE;
  wish->kind = FW_WISH_PUSH;
  wish->part = g_steal_pointer (&part);
  return TRUE;
}

static gboolean
parse_subject (const FwDesign *design, FwWish *wish, const char *subject, FwUnit *unit, GError **error)
{
  *unit = FW_UNIT_DEG;
  if (subject_panel (design, wish, subject) || subject_angle (design, wish, subject)
      || subject_push (design, wish, subject) || subject_other (design, wish, subject))
    {
      *unit = fw_wish_unit (wish);
      return TRUE;
    }
  FwParam param;
  g_autoptr (GError) why = NULL;
  if (!fw_number_from_name (design, subject, &param, &why))
    {
      if (strstr (why->message, subject) != NULL && strchr (subject, '.') == NULL && strchr (subject, '@') == NULL)
        return fail (error, _ ("“%s”: a wish was expected, such as PANEL.top, PANEL@90, body.travel, push or a number"), subject);
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  wish->kind = FW_WISH_NUMBER;
  wish->numbers = g_new0 (char *, 2);
  wish->numbers[0] = fw_param_path (design, param);
  *unit = fw_param_unit (param);
  return TRUE;
}

/* Takes "*WEIGHT" off the end. */
static gboolean
take_weight (char *text, double *weight, GError **error)
{
  char *star = strrchr (text, '*');
  *weight = 1;
  if (star == NULL)
    return TRUE;
  if (!parse_number (star + 1, FW_UNIT_NONE, weight, error))
    return FALSE;
  if (!(*weight > 0))
    return fail (error, _ ("a weight above 0 was expected, “%s” was found"), star + 1);
  *star = '\0';
  return TRUE;
}

static gboolean
parse_wish (const FwDesign *design, FwWish *wish, const char *subject, char *value, GError **error)
{
  FwUnit unit;
  if (!take_weight (value, &wish->weight, error))
    return FALSE;
  if (strcmp (subject, "without") == 0)
    return parse_without (wish, value, error);
  if (strcmp (subject, "same") == 0)
    return parse_same (design, wish, value, error);
  return parse_subject (design, wish, subject, &unit, error) && parse_value (wish, value, unit, error);
}

gboolean
fw_wish_parse (const FwDesign *design, const char *text, FwWish *out, GError **error)
{
  const char *equals = strrchr (text, '=');
  if (equals == NULL)
    return fail (error, _ ("wish “%s”: WHAT=VALUE was expected, such as inner.top=30"), text);
  g_autofree char *subject = g_strndup (text, (gsize)(equals - text));
  g_autofree char *value = g_strdup (equals + 1);
  FwWishes *room = fw_wishes_new ();
  fw_wishes_add (room, (FwWish) { .weight = 1 });
  GError *why = NULL;
  gboolean good = parse_wish (design, &room->list[0], subject, value, &why);
  if (good)
    {
      *out = room->list[0];
      room->n_list = 0;
    }
  else
    {
      fail (error, _ ("wish “%s”: %s"), text, why->message);
      g_error_free (why);
    }
  fw_wishes_free (room);
  return good;
}

static gboolean
parse_free (const FwDesign *design, FwFree *item, const char *name, const char *value, GError **error)
{
  FwParam param;
  if (!fw_number_from_name (design, name, &param, error))
    return FALSE;
  item->number = fw_param_path (design, param);
  item->least = item->most = NAN;
  if (value == NULL)
    return TRUE;
  FwUnit unit = fw_param_unit (param);
  if (strstr (value, "..") == NULL)
    return parse_list (value, unit, &item->among, &item->n_among, error);
  if (!parse_range (value, unit, &item->least, &item->most, error))
    return FALSE;
  item->least = isinf (item->least) ? NAN : item->least;
  item->most = isinf (item->most) ? NAN : item->most;
  return TRUE;
}

gboolean
fw_free_parse (const FwDesign *design, const char *text, FwFree *out, GError **error)
{
  const char *equals = strrchr (text, '=');
  g_autofree char *name = equals == NULL ? g_strdup (text) : g_strndup (text, (gsize)(equals - text));
  FwFree item = { 0 };
  GError *why = NULL;
  if (parse_free (design, &item, name, equals == NULL ? NULL : equals + 1, &why))
    {
      *out = item;
      return TRUE;
    }
  fail (error, _ ("free number “%s”: %s"), text, why->message);
  g_error_free (why);
  g_free (item.number);
  return FALSE;
}
