/* What to set and mark, what was assumed, and what the making of the crank has against it. */
#include <math.h>

#include <glib/gi18n.h>

#include "doc/words.h"
#include "shop/cutinner.h"

static void
say (GPtrArray *list, char *text)
{
  g_ptr_array_add (list, text);
}

static char *
degrees (double value)
{
  double turn = fmod (value, 360);
  return fw_units_format (turn < -1e-9 ? turn + 360 : fabs (turn), FW_UNIT_DEG, FW_LENGTHS_MM, -1);
}

/* ---- Settings ---- */

static const char *
side_of (const FwCutting *c, const FwBuiltThrow *t)
{
  const FwThrow *throw = &c->mech->design->crank.throws[t->throw_index];
  if (!throw->both || c->mech->design->crank.runs != FW_RUNS_ACROSS)
    return "";
  return t->station_mm < 0 ? ".left" : ".right";
}

static void
say_throws (FwCutting *c)
{
  const FwBuild *build = c->list->build;
  for (int i = 0; i < build->n_throws; i++)
    {
      const FwBuiltThrow *t = &build->throws[i];
      const FwThrow *throw = &c->mech->design->crank.throws[t->throw_index];
      g_autofree char *phase = degrees (throw->phase_deg), *radius = fw_cutting_length (c, throw->radius_mm);
      g_autofree char *station = fw_cutting_length (c, t->built_mm), *clear = fw_cutting_length (c, t->clear_mm);
      g_autofree char *name = g_strconcat (throw->name, side_of (c, t), NULL);
      say (c->settings, g_strdup_printf (_("Throw %s: %s from the axis, turned %s from up, middle of its pin at station %s, %s clear."),
                                         name, radius, phase, station, clear));
      if (t->clear_mm > throw->width_mm + 0.5 && t->station_mm >= 0)
        {
          g_autofree char *asked = fw_cutting_length (c, throw->width_mm);
          say (c->notes, g_strdup_printf (_("The pin of throw %s is %s clear, more than the %s it needs: collars keep what turns on it at its station."),
                                          throw->name, clear, asked));
        }
      if (fabs (t->built_mm - t->station_mm) > 0.005)
        {
          g_autofree char *moved = fw_cutting_length (c, fabs (t->built_mm - t->station_mm));
          g_autofree char *from = fw_cutting_length (c, t->station_mm);
          say (c->notes, g_strdup_printf (_("Throw %s comes out at station %s, %s from the %s that was designed: its neighbours' webs and "
                                            "fittings push it there."),
                                          name, station, moved, from));
        }
    }
}

static void
say_bends (FwCutting *c)
{
  const FwBuild *build = c->list->build;
  for (int i = 0; i < build->n_bends; i++)
    {
      const FwBend *b = &build->bends[i];
      g_autofree char *mark = fw_cutting_length (c, b->mark_mm), *roll = fw_units_format (b->roll_deg, FW_UNIT_DEG, FW_LENGTHS_MM, -1);
      g_autofree char *turn = fw_units_format (b->turn_deg, FW_UNIT_DEG, FW_LENGTHS_MM, -1);
      say (c->settings, g_strdup_printf (_("Bend %d: starts %s from the handle end of the blank; turn the blank about itself by %s, bend %s."),
                                         i + 1, mark, roll, turn));
    }
}

static void
say_rods (FwCutting *c)
{
  const FwDesign *d = c->mech->design;
  for (int i = 0; i < d->n_rods; i++)
    {
      g_autofree char *length = fw_cutting_length (c, d->rods[i].length_mm);
      say (c->settings, g_strdup_printf (_("Rod %s: %s between its joint centres."), d->rods[i].name, length));
    }
  if (d->body.ride == FW_RIDE_SLEEVE || d->body.ride == FW_RIDE_ROCKER)
    {
      g_autofree char *post = fw_cutting_length (c, d->body.post_mm);
      say (c->settings, g_strdup_printf (_("Post: %s from its pin to the point of the body it carries."), post));
    }
  if (d->body.ride == FW_RIDE_ROCKER)
    {
      g_autofree char *on = fw_cutting_length (c, d->body.on_mm), *link = fw_cutting_length (c, d->body.link_mm);
      say (c->settings, g_strdup_printf (_("Link: %s between its centres, joined to the post %s from its pin."), link, on));
    }
}

static void
say_stops (FwCutting *c)
{
  const FwDesign *d = c->mech->design;
  for (int i = 0; i < d->n_panels; i++)
    {
      g_autofree char *low = fw_units_format (d->panels[i].stops_deg[0], FW_UNIT_DEG, FW_LENGTHS_MM, -1);
      g_autofree char *high = fw_units_format (d->panels[i].stops_deg[1], FW_UNIT_DEG, FW_LENGTHS_MM, -1);
      if (d->panels[i].has_stops)
        say (c->settings, g_strdup_printf (_("Panel %s: stops at %s and %s."), d->panels[i].name, low, high));
    }
}

/* ---- Notes ---- */

static void
say_crank_notes (FwCutting *c)
{
  const FwBuild *build = c->list->build;
  const FwCrankBuild *make = &build->make;
  if (build->n_throws == 0)
    return;
  if (build->assumed)
    say (c->notes, g_strdup (make->make == FW_MAKE_BENT ? _("The design does not say how its crank is made: taken as bent in one, with usual sizes.")
                                                        : _("The design does not say how its crank is made: taken as bolted from flat webs and pipe, "
                                                            "with usual sizes.")));
  switch (make->make)
    {
    case FW_MAKE_ELBOWS:
      say (c->notes, g_strdup (_("Take-off and cup of the elbows are not fixed by any standard: measure one of yours before you cut, and put its sizes into the design.")));
      break;
    case FW_MAKE_BOLTED:
      say (c->notes, g_strdup (_("Pins and axis are clamped between webs by threaded rods through their bores. A nut alone lets a web turn: pin or solder it once its phase is set.")));
      if (make->wall_mm > 0 && make->pipe_mm - 2 * make->wall_mm < make->bolt_mm)
        {
          g_autofree char *bore = fw_cutting_length (c, make->pipe_mm - 2 * make->wall_mm), *bolt = fw_cutting_length (c, make->bolt_mm);
          say (build->assumed ? c->notes : c->problems, g_strdup_printf (_("The bore of the pipe is %s: a threaded rod of %s does not go through it."), bore, bolt));
        }
      break;
    case FW_MAKE_BENT:
    default:
      {
        g_autofree char *bend = fw_cutting_length (c, build->allowance_mm), *radius = fw_cutting_length (c, make->bend_radius_mm);
        say (c->notes, g_strdup_printf (_("Each bend takes %s of the blank: a quarter turn at %s to the centre line, with the neutral line %g of the diameter from the "
                                          "inside. It springs back: try one on scrap first."),
                                        bend, radius, make->neutral));
      }
    }
}

static void
say_stock_notes (FwCutting *c)
{
  const FwStock *stock = &c->mech->design->stock;
  for (int i = 0; i < c->list->n_uses; i++)
    {
      const FwCutUse *u = &c->list->uses[i];
      const char *name = u->shape == FW_CUT_BAR ? stock->bars[u->stock].name : stock->sheets[u->stock].name;
      if (u->proven)
        continue;
      say (c->notes, g_strdup_printf (ngettext ("%s: %d is used; no layout can do with fewer than %d, but whether one does is not known.",
                                                "%s: %d are used; no layout can do with fewer than %d, but whether one does is not known.", (gulong)u->used),
                                      name, u->used, u->at_least));
    }
  if (stock->rod_ends_mm[0] == 0 && stock->rod_ends_mm[1] == 0 && c->mech->design->n_rods > 0)
    say (c->notes, g_strdup (_("Rods are cut to the distance between their joint centres. If thread or an eye takes more, or a joint holds the rod short, give "
                               "stock.rod_ends.")));
  g_autofree char *kerf = fw_cutting_length (c, stock->kerf_mm);
  say (c->notes, g_strdup_printf (_("%s is reckoned lost at every saw cut."), kerf));
  say (c->notes, g_strdup (_("Legs, columns and beams are as the views draw them; any sound timber near that size will do.")));
}

static void
say_troubles (FwCutting *c)
{
  const FwTroubleList *troubles = &c->list->build->troubles;
  for (int i = 0; i < troubles->n; i++)
    say (c->list->build->assumed ? c->notes : c->problems, fw_words_trouble (c->mech, &troubles->items[i], c->lengths));
}

void
fw_cutting_say (FwCutting *c)
{
  say_throws (c);
  say_bends (c);
  say_rods (c);
  say_stops (c);
  say_crank_notes (c);
  say_stock_notes (c);
  say_troubles (c);
}
