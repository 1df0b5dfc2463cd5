/* The torque plot as a file: PNG, SVG or PDF. */
#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <string.h>

#include "doc/files.h"
#include "draw/picturefile.h"
#include "draw/torqueplot.h"

#define WIDTH 480.0 /* points or, times PNG_SIZE, pixels */
#define HEIGHT 520.0
#define PNG_SIZE 2.5

static gboolean
ends_in (const char *path, const char *ending)
{
  size_t n = strlen (path), m = strlen (ending);
  return n >= m && g_ascii_strcasecmp (path + n - m, ending) == 0;
}

static cairo_status_t
draw (cairo_surface_t *surface, const FwScene *scene, FwTheme theme, double size, const char *title)
{
  cairo_t *cr = cairo_create (surface);
  FwStyle style = fw_style (theme, size);
  fw_draw_torque_plot (cr, scene, &style, (FwBox){ 0, 0, WIDTH * size, HEIGHT * size }, title);
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  return status;
}

static cairo_status_t
draw_file (GByteArray *bytes, const FwScene *scene, FwTheme theme, const char *title,
           const char *path)
{
  gboolean pdf = ends_in (path, ".pdf"), svg = ends_in (path, ".svg");
  cairo_surface_t *surface
      = pdf   ? cairo_pdf_surface_create_for_stream (fw_picture_gather, bytes, WIDTH, HEIGHT)
        : svg ? cairo_svg_surface_create_for_stream (fw_picture_gather, bytes, WIDTH, HEIGHT)
              : cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)(WIDTH * PNG_SIZE),
                                            (int)(HEIGHT * PNG_SIZE));
  cairo_status_t status = draw (surface, scene, theme, pdf || svg ? 1 : PNG_SIZE, title);
  if (status == CAIRO_STATUS_SUCCESS && !pdf && !svg)
    status = cairo_surface_write_to_png_stream (surface, fw_picture_gather, bytes);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return status;
}

gboolean
fw_torque_plot_write (const FwScene *scene, FwTheme theme, const char *title, const char *path,
                      GError **error)
{
  GByteArray *bytes = g_byte_array_new ();
  cairo_status_t status = draw_file (bytes, scene, theme, title, path);
  gboolean fine = status == CAIRO_STATUS_SUCCESS
                  && fw_file_replace (path, (const char *)bytes->data, bytes->len, error);
  if (status != CAIRO_STATUS_SUCCESS)
    fw_picture_refuse (path, cairo_status_to_string (status), error);
  g_byte_array_unref (bytes);
  return fine;
}
