/* The turn strip: one turn of the crank as a ruler with curves, trouble bands and flags. */
#pragma once

#include "doc/units.h"
#include "draw/view.h"

G_BEGIN_DECLS

#define FW_STRIP_CURVES 6

typedef enum
{
  FW_FLAG_TURNING,
  FW_FLAG_WORST,
  FW_FLAG_EDGE,
  FW_FLAG_BOUNCE
} FwFlagKind;
typedef struct
{
  double crank; /* rad */
  FwFlagKind kind;
  int trouble;  /* index in the trouble list for WORST and EDGE; -1 */
  int curve;    /* index of the curve for TURNING; -1 */
  double value; /* of the quantity, core unit, for TURNING */
  int bounce;   /* index in the scene's bounces for BOUNCE */
} FwFlag;

typedef struct
{
  FwQuantity curves[FW_STRIP_CURVES];
  int n_curves;
  double crank;       /* the scrub line, rad */
  int picked_trouble; /* -1 */
  FwLengths lengths;
} FwStripState;

/* Flags of this turn in ascending crank angle: turning points of the chosen curves, worst points
 * and edges of trouble, bounce points (where the load turns round). */
int fw_strip_flags (const FwScene *scene, const FwStripState *state, FwFlag *flags, int capacity);

/* Paints all of it into the page box, px. */
void fw_draw_turn_strip (cairo_t *cr, const FwScene *scene, const FwStripState *state,
                         const FwStyle *style, FwBox page);

/* Page x, px, of a crank angle, rad, and back (clamped to [0, 2 pi]). */
double fw_strip_x (const FwStyle *style, FwBox page, double crank);
double fw_strip_crank (const FwStyle *style, FwBox page, double x);

G_END_DECLS
