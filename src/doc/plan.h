/* The shape of a guided start: proportions that are fixed, and the few numbers that are searched.
 * Internal to this layer. */
#pragma once

#include <cjson/cJSON.h>

#include "doc/guided.h"

G_BEGIN_DECLS

#define FW_PLAN_PANELS 3

typedef struct
{
  FwGuide guide;
  /* Fixed by the answers, mm. */
  double step;    /* what lengths are rounded to */
  double half;    /* mid-plane to wing tip */
  double hinge;   /* mid-plane to the innermost hinge */
  double wing;    /* hinge to tip */
  double spans[FW_PLAN_PANELS];
  double mid_deg; /* middle of the swing asked for */
  /* Searched, mm and degrees. */
  double height;      /* of the datum over the crank, in the middle of its travel */
  double arm;         /* innermost hinge to the point the rod holds */
  double arm_deg;     /* by how much that point lies below the panel; negative */
  double body_radius; /* of the throw that carries the body; 0 if it is fixed */
  double wing_radius; /* of the throw that drives the wings */
  double station;     /* of that throw */
  double rod;
  /* Read off the solved turn. */
  gboolean has_stops;
  double stops[FW_PLAN_PANELS][2];
} FwPlan;

/* Fills in what the answers fix. */
void fw_plan_start (FwPlan *plan, const FwGuide *guide);

/* Heights and lengths that put the wings in the middle of their swing when all throws are level:
 * `hold` and `lift` are fractions of the wing, `share` is the body's part of the whole stroke. */
void fw_plan_shape (FwPlan *plan, double hold, double lift, double share);

/* All lengths rounded to what can be cut. */
void fw_plan_round (FwPlan *plan);

/* The design file of a plan; NULL when memory runs out. */
cJSON *fw_plan_to_tree (const FwPlan *plan, const char *title);

G_END_DECLS
