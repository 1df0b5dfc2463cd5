#include "shop/logpicture.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gi18n.h>

#include "doc/files.h"

#define MOST_PIXELS 200000000 /* of a file that is opened at all */

static char *
cannot_be_read (const char *file)
{
  g_autofree char *shown = fw_file_display_name (file);
  return g_strdup_printf (_ ("The picture %s cannot be read: a PNG or JPEG file was expected."), shown);
}

/* What is no picture is not handed on either: a log that came from elsewhere may call any file of the folder one, or a
 * link that leads out of it. */
char *
fw_log_picture_path (const char *folder, const char *file, char **why)
{
  g_autofree char *path = g_build_filename (folder, file, NULL);
  if (!g_file_test (path, G_FILE_TEST_IS_REGULAR))
    {
      g_autofree char *shown = fw_file_display_name (file);
      *why = g_strdup_printf (_ ("The picture %s is not there."), shown);
      return NULL;
    }
  if (gdk_pixbuf_get_file_info (path, NULL, NULL) != NULL)
    return g_steal_pointer (&path);
  *why = cannot_be_read (file);
  return NULL;
}

static GdkPixbuf *
load (const char *path, int most)
{
  int width = 0, height = 0;
  if (gdk_pixbuf_get_file_info (path, &width, &height) == NULL || width < 1 || height < 1
      || (gint64)width * height > MOST_PIXELS)
    return NULL;
  GdkPixbuf *raw = MAX (width, height) > most ? gdk_pixbuf_new_from_file_at_size (path, most, most, NULL)
                                              : gdk_pixbuf_new_from_file (path, NULL);
  if (raw == NULL)
    return NULL;
  GdkPixbuf *upright = gdk_pixbuf_apply_embedded_orientation (raw);
  g_object_unref (raw);
  return upright;
}

/* On white where the picture is clear. */
static cairo_surface_t *
paint (const GdkPixbuf *pixbuf)
{
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  int channels = gdk_pixbuf_get_n_channels (pixbuf), stride = gdk_pixbuf_get_rowstride (pixbuf);
  const guint8 *from = gdk_pixbuf_read_pixels (pixbuf);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  guint8 *to = cairo_image_surface_get_data (surface);
  int row = cairo_image_surface_get_stride (surface);
  if (to == NULL)
    return surface;
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        const guint8 *p = from + (gsize)y * (gsize)stride + (gsize)x * (gsize)channels;
        guint alpha = channels == 4 ? p[3] : 255;
        guint32 rgb = 0;
        for (int c = 0; c < 3; c++)
          rgb = rgb << 8 | (p[c] * alpha + 255 * (255 - alpha)) / 255;
        ((guint32 *)(void *)(to + (gsize)y * (gsize)row))[x] = rgb;
      }
  cairo_surface_mark_dirty (surface);
  return surface;
}

/* Photos stay small in a PDF when they go in as JPEG. */
static void
attach_jpeg (cairo_surface_t *surface, GdkPixbuf *pixbuf)
{
  char *data;
  gsize length;
  if (!gdk_pixbuf_get_has_alpha (pixbuf)
      && gdk_pixbuf_save_to_buffer (pixbuf, &data, &length, "jpeg", NULL, "quality", "85", NULL))
    cairo_surface_set_mime_data (surface, CAIRO_MIME_TYPE_JPEG, (guchar *)data, length, g_free, data);
}

cairo_surface_t *
fw_log_picture_load (const char *folder, const char *file, int most, char **why)
{
  g_autofree char *path = fw_log_picture_path (folder, file, why);
  if (path == NULL)
    return NULL;
  g_autoptr (GdkPixbuf) pixbuf = load (path, most);
  cairo_surface_t *surface = pixbuf != NULL ? paint (pixbuf) : NULL;
  if (surface != NULL && cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS)
    {
      attach_jpeg (surface, pixbuf);
      return surface;
    }
  if (surface != NULL)
    cairo_surface_destroy (surface);
  *why = cannot_be_read (file);
  return NULL;
}
