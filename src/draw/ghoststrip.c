/* Curves of other designs on the turn strip: the same colour, thin and dashed. */
#include "draw/ghost.h"
#include "draw/striplayout.h"

void
fw_strip_reach_ghosts (FwStrip *s, int c)
{
  FwCurve *k = &s->curves[c];
  for (int g = 0; g < s->scene->n_ghosts; g++)
    {
      int steps = 0;
      const double *row = fw_ghost_row (&s->scene->ghosts[g], s->scene->mechanism, s->state->curves[c], &steps);
      for (int i = 0; row != NULL && i < steps; i++)
        if (isfinite (row[i]))
          {
            k->least = fmin (k->least, row[i] * k->factor);
            k->most = fmax (k->most, row[i] * k->factor);
          }
    }
}

static void
path_row (cairo_t *cr, const FwStrip *s, const FwCurve *k, const double *row, int steps)
{
  double width = s->field.right - s->field.left;
  gboolean drawing = FALSE;
  for (int i = 0; i <= steps; i++)
    {
      double value = row[i % steps];
      double x = s->field.left + width * i / steps;
      if (isfinite (value) && drawing)
        cairo_line_to (cr, x, fw_curve_y (k, value));
      else if (isfinite (value))
        cairo_move_to (cr, x, fw_curve_y (k, value));
      drawing = isfinite (value);
    }
}

void
fw_strip_paint_ghosts (cairo_t *cr, const FwStrip *s)
{
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  for (int g = 0; g < s->scene->n_ghosts; g++)
    {
      const FwGhost *ghost = &s->scene->ghosts[g];
      const double long_dash[2] = { 5 * s->style->wide, 3 * s->style->wide };
      const double dot[2] = { 1.5 * s->style->wide, 2.5 * s->style->wide };
      cairo_set_dash (cr, ghost->style == FW_GHOST_FIRST ? long_dash : dot, 2, 0);
      for (int c = 0; c < s->n_curves; c++)
        {
          int steps = 0;
          const double *row = fw_ghost_row (ghost, s->scene->mechanism, s->state->curves[c], &steps);
          if (row == NULL)
            continue;
          path_row (cr, s, &s->curves[c], row, steps);
          fw_set_colour (cr, fw_colour_fade (s->curves[c].colour, 0.85));
          cairo_set_line_width (cr, 1.3 * s->style->thin);
          cairo_stroke (cr);
        }
    }
  cairo_restore (cr);
}
