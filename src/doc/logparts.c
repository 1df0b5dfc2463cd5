/* Which parts of two designs are the same, and how they are joined differently. */
#include "doc/logchanges.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/json.h"

#define ALIKE 0.7 /* share of equal keys from which a part with another name counts as renamed */

/* ---- Matching ---- */

static const cJSON *
get (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static const char *
name_of (const cJSON *list, int i)
{
  return get (cJSON_GetArrayItem (list, i), "name")->valuestring;
}

/* Share of the keys, name apart, that both have with the same value. */
static double
likeness (const cJSON *a, const cJSON *b)
{
  const cJSON *item;
  int all = 0, same = 0;

  cJSON_ArrayForEach (item, a) if (strcmp (item->string, "name") != 0)
  {
    const cJSON *twin = get (b, item->string);
    all++;
    same += twin && cJSON_Compare (item, twin, TRUE);
  }
  cJSON_ArrayForEach (item, b) all += strcmp (item->string, "name") != 0 && !get (a, item->string);
  return all > 0 ? (double)same / all : 0;
}

static gboolean
is_taken (const int *map, int n, int index)
{
  for (int i = 0; i < n; i++)
    if (map[i] == index) // NOLINT(clang-analyzer-core.UndefinedBinaryOperatorResult): match_names () sets all
      return TRUE;
  return FALSE;
}

static void
match_names (int *map, const cJSON *before, const cJSON *after)
{
  int n = cJSON_GetArraySize (after), m = cJSON_GetArraySize (before);

  for (int i = 0; i < n; i++)
    {
      map[i] = -1;
      for (int k = 0; k < m && map[i] < 0; k++)
        if (strcmp (name_of (before, k), name_of (after, i)) == 0)
          map[i] = k;
    }
}

static void
match_likeness (int *map, const cJSON *before, const cJSON *after)
{
  int n = cJSON_GetArraySize (after), m = cJSON_GetArraySize (before);

  for (int i = 0; i < n; i++)
    {
      double best = ALIKE;
      if (map[i] >= 0) // NOLINT(clang-analyzer-core.UndefinedBinaryOperatorResult): match_names () sets all
        continue;
      for (int k = 0; k < m; k++)
        {
          double like
              = likeness (cJSON_GetArrayItem (before, k), cJSON_GetArrayItem (after, i));
          if (like < best || is_taken (map, n, k))
            continue;
          best = like + 1e-9;
          map[i] = k;
        }
    }
}

typedef struct
{
  const char *added, *removed, *renamed;
} Sentences;

static int *
match (GPtrArray *lines, const cJSON *before, const cJSON *after, const Sentences *say)
{
  int n = cJSON_GetArraySize (after), m = cJSON_GetArraySize (before);
  int *map = g_new (int, (gsize)n + 1);

  match_names (map, before, after);
  match_likeness (map, before, after);
  for (int k = 0; k < m; k++)
    if (!is_taken (map, n, k))
      {
        char **parts = g_strsplit (say->removed, "%s", 2);
        fw_log_lines_add (lines, FW_LOG_REMOVED, g_strjoinv (name_of (before, k), parts));
        g_strfreev (parts);
      }
  for (int i = 0; i < n; i++)
    {
      const char *name = name_of (after, i);
      gboolean is_new = map[i] < 0; // NOLINT(clang-analyzer-core.UndefinedBinaryOperatorResult): as above
      if (!is_new && strcmp (name_of (before, map[i]), name) == 0)
        continue;
      char **parts = g_strsplit (is_new ? say->added : say->renamed, "%s", 3);
      char *text = is_new ? g_strjoinv (name, parts)
                          : g_strconcat (parts[0], name_of (before, map[i]), parts[1], name, parts[2],
                                         NULL);
      fw_log_lines_add (lines, is_new ? FW_LOG_ADDED : FW_LOG_RENAMED, text);
      g_strfreev (parts);
    }
  return map;
}

void
fw_part_map_make (FwPartMap *map, GPtrArray *lines, const cJSON *before_tree,
                  const FwDesign *before, const cJSON *after_tree, const FwDesign *after)
{
  const Sentences throws = { _("Throw %s is new."), _("Throw %s is gone."),
                             _("Throw %s is now called %s.") };
  const Sentences panels = { _("Panel %s is new."), _("Panel %s is gone."),
                             _("Panel %s is now called %s.") };
  const Sentences rods = { _("Rod %s is new."), _("Rod %s is gone."),
                           _("Rod %s is now called %s.") };

  map->throws = match (lines, get (get (before_tree, "crank"), "throws"),
                       get (get (after_tree, "crank"), "throws"), &throws);
  map->panels = match (lines, get (before_tree, "panels"), get (after_tree, "panels"), &panels);
  map->rods = match (lines, get (before_tree, "rods"), get (after_tree, "rods"), &rods);
}

void
fw_part_map_clear (FwPartMap *map)
{
  g_free (map->throws);
  g_free (map->panels);
  g_free (map->rods);
}

/* ---- Joints ---- */

static void
say (GPtrArray *lines, char *text)
{
  fw_log_lines_add (lines, FW_LOG_BUILT, text);
}

static const char *
ride_words (FwRide ride)
{
  switch (ride)
    {
    case FW_RIDE_FIXED:
      return _("The body no longer moves: it is fixed.");
    case FW_RIDE_RAIL:
      return _("The body now slides on a rail.");
    case FW_RIDE_SLEEVE:
      return _("The body's post now slides in a swivelling guide.");
    case FW_RIDE_ROCKER:
      break;
    }
  return _("The body's post is now held by a rocking link.");
}

static void
crank_and_body (GPtrArray *lines, const FwPartMap *map, const FwDesign *a, const FwDesign *b)
{
  if (a->crank.runs != b->crank.runs)
    say (lines, g_strdup (b->crank.runs == FW_RUNS_ACROSS ? _("The crank now runs across.")
                                                          : _("The crank now runs along.")));
  for (int i = 0; i < b->crank.n_throws; i++)
    {
      const FwThrow *t = &b->crank.throws[i];
      if (map->throws[i] >= 0 && a->crank.throws[map->throws[i]].both != t->both)
        say (lines, g_strdup_printf (t->both ? _("Throw %s now has a twin on the other side.")
                                             : _("Throw %s no longer has a twin."),
                                     t->name));
    }
  if (a->body.ride != b->body.ride)
    say (lines, g_strdup (ride_words (b->body.ride)));
  else if (b->body.ride != FW_RIDE_FIXED
           && map->throws[b->body.throw_index] != a->body.throw_index)
    say (lines, g_strdup_printf (_("The body is now carried by throw %s, before by %s."),
                                 b->crank.throws[b->body.throw_index].name,
                                 a->crank.throws[a->body.throw_index].name));
}

static const char *
side_words (FwSide side)
{
  switch (side)
    {
    case FW_SIDE_BOTH:
      return _("%s is now on both sides.");
    case FW_SIDE_RIGHT:
      return _("%s is now on the right only.");
    case FW_SIDE_LEFT:
      return _("%s is now on the left only.");
    case FW_SIDE_MIDDLE:
    default:
      return _("%s is now in the middle.");
    }
}

static void
say_side (GPtrArray *lines, FwSide side, const char *name)
{
  char **parts = g_strsplit (side_words (side), "%s", 2);
  say (lines, g_strjoinv (name, parts));
  g_strfreev (parts);
}

static const char *
carrier (const FwDesign *design, int on)
{
  return on == FW_ON_BODY ? C_("object", "the body") : design->panels[on].name;
}

static void
panel (GPtrArray *lines, const FwPartMap *map, const FwDesign *a, const FwPanel *old,
       const FwDesign *b, const FwPanel *new)
{
  int was = new->on == FW_ON_BODY ? FW_ON_BODY : map->panels[new->on];

  if (old->side != new->side)
    say_side (lines, new->side, new->name);
  if (old->on != was || (was < 0) != (new->on == FW_ON_BODY))
    say (lines, g_strdup_printf (_("%s is now hinged to %s, before to %s."), new->name,
                                 carrier (b, new->on), carrier (a, old->on)));
  if (old->reach != new->reach)
    say (lines, g_strdup_printf (new->reach == FW_REACH_SIDE      ? _("%s now reaches to the side.")
                                 : new->reach == FW_REACH_FORWARD ? _("%s now reaches forward.")
                                                                  : _("%s now reaches back."),
                                 new->name));
  gboolean redrawn = old->n_outline != new->n_outline
                     || (new->n_outline > 0
                         && memcmp (old->outline_mm, new->outline_mm,
                                    (gsize)new->n_outline * sizeof *new->outline_mm)
                                != 0);
  if (redrawn)
    fw_log_lines_add (lines, FW_LOG_LOOK,
                      g_strdup_printf (new->n_outline == 0 ? _("%s no longer has an outline.")
                                                           : _("The outline of %s is cut anew."),
                                       new->name));
}

static const char *
anchor (const FwDesign *design, const FwAnchor *from)
{
  switch (from->kind)
    {
    case FW_FROM_THROW:
      return design->crank.throws[from->index].name;
    case FW_FROM_BASE:
      return C_("object", "the base");
    case FW_FROM_BODY:
      return C_("object", "the body");
    case FW_FROM_PANEL:
    default:
      return design->panels[from->index].name;
    }
}

static gboolean
same_anchor (const FwPartMap *map, const FwAnchor *old, const FwAnchor *new)
{
  if (old->kind != new->kind)
    return FALSE;
  if (new->kind == FW_FROM_THROW)
    return map->throws[new->index] == old->index;
  return new->kind != FW_FROM_PANEL || map->panels[new->index] == old->index;
}

static void
rod (GPtrArray *lines, const FwPartMap *map, const FwDesign *a, const FwRod *old, const FwDesign *b,
     const FwRod *new)
{
  if (old->side != new->side)
    say_side (lines, new->side, new->name);
  if (!same_anchor (map, &old->from, &new->from))
    say (lines, g_strdup_printf (_("%s now starts from %s, before from %s."), new->name,
                                 anchor (b, &new->from), anchor (a, &old->from)));
  if (map->panels[new->panel] != old->panel)
    say (lines, g_strdup_printf (_("%s now drives %s, before %s."), new->name,
                                 b->panels[new->panel].name, a->panels[old->panel].name));
}

/* By value, not by bytes: 0 and -0 are the same place. */
static gboolean
same_solid (const FwSolid *a, const FwSolid *b)
{
  gboolean same = a->n_sections == b->n_sections && a->has_eye == b->has_eye;
  for (int i = 0; same && i < a->n_sections; i++)
    {
      const FwSection *s = &a->sections[i], *t = &b->sections[i];
      same = s->at_mm == t->at_mm && s->low_mm == t->low_mm && s->high_mm == t->high_mm
             && s->half_width_mm == t->half_width_mm;
    }
  for (int i = 0; same && a->has_eye && i < 3; i++)
    same = a->eye_mm[i] == b->eye_mm[i];
  return same;
}

static void
looks (GPtrArray *lines, const FwPartMap *map, const FwDesign *a, const FwDesign *b)
{
  if (!same_solid (&a->body.solid, &b->body.solid))
    fw_log_lines_add (lines, FW_LOG_LOOK, g_strdup (_("The body is drawn in another shape.")));
  for (int i = 0; i < b->n_panels; i++)
    if (map->panels[i] >= 0
        && !same_solid (&a->panels[map->panels[i]].solid, &b->panels[i].solid))
      fw_log_lines_add (lines, FW_LOG_LOOK,
                        g_strdup_printf (_("%s is drawn in another shape."), b->panels[i].name));
}

void
fw_joint_changes (GPtrArray *lines, const FwPartMap *map, const FwDesign *before,
                  const FwDesign *after)
{
  crank_and_body (lines, map, before, after);
  for (int i = 0; i < after->n_panels; i++)
    if (map->panels[i] >= 0)
      panel (lines, map, before, &before->panels[map->panels[i]], after, &after->panels[i]);
  for (int i = 0; i < after->n_rods; i++)
    if (map->rods[i] >= 0)
      rod (lines, map, before, &before->rods[map->rods[i]], after, &after->rods[i]);
  looks (lines, map, before, after);
}
