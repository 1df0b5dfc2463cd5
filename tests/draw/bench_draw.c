/* What a frame costs: both views and the turn strip of the heron at 1600 x 1000, against 200 filled
 * hexagons with 500 strokes on the same surface in the same run. Prints the ratio; the aim is at
 * most one half. Both start from a page painted in one colour. The best of many frames counts: the
 * rest is the machine's. */
#include <math.h>
#include <stdio.h>

#include "draw/turnstrip.h"
#include "heron.h"

enum
{
  WIDTH = 1600,
  HEIGHT = 1000,
  FRAMES = 60
};

/* Hexagons of 40 px and strokes of about 120 px, width 1.5, spread evenly. */
static void
draw_yardstick (cairo_t *cr)
{
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  for (int i = 0; i < 200; i++)
    {
      double x = 40 + (i * 389) % (WIDTH - 80), y = 40 + (i * 223) % (HEIGHT - 80);
      for (int k = 0; k < 6; k++)
        cairo_line_to (cr, x + 40 * cos (k * G_PI / 3), y + 40 * sin (k * G_PI / 3));
      cairo_close_path (cr);
      cairo_set_source_rgb (cr, 0.3 + 0.002 * i, 0.6, 0.5);
      cairo_fill (cr);
    }
  cairo_set_line_width (cr, 1.5);
  for (int i = 0; i < 500; i++)
    {
      double x = (i * 311) % (WIDTH - 120), y = (i * 179) % (HEIGHT - 80);
      cairo_move_to (cr, x, y);
      cairo_line_to (cr, x + 100, y + (i % 7) * 11);
      cairo_set_source_rgb (cr, 0.1, 0.1, 0.001 * i);
      cairo_stroke (cr);
    }
}

typedef struct
{
  Stage *stage;
  FwStyle style;
  FwBox front, side, foot;
  FwCamera front_camera, side_camera;
} Sheet;

static Sheet
sheet_open (void)
{
  Sheet s = { .stage = stage_new (heron_design (), 65),
              .style = fw_style (FW_THEME_LIGHT, 1),
              .front = { 0, 0, 1000, 720 },
              .side = { 1000, 0, 600, 720 },
              .foot = { 0, 720, WIDTH, 280 } };
  s.front_camera
      = fw_camera_fit (FW_VIEW_FRONT, fw_view_extent (&s.stage->scene, FW_VIEW_FRONT), s.front, 36);
  s.side_camera
      = fw_camera_fit (FW_VIEW_SIDE, fw_view_extent (&s.stage->scene, FW_VIEW_SIDE), s.side, 36);
  return s;
}

static void
draw_front (cairo_t *cr, const Sheet *s)
{
  fw_draw_view (cr, &s->stage->scene, &s->front_camera, &s->style, s->front,
                FW_SHOW_SIDES | FW_SHOW_SCALE_BAR | FW_SHOW_TRACES | FW_SHOW_TROUBLE, NULL);
}

static void
draw_side (cairo_t *cr, const Sheet *s)
{
  fw_draw_view (cr, &s->stage->scene, &s->side_camera, &s->style, s->side,
                FW_SHOW_SIDES | FW_SHOW_SCALE_BAR | FW_SHOW_TRACES | FW_SHOW_TROUBLE, NULL);
}

static void
draw_forces (cairo_t *cr, const Sheet *s)
{
  fw_draw_view (cr, &s->stage->scene, &s->front_camera, &s->style, s->front,
                FW_SHOW_SIDES | FW_SHOW_SCALE_BAR | FW_SHOW_TRACES | FW_SHOW_TROUBLE
                    | FW_SHOW_FORCES,
                NULL);
}

static void
draw_strip (cairo_t *cr, const Sheet *s)
{
  FwStripState state = { .curves = { { FW_Q_ANGLE, 0 }, { FW_Q_ANGLE, 2 } },
                         .n_curves = 2,
                         .crank = s->stage->pose->crank,
                         .picked_trouble = -1 };
  fw_draw_turn_strip (cr, &s->stage->scene, &state, &s->style, s->foot);
}

int
main (void)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  Sheet sheet = sheet_open ();
  gint64 best[5] = { G_MAXINT64, G_MAXINT64, G_MAXINT64, G_MAXINT64, G_MAXINT64 };
  for (int i = 0; i < FRAMES; i++)
    {
      stage_turn_to (sheet.stage, 6.0 * i);
      gint64 t[6];
      t[0] = g_get_monotonic_time ();
      draw_yardstick (cr);
      t[1] = g_get_monotonic_time ();
      draw_front (cr, &sheet);
      t[2] = g_get_monotonic_time ();
      draw_side (cr, &sheet);
      t[3] = g_get_monotonic_time ();
      draw_strip (cr, &sheet);
      t[4] = g_get_monotonic_time ();
      draw_forces (cr, &sheet);
      t[5] = g_get_monotonic_time ();
      for (int k = 0; k < 5; k++)
        best[k] = MIN (best[k], t[k + 1] - t[k]);
    }
  gint64 frame = best[1] + best[2] + best[3];
  printf ("200 hexagons, 500 strokes  %6.2f ms\n", (double)best[0] / 1000);
  printf ("front view                 %6.2f ms\n", (double)best[1] / 1000);
  printf ("side view                  %6.2f ms\n", (double)best[2] / 1000);
  printf ("turn strip                 %6.2f ms\n", (double)best[3] / 1000);
  printf ("both views and the strip   %6.2f ms, ratio %.2f (aim: 0.50)\n", (double)frame / 1000,
          (double)frame / (double)best[0]);
  printf ("front view with forces     %6.2f ms\n", (double)best[4] / 1000);
  stage_free (sheet.stage);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return 0;
}
