#include "shop/pdf.h"

#include <cairo-pdf.h>
#include <gio/gio.h>
#include <glib/gi18n.h>

#include "doc/files.h"

#define POINTS_PER_MM (72 / 25.4)

static cairo_status_t
keep (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static gboolean
draw_pages (cairo_surface_t *surface, const FwTemplatePages *pages, const FwProgress *progress)
{
  int n = fw_template_pages_count (pages);
  cairo_t *cr = cairo_create (surface);
  gboolean onward = TRUE;
  cairo_scale (cr, POINTS_PER_MM, POINTS_PER_MM);
  for (int i = 0; i < n && onward; i++)
    {
      onward = fw_progress (progress, (double)i / n, _ ("Drawing templates"));
      if (!onward)
        break;
      fw_template_page_draw (cr, pages, i);
      cairo_show_page (cr);
    }
  cairo_destroy (cr);
  return onward;
}

gboolean
fw_template_write_pdf (const FwTemplatePages *pages, const char *path, const FwProgress *progress,
                       GError **error)
{
  double width, height;
  GByteArray *bytes = g_byte_array_new ();
  fw_template_pages_size (pages, &width, &height);
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (keep, bytes, width * POINTS_PER_MM,
                                                                  height * POINTS_PER_MM);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, pages->tmpl->title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, NULL);
  gboolean onward = draw_pages (surface, pages, progress);
  cairo_surface_finish (surface);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  gboolean fine = FALSE;
  if (!onward)
    fw_progress_stopped (error);
  else if (status != CAIRO_STATUS_SUCCESS)
    {
      g_autofree char *shown = fw_file_display_name (path);
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("%s: the pages cannot be drawn: %s"), shown,
                   cairo_status_to_string (status));
    }
  else
    fine = fw_file_replace (path, (const char *)bytes->data, bytes->len, error);
  g_byte_array_unref (bytes);
  return fine;
}
