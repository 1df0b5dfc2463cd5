#include "app/severitymark.h"

#include <glib/gi18n.h>
#include <math.h>

static const char kind_key[] = "fw-mark-kind";

FwMarkKind
fw_mark_of_severity (FwSeverity severity)
{
  switch (severity)
    {
    case FW_FAILURE: return FW_MARK_FAILURE;
    case FW_WARNING: return FW_MARK_WARNING;
    default: return FW_MARK_REMARK;
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
  for (int i = 0; i < 8; i++)
    cairo_line_to (cr, cos (G_PI / 8 + i * G_PI / 4), sin (G_PI / 8 + i * G_PI / 4));
  cairo_close_path (cr);
  fw_set_colour (cr, style->trouble);
  cairo_fill (cr);
  cairo_move_to (cr, -0.38, -0.38);
  cairo_line_to (cr, 0.38, 0.38);
  cairo_move_to (cr, 0.38, -0.38);
  cairo_line_to (cr, -0.38, 0.38);
  fw_set_colour (cr, style->ground);
  cairo_stroke (cr);
}

static void
paint_warning (cairo_t *cr, const FwStyle *style)
{
  FwColour tint = style->trouble;

  tint.a = 0.18;
  cairo_move_to (cr, 0, -0.82);
  cairo_line_to (cr, 0.88, 0.74);
  cairo_line_to (cr, -0.88, 0.74);
  cairo_close_path (cr);
  fw_set_colour (cr, tint);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, style->trouble);
  cairo_stroke (cr);
  cairo_move_to (cr, 0, -0.28);
  cairo_line_to (cr, 0, 0.18);
  cairo_move_to (cr, 0, 0.46);
  cairo_line_to (cr, 0, 0.47);
  cairo_stroke (cr);
}

static void
paint_remark (cairo_t *cr, const FwStyle *style)
{
  fw_set_colour (cr, style->remark);
  cairo_arc (cr, 0, 0, 0.72, 0, 2 * G_PI);
  cairo_stroke (cr);
  cairo_arc (cr, 0, 0, 0.2, 0, 2 * G_PI);
  cairo_fill (cr);
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

static void
mark_draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  FwSession *session = data;
  FwStyle style = fw_style (fw_session_dark (session) ? FW_THEME_DARK : FW_THEME_LIGHT, 1);
  FwMarkKind kind = (FwMarkKind) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), kind_key));
  double half = MIN (width, height) / 2.0;

  cairo_translate (cr, width / 2.0, height / 2.0);
  cairo_scale (cr, half, half);
  cairo_set_line_width (cr, MAX (2 / half, 0.1));
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  if (kind == FW_MARK_FAILURE)
    paint_failure (cr, &style);
  else if (kind == FW_MARK_WARNING)
    paint_warning (cr, &style);
  else if (kind == FW_MARK_WELL)
    paint_well (cr, &style);
  else
    paint_remark (cr, &style);
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
fw_severity_mark_set (GtkWidget *mark, FwMarkKind kind)
{
  gpointer value = GINT_TO_POINTER ((int) kind);

  if (g_object_get_data (G_OBJECT (mark), kind_key) == value)
    return;
  g_object_set_data (G_OBJECT (mark), kind_key, value);
  gtk_widget_queue_draw (mark);
}
