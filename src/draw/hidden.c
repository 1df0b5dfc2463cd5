/* What is hidden, as thin dashed lines. */
#include "draw/paint.h"

static gboolean
hides (const FwPiece *piece)
{
  if (!piece->covers || piece->faint)
    return FALSE;
  return piece->kind == FW_PIECE_SOLID || piece->layer == FW_LAYER_BASE
         || piece->kind == FW_PIECE_SHEET;
}

static gboolean
hidden_at (const FwDrawing *d, guint above, FwVec2 p)
{
  for (guint i = above; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      if (hides (piece) && fw_piece_holds (d, piece, p))
        return TRUE;
    }
  return FALSE;
}

/* Adds to the path those stretches of the line that something covers. */
static void
path_hidden (cairo_t *cr, const FwDrawing *d, guint above, FwVec2 a, FwVec2 b)
{
  double length = fw_vec2_distance (a, b);
  int steps = (int)CLAMP (length / 3, 2, 160);
  gboolean drawing = FALSE;
  for (int i = 0; i <= steps; i++)
    {
      FwVec2 p = fw_vec2_mix (a, b, (double)i / steps);
      gboolean hidden = hidden_at (d, above, p);
      if (hidden && !drawing)
        cairo_move_to (cr, p.x, p.y);
      else if (hidden)
        cairo_line_to (cr, p.x, p.y);
      drawing = hidden;
    }
}

static gboolean
boxes_meet (const FwBox *a, const FwBox *b)
{
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height
         && b->y < a->y + a->height;
}

static gboolean
anything_above (const FwDrawing *d, guint index)
{
  const FwBox *box = &g_array_index (d->pieces, FwPiece, index).bounds;
  for (guint i = index + 1; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      if (hides (piece) && boxes_meet (box, &piece->bounds))
        return TRUE;
    }
  return FALSE;
}

void
fw_paint_hidden (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  const double dashes[2] = { 4.5 * style->thin, 3.5 * style->thin };
  cairo_save (cr);
  cairo_set_dash (cr, dashes, 2, 0);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_width (cr, style->thin);
  double fade = fw_theme_is_contrast (style->theme) ? 0.85 : style->theme == FW_THEME_DARK ? 0.5 : 0.42;
  fw_set_colour (cr, fw_colour_fade (style->ink, fade));
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      if (!piece->shows_through || piece->kind != FW_PIECE_TUBE || !anything_above (d, i))
        continue;
      const FwVec2 *p = fw_drawing_points (d, piece->first);
      for (int k = 0; k + 1 < piece->n; k++)
        {
          double length = fw_vec2_distance (p[k], p[k + 1]);
          if (length < 1e-6)
            continue;
          gboolean wide = piece->width > 5 * style->wide;
          FwVec2 out = fw_vec2 (-(p[k + 1].y - p[k].y) / length * piece->width / 2,
                                (p[k + 1].x - p[k].x) / length * piece->width / 2);
          for (int side = wide ? -1 : 0; side <= (wide ? 1 : 0); side += 2)
            path_hidden (cr, d, i + 1, fw_vec2 (p[k].x + side * out.x, p[k].y + side * out.y),
                         fw_vec2 (p[k + 1].x + side * out.x, p[k + 1].y + side * out.y));
        }
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}
