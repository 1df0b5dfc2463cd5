/* Puts a drawing on a cairo surface. */
#pragma once

#include "draw/drawing.h"

G_BEGIN_DECLS

/* All pieces back to front, then the dashed lines of what is hidden. `picked` (may be NULL) glows under all work. */
void fw_paint_drawing (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style,
                       const FwPart *picked);
/* The same without ground and base. */
void fw_paint_work (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style, const FwPart *picked);

/* Pieces of these layers, both included, back to front. */
void fw_paint_pieces (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style, FwLayer from,
                      FwLayer to);
/* The dashed lines alone, of pieces that show through what covers them. */
void fw_paint_hidden (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);

/* Sorts pieces into batches: alike, touching nothing of their own batch, and no batch before one
 * that any of its pieces must cover. `line`: px of a wide line. Writes one number a piece; returns
 * how many batches. */
guint fw_batches (const FwDrawing *drawing, double line, guint *batch_of);

/* The outline of one piece, filled, and `grow` px of it all round; colour as cairo has it. */
void fw_paint_outline (cairo_t *cr, const FwDrawing *drawing, const FwPiece *piece, double grow);

/* The polygon and all within `grow` px of it, for a fill: what a stroke of twice that width with round joins and a fill
 * would cover. */
void fw_path_grown (cairo_t *cr, const FwVec2 *points, int n, double grow);
/* What a stroke along the line would cover, for a fill, corners mitred (cut where they turn by more than a right angle),
 * ends square to the line or `round`. FALSE, and nothing done, where the line is a mere point or has over FW_MOST_BAR
 * points. Bars of one path must not overlap. */
#define FW_MOST_BAR 128
gboolean fw_path_bar (cairo_t *cr, const FwVec2 *points, int n, double width, gboolean round);

/* Adds to cairo's path: a closed polygon, an open line, pieces of line between pairs of points; page px. */
void fw_path_polygon (cairo_t *cr, const FwVec2 *points, int n);
void fw_path_line (cairo_t *cr, const FwVec2 *points, int n);
void fw_path_pairs (cairo_t *cr, const FwVec2 *points, int pairs);

G_END_DECLS
