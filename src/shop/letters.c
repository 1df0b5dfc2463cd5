#include "shop/letters.h"

#include "draw/shapes.h"
#include "draw/stand.h"

#include <string.h>

#include <glib/gi18n.h>

void
fw_made_letter (int nth, char letter[8])
{
  char reversed[8];
  int n = 0, k = 0;
  for (int rest = nth + 1; rest > 0 && n < 7; rest = (rest - 1) / 26)
    reversed[n++] = (char)('A' + (rest - 1) % 26);
  while (n > 0)
    letter[k++] = reversed[--n];
  letter[k] = '\0';
}

/* Takes the name over. */
static void
add (GArray *list, FwMadeKind kind, int index, int nth, int count, char *name)
{
  FwMade made = { .kind = kind, .index = index, .nth = nth, .name = name, .count = count };
  made.printed = kind >= FW_MADE_CLAMP;
  fw_made_letter ((int)list->len, made.letter);
  g_array_append_val (list, made);
}

static int
sides (FwSide side)
{
  return side == FW_SIDE_BOTH ? 2 : 1;
}

static void
add_frame (GArray *list, const FwDesign *d)
{
  const FwBody *body = &d->body;
  for (int i = 0; i < d->n_panels; i++)
    add (list, FW_MADE_PANEL, i, 0, sides (d->panels[i].side), g_strdup_printf (_("Panel %s"), d->panels[i].name));
  for (int i = 0; i < d->n_rods; i++)
    add (list, FW_MADE_ROD, i, 0, sides (d->rods[i].side), g_strdup_printf (_("Rod %s"), d->rods[i].name));
  if (body->ride != FW_RIDE_FIXED)
    add (list, FW_MADE_POST, 0, 0, 1, g_strdup (body->ride == FW_RIDE_RAIL ? _("Body rod") : _("Post")));
  if (body->ride == FW_RIDE_ROCKER)
    add (list, FW_MADE_LINK, 0, 0, 1, g_strdup (_("Link of the post")));
}

static void
add_crank (GArray *list, const FwBuild *build)
{
  for (int i = 0; i < build->n_pieces; i++)
    {
      int count = 0, first = i;
      for (int k = build->n_pieces - 1; k >= 0; k--)
        if (build->pieces[k].design == build->pieces[i].design)
          {
            count++;
            first = k;
          }
      if (first == i)
        add (list, FW_MADE_CRANK, build->pieces[i].design, 0, count, fw_build_piece_name (build, &build->pieces[i]));
    }
}

FwVec2
fw_made_carried_at (const FwMechanism *mech)
{
  const FwBody *body = &mech->design->body;
  gboolean across = mech->design->crank.runs == FW_RUNS_ACROSS;
  switch (body->ride)
    {
    case FW_RIDE_SLEEVE:
      return body->guide_mm;
    case FW_RIDE_ROCKER:
      return body->pivot_mm;
    case FW_RIDE_RAIL:
      return (FwVec2){ body->offset_mm, mech->pins[mech->body_pin].radius_mm + body->rod_mm };
    case FW_RIDE_FIXED:
      break;
    }
  return (FwVec2){ across ? body->at_mm.y : body->at_mm.x, body->at_mm.z };
}

static void
add_base (GArray *list, const FwMechanism *mech)
{
  const FwDesign *d = mech->design;
  int bearings = fw_design_bearings (d, NULL, 0);
  double plate[3], top;
  fw_design_base (d, plate, &top);
  add (list, FW_MADE_PLATE, 0, 0, 1, g_strdup (_("Base plate")));
  if (bearings > 0)
    add (list, FW_MADE_UPRIGHT, 0, 0, 2 * bearings, g_strdup (_("Leg of a bearing")));
  FwVec2 columns[2];
  FwCarried carried = fw_stand_columns (d, fw_stand_body_station (mech), fw_made_carried_at (mech).x, fw_stand_half (d), columns);
  add (list, FW_MADE_COLUMN, 0, 0, 2, g_strdup (_("Column")));
  if (carried != FW_CARRIED_BRIDGE)
    add (list, FW_MADE_BEAM, 0, 0, 1, g_strdup (_("Beam between the columns")));
  if (carried != FW_CARRIED_STRAIGHT)
    add (list, FW_MADE_BEAM, 0, 1, 2, g_strdup (_("Arm of a column")));
  for (int i = 0; i < d->n_rods; i++)
    if (d->rods[i].from.kind == FW_FROM_BASE && d->rods[i].from.at_mm.z > top)
      add (list, FW_MADE_ANCHOR, i, 0, sides (d->rods[i].side), g_strdup_printf (_("Upright under %s"), d->rods[i].name));
}

static void
add_printed (GArray *list, const FwDesign *d)
{
  int bearings = fw_design_bearings (d, NULL, 0);
  for (int i = 0; i < d->n_rods; i++)
    if (d->rods[i].from.kind == FW_FROM_THROW)
      add (list, FW_MADE_CLAMP, i, 0, sides (d->rods[i].side), g_strdup_printf (_("Clamp of %s"), d->rods[i].name));
  if (bearings > 0)
    add (list, FW_MADE_BUSHING, 0, 0, bearings, g_strdup (_("Bearing bushing")));
  for (int i = 0; i < d->n_panels; i++)
    for (int end = 0; end < 2 && d->panels[i].has_stops; end++)
      add (list, FW_MADE_WEDGE, i, end, sides (d->panels[i].side),
           g_strdup_printf (end == 0 ? _("Lower stop of %s") : _("Upper stop of %s"), d->panels[i].name));
  if (d->body.ride == FW_RIDE_SLEEVE || d->body.ride == FW_RIDE_RAIL)
    add (list, FW_MADE_GUIDE, 0, 0, 1, g_strdup (_("Guide")));
}

FwMadeList *
fw_made_list_new (const FwMechanism *mechanism, const FwBuild *build)
{
  GArray *items = g_array_new (FALSE, TRUE, sizeof (FwMade));
  FwMadeList *list = g_new0 (FwMadeList, 1);

  add_frame (items, mechanism->design);
  add_crank (items, build);
  add_base (items, mechanism);
  add_printed (items, mechanism->design);
  list->n = (int)items->len;
  list->items = (FwMade *)(gpointer)g_array_free (items, FALSE);
  return list;
}

void
fw_made_list_free (FwMadeList *list)
{
  if (list == NULL)
    return;
  for (int i = 0; i < list->n; i++)
    g_free (list->items[i].name);
  g_free (list->items);
  g_free (list);
}

const FwMade *
fw_made_find (const FwMadeList *list, FwMadeKind kind, int index, int nth)
{
  for (int i = 0; i < list->n; i++)
    if (list->items[i].kind == kind && list->items[i].index == index && list->items[i].nth == nth)
      return &list->items[i];
  return NULL;
}
