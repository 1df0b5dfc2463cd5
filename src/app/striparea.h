/* The ruler of one turn: picture and input. To the accessibility tree it is a slider from 0 to 360
 * degrees, which assistive technology may also set. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_STRIP_AREA (fw_strip_area_get_type ())
G_DECLARE_FINAL_TYPE (FwStripArea, fw_strip_area, FW, STRIP_AREA, GtkRange)

GtkWidget *fw_strip_area_new (FwSession *session);

/* See fw_strip_view_step () and fw_strip_view_to_flag (). */
void fw_strip_area_step (FwStripArea *self, double degrees);
void fw_strip_area_to_flag (FwStripArea *self, int direction);
void fw_strip_area_to_bounce (FwStripArea *self, int direction);

G_END_DECLS
