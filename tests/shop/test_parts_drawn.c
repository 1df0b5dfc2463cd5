/* Pictures of printed parts. */
#include <cairo.h>
#include <glib.h>

#include "shop/meshdraw.h"
#include "shop/solidparts.h"

/* How many pixels of a picture are painted, and which colour is in its middle. */
static int
painted (const FwMesh *mesh, double pitch_deg, guint32 *middle)
{
  const int size = 200;
  const FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  const FwMeshView view = { .yaw_deg = 20, .pitch_deg = pitch_deg, .box = { 20, 20, size - 40, size - 40 } };
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, size, size);
  cairo_t *cr = cairo_create (surface);
  int n = 0, outside = 0;
  fw_mesh_draw (cr, mesh, &view, &style);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  const guint32 *pixels = (const guint32 *)(void *)cairo_image_surface_get_data (surface);
  for (int i = 0; i < size * size; i++)
    if (pixels[i] != 0)
      {
        int x = i % size, y = i / size;
        n++;
        outside += x < 17 || x > size - 18 || y < 17 || y > size - 18;
      }
  g_assert_cmpint (outside, ==, 0); /* but for half a line */
  *middle = pixels[size / 2 * size + size / 2];
  cairo_surface_destroy (surface);
  return n;
}

/* Width of a rim's line, px. */
static double
style_line (void)
{
  return fw_style (FW_THEME_LIGHT, 1).wide;
}

static void
a_picture_shows_through_a_bore_and_not_through_a_wall (void)
{
  const FwBushingSize b = { .bore_mm = 10, .outer_mm = 16, .flange_mm = 20, .flange_thick_mm = 2, .length_mm = 14 };
  g_autoptr (FwMesh) bushing = fw_bushing_mesh (&b, 0.6);
  g_autoptr (FwMesh) nothing = fw_mesh_new ();
  guint32 middle;
  int n = painted (bushing, 90, &middle);
  g_assert_cmphex (middle, ==, 0); /* paper seen through the bore */
  /* Scale: 20 mm fills the box's 160 / sqrt 2 px, from any yaw: a ring of radii 10 and 5 mm is painted. */
  double mm = 160 / sqrt (2) / 20;
  double ring = G_PI * (100 - 25), lines = 2 * G_PI * (10 + 5) * (0.5 * style_line () + 1) / mm;
  g_assert_cmpfloat (n / (mm * mm), >, 0.98 * ring);
  g_assert_cmpfloat (n / (mm * mm), <, ring + lines); /* rims stand half a line, and a shaded pixel, out */
  painted (bushing, 0, &middle);
  g_assert_cmphex (middle >> 24, ==, 255); /* the wall hides the bore */
  painted (nothing, 30, &middle); /* and no harm done */
  g_assert_cmphex (middle, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shop/parts-drawn/a-picture-shows-through-a-bore-and-not-through-a-wall",
                   a_picture_shows_through_a_bore_and_not_through_a_wall);
  return g_test_run ();
}
