/* A printed part drawn as it looks: shaded, with lines where edges are sharp. For the window's preview
 * and the kit sheet; vectors all through, so that it prints well. */
#pragma once

#include "draw/style.h"
#include "draw/view.h"
#include "shop/mesh.h"

G_BEGIN_DECLS

typedef struct
{
  double yaw_deg;   /* the eye's way round z, anticlockwise from above; 0: seen along +y */
  double pitch_deg; /* above the level, to 90 */
  FwBox box;        /* of the page, px or points */
  double scale;     /* px per mm; 0: as large as the box takes */
  const char *material; /* colour; NULL: plastic */
} FwMeshView;

/* Draws it in the middle of the box. Faces are put in an order by splitting them along each other's
 * planes (a binary space partition), so that whatever is nearer covers what is behind it, holes and
 * pockets included. */
void fw_mesh_draw (cairo_t *cr, const FwMesh *mesh, const FwMeshView *view, const FwStyle *style);

G_END_DECLS
