#include "draw/explainpicture.h"

#include <cairo-svg.h>
#include <string.h>

#include "doc/files.h"
#include "draw/picturefile.h"
#include "draw/sketches.h"

#define PNG_SIZE 2.0

static const FwSketchEntry *
find_entry (const char *id)
{
  static const FwSketchEntry *(*const families[]) (int *n)
      = { fw_sketches_crank, fw_sketches_body,  fw_sketches_wing,  fw_sketches_part,
          fw_sketches_joint, fw_sketches_curve, fw_sketches_making };
  for (gsize f = 0; f < G_N_ELEMENTS (families); f++)
    {
      int n;
      const FwSketchEntry *entries = families[f](&n);
      for (int i = 0; i < n; i++)
        if (strcmp (entries[i].id, id) == 0)
          return &entries[i];
    }
  return NULL;
}

FwSketch *
fw_explain_sketch (const char *id, const FwStyle *style)
{
  const FwSketchEntry *entry = find_entry (id);
  if (entry == NULL)
    return NULL;
  FwSketch *sketch = fw_sketch_new (style);
  entry->draw (sketch, entry->what);
  return sketch;
}

void
fw_draw_explain (cairo_t *cr, const char *id, const FwStyle *style, FwBox box)
{
  FwSketch *sketch = fw_explain_sketch (id, style);
  if (sketch == NULL)
    return;
  fw_sketch_paint (sketch, cr, box);
  fw_sketch_free (sketch);
}

static cairo_status_t
draw_file (GByteArray *bytes, const char *id, FwTheme theme, gboolean svg)
{
  double size = svg ? 1 : PNG_SIZE, width = FW_SKETCH_WIDTH * size, height = FW_SKETCH_HEIGHT * size;
  cairo_surface_t *surface = svg ? cairo_svg_surface_create_for_stream (fw_picture_gather, bytes, width, height)
                                 : cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)width, (int)height);
  FwStyle style = fw_style (theme, 1);
  cairo_t *cr = cairo_create (surface);
  fw_draw_explain (cr, id, &style, (FwBox){ 0, 0, width, height });
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  if (status == CAIRO_STATUS_SUCCESS && !svg)
    status = cairo_surface_write_to_png_stream (surface, fw_picture_gather, bytes);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return status;
}

gboolean
fw_explain_picture_write (const char *id, FwTheme theme, const char *path, GError **error)
{
  size_t length = strlen (path);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_status_t status = draw_file (bytes, id, theme, length > 4 && g_ascii_strcasecmp (path + length - 4, ".svg") == 0);

  if (status != CAIRO_STATUS_SUCCESS)
    return fw_picture_refuse (path, cairo_status_to_string (status), error);
  return fw_file_replace (path, (const char *)bytes->data, bytes->len, error);
}
