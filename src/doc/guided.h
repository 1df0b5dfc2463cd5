/* A working design from a few answers. */
#pragma once

#include <glib.h>

#include "core/design.h"

G_BEGIN_DECLS

typedef struct
{
  double span_mm;        /* wing tip to wing tip, 60..6000 */
  gboolean both_sides;   /* else the right wing only */
  int panels_a_side;     /* 1..3 */
  FwRuns runs;
  FwRide ride;           /* FIXED, RAIL, SLEEVE or ROCKER */
  double top_deg, bottom_deg; /* swing wanted of the innermost panel, e.g. 30, -25 */
} FwGuide;

/* Text of a design file that goes round with no trouble of warning or worse: numbers are searched
 * until that holds. FALSE with one line if the answers cannot be met or memory runs out. */
gboolean fw_guided_design (const FwGuide *guide, const char *title, char **text, GError **error);

G_END_DECLS
