/* Every part of a design as a piece to cut. */
#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/materials.h"
#include "draw/shapes.h"
#include "draw/stand.h"
#include "shop/cutinner.h"

#define WOOD_KGM3 1500 /* lighter than any metal */

char *
fw_cutting_length (const FwCutting *c, double mm)
{
  return fw_units_format (mm, FW_UNIT_MM, c->lengths, -1);
}

/* A diameter or thickness: 15.875 mm must not become 15.9. */
static char *
size (const FwCutting *c, double mm)
{
  if (c->lengths == FW_LENGTHS_INCH)
    return fw_units_format (mm, FW_UNIT_MM, c->lengths, -1);
  double tenths = mm * 10;
  return fw_units_format (mm, FW_UNIT_MM, c->lengths, fabs (tenths - round (tenths)) > 1e-6 ? 2 : fabs (mm - round (mm)) > 1e-6 ? 1 : 0);
}

/* ---- What it is cut from ---- */

static char *
what_round (const FwCutting *c, const FwCutNeed *need)
{
  g_autofree char *across = size (c, need->diameter_mm), *wall = size (c, need->wall_mm);
  if (need->wall_mm > 0)
    return g_strdup_printf (_("%s, %s across, wall %s"), fw_material_words (need->material), across, wall);
  return g_strdup_printf (_("%s, %s across"), fw_material_words (need->material), across);
}

static char *
what_flat (const FwCutting *c, const FwCutNeed *need)
{
  g_autofree char *width = size (c, need->width_mm), *thick = size (c, need->thickness_mm);
  if (need->timber)
    return g_strdup_printf (_("square timber, about %s"), width);
  return g_strdup_printf (_("flat bar %s × %s"), width, thick);
}

static gboolean
near (double a, double b, double tolerance)
{
  return fabs (a - b) <= tolerance;
}

/* "copper tube" and "hard copper" are both copper. */
static gboolean
same_material (const char *wanted, const FwStuff *stuff, const char *have, const FwStuff *of)
{
  if (wanted == NULL || (stuff->density_kgm3 > 0 && stuff->density_kgm3 == of->density_kgm3))
    return TRUE;
  g_autofree char *a = g_utf8_casefold (wanted, -1), *b = g_utf8_casefold (have, -1);
  return strstr (a, b) != NULL || strstr (b, a) != NULL;
}

gboolean
fw_cutting_bar_suits (const FwCutNeed *need, const FwStockBar *bar)
{
  if (need->named != NULL)
    return strcmp (need->named, bar->name) == 0;
  if (need->timber)
    {
      gboolean wood = !(bar->stuff.density_kgm3 > WOOD_KGM3);
      return bar->diameter_mm == 0 && wood && near (bar->width_mm, bar->thickness_mm, 0.5)
             && near (bar->width_mm, need->width_mm, 0.35 * need->width_mm);
    }
  if (!same_material (need->material, &need->stuff, bar->material, &bar->stuff))
    return FALSE;
  if (need->diameter_mm > 0)
    return near (bar->diameter_mm, need->diameter_mm, 0.05)
           && (need->wall_mm == 0 || bar->wall_mm == 0 || near (bar->wall_mm, need->wall_mm, 0.05));
  return bar->diameter_mm == 0 && near (bar->width_mm, need->width_mm, 0.1)
         && near (bar->thickness_mm, need->thickness_mm, 0.1);
}

gboolean
fw_cutting_sheet_suits (const FwCutNeed *need, const FwStockSheet *sheet)
{
  return near (sheet->thickness_mm, need->thickness_mm, 0.05 + 0.05 * need->thickness_mm)
         && same_material (need->material, &need->stuff, sheet->material, &sheet->stuff);
}

/* ---- Pieces ---- */

static double
bar_area (const FwCutNeed *need)
{
  double d = need->diameter_mm, bore = need->wall_mm > 0 ? fmax (d - 2 * need->wall_mm, 0) : 0;
  return d > 0 ? G_PI / 4 * (d * d - bore * bore) : need->width_mm * need->thickness_mm;
}

/* The first bar or sheet that suits; its material where the part's own is not known. */
static void
find_stock (FwCutting *c, FwCutPiece *p, FwCutNeed *need)
{
  const FwStock *stock = &c->mech->design->stock;
  int n = p->shape == FW_CUT_BAR ? stock->n_bars : stock->n_sheets;
  p->stock = -1;
  for (int i = 0; i < n && p->stock < 0; i++)
    if (p->shape == FW_CUT_BAR ? fw_cutting_bar_suits (need, &stock->bars[i])
                               : fw_cutting_sheet_suits (need, &stock->sheets[i]))
      p->stock = i;
  if (p->stock < 0)
    return;
  p->stock_name = p->shape == FW_CUT_BAR ? stock->bars[p->stock].name : stock->sheets[p->stock].name;
  FwStuff of = p->shape == FW_CUT_BAR ? stock->bars[p->stock].stuff : stock->sheets[p->stock].stuff;
  if (!(need->stuff.density_kgm3 > 0))
    need->stuff = of;
  if (p->shape == FW_CUT_BAR && need->diameter_mm > 0 && need->wall_mm == 0)
    need->wall_mm = stock->bars[p->stock].wall_mm;
}

/* Takes note and what over. */
static FwCutPiece *
add (FwCutting *c, const FwMade *made, FwCutPiece piece, FwCutNeed need)
{
  if (made == NULL)
    {
      g_free (piece.what);
      g_free (piece.note);
      return NULL;
    }
  piece.made = *made;
  piece.made.name = NULL;
  piece.part = g_strdup (made->name);
  piece.count = made->count;
  if (piece.material == NULL)
    piece.material = need.material;
  find_stock (c, &piece, &need);
  if (piece.shape == FW_CUT_BAR)
    {
      double kgm3 = need.stuff.density_kgm3;
      piece.mass_g = kgm3 > 0 ? kgm3 * 1e-6 * bar_area (&need) * piece.length_mm : NAN;
      if (piece.what == NULL)
        piece.what = need.diameter_mm > 0 ? what_round (c, &need) : what_flat (c, &need);
    }
  g_array_append_val (c->pieces, piece);
  g_array_append_val (c->needs, need);
  return &g_array_index (c->pieces, FwCutPiece, c->pieces->len - 1);
}

static double
outline_area (const FwPanel *panel, FwVec2 *low, FwVec2 *high)
{
  double twice = 0;
  *low = *high = panel->outline_mm[0];
  for (int i = 0; i < panel->n_outline; i++)
    {
      FwVec2 a = panel->outline_mm[i], b = panel->outline_mm[(i + 1) % panel->n_outline];
      twice += a.x * b.y - b.x * a.y;
      *low = fw_vec2 (fmin (low->x, a.x), fmin (low->y, a.y));
      *high = fw_vec2 (fmax (high->x, a.x), fmax (high->y, a.y));
    }
  return fabs (twice) / 2;
}

static char *
what_sheet (const FwCutting *c, const char *material, double thickness)
{
  g_autofree char *thick = size (c, thickness);
  return g_strdup_printf (_("%s, %s thick"), fw_material_words (material), thick);
}

static void
add_panels (FwCutting *c)
{
  const FwDesign *d = c->mech->design;
  for (int i = 0; i < d->n_panels; i++)
    {
      const FwPanel *panel = &d->panels[i];
      if (panel->n_outline < 3)
        {
          g_ptr_array_add (c->notes, g_strdup_printf (_("Panel %s has no outline, so nothing is cut for it here."), panel->name));
          continue;
        }
      FwVec2 low, high;
      double area = outline_area (panel, &low, &high);
      FwCutNeed need = { .material = panel->material, .thickness_mm = panel->thickness_mm, .stuff = panel->stuff };
      FwCutPiece *p = add (c, fw_made_find (c->list->made, FW_MADE_PANEL, i, 0),
                           (FwCutPiece) { .shape = FW_CUT_SHEET,
                                          .what = what_sheet (c, panel->material, panel->thickness_mm),
                                          .length_mm = high.x - low.x,
                                          .width_mm = high.y - low.y,
                                          .mass_g = NAN,
                                          .note = panel->side == FW_SIDE_BOTH ? g_strdup (_("one of them as its mirror image")) : NULL },
                           need);
      if (p == NULL)
        continue;
      double areal = panel->areal_gm2;
      if (areal == 0 && p->stock >= 0)
        areal = d->stock.sheets[p->stock].areal_gm2;
      if (areal == 0)
        areal = g_array_index (c->needs, FwCutNeed, c->needs->len - 1).stuff.density_kgm3 * panel->thickness_mm;
      if (panel->has_mass || areal > 0)
        p->mass_g = panel->has_mass ? panel->mass_g : areal * 1e-6 * area;
    }
}

static void
add_rods (FwCutting *c)
{
  const FwDesign *d = c->mech->design;
  const double *ends = d->stock.rod_ends_mm;
  for (int i = 0; i < d->n_rods; i++)
    {
      const FwRod *rod = &d->rods[i];
      double cut = rod->length_mm + ends[0] + ends[1];
      FwCutNeed need = { .material = rod->material, .diameter_mm = rod->diameter_mm, .wall_mm = rod->wall_mm, .stuff = rod->stuff };
      if (!(cut > 0))
        g_ptr_array_add (c->problems, g_strdup_printf (_("Rod %s is shorter than what its two ends take up: nothing is left to cut."), rod->name));
      add (c, fw_made_find (c->list->made, FW_MADE_ROD, i, 0),
           (FwCutPiece) { .length_mm = fmax (cut, 0), .centres_mm = rod->length_mm }, need);
    }
}

static void
add_post (FwCutting *c)
{
  const FwBody *body = &c->mech->design->body;
  FwCutNeed need = { .material = body->material, .diameter_mm = body->diameter_mm, .wall_mm = body->wall_mm, .stuff = body->stuff };
  if (body->ride == FW_RIDE_FIXED)
    return;
  double length = body->ride == FW_RIDE_RAIL ? body->rod_mm : body->post_mm;
  add (c, fw_made_find (c->list->made, FW_MADE_POST, 0, 0), (FwCutPiece) { .length_mm = length, .centres_mm = length }, need);
  if (body->ride == FW_RIDE_ROCKER)
    add (c, fw_made_find (c->list->made, FW_MADE_LINK, 0, 0),
         (FwCutPiece) { .length_mm = body->link_mm, .centres_mm = body->link_mm, .note = g_strdup (_("its stock is taken as the post's")) }, need);
}

/* ---- The crank ---- */

static const char *
stock_bar_named (const FwDesign *d, const char *name)
{
  for (int i = 0; name != NULL && i < d->stock.n_bars; i++)
    if (strcmp (d->stock.bars[i].name, name) == 0)
      return name;
  return NULL;
}

static char *
note_of_piece (const FwCutting *c, const FwBuiltPiece *p)
{
  const FwCrankBuild *make = &c->list->build->make;
  gboolean web = p->kind == FW_BUILT_WEB || p->kind == FW_BUILT_ARM;
  if (web && make->make == FW_MAKE_BOLTED)
    {
      g_autofree char *bolt = size (c, make->bolt_mm), *end = size (c, make->web_width_mm / 2);
      return g_strdup_printf (_("two holes of %s, each %s from an end"), bolt, end);
    }
  if (p->kind == FW_BUILT_WIRE)
    return g_strdup (_("before bending; try the bends on scrap"));
  return NULL;
}

static void
add_crank (FwCutting *c)
{
  const FwDesign *d = c->mech->design;
  const FwBuild *build = c->list->build;
  const FwCrankBuild *make = &build->make;
  FwCutNeed pipe = { .material = d->crank.material, .named = stock_bar_named (d, make->pipe),
                     .diameter_mm = make->pipe_mm, .wall_mm = make->wall_mm, .stuff = d->crank.stuff };
  FwCutNeed flat = { .width_mm = make->web_width_mm, .thickness_mm = make->web_thickness_mm };
  int seen = -1;
  for (int i = 0; i < build->n_pieces; i++)
    {
      const FwBuiltPiece *p = &build->pieces[i];
      gboolean web = p->kind == FW_BUILT_WEB || p->kind == FW_BUILT_ARM;
      if (p->design <= seen)
        continue;
      seen = p->design;
      add (c, fw_made_find (c->list->made, FW_MADE_CRANK, p->design, 0),
           (FwCutPiece) { .length_mm = p->cut_mm, .centres_mm = web ? p->centre_mm : 0, .note = note_of_piece (c, p) },
           web && make->make == FW_MAKE_BOLTED ? flat : pipe);
    }
}

/* ---- What it stands on ---- */

static void
add_timber (FwCutting *c, FwMadeKind kind, int index, int nth, double length, double side)
{
  FwCutNeed need = { .timber = TRUE, .width_mm = side, .thickness_mm = side };
  if (length > 0)
    add (c, fw_made_find (c->list->made, kind, index, nth), (FwCutPiece) { .length_mm = length }, need);
}

static void
add_columns (FwCutting *c, double top)
{
  const FwDesign *d = c->mech->design;
  FwVec2 at = fw_made_carried_at (c->mech), columns[2];
  double half = fw_stand_half (d), thick = 0.8 * fw_stand_timber (d), station = fw_stand_body_station (c->mech);
  FwCarried carried = fw_stand_columns (d, station, at.x, half, columns);
  if (at.y < top + thick)
    return;
  add_timber (c, FW_MADE_COLUMN, 0, 0, at.y + thick / 2 - top, thick);
  add_timber (c, FW_MADE_BEAM, 0, 0, fabs (columns[1].x - columns[0].x), 0.8 * thick);
  if (carried == FW_CARRIED_BEHIND)
    add_timber (c, FW_MADE_BEAM, 0, 1, fabs (at.x + thick - columns[0].y), 0.8 * thick);
  if (carried == FW_CARRIED_BRIDGE)
    add_timber (c, FW_MADE_BEAM, 0, 1, fabs (station - half - columns[0].x), 0.8 * thick);
}

static void
add_base (FwCutting *c)
{
  const FwDesign *d = c->mech->design;
  double plate[3], top;
  FwStuff ply = { 0 };
  fw_design_base (d, plate, &top);
  fw_material_find ("birch ply", NULL, &ply);
  FwCutNeed need = { .thickness_mm = plate[2] };
  double kg = ply.density_kgm3 * plate[2] * plate[0] * plate[1] * 1e-9;
  g_autofree char *thick = size (c, plate[2]);
  add (c, fw_made_find (c->list->made, FW_MADE_PLATE, 0, 0),
       (FwCutPiece) { .shape = FW_CUT_SHEET,
                      .material = "birch ply",
                      .what = g_strdup_printf (_("ply or board, %s thick"), thick),
                      .length_mm = fmax (plate[0], plate[1]),
                      .width_mm = fmin (plate[0], plate[1]),
                      .mass_g = kg > 0 ? 1000 * kg : NAN },
       need);
  if (top < 0 && fw_design_bearings (d, NULL, 0) > 0)
    add_timber (c, FW_MADE_UPRIGHT, 0, 0, hypot (fw_stand_leg (d), top), fw_stand_timber (d));
  add_columns (c, top);
  for (int i = 0; i < d->n_rods; i++)
    if (d->rods[i].from.kind == FW_FROM_BASE)
      add_timber (c, FW_MADE_ANCHOR, i, 0, d->rods[i].from.at_mm.z - top, 0.8 * fw_stand_upright (d));
}

/* ---- Fittings ---- */

static void
add_fitting (FwCutting *c, char *what, char *of_size, int count)
{
  FwCutFitting f = { what, of_size, count };
  g_array_append_val (c->fittings, f);
}

static void
add_crank_fits (FwCutting *c)
{
  const FwBuild *build = c->list->build;
  for (int i = 0; i < build->n_fits; i++)
    {
      const FwBuiltFit *f = &build->fits[i];
      g_autofree char *across = size (c, f->size_mm), *length = fw_cutting_length (c, f->length_mm);
      g_autofree char *take_off = size (c, build->make.take_off_mm), *cup = size (c, build->make.cup_mm);
      if (f->kind == FW_FIT_ELBOW)
        add_fitting (c, g_strdup (_("90° elbow")),
                     g_strdup_printf (_("for %s pipe, take-off %s, cup %s; measure yours"), across, take_off, cup), f->count);
      else if (f->kind == FW_FIT_BOLT)
        add_fitting (c, g_strdup (_("threaded rod")), g_strdup_printf (_("M%g × %s"), f->size_mm, length), f->count);
      else
        add_fitting (c, g_strdup (f->kind == FW_FIT_NUT ? _("nut") : _("washer")), g_strdup_printf ("M%g", f->size_mm), f->count);
    }
}

static void
add_joints (FwCutting *c)
{
  const FwMechanism *mech = c->mech;
  const FwBuild *build = c->list->build;
  int bearings = fw_design_bearings (mech->design, NULL, 0);
  g_autofree char *pipe = size (c, build->make.pipe_mm);
  if (build->n_throws > 0 && bearings > 0)
    add_fitting (c, g_strdup (build->make.open_bearings ? _("bearing that opens") : _("bearing")), g_strdup_printf (_("for %s"), pipe), bearings);
  if (mech->body_pin >= 0)
    add_fitting (c, g_strdup (build->make.open_eyes ? _("foot of the post, opening") : _("foot of the post")), g_strdup_printf (_("for %s"), pipe), 1);
  for (int i = 0; i < mech->design->n_rods; i++)
    {
      const FwRod *rod = &mech->design->rods[i];
      g_autofree char *across = size (c, rod->diameter_mm);
      int count = rod->side == FW_SIDE_BOTH ? 2 : 1;
      if (rod->from.kind == FW_FROM_THROW)
        add_fitting (c, g_strdup (build->make.open_eyes ? _("eye of a rod, opening") : _("eye of a rod")),
                     g_strdup_printf (_("%s, on %s"), rod->name, pipe), count);
      else
        add_fitting (c, g_strdup (_("lower joint of a rod")), g_strdup_printf (_("%s, %s across"), rod->name, across), count);
      add_fitting (c, g_strdup (_("upper joint of a rod")), g_strdup_printf (_("%s, %s across"), rod->name, across), count);
    }
}

void
fw_cutting_add_parts (FwCutting *c)
{
  add_panels (c);
  add_rods (c);
  add_post (c);
  add_crank (c);
  add_base (c);
  add_crank_fits (c);
  add_joints (c);
}
