/* The skin of a rounded solid on the page. A net is laid over the form; what faces the eye makes
 * its silhouette, and the line where the skin turns away makes its contour, as a draughtsman would
 * draw it. */
#pragma once

#include "draw/drawing.h"

G_BEGIN_DECLS

typedef struct
{
  FwVec2 page[FW_NET_LONG][FW_NET_ROUND];
  double depth[FW_NET_LONG][FW_NET_ROUND];
  double facing[FW_NET_LONG][FW_NET_ROUND]; /* of the outward skin, towards the viewer */
  int rings, round;
  int gores; /* strips of paper round the form; seams at every round / gores */
  double tone[FW_NET_LONG][FW_NET_ROUND]; /* by the way it faces the light */
  /* Of the quads between a ring and the next: how far up and down the page they go; those that look away go
   * nowhere. */
  double top[FW_NET_LONG][FW_NET_ROUND], low[FW_NET_LONG][FW_NET_ROUND];
} FwSkin;

/* A point of the net (along the reach, across, up) in the frame of a body or of a panel. */
static inline FwVec3
fw_skin_in_frame (FwVec3 p, gboolean body)
{
  return body ? fw_vec3 (p.y, p.x, p.z) : p;
}

/* Lays the net, which is in the frame of a `body` or else of a panel, over the page. */
void fw_skin_lay (const FwDrawing *drawing, const FwNet *net, const FwFrame *frame, gboolean body,
                  FwSkin *skin);

/* Writes silhouette, contours and ribs into the piece. Layers of the skin nearer to each other than
 * `clear` mm are one. */
void fw_skin_trace (FwDrawing *drawing, FwPiece *piece, const FwSkin *skin, const FwNet *net,
                    double clear);

G_END_DECLS
