#include "shop/templatepaint.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/shapes.h"
#include "shop/templatebuild.h"
#include "shop/templatetext.h"

#define RUN_ON 4.0 /* mm */

/* ---- Lines ---- */

void
fw_paint_kind (cairo_t *cr, FwLineKind kind, const FwStyle *style)
{
  static const double score[] = { 3, 1.6 }, hinge[] = { 9, 1.5, 0.8, 1.5 };
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, kind == FW_LINE_CUT ? FW_WIDE : FW_THIN);
  cairo_set_dash (cr, kind == FW_LINE_SCORE ? score : hinge,
                  kind == FW_LINE_SCORE ? 2 : kind == FW_LINE_HINGE ? 4 : 0, 0);
  fw_set_colour (cr, kind == FW_LINE_SCORE ? style->motion
                     : kind == FW_LINE_HINGE ? style->trouble
                     : kind == FW_LINE_MARK  ? style->faint_ink
                                             : style->ink);
}

static void
trace (cairo_t *cr, const FwCutPart *part, const FwCutLine *line, const FwPagePart *at)
{
  const FwVec2 *points = fw_cut_line_points (part, line);
  for (int i = 0; i < line->n; i++)
    {
      FwVec2 p = fw_page_point (at, points[i]);
      if (i == 0)
        cairo_move_to (cr, p.x, p.y);
      else
        cairo_line_to (cr, p.x, p.y);
    }
  if (line->closed)
    cairo_close_path (cr);
}

/* A hinge often lies along an edge: its line runs on a little at both ends, to be seen there. */
static void
run_on (cairo_t *cr, const FwCutPart *part, const FwCutLine *line, const FwPagePart *at)
{
  const FwVec2 *points = fw_cut_line_points (part, line);
  FwVec2 a = fw_page_point (at, points[0]), b = fw_page_point (at, points[line->n - 1]);
  double length = fw_vec2_distance (a, b);
  if (length <= 0)
    return;
  FwVec2 along = fw_vec2 ((b.x - a.x) / length * RUN_ON, (b.y - a.y) / length * RUN_ON);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, a.x - along.x, a.y - along.y);
  cairo_move_to (cr, b.x, b.y);
  cairo_line_to (cr, b.x + along.x, b.y + along.y);
  cairo_stroke (cr);
}

/* The edge of the hole, its middle as a dot to prick, and ticks that find it again. */
static void
paint_hole (cairo_t *cr, FwVec2 c, double diameter, const FwStyle *style)
{
  double r = diameter / 2, tick = CLAMP (r, 1, 2);
  fw_paint_kind (cr, FW_LINE_CUT, style);
  cairo_set_line_width (cr, FW_THIN);
  cairo_arc (cr, c.x, c.y, r, 0, 2 * G_PI);
  cairo_close_path (cr);
  for (int i = 0; i < 4; i++)
    {
      double x = cos (i * G_PI_2), y = sin (i * G_PI_2);
      cairo_move_to (cr, c.x + (r + 0.7) * x, c.y + (r + 0.7) * y);
      cairo_line_to (cr, c.x + (r + 0.7 + tick) * x, c.y + (r + 0.7 + tick) * y);
    }
  cairo_stroke (cr);
  if (diameter < 1)
    return;
  cairo_arc (cr, c.x, c.y, 0.28, 0, 2 * G_PI);
  cairo_fill (cr);
}

static void
paint_text (cairo_t *cr, const FwCutText *text, const FwPagePart *at, PangoContext *context,
            const FwStyle *style)
{
  FwVec2 p = fw_page_point (at, text->at_mm);
  PangoLayout *layout;
  int w, h;
  cairo_save (cr);
  cairo_translate (cr, p.x, p.y);
  cairo_rotate (cr, text->turn_rad + (at->turned ? G_PI_2 : 0));
  pango_cairo_update_context (cr, context);
  layout = fw_cut_text_layout (context, text->text, text->size_mm, text->bold_first, 1);
  pango_layout_get_size (layout, &w, &h);
  cairo_move_to (cr, -w / (2.0 * PANGO_SCALE), -h / (2.0 * PANGO_SCALE));
  fw_set_colour (cr, style->ink);
  pango_cairo_show_layout (cr, layout);
  g_object_unref (layout);
  cairo_restore (cr);
}

void
fw_paint_part (cairo_t *cr, const FwCutPart *part, const FwPagePart *at)
{
  static const FwLineKind order[] = { FW_LINE_MARK, FW_LINE_SCORE, FW_LINE_CUT, FW_LINE_HINGE };
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  PangoContext *context = fw_cut_text_context ();
  cairo_save (cr);
  for (gsize kind = 0; kind < G_N_ELEMENTS (order); kind++)
    for (guint i = 0; i < part->lines->len; i++)
      {
        const FwCutLine *line = &g_array_index (part->lines, FwCutLine, i);
        if (line->kind != order[kind])
          continue;
        fw_paint_kind (cr, line->kind, &style);
        trace (cr, part, line, at);
        cairo_stroke (cr);
        if (line->kind == FW_LINE_HINGE)
          run_on (cr, part, line, at);
      }
  for (guint i = 0; i < part->holes->len; i++)
    {
      const FwCutHole *hole = &g_array_index (part->holes, FwCutHole, i);
      paint_hole (cr, fw_page_point (at, hole->at_mm), hole->diameter_mm, &style);
    }
  for (guint i = 0; i < part->texts->len; i++)
    paint_text (cr, &g_array_index (part->texts, FwCutText, i), at, context, &style);
  cairo_restore (cr);
  g_object_unref (context);
}

void
fw_paint_edge (cairo_t *cr, const FwCutPart *part, const FwPagePart *at)
{
  trace (cr, part, &g_array_index (part->lines, FwCutLine, 0), at);
}

/* ---- Words ---- */

static PangoLayout *
words_layout (PangoContext *context, const char *text, const FwPageWords *how)
{
  PangoLayout *layout = fw_cut_text_layout (context, text, how->size, FALSE, 1);
  pango_layout_set_alignment (layout, how->align < 0.25   ? PANGO_ALIGN_LEFT
                                      : how->align > 0.75 ? PANGO_ALIGN_RIGHT
                                                          : PANGO_ALIGN_CENTER);
  if (how->bold)
    {
      PangoAttrList *attributes = pango_attr_list_new ();
      pango_attr_list_insert (attributes, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
      pango_layout_set_attributes (layout, attributes);
      pango_attr_list_unref (attributes);
    }
  if (how->width > 0)
    {
      pango_layout_set_width (layout, (int)(how->width * PANGO_SCALE));
      pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
    }
  if (how->one_line)
    pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_line_spacing (layout, 1.1f);
  return layout;
}

double
fw_paint_words (cairo_t *cr, const char *text, double x, double y, const FwPageWords *how)
{
  PangoContext *context = fw_cut_text_context ();
  int w, h;
  cairo_save (cr);
  pango_cairo_update_context (cr, context);
  PangoLayout *layout = words_layout (context, text, how);
  pango_layout_get_size (layout, &w, &h);
  double wide = how->width > 0 ? how->width : (double)w / PANGO_SCALE;
  cairo_move_to (cr, x - how->align * wide, y);
  fw_set_colour (cr, how->colour);
  pango_cairo_show_layout (cr, layout);
  g_object_unref (layout);
  g_object_unref (context);
  cairo_restore (cr);
  return (double)h / PANGO_SCALE;
}

static void
measure_words (const char *text, const FwPageWords *how, double *width, double *height)
{
  PangoContext *context = fw_cut_text_context ();
  PangoLayout *layout = words_layout (context, text, how);
  int w, h;
  pango_layout_get_size (layout, &w, &h);
  g_object_unref (layout);
  g_object_unref (context);
  *width = (double)w / PANGO_SCALE;
  *height = (double)h / PANGO_SCALE;
}

double
fw_words_width (const char *text, const FwPageWords *how)
{
  double width, height;
  measure_words (text, how, &width, &height);
  return width;
}

double
fw_words_height (const char *text, const FwPageWords *how)
{
  double width, height;
  measure_words (text, how, &width, &height);
  return height;
}

/* ---- The square ---- */

void
fw_paint_square (cairo_t *cr, double x, double y, FwLengths lengths, const char *below)
{
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  double s = FW_CHECK_SQUARE;
  cairo_save (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  cairo_set_line_width (cr, FW_THIN);
  fw_set_colour (cr, style.ink);
  cairo_rectangle (cr, x, y, s, s);
  cairo_stroke (cr);
  for (int i = 1; i < 10; i++) /* a tick every 10 mm */
    {
      double tick = i == 5 ? 4 : 2.5, d = 10.0 * i;
      cairo_move_to (cr, x + d, y);
      cairo_line_to (cr, x + d, y + tick);
      cairo_move_to (cr, x, y + d);
      cairo_line_to (cr, x + tick, y + d);
    }
  cairo_stroke (cr);
  g_autofree char *side = fw_cut_length (s, FW_LENGTHS_MM);
  g_autofree char *inch = lengths == FW_LENGTHS_INCH ? fw_cut_length (s, FW_LENGTHS_INCH) : NULL;
  g_autofree char *big = inch == NULL ? g_strdup (side) : g_strdup_printf ("%s (%s)", side, inch);
  FwPageWords how = { .size = 5.5, .bold = TRUE, .width = s - 16, .align = 0.5, .colour = style.ink };
  double at = y + (below == NULL ? 32 : 12);
  at += fw_paint_words (cr, big, x + s / 2, at, &how) + 3;
  how.size = 3.5;
  how.bold = FALSE;
  at += fw_paint_words (cr,
                        _ ("Measure this square first: each side, both ways. Print at 100 %, with no "
                           "“fit to page”. If it is off, so is every part."),
                        x + s / 2, at, &how)
        + 4;
  if (below != NULL)
    {
      how.size = 2.6;
      how.colour = style.faint_ink;
      fw_paint_words (cr, below, x + s / 2, at, &how);
    }
  cairo_restore (cr);
}
