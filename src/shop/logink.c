#include "shop/logink.h"

#include <cairo-pdf.h>
#include <gio/gio.h>
#include <glib/gi18n.h>

#include "doc/files.h"
#include "draw/picturefile.h"
#include "draw/unbroken.h"

static PangoLayout *
lay (const char *text, const FwInk *ink)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  PangoLayout *layout = pango_layout_new (context);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");
  cairo_font_options_t *options = cairo_font_options_create ();

  /* As on paper: no snapping of letters to screen pixels. */
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  cairo_font_options_destroy (options);
  pango_font_description_set_absolute_size (font, ink->size * PANGO_SCALE);
  pango_font_description_set_weight (font, ink->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_text (layout, text, -1);
  PangoAttrList *held = fw_unbroken_figures (text);
  pango_layout_set_attributes (layout, held);
  pango_attr_list_unref (held);
  if (ink->width > 0)
    {
      pango_layout_set_width (layout, (int)(ink->width * PANGO_SCALE));
      pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
      pango_layout_set_alignment (layout, ink->align > 0.75   ? PANGO_ALIGN_RIGHT
                                          : ink->align > 0.25 ? PANGO_ALIGN_CENTER
                                                              : PANGO_ALIGN_LEFT);
    }
  pango_layout_set_line_spacing (layout, 1.2f);
  pango_font_description_free (font);
  g_object_unref (context);
  return layout;
}

static void
size_of (PangoLayout *layout, double *width, double *height)
{
  int w, h;
  pango_layout_get_size (layout, &w, &h);
  *width = (double)w / PANGO_SCALE;
  *height = (double)h / PANGO_SCALE;
}

double
fw_ink_height (const char *text, const FwInk *ink)
{
  double width, height;
  g_autoptr (PangoLayout) layout = lay (text, ink);
  size_of (layout, &width, &height);
  return height;
}

double
fw_ink_width (const char *text, const FwInk *ink)
{
  double width, height;
  g_autoptr (PangoLayout) layout = lay (text, ink);
  size_of (layout, &width, &height);
  return width;
}

GPtrArray *
fw_ink_lines (const char *text, const FwInk *ink)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (PangoLayout) layout = lay (text, ink);
  for (const GSList *at = pango_layout_get_lines_readonly (layout); at != NULL; at = at->next)
    {
      const PangoLayoutLine *line = at->data;
      // cppcheck-suppress leakNoVarFunctionCall ; it gives back what it is given
      g_ptr_array_add (lines, g_strchomp (g_strndup (text + line->start_index, (gsize)line->length)));
    }
  return lines;
}

double
fw_ink_draw (cairo_t *cr, const char *text, const FwInk *ink, double x, double y, FwColour colour)
{
  double width, height;
  g_autoptr (PangoLayout) layout = lay (text, ink);
  size_of (layout, &width, &height);
  cairo_move_to (cr, ink->width > 0 ? x : x - ink->align * width, y);
  fw_set_colour (cr, colour);
  pango_cairo_show_layout (cr, layout);
  return height;
}

void
fw_pdf_open (FwPdf *pdf, double width, double height, const char *title)
{
  pdf->bytes = g_byte_array_new ();
  pdf->surface = cairo_pdf_surface_create_for_stream (fw_picture_gather, pdf->bytes, width, height);
  cairo_pdf_surface_set_metadata (pdf->surface, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata (pdf->surface, CAIRO_PDF_METADATA_CREATE_DATE, NULL);
  pdf->cr = cairo_create (pdf->surface);
}

gboolean
fw_pdf_close (FwPdf *pdf, gboolean onward, const char *path, GError **error)
{
  cairo_status_t status = cairo_status (pdf->cr);
  gboolean fine = FALSE;
  cairo_destroy (pdf->cr);
  cairo_surface_finish (pdf->surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (pdf->surface);
  cairo_surface_destroy (pdf->surface);
  if (!onward)
    fw_progress_stopped (error);
  else if (status != CAIRO_STATUS_SUCCESS)
    {
      g_autofree char *shown = fw_file_display_name (path);
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("%s: the pages cannot be drawn: %s"), shown,
                   cairo_status_to_string (status));
    }
  else
    fine = fw_file_replace (path, (const char *)pdf->bytes->data, pdf->bytes->len, error);
  g_byte_array_unref (pdf->bytes);
  return fine;
}
