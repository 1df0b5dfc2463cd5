/* Bounce points on the turn strip. */
#include "draw/forcerows.h"
#include "draw/striplayout.h"

static void
path_pennant (cairo_t *cr, double x, double foot, double size)
{
  cairo_move_to (cr, x, foot - 1.35 * size);
  cairo_line_to (cr, x + 1.4 * size, foot - 0.95 * size);
  cairo_line_to (cr, x, foot - 0.55 * size);
  cairo_close_path (cr);
}

/* px; low enough to leave room for the figure of the crank angle above it. */
static double
pennant_size (const FwStyle *style)
{
  return 0.55 * style->text;
}

void
fw_strip_keep_off_pennants (const FwStrip *s, FwLabels *labels, const FwFlag *flags, int n)
{
  double size = pennant_size (s->style);
  for (int i = 0; i < n; i++)
    {
      if (flags[i].kind != FW_FLAG_BOUNCE)
        continue;
      double x = fw_strip_x (s->style, labels->page, flags[i].crank);
      fw_labels_keep_off (labels, (FwTilted){ fw_vec2 (x + 0.7 * size, s->field.top - 0.7 * size),
                                              0.8 * size, 0.7 * size, 0 });
      if (fw_bounce_is_real (s->scene->mechanism, &s->scene->bounces[flags[i].bounce]))
        fw_labels_line (labels, fw_vec2 (x, s->field.top), fw_vec2 (x, s->field.bottom));
    }
}

void
fw_strip_pennants (cairo_t *cr, const FwStrip *s, FwBox page, const FwFlag *flags, int n)
{
  const FwStyle *style = s->style;
  double foot = s->field.top, size = pennant_size (style);
  for (int pass = 0; pass < 2; pass++) /* knocks on top */
    for (int i = 0; i < n; i++)
      {
        if (flags[i].kind != FW_FLAG_BOUNCE)
          continue;
        gboolean real = fw_bounce_is_real (s->scene->mechanism,
                                           &s->scene->bounces[flags[i].bounce]);
        if (real != (pass == 1))
          continue;
        double x = fw_strip_x (style, page, flags[i].crank);
        fw_set_colour (cr, real ? style->trouble : style->remark);
        cairo_set_line_width (cr, real ? style->wide : style->thin);
        cairo_move_to (cr, x, foot - 1.35 * size);
        cairo_line_to (cr, x, real ? s->field.bottom : foot + 0.5 * size);
        cairo_stroke (cr);
        path_pennant (cr, x, foot, size);
        if (real)
          cairo_fill_preserve (cr);
        cairo_stroke (cr);
      }
}
