#include "app/severitymark.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/look.h"

static const char kind_key[] = "fw-sign-kind";
static const char number_key[] = "fw-sign-number";

FwSignKind
fw_sign_of_severity (FwSeverity severity)
{
  switch (severity)
    {
    case FW_FAILURE: return FW_SIGN_FAILURE;
    case FW_WARNING: return FW_SIGN_WARNING;
    default: return FW_SIGN_REMARK;
    }
}

const char *
fw_severity_name (FwSeverity severity)
{
  switch (severity)
    {
    case FW_FAILURE: return _("Failure");
    case FW_WARNING: return _("Warning");
    default: return _("Remark");
    }
}

/* All shapes stand in a square from -1 to 1. */

static void
paint_failure (cairo_t *cr, const FwStyle *style)
{
  cairo_move_to (cr, 0, -1);
  cairo_line_to (cr, 1, 0);
  cairo_line_to (cr, 0, 1);
  cairo_line_to (cr, -1, 0);
  cairo_close_path (cr);
  fw_set_colour (cr, style->trouble);
  cairo_fill (cr);
}

static void
paint_warning (cairo_t *cr, const FwStyle *style)
{
  FwColour tint = style->trouble;

  tint.a = 0.16;
  cairo_move_to (cr, 0, -0.9);
  cairo_line_to (cr, 0.94, 0.8);
  cairo_line_to (cr, -0.94, 0.8);
  cairo_close_path (cr);
  fw_set_colour (cr, tint);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, style->trouble);
  cairo_stroke (cr);
}

static void
paint_remark (cairo_t *cr, const FwStyle *style)
{
  fw_set_colour (cr, style->remark);
  cairo_arc (cr, 0, 0, 0.82, 0, 2 * G_PI);
  cairo_stroke (cr);
}

static void
paint_well (cairo_t *cr, const FwStyle *style)
{
  fw_set_colour (cr, style->motion);
  cairo_arc (cr, 0, 0, 0.86, 0, 2 * G_PI);
  cairo_stroke (cr);
  cairo_move_to (cr, -0.4, 0.02);
  cairo_line_to (cr, -0.1, 0.34);
  cairo_line_to (cr, 0.42, -0.32);
  cairo_stroke (cr);
}

/* Around the middle of the sign; a triangle's middle is lower. */
static void
paint_number (GtkWidget *area, cairo_t *cr, FwSignKind kind, int number, const FwStyle *style)
{
  char text[16];
  PangoRectangle ink;

  g_snprintf (text, sizeof text, "%d", number);
  PangoLayout *layout = gtk_widget_create_pango_layout (area, text);
  PangoFontDescription *font = pango_font_description_from_string (style->family);
  pango_font_description_set_absolute_size (font, (number < 100 ? 11 : 9) * PANGO_SCALE);
  pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  pango_layout_set_font_description (layout, font);
  pango_layout_get_pixel_extents (layout, &ink, NULL);
  fw_set_colour (cr, kind == FW_SIGN_FAILURE ? style->ground : kind == FW_SIGN_WARNING ? style->trouble : style->ink);
  cairo_move_to (cr, -ink.x - ink.width / 2.0, -ink.y - ink.height / 2.0 + (kind == FW_SIGN_WARNING ? 4 : 0));
  pango_cairo_show_layout (cr, layout);
  pango_font_description_free (font);
  g_object_unref (layout);
}

static void
mark_draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  FwSession *session = data;
  FwStyle style = fw_session_style (session, 1);
  FwSignKind kind = (FwSignKind) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), kind_key));
  int number = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), number_key));
  double half = MIN (width, height) / 2.0;

  cairo_translate (cr, width / 2.0, height / 2.0);
  cairo_save (cr);
  cairo_scale (cr, half, half);
  cairo_set_line_width (cr, MAX (2 / half, 0.1));
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  if (kind == FW_SIGN_FAILURE)
    paint_failure (cr, &style);
  else if (kind == FW_SIGN_WARNING)
    paint_warning (cr, &style);
  else if (kind == FW_SIGN_WELL)
    paint_well (cr, &style);
  else
    paint_remark (cr, &style);
  cairo_restore (cr);
  if (number > 0)
    paint_number (GTK_WIDGET (area), cr, kind, number, &style);
}

GtkWidget *
fw_severity_mark_new (FwSession *session, int size)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), size);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), size);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), mark_draw, g_object_ref (session), g_object_unref);
  gtk_widget_set_valign (area, GTK_ALIGN_START);
  g_signal_connect_object (session, "display-changed", G_CALLBACK (gtk_widget_queue_draw), area, G_CONNECT_SWAPPED);
  return area;
}

void
fw_severity_mark_set (GtkWidget *mark, FwSignKind kind, int number)
{
  g_object_set_data (G_OBJECT (mark), kind_key, GINT_TO_POINTER ((int) kind));
  g_object_set_data (G_OBJECT (mark), number_key, GINT_TO_POINTER (number));
  gtk_widget_queue_draw (mark);
}
