/* A closed surface of triangles, mm: what a printed part is.
 *
 * Triangles run anticlockwise seen from outside (the right-hand rule gives the outward normal), as
 * both file formats ask. Points are shared by index, so that a surface made of faces whose rims use
 * the same points closes without any welding. */
#pragma once

#include <glib.h>

#include "core/frame.h"

G_BEGIN_DECLS

typedef struct
{
  FwVec3 *points;
  int n_points, room_points;
  int (*triangles)[3];
  int n_triangles, room_triangles;
} FwMesh;

FwMesh *fw_mesh_new (void);
void fw_mesh_free (FwMesh *mesh); /* NULL is allowed */
FwMesh *fw_mesh_copy (const FwMesh *mesh);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwMesh, fw_mesh_free)

/* Adds a point; returns its index. */
int fw_mesh_point (FwMesh *mesh, FwVec3 at);
void fw_mesh_triangle (FwMesh *mesh, int a, int b, int c);

/* A flat face with holes: loop 0 is its rim, the others are holes, each a ring of point indices
 * without repetition, in either sense. It is cut into triangles that use exactly these points.
 * FALSE: the loops cross or the face has no area; the mesh may then hold part of it. */
gboolean fw_mesh_face (FwMesh *mesh, FwVec3 normal, const int *const *loops, const int *sizes,
                       int n_loops);

/* The band between two rings of n points: outward if both run anticlockwise seen from b's side and
 * the band is the outside of the part; for a bore give the two the other way round. */
void fw_mesh_band (FwMesh *mesh, const int *a, const int *b, int n);

/* ---- Measures ---- */

/* mm3, by the divergence theorem: the sum of a . (b x c) / 6. Exact for the surface as it is; below 0
 * where it is inside out. */
double fw_mesh_volume (const FwMesh *mesh);
double fw_mesh_area (const FwMesh *mesh); /* mm2 */
void fw_mesh_bounds (const FwMesh *mesh, FwVec3 *low, FwVec3 *high);
FwVec3 fw_mesh_normal (const FwMesh *mesh, int triangle); /* unit; 0 where it has no area */

/* What makes a surface a printable one. */
typedef struct
{
  int points, edges, triangles; /* points and edges in use */
  int open_edges; /* not in exactly two triangles, once in each sense */
  int flat;       /* triangles without area */
  int shells;     /* pieces that hang together by edges */
  int pinched;    /* points at which more than one fan of triangles meets */
  int euler;      /* points - edges + triangles: 2 (shells - through holes) */
  gboolean closed;   /* every edge twice, once in each sense; no pinched points */
  gboolean outward;  /* closed, and its volume is above 0 */
} FwMeshCheck;
FwMeshCheck fw_mesh_check (const FwMesh *mesh);

/* Of every triangle's edges k to k + 1 the triangle on the other side, -1: none. 3 a triangle; g_free. */
int *fw_mesh_neighbours (const FwMesh *mesh);

/* True if the point is inside: the surface winds round it. By solid angles; not for points on it. */
gboolean fw_mesh_holds (const FwMesh *mesh, FwVec3 p);

/* ---- Moving ---- */

/* Every point becomes frame.origin + x u + y v + z w. A left-handed frame (a mirror) turns the
 * triangles too, so that they still face outward. */
void fw_mesh_place (FwMesh *mesh, const FwFrame *frame);

/* Puts the lowest corner of its box at the origin. */
void fw_mesh_settle (FwMesh *mesh);

G_END_DECLS
