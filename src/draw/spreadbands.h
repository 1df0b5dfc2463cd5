/* What comes of making by hand, on the pictures: the band behind each curve of the strip, the fan within which a
 * panel's edge lies at the present crank angle, and the outline of what was really built. */
#pragma once

#include "draw/overlay.h"
#include "draw/striplayout.h"

G_BEGIN_DECLS

/* Values of one band between two steps of its row, unit of the quantity in the core. */
typedef struct
{
  double low, middle, high;
} FwSpreadValues;

/* The scene's band of a quantity, or NULL. */
const FwSpreadBand *fw_spread_band_of (const FwScene *scene, FwQuantity quantity);

/* At a crank angle (rad), on the straight line between its neighbours; FALSE where one of them is not known. */
gboolean fw_spread_at (const FwSpreadBand *band, double crank, FwSpreadValues *values);

/* Least of the lows and greatest of the highs, core unit. FALSE where nothing is known. */
gboolean fw_spread_reach (const FwSpreadBand *band, double *least, double *most);

/* The stretch of crank steps from `from` (0..steps) on that is known: writes a closed outline, low forth and high
 * back, as points (step, core value), at most 2 (steps + 1) of them. Returns how many; *next: where to go on. */
int fw_spread_outline (const FwSpreadBand *band, int from, FwVec2 *points, int *next);

/* Behind the curves of the strip. */
void fw_strip_paint_spreads (cairo_t *cr, const FwStrip *strip);

/* A member's frame turned about its own hinge by an angle, rad. */
FwFrame fw_member_turned (const FwMemberPose *member, double angle);

/* Under the work: each panel that a rod drives from its low to its high angle, about its own hinge. */
void fw_overlay_spreads (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);

/* Over the work: outlines of another mechanism in its pose (FwScene.built). */
void fw_overlay_built (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);

G_END_DECLS
