#include "shop/threemf.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <string.h>
#include <zip.h>

#define GAP_MM 6.0
#define LEAST_ROW_MM 120.0
/* 1980-01-01 00:00, the first moment a zip can tell, in its own form. */
#define FIRST_DATE ((1 << 5) | 1)

static const char content_types[]
    = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\n"
      " <Default Extension=\"rels\" "
      "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\n"
      " <Default Extension=\"model\" "
      "ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\n"
      "</Types>\n";

static const char relationships[]
    = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\n"
      " <Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" "
      "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\n"
      "</Relationships>\n";

/* ---- The model ---- */

static void
put_number (GString *out, const char *key, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (text, sizeof text, "%.6f", value);
  /* Trailing zeros say nothing. */
  char *end = text + strlen (text) - 1;
  while (*end == '0')
    *end-- = '\0';
  if (*end == '.')
    *end = '\0';
  g_string_append_printf (out, " %s=\"%s\"", key, strcmp (text, "-0") == 0 ? "0" : text);
}

static void
put_object (GString *out, const FwThreemfObject *object, int id)
{
  g_autofree char *name = g_markup_escape_text (object->name, -1);
  g_string_append_printf (out, "  <object id=\"%d\" type=\"model\" name=\"%s\">\n   <mesh>\n    <vertices>\n",
                          id, name);
  for (int i = 0; i < object->mesh->n_points; i++)
    {
      FwVec3 p = object->mesh->points[i];
      g_string_append (out, "     <vertex");
      put_number (out, "x", p.x);
      put_number (out, "y", p.y);
      put_number (out, "z", p.z);
      g_string_append (out, "/>\n");
    }
  g_string_append (out, "    </vertices>\n    <triangles>\n");
  for (int i = 0; i < object->mesh->n_triangles; i++)
    {
      const int *t = object->mesh->triangles[i];
      g_string_append_printf (out, "     <triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n", t[0], t[1], t[2]);
    }
  g_string_append (out, "    </triangles>\n   </mesh>\n  </object>\n");
}

/* Rows that fill up to a width about as wide as the whole is deep. */
static double
row_width (const FwThreemfObject *objects, int n)
{
  double area = 0, widest = LEAST_ROW_MM;
  for (int i = 0; i < n; i++)
    {
      FwVec3 low, high;
      fw_mesh_bounds (objects[i].mesh, &low, &high);
      area += objects[i].count * (high.x + GAP_MM) * (high.y + GAP_MM);
      widest = fmax (widest, high.x);
    }
  return fmax (widest, 1.2 * sqrt (area));
}

static void
put_items (GString *out, const FwThreemfObject *objects, int n)
{
  double width = row_width (objects, n), x = 0, y = 0, deep = 0;
  for (int i = 0; i < n; i++)
    for (int k = 0; k < objects[i].count; k++)
      {
        FwVec3 low, high;
        char text[2][G_ASCII_DTOSTR_BUF_SIZE];
        fw_mesh_bounds (objects[i].mesh, &low, &high);
        if (x > 0 && x + high.x > width)
          {
            x = 0;
            y += deep + GAP_MM;
            deep = 0;
          }
        g_ascii_formatd (text[0], sizeof text[0], "%.3f", x);
        g_ascii_formatd (text[1], sizeof text[1], "%.3f", y);
        g_string_append_printf (out, "  <item objectid=\"%d\" transform=\"1 0 0 0 1 0 0 0 1 %s %s 0\"/>\n",
                                i + 1, text[0], text[1]);
        x += high.x + GAP_MM;
        deep = fmax (deep, high.y);
      }
}

static char *
model_text (const FwThreemfObject *objects, int n, const char *title)
{
  GString *out = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                               "<model unit=\"millimeter\" xml:lang=\"en-US\" "
                               "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n");
  g_autofree char *escaped = g_markup_escape_text (title, -1);
  if (*title != '\0')
    g_string_append_printf (out, " <metadata name=\"Title\">%s</metadata>\n", escaped);
  g_string_append (out, " <metadata name=\"Application\">Flapwright " FW_VERSION "</metadata>\n <resources>\n");
  for (int i = 0; i < n; i++)
    put_object (out, &objects[i], i + 1);
  g_string_append (out, " </resources>\n <build>\n");
  put_items (out, objects, n);
  g_string_append (out, " </build>\n</model>\n");
  return g_string_free (out, FALSE);
}

/* ---- The package ---- */

static gboolean
add_file (zip_t *zip, const char *name, const char *text)
{
  zip_source_t *source = zip_source_buffer (zip, text, strlen (text), 0);
  if (source == NULL)
    return FALSE;
  zip_int64_t at = zip_file_add (zip, name, source, ZIP_FL_ENC_UTF_8);
  if (at < 0)
    {
      zip_source_free (source);
      return FALSE;
    }
  return zip_file_set_dostime (zip, (zip_uint64_t)at, 0, FIRST_DATE, 0) == 0
         && zip_set_file_compression (zip, (zip_uint64_t)at, ZIP_CM_DEFLATE, 9) == 0;
}

static GBytes *
read_back (zip_source_t *source)
{
  zip_stat_t stat;
  if (zip_source_stat (source, &stat) != 0 || zip_source_open (source) != 0)
    return NULL;
  guint8 *data = g_malloc (stat.size);
  zip_int64_t got = zip_source_read (source, data, stat.size);
  zip_source_close (source);
  if (got < 0 || (zip_uint64_t)got != stat.size)
    {
      g_free (data);
      return NULL;
    }
  return g_bytes_new_take (data, stat.size);
}

static GBytes *
zip_up (const char *model)
{
  zip_error_t fault;
  zip_error_init (&fault);
  zip_source_t *source = zip_source_buffer_create (NULL, 0, 0, &fault);
  if (source == NULL)
    return NULL;
  zip_source_keep (source);
  zip_t *zip = zip_open_from_source (source, ZIP_TRUNCATE, &fault);
  if (zip == NULL)
    {
      zip_source_free (source);
      zip_source_free (source);
      return NULL;
    }
  GBytes *bytes = NULL;
  if (!add_file (zip, "[Content_Types].xml", content_types)
      || !add_file (zip, "_rels/.rels", relationships) || !add_file (zip, "3D/3dmodel.model", model)
      || zip_close (zip) != 0)
    zip_discard (zip);
  else
    bytes = read_back (source);
  zip_source_free (source);
  return bytes;
}

GBytes *
fw_threemf_write (const FwThreemfObject *objects, int n, const char *title, GError **error)
{
  g_autofree char *model = model_text (objects, n, title);
  GBytes *bytes = zip_up (model);
  if (bytes == NULL)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("the parts could not be packed as 3MF"));
  return bytes;
}
