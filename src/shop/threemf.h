/* Meshes as a 3MF file: the open format for printing (3MF Core Specification, 3MF Consortium), a zip
 * package after the Open Packaging Conventions (ISO/IEC 29500-2) with one model in millimetres. */
#pragma once

#include "shop/mesh.h"

G_BEGIN_DECLS

typedef struct
{
  const FwMesh *mesh; /* as it lies on the bed: z up, its box from the origin */
  const char *name;
  int count;          /* so many of it are laid out */
} FwThreemfObject;

/* The file's bytes: one object per mesh, and `count` build items of each, laid out side by side in rows
 * without touching. The same objects give the same bytes: the times inside are fixed. NULL: no memory or
 * no room for the zip. */
GBytes *fw_threemf_write (const FwThreemfObject *objects, int n, const char *title, GError **error);

G_END_DECLS
