/* What a frame costs: both views and the turn strip of the heron at 1600 x 1000, against 200 filled
 * hexagons with 500 strokes on the same surface in the same run, twice: all of it drawn, as exports
 * draw it and as the window does while a number is dragged; and with what the window keeps, as it
 * draws while only the crank moves. Prints the ratios; the aim for the second is at most one half.
 * All start from a page painted in one colour. The best of many frames counts, in time of the
 * processor: the rest is the machine's. */
#include <math.h>
#include <stdio.h>
#include <time.h>

#include "draw/still.h"
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
  FwStill *still[3]; /* front, side, strip */
} Sheet;

static Sheet
sheet_open (void)
{
  Sheet s = { .stage = stage_new (heron_design (), 65),
              .style = fw_style (FW_THEME_LIGHT, 1),
              .front = { 0, 0, 1000, 720 },
              .side = { 1000, 0, 600, 720 },
              .foot = { 0, 720, WIDTH, 280 },
              .still = { fw_still_new (), fw_still_new (), fw_still_new () } };
  s.front_camera
      = fw_camera_fit (FW_VIEW_FRONT, fw_view_extent (&s.stage->scene, FW_VIEW_FRONT), s.front, 36);
  s.side_camera
      = fw_camera_fit (FW_VIEW_SIDE, fw_view_extent (&s.stage->scene, FW_VIEW_SIDE), s.side, 36);
  return s;
}

#define SHOWN (FW_SHOW_SIDES | FW_SHOW_SCALE_BAR | FW_SHOW_TRACES | FW_SHOW_TROUBLE)

static void
draw_front (cairo_t *cr, const Sheet *s, FwStill *still, guint more)
{
  fw_draw_view_kept (cr, still, &s->stage->scene, &s->front_camera, &s->style, s->front, SHOWN | more, NULL);
}

static void
draw_side (cairo_t *cr, const Sheet *s, FwStill *still)
{
  fw_draw_view_kept (cr, still, &s->stage->scene, &s->side_camera, &s->style, s->side, SHOWN, NULL);
}

static void
draw_strip (cairo_t *cr, const Sheet *s, FwStill *still)
{
  FwStripState state = { .curves = { { FW_Q_ANGLE, 0 }, { FW_Q_ANGLE, 2 } },
                         .n_curves = 2,
                         .crank = s->stage->pose->crank,
                         .picked_trouble = -1 };
  fw_draw_turn_strip_kept (cr, still, &s->stage->scene, &state, &s->style, s->foot);
}

enum
{
  YARDSTICK,
  FRONT,
  SIDE,
  STRIP,
  FRONT_KEPT,
  SIDE_KEPT,
  STRIP_KEPT,
  FORCES,
  N_PARTS
};

static void
draw_part (cairo_t *cr, const Sheet *s, int part)
{
  switch (part)
    {
    case YARDSTICK:
      draw_yardstick (cr);
      break;
    case FRONT:
    case FRONT_KEPT:
      draw_front (cr, s, part == FRONT ? NULL : s->still[0], 0);
      break;
    case SIDE:
    case SIDE_KEPT:
      draw_side (cr, s, part == SIDE ? NULL : s->still[1]);
      break;
    case STRIP:
    case STRIP_KEPT:
      draw_strip (cr, s, part == STRIP ? NULL : s->still[2]);
      break;
    default:
      draw_front (cr, s, NULL, FW_SHOW_FORCES);
    }
}

static double
processor_ms (void)
{
  struct timespec now;
  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static void
print_frame (const char *name, const double *best)
{
  double frame = best[0] + best[1] + best[2];
  printf ("%s\n", name);
  printf ("  front view               %6.2f ms\n", best[0]);
  printf ("  side view                %6.2f ms\n", best[1]);
  printf ("  turn strip               %6.2f ms\n", best[2]);
  printf ("  both views and the strip %6.2f ms\n", frame);
}

int
main (void)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  Sheet sheet = sheet_open ();
  double best[N_PARTS];
  for (int k = 0; k < N_PARTS; k++)
    best[k] = INFINITY;
  for (int i = 0; i < FRAMES; i++)
    {
      stage_turn_to (sheet.stage, 6.0 * i);
      for (int k = 0; k < N_PARTS; k++)
        {
          double start = processor_ms ();
          draw_part (cr, &sheet, k);
          best[k] = fmin (best[k], processor_ms () - start);
        }
    }
  printf ("200 hexagons, 500 strokes  %6.2f ms\n", best[YARDSTICK]);
  print_frame ("all drawn", &best[FRONT]);
  print_frame ("only the crank moved", &best[FRONT_KEPT]);
  double all = best[FRONT] + best[SIDE] + best[STRIP];
  double moved = best[FRONT_KEPT] + best[SIDE_KEPT] + best[STRIP_KEPT];
  printf ("ratio all drawn %.2f, only the crank moved %.2f (aim: 0.50)\n", all / best[YARDSTICK],
          moved / best[YARDSTICK]);
  printf ("front view with forces     %6.2f ms\n", best[FORCES]);
  for (int k = 0; k < 3; k++)
    fw_still_free (sheet.still[k]);
  stage_free (sheet.stage);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return 0;
}
