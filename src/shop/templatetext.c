#include "shop/templatetext.h"

#include <math.h>
#include <string.h>

#include "draw/shapes.h"
#include "draw/style.h"
#include "shop/templatebuild.h"

#define FINE 64.0    /* px a mm, where glyphs are measured and outlined */
#define PAD 0.8      /* mm around words */
#define AIR 1.6      /* mm more, where there is room for it */
#define LEAST_SHARE 0.58 /* of the size asked for: smaller only where words find no place otherwise */
#define GRID 36      /* places tried along each side */
#define SMALLER 0.84 /* from one size tried to the next */
#define MOST_LETTERS 84 /* of one line */

PangoContext *
fw_cut_text_context (void)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_t *options = cairo_font_options_create ();
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  pango_context_set_round_glyph_positions (context, FALSE);
  cairo_font_options_destroy (options);
  return context;
}

PangoLayout *
fw_cut_text_layout (PangoContext *context, const char *text, double size_mm, gboolean bold_first,
                    double scale)
{
  PangoLayout *layout = pango_layout_new (context);
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  PangoFontDescription *font = pango_font_description_from_string (style.family);
  pango_font_description_set_absolute_size (font, size_mm * scale * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  pango_layout_set_text (layout, text, -1);
  if (bold_first)
    {
      PangoAttrList *attributes = pango_attr_list_new ();
      PangoAttribute *bold = pango_attr_weight_new (PANGO_WEIGHT_BOLD);
      const char *end = strchr (text, '\n');
      bold->end_index = end == NULL ? (guint)strlen (text) : (guint)(end - text);
      pango_attr_list_insert (attributes, bold);
      pango_layout_set_attributes (layout, attributes);
      pango_attr_list_unref (attributes);
    }
  pango_font_description_free (font);
  return layout;
}

FwVec2
fw_cut_text_half (const char *text, double size_mm, gboolean bold_first)
{
  PangoContext *context = fw_cut_text_context ();
  PangoLayout *layout = fw_cut_text_layout (context, text, size_mm, bold_first, FINE);
  int w, h;
  pango_layout_get_size (layout, &w, &h);
  g_object_unref (layout);
  g_object_unref (context);
  return fw_vec2 (w / (2 * FINE * PANGO_SCALE), h / (2 * FINE * PANGO_SCALE));
}

cairo_path_t *
fw_cut_text_path (PangoContext *context, const FwCutText *text)
{
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  PangoLayout *layout
      = fw_cut_text_layout (context, text->text, text->size_mm, text->bold_first, FINE);
  int w, h;
  pango_layout_get_size (layout, &w, &h);
  cairo_set_tolerance (cr, 0.5);
  cairo_move_to (cr, -w / (2.0 * PANGO_SCALE), -h / (2.0 * PANGO_SCALE));
  pango_cairo_layout_path (cr, layout);
  cairo_path_t *path = cairo_copy_path (cr);
  double c = cos (text->turn_rad) / FINE, s = sin (text->turn_rad) / FINE;
  for (int i = 0; i < path->num_data; i += path->data[i].header.length)
    for (int k = 1; k < path->data[i].header.length; k++)
      {
        cairo_path_data_t *p = &path->data[i + k];
        double x = p->point.x, y = p->point.y;
        p->point.x = text->at_mm.x + c * x - s * y;
        p->point.y = text->at_mm.y + s * x + c * y;
      }
  g_object_unref (layout);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return path;
}

/* ---- Places for words ---- */

static FwTilted
box_of (const FwCutText *text)
{
  return (FwTilted){ text->at_mm, text->half_mm.x, text->half_mm.y, text->turn_rad };
}

static gboolean
meets_hole (const FwTilted *box, const FwCutHole *hole)
{
  double c = cos (box->angle), s = sin (box->angle);
  double x = hole->at_mm.x - box->centre.x, y = hole->at_mm.y - box->centre.y;
  double along = fmax (fabs (c * x + s * y) - box->half_width, 0);
  double across = fmax (fabs (c * y - s * x) - box->half_height, 0);
  return hypot (along, across) < hole->diameter_mm / 2 + 2;
}

static gboolean
meets_line (const FwCutPart *part, const FwCutLine *line, const FwTilted *box)
{
  const FwVec2 *points = fw_cut_line_points (part, line);
  double reach = hypot (box->half_width, box->half_height);
  for (int i = 0; i + 1 < line->n + (line->closed ? 1 : 0); i++)
    {
      FwVec2 a = points[i], b = points[(i + 1) % line->n];
      if (fmin (a.x, b.x) > box->centre.x + reach || fmax (a.x, b.x) < box->centre.x - reach
          || fmin (a.y, b.y) > box->centre.y + reach || fmax (a.y, b.y) < box->centre.y - reach)
        continue;
      if (fw_tilted_meets_segment (box, a, b))
        return TRUE;
    }
  return FALSE;
}

gboolean
fw_cut_words_fit (const FwCutPart *part, FwVec2 at, FwVec2 half, double turn_rad,
                  gboolean lines_too)
{
  const FwTilted box = { at, half.x + PAD, half.y + PAD, turn_rad };
  const FwCutLine *outline = &g_array_index (part->lines, FwCutLine, 0);
  if (!fw_polygon_holds (fw_cut_line_points (part, outline), outline->n, at))
    return FALSE;
  for (guint i = 0; i < part->texts->len; i++)
    {
      FwTilted other = box_of (&g_array_index (part->texts, FwCutText, i));
      if (fw_tilted_overlap (&box, &other))
        return FALSE;
    }
  for (guint i = 0; i < part->holes->len; i++)
    if (meets_hole (&box, &g_array_index (part->holes, FwCutHole, i)))
      return FALSE;
  for (guint i = 0; i < part->lines->len; i++)
    {
      const FwCutLine *line = &g_array_index (part->lines, FwCutLine, i);
      if ((line->kind == FW_LINE_CUT || lines_too) && meets_line (part, line, &box))
        return FALSE;
    }
  return TRUE;
}

/* The fitting place nearest `near`, on a grid over the outline. */
static gboolean
nearest_place (const FwCutPart *part, FwVec2 half, FwVec2 near, gboolean lines_too, FwVec2 *found)
{
  const FwCutLine *outline = &g_array_index (part->lines, FwCutLine, 0);
  const FwVec2 *points = fw_cut_line_points (part, outline);
  FwVec2 low = points[0], high = points[0];
  double best = INFINITY;
  for (int i = 1; i < outline->n; i++)
    {
      low = fw_vec2 (fmin (low.x, points[i].x), fmin (low.y, points[i].y));
      high = fw_vec2 (fmax (high.x, points[i].x), fmax (high.y, points[i].y));
    }
  double x0 = low.x + half.x, x1 = high.x - half.x, y0 = low.y + half.y, y1 = high.y - half.y;
  if (x1 < x0 || y1 < y0)
    return FALSE;
  for (int i = 0; i <= GRID; i++)
    for (int k = 0; k <= GRID; k++)
      {
        FwVec2 at = fw_vec2 (x0 + (x1 - x0) * i / GRID, y0 + (y1 - y0) * k / GRID);
        double far = fw_vec2_distance (at, near);
        if (far >= best || !fw_cut_words_fit (part, at, half, 0, lines_too))
          continue;
        best = far;
        *found = at;
      }
  return isfinite (best);
}

/* The words with no line longer than a part should be made wide for; free with g_free. */
static char *
shorten (const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (int i = 0; lines[i] != NULL; i++)
    {
      if (g_utf8_strlen (lines[i], -1) <= MOST_LETTERS)
        continue;
      g_autofree char *start = g_utf8_substring (lines[i], 0, MOST_LETTERS - 1);
      g_free (lines[i]);
      lines[i] = g_strconcat (start, "…", NULL);
    }
  return g_strjoinv ("\n", lines);
}

static void
put_words (FwCutPart *part, const char *text, FwVec2 at, FwVec2 half, double size_mm,
           double turn_rad, gboolean bold_first, gboolean inside)
{
  FwCutText words = { g_strdup (text), at, half, size_mm, turn_rad, bold_first, inside };
  g_array_append_val (part->texts, words);
}

void
fw_cut_words_at (FwCutPart *part, const char *given, FwVec2 at, double size_mm, double turn_rad)
{
  g_autofree char *text = shorten (given);
  put_words (part, text, at, fw_cut_text_half (text, size_mm, FALSE), size_mm, turn_rad, FALSE,
             TRUE);
}

void
fw_cut_words_below (FwCutPart *part, const char *given, double size_mm, gboolean bold_first)
{
  g_autofree char *text = shorten (given);
  double left = INFINITY, right = -INFINITY, bottom = -INFINITY;
  FwVec2 half = fw_cut_text_half (text, size_mm, bold_first);
  for (guint i = 0; i < part->points->len; i++)
    {
      FwVec2 p = g_array_index (part->points, FwVec2, i);
      left = fmin (left, p.x);
      right = fmax (right, p.x);
      bottom = fmax (bottom, p.y);
    }
  for (guint i = 0; i < part->texts->len; i++)
    {
      const FwCutText *other = &g_array_index (part->texts, FwCutText, i);
      if (!other->inside)
        bottom = fmax (bottom, other->at_mm.y + other->half_mm.y);
    }
  put_words (part, text, fw_vec2 ((left + right) / 2, bottom + 1.5 + half.y), half, size_mm, 0,
             bold_first, FALSE);
}

gboolean
fw_cut_words (FwCutPart *part, const char *given, FwVec2 near, double size_mm, double least_mm,
              gboolean bold_first)
{
  g_autofree char *text = shorten (given);
  FwVec2 at = near;
  for (int try = 0; try < 3; try++)
    {
      gboolean over = try == 2;
      double air = try == 0 ? AIR : 0, largest = over ? least_mm : size_mm;
      double smallest = try == 0 ? fmax (least_mm, LEAST_SHARE * size_mm) : least_mm;
      for (double size = largest; size >= smallest - 1e-9; size *= SMALLER)
        {
          FwVec2 half = fw_cut_text_half (text, size, bold_first);
          if (!nearest_place (part, fw_vec2 (half.x + air, half.y + air), near, !over, &at))
            continue;
          put_words (part, text, at, half, size, 0, bold_first, TRUE);
          return TRUE;
        }
    }
  return FALSE;
}

char *
fw_cut_length (double mm, FwLengths lengths)
{
  int digits = fabs (mm - round (mm)) < 0.005           ? 0
               : fabs (10 * mm - round (10 * mm)) < 0.05 ? 1
                                                         : 2;
  return fw_units_format (mm, FW_UNIT_MM, lengths, digits);
}
