/* One view of the sculpture: drawn, turned over by zoom and pan, and its handles dragged.
 *
 * The pose, the theme and what is shown come from the session. The page's scale fits the whole turn
 * and holds still while the crank turns and while a number is dragged. Style class "canvas". */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_CANVAS (fw_canvas_get_type ())
G_DECLARE_FINAL_TYPE (FwCanvas, fw_canvas, FW, CANVAS, GtkWidget)

GtkWidget *fw_canvas_new (FwSession *session, FwView view);

void fw_canvas_set_view (FwCanvas *self, FwView view); /* also fits */
FwView fw_canvas_view (FwCanvas *self);

/* Two views that stand side by side on one floor: fitted, they have one scale, and type and lines of one size. Either may
 * be hidden or moved by hand; then the other is fitted alone. */
void fw_canvas_set_beside (FwCanvas *self, FwCanvas *other);

/* Fits the whole turn into the widget and follows its size from now on. */
void fw_canvas_fit (FwCanvas *self);
/* One step about the middle; the view no longer follows the widget's size by refitting. */
void fw_canvas_zoom_in (FwCanvas *self);
void fw_canvas_zoom_out (FwCanvas *self);

G_END_DECLS
