/* Every picture can be drawn on every surface, at any size, whatever state the mechanism is in. */
#include <math.h>
#include <string.h>

#include <cairo-pdf.h>
#include <cairo-svg.h>

#include "draw/motionstrip.h"
#include "draw/torqueplot.h"
#include "draw/turnstrip.h"
#include "heron.h"

static cairo_status_t
swallow (void *closure, const unsigned char *data, unsigned int length)
{
  *(gsize *)closure += length;
  return CAIRO_STATUS_SUCCESS;
}

typedef enum
{
  ON_IMAGE,
  ON_PDF,
  ON_SVG,
  ON_NOTHING_AT_ALL
} Kind;

static cairo_surface_t *
surface_of (Kind kind, double width, double height, gsize *bytes)
{
  if (kind == ON_PDF)
    return cairo_pdf_surface_create_for_stream (swallow, bytes, width, height);
  if (kind == ON_SVG)
    return cairo_svg_surface_create_for_stream (swallow, bytes, width, height);
  return cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int)width, (int)height);
}

static void
assert_fine (cairo_t *cr, cairo_surface_t *surface)
{
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
}

static void
draw_all (const FwScene *scene, Kind kind, double width, double height, FwTheme theme)
{
  gsize bytes = 0;
  FwStyle style = fw_style (theme, 1);
  FwBox page = { 0, 0, width, height };
  const FwPart picked = { FW_PART_MEMBER, 0 };
  for (int view = 0; view < 3; view++)
    {
      cairo_surface_t *surface = surface_of (kind, width, height, &bytes);
      cairo_t *cr = cairo_create (surface);
      FwCamera c = fw_camera_fit ((FwView)view, fw_view_extent (scene, (FwView)view), page, 10);
      fw_draw_view (cr, scene, &c, &style, page, 0xfff, &picked);
      assert_fine (cr, surface);
    }
  cairo_surface_t *surface = surface_of (kind, width, height, &bytes);
  cairo_t *cr = cairo_create (surface);
  FwStripState state
      = { .curves
          = { { FW_Q_ANGLE, 0 },
              { FW_Q_BODY_Z, 0 },
              { FW_Q_RATE, 0 },
              { FW_Q_PUSH, 9999 },
              { FW_Q_TORQUE, 0 },
              { FW_Q_STRESS, 0 } },
          .n_curves = 6,
          .crank = scene->pose->crank,
          .picked_trouble = 0 };
  fw_draw_turn_strip (cr, scene, &state, &style, page);
  assert_fine (cr, surface);
  surface = surface_of (kind, width, height, &bytes);
  cr = cairo_create (surface);
  fw_draw_torque_plot (cr, scene, &style, page, "Torque");
  assert_fine (cr, surface);
  if (kind == ON_PDF || kind == ON_SVG)
    g_assert_cmpuint (bytes, >, 500);
}

static void
every_surface_takes_every_picture (void)
{
  const double sizes[][2] = { { 300, 200 }, { 1280, 800 }, { 3840, 2160 } };
  FwDesign *(*designs[]) (void) = { heron_design, moth_design, short_heron_design };
  for (guint k = 0; k < G_N_ELEMENTS (designs); k++)
    {
      Stage *s = stage_new (designs[k](), 200);
      for (int kind = ON_IMAGE; kind <= ON_SVG; kind++)
        for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
          draw_all (&s->scene, (Kind)kind, sizes[i][0], sizes[i][1], (FwTheme)(i % 3));
      stage_free (s);
    }
}

static void
hostile_sizes_are_survived (void)
{
  const double sizes[][2]
      = { { 1, 1 }, { 1, 900 }, { 900, 1 }, { 3, 3 }, { 24, 24 }, { 40, 1200 }, { 30000, 20 } };
  Stage *s = stage_new (heron_design (), 65);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    draw_all (&s->scene, ON_IMAGE, sizes[i][0], sizes[i][1], FW_THEME_LIGHT);
  stage_free (s);
}

static void
hostile_cameras_are_survived (void)
{
  const FwCamera cameras[]
      = { { FW_VIEW_FRONT, 0, 0, 0 },      { FW_VIEW_FRONT, -1, 10, 10 },
          { FW_VIEW_SIDE, NAN, 10, 10 },   { FW_VIEW_SIDE, 1, INFINITY, 10 },
          { FW_VIEW_FRONT, 1e9, 10, 10 },  { FW_VIEW_FRONT, 5000, -4e5, 2e6 },
          { FW_VIEW_FRONT, 1e-9, 50, 50 }, { FW_VIEW_THREE_QUARTER, 300, 100, 100 } };
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  Stage *s = stage_new (heron_design (), 65);
  for (guint i = 0; i < G_N_ELEMENTS (cameras); i++)
    {
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 200, 150);
      cairo_t *cr = cairo_create (surface);
      FwPart part;
      fw_draw_view (cr, &s->scene, &cameras[i], &style, (FwBox){ 0, 0, 200, 150 }, 0xfff, NULL);
      assert_fine (cr, surface);
      fw_view_pick (&s->scene, &cameras[i], 20, 20, 5, &part);
    }
  stage_free (s);
}

static void
a_bare_scene_is_enough (void)
{
  Stage *s = stage_new (heron_design (), 65);
  FwScene bare = { .mechanism = s->mechanism, .pose = s->pose };
  draw_all (&bare, ON_IMAGE, 500, 400, FW_THEME_LIGHT);
  FwScene without_turn = { .mechanism = s->mechanism, .pose = s->pose, .scratch = s->scratch };
  draw_all (&without_turn, ON_IMAGE, 500, 400, FW_THEME_LIGHT);
  stage_free (s);
}

static void
what_cannot_close_is_still_drawn_and_told (void)
{
  Stage *s = stage_new (short_heron_design (), 200);
  g_assert_false (fw_pose_closes (s->pose, s->mechanism));
  draw_all (&s->scene, ON_IMAGE, 800, 600, FW_THEME_PRINT);
  stage_free (s);
}

static void
drawing_stays_on_its_page (void)
{
  enum
  {
    SIDE = 240
  };
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, SIDE, SIDE);
  cairo_t *cr = cairo_create (surface);
  cairo_set_source_rgb (cr, 1, 0, 1);
  cairo_paint (cr);
  Stage *s = stage_new (heron_design (), 65);
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwBox page = { 60, 60, 120, 120 };
  FwCamera close = { FW_VIEW_FRONT, 4, 120, 400 }; /* far larger than the page */
  fw_draw_view (cr, &s->scene, &close, &style, page, 0x3ff, NULL);
  cairo_surface_flush (surface);
  const unsigned char *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  for (int y = 0; y < SIDE; y++)
    for (int x = 0; x < SIDE; x++)
      {
        guint32 pixel;
        memcpy (&pixel, data + y * stride + 4 * x, 4);
        if (x < 60 || y < 60 || x >= 180 || y >= 180)
          g_assert_cmphex (pixel & 0xffffff, ==, 0xff00ff);
      }
  stage_free (s);
  assert_fine (cr, surface);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/surfaces/every surface takes every picture",
                   every_surface_takes_every_picture);
  g_test_add_func ("/surfaces/hostile sizes are survived", hostile_sizes_are_survived);
  g_test_add_func ("/surfaces/hostile cameras are survived", hostile_cameras_are_survived);
  g_test_add_func ("/surfaces/a bare scene is enough", a_bare_scene_is_enough);
  g_test_add_func ("/surfaces/what cannot close is still drawn",
                   what_cannot_close_is_still_drawn_and_told);
  g_test_add_func ("/surfaces/drawing stays on its page", drawing_stays_on_its_page);
  return g_test_run ();
}
