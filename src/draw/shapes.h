/* Small plane geometry on page points: polygons, hatching, boxes at an angle. Plain numbers, px. */
#pragma once

#include <glib.h>

#include "core/vec.h"

G_BEGIN_DECLS

/* Positive where the points run clockwise on the page (y down). */
double fw_polygon_area (const FwVec2 *p, int n);

/* How often the polygon winds round the point, with its sense. */
int fw_polygon_turns (const FwVec2 *p, int n, FwVec2 q);

/* Whether it winds round the point; on the edge it may say either. */
gboolean fw_polygon_holds (const FwVec2 *p, int n, FwVec2 q);

/* From p to the nearest point of the segment, px. */
double fw_page_segment_distance (FwVec2 p, FwVec2 a, FwVec2 b);

/* Parallel lines at `angle` (rad, page, y down) and `spacing` cut to the polygon, as pairs of
 * points. The lines stand in fixed places on the page, so that hatching does not swim when the
 * polygon moves a little. Appends to `pairs` (FwVec2). At most a few hundred lines, whatever the
 * size. */
void fw_polygon_hatch (const FwVec2 *p, int n, double angle, double spacing, GArray *pairs);

/* A rectangle, px, turned by `angle` (rad, clockwise on the page) about its centre. */
typedef struct
{
  FwVec2 centre;
  double half_width, half_height, angle;
} FwTilted;

gboolean fw_tilted_overlap (const FwTilted *a, const FwTilted *b);
gboolean fw_tilted_meets_segment (const FwTilted *box, FwVec2 a, FwVec2 b);
/* Half extents, px, of the upright rectangle around it. */
void fw_tilted_reach (const FwTilted *box, double *half_x, double *half_y);

/* The greatest of 1, 2, 5 times a power of ten that is not above `most`; 0 for most <= 0. */
double fw_round_length (double most);

/* In any unit. */
static inline FwVec2
fw_vec2 (double x, double y)
{
  return (FwVec2){ x, y };
}

/* a at t = 0, b at t = 1: t is the share of b. */
static inline FwVec2
fw_vec2_mix (FwVec2 a, FwVec2 b, double t)
{
  return fw_vec2 (a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
}

/* In the unit of both. */
static inline double
fw_vec2_distance (FwVec2 a, FwVec2 b)
{
  return hypot (a.x - b.x, a.y - b.y);
}

G_END_DECLS
