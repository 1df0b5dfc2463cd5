/* A drawing whose height follows the width that it is given. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FW_TYPE_WIDTH_AREA (fw_width_area_get_type ())
G_DECLARE_FINAL_TYPE (FwWidthArea, fw_width_area, FW, WIDTH_AREA, GtkDrawingArea)

/* Pixels high at `width` pixels; `data` as it was given to fw_width_area_new (). */
typedef int (*FwWidthAreaHeight) (FwWidthArea *area, int width, gpointer data);

/* An image to the accessibility tree. `least`: pixels it is wide at least. `data` is borrowed and
 * must outlive the widget. gtk_widget_queue_resize () where something else than the width changes
 * the height. */
GtkWidget *fw_width_area_new (int least, FwWidthAreaHeight height, GtkDrawingAreaDrawFunc draw,
                              gpointer data);

G_END_DECLS
