/* A photograph of the real thing under a view: loaded, placed by two points, faded, and panels' angles read off it. */
#pragma once

#include "app/fittable.h"
#include "app/window.h"

G_BEGIN_DECLS

#define FW_TYPE_FIT_PHOTO (fw_fit_photo_get_type ())
G_DECLARE_FINAL_TYPE (FwFitPhoto, fw_fit_photo, FW, FIT_PHOTO, GtkWidget)

/* Angles read go into `table`. */
GtkWidget *fw_fit_photo_new (FwWindow *window, FwFitTable *table);

G_END_DECLS
