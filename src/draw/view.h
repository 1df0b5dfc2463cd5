/* The sculpture drawn: one function for the window and every export. */
#pragma once

#include "core/bounce.h"
#include "draw/style.h"

G_BEGIN_DECLS

typedef enum
{
  FW_VIEW_FRONT,
  FW_VIEW_SIDE,
  FW_VIEW_THREE_QUARTER
} FwView;

/* A parallel projection onto the page. Page x to the right, y down, in px (or points).
 * Front: seen from ahead, right wing on the viewer's left. Side: from the right, nose to the right.
 */
typedef struct
{
  FwView view;
  double scale; /* px per mm */
  double x, y;  /* page position of the world's origin (crank axis, mid-plane) */
} FwCamera;

/* A load worked out elsewhere over the turn: stress, sag. */
typedef struct
{
  FwQuantity quantity;
  int steps;
  const double *values; /* [steps], core unit */
} FwLoadRow;

/* What 90 of 100 pieces do: a quantity's quantiles 0.05, 0.5 and 0.95 at each step of the turn, core unit;
 * NaN where it is not known. */
typedef struct
{
  FwQuantity quantity;
  int steps;
  const double *low, *middle, *high; /* [steps] */
} FwSpreadBand;

struct FwPhoto; /* draw/photo.h */
struct FwGhost; /* draw/ghost.h */

/* What the bearings give to the crank over the turn. */
typedef struct
{
  int n, steps;
  const double *stations_mm; /* [n] */
  const FwVec3 *forces;      /* [bearing][step], N, world */
} FwBearingLoads;

/* All that a picture is made from. Borrowed; `pose` is solved at the crank angle to show. `turn` is
 * needed for traces, ghosts and swept outline, `troubles` for marks; either may be NULL. */
typedef struct
{
  const FwMechanism *mechanism;
  const FwPose *pose;
  const FwTurn *turn;
  const FwTroubleList *troubles;
  FwPose *scratch; /* for ghosts and traces; overwritten */

  /* Forces, for arrows, their curves and bounce points; all of it may be missing. */
  const FwLoadTurn *loads; /* its own `loads` is overwritten */
  const FwLoadRow *rows;
  int n_rows;
  FwBearingLoads bearings;
  const FwBounce *bounces; /* of joints with play, and of the others as if they were worn */
  int n_bounces;

  /* Hanging panels where they really are at this moment: what is drawn and picked then, `pose` being a ghost
   * line. NULL: not known, or not to be shown. */
  const FwPose *swung;
  double arrow_N; /* the force that the longest arrow stands for; 0: the greatest of the turn */
  double arrow_px; /* page px per N, where the scale is stated elsewhere; 0: to suit the page, and
                    * stated on it */

  const FwSpreadBand *spreads; /* bands of what is made; none where they are not known or not to be shown */
  int n_spreads;
  const struct FwPhoto *photo; /* under the view it belongs to; NULL: none */
  const FwMechanism *built;    /* outlined over the work, in its own pose; NULL: nothing */
  const FwPose *built_pose;

  const struct FwGhost *ghosts; /* other designs laid over this one, in the views and on the strip */
  int n_ghosts;
} FwScene;

typedef enum
{
  FW_SHOW_TRACES = 1 << 0,     /* paths of wing tips, rod ends, datum */
  FW_SHOW_SWEPT = 1 << 1,      /* outline swept over the turn */
  FW_SHOW_GHOSTS = 1 << 2,     /* earlier and later poses, fading with distance in time */
  FW_SHOW_DIMENSIONS = 1 << 3, /* throws, rod lengths, spans, hinge places */
  FW_SHOW_TROUBLE = 1 << 4,    /* marked on the part */
  FW_SHOW_STOPS = 1 << 5,      /* arcs of the hinge stops */
  FW_SHOW_NAMES = 1 << 6,
  FW_SHOW_HANDLES = 1 << 7, /* grips for dragging */
  FW_SHOW_SCALE_BAR = 1 << 8,
  FW_SHOW_SIDES = 1 << 9, /* tells right from left, and the view's name */
  FW_SHOW_FORCES = 1 << 10,  /* arrows: rods, post, guide, pins, bearings; bounce points */
  FW_SHOW_WEIGHTS = 1 << 11, /* arrows: body and panels */
  FW_SHOW_SWING = 1 << 12,   /* hanging panels where they really are: whoever fills the scene looks at it */
  FW_SHOW_TROUBLE_HERE = 1 << 13, /* with FW_SHOW_TROUBLE: only what holds at this crank angle, as frames of a turn want it */
  FW_SHOW_SPREAD = 1 << 14,  /* bands of what is made: whoever fills the scene looks at it */
} FwShow;

/* Upper left corner and size, y down; px of the page where nothing else is said. */
typedef struct
{
  double x, y, width, height;
} FwBox;

/* Page box of everything over the whole turn (with `scratch`) or in this pose, in mm relative to the
 * origin's page position with y down: what a camera must fit. */
FwBox fw_view_extent (const FwScene *scene, FwView view);

/* The camera that fits `extent` into a page box with a margin, px. Does not depend on the pose, so
 * nothing jumps while the crank turns. */
FwCamera fw_camera_fit (FwView view, FwBox extent, FwBox page, double margin);

/* World point to page. `depth` (may be NULL) grows towards the viewer, mm. */
FwVec2 fw_camera_project (const FwCamera *camera, FwVec3 world, double *depth);
/* Page vector (px) to the world vector in the view's plane, mm. */
FwVec3 fw_camera_unproject_vector (const FwCamera *camera, double dx, double dy);

/* Draws into the page box (clipped to it). Labels are laid out before they are painted and do not
 * collide. `picked`: a part to light up, or NULL. */
void fw_draw_view (cairo_t *cr, const FwScene *scene, const FwCamera *camera, const FwStyle *style,
                   FwBox page, guint show, const FwPart *picked);

/* ---- Handles: what can be dragged in a view ---- */

typedef enum
{
  FW_HANDLE_PIN, /* index: throw; moves radius and phase (in the view that shows the crank circle)
                    or station */
  FW_HANDLE_ROD_END,    /* index: link; its point on the panel */
  FW_HANDLE_ROD_FOOT,   /* index: link; its anchor, unless on a pin */
  FW_HANDLE_ROD_LENGTH, /* index: link; at the rod's middle: drag along the rod */
  FW_HANDLE_HINGE,      /* index: member */
  FW_HANDLE_POST_TOP,   /* the datum: post or rail rod length */
  FW_HANDLE_GUIDE,      /* guide or link pivot */
  FW_HANDLE_STOP,       /* index: member; component 0 min, 1 max */
} FwHandleKind;

typedef struct
{
  FwHandleKind kind;
  int index, component;
  FwVec2 at; /* page */
} FwHandle;

/* Handles shown in this view; nearest the viewer first. */
int fw_view_handles (const FwScene *scene, const FwCamera *camera, FwHandle *handles, int capacity);

/* What a drag of a handle by (dx, dy) px from where it was means: new values of up to 3 numbers,
 * from the values the design had when the drag began. `scene` is that of the beginning. Returns how
 * many changes were written; 0: this view cannot move it. */
typedef struct
{
  FwParam param;
  double value; /* file unit */
} FwDragChange;
int fw_view_drag (const FwScene *scene, const FwCamera *camera, const FwHandle *handle, double dx,
                  double dy, FwDragChange changes[3]);

/* Name of a handle for accessibility and tooltips; free with g_free. */
char *fw_handle_label (const FwMechanism *mechanism, const FwHandle *handle);

/* The part under a page point, or within `reach` px of it, nearest on top; FALSE: none. */
gboolean fw_view_pick (const FwScene *scene, const FwCamera *camera, double x, double y,
                       double reach, FwPart *part);

G_END_DECLS
