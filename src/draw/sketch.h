/* Small drawings that explain: tubes, sheets, pins, arrows and a few words, laid out as plain numbers
 * on a page of FW_SKETCH_WIDTH x FW_SKETCH_HEIGHT px (y down) and painted in the style of the views. */
#pragma once

#include <pango/pangocairo.h>

#include "draw/shapes.h"
#include "draw/style.h"
#include "draw/view.h"

G_BEGIN_DECLS

#define FW_SKETCH_WIDTH 240.0
#define FW_SKETCH_HEIGHT 150.0

typedef enum
{
  FW_SKETCH_INK,
  FW_SKETCH_FAINT, /* thin: what lies behind, references, dimensions */
  FW_SKETCH_HOT,   /* what is explained */
  FW_SKETCH_BAD,   /* trouble */
} FwSketchRole;

typedef struct FwSketch FwSketch;

/* Empty. The style is copied. */
FwSketch *fw_sketch_new (const FwStyle *style);
/* NULL: nothing to do. */
void fw_sketch_free (FwSketch *sketch);

/* Until set back, what is added is drawn pale: another moment, or what might be. */
void fw_sketch_ghost (FwSketch *sketch, gboolean ghost);
/* Until set back, lines are dashed. */
void fw_sketch_dash (FwSketch *sketch, gboolean dash);

/* ---- Things, in the colours of their material; px of the sketch's page, `turn` in degrees ---- */

void fw_sketch_tube (FwSketch *sketch, const char *material, double width, const FwVec2 *points, int n);
void fw_sketch_sheet (FwSketch *sketch, const char *material, const FwVec2 *points, int n);
void fw_sketch_disc (FwSketch *sketch, const char *material, FwVec2 centre, double radius);
void fw_sketch_oval (FwSketch *sketch, const char *material, FwVec2 centre, double half_width, double half_height, double turn);
void fw_sketch_box (FwSketch *sketch, const char *material, double x, double y, double width, double height);
void fw_sketch_pin (FwSketch *sketch, FwVec2 centre);
/* A spring as a zigzag, `half` px to either side. */
void fw_sketch_coil (FwSketch *sketch, FwSketchRole role, FwVec2 a, FwVec2 b, double half);

/* ---- Lines ---- */

void fw_sketch_line (FwSketch *sketch, FwSketchRole role, FwVec2 a, FwVec2 b);
void fw_sketch_path (FwSketch *sketch, FwSketchRole role, const FwVec2 *points, int n);
void fw_sketch_hatch (FwSketch *sketch, FwSketchRole role, const FwVec2 *points, int n);
/* Angles in degrees from up, clockwise on the page. `heads`: 0 none, 1 at the end, 2 at both. */
void fw_sketch_arc (FwSketch *sketch, FwSketchRole role, FwVec2 centre, double radius, double from, double to, int heads);
void fw_sketch_arrow (FwSketch *sketch, FwSketchRole role, FwVec2 from, FwVec2 to);
/* A dimension: arrows at both ends. */
void fw_sketch_dim (FwSketch *sketch, FwSketchRole role, FwVec2 a, FwVec2 b);
/* A wedge of an angle, lightly filled. */
void fw_sketch_wedge (FwSketch *sketch, FwSketchRole role, FwVec2 centre, double radius, double from, double to);

/* ---- Words ---- */

/* The words' box, in px, stands beside the point on the side that (dx, dy) says, -1, 0 or 1 each; it is kept on the page. */
void fw_sketch_text (FwSketch *sketch, FwSketchRole role, FwVec2 at, double dx, double dy, const char *text);

/* Boxes of the words; writes at most `capacity`, returns how many there are. */
int fw_sketch_text_boxes (const FwSketch *sketch, FwBox *boxes, int capacity);
/* Around everything but words. */
FwBox fw_sketch_reach (const FwSketch *sketch);

/* On `box`, keeping the proportions. */
void fw_sketch_paint (const FwSketch *sketch, cairo_t *cr, FwBox box);

/* A point `radius` from the centre, at an angle in degrees from up, clockwise. */
static inline FwVec2
fw_sketch_at (FwVec2 centre, double radius, double degrees)
{
  double a = degrees * G_PI / 180;
  return fw_vec2 (centre.x + radius * sin (a), centre.y - radius * cos (a));
}

/* The angle of b seen from a, in the same terms: degrees from up, clockwise. */
static inline double
fw_sketch_angle (FwVec2 a, FwVec2 b)
{
  return atan2 (b.x - a.x, a.y - b.y) * 180 / G_PI;
}

G_END_DECLS
