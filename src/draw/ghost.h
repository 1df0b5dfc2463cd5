/* A second mechanism laid over the one that is drawn: an answer, a version, a panel where it is wished to be. */
#pragma once

#include "draw/drawing.h"
#include "draw/labels.h"

G_BEGIN_DECLS

#define FW_GHOSTS 4 /* at most in one scene */

typedef enum
{
  FW_GHOST_FIRST,  /* line and veil in the accent of motion */
  FW_GHOST_SECOND, /* dashed line in ink, no veil */
} FwGhostStyle;

/* Borrowed, as a scene is. `pose` is solved at the crank angle shown. */
typedef struct FwGhost
{
  const FwMechanism *mechanism;
  const FwPose *pose;
  const FwTurn *turn; /* for curves; NULL: none */
  const char *name;   /* written beside it; NULL: nothing */
  FwGhostStyle style;
  int member;         /* this panel and what it carries alone; -1: all of it */
} FwGhost;

/* Lays the ghost out as pieces, page px: those that stand where the present design has the same part are left
 * out, and so is the base. Free with fw_drawing_clear (). */
void fw_ghost_build (FwDrawing *ghost, FwScene *room, const FwGhost *of, const FwDrawing *present, const FwStyle *style);

/* All ghosts of the drawing's scene, over the work; and their names. */
void fw_overlay_designs (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);
void fw_words_designs (FwLabels *labels, const FwDrawing *drawing);

/* The ghost's quantity that answers to one of another mechanism: of the part with the same name. FALSE: none. */
gboolean fw_ghost_quantity (const FwGhost *ghost, const FwMechanism *mechanism, FwQuantity quantity, FwQuantity *out);

/* The ghost's curve of a quantity over its turn; NULL: it has none. */
const double *fw_ghost_row (const FwGhost *ghost, const FwMechanism *mechanism, FwQuantity quantity, int *steps);

/* ---- A panel turned by hand ---- */

/* Turns a panel about its hinge to an angle (rad) with all that hangs on it, whatever its rod says. */
void fw_ghost_turn_panel (FwPose *pose, const FwMechanism *mechanism, int member, double angle);

/* TRUE if `member` is `panel` or is carried by it. */
gboolean fw_ghost_carries (const FwMechanism *mechanism, int panel, int member);

/* The angle (rad) to which a panel was pulled: it was taken hold of at the page point `from` and the hand is at
 * `to`. `pose` is that of the beginning; of the angles that bring the held point nearest to the hand the one next
 * to `near` counts, inside the panel's stops. */
double fw_ghost_pulled (const FwScene *scene, const FwCamera *camera, int member, FwVec2 from, FwVec2 to, double near);

G_END_DECLS
