/* A mesh as a binary STL file: 80 bytes of header, the number of triangles, then each triangle's normal
 * and three corners as 32-bit floats, little end first, and two bytes of nothing. It has no unit; by
 * custom, and here, it is mm. */
#pragma once

#include "shop/mesh.h"

G_BEGIN_DECLS

/* The file's bytes. The same mesh gives the same bytes. */
GBytes *fw_stl_write (const FwMesh *mesh);

G_END_DECLS
