/* A page of templates: its head and foot, its parts, and the marks that join tiles. */
#include <glib/gi18n.h>
#include <math.h>

#include "draw/shapes.h"
#include "shop/templatepaint.h"

#define FOOT 15.0
#define HEAD 12.0
#define ARM 5.0 /* mm of a cross */

static const FwTemplatePage *
page_at (const FwTemplatePages *p, int i)
{
  return &g_array_index (p->pages, FwTemplatePage, i);
}

static const FwPagePart *
placed_at (const FwTemplatePages *p, int i)
{
  return &g_array_index (p->placed, FwPagePart, i);
}

/* ---- Head and foot ---- */

static void
rule (cairo_t *cr, double x0, double x1, double y, FwColour colour)
{
  fw_set_colour (cr, colour);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_width (cr, FW_THIN / 2);
  cairo_move_to (cr, x0, y);
  cairo_line_to (cr, x1, y);
  cairo_stroke (cr);
}

/* What the page shows, for its head; free with g_free. */
static char *
page_subject (const FwTemplatePages *p, const FwTemplatePage *page)
{
  if (page->kind == FW_PAGE_OVERVIEW)
    return g_strdup (_ ("Templates at true size"));
  if (page->kind == FW_PAGE_PARTS)
    return g_strdup (_ ("Whole parts"));
  const FwCutPart *part = p->tmpl->parts->pdata[placed_at (p, page->first)->part];
  char name[24];
  fw_tile_name (page->column, page->row, name);
  g_autofree char *who = g_strstrip (g_strdup_printf ("%s %s", part->letter, part->name));
  /* Translators: a part, and which of its tiles */
  return g_strdup_printf (_ ("%s, tile %s"), who, name);
}

static void
draw_head (cairo_t *cr, const FwTemplatePages *p, int index, const FwStyle *style)
{
  double left = p->frame_x, right = left + p->frame_width, y = p->frame_y - HEAD;
  g_autofree char *subject = page_subject (p, page_at (p, index));
  g_autofree char *number
      = g_strdup_printf (_ ("page %d of %d"), index + 1, fw_template_pages_count (p));
  FwPageWords how = { .size = 4, .bold = TRUE, .one_line = TRUE, .colour = style->ink,
                      .width = 0.46 * p->frame_width };
  fw_paint_words (cr, p->tmpl->title, left, y + 1.6, &how);
  how = (FwPageWords){ .size = 3.3, .one_line = TRUE, .colour = style->ink, .align = 1,
                       .width = 0.52 * p->frame_width };
  g_autofree char *both = g_strdup_printf ("%s  ·  %s", subject, number);
  fw_paint_words (cr, both, right, y + 2.1, &how);
  rule (cr, left, right, p->frame_y - 3.5, style->faint_ink);
}

static void
legend_sample (cairo_t *cr, int which, double x, double y, const FwStyle *style)
{
  static const FwLineKind kinds[5]
      = { FW_LINE_CUT, FW_LINE_CUT, FW_LINE_SCORE, FW_LINE_HINGE, FW_LINE_MARK };
  fw_paint_kind (cr, kinds[which], style);
  if (which == 1)
    {
      cairo_set_line_width (cr, FW_THIN);
      cairo_new_sub_path (cr);
      cairo_arc (cr, x + 2, y, 1.3, 0, 2 * G_PI);
    }
  else
    {
      cairo_move_to (cr, x, y);
      cairo_line_to (cr, x + 12, y);
    }
  cairo_stroke (cr);
  if (which == 1)
    {
      cairo_arc (cr, x + 2, y, 0.28, 0, 2 * G_PI);
      cairo_fill (cr);
    }
}

static double
sample_width (int which)
{
  return which == 1 ? 4 : 12;
}

static void
draw_foot (cairo_t *cr, const FwTemplatePages *p, const FwStyle *style)
{
  const char *const words[5] = { C_ ("kind of line", "cut"), C_ ("kind of line", "hole"), C_ ("kind of line", "score, half through"), C_ ("kind of line", "axis of hinge or crank"),
                                 C_ ("kind of line", "mark, engrave") };
  double left = p->frame_x, right = left + p->frame_width;
  double y = p->frame_y + p->frame_height + 4;
  rule (cr, left, right, y, style->faint_ink);
  FwPageWords how = { .size = 2.7, .colour = style->ink };
  double wide = 0, x = left;
  for (int i = 0; i < 5; i++)
    wide += sample_width (i) + 1.5 + fw_words_width (words[i], &how);
  double gap = CLAMP ((p->frame_width - wide) / 4, 2, 14);
  for (int i = 0; i < 5; i++)
    {
      legend_sample (cr, i, x, y + 3.6, style);
      x += sample_width (i) + 1.5;
      fw_paint_words (cr, words[i], x, y + 1.9, &how);
      x += fw_words_width (words[i], &how) + gap;
    }
  how = (FwPageWords){ .size = 2.4, .colour = style->faint_ink, .width = p->frame_width };
  fw_paint_words (cr,
                  _ ("Print at 100 %, no “fit to page”. Sharp tools, drills and lasers injure: guard eyes and "
                     "hands; follow the machine's own rules and local codes."),
                  left, y + 7, &how);
}

/* ---- Tiles ---- */

/* Whether there is a tile at the left, right, top, bottom of this one. */
static gboolean
has_neighbour (const FwTemplatePage *t, int side, int *column, int *row)
{
  *column = t->column + (side == 0 ? -1 : side == 1);
  *row = t->row + (side == 2 ? -1 : side == 3);
  return *column >= 0 && *row >= 0 && *column < t->columns && *row < t->rows;
}

/* The strip that a tile shares with a neighbour, tinted, with the neighbour's name. */
static void
draw_overlap (cairo_t *cr, const FwTemplatePages *p, const FwTemplatePage *t, int side,
              const FwStyle *style)
{
  int column, row;
  if (!has_neighbour (t, side, &column, &row))
    return;
  double x = p->frame_x, y = p->frame_y, w = p->frame_width, h = p->frame_height,
         o = FW_TILE_OVERLAP;
  double bx = side == 1 ? x + w - o : x, by = side == 3 ? y + h - o : y;
  double bw = side < 2 ? o : w, bh = side < 2 ? h : o;
  static const double dash[] = { 1.2, 1.2 };
  cairo_set_source_rgb (cr, 0.945, 0.945, 0.94);
  cairo_rectangle (cr, bx, by, bw, bh);
  cairo_fill (cr);
  double inner_x = side == 0 ? x + o : bx, inner_y = side == 2 ? y + o : by;
  cairo_set_line_width (cr, FW_THIN / 2);
  cairo_set_dash (cr, dash, 2, 0);
  fw_set_colour (cr, style->faint_ink);
  cairo_move_to (cr, inner_x, inner_y);
  cairo_line_to (cr, side < 2 ? inner_x : x + w, side < 2 ? y + h : inner_y);
  cairo_stroke (cr);
}

static void
draw_neighbour (cairo_t *cr, const FwTemplatePages *p, const FwTemplatePage *t, int side,
                const FwStyle *style)
{
  int column, row;
  char name[24];
  if (!has_neighbour (t, side, &column, &row))
    return;
  fw_tile_name (column, row, name);
  /* Translators: %s names a tile, such as B2. */
  g_autofree char *words = g_strdup_printf (_ ("overlap with %s"), name);
  double o = FW_TILE_OVERLAP, x = p->frame_x, y = p->frame_y;
  FwPageWords how = { .size = 2.6, .colour = style->faint_ink, .align = 0.5 };
  double cx = side == 0 ? x + o / 2 : side == 1 ? x + p->frame_width - o / 2 : x + 0.25 * p->frame_width;
  double cy = side == 2 ? y + o / 2 : side == 3 ? y + p->frame_height - o / 2 : y + 0.25 * p->frame_height;
  cairo_save (cr);
  cairo_translate (cr, cx, cy);
  if (side < 2)
    cairo_rotate (cr, -G_PI_2);
  fw_paint_words (cr, words, 0, -1.7, &how);
  cairo_restore (cr);
}

/* Crosses in the middle of the overlaps' corners: where four tiles meet, all four have the same one. */
static void
draw_crosses (cairo_t *cr, const FwTemplatePages *p, const FwStyle *style)
{
  double o = FW_TILE_OVERLAP;
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_width (cr, FW_THIN);
  fw_set_colour (cr, style->ink);
  for (int i = 0; i < 4; i++)
    {
      double x = p->frame_x + (i % 2 ? p->frame_width - o / 2 : o / 2);
      double y = p->frame_y + (i / 2 ? p->frame_height - o / 2 : o / 2);
      cairo_move_to (cr, x - ARM, y);
      cairo_line_to (cr, x + ARM, y);
      cairo_move_to (cr, x, y - ARM);
      cairo_line_to (cr, x, y + ARM);
    }
  cairo_stroke (cr);
}

/* The tile's name, large and faint, behind the part. */
static void
draw_tile_name (cairo_t *cr, const FwTemplatePages *p, const FwTemplatePage *t)
{
  char name[24];
  fw_tile_name (t->column, t->row, name);
  FwPageWords how = { .size = 34, .bold = TRUE, .align = 0.5, .colour = { 0.92, 0.92, 0.915, 1 } };
  fw_paint_words (cr, name, p->frame_x + p->frame_width / 2,
                  p->frame_y + p->frame_height / 2 - 21, &how);
}

static void
draw_tile (cairo_t *cr, const FwTemplatePages *p, const FwTemplatePage *t, const FwStyle *style)
{
  const FwPagePart *at = placed_at (p, t->first);
  for (int side = 0; side < 4; side++)
    draw_overlap (cr, p, t, side, style);
  draw_tile_name (cr, p, t);
  for (int side = 0; side < 4; side++)
    draw_neighbour (cr, p, t, side, style);
  cairo_save (cr);
  cairo_rectangle (cr, p->frame_x, p->frame_y, p->frame_width, p->frame_height);
  cairo_clip (cr);
  fw_paint_part (cr, p->tmpl->parts->pdata[at->part], at);
  cairo_restore (cr);
  draw_crosses (cr, p, style);
}

void
fw_template_page_draw (cairo_t *cr, const FwTemplatePages *p, int index)
{
  const FwTemplatePage *page = page_at (p, index);
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  cairo_save (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, 0, 0, p->width_mm, p->height_mm);
  cairo_fill (cr);
  draw_head (cr, p, index, &style);
  draw_foot (cr, p, &style);
  if (page->kind == FW_PAGE_OVERVIEW)
    fw_overview_draw (cr, p, page);
  else if (page->kind == FW_PAGE_TILE)
    draw_tile (cr, p, page, &style);
  for (int i = page->first; page->kind == FW_PAGE_PARTS && i < page->first + page->n; i++)
    {
      const FwPagePart *at = placed_at (p, i);
      if (at->part >= 0)
        {
          fw_paint_part (cr, p->tmpl->parts->pdata[at->part], at);
          continue;
        }
      g_autofree char *notes = fw_overview_notes (p);
      fw_paint_square (cr, at->turned ? at->at_mm.x - FW_CHECK_SQUARE : at->at_mm.x, at->at_mm.y,
                       p->tmpl->lengths, notes);
    }
  cairo_restore (cr);
}
