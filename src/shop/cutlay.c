/* Pieces into the stock that there is. */
#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "shop/cutinner.h"
#include "shop/nest.h"

/* Pieces that may be cut from the same bars or sheets. */
typedef struct
{
  FwCutShape shape;
  GArray *stock;  /* int: which of them */
  GArray *pieces; /* int: into the cutting's pieces */
} Group;

static void
group_free (gpointer data)
{
  Group *g = data;
  g_array_free (g->stock, TRUE);
  g_array_free (g->pieces, TRUE);
  g_free (g);
}

static FwCutPiece *
piece_nth (const FwCutting *c, int i)
{
  return &g_array_index (c->pieces, FwCutPiece, (guint)i);
}

static GArray *
stock_for (const FwCutting *c, int i)
{
  const FwStock *stock = &c->mech->design->stock;
  const FwCutNeed *need = &g_array_index (c->needs, FwCutNeed, (guint)i);
  gboolean bar = piece_nth (c, i)->shape == FW_CUT_BAR;
  GArray *list = g_array_new (FALSE, FALSE, sizeof (int));
  for (int k = 0; k < (bar ? stock->n_bars : stock->n_sheets); k++)
    if (bar ? fw_cutting_bar_suits (need, &stock->bars[k]) : fw_cutting_sheet_suits (need, &stock->sheets[k]))
      g_array_append_val (list, k);
  return list;
}

static gboolean
same_stock (const Group *g, FwCutShape shape, const GArray *stock)
{
  return g->shape == shape && g->stock->len == stock->len
         && memcmp (g->stock->data, stock->data, sizeof (int) * stock->len) == 0;
}

static GPtrArray *
find_groups (const FwCutting *c)
{
  GPtrArray *groups = g_ptr_array_new_with_free_func (group_free);
  for (int i = 0; i < (int)c->pieces->len; i++)
    {
      FwCutShape shape = piece_nth (c, i)->shape;
      GArray *stock = stock_for (c, i);
      Group *group = NULL;
      for (guint k = 0; k < groups->len && group == NULL; k++)
        if (same_stock (groups->pdata[k], shape, stock))
          group = groups->pdata[k];
      if (stock->len == 0 || group != NULL)
        g_array_free (stock, TRUE);
      else
        {
          group = g_new0 (Group, 1);
          group->shape = shape;
          group->stock = stock;
          group->pieces = g_array_new (FALSE, FALSE, sizeof (int));
          g_ptr_array_add (groups, group);
        }
      if (group != NULL)
        g_array_append_val (group->pieces, i);
    }
  return groups;
}

/* One entry a piece that is really cut. */
static GArray *
spread_out (const FwCutting *c, const Group *group)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (int));
  for (guint i = 0; i < group->pieces->len; i++)
    {
      int piece = g_array_index (group->pieces, int, i);
      for (int k = 0; k < piece_nth (c, piece)->count; k++)
        if (piece_nth (c, piece)->length_mm > 0)
          g_array_append_val (all, piece);
    }
  return all;
}

/* How the cutting keeps count of what is left of each bar and sheet. */
typedef struct
{
  int *bars, *sheets;
  GArray *layouts, *uses;
} Store;

static void
note_use (Store *store, const FwCutting *c, const Group *group, const FwNest *nest, double longest)
{
  const FwStock *stock = &c->mech->design->stock;
  FwCutUse use = { .shape = group->shape, .stock = g_array_index (group->stock, int, 0), .used = nest->n_bins,
                   .opened = nest->opened, .least = nest->least, .proven = nest->proven };
  use.at_least = longest > 0 ? (int)ceil (nest->least / longest - 1e-9) : 0;
  for (int i = 0; i < nest->n_bins; i++)
    {
      int k = g_array_index (group->stock, int, (guint)nest->bin_kind[i]);
      double price = group->shape == FW_CUT_BAR ? stock->bars[k].price : stock->sheets[k].price;
      int *left = group->shape == FW_CUT_BAR ? &store->bars[k] : &store->sheets[k];
      *left -= *left > 0;
      use.cost = price < 0 ? NAN : use.cost + price;
    }
  if (nest->n_bins > 0)
    g_array_append_val (store->uses, use);
}

static void
say_left (FwCutting *c, const Group *group, const GArray *all, const FwNest *nest)
{
  const FwStock *stock = &c->mech->design->stock;
  int first = g_array_index (group->stock, int, 0);
  const char *name = group->shape == FW_CUT_BAR ? stock->bars[first].name : stock->sheets[first].name;
  int said = -1;
  for (guint i = 0; i < all->len; i++)
    {
      int piece = g_array_index (all, int, i);
      if (nest->bin_of[i] >= 0 || piece == said)
        continue;
      said = piece;
      const FwCutPiece *p = piece_nth (c, piece);
      g_autofree char *length = fw_cutting_length (c, p->length_mm), *width = fw_cutting_length (c, p->width_mm);
      gboolean fits = FALSE;
      for (guint k = 0; k < group->stock->len; k++)
        {
          int s = g_array_index (group->stock, int, k);
          const FwStockSheet *sheet = group->shape == FW_CUT_SHEET ? &stock->sheets[s] : NULL;
          fits = fits || (sheet == NULL ? stock->bars[s].length_mm >= p->length_mm
                                        : sheet->width_mm * sheet->height_mm >= p->length_mm * p->width_mm
                                              && fmax (sheet->width_mm, sheet->height_mm) >= fmax (p->length_mm, p->width_mm));
        }
      char *text = fits ? g_strdup_printf (_("There is not enough %s for every %s (%s)."), name, p->part, p->made.letter)
                   : group->shape == FW_CUT_BAR
                       ? g_strdup_printf (_("%s (%s) is %s long: longer than any bar of %s."), p->part, p->made.letter, length, name)
                       : g_strdup_printf (_("%s (%s) is %s by %s: larger than any sheet of %s."), p->part, p->made.letter, length, width, name);
      g_ptr_array_add (c->problems, text);
    }
}

/* ---- Bars ---- */

static void
add_bar_layouts (Store *store, const FwCutting *c, const Group *group, const GArray *all, const FwNest *nest)
{
  const FwStock *stock = &c->mech->design->stock;
  for (int bin = 0; bin < nest->n_bins; bin++)
    {
      FwCutLayout layout = { .shape = FW_CUT_BAR, .stock = g_array_index (group->stock, int, (guint)nest->bin_kind[bin]) };
      GArray *places = g_array_new (FALSE, TRUE, sizeof (FwCutPlace));
      double at = 0, used = 0, length = stock->bars[layout.stock].length_mm;
      for (guint i = 0; i < all->len; i++)
        {
          FwCutPlace place = { .piece = g_array_index (all, int, i), .at_mm = at };
          if (nest->bin_of[i] != bin)
            continue;
          place.length_mm = piece_nth (c, place.piece)->length_mm;
          at += place.length_mm + stock->kerf_mm;
          used += place.length_mm;
          g_array_append_val (places, place);
        }
      layout.left_mm = fmax (length - at, 0);
      layout.used = used / length;
      layout.n_places = (int)places->len;
      layout.places = (FwCutPlace *)(gpointer)g_array_free (places, FALSE);
      g_array_append_val (store->layouts, layout);
    }
}

static void
lay_bars (FwCutting *c, Store *store, const Group *group)
{
  const FwStock *stock = &c->mech->design->stock;
  GArray *all = spread_out (c, group);
  double *lengths = g_new (double, all->len + 1), longest = 0;
  FwNestBar *bars = g_new (FwNestBar, group->stock->len);
  for (guint i = 0; i < all->len; i++)
    lengths[i] = piece_nth (c, g_array_index (all, int, i))->length_mm;
  for (guint k = 0; k < group->stock->len; k++)
    {
      int s = g_array_index (group->stock, int, k);
      bars[k] = (FwNestBar) { stock->bars[s].length_mm, store->bars[s] };
      longest = fmax (longest, bars[k].length);
    }
  FwNest *nest = fw_nest_bars (lengths, (int)all->len, bars, (int)group->stock->len, stock->kerf_mm);
  note_use (store, c, group, nest, longest);
  say_left (c, group, all, nest);
  add_bar_layouts (store, c, group, all, nest);
  fw_nest_free (nest);
  g_free (bars);
  g_free (lengths);
  g_array_free (all, TRUE);
}

/* ---- Sheets ---- */

/* With the grain along a sheet's height, a piece's length lies that way. All sheets of a group are
 * turned so that the grain runs along their width; grainless ones let a box turn. */
static FwNestSheet
as_nested (const FwStockSheet *sheet, int count)
{
  if (sheet->grain == FW_GRAIN_HEIGHT)
    return (FwNestSheet) { sheet->height_mm, sheet->width_mm, count };
  return (FwNestSheet) { sheet->width_mm, sheet->height_mm, count };
}

static void
add_sheet_layouts (Store *store, const FwCutting *c, const Group *group, const GArray *all, const FwNest *nest,
                   const FwNestPlace *at)
{
  const FwStock *stock = &c->mech->design->stock;
  for (int bin = 0; bin < nest->n_bins; bin++)
    {
      FwCutLayout layout = { .shape = FW_CUT_SHEET, .stock = g_array_index (group->stock, int, (guint)nest->bin_kind[bin]) };
      const FwStockSheet *sheet = &stock->sheets[layout.stock];
      gboolean upright = sheet->grain == FW_GRAIN_HEIGHT;
      GArray *places = g_array_new (FALSE, TRUE, sizeof (FwCutPlace));
      double used = 0;
      for (guint i = 0; i < all->len; i++)
        {
          if (nest->bin_of[i] != bin)
            continue;
          const FwCutPiece *p = piece_nth (c, g_array_index (all, int, i));
          FwCutPlace place = { .piece = g_array_index (all, int, i), .turned = at[i].turned != upright };
          place.at_mm = upright ? at[i].y : at[i].x;
          place.up_mm = upright ? at[i].x : at[i].y;
          place.length_mm = place.turned ? p->width_mm : p->length_mm;
          place.width_mm = place.turned ? p->length_mm : p->width_mm;
          used += p->length_mm * p->width_mm;
          g_array_append_val (places, place);
        }
      layout.used = used / (sheet->width_mm * sheet->height_mm);
      layout.n_places = (int)places->len;
      layout.places = (FwCutPlace *)(gpointer)g_array_free (places, FALSE);
      g_array_append_val (store->layouts, layout);
    }
}

static void
lay_sheets (FwCutting *c, Store *store, const Group *group)
{
  const FwStock *stock = &c->mech->design->stock;
  GArray *all = spread_out (c, group);
  FwNestBox *boxes = g_new (FwNestBox, all->len + 1);
  FwNestSheet *sheets = g_new (FwNestSheet, group->stock->len);
  FwNestPlace *places = g_new0 (FwNestPlace, all->len + 1);
  gboolean grain = FALSE;
  double largest = 0;
  for (guint k = 0; k < group->stock->len; k++)
    {
      int s = g_array_index (group->stock, int, k);
      sheets[k] = as_nested (&stock->sheets[s], store->sheets[s]);
      grain = grain || stock->sheets[s].grain != FW_GRAIN_NONE;
      largest = fmax (largest, sheets[k].width * sheets[k].height);
    }
  for (guint i = 0; i < all->len; i++)
    {
      const FwCutPiece *p = piece_nth (c, g_array_index (all, int, i));
      boxes[i] = (FwNestBox) { p->length_mm, p->width_mm, !grain };
    }
  FwNest *nest = fw_nest_sheets (boxes, (int)all->len, sheets, (int)group->stock->len, stock->kerf_mm, places);
  note_use (store, c, group, nest, largest);
  say_left (c, group, all, nest);
  add_sheet_layouts (store, c, group, all, nest, places);
  fw_nest_free (nest);
  g_free (places);
  g_free (sheets);
  g_free (boxes);
  g_array_free (all, TRUE);
}

/* ---- All of it ---- */

static void
say_missing (FwCutting *c)
{
  const FwStock *stock = &c->mech->design->stock;
  for (guint i = 0; i < c->pieces->len; i++)
    {
      const FwCutPiece *p = piece_nth (c, (int)i);
      gboolean stated = p->shape == FW_CUT_BAR ? stock->n_bars > 0 : stock->n_sheets > 0;
      if (p->stock < 0 && stated && p->length_mm > 0)
        g_ptr_array_add (c->problems, g_strdup_printf (_("There is no stock for %s (%s): %s."), p->part, p->made.letter, p->what));
    }
  if (stock->n_bars == 0)
    g_ptr_array_add (c->notes, g_strdup (_("The design states no bars in its stock, so no bars are laid out.")));
  if (stock->n_sheets == 0)
    g_ptr_array_add (c->notes, g_strdup (_("The design states no sheets in its stock, so no sheets are laid out.")));
}

void
fw_cutting_lay (FwCutting *c)
{
  const FwStock *stock = &c->mech->design->stock;
  Store store = { .bars = g_new0 (int, stock->n_bars + 1),
                  .sheets = g_new0 (int, stock->n_sheets + 1),
                  .layouts = g_array_new (FALSE, TRUE, sizeof (FwCutLayout)),
                  .uses = g_array_new (FALSE, TRUE, sizeof (FwCutUse)) };
  for (int i = 0; i < stock->n_bars; i++)
    store.bars[i] = stock->bars[i].count;
  for (int i = 0; i < stock->n_sheets; i++)
    store.sheets[i] = stock->sheets[i].count;
  GPtrArray *groups = find_groups (c);
  for (guint i = 0; i < groups->len; i++)
    {
      const Group *group = groups->pdata[i];
      if (group->shape == FW_CUT_BAR)
        lay_bars (c, &store, group);
      else
        lay_sheets (c, &store, group);
    }
  say_missing (c);
  FwCutList *list = c->list;
  list->n_layouts = (int)store.layouts->len;
  list->layouts = (FwCutLayout *)(gpointer)g_array_free (store.layouts, FALSE);
  list->n_uses = (int)store.uses->len;
  list->uses = (FwCutUse *)(gpointer)g_array_free (store.uses, FALSE);
  g_ptr_array_unref (groups);
  g_free (store.bars);
  g_free (store.sheets);
}
