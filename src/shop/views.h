/* The sculpture in one or both views, fitted into a box so that nothing jumps while the crank turns. */
#pragma once

#include "draw/motionstrip.h"

G_BEGIN_DECLS

typedef struct
{
  FwStripViews views;
  FwCamera front, side;
  FwBox front_box, side_box; /* where each is drawn; the whole box but for BOTH */
} FwPairOfViews;

/* Height over width that suits the views over the whole turn. */
double fw_views_shape (const FwScene *scene, FwStripViews views);

/* Both views at one scale on one floor, `margin` (in the box's unit) free all round. */
FwPairOfViews fw_views_fit (const FwScene *scene, FwStripViews views, FwBox box, double margin);

/* Draws the scene's pose. `show`: FwShow bits. */
void fw_views_draw (cairo_t *cr, const FwScene *scene, const FwPairOfViews *pair, const FwStyle *style,
                    guint show);

G_END_DECLS
