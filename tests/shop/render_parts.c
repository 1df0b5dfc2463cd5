/* For looking at, not a test: the printed parts of a design as one picture.
 * render-parts FILE OUT.png [YAW PITCH [light|dark|print]] */
#include <cairo.h>
#include <stdlib.h>
#include <string.h>

#include "doc/document.h"
#include "shop/meshdraw.h"
#include "shop/solidparts.h"

#define CELL 420
#define ACROSS 4

int
main (int argc, char **argv)
{
  if (argc < 3)
    return 2;
  double yaw = argc > 3 ? atof (argv[3]) : 35, pitch = argc > 4 ? atof (argv[4]) : 30;
  FwTheme theme = argc > 5 && strcmp (argv[5], "dark") == 0    ? FW_THEME_DARK
                  : argc > 5 && strcmp (argv[5], "print") == 0 ? FW_THEME_PRINT
                                                               : FW_THEME_LIGHT;
  FwDocument *doc = fw_document_load (argv[1], NULL);
  FwMechanism *m = NULL;
  if (doc == NULL || fw_mechanism_build (fw_document_design (doc), &m, NULL) != FW_OK)
    return 2;
  FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
  FwStyle style = fw_style (theme, 2);
  int rows = (parts->n_parts + ACROSS - 1) / ACROSS;
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, ACROSS * CELL, rows * CELL);
  cairo_t *cr = cairo_create (surface);
  fw_set_colour (cr, style.ground);
  cairo_paint (cr);
  for (int i = 0; i < parts->n_parts; i++)
    if (parts->parts[i].mesh != NULL)
      {
        FwMeshView view = { .yaw_deg = yaw, .pitch_deg = pitch,
                            .box = { i % ACROSS * CELL + 30, i / ACROSS * CELL + 30, CELL - 60, CELL - 60 } };
        fw_mesh_draw (cr, parts->parts[i].mesh, &view, &style);
      }
  cairo_destroy (cr);
  cairo_surface_write_to_png (surface, argv[2]);
  cairo_surface_destroy (surface);
  fw_solid_parts_free (parts);
  fw_mechanism_free (m);
  fw_document_free (doc);
  return 0;
}
