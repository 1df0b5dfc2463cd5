/* Forms that printed parts are made of: extruded and turned outlines, round holes with chamfers.
 * Every form adds to a mesh and hands back the rings of points at its rims, so that the faces between
 * forms can be put in with fw_mesh_face () and the whole closes.
 *
 * mm. A round form is a regular polygon: an outside has its corners on the circle, a bore has its
 * flats on it, so that what must go through does. */
#pragma once

#include "shop/mesh.h"

G_BEGIN_DECLS

#define FW_MOST_FACETS 96
#define FW_MOST_PROFILE 256

/* Sides of the polygon for a circle: a multiple of 4, no flat more than 0.01 mm off the circle within
 * 24 to FW_MOST_FACETS. */
int fw_facets (double radius_mm);

/* Radius to the corners of a bore's polygon of n sides whose flats are at `radius_mm`. */
double fw_bore_corner (double radius_mm, int n);

/* n points on a circle about `centre` in the plane of u and v (unit, square to each other), at
 * k = 0.. : centre + r cos (2 pi k / n) u + r sin (2 pi k / n) v. Writes their indices. */
void fw_mesh_ring (FwMesh *mesh, FwVec3 centre, FwVec3 u, FwVec3 v, double radius_mm, int n, int *ring);

double fw_outline_area (const FwVec2 *points, int n); /* mm2; anticlockwise: above 0 */

/* The walls of an extruded outline. Rings of point indices, bottom to top: 0 inset, 1 full size, 2 full
 * size, 3 inset; without a chamfer 0 is 1 and 3 is 2. */
typedef struct
{
  int n;
  int rings[4][FW_MOST_PROFILE];
} FwPrism;

/* Extrudes the outline (anticlockwise in u, v of a right-handed frame) along w from 0 to length_mm.
 * Ends are left open for the caller's faces. `hole`: the walls face inward and the chamfer widens the
 * ends. `open` (may be NULL): walls of edges i to i + 1 that the caller puts in. FALSE: the chamfer
 * is larger than the outline allows. */
gboolean fw_mesh_prism (FwMesh *mesh, const FwFrame *frame, const FwVec2 *points, int n,
                        double length_mm, double chamfer_mm, gboolean hole, const gboolean *open,
                        FwPrism *prism);

/* A round hole from a to b, chamfered by so much at each end (0: sharp); its rims for the faces there.
 * `along` must be square to u; the hole's polygon has a corner at u. radius_mm is to the flats. */
typedef struct
{
  int n;
  int from[FW_MOST_FACETS], to[FW_MOST_FACETS];
} FwBore;
void fw_mesh_bore (FwMesh *mesh, FwVec3 a, FwVec3 b, FwVec3 u, double radius_mm,
                   double chamfer_a_mm, double chamfer_b_mm, FwBore *bore);

/* A turned part about z: the closed outline of (x: radius above 0, y: z), anticlockwise, n points, in
 * `facets` sides; corners of all circles in line. */
void fw_mesh_lathe (FwMesh *mesh, const FwVec2 *profile, int n, int facets);

G_END_DECLS
