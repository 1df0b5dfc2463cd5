/* What a change did to the motion, in plain sentences: both designs solved and laid side by side. */
#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/words.h"
#include "shop/logbook.h"

#define DEGREES (180 / G_PI)

/* ---- Names ---- */

const char *
fw_log_member_name (const FwMechanism *m, int member)
{
  const FwMember *it = &m->members[member];
  return it->image >= 0 || it->mirror_of >= 0 ? m->design->panels[it->panel].name : it->name;
}

const char *
fw_log_link_name (const FwMechanism *m, int link)
{
  const FwLink *it = &m->links[link];
  return it->image >= 0 || it->mirror_of >= 0 ? m->design->rods[it->rod].name : it->name;
}

static int
find_member (const FwMechanism *m, const char *name)
{
  for (int i = 0; i < m->n_members; i++)
    if (m->members[i].mirror_of < 0 && strcmp (fw_log_member_name (m, i), name) == 0)
      return i;
  return -1;
}

/* ---- Figures ---- */

typedef struct
{
  double low, high;
} Range;

/* To a tenth, which is what is said; FALSE if it is never known. */
static gboolean
range_of (const FwLogState *s, FwQuantityKind kind, int index, double factor, Range *range)
{
  FwExtreme least, greatest;
  if (!fw_turn_extremes (s->turn, s->mechanism, (FwQuantity){ kind, index }, &least, &greatest))
    return FALSE;
  *range = (Range){ round (least.value * factor * 10) / 10, round (greatest.value * factor * 10) / 10 };
  return TRUE;
}

static char *
figure (double value, double other, FwUnit unit, FwLengths lengths)
{
  return fw_log_figure (value, other, unit, lengths);
}

static void
set_values (FwLogLine *line, const char *key, double from, double to, FwUnit unit)
{
  line->key = g_strdup (key);
  line->has_values = TRUE;
  line->from = from;
  line->to = to;
  line->unit = unit;
}

/* ---- Panels ---- */

static void
say_swing (GPtrArray *lines, const FwMechanism *m, int member, Range was, Range is)
{
  const char *name = fw_log_member_name (m, member);
  gboolean folds = m->members[member].parent != FW_ON_BODY;
  double old_through = was.high - was.low, new_through = is.high - is.low;
  g_autofree char *a = figure (old_through, new_through, FW_UNIT_DEG, FW_LENGTHS_MM),
                  *b = figure (new_through, old_through, FW_UNIT_DEG, FW_LENGTHS_MM),
                  *c = figure (was.low, is.low, FW_UNIT_DEG, FW_LENGTHS_MM),
                  *d = figure (is.low, was.low, FW_UNIT_DEG, FW_LENGTHS_MM),
                  *e = figure (was.high, is.high, FW_UNIT_DEG, FW_LENGTHS_MM),
                  *f = figure (is.high, was.high, FW_UNIT_DEG, FW_LENGTHS_MM);
  g_autofree char *key = g_strconcat (name, folds ? ".fold" : ".swing", NULL);
  /* Translators: a panel; how far it swings before and now; its lowest and highest angle. */
  char *text = g_strdup_printf (
      folds ? _ ("%s folds through %s, before %s: lowest from %s to %s, highest from %s to %s.")
            : _ ("%s swings through %s, before %s: lowest from %s to %s, highest from %s to %s."),
      name, b, a, c, d, e, f);
  set_values (fw_log_lines_add (lines, FW_LOG_MOTION, text), key, old_through, new_through,
              FW_UNIT_DEG);
}

static void
say_new_swing (GPtrArray *lines, const FwMechanism *m, int member, Range is)
{
  g_autofree char *low = figure (is.low, NAN, FW_UNIT_DEG, FW_LENGTHS_MM),
                  *high = figure (is.high, NAN, FW_UNIT_DEG, FW_LENGTHS_MM);
  fw_log_lines_add (lines, FW_LOG_MOTION,
                    g_strdup_printf (_ ("%s moves between %s and %s."),
                                     fw_log_member_name (m, member), low, high));
}

static void
panels (GPtrArray *lines, const FwLogState *a, const FwLogState *b)
{
  for (int i = 0; i < b->mechanism->n_members; i++)
    {
      Range was, is;
      if (b->mechanism->members[i].mirror_of >= 0
          || !range_of (b, FW_Q_ANGLE, i, DEGREES, &is))
        continue;
      int old = find_member (a->mechanism, fw_log_member_name (b->mechanism, i));
      if (old < 0 || !range_of (a, FW_Q_ANGLE, old, DEGREES, &was))
        say_new_swing (lines, b->mechanism, i, is);
      else if (fabs (was.low - is.low) > 0.05 || fabs (was.high - is.high) > 0.05)
        say_swing (lines, b->mechanism, i, was, is);
    }
}

/* ---- Body ---- */

/* "The body travels up and down by 12 mm, before by 10 mm."; g_free. */
static char *
body_words (FwQuantityKind kind, const char *is, const char *was)
{
  if (kind == FW_Q_BODY_Z)
    return g_strdup_printf (_ ("The body travels up and down by %s, before by %s."), is, was);
  if (kind == FW_Q_BODY_H)
    return g_strdup_printf (_ ("The body shifts level by %s, before by %s."), is, was);
  return g_strdup_printf (_ ("The body tilts through %s, before through %s."), is, was);
}

static void
body (GPtrArray *lines, const FwLogState *a, const FwLogState *b, FwLengths lengths)
{
  static const struct
  {
    FwQuantityKind kind;
    FwUnit unit;
    const char *key;
  } said[] = {
    { FW_Q_BODY_Z, FW_UNIT_MM, "body.travel" },
    { FW_Q_BODY_H, FW_UNIT_MM, "body.shift" },
    { FW_Q_BODY_TILT, FW_UNIT_DEG, "body.tilt" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (said); i++)
    {
      Range was, is;
      double factor = said[i].unit == FW_UNIT_DEG ? DEGREES : 1;
      if (!range_of (a, said[i].kind, 0, factor, &was) || !range_of (b, said[i].kind, 0, factor, &is))
        continue;
      double from = was.high - was.low, to = is.high - is.low;
      if (fabs (from - to) < 0.05)
        continue;
      g_autofree char *old = figure (from, to, said[i].unit, lengths),
                      *new = figure (to, from, said[i].unit, lengths);
      FwLogLine *line = fw_log_lines_add (lines, FW_LOG_MOTION, body_words (said[i].kind, new, old));
      set_values (line, said[i].key, from, to, said[i].unit);
    }
}

/* ---- Push and torque ---- */

/* The rod that pushes weakest, degrees to a tenth; NULL if there is none. */
static const char *
weakest (const FwLogState *s, double *push_deg)
{
  const char *name = NULL;
  for (int i = 0; i < s->mechanism->n_links; i++)
    {
      Range range;
      if (s->mechanism->links[i].mirror_of >= 0 || !range_of (s, FW_Q_PUSH, i, DEGREES, &range)
          || (name != NULL && range.low >= *push_deg))
        continue;
      name = fw_log_link_name (s->mechanism, i);
      *push_deg = range.low;
    }
  return name;
}

static void
push (GPtrArray *lines, const FwLogState *a, const FwLogState *b)
{
  double from = 0, to = 0;
  const char *old = weakest (a, &from), *new = weakest (b, &to);
  if (old == NULL || new == NULL || fabs (from - to) < 0.05)
    return;
  g_autofree char *was = figure (from, to, FW_UNIT_DEG, FW_LENGTHS_MM),
                  *is = figure (to, from, FW_UNIT_DEG, FW_LENGTHS_MM);
  /* Translators: two angles, each with the rod that pushes at it. */
  char *text = g_strdup_printf (_ ("The weakest push is %s, of %s; before %s, of %s."), is, new, was, old);
  set_values (fw_log_lines_add (lines, FW_LOG_MOTION, text), "push.weakest", from, to, FW_UNIT_DEG);
}

static void
torque (GPtrArray *lines, const FwLogState *a, const FwLogState *b)
{
  double from = a->torque_Nm, to = b->torque_Nm, step = fmin (from, to) < 0.1 ? 1e-3 : 1e-2;
  if (!isfinite (from) || !isfinite (to) || fabs (round (from / step) - round (to / step)) < 0.5)
    return;
  from = round (from / step) * step;
  to = round (to / step) * step;
  int digits = step < 5e-3 ? 3 : 2;
  g_autofree char *was = fw_units_format (from, FW_UNIT_NM, FW_LENGTHS_MM, digits),
                  *is = fw_units_format (to, FW_UNIT_NM, FW_LENGTHS_MM, digits);
  char *text = g_strdup_printf (_ ("The peak torque at the crank is %s, before %s."), is, was);
  set_values (fw_log_lines_add (lines, FW_LOG_FORCE, text), "crank.torque", from, to, FW_UNIT_NM);
}

/* ---- Trouble ---- */

/* A part of either side by one name, so that twins say a thing once. */
static char *
both_sides (const char *name)
{
  for (int i = 0; i < 2; i++)
    if (g_str_has_suffix (name, i == 0 ? ".right" : ".left"))
      return g_strndup (name, strlen (name) - strlen (i == 0 ? ".right" : ".left"));
  return g_strdup (name);
}

static char *
trouble_id (const FwMechanism *m, const FwTrouble *t)
{
  g_autofree char *part = both_sides (fw_part_name (m, t->part));
  g_autofree char *other = t->has_other ? both_sides (fw_part_name (m, t->other)) : g_strdup ("");
  return g_strdup_printf ("%s|%s|%s|%d", fw_trouble_name (t->kind), part, other, t->second);
}

/* Trouble of `a` that `b` has not; each once. */
static GPtrArray *
only_in (const FwLogState *a, const FwLogState *b)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GPtrArray *only = g_ptr_array_new ();
  for (int i = 0; b != NULL && i < b->troubles.n; i++)
    g_hash_table_add (seen, trouble_id (b->mechanism, &b->troubles.items[i]));
  for (int i = 0; i < a->troubles.n; i++)
    if (g_hash_table_add (seen, trouble_id (a->mechanism, &a->troubles.items[i])))
      g_ptr_array_add (only, &a->troubles.items[i]);
  return only;
}

static void
trouble (GPtrArray *lines, const FwLogState *a, const FwLogState *b, FwLengths lengths)
{
  g_autoptr (GPtrArray) gone = only_in (a, b), new = only_in (b, a);
  if (a->goes_round != b->goes_round)
    fw_log_lines_add (lines, FW_LOG_MOTION,
                      g_strdup (b->goes_round ? _ ("It goes all the way round now; before, it did not.")
                                              : _ ("It no longer goes all the way round.")));
  for (guint i = 0; i < gone->len; i++)
    {
      const FwTrouble *t = g_ptr_array_index (gone, i);
      g_autofree char *part = both_sides (fw_words_part (a->mechanism, t->part));
      /* Translators: a kind of trouble in two or three words, and the part. */
      fw_log_lines_add (lines, FW_LOG_GONE,
                        g_strdup_printf (_ ("Trouble gone: %s (%s)."), fw_words_trouble_short (t->kind), part));
    }
  for (guint i = 0; i < new->len; i++)
    {
      const FwTrouble *t = g_ptr_array_index (new, i);
      g_autofree char *words = fw_words_trouble (b->mechanism, t, lengths);
      fw_log_lines_add (lines, FW_LOG_NEW, g_strdup_printf (_ ("New trouble: %s"), words));
    }
}

GPtrArray *
fw_log_troubles (const FwLogState *state, FwLengths lengths)
{
  g_autoptr (GPtrArray) all = only_in (state, NULL);
  GPtrArray *lines = fw_log_lines_new ();
  for (guint i = 0; i < all->len; i++)
    fw_log_lines_add (lines, FW_LOG_TROUBLE,
                      fw_words_trouble (state->mechanism, g_ptr_array_index (all, i), lengths));
  if (state->troubles.full)
    fw_log_lines_add (lines, FW_LOG_TROUBLE, g_strdup (_ ("There is more trouble than this list holds.")));
  if (lines->len == 0)
    fw_log_lines_add (lines, FW_LOG_SAME, g_strdup (_ ("Goes round free of trouble.")));
  return lines;
}

GPtrArray *
fw_log_effects (const FwLogState *before, const FwLogState *after, FwLengths lengths)
{
  GPtrArray *lines = fw_log_lines_new ();
  panels (lines, before, after);
  body (lines, before, after, lengths);
  push (lines, before, after);
  torque (lines, before, after);
  if (lines->len == 0)
    fw_log_lines_add (lines, FW_LOG_SAME, g_strdup (_ ("It moves as it did.")));
  trouble (lines, before, after, lengths);
  return lines;
}
