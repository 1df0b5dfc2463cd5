/* What a window keeps between two frames: pixels of what stands still while the crank turns, and words laid out.
 *
 * Exports do without: given none, every function draws all of its picture, in the same order. */
#pragma once

#include <pango/pangocairo.h>

#include "draw/turnstrip.h"

G_BEGIN_DECLS

typedef struct FwStill FwStill;

/* With nothing kept. */
FwStill *fw_still_new (void);
/* NULL: nothing to do. */
void fw_still_free (FwStill *still);

/* What it shows has changed: design, display. Page, style, camera and scale it compares itself. */
void fw_still_forget (FwStill *still);

/* Device px per px of the surface drawn on; 1 at first. */
void fw_still_set_scale (FwStill *still, double scale);

/* As fw_draw_view () and fw_draw_turn_strip (), the same picture, with what can be kept from the last frame. `still`
 * serves one view of one design's turn; NULL: nothing is kept. */
void fw_draw_view_kept (cairo_t *cr, FwStill *still, const FwScene *scene, const FwCamera *camera,
                        const FwStyle *style, FwBox page, guint show, const FwPart *picked);
void fw_draw_turn_strip_kept (cairo_t *cr, FwStill *still, const FwScene *scene, const FwStripState *state,
                              const FwStyle *style, FwBox page);

/* ---- For those who draw ---- */

#define FW_STILL_NUMBERS 24

/* What the layer depends on beside what fw_still_forget () is called for: numbers and one address, which is only
 * compared. Those not given are 0. */
typedef struct
{
  double numbers[FW_STILL_NUMBERS];
  const void *address;
} FwStillKey;

/* Adds a style's numbers from `at` on; returns the place after them. */
int fw_still_key_style (FwStillKey *key, int at, const FwStyle *style);

/* Goes on from `sum` (0 at first) with so many numbers: where they differ, so do the sums, but for one case in 2^50. */
double fw_still_sum (double sum, const double *numbers, int n);

typedef void (*FwStillPaint) (cairo_t *cr, const void *data);

/* Paints the page's ground and the layer on it: from kept pixels where the key is that of the last time, else, and
 * where `still` is NULL, by `paint`. Pixels are first kept when a key comes the second time, so that what changes with
 * every frame costs nothing. */
void fw_still_paint (FwStill *still, cairo_t *cr, FwBox page, FwColour ground, const FwStillKey *key,
                     FwStillPaint paint, const void *data);

/* The same for what is all of one colour and may lie over what moves: `paint` sets none. */
void fw_still_paint_colour (FwStill *still, cairo_t *cr, FwBox page, FwColour colour, const FwStillKey *key,
                            FwStillPaint paint, const void *data);

/* The words laid out with these settings, for the surface that the first `cr` drew on; the caller owns one reference.
 * `context` lays out what is not there yet and where `still` is NULL. */
PangoLayout *fw_still_layout (FwStill *still, PangoContext *context, const PangoFontDescription *font,
                              const char *text);

G_END_DECLS
