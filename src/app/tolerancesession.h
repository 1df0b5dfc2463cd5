/* What the session knows of the thing as it is made: bands of what is made, a photograph, what was really built,
 * stated spreads, measurements. */
#pragma once

#include "app/session.h"
#include "doc/measurements.h"
#include "draw/photo.h"

G_BEGIN_DECLS

/* Bands for the pictures, shown where FW_SHOW_SPREAD is. Borrowed: until the next call or the next change of the
 * design, which forgets them. NULL, 0: none. */
void fw_session_take_spreads (FwSession *self, const FwSpreadBand *spreads, int n);

/* States a number's spread (file unit), or takes it back (negative): a step of undo. The error is also sent as
 * "message". */
gboolean fw_session_set_spread (FwSession *self, FwParam param, double spread);

/* A photograph under a view; borrowed until the next call. NULL: none. Call again after it has changed. */
void fw_session_set_photo (FwSession *self, const FwPhoto *photo);

/* Outlines of what was really built, over the views; a copy is taken. NULL: none. */
void fw_session_set_built (FwSession *self, const FwDesign *design);

/* Measurements in the file: a step of undo. */
gboolean fw_session_set_measurements (FwSession *self, const FwMeasuredRow *rows, int n);

G_END_DECLS
