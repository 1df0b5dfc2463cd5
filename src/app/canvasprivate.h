/* The inside of FwCanvas, shared by its own files: canvas.c (widget, camera, picture), canvashold.c
 * (what the mouse holds), canvaskeys.c (the keyboard), canvasfit.c (the whole turn in sight). */
#pragma once

#include "app/canvas.h"
#include "draw/still.h"

G_BEGIN_DECLS

#define FW_CANVAS_HANDLES 1024
#define FW_CANVAS_REACH 10.0 /* px from a handle's middle at which it is taken hold of */

typedef enum { FW_HOLD_NOTHING, FW_HOLD_PRESS, FW_HOLD_PAN, FW_HOLD_HANDLE, FW_HOLD_PANEL } FwHoldKind;

/* A handle being moved: everything as it was at the beginning. */
typedef struct
{
  FwScene scene;    /* mechanism and pose are owned */
  FwCamera camera;
  FwHandle handle;
  gboolean changed; /* at least one step was made */
} FwHandleMove;

typedef struct FwGhostDrag FwGhostDrag; /* app/ghostdrag.c */

struct _FwCanvas
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  FwView view;
  FwCamera camera;
  int width, height;    /* that the camera was set for; 0: not yet */
  gboolean by_hand;     /* zoomed or panned: never refitted by itself */
  const FwDocument *document; /* last seen; only compared */
  FwCanvas *beside;           /* weak; NULL: none. See fw_canvas_set_beside () */
  guint settle, describe;     /* timeouts */
  FwStill *still;             /* owned: what need not be drawn anew */

  FwHandle *handles; /* owned, FW_CANVAS_HANDLES */
  int n_handles;
  gboolean has_marked;
  FwHandle marked;   /* under the pointer, held, or chosen by key */
  GtkWidget *tip;    /* label beside it */

  gboolean pointed; /* presses are points on a photograph (fitpoint.c): no grip is marked */
  FwHoldKind hold;
  FwHandleMove *move; /* owned; while a handle is moved by mouse or keys */
  guint move_end;     /* timeout that ends a move by keys */
  double nudge_x, nudge_y; /* px, by keys so far */
  FwVec2 pointer;      /* where it was last seen */
  FwCamera pan_camera; /* when the pan began */
  double zoom_scale; /* of the camera when a pinch began */
  gboolean pulling;  /* panels are pulled to where they are wished for, without Ctrl too */
  FwGhostDrag *pull; /* owned; while one is */
  guint pull_end;    /* timeout that ends a pull by keys */
};

/* canvas.c */
void fw_canvas_zoom_about (FwCanvas *self, double factor, double x, double y);
void fw_canvas_pan_to (FwCanvas *self, double x, double y);
gboolean fw_canvas_is_ready (FwCanvas *self); /* there is a design and a size */
void fw_canvas_find_handles (FwCanvas *self); /* brings `handles` and `marked` up to date */
void fw_canvas_mark (FwCanvas *self, const FwHandle *handle); /* NULL: none */

void fw_canvas_camera_moved (FwCanvas *self);

/* canvasfit.c */
void fw_canvas_refit (FwCanvas *self); /* and the view beside it, unless it was moved by hand */
/* A picture that still stands well on its page is left where it is. */
gboolean fw_canvas_stands_well (FwCanvas *self);
FwStyle fw_canvas_style (FwCanvas *self); /* one for both views */

/* canvashold.c */
void fw_canvas_add_mouse (FwCanvas *self);
gboolean fw_handle_same (const FwHandle *a, const FwHandle *b);
gboolean fw_canvas_move_begin (FwCanvas *self, const FwHandle *handle);
void fw_canvas_move_to (FwCanvas *self, double dx, double dy);
void fw_canvas_move_finish (FwCanvas *self);
void fw_canvas_move_cancel (FwCanvas *self);
/* "Radius of mid: 40.0 mm", a line for each number the handle moves in this view; free with g_free. */
char *fw_canvas_handle_words (FwCanvas *self, const FwHandle *handle);

/* canvaskeys.c */
void fw_canvas_add_keys (FwCanvas *self);
void fw_canvas_end_nudge (FwCanvas *self);

G_END_DECLS
