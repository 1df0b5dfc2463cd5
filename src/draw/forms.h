/* The shapes of what a design leaves to the eye: panels without an outline, a body without a solid,
 * and rounded solids as a net of points. mm, in the part's own frame. */
#pragma once

#include <glib.h>

#include "core/design.h"

G_BEGIN_DECLS

#define FW_FORM_OUTLINE 16
#define FW_FORM_SECTIONS 9
#define FW_NET_ROUND 40 /* at most */
#define FW_NET_LONG 64

/* The panel's outline (u, v): its own, or a tapered one that suits its span and neighbours, written
 * to `buffer`. NULL, 0 for a panel that is a solid and no sheet. */
const FwVec2 *fw_form_outline (const FwDesign *design, int panel, FwVec2 buffer[FW_FORM_OUTLINE],
                               int *n);

/* The body's solid: its own, or a slim oval one, its sections in `buffer`. */
FwSolid fw_form_body (const FwDesign *design, FwSection buffer[FW_FORM_SECTIONS]);

/* The point of the outline farthest from the hinge: the tip. */
FwVec2 fw_form_tip (const FwDesign *design, int panel);

/* A net over a solid: rings of `round` points, from its first end to its last, rounded off at
 * both. Coordinates (along the reach, across, up). */
typedef struct
{
  int rings, round;
  FwVec3 points[FW_NET_LONG][FW_NET_ROUND];
  FwVec2 middles[FW_NET_LONG]; /* (along, up) of each ring's centre */
  gboolean given[FW_NET_LONG]; /* a section of the design, not one between or an end */
} FwNet;

/* `fineness`: 0 for a few px on the page, 1 for some dozens, 2 for hundreds. */
void fw_form_net (const FwSolid *solid, int fineness, FwNet *net);

/* Half width of the solid's skin at a height, mm; 0 outside. */
double fw_form_half_width (const FwSolid *solid, double at, double up);

G_END_DECLS
