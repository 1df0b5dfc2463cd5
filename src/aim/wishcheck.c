/* What can be said against wishes before any search. */
#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "aim/wish.h"
#include "doc/fill.h"

typedef struct
{
  const FwWishes *wishes;
  const FwDesign *design;
  FwMechanism *mech;
  GError **error;
} Check;

static gboolean fail (const Check *c, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
fail (const Check *c, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *said = g_strdup_vprintf (format, args);
  g_autofree char *line = fw_one_line (said);
  va_end (args);
  g_set_error_literal (c->error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, line);
  return FALSE;
}

static gboolean
fail_wish (const Check *c, const FwWish *wish, const char *why)
{
  g_autofree char *words = fw_wish_words (wish, FW_LENGTHS_MM);
  return fail (c, _ ("wish “%s”: %s"), words, why);
}

/* ---- One by one ---- */

static gboolean
check_parts (const Check *c, const FwWish *w)
{
  gboolean is_rod = w->kind == FW_WISH_PUSH;
  const char *names[2] = { w->part, w->other };
  for (int i = 0; i < 2; i++)
    {
      if (names[i] == NULL)
        continue;
      int found = is_rod ? fw_wish_link (c->mech, names[i]) : fw_wish_member (c->mech, names[i]);
      if (found >= 0)
        continue;
      g_autofree char *why = is_rod ? g_strdup_printf (_ ("the design has no rod “%s”"), names[i])
                                    : g_strdup_printf (_ ("the design has no panel “%s”"), names[i]);
      return fail_wish (c, w, why);
    }
  if (w->kind == FW_WISH_AFTER && g_strcmp0 (w->part, w->other) == 0)
    return fail_wish (c, w, _ ("a panel cannot follow itself"));
  if ((w->kind == FW_WISH_TRAVEL || w->kind == FW_WISH_TILT) && c->design->body.ride == FW_RIDE_FIXED)
    return fail_wish (c, w, _ ("the body is fixed"));
  for (char **number = w->numbers; number != NULL && *number != NULL; number++)
    {
      FwParam param;
      if (fw_param_from_path (c->design, *number, &param))
        continue;
      g_autofree char *why = g_strdup_printf (_ ("the design has no number “%s”"), *number);
      return fail_wish (c, w, why);
    }
  return TRUE;
}

/* What nothing could ever reach. */
static gboolean
check_possible (const Check *c, const FwWish *w)
{
  if (isnan (w->least) || isnan (w->most) || !(w->weight > 0) || isnan (w->crank_deg))
    return fail_wish (c, w, _ ("finite numbers were expected"));
  if (w->least > w->most)
    return fail_wish (c, w, _ ("the lower limit is above the upper one"));
  switch (w->kind)
    {
    case FW_WISH_TOP:
    case FW_WISH_BOTTOM:
    case FW_WISH_ANGLE:
    case FW_WISH_AFTER:
      if (w->least > 180 || w->most < -180)
        return fail_wish (c, w, _ ("an angle from -180 to 180 degrees was expected"));
      return TRUE;
    case FW_WISH_PUSH:
      if (w->least > 90 || w->most < 0)
        return fail_wish (c, w, _ ("a push angle lies between 0 and 90 degrees"));
      return TRUE;
    case FW_WISH_STROKE:
    case FW_WISH_TRAVEL:
    case FW_WISH_TILT:
    case FW_WISH_TORQUE:
      if (w->most < 0)
        return fail_wish (c, w, _ ("it is never below 0"));
      if (w->kind == FW_WISH_STROKE && w->least > 360)
        return fail_wish (c, w, _ ("a stroke of at most 360 degrees was expected"));
      return TRUE;
    default:
      return TRUE;
    }
}

static const FwFree *
free_item (const FwWishes *wishes, const char *number)
{
  for (int i = 0; i < wishes->n_free; i++)
    if (strcmp (wishes->free[i].number, number) == 0)
      return &wishes->free[i];
  return NULL;
}

static gboolean
fits (const FwWish *w, double value)
{
  for (int i = 0; i < w->n_among; i++)
    if (w->among[i] == value)
      return TRUE;
  return w->n_among == 0 && value >= w->least && value <= w->most;
}

/* A wish for a number that is not free, or not free that far. */
static gboolean
check_number (const Check *c, const FwWish *w)
{
  FwParam param;
  if (w->kind != FW_WISH_NUMBER || !fw_param_from_path (c->design, w->numbers[0], &param))
    return TRUE;
  const FwFree *item = free_item (c->wishes, w->numbers[0]);
  if (item == NULL)
    return fits (w, fw_param_get (c->design, param)) ? TRUE : fail_wish (c, w, _ ("this number is not free, and not so now"));
  double least, most;
  fw_param_limits (c->design, param, &least, &most);
  least = isnan (item->least) ? least : item->least;
  most = isnan (item->most) ? most : item->most;
  gboolean any = w->n_among == 0 && w->least <= most && w->most >= least;
  for (int i = 0; i < w->n_among; i++)
    any = any || (w->among[i] >= least && w->among[i] <= most);
  return any ? TRUE : fail_wish (c, w, _ ("the limits of this free number do not allow it"));
}

static gboolean
check_same (const Check *c, const FwWish *w)
{
  int n_free = 0;
  for (char **number = w->numbers; w->kind == FW_WISH_SAME && *number != NULL; number++)
    n_free += free_item (c->wishes, *number) != NULL;
  if (w->kind != FW_WISH_SAME || n_free > 0)
    return TRUE;
  return fail_wish (c, w, _ ("none of these numbers is free"));
}

/* ---- One against another ---- */

static const FwWish *
of_panel (const FwWishes *wishes, FwWishKind kind, const char *part)
{
  for (int i = 0; i < wishes->n_list; i++)
    if (wishes->list[i].kind == kind && strcmp (wishes->list[i].part, part) == 0)
      return &wishes->list[i];
  return NULL;
}

static gboolean
contradict (const Check *c, const FwWish *a, const FwWish *b)
{
  g_autofree char *one = fw_wish_words (a, FW_LENGTHS_MM);
  g_autofree char *other = fw_wish_words (b, FW_LENGTHS_MM);
  return fail (c, _ ("these wishes contradict each other: %s, and %s"), one, other);
}

static gboolean
overlap (const FwWish *a, const FwWish *b)
{
  for (int i = 0; i < a->n_among; i++)
    if (fits (b, a->among[i]))
      return TRUE;
  if (a->n_among > 0)
    return FALSE;
  if (b->n_among > 0)
    return overlap (b, a);
  return a->least <= b->most && b->least <= a->most;
}

static gboolean
check_panel (const Check *c, const char *part)
{
  const FwWish *top = of_panel (c->wishes, FW_WISH_TOP, part);
  const FwWish *bottom = of_panel (c->wishes, FW_WISH_BOTTOM, part);
  const FwWish *stroke = of_panel (c->wishes, FW_WISH_STROKE, part);
  if (top != NULL && bottom != NULL && top->most < bottom->least)
    return contradict (c, top, bottom);
  if (top != NULL && bottom != NULL && stroke != NULL
      && (stroke->least > top->most - bottom->least + 1e-9 || stroke->most < top->least - bottom->most - 1e-9))
    return contradict (c, stroke, top);
  for (int i = 0; i < c->wishes->n_list; i++)
    {
      const FwWish *w = &c->wishes->list[i];
      if (w->kind != FW_WISH_ANGLE || strcmp (w->part, part) != 0)
        continue;
      if (top != NULL && w->least > top->most)
        return contradict (c, w, top);
      if (bottom != NULL && w->most < bottom->least)
        return contradict (c, w, bottom);
    }
  return TRUE;
}

static gboolean
check_pairs (const Check *c)
{
  const FwWishes *w = c->wishes;
  for (int i = 0; i < w->n_list; i++)
    {
      for (int j = 0; j < i; j++)
        if (fw_wish_same_subject (&w->list[i], &w->list[j]) && !overlap (&w->list[i], &w->list[j]))
          return contradict (c, &w->list[j], &w->list[i]);
      if (w->list[i].kind <= FW_WISH_ANGLE && !check_panel (c, w->list[i].part))
        return FALSE;
    }
  return TRUE;
}

/* ---- Free numbers ---- */

static gboolean
check_free (const Check *c, int i)
{
  const FwFree *item = &c->wishes->free[i];
  FwParam param;
  if (!fw_param_from_path (c->design, item->number, &param))
    return fail (c, _ ("free number “%s”: the design has no such number"), item->number);
  for (int j = 0; j < i; j++)
    if (strcmp (c->wishes->free[j].number, item->number) == 0)
      return fail (c, _ ("free number “%s”: it is given twice"), item->number);
  double least, most;
  fw_param_limits (c->design, param, &least, &most);
  double low = item->n_among > 0 ? item->among[0] : item->least, high = item->n_among > 0 ? low : item->most;
  for (int k = 1; k < item->n_among; k++)
    {
      low = fmin (low, item->among[k]);
      high = fmax (high, item->among[k]);
    }
  if (low < least || high > most || low > most || high < least)
    return fail (c, _ ("free number “%s”: its limits are outside what the number may be"), item->number);
  if (low > high || (item->n_among == 0 && low == high))
    return fail (c, _ ("free number “%s”: a lower limit below the upper one was expected"), item->number);
  return TRUE;
}

static gboolean
check_all (const Check *c)
{
  if (c->wishes->n_list == 0)
    return fail (c, _ ("no wish was given"));
  if (c->wishes->n_free == 0)
    return fail (c, _ ("no number is free: at least one that may change was expected"));
  for (int i = 0; i < c->wishes->n_free; i++)
    if (!check_free (c, i))
      return FALSE;
  for (int i = 0; i < c->wishes->n_list; i++)
    {
      const FwWish *w = &c->wishes->list[i];
      if (!check_parts (c, w) || !check_possible (c, w) || !check_number (c, w) || !check_same (c, w))
        return FALSE;
    }
  return check_pairs (c);
}

gboolean
fw_wishes_check (const FwWishes *wishes, const FwDesign *design, GError **error)
{
  Check c = { .wishes = wishes, .design = design, .error = error };
  if (fw_mechanism_build (design, &c.mech, NULL) != FW_OK)
    return fail (&c, _ ("the design cannot be put together"));
  gboolean good = check_all (&c);
  fw_mechanism_free (c.mech);
  return good;
}
