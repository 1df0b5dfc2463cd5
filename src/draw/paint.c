#include "draw/paint.h"

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

static void
path_lines (cairo_t *cr, const FwDrawing *d, int first, int n)
{
  for (int i = 0; i < n; i++)
    {
      const FwFace *line = &g_array_index (d->faces, FwFace, first + i);
      fw_path_line (cr, fw_drawing_points (d, line->first), line->n);
    }
}

static double
presence (const FwPiece *piece)
{
  return piece->faint ? 0.4 : 1;
}

/* Thin and light lines within a piece: nobody sees that their edges have fewer steps, and there are many of them. */
static void
stroke_lightly (cairo_t *cr)
{
  cairo_antialias_t before = cairo_get_antialias (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_FAST);
  cairo_stroke (cr);
  cairo_set_antialias (cr, before);
}

/* The same for a tone beside a tone much like it, or whose edge lies under a line. */
static void
fill_lightly (cairo_t *cr)
{
  cairo_antialias_t before = cairo_get_antialias (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_FAST);
  cairo_fill (cr);
  cairo_set_antialias (cr, before);
}

/* ---- One batch: pieces that look alike and do not touch, painted together ---- */

typedef struct
{
  const FwDrawing *d;
  const FwStyle *style;
  const guint *pieces; /* indices */
  guint n;
} Batch;

static const FwPiece *
batch_piece (const Batch *b, guint i)
{
  return &g_array_index (b->d->pieces, FwPiece, b->pieces[i]);
}

/* The ink lies outside the faces, so that even a thin sheet keeps its own colour between two lines. What hides its own
 * inside is filled with ink a little larger, at a tenth of what a stroke costs. */
static void
paint_ink (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPiece *piece)
{
  double extent = fmin (piece->bounds.width, piece->bounds.height);
  double grow = extent < 7 * style->wide ? style->thin : style->wide;
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, presence (piece)));
  if (piece->n_rim > 0 && !piece->faint)
    {
      fw_path_grown (cr, fw_drawing_points (d, piece->first_rim), piece->n_rim, grow);
      cairo_fill (cr);
      return;
    }
  path_faces (cr, d, piece);
  cairo_set_line_width (cr, 2 * grow);
  cairo_stroke (cr);
}

static void
paint_faces (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPiece *piece)
{
  if (piece->n_faces == 0)
    return;
  double alpha = presence (piece);
  double extent = fmin (piece->bounds.width, piece->bounds.height);
  paint_ink (cr, d, style, piece);
  for (int i = 0; i < piece->n_faces; i++)
    {
      const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
      fw_path_polygon (cr, fw_drawing_points (d, face->first), face->n);
      if (i + 1 < piece->n_faces
          && g_array_index (d->faces, FwFace, piece->first_face + i + 1).tone == face->tone)
        continue;
      fw_set_colour (cr, fw_colour_fade (toned (&piece->look, face->tone), piece->faint ? 0.6 : 1));
      cairo_fill (cr);
    }
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, 0.55 * alpha));
  cairo_set_line_width (cr, style->thin);
  if (piece->n_faces > 1 && extent > 9 * style->wide)
    {
      const FwFace *top = &g_array_index (d->faces, FwFace, piece->first_face + piece->n_faces - 1);
      fw_path_polygon (cr, fw_drawing_points (d, top->first), top->n);
      stroke_lightly (cr);
    }
  if (piece->n_ribs > 0)
    {
      double tone = g_array_index (d->faces, FwFace, piece->first_face + piece->n_faces - 1).tone;
      fw_set_colour (cr, piece->faint ? fw_colour_fade (piece->look.edge, 0.4 * alpha)
                                      : fw_colour_mix (toned (&piece->look, tone), piece->look.edge, 0.4));
      path_lines (cr, d, piece->first_rib, piece->n_ribs);
      stroke_lightly (cr);
    }
}

static void
paint_rounds (cairo_t *cr, const Batch *b)
{
  const FwPiece *first = batch_piece (b, 0);
  for (int layer = 0; layer < first->n_faces; layer++)
    {
      for (guint i = 0; i < b->n; i++)
        {
          const FwFace *face
              = &g_array_index (b->d->faces, FwFace, batch_piece (b, i)->first_face + layer);
          fw_path_polygon (cr, fw_drawing_points (b->d, face->first), face->n);
        }
      double tone = g_array_index (b->d->faces, FwFace, first->first_face + layer).tone;
      FwColour colour = layer == 0 ? first->look.edge : toned (&first->look, tone);
      fw_set_colour (cr, fw_colour_fade (colour, presence (first)));
      cairo_fill (cr);
    }
}

/* `lap`: a little longer at both ends where the piece goes on in another, to cover the cut edge. Writes the line,
 * moved by `shift`, to `line` (piece->n points). */
static void
lay_tube (const FwDrawing *d, const FwPiece *piece, FwVec2 shift, gboolean lap, FwVec2 *line)
{
  const FwVec2 *p = fw_drawing_points (d, piece->first);
  int n = piece->n;
  for (int i = 0; i < n; i++)
    {
      FwVec2 q = p[i], next = i == 0 ? p[1] : p[n - 2];
      double length = fw_vec2_distance (q, next);
      if (lap && piece->joint > 0 && (i == 0 || i == n - 1) && length > 0)
        q = fw_vec2 (q.x + (q.x - next.x) / length, q.y + (q.y - next.y) / length);
      line[i] = fw_vec2 (q.x + shift.x, q.y + shift.y);
    }
}

/* True if the batch's tubes have so many corners that their outlines are better filled than their lines stroked. */
static gboolean
bends_much (const Batch *b)
{
  const FwPiece *first = batch_piece (b, 0);
  gboolean much = FALSE;
  for (guint i = 0; i < b->n; i++)
    {
      int n = batch_piece (b, i)->n;
      if (n > FW_MOST_BAR)
        return FALSE;
      much = much || n > 2;
    }
  /* Wide tubes have round corners. */
  return much && fmax (first->width, 1.1 * b->style->wide) <= 6 * b->style->wide;
}

static void
stroke_tubes (cairo_t *cr, const Batch *b, double shift, gboolean lap, double width)
{
  FwVec2 *line = NULL;
  gboolean filled = bends_much (b), round = !batch_piece (b, 0)->flat_ends;
  cairo_set_line_width (cr, width);
  for (guint i = 0; i < b->n; i++)
    {
      const FwPiece *piece = batch_piece (b, i);
      line = g_renew (FwVec2, line, piece->n);
      lay_tube (b->d, piece, fw_vec2 (-shift, -shift), lap, line);
      if (!filled)
        fw_path_line (cr, line, piece->n);
      else if (!fw_path_bar (cr, line, piece->n, width, round) && round)
        {
          cairo_new_sub_path (cr);
          cairo_arc (cr, line[0].x, line[0].y, width / 2, 0, 2 * G_PI);
        }
    }
  g_free (line);
  if (filled)
    cairo_fill (cr);
  else
    cairo_stroke (cr);
}

static void
paint_tubes (cairo_t *cr, const Batch *b)
{
  const FwPiece *first = batch_piece (b, 0);
  const FwStyle *style = b->style;
  double alpha = presence (first), width = fmax (first->width, 1.1 * style->wide);
  cairo_set_line_cap (cr, first->flat_ends ? CAIRO_LINE_CAP_BUTT : CAIRO_LINE_CAP_ROUND);
  /* Bends come as short steps, so small ones need no rounding; seen steeply they are cut, not drawn
   * out. */
  cairo_set_line_join (cr, width > 6 * style->wide ? CAIRO_LINE_JOIN_ROUND : CAIRO_LINE_JOIN_MITER);
  cairo_set_miter_limit (cr, 1.5);
  fw_set_colour (cr, fw_colour_fade (first->look.edge, alpha));
  stroke_tubes (cr, b, 0, FALSE, width + 2 * (width < 4 * style->wide ? style->thin : style->wide));
  fw_set_colour (cr, fw_colour_fade (first->look.fill, alpha));
  stroke_tubes (cr, b, 0, TRUE, width);
  if (width > 3 * style->thin)
    {
      /* On the tube's own colour, so it need not be mixed with what is there, which costs twice as much. */
      fw_set_colour (cr, first->faint ? fw_colour_fade (first->look.light, 0.85 * alpha)
                                      : fw_colour_mix (first->look.fill, first->look.light, 0.85));
      stroke_tubes (cr, b, 0.2 * width, TRUE, fmax (0.22 * width, 0.6 * style->thin));
    }
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
}

static void
paint_solid (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPiece *piece)
{
  const FwBox *b = &piece->bounds;
  double alpha = piece->faint ? 0.6 : 1;
  path_faces (cr, d, piece);
  fw_set_colour (cr, fw_colour_fade (toned (&piece->look, -0.15), alpha));
  fill_lightly (cr);
  for (int i = 0; i < piece->n_strips; i++)
    {
      const FwFace *strip = &g_array_index (d->faces, FwFace, piece->first_strip + i);
      fw_path_polygon (cr, fw_drawing_points (d, strip->first), strip->n);
      fw_set_colour (cr, fw_colour_fade (toned (&piece->look, strip->tone), alpha));
      fill_lightly (cr);
    }

  /* Skins are traced in small steps: there is no corner to round. */
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_BEVEL);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_width (cr, style->thin);
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, 0.38 * alpha));
  if (b->width + b->height > 90 * style->thin)
    {
      path_lines (cr, d, piece->first_rib, piece->n_ribs);
      stroke_lightly (cr);
    }
  cairo_set_line_width (cr, style->wide);
  fw_set_colour (cr, fw_colour_fade (piece->look.edge, alpha));
  path_lines (cr, d, piece->first_contour, piece->n_contours);
  cairo_stroke (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
}

static void
paint_batch (cairo_t *cr, const Batch *b)
{
  switch (batch_piece (b, 0)->kind)
    {
    case FW_PIECE_TUBE:
      paint_tubes (cr, b);
      break;
    case FW_PIECE_ROUND:
      paint_rounds (cr, b);
      break;
    case FW_PIECE_SOLID:
      paint_solid (cr, b->d, b->style, batch_piece (b, 0));
      break;
    case FW_PIECE_FACES:
    case FW_PIECE_SHEET:
      paint_faces (cr, b->d, b->style, batch_piece (b, 0));
      break;
    }
}

/* Batches keep the order of what overlaps, so the picture is the same, at a fraction of the cost: a
 * row of pixels is worked through once for all rods instead of once for each. */
void
fw_paint_pieces (cairo_t *cr, const FwDrawing *d, const FwStyle *style, FwLayer from, FwLayer to)
{
  guint n = d->pieces->len;
  guint *batch_of = g_new (guint, n + 1), *members = g_new (guint, n + 1);
  guint batches = fw_batches (d, style->wide, batch_of);
  cairo_save (cr);
  cairo_set_tolerance (cr, 0.25); /* px: round joins and caps need no more */
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (guint batch = 0; batch < batches; batch++)
    {
      Batch b = { d, style, members, 0 };
      for (guint i = 0; i < n; i++)
        if (batch_of[i] == batch)
          members[b.n++] = i;
      g_assert (b.n > 0); /* no batch is empty */
      if (batch_piece (&b, 0)->layer >= from && batch_piece (&b, 0)->layer <= to)
        paint_batch (cr, &b);
    }
  cairo_restore (cr);
  g_free (batch_of);
  g_free (members);
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
  gboolean numbered = picked->kind == FW_PART_MEMBER || picked->kind == FW_PART_LINK
                      || picked->kind == FW_PART_SPRING || picked->kind == FW_PART_WEIGHT;
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
fw_paint_work (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPart *picked)
{
  if (picked != NULL)
    paint_glow (cr, d, style, picked);
  fw_paint_pieces (cr, d, style, FW_LAYER_WORK, FW_LAYER_TOP);
  fw_paint_hidden (cr, d, style);
}

void
fw_paint_drawing (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPart *picked)
{
  fw_paint_pieces (cr, d, style, FW_LAYER_GROUND, FW_LAYER_BASE);
  fw_paint_work (cr, d, style, picked);
}
