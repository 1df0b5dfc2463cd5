#include "shop/stl.h"

#include <string.h>

#define HEADER 80

static void
put_float (GByteArray *out, double value)
{
  float narrow = (float)value;
  guint32 bits;
  memcpy (&bits, &narrow, sizeof bits);
  bits = GUINT32_TO_LE (bits);
  g_byte_array_append (out, (const guint8 *)&bits, sizeof bits);
}

static void
put_vector (GByteArray *out, FwVec3 v)
{
  put_float (out, v.x);
  put_float (out, v.y);
  put_float (out, v.z);
}

GBytes *
fw_stl_write (const FwMesh *mesh)
{
  GByteArray *out = g_byte_array_new ();
  char header[HEADER] = "Printed part of a Flapwright design, millimetres";
  guint32 count = GUINT32_TO_LE ((guint32)mesh->n_triangles);
  const guint8 nothing[2] = { 0, 0 };
  g_byte_array_append (out, (const guint8 *)header, HEADER);
  g_byte_array_append (out, (const guint8 *)&count, sizeof count);
  for (int i = 0; i < mesh->n_triangles; i++)
    {
      put_vector (out, fw_mesh_normal (mesh, i));
      for (int k = 0; k < 3; k++)
        put_vector (out, mesh->points[mesh->triangles[i][k]]);
      g_byte_array_append (out, nothing, sizeof nothing);
    }
  return g_byte_array_free_to_bytes (out);
}
