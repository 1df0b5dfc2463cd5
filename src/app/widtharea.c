#include "app/widtharea.h"

struct _FwWidthArea
{
  GtkDrawingArea parent_instance;
  int least;
  FwWidthAreaHeight height;
  gpointer data;
};

G_DEFINE_TYPE (FwWidthArea, fw_width_area, GTK_TYPE_DRAWING_AREA)

static GtkSizeRequestMode
area_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

/* To ask for the height when the width is there ("resize") is too late: GTK draws such a frame with
 * the old one, and complains. */
static void
area_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
              int *natural, int *minimum_baseline, int *natural_baseline)
{
  FwWidthArea *self = FW_WIDTH_AREA (widget);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = *natural = self->least;
  else
    *minimum = *natural = self->height (self, MAX (for_size, self->least), self->data);
}

static void
fw_width_area_class_init (FwWidthAreaClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->get_request_mode = area_mode;
  widget_class->measure = area_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
fw_width_area_init (FwWidthArea *self)
{
}

GtkWidget *
fw_width_area_new (int least, FwWidthAreaHeight height, GtkDrawingAreaDrawFunc draw, gpointer data)
{
  FwWidthArea *self = g_object_new (FW_TYPE_WIDTH_AREA, NULL);

  self->least = least;
  self->height = height;
  self->data = data;
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self), draw, data, NULL);
  return GTK_WIDGET (self);
}
