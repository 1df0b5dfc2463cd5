/* The turn strip: a heading row (crank angle to type, curves to choose) above the ruler of one turn.
 *
 * Drag to scrub; Left and Right 1 degree, with Ctrl 0.1; Page Up and Page Down to the flag before and
 * after, with Shift to the bounce point; Home and End; a click on a flag goes there. Style class "strip-view". */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_STRIP_VIEW (fw_strip_view_get_type ())
G_DECLARE_FINAL_TYPE (FwStripView, fw_strip_view, FW, STRIP_VIEW, GtkWidget)

GtkWidget *fw_strip_view_new (FwSession *session);

/* Puts a control (the play bar, say) at the start of the heading row. */
void fw_strip_view_add_control (FwStripView *self, GtkWidget *control);

/* Moves the crank; angles in degrees, any size, taken into one turn. */
void fw_strip_view_step (FwStripView *self, double degrees);
/* To the next flag in the direction (+1, -1), around the turn; says so if there is none. */
void fw_strip_view_to_flag (FwStripView *self, int direction);
/* The same from bounce point to bounce point; picks the joint that would knock. */
void fw_strip_view_to_bounce (FwStripView *self, int direction);
/* Puts the keyboard into the field for the crank angle. */
void fw_strip_view_focus_angle (FwStripView *self);

G_END_DECLS
