/* A panel dragged to where it should be at this crank angle: that is a wish. Part of FwCanvas. */
#pragma once

#include "app/canvasprivate.h"

G_BEGIN_DECLS

/* Takes hold of the panel at a page point. FALSE: there is none, or it does not turn. */
gboolean fw_ghost_drag_begin (FwCanvas *self, double x, double y);
void fw_ghost_drag_to (FwCanvas *self, double dx, double dy);
/* Makes the wish, or takes the place of the one there is; without a move nothing happens. */
void fw_ghost_drag_finish (FwCanvas *self);
void fw_ghost_drag_cancel (FwCanvas *self);

/* The picked panel turned by keys, degrees. Presses close together are one step of undo. FALSE: no panel is picked. */
gboolean fw_ghost_nudge (FwCanvas *self, double degrees);

/* Whether panels are pulled rather than picked: the page of wishes is in sight. */
void fw_canvas_set_pulling (FwCanvas *self, gboolean pulling);

G_END_DECLS
