#include "draw/picturefile.h"

#include <glib/gi18n.h>

#include "doc/document.h"
#include "doc/files.h"

cairo_status_t
fw_picture_gather (void *bytes, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

gboolean
fw_picture_refuse (const char *path, const char *why, GError **error)
{
  char *shown = fw_file_display_name (path);
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _ ("%s: the picture cannot be written: %s"),
               shown, why);
  g_free (shown);
  return FALSE;
}

gboolean
fw_picture_write_png (cairo_surface_t *surface, const char *path, GError **error)
{
  GByteArray *bytes = g_byte_array_new ();
  cairo_status_t status = cairo_surface_write_to_png_stream (surface, fw_picture_gather, bytes);
  gboolean fine = status == CAIRO_STATUS_SUCCESS
                      ? fw_file_replace (path, (const char *)bytes->data, bytes->len, error)
                      : fw_picture_refuse (path, cairo_status_to_string (status), error);
  g_byte_array_unref (bytes);
  return fine;
}
