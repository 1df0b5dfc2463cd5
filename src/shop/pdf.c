#include "shop/pdf.h"

#include <glib/gi18n.h>

#include "shop/logink.h"

#define POINTS_PER_MM (72 / 25.4)

static gboolean
draw_pages (cairo_t *cr, const FwTemplatePages *pages, const FwProgress *progress)
{
  int n = fw_template_pages_count (pages);
  cairo_scale (cr, POINTS_PER_MM, POINTS_PER_MM);
  for (int i = 0; i < n; i++)
    {
      if (!fw_progress (progress, (double)i / n, _ ("Drawing templates")))
        return FALSE;
      fw_template_page_draw (cr, pages, i);
      cairo_show_page (cr);
    }
  return TRUE;
}

gboolean
fw_template_write_pdf (const FwTemplatePages *pages, const char *path, const FwProgress *progress,
                       GError **error)
{
  double width, height;
  FwPdf pdf;
  fw_template_pages_size (pages, &width, &height);
  fw_pdf_open (&pdf, width * POINTS_PER_MM, height * POINTS_PER_MM, pages->tmpl->title);
  gboolean onward = draw_pages (pdf.cr, pages, progress);
  return fw_pdf_close (&pdf, onward, path, error);
}
