#include "shop/cutdraw.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/forms.h"
#include "draw/view.h"
#include "shop/logink.h"

#define HEADING 1.7 /* height of the line of words, in sizes of the type */
#define BAR 1.9     /* thickness of a bar as drawn */
#define FIGURES 1.4 /* room under a bar for lengths */
#define EDGE 1.0

static double
line_of (const FwStyle *style)
{
  return style->text;
}

double
fw_cut_layout_scale (const FwCutList *list, const FwStock *stock, FwCutShape shape, double width,
                     const FwStyle *style)
{
  double longest = 1, highest = 1;
  for (int i = 0; i < list->n_layouts; i++)
    {
      const FwCutLayout *layout = &list->layouts[i];
      if (layout->shape != shape)
        continue;
      longest = fmax (longest, shape == FW_CUT_BAR ? stock->bars[layout->stock].length_mm
                                                   : stock->sheets[layout->stock].width_mm);
      highest = fmax (highest, shape == FW_CUT_BAR ? 0 : stock->sheets[layout->stock].height_mm);
    }
  double scale = fmax (width - 2 * EDGE, 1) / longest;
  /* A sheet that stands upright is not drawn higher than the page is wide. */
  return shape == FW_CUT_BAR ? scale : fmin (scale, fmax (width - 2 * EDGE, 1) / highest);
}

double
fw_cut_layout_height (const FwCutList *list, const FwStock *stock, const FwCutLayout *layout, double scale,
                      const FwStyle *style)
{
  double line = line_of (style);
  if (layout->shape == FW_CUT_BAR)
    return (HEADING + BAR + FIGURES) * line + 2 * EDGE;
  return HEADING * line + stock->sheets[layout->stock].height_mm * scale + 2 * EDGE;
}

/* ---- Words ---- */

static char *
length_text (double mm, FwLengths lengths)
{
  return fw_units_format (mm, FW_UNIT_MM, lengths, -1);
}

static char *
stock_size (const FwStock *stock, const FwCutLayout *layout, FwLengths lengths)
{
  if (layout->shape == FW_CUT_BAR)
    return length_text (stock->bars[layout->stock].length_mm, lengths);
  const FwStockSheet *sheet = &stock->sheets[layout->stock];
  g_autofree char *width = fw_units_format_bare (sheet->width_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *height = length_text (sheet->height_mm, lengths);
  return g_strdup_printf ("%s × %s", width, height);
}

static const char *
stock_name (const FwStock *stock, const FwCutLayout *layout)
{
  return layout->shape == FW_CUT_BAR ? stock->bars[layout->stock].name : stock->sheets[layout->stock].name;
}

/* What is left, for the end of the heading. */
static char *
waste_text (const FwCutLayout *layout, FwLengths lengths)
{
  if (layout->shape == FW_CUT_SHEET)
    /* Translators: share of a sheet that becomes parts */
    return g_strdup_printf (_ ("%.0f %% used"), 100 * layout->used);
  g_autofree char *left = length_text (layout->left_mm, lengths);
  /* Translators: %s is a length */
  return g_strdup_printf (_ ("%s left over"), left);
}

char *
fw_cut_layout_words (const FwCutList *list, const FwStock *stock, const FwCutLayout *layout, FwLengths lengths)
{
  g_autofree char *size = stock_size (stock, layout, lengths), *waste = waste_text (layout, lengths);
  g_autoptr (GString) pieces = g_string_new (NULL);
  for (int i = 0; i < layout->n_places; i++)
    {
      const FwCutPlace *place = &layout->places[i];
      g_autofree char *length = length_text (place->length_mm, lengths);
      g_string_append_printf (pieces, "%s%s %s", i > 0 ? ", " : "", list->pieces[place->piece].made.letter, length);
    }
  /* Translators: a bar or sheet, its size, what is cut from it, what is left: "tube 10, 1000 mm: A 120
   * mm, B 80 mm; 798 mm left over" */
  return g_strdup_printf (_ ("%s, %s: %s; %s"), stock_name (stock, layout), size, pieces->str, waste);
}

/* ---- Paint ---- */

static void
draw_heading (cairo_t *cr, const FwStock *stock, const FwCutLayout *layout, double width, const FwStyle *style)
{
  g_autofree char *size = stock_size (stock, layout, style->lengths), *waste = waste_text (layout, style->lengths);
  const char *name = stock_name (stock, layout);
  const FwInk bold = { .size = style->text, .bold = TRUE }, plain = { .size = style->text };
  const FwInk right = { .size = style->text, .align = 1 };
  fw_ink_draw (cr, name, &bold, 0, 0, style->ink);
  fw_ink_draw (cr, size, &plain, fw_ink_width (name, &bold) + 0.8 * style->text, 0, style->faint_ink);
  fw_ink_draw (cr, waste, &right, width, 0, style->faint_ink);
}

static void
hatch (cairo_t *cr, double x, double y, double width, double height, const FwStyle *style)
{
  if (width < 2)
    return;
  cairo_save (cr);
  cairo_rectangle (cr, x, y, width, height);
  cairo_clip (cr);
  double step = 0.6 * style->text;
  for (double at = x - height; at < x + width; at += step)
    {
      cairo_move_to (cr, at, y + height);
      cairo_line_to (cr, at + height, y);
    }
  fw_set_colour (cr, style->grid);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
outline (cairo_t *cr, FwColour fill, FwColour edge, double width)
{
  fw_set_colour (cr, fill);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, edge);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

/* Dark words on light stuff, light ones on dark. */
static FwColour
ink_on (FwColour fill)
{
  double grey = 0.3 * fill.r + 0.59 * fill.g + 0.11 * fill.b;
  return grey > 0.5 ? (FwColour){ 0.10, 0.09, 0.08, 1 } : (FwColour){ 0.97, 0.95, 0.92, 1 };
}

/* A word in the middle of a box if it has room there. */
static void
word_within (cairo_t *cr, const char *text, const FwInk *ink, const FwBox *box, FwColour colour)
{
  double height = fw_ink_height (text, ink);
  if (fw_ink_width (text, ink) + 3 <= box->width && height <= box->height + 2)
    fw_ink_draw (cr, text, ink, box->x + box->width / 2, box->y + (box->height - height) / 2, colour);
}

gboolean
fw_cut_figures_place (const double *middles, const double *widths, int n, double right, double *places)
{
  /* From the left and from the right, and half way between the two. */
  double end = right;
  for (int i = 0; i < n; i++)
    places[i] = fmax (middles[i] - widths[i] / 2, i > 0 ? places[i - 1] + widths[i - 1] : 0);
  for (int i = n - 1; i >= 0; i--)
    {
      end = fmin (middles[i] + widths[i] / 2, end) - widths[i];
      places[i] = (places[i] + end) / 2;
    }
  /* Either end may still be passed. */
  for (int i = 0; i < n; i++)
    places[i] = fmax (places[i], i > 0 ? places[i - 1] + widths[i - 1] : 0);
  end = right;
  for (int i = n - 1; i >= 0; i--)
    end = places[i] = fmin (places[i], end - widths[i]);
  return n == 0 || places[0] >= 0;
}

/* Lengths under the pieces of a bar; a piece too short for its letter has it there. */
static void
draw_figures (cairo_t *cr, const FwCutList *list, const FwCutLayout *layout, double scale, double y, double right, const FwStyle *style)
{
  int n = layout->n_places;
  const FwInk letter = { .size = style->text, .bold = TRUE }, figure = { .size = 0.85 * style->text };
  g_autofree double *middles = g_new (double, n + 1), *widths = g_new (double, n + 1), *places = g_new (double, n + 1);
  g_auto (GStrv) words = g_new0 (char *, n + 1);
  for (int i = 0; i < n; i++)
    {
      const FwCutPlace *place = &layout->places[i];
      const char *name = list->pieces[place->piece].made.letter;
      g_autofree char *length = fw_units_format_bare (place->length_mm, FW_UNIT_MM, style->lengths, -1);
      gboolean told = fw_ink_width (name, &letter) + 3 <= place->length_mm * scale;
      words[i] = told ? g_strdup (length) : g_strdup_printf ("%s %s", name, length);
      middles[i] = EDGE + (place->at_mm + place->length_mm / 2) * scale;
      widths[i] = fw_ink_width (words[i], &figure) + 0.4 * style->text;
    }
  gboolean all = fw_cut_figures_place (middles, widths, n, right, places);
  double drop = FIGURES * line_of (style) - fw_ink_height ("0", &figure);
  for (int i = 0; i < n; i++)
    {
      double middle = places[i] + widths[i] / 2;
      if (!all && widths[i] > layout->places[i].length_mm * scale)
        continue;
      fw_ink_draw (cr, words[i], &figure, (all ? places[i] : middles[i] - widths[i] / 2) + 0.2 * style->text, y + drop, style->faint_ink);
      if (!all || fabs (middle - middles[i]) < 1)
        continue;
      cairo_move_to (cr, middles[i], y);
      cairo_line_to (cr, middle, y + drop);
      cairo_set_line_width (cr, style->thin);
      cairo_stroke (cr);
    }
}

static void
draw_bar (cairo_t *cr, const FwCutList *list, const FwStock *stock, const FwCutLayout *layout, double scale,
          const FwStyle *style)
{
  double line = line_of (style), y = HEADING * line, thick = BAR * line;
  double length = stock->bars[layout->stock].length_mm * scale, x = EDGE, end = 0;
  const FwInk letter = { .size = style->text, .bold = TRUE, .align = 0.5 };
  for (int i = 0; i < layout->n_places; i++)
    end = fmax (end, layout->places[i].at_mm + layout->places[i].length_mm);
  hatch (cr, x + end * scale, y, length - end * scale, thick, style);
  cairo_rectangle (cr, x, y, length, thick);
  fw_set_colour (cr, style->faint_ink);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  for (int i = 0; i < layout->n_places; i++)
    {
      const FwCutPlace *place = &layout->places[i];
      const FwCutPiece *piece = &list->pieces[place->piece];
      FwMaterialLook look = fw_material_look (stock->bars[layout->stock].material, style->theme);
      const FwBox box = { x + place->at_mm * scale, y, place->length_mm * scale, thick };
      cairo_rectangle (cr, box.x, box.y, box.width, box.height);
      outline (cr, look.fill, look.edge, style->thin);
      word_within (cr, piece->made.letter, &letter, &box, ink_on (look.fill));
    }
  draw_figures (cr, list, layout, scale, y + thick, x + length, style);
}

/* A panel's outline within its place; a rectangle for everything else. */
static void
piece_path (cairo_t *cr, const FwDesign *design, const FwCutPiece *piece, const FwCutPlace *place,
            const FwBox *box, double scale)
{
  FwVec2 buffer[FW_FORM_OUTLINE];
  int n = 0;
  const FwVec2 *given = piece->made.kind == FW_MADE_PANEL
                            ? fw_form_outline (design, piece->made.index, buffer, &n)
                            : NULL;
  if (given == NULL || n < 3)
    {
      cairo_rectangle (cr, box->x, box->y, box->width, box->height);
      return;
    }
  FwVec2 low = given[0], high = given[0];
  for (int i = 1; i < n; i++)
    {
      low = (FwVec2){ fmin (low.x, given[i].x), fmin (low.y, given[i].y) };
      high = (FwVec2){ fmax (high.x, given[i].x), fmax (high.y, given[i].y) };
    }
  for (int i = 0; i < n; i++)
    {
      double u = (given[i].x - low.x) * scale, v = (given[i].y - low.y) * scale;
      cairo_line_to (cr, box->x + (place->turned ? v : u), box->y + box->height - (place->turned ? u : v));
    }
  cairo_close_path (cr);
}

static void
draw_sheet (cairo_t *cr, const FwCutList *list, const FwDesign *design, const FwCutLayout *layout, double scale,
            const FwStyle *style)
{
  const FwStockSheet *sheet = &design->stock.sheets[layout->stock];
  double y = HEADING * line_of (style), width = sheet->width_mm * scale, height = sheet->height_mm * scale;
  const FwInk letter = { .size = 1.2 * style->text, .bold = TRUE, .align = 0.5 };
  cairo_rectangle (cr, EDGE, y, width, height);
  fw_set_colour (cr, style->panel_ground);
  cairo_fill (cr);
  hatch (cr, EDGE, y, width, height, style);
  cairo_rectangle (cr, EDGE, y, width, height);
  fw_set_colour (cr, style->faint_ink);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  for (int i = 0; i < layout->n_places; i++)
    {
      const FwCutPlace *place = &layout->places[i];
      const FwCutPiece *piece = &list->pieces[place->piece];
      FwMaterialLook look = fw_material_look (sheet->material, style->theme);
      const FwBox box = { EDGE + place->at_mm * scale, y + height - (place->up_mm + place->width_mm) * scale,
                          place->length_mm * scale, place->width_mm * scale };
      piece_path (cr, design, piece, place, &box, scale);
      outline (cr, look.fill, look.edge, style->thin);
      word_within (cr, piece->made.letter, &letter, &box, ink_on (look.fill));
    }
}

void
fw_cut_layout_draw (cairo_t *cr, const FwCutList *list, const FwDesign *design, const FwCutLayout *layout,
                    double width, double scale, const FwStyle *style)
{
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  if (layout->shape == FW_CUT_BAR)
    {
      draw_heading (cr, &design->stock, layout, width, style);
      draw_bar (cr, list, &design->stock, layout, scale, style);
    }
  else
    {
      double wide = design->stock.sheets[layout->stock].width_mm * scale + 2 * EDGE;
      draw_heading (cr, &design->stock, layout, fmin (fmax (wide, 22 * style->text), width), style);
      draw_sheet (cr, list, design, layout, scale, style);
    }
  cairo_restore (cr);
}
