/* The first pages: the square that checks the printer, what to do, the list of parts and a map of all
 * pages with the tiles put together. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "draw/shapes.h"
#include "shop/templatebuild.h"
#include "shop/templatepaint.h"

#define ROW 4.8          /* mm a line of the list */
#define ROW_TEXT 2.9
#define LETTERS 9.0      /* mm of a row for the letter */
#define PAGES 11.0       /* for the pages */
#define COLUMN_GAP 8.0
#define MOST_ROWS 24     /* in one column */
#define HEADING 7.5
#define BLOCK 8.0        /* mm between blocks */
#define CAPTION 7.6      /* under a picture of the map */
#define LEAST_CELL 17.0  /* mm: narrower pictures go to a page of their own */
#define LEAST_MAP 55.0   /* mm of map worth beginning with */
#define MOST_NOTES 34.0  /* mm */

/* ---- What is told ---- */

char *
fw_overview_notes (const FwTemplatePages *p)
{
  GString *text = g_string_new (NULL);
  for (int list = 0; list < 2; list++)
    {
      char **lines = list == 0 ? p->left_out : p->tmpl->notes;
      for (int i = 0; lines != NULL && lines[i] != NULL; i++)
        g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", lines[i]);
    }
  return g_string_free (text, FALSE);
}

static char *
instructions (const FwTemplatePages *p)
{
  gboolean tiled = FALSE;
  for (guint i = 0; i < p->pages->len; i++)
    tiled = tiled || g_array_index (p->pages, FwTemplatePage, i).kind == FW_PAGE_TILE;
  GString *text = g_string_new (NULL);
  g_string_append (text, _ ("The edge of a part is the middle of its line. Nothing is added for a saw or a "
                            "laser's kerf."));
  g_string_append (text, "\n\n");
  if (tiled)
    {
      g_string_append (text, _ ("Parts larger than a page are tiled. Trim a tile along one dashed line, lay "
                                "it on its neighbour's grey strip so that the crosses meet, and tape it. "
                                "Measure across the joints before you cut."));
      g_string_append (text, "\n\n");
    }
  g_string_append (text, _ ("Panels are seen from above, the front edge up the page; left ones are the right "
                            "ones' mirror images. Lay the grain along the arrow. Holes fit the rod or dowel "
                            "with a little room."));
  g_string_append (text, "\n\n");
  g_string_append (text, _ ("Try each part on the work before you glue."));
  return g_string_free (text, FALSE);
}

static FwPageWords
note_words (const FwTemplatePages *p)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  return (FwPageWords){ .size = 2.8, .width = p->frame_width, .colour = style.faint_ink };
}

static double
notes_height (const FwTemplatePages *p)
{
  g_autofree char *notes = fw_overview_notes (p);
  if (*notes == '\0')
    return 0;
  FwPageWords how = note_words (p);
  return fmin (fw_words_height (notes, &how), MOST_NOTES) + HEADING + BLOCK;
}

/* ---- The list ---- */

/* What the longest name and the longest stock need: measured once, for it is asked for with every row. */
static void
measure_list (FwTemplatePages *p)
{
  const FwPageWords how = { .size = ROW_TEXT };
  for (guint i = 0; i < p->tmpl->parts->len; i++)
    {
      const FwCutPart *c = p->tmpl->parts->pdata[i];
      g_autofree char *stock = fw_cut_part_stock (c, p->tmpl->lengths);
      p->names_mm = fmax (p->names_mm, fw_words_width (c->name, &how) + 3);
      p->stocks_mm = fmax (p->stocks_mm, fw_words_width (stock, &how) + 1.5);
    }
}

/* Two where all is readable in them, or where there are too many parts for one. */
static int
list_columns (const FwTemplatePages *p, int rows)
{
  if (rows <= 6 || p->frame_width <= 150)
    return 1;
  return rows > MOST_ROWS || p->names_mm + p->stocks_mm <= (p->frame_width - COLUMN_GAP) / 2 - LETTERS - PAGES ? 2 : 1;
}

static double
list_height (const FwTemplatePages *p, int rows)
{
  int columns = list_columns (p, rows);
  return rows == 0 ? 0 : HEADING + ROW * ((rows + columns - 1) / columns) + BLOCK;
}

/* Mm from a row's left end to the column of what parts are cut from: as far as names and stock best share the width. */
static double
stock_column (const FwTemplatePages *p, double width)
{
  double names = p->names_mm, stocks = p->stocks_mm, room = width - LETTERS - PAGES;
  return LETTERS + (names + stocks <= room ? fmin (names + 12, (names + room - stocks) / 2) : room * fmin (names / (names + stocks), 0.6));
}

static void
draw_row (cairo_t *cr, const FwTemplatePages *p, int part, double x, double y, double width, double middle)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  const FwCutPart *c = p->tmpl->parts->pdata[part];
  g_autofree char *stock = fw_cut_part_stock (c, p->tmpl->lengths);
  g_autofree char *where
      = p->page_of[part] < 0     ? g_strdup ("—")
        : p->pages_of[part] == 1 ? g_strdup_printf ("%d", p->page_of[part] + 1)
                                 : g_strdup_printf (C_ ("from page to page", "%d–%d"), p->page_of[part] + 1,
                                                    p->page_of[part] + p->pages_of[part]);
  FwPageWords how = { .size = ROW_TEXT, .bold = TRUE, .one_line = TRUE, .width = LETTERS, .colour = style.ink };
  fw_paint_words (cr, c->letter, x, y, &how);
  how.bold = FALSE;
  how.width = middle - LETTERS - 2;
  fw_paint_words (cr, c->name, x + LETTERS, y, &how);
  how.width = width - PAGES - middle - 1;
  how.colour = style.faint_ink;
  fw_paint_words (cr, stock, x + middle, y, &how);
  how = (FwPageWords){ .size = ROW_TEXT, .one_line = TRUE, .width = PAGES, .align = 1, .colour = style.ink };
  fw_paint_words (cr, where, x + width, y, &how);
}

static double
draw_heading (cairo_t *cr, const FwTemplatePages *p, const char *words, double y)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  FwPageWords how = { .size = 3.6, .bold = TRUE, .colour = style.ink };
  fw_paint_words (cr, words, p->frame_x, y, &how);
  return y + HEADING;
}

/* A to Z, AA and so on; what has no letter comes last, and else all as it was. */
static int
compare_letters (gconstpointer a, gconstpointer b, gpointer data)
{
  const FwTemplatePages *p = data;
  int i = *(const int *)a, k = *(const int *)b;
  const FwCutPart *x = p->tmpl->parts->pdata[i], *y = p->tmpl->parts->pdata[k];
  int short_x = (int)strlen (x->letter), short_y = (int)strlen (y->letter);
  if (short_x == 0 || short_y == 0)
    return short_x == short_y ? i - k : short_y - short_x;
  int order = short_x != short_y ? short_x - short_y : strcmp (x->letter, y->letter);
  return order != 0 ? order : i - k;
}

int *
fw_overview_rows (const FwTemplatePages *p)
{
  int n = (int)p->tmpl->parts->len, *rows = g_new (int, n + 1);
  for (int i = 0; i < n; i++)
    rows[i] = i;
  g_qsort_with_data (rows, n, sizeof *rows, compare_letters, (gpointer)p);
  return rows;
}

static void
draw_list (cairo_t *cr, const FwTemplatePages *p, const FwTemplatePage *page, double y)
{
  g_autofree int *rows = fw_overview_rows (p);
  int columns = list_columns (p, page->n_rows), lines = (page->n_rows + columns - 1) / columns;
  double gap = COLUMN_GAP, width = (p->frame_width - gap * (columns - 1)) / columns;
  double middle = stock_column (p, width);
  y = draw_heading (cr, p, _ ("Parts, and the pages they are on"), y);
  for (int i = 0; i < page->n_rows; i++)
    draw_row (cr, p, rows[page->first_row + i], p->frame_x + (i / lines) * (width + gap),
              y + ROW * (i % lines), width, middle);
}

/* ---- The map ---- */

/* Columns that make the pictures largest; 0: they would be too small. */
static int
map_columns (const FwTemplatePages *p, int cells, double height, double *cell_width)
{
  double shape = p->height_mm / p->width_mm, best = 0;
  int columns = 0;
  for (int c = 1; c <= 12 && c <= MAX (cells, 4); c++)
    {
      int rows = (cells + c - 1) / c;
      double w = fmin ((p->frame_width - 6 * (c - 1)) / c,
                       ((height - HEADING) / rows - CAPTION - 3) / shape);
      if (w > best + 1e-9)
        {
          best = w;
          columns = c;
        }
    }
  *cell_width = fmin (best, 52);
  return best < LEAST_CELL && cells > 1 ? 0 : columns;
}

/* The most cells, up to `cells`, that a height takes. */
static int
map_takes (const FwTemplatePages *p, int cells, double height)
{
  double width;
  while (cells > 1 && map_columns (p, cells, height, &width) == 0)
    cells--;
  return cells;
}

static void
draw_map_part (cairo_t *cr, const FwCutPart *part, const FwPagePart *at, double scale)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  FwMaterialLook look = fw_material_look (part->material, FW_THEME_PRINT);
  fw_paint_edge (cr, part, at);
  fw_set_colour (cr, fw_colour_mix (look.fill, (FwColour){ 1, 1, 1, 1 }, 0.45));
  cairo_fill_preserve (cr);
  fw_set_colour (cr, style.ink);
  cairo_set_line_width (cr, 0.2 / scale);
  cairo_stroke (cr);
  if (*part->letter == '\0')
    return;
  FwVec2 middle = fw_page_point (at, fw_vec2 ((part->cut_low.x + part->cut_high.x) / 2,
                                              (part->cut_low.y + part->cut_high.y) / 2));
  double reach = fmin (part->cut_high.x - part->cut_low.x, part->cut_high.y - part->cut_low.y);
  FwPageWords how = { .size = CLAMP (0.5 * reach, 1.4 / scale, 3.4 / scale), .bold = TRUE, .align = 0.5,
                      .colour = style.ink };
  fw_paint_words (cr, part->letter, middle.x, middle.y - 0.62 * how.size, &how);
}

static void
draw_map_page (cairo_t *cr, const FwTemplatePages *p, const FwTemplatePage *page, double x, double y,
               double width)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  double scale = width / p->width_mm;
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  cairo_rectangle (cr, 0, 0, p->width_mm, p->height_mm);
  fw_set_colour (cr, style.faint_ink);
  cairo_set_line_width (cr, 0.2 / scale);
  cairo_stroke (cr);
  for (int i = page->first; i < page->first + page->n; i++)
    {
      const FwPagePart *at = &g_array_index (p->placed, FwPagePart, i);
      draw_map_part (cr, p->tmpl->parts->pdata[at->part], at, scale);
    }
  cairo_restore (cr);
}

/* All tiles of a part put together, in a box. */
static void
draw_map_tiles (cairo_t *cr, const FwTemplatePages *p, int first_page, double x, double y, double width,
                double height)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  const FwTemplatePage *first = &g_array_index (p->pages, FwTemplatePage, first_page);
  double o = FW_TILE_OVERLAP, w = p->frame_width, h = p->frame_height;
  double across = first->columns * (w - o) + o, down = first->rows * (h - o) + o;
  double scale = fmin (width / across, height / down);
  const FwPagePart *at = &g_array_index (p->placed, FwPagePart, first->first);
  cairo_save (cr);
  cairo_translate (cr, x + (width - across * scale) / 2, y + (height - down * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_save (cr);
  cairo_translate (cr, -p->frame_x, -p->frame_y);
  draw_map_part (cr, p->tmpl->parts->pdata[at->part], at, scale);
  cairo_restore (cr);
  cairo_set_line_width (cr, 0.2 / scale);
  double seen = fmin (w, h) * scale, size = CLAMP (0.3 * seen, 1.2, 2.6) / scale;
  for (int row = 0; row < first->rows; row++)
    for (int column = 0; column < first->columns; column++)
      {
        char name[24];
        double cx = column * (w - o), cy = row * (h - o);
        fw_tile_name (column, row, name);
        g_autofree char *words
            = g_strdup_printf ("%s · %d", name, first_page + row * first->columns + column + 1);
        fw_set_colour (cr, style.faint_ink);
        cairo_rectangle (cr, cx + o / 2, cy + o / 2, w - o, h - o);
        cairo_stroke (cr);
        FwPageWords how = { .size = fmin (size, 0.2 * w), .align = 0.5, .colour = style.ink };
        fw_paint_words (cr, seen > 9 ? words : name, cx + w / 2, cy + o / 2 + 0.06 * h, &how);
      }
  cairo_restore (cr);
}

static char *
cell_caption (const FwTemplatePages *p, const FwMapCell *cell)
{
  if (cell->n_pages == 1)
    return g_strdup_printf (_ ("page %d"), cell->page + 1);
  const FwTemplatePage *page = &g_array_index (p->pages, FwTemplatePage, cell->page);
  const FwCutPart *part
      = p->tmpl->parts->pdata[g_array_index (p->placed, FwPagePart, page->first).part];
  return g_strdup_printf (_ ("%s\npages %d–%d"), part->name, cell->page + 1,
                          cell->page + cell->n_pages);
}

static void
draw_map (cairo_t *cr, const FwTemplatePages *p, const FwTemplatePage *page, double y, double height)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  double width;
  int columns = map_columns (p, page->n_cells, height, &width);
  if (columns == 0)
    columns = 1;
  y = draw_heading (cr, p, _ ("Map of the pages"), y);
  double tall = width * p->height_mm / p->width_mm, step = tall + CAPTION + 3;
  double gap = columns > 1 ? fmin ((p->frame_width - columns * width) / (columns - 1), 10) : 0;
  for (int i = 0; i < page->n_cells; i++)
    {
      const FwMapCell *cell = &g_array_index (p->cells, FwMapCell, page->first_cell + i);
      const FwTemplatePage *shown = &g_array_index (p->pages, FwTemplatePage, cell->page);
      double x = p->frame_x + (i % columns) * (width + gap), top = y + (i / columns) * step;
      if (shown->kind == FW_PAGE_TILE)
        draw_map_tiles (cr, p, cell->page, x, top, width, tall);
      else
        draw_map_page (cr, p, shown, x, top, width);
      g_autofree char *caption = cell_caption (p, cell);
      FwPageWords how = { .size = 2.5, .align = 0.5, .width = width + gap * 0.9,
                          .colour = style.ink };
      fw_paint_words (cr, caption, x + width / 2, top + tall + 0.7, &how);
    }
}

/* ---- Pages ---- */

GArray *
fw_overview_plan (FwTemplatePages *p)
{
  GArray *plan = g_array_new (FALSE, FALSE, sizeof (FwTemplatePage));
  int rows = (int)p->tmpl->parts->len, cells = (int)p->cells->len, row = 0, cell = 0;
  measure_list (p);
  do
    {
      FwTemplatePage page = { .kind = FW_PAGE_OVERVIEW, .square = plan->len == 0, .first_row = row,
                              .first_cell = cell };
      double room = p->frame_height;
      if (page.square)
        room -= FW_CHECK_SQUARE + BLOCK + notes_height (p);
      while (page.n_rows < rows - row && list_height (p, page.n_rows + 1) <= room)
        page.n_rows++;
      room -= list_height (p, page.n_rows);
      row += page.n_rows;
      if (row == rows && cell < cells && (room >= LEAST_MAP || page.n_rows == 0))
        page.n_cells = map_takes (p, cells - cell, room);
      cell += page.n_cells;
      g_array_append_val (plan, page);
    }
  while (row < rows || cell < cells);
  return plan;
}

static double
draw_square_block (cairo_t *cr, const FwTemplatePages *p, double y)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  double x = p->frame_x + FW_CHECK_SQUARE + 8;
  fw_paint_square (cr, p->frame_x, y, p->tmpl->lengths, NULL);
  g_autofree char *text = instructions (p);
  FwPageWords how = { .size = 3.6, .bold = TRUE, .colour = style.ink };
  fw_paint_words (cr, _ ("Before you cut"), x, y, &how);
  how = (FwPageWords){ .size = 3.1, .colour = style.ink, .width = fmin (p->frame_x + p->frame_width - x, 110) };
  fw_paint_words (cr, text, x, y + HEADING, &how);
  return y + FW_CHECK_SQUARE + BLOCK;
}

void
fw_overview_draw (cairo_t *cr, const FwTemplatePages *p, const FwTemplatePage *page)
{
  double y = p->frame_y, bottom = p->frame_y + p->frame_height;
  if (page->square)
    {
      y = draw_square_block (cr, p, y);
      g_autofree char *notes = fw_overview_notes (p);
      double tall = notes_height (p);
      if (tall > 0)
        {
          FwPageWords how = note_words (p);
          bottom -= tall;
          double at = draw_heading (cr, p, _ ("Notes"), bottom + BLOCK);
          cairo_save (cr);
          cairo_rectangle (cr, p->frame_x, at, p->frame_width, MOST_NOTES);
          cairo_clip (cr);
          fw_paint_words (cr, notes, p->frame_x, at, &how);
          cairo_restore (cr);
        }
    }
  if (page->n_rows > 0)
    draw_list (cr, p, page, y);
  y += list_height (p, page->n_rows);
  if (page->n_cells > 0)
    draw_map (cr, p, page, y, bottom - y);
}
