/* What differs between two designs: the numbers that sliders move, and all of it together. */
#include "doc/logchanges.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

/* ---- Numbers ---- */

static gboolean
differs (double a, double b)
{
  return fabs (a - b) > 1e-9 * fmax (1, fmax (fabs (a), fabs (b)));
}

/* The older design's number that a number of the newer one was, or FALSE where the part is new. */
static gboolean
older (const FwPartMap *map, FwParam param, FwParam *was)
{
  const int *indices = NULL;
  FwParamOwner owner = fw_param_owner (param);

  *was = param;
  if (owner == FW_OWNER_THROW)
    indices = map->throws;
  else if (owner == FW_OWNER_PANEL)
    indices = map->panels;
  else if (owner == FW_OWNER_ROD)
    indices = map->rods;
  if (!indices)
    return TRUE;
  was->index = indices[param.index];
  return was->index >= 0;
}

static gboolean
holds (const FwParam *list, int n, FwParam param)
{
  for (int i = 0; i < n; i++)
    if (fw_param_equal (list[i], param))
      return TRUE;
  return FALSE;
}

/* Walls, lumps, base and drive are told with the keys of the file (logkeys.c). */
static FwParam *
params_of (const FwDesign *design, int *n)
{
  int all = fw_design_params (design, NULL, 0);
  FwParam *list = g_new (FwParam, (gsize)all + 1);
  fw_design_params (design, list, all);
  *n = 0;
  for (int i = 0; i < all; i++)
    if (list[i].kind < FW_PARAM_CRANK_WALL)
      list[(*n)++] = list[i];
  return list;
}

static FwLogLine *
number_line (GPtrArray *lines, const FwDesign *design, FwParam param, char *text)
{
  FwLogLine *line = fw_log_lines_add (lines, FW_LOG_NUMBER, text);
  line->key = fw_param_path (design, param);
  line->has_values = TRUE;
  line->unit = fw_param_unit (param);
  return line;
}

static void
say_number (GPtrArray *lines, const FwDesign *design, FwParam param, double from, double to,
            FwLengths lengths)
{
  FwUnit unit = fw_param_unit (param);
  char *old = fw_log_figure (from, to, unit, lengths), *new = fw_log_figure (to, from, unit, lengths);
  char *text;

  if (param.kind == FW_PARAM_ROD_LENGTH)
    text = g_strdup_printf (to > from ? _("%s lengthened from %s to %s.")
                                      : _("%s shortened from %s to %s."),
                            design->rods[param.index].name, old, new);
  else
    {
      char *label = fw_param_label (design, param);
      text = g_strdup_printf (_("%s: from %s to %s."), label, old, new);
      g_free (label);
    }
  FwLogLine *line = number_line (lines, design, param, text);
  line->from = from;
  line->to = to;
  g_free (old);
  g_free (new);
}

/* A number that only one of the two designs has: a stop, a mass, a play. */
static void
say_one_sided (GPtrArray *lines, const FwDesign *design, FwParam param, gboolean is_new,
               FwLengths lengths)
{
  double value = fw_param_get (design, param);
  char *label = fw_param_label (design, param);
  char *figure = fw_log_figure (value, NAN, fw_param_unit (param), lengths);
  FwLogLine *line
      = number_line (lines, design, param,
                     g_strdup_printf (is_new ? _("%s: now %s.") : _("%s: no longer given, was %s."),
                                      label, figure));
  line->from = is_new ? NAN : value;
  line->to = is_new ? value : NAN;
  g_free (label);
  g_free (figure);
}

/* Numbers of a ride that is no longer there went with it. */
static gboolean
went_with_ride (const FwDesign *a, const FwDesign *b, FwParam param)
{
  return a->body.ride != b->body.ride && param.kind >= FW_PARAM_BODY_AT
         && param.kind <= FW_PARAM_BODY_ON;
}

/* What a rod's foot stands in says a new line of its own; its numbers then mean something else. */
static gboolean
foot_moved (const FwPartMap *map, const FwDesign *a, const FwDesign *b, FwParam param)
{
  if (param.kind != FW_PARAM_ROD_FROM || map->rods[param.index] < 0)
    return FALSE;
  return a->rods[map->rods[param.index]].from.kind != b->rods[param.index].from.kind;
}

static void
number_changes (GPtrArray *lines, const FwPartMap *map, const FwDesign *a, const FwDesign *b,
                FwLengths lengths)
{
  int n_old, n_new;
  FwParam *olds = params_of (a, &n_old), *news = params_of (b, &n_new), was;
  gboolean *seen = g_new0 (gboolean, (gsize)n_old + 1);

  for (int i = 0; i < n_new; i++)
    {
      if (!older (map, news[i], &was))
        continue;
      if (!holds (olds, n_old, was) || foot_moved (map, a, b, news[i]))
        {
          say_one_sided (lines, b, news[i], TRUE, lengths);
          continue;
        }
      for (int k = 0; k < n_old; k++)
        seen[k] = seen[k] || fw_param_equal (olds[k], was);
      double from = fw_param_get (a, was), to = fw_param_get (b, news[i]);
      if (differs (from, to))
        say_number (lines, b, news[i], from, to, lengths);
    }
  /* What has gone, of parts that are still there. */
  for (int k = 0; k < n_old; k++)
    {
      gboolean stays = olds[k].kind == FW_PARAM_BODY_PLAY;
      for (int i = 0; i < b->n_panels; i++)
        stays = stays || (map->panels[i] == olds[k].index
                          && (olds[k].kind == FW_PARAM_PANEL_STOP
                              || olds[k].kind == FW_PARAM_PANEL_MASS
                              || olds[k].kind == FW_PARAM_PANEL_PLAY));
      for (int i = 0; i < b->n_rods; i++)
        stays = stays || (map->rods[i] == olds[k].index && olds[k].kind == FW_PARAM_ROD_PLAY);
      if (!seen[k] && stays && !went_with_ride (a, b, olds[k]))
        say_one_sided (lines, a, olds[k], FALSE, lengths);
    }
  g_free (seen);
  g_free (olds);
  g_free (news);
}

/* ---- All ---- */

static void
title_change (GPtrArray *lines, const cJSON *before, const cJSON *after)
{
  const cJSON *a = cJSON_GetObjectItemCaseSensitive (before, "title");
  const cJSON *b = cJSON_GetObjectItemCaseSensitive (after, "title");
  const char *new = b ? b->valuestring : "";

  if (strcmp (a ? a->valuestring : "", new) == 0)
    return;
  fw_log_lines_add (lines, FW_LOG_OTHER,
                    *new ? g_strdup_printf (_("The title is now “%s”."), new)
                         : g_strdup (_("There is no longer a title.")));
}

GPtrArray *
fw_tree_changes (const cJSON *before_tree, const FwDesign *before, const cJSON *after_tree,
                 const FwDesign *after, FwLengths lengths)
{
  GPtrArray *lines = fw_log_lines_new ();
  FwPartMap map;

  title_change (lines, before_tree, after_tree);
  fw_part_map_make (&map, lines, before_tree, before, after_tree, after);
  fw_joint_changes (lines, &map, before, after);
  number_changes (lines, &map, before, after, lengths);
  fw_key_changes (lines, &map, before_tree, after_tree, lengths);
  fw_part_map_clear (&map);
  if (lines->len == 0)
    fw_log_lines_add (lines, FW_LOG_SAME, g_strdup (_("The design is as it was.")));
  return lines;
}
