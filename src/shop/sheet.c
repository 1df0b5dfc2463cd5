#include "shop/sheet.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "draw/shapes.h"
#include "shop/cutinner.h"
#include "shop/sheetpack.h"
#include "shop/templatebuild.h"

static void
free_sheet (FwLaserSheet *sheet)
{
  g_free (sheet->material);
  g_array_free (sheet->placed, TRUE);
  g_free (sheet);
}

static const FwCutPart *
part_at (const FwTemplate *tmpl, int i)
{
  return tmpl->parts->pdata[i];
}

static gboolean
same_stock (const FwCutPart *part, const char *material, double thickness_mm)
{
  return fabs (part->thickness_mm - thickness_mm) < 0.05
         && g_ascii_strcasecmp (part->material, material) == 0;
}

/* As the cut list has it, which takes any ply or board for the plate. */
static gboolean
cut_from (const FwCutPart *part, const FwStockSheet *sheet)
{
  const FwCutNeed need = { .material = part->kind == FW_TEMPLATE_PLATE ? NULL : part->material,
                           .thickness_mm = part->thickness_mm,
                           .stuff = part->stuff };
  return fw_cutting_sheet_suits (&need, sheet);
}

/* The first sheet of the stock that this is cut from and that is large enough, else the first it is
 * cut from; -1: none. */
static int
stock_for (const FwStock *stock, const FwCutPart *part, double longest)
{
  int found = -1;
  for (int i = 0; stock != NULL && i < stock->n_sheets; i++)
    {
      const FwStockSheet *s = &stock->sheets[i];
      if (!cut_from (part, s))
        continue;
      if (fmax (s->width_mm, s->height_mm) >= longest + 2 * FW_SHEET_EDGE)
        return i;
      found = found < 0 ? i : found;
    }
  return found;
}

/* Which way up a part may lie. */
static FwPackWay
way_of (const FwCutPart *part, FwGrain grain)
{
  if (part->kind != FW_TEMPLATE_PANEL || grain == FW_GRAIN_NONE)
    return FW_PACK_EITHER;
  return grain == FW_GRAIN_WIDTH ? FW_PACK_FLAT : FW_PACK_TURNED;
}

typedef struct
{
  const FwTemplate *tmpl;
  GArray *parts; /* int: as many times as each is cut */
  GPtrArray *left_out;
  double width_mm, height_mm;
  FwGrain grain;
  int stock; /* sheet of the stock; -1: none */
} Group;

static FwPagePart
placement (const Group *g, const FwPackBox *box, int index)
{
  const FwCutPart *part = part_at (g->tmpl, index);
  double x = FW_SHEET_EDGE + box->x, y = FW_SHEET_EDGE + box->y;
  return box->turned ? (FwPagePart){ index, { x + part->cut_high.y, y - part->cut_low.x }, TRUE }
                     : (FwPagePart){ index, { x - part->cut_low.x, y - part->cut_low.y }, FALSE };
}

static void
leave_out (const Group *g, int index)
{
  const FwCutPart *part = part_at (g->tmpl, index);
  FwLengths l = g->tmpl->lengths;
  g_autofree char *w = fw_cut_length (part->cut_high.x - part->cut_low.x, l);
  g_autofree char *h = fw_cut_length (part->cut_high.y - part->cut_low.y, l);
  g_autofree char *sw = fw_cut_length (g->width_mm, l), *sh = fw_cut_length (g->height_mm, l);
  g_ptr_array_add (g->left_out,
                   g_strdup_printf (_ ("%s measures %s by %s, more than a sheet of %s by %s takes with its "
                                       "edge of 5 mm, and is left out"),
                                    part->name, w, h, sw, sh));
}

static int
lay_group (const Group *g, GPtrArray *sheets)
{
  int n = (int)g->parts->len, first = (int)sheets->len;
  FwPackBox *boxes = g_new0 (FwPackBox, n + 1);
  for (int i = 0; i < n; i++)
    {
      const FwCutPart *part = part_at (g->tmpl, g_array_index (g->parts, int, i));
      boxes[i] = (FwPackBox){ .width = part->cut_high.x - part->cut_low.x,
                              .height = part->cut_high.y - part->cut_low.y,
                              .way = way_of (part, g->grain) };
    }
  int used = fw_pack (boxes, n, g->width_mm - 2 * FW_SHEET_EDGE, g->height_mm - 2 * FW_SHEET_EDGE,
                      FW_SHEET_GAP);
  for (int s = 0; s < used; s++)
    {
      const FwCutPart *part = part_at (g->tmpl, g_array_index (g->parts, int, 0));
      FwLaserSheet *sheet = g_new0 (FwLaserSheet, 1);
      *sheet = (FwLaserSheet){ g_strdup (part->material), part->thickness_mm, g->width_mm, g->height_mm,
                               g_array_new (FALSE, FALSE, sizeof (FwPagePart)) };
      g_ptr_array_add (sheets, sheet);
    }
  for (int i = 0; i < n; i++)
    {
      int index = g_array_index (g->parts, int, i);
      if (boxes[i].sheet < 0)
        {
          if (i == 0 || g_array_index (g->parts, int, i - 1) != index)
            leave_out (g, index);
          continue;
        }
      FwPagePart at = placement (g, &boxes[i], index);
      g_array_append_val (((FwLaserSheet *)sheets->pdata[first + boxes[i].sheet])->placed, at);
    }
  g_free (boxes);
  return used;
}

static void
gather (Group *g, const FwCutPart *like, gboolean *done)
{
  g_array_set_size (g->parts, 0);
  for (guint i = 0; i < g->tmpl->parts->len; i++)
    {
      const FwCutPart *part = part_at (g->tmpl, (int)i);
      if (done[i] || !same_stock (part, like->material, like->thickness_mm))
        continue;
      done[i] = TRUE;
      for (int k = 0; k < part->count; k++)
        g_array_append_val (g->parts, i);
    }
}

static void
choose_sheet (Group *g, const FwStock *stock, double width_mm, double height_mm)
{
  double longest = 0;
  for (guint i = 0; i < g->parts->len; i++)
    {
      const FwCutPart *part = part_at (g->tmpl, g_array_index (g->parts, int, i));
      longest = fmax (longest, fmax (part->cut_high.x - part->cut_low.x, part->cut_high.y - part->cut_low.y));
    }
  const FwCutPart *part = part_at (g->tmpl, g_array_index (g->parts, int, 0));
  g->stock = width_mm > 0 ? -1 : stock_for (stock, part, longest);
  g->grain = g->stock < 0 ? FW_GRAIN_NONE : stock->sheets[g->stock].grain;
  g->width_mm = width_mm > 0 ? width_mm : g->stock < 0 ? FW_SHEET_WIDTH : stock->sheets[g->stock].width_mm;
  g->height_mm
      = width_mm > 0 ? height_mm : g->stock < 0 ? FW_SHEET_HEIGHT : stock->sheets[g->stock].height_mm;
}

FwLaserSheets *
fw_laser_sheets_new (const FwTemplate *tmpl, const FwStock *stock, double width_mm, double height_mm)
{
  FwLaserSheets *all = g_new0 (FwLaserSheets, 1);
  all->tmpl = tmpl;
  all->sheets = g_ptr_array_new_with_free_func ((GDestroyNotify)free_sheet);
  gboolean *done = g_new0 (gboolean, tmpl->parts->len + 1);
  Group g = { .tmpl = tmpl, .parts = g_array_new (FALSE, FALSE, sizeof (int)),
              .left_out = g_ptr_array_new () };
  for (guint i = 0; i < tmpl->parts->len; i++)
    {
      if (done[i])
        continue;
      gather (&g, part_at (tmpl, (int)i), done);
      choose_sheet (&g, stock, width_mm, height_mm);
      int used = lay_group (&g, all->sheets);
      if (g.stock < 0 || stock->sheets[g.stock].count == FW_STOCK_ENDLESS
          || used <= stock->sheets[g.stock].count)
        continue;
      g_ptr_array_add (g.left_out,
                       g_strdup_printf (ngettext ("%s: %d sheet is needed, and the stock has %d",
                                                  "%s: %d sheets are needed, and the stock has %d",
                                                  (gulong)used),
                                        stock->sheets[g.stock].name, used, stock->sheets[g.stock].count));
    }
  g_ptr_array_add (g.left_out, NULL);
  all->left_out = (char **)g_ptr_array_free (g.left_out, FALSE);
  g_array_free (g.parts, TRUE);
  g_free (done);
  return all;
}

void
fw_laser_sheets_free (FwLaserSheets *all)
{
  if (all == NULL)
    return;
  g_ptr_array_free (all->sheets, TRUE);
  g_strfreev (all->left_out);
  g_free (all);
}
