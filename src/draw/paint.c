#include "draw/paint.h"

void
fw_path_line (cairo_t *cr, const FwVec2 *p, int n)
{
  for (int i = 0; i < n; i++)
    if (i == 0)
      cairo_move_to (cr, p[i].x, p[i].y);
    else
      cairo_line_to (cr, p[i].x, p[i].y);
}

void
fw_path_polygon (cairo_t *cr, const FwVec2 *p, int n)
{
  fw_path_line (cr, p, n);
  if (n > 0)
    cairo_close_path (cr);
}

void
fw_path_pairs (cairo_t *cr, const FwVec2 *p, int pairs)
{
  for (int i = 0; i < pairs; i++)
    {
      cairo_move_to (cr, p[2 * i].x, p[2 * i].y);
      cairo_line_to (cr, p[2 * i + 1].x, p[2 * i + 1].y);
    }
}

static FwColour
toned (const FwMaterialLook *look, double tone)
{
  if (tone >= 0)
    return fw_colour_mix (look->fill, look->light, tone);
  return fw_colour_mix (look->fill, look->shade, -tone * 0.75);
}

static void
path_faces (cairo_t *cr, const FwDrawing *d, const FwPiece *piece)
{
  for (int i = 0; i < piece->n_faces; i++)
    {
      const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
      fw_path_polygon (cr, fw_drawing_points (d, face->first), face->n);
    }
}

static double
presence (const FwPiece *piece)
{
  return piece->faint ? 0.4 : 1;
}

/* The ink lies outside the faces, so that even a thin sheet keeps its own colour between two lines. */
static void
paint_faces (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPiece *piece)
{
  if (piece->n_faces == 0)
    return;
  double alpha = presence (piece);
  double extent = fmin (piece->bounds.width, piece->bounds.height);
  double line = extent < 7 * style->wide ? style->thin : style->wide;
  path_faces (cr, d, piece);
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, alpha));
  cairo_set_line_width (cr, 2 * line);
  cairo_stroke (cr);
  for (int i = 0; i < piece->n_faces; i++)
    {
      const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
      fw_path_polygon (cr, fw_drawing_points (d, face->first), face->n);
      fw_set_colour (cr, fw_colour_fade (toned (&piece->look, face->tone), piece->faint ? 0.6 : 1));
      cairo_fill (cr);
    }
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, 0.55 * alpha));
  cairo_set_line_width (cr, style->thin);
  if (piece->n_faces > 1 && extent > 5 * style->wide)
    {
      path_faces (cr, d, piece);
      cairo_stroke (cr);
    }
  if (piece->n_ribs > 0)
    {
      fw_set_colour (cr, fw_colour_fade (piece->look.edge, 0.4 * alpha));
      fw_path_pairs (cr, fw_drawing_points (d, piece->first_rib), piece->n_ribs);
      cairo_stroke (cr);
    }
}

/* The line a little longer at both ends, to cover the cut edge of the piece that it joins. */
static void
path_lapped (cairo_t *cr, const FwVec2 *p, int n)
{
  for (int i = 0; i < n; i++)
    {
      FwVec2 q = p[i], next = i == 0 ? p[1] : p[n - 2];
      double length = fw_vec2_distance (q, next);
      if ((i == 0 || i == n - 1) && length > 0)
        q = fw_vec2 (q.x + (q.x - next.x) / length, q.y + (q.y - next.y) / length);
      if (i == 0)
        cairo_move_to (cr, q.x, q.y);
      else
        cairo_line_to (cr, q.x, q.y);
    }
}

static void
paint_tube (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPiece *piece)
{
  const FwVec2 *p = fw_drawing_points (d, piece->first);
  double alpha = presence (piece);
  double width = fmax (piece->width, 1.1 * style->wide);
  double line = width < 4 * style->wide ? style->thin : style->wide;
  cairo_set_line_cap (cr, piece->flat_ends ? CAIRO_LINE_CAP_BUTT : CAIRO_LINE_CAP_ROUND);
  fw_path_line (cr, p, piece->n);
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, alpha));
  cairo_set_line_width (cr, width + 2 * line);
  if (piece->joined)
    {
      cairo_stroke (cr);
      path_lapped (cr, p, piece->n);
    }
  else
    cairo_stroke_preserve (cr);
  fw_set_colour (cr, fw_colour_fade (piece->look.fill, alpha));
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
  if (width > 3 * style->thin)
    {
      double shift = 0.2 * width;
      cairo_save (cr);
      cairo_translate (cr, -shift, -shift);
      if (piece->joined)
        path_lapped (cr, p, piece->n);
      else
        fw_path_line (cr, p, piece->n);
      cairo_restore (cr);
      fw_set_colour (cr, fw_colour_fade (piece->look.light, 0.85 * alpha));
      cairo_set_line_width (cr, fmax (0.22 * width, 0.6 * style->thin));
      cairo_stroke (cr);
    }
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
}

static void
paint_solid (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPiece *piece)
{
  const FwBox *b = &piece->bounds;
  double alpha = piece->faint ? 0.6 : 1;
  cairo_pattern_t *shade = cairo_pattern_create_linear (b->x + 0.35 * b->width, b->y, b->x + 0.65 * b->width,
                                                        b->y + b->height);
  const double stops[3] = { 0, 0.45, 1 }, tones[3] = { 0.9, 0, -0.42 };
  for (int i = 0; i < 3; i++)
    {
      FwColour c = toned (&piece->look, tones[i]);
      cairo_pattern_add_color_stop_rgba (shade, stops[i], c.r, c.g, c.b, alpha);
    }
  path_faces (cr, d, piece);
  cairo_set_source (cr, shade);
  cairo_fill (cr);
  cairo_pattern_destroy (shade);

  cairo_set_line_width (cr, style->thin);
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, 0.38 * alpha));
  fw_path_pairs (cr, fw_drawing_points (d, piece->first_rib), piece->n_ribs);
  if (b->width + b->height > 90 * style->thin)
    cairo_stroke (cr);
  else
    cairo_new_path (cr);
  cairo_set_line_width (cr, style->wide);
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, alpha));
  fw_path_pairs (cr, fw_drawing_points (d, piece->first_contour), piece->n_contours);
  cairo_stroke (cr);
}

void
fw_paint_pieces (cairo_t *cr, const FwDrawing *d, const FwStyle *style, FwLayer from, FwLayer to)
{
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      if (piece->layer < from || piece->layer > to)
        continue;
      if (piece->kind == FW_PIECE_TUBE)
        paint_tube (cr, d, style, piece);
      else if (piece->kind == FW_PIECE_SOLID)
        paint_solid (cr, d, style, piece);
      else
        paint_faces (cr, d, style, piece);
    }
}

/* ---- What is hidden ---- */

static gboolean
hides (const FwPiece *piece)
{
  if (!piece->covers || piece->faint)
    return FALSE;
  return piece->kind == FW_PIECE_SOLID || piece->layer == FW_LAYER_BASE
         || (piece->kind == FW_PIECE_FACES && piece->n_ribs > 0);
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
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height && b->y < a->y + a->height;
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
  fw_set_colour (cr, fw_colour_fade (style->ink, style->theme == FW_THEME_DARK ? 0.5 : 0.42));
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

void
fw_paint_outline (cairo_t *cr, const FwDrawing *d, const FwPiece *piece, double grow)
{
  if (piece->kind == FW_PIECE_TUBE)
    {
      fw_path_line (cr, fw_drawing_points (d, piece->first), piece->n);
      cairo_set_line_width (cr, piece->width + 2 * grow);
      cairo_stroke (cr);
      return;
    }
  path_faces (cr, d, piece);
  cairo_set_line_width (cr, 2 * grow);
  cairo_stroke_preserve (cr);
  cairo_fill (cr);
}

static gboolean
is_picked (const FwPiece *piece, const FwPart *picked)
{
  if (picked == NULL || piece->part.kind != picked->kind)
    return FALSE;
  gboolean numbered = picked->kind == FW_PART_MEMBER || picked->kind == FW_PART_LINK;
  return !numbered || piece->part.index == picked->index;
}

/* A glow behind the part picked out, as wide as three lines, under all the work. */
static void
paint_glow (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPart *picked)
{
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      if (!is_picked (piece, picked) || (piece->kind != FW_PIECE_TUBE && piece->n_faces == 0))
        continue;
      fw_set_colour (cr, fw_colour_mix (style->ground, style->highlight, 0.6));
      fw_paint_outline (cr, d, piece, 4.5 * style->wide);
    }
}

void
fw_paint_drawing (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPart *picked)
{
  fw_paint_pieces (cr, d, style, FW_LAYER_GROUND, FW_LAYER_BASE);
  if (picked != NULL)
    paint_glow (cr, d, style, picked);
  fw_paint_pieces (cr, d, style, FW_LAYER_WORK, FW_LAYER_TOP);
  fw_paint_hidden (cr, d, style);
}
