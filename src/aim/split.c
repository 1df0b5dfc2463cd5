#include "aim/split.h"

#include <stdlib.h>
#include <string.h>

typedef struct
{
  FwSplit *split;
  FwDesign *spare; /* a second copy, whose parts become the left-hand ones */
  int *right_throw, *left_throw, *right_panel, *left_panel; /* of the design that is split */
} Work;

static bool
throw_splits (const FwDesign *design, int i)
{
  return design->crank.throws[i].both && design->crank.runs == FW_RUNS_ACROSS;
}

/* "NAME.right": what results call it already, so no other part has that name. */
static bool
rename_side (char **name, const char *ending)
{
  const char *old = *name ? *name : "";
  size_t length = strlen (old), more = strlen (ending) + 1;
  char *text = malloc (length + more);

  if (!text)
    return false;
  memcpy (text, old, length); // NOLINT(bugprone-not-null-terminated-result): the ending brings its 0
  memcpy (text + length, ending, more);
  free (*name);
  *name = text;
  return true;
}

static bool
split_throws (Work *w)
{
  FwDesign *d = w->split->design;
  int n = d->crank.n_throws, k = 0;
  FwThrow *all = calloc ((size_t)(2 * n + 1), sizeof *all);

  if (!all)
    return false;
  bool good = true;
  for (int i = 0; i < n; i++)
    {
      bool splits = throw_splits (d, i);
      w->right_throw[i] = w->left_throw[i] = k;
      w->split->throws[k] = (FwOrigin) { i, splits ? 1 : 0 };
      all[k] = d->crank.throws[i];
      all[k].both = all[k].both && !splits;
      k++;
      if (!splits)
        continue;
      w->left_throw[i] = k;
      w->split->throws[k] = (FwOrigin) { i, -1 };
      all[k] = w->spare->crank.throws[i];
      memset (&w->spare->crank.throws[i], 0, sizeof *all);
      all[k].both = false;
      all[k].station_mm = -all[k].station_mm;
      good = rename_side (&all[k - 1].name, ".right") && rename_side (&all[k].name, ".left") && good;
      k++;
    }
  free (d->crank.throws);
  d->crank.throws = all;
  d->crank.n_throws = k;
  return good;
}

static bool
split_panels (Work *w)
{
  FwDesign *d = w->split->design;
  int n = d->n_panels, k = 0;
  FwPanel *all = calloc ((size_t)(2 * n + 1), sizeof *all);

  if (!all)
    return false;
  bool good = true;
  for (int i = 0; i < n; i++)
    {
      bool splits = d->panels[i].side == FW_SIDE_BOTH;
      w->right_panel[i] = w->left_panel[i] = k;
      w->split->panels[k] = (FwOrigin) { i, splits ? 1 : 0 };
      all[k++] = d->panels[i];
      if (!splits)
        continue;
      w->left_panel[i] = k;
      w->split->panels[k] = (FwOrigin) { i, -1 };
      all[k] = w->spare->panels[i];
      memset (&w->spare->panels[i], 0, sizeof *all);
      all[k - 1].side = FW_SIDE_RIGHT;
      all[k].side = FW_SIDE_LEFT;
      good = rename_side (&all[k - 1].name, ".right") && rename_side (&all[k].name, ".left") && good;
      k++;
    }
  free (d->panels);
  d->panels = all;
  d->n_panels = k;
  return good;
}

static bool
split_rods (Work *w)
{
  FwDesign *d = w->split->design;
  int n = d->n_rods, k = 0;
  FwRod *all = calloc ((size_t)(2 * n + 1), sizeof *all);

  if (!all)
    return false;
  bool good = true;
  for (int i = 0; i < n; i++)
    {
      bool splits = d->rods[i].side == FW_SIDE_BOTH;
      w->split->rods[k] = (FwOrigin) { i, splits ? 1 : 0 };
      all[k++] = d->rods[i];
      if (!splits)
        continue;
      w->split->rods[k] = (FwOrigin) { i, -1 };
      all[k] = w->spare->rods[i];
      memset (&w->spare->rods[i], 0, sizeof *all);
      all[k - 1].side = FW_SIDE_RIGHT;
      all[k].side = FW_SIDE_LEFT;
      good = rename_side (&all[k - 1].name, ".right") && rename_side (&all[k].name, ".left") && good;
      k++;
    }
  free (d->rods);
  d->rods = all;
  d->n_rods = k;
  return good;
}

static bool
split_springs (Work *w)
{
  FwDesign *d = w->split->design;
  int n = d->n_springs, k = 0;
  FwSpringPart *all = calloc ((size_t)(2 * n + 1), sizeof *all);

  if (!all)
    return false;
  bool good = true;
  for (int i = 0; i < n; i++)
    {
      bool splits = d->springs[i].side == FW_SIDE_BOTH;
      w->split->springs[k] = (FwOrigin) { i, splits ? 1 : 0 };
      all[k++] = d->springs[i];
      if (!splits)
        continue;
      w->split->springs[k] = (FwOrigin) { i, -1 };
      all[k] = w->spare->springs[i];
      memset (&w->spare->springs[i], 0, sizeof *all);
      all[k - 1].side = FW_SIDE_RIGHT;
      all[k].side = FW_SIDE_LEFT;
      good = rename_side (&all[k - 1].name, ".right") && rename_side (&all[k].name, ".left") && good;
      k++;
    }
  free (d->springs);
  d->springs = all;
  d->n_springs = k;
  return good;
}

static void
relink_end (const Work *w, FwAnchor *end, FwSide side)
{
  if (end->kind == FW_FROM_PANEL)
    end->index = (side == FW_SIDE_LEFT ? w->left_panel : w->right_panel)[end->index];
}

/* Every part meets the parts of its own side. */
static void
relink (Work *w)
{
  FwDesign *d = w->split->design;

  if (d->body.ride != FW_RIDE_FIXED)
    d->body.throw_index = w->right_throw[d->body.throw_index];
  for (int i = 0; i < d->n_panels; i++)
    if (d->panels[i].on != FW_ON_BODY)
      d->panels[i].on = (d->panels[i].side == FW_SIDE_LEFT ? w->left_panel : w->right_panel)[d->panels[i].on];
  for (int i = 0; i < d->n_rods; i++)
    {
      FwRod *rod = &d->rods[i];
      bool left = rod->side == FW_SIDE_LEFT;
      rod->panel = (left ? w->left_panel : w->right_panel)[rod->panel];
      if (rod->from.kind == FW_FROM_THROW)
        rod->from.index = (left ? w->left_throw : w->right_throw)[rod->from.index];
      else if (rod->from.kind == FW_FROM_PANEL)
        rod->from.index = (left ? w->left_panel : w->right_panel)[rod->from.index];
    }
  for (int i = 0; i < d->n_springs; i++)
    {
      relink_end (w, &d->springs[i].from, d->springs[i].side);
      relink_end (w, &d->springs[i].to, d->springs[i].side);
    }
}

static int *
room_for (int n)
{
  return calloc ((size_t)(n > 0 ? n : 1), sizeof (int));
}

static bool
work_open (Work *w, const FwDesign *design)
{
  FwSplit *s = w->split;

  s->design = fw_design_copy (design);
  w->spare = fw_design_copy (design);
  w->right_throw = room_for (design->crank.n_throws);
  w->left_throw = room_for (design->crank.n_throws);
  w->right_panel = room_for (design->n_panels);
  w->left_panel = room_for (design->n_panels);
  s->throws = calloc ((size_t)(2 * design->crank.n_throws + 1), sizeof *s->throws);
  s->panels = calloc ((size_t)(2 * design->n_panels + 1), sizeof *s->panels);
  s->rods = calloc ((size_t)(2 * design->n_rods + 1), sizeof *s->rods);
  s->springs = calloc ((size_t)(2 * design->n_springs + 1), sizeof *s->springs);
  return s->design && w->spare && w->right_throw && w->left_throw && w->right_panel && w->left_panel
         && s->throws && s->panels && s->rods && s->springs;
}

FwSplit *
fw_split_new (const FwDesign *design)
{
  FwSplit *split = calloc (1, sizeof *split);
  Work w = { .split = split };

  if (!split)
    return NULL;
  bool good = work_open (&w, design) && split_throws (&w) && split_panels (&w) && split_rods (&w)
              && split_springs (&w);
  if (good)
    relink (&w);
  free (w.right_throw);
  free (w.left_throw);
  free (w.right_panel);
  free (w.left_panel);
  fw_design_free (w.spare);
  if (good)
    return split;
  fw_split_free (split);
  return NULL;
}

void
fw_split_free (FwSplit *split)
{
  if (!split)
    return;
  fw_design_free (split->design);
  free (split->throws);
  free (split->panels);
  free (split->rods);
  free (split->springs);
  free (split);
}

FwParam
fw_split_origin (const FwSplit *split, FwParam param, int *side)
{
  const FwOrigin *list = NULL;

  switch (fw_param_owner (param))
    {
    case FW_OWNER_THROW:
      list = split->throws;
      break;
    case FW_OWNER_PANEL:
      list = split->panels;
      break;
    case FW_OWNER_ROD:
      list = split->rods;
      break;
    case FW_OWNER_SPRING:
      list = split->springs;
      break;
    case FW_OWNER_CRANK:
    case FW_OWNER_WEIGHT:
    case FW_OWNER_BODY:
    case FW_OWNER_LUMP:
    case FW_OWNER_BASE:
    case FW_OWNER_DRIVE:
      break;
    }
  if (side)
    *side = list ? list[param.index].side : 0;
  if (list)
    param.index = list[param.index].index;
  return param;
}
