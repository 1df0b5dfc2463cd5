/* A slider over one number, with a band below its track: solid where the whole turn goes round free
 * of trouble, hatched where it goes round with trouble, empty where it does not go round.
 *
 * A scale like any other to the keyboard, the mouse and the accessibility tree; the wheel is left to
 * the list it stands in. Signals:
 *   moved    (double value) by hand, keyboard or assistive technology
 *   grabbed  (boolean) the mouse took hold or let go */
#pragma once

#include <gtk/gtk.h>

#include "core/trouble.h"
#include "draw/style.h"

G_BEGIN_DECLS

#define FW_TYPE_BAND_SCALE (fw_band_scale_get_type ())
G_DECLARE_FINAL_TYPE (FwBandScale, fw_band_scale, FW, BAND_SCALE, GtkScale)

GtkWidget *fw_band_scale_new (void);

/* How far a key moves it: with Ctrl `fine`, alone `step`, with Shift `coarse`. The mouse moves it in
 * whole multiples of `fine`. */
void fw_band_scale_set_steps (FwBandScale *self, double fine, double step, double coarse);

/* Range and value, without "moved". */
void fw_band_scale_set (FwBandScale *self, double lower, double upper, double value);
gboolean fw_band_scale_held (FwBandScale *self); /* by the mouse */

/* Copies the bands; n 0: none known. `stale` draws those there are faintly, until new ones come. */
void fw_band_scale_set_bands (FwBandScale *self, const FwBand *bands, int n);
void fw_band_scale_set_stale (FwBandScale *self);
void fw_band_scale_set_theme (FwBandScale *self, FwTheme theme);

G_END_DECLS
