/* Force arrows laid out as plain numbers. Each is the force on the part that it touches: on the rod, on
 * the crank at pins and bearings, on the post at its guide, slide or link, on the body by its weight.
 *
 * All have one scale, px per N, from the greatest force of the whole turn, so that it stands still while
 * the crank turns. Push and pull are told by shape. A bar has two arrows beside it: pushed, they point at
 * each other with closed heads; pulled, away from each other with open ones. At a pin or bearing a push
 * points away from it and is closed, a pull points into it and is open; both lie on its free side. What a
 * view shows of a force is the part of it that lies in the view's plane. */
#pragma once

#include "draw/forcerows.h"
#include "draw/labels.h"
#include "draw/drawing.h"

G_BEGIN_DECLS

typedef enum
{
  FW_ARROW_PUSH,
  FW_ARROW_PULL,
  FW_ARROW_WEIGHT
} FwArrowKind;

typedef struct
{
  FwArrowKind kind;
  FwPart part;
  double force_N; /* size, of the whole force */
  double seen_N;  /* of what lies in the view's plane: the arrow's length is this times the scale */
  gboolean bar;   /* two arrows in a line along a bar, FW_BAR_GAP to either side of its middle */
  FwVec2 from, to; /* page; of a single arrow: tail and tip; of a pair: its outer ends */
  FwVec2 off;      /* page, unit: the side with room for words */
  gboolean twin;   /* of a left-hand part: its figure stands at the right-hand one */
} FwArrow;

#define FW_MOST_ARROWS 256
#define FW_BAR_GAP 1.2 /* wide lines */

/* The greatest force that has an arrow, over the turn, N; 0: none. */
double fw_arrow_peak (const FwScene *scene);

/* Page px per N: the greatest force is as long as a share of the page's shorter side. 0: no forces. */
double fw_arrow_scale (const FwScene *scene, FwBox page);

/* The arrows at the pose. `show`: FW_SHOW_FORCES and FW_SHOW_WEIGHTS. None where something cannot be
 * assembled. Returns how many were written. */
int fw_force_arrows (const FwDrawing *drawing, const FwStyle *style, FwBox page, guint show,
                     FwArrow *arrows, int capacity);

/* Keeps words off the arrows, then puts their figures and the scale. */
void fw_force_words (FwLabels *labels, const FwDrawing *drawing, guint show);
void fw_overlay_forces (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style, FwBox page,
                        guint show);

/* A star at each joint that knocks at the pose's crank angle, filled where it has play. */
void fw_overlay_bounces (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style, guint show);

G_END_DECLS
