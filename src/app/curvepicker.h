/* A button that opens the list of curves for the turn strip, grouped by kind, up to FW_STRIP_CURVES. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_CURVE_PICKER (fw_curve_picker_get_type ())
G_DECLARE_FINAL_TYPE (FwCurvePicker, fw_curve_picker, FW, CURVE_PICKER, GtkWidget)

GtkWidget *fw_curve_picker_new (FwSession *session);

G_END_DECLS
