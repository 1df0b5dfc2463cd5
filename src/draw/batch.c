/* Which pieces can be painted together without changing the picture. */
#include <string.h>

#include "draw/paint.h"

static gboolean
alike (const FwPiece *a, const FwPiece *b)
{
  if (a->kind != b->kind || a->layer != b->layer || a->faint != b->faint
      // NOLINTNEXTLINE(bugprone-suspicious-memory-comparison,cert-exp42-c,cert-flp37-c): -0 for 0 is painted apart, no more
      || memcmp (&a->look, &b->look, sizeof a->look) != 0)
    return FALSE;
  if (a->kind == FW_PIECE_TUBE)
    return a->width == b->width && a->flat_ends == b->flat_ends;
  return a->kind == FW_PIECE_ROUND && a->n_faces == b->n_faces;
}

static gboolean
line_meets_box (const FwDrawing *d, const FwPiece *tube, const FwBox *box, double margin)
{
  double grow = tube->width / 2 + margin;
  FwTilted around = { fw_vec2 (box->x + box->width / 2, box->y + box->height / 2),
                      box->width / 2 + grow, box->height / 2 + grow, 0 };
  const FwVec2 *p = fw_drawing_points (d, tube->first);
  for (int i = 0; i + 1 < tube->n; i++)
    if (fw_tilted_meets_segment (&around, p[i], p[i + 1]))
      return TRUE;
  return FALSE;
}

static FwTilted
around_bar (const FwDrawing *d, const FwPiece *bar, double margin)
{
  const FwVec2 *p = fw_drawing_points (d, bar->first);
  return (FwTilted){ fw_vec2_mix (p[0], p[1], 0.5),
                     fw_vec2_distance (p[0], p[1]) / 2 + bar->width / 2 + margin,
                     bar->width / 2 + margin, atan2 (p[1].y - p[0].y, p[1].x - p[0].x) };
}

static gboolean
meet (const FwDrawing *d, const FwPiece *a, const FwPiece *b, double margin)
{
  const FwBox *p = &a->bounds, *q = &b->bounds;
  if (p->x > q->x + q->width + margin || q->x > p->x + p->width + margin
      || p->y > q->y + q->height + margin || q->y > p->y + p->height + margin)
    return FALSE;
  gboolean tubes = a->kind == FW_PIECE_TUBE && b->kind == FW_PIECE_TUBE;
  /* Pieces of one pipe touch where they go on in each other: there they are better painted
   * together. */
  if (tubes && a->joint > 0 && b->joint > 0 && abs (a->joint - b->joint) == 1)
    return FALSE;
  if (tubes && a->n == 2 && b->n == 2)
    {
      FwTilted first = around_bar (d, a, margin / 2), second = around_bar (d, b, margin / 2);
      return fw_tilted_overlap (&first, &second);
    }
  if (a->kind == FW_PIECE_TUBE && !line_meets_box (d, a, q, margin))
    return FALSE;
  return b->kind != FW_PIECE_TUBE || line_meets_box (d, b, p, margin);
}

guint
fw_batches (const FwDrawing *d, double line, guint *batch_of)
{
  guint batches = 0, *leader = g_new (guint, d->pieces->len + 1);
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      guint earliest = 0, found = G_MAXUINT;
      for (guint j = i; j-- > 0;)
        if (batch_of[j] >= earliest
            && meet (d, piece, &g_array_index (d->pieces, FwPiece, j), 2.2 * line))
          earliest = batch_of[j] + 1;
      for (guint b = batches; b-- > earliest && found == G_MAXUINT;)
        if (alike (piece, &g_array_index (d->pieces, FwPiece, leader[b])))
          found = b;
      if (found == G_MAXUINT)
        {
          leader[batches] = i;
          found = batches++;
        }
      batch_of[i] = found;
    }
  g_free (leader);
  return batches;
}
