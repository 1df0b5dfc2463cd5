/* Draws the heron, and any design files given, into PNGs, for looking at while the drawing is
 * worked on: render DIRECTORY [FILE...] */
#include <stdio.h>
#include <string.h>

#include "doc/document.h"
#include "draw/motionstrip.h"
#include "draw/turnstrip.h"
#include "heron.h"

static void
save (cairo_surface_t *surface, const char *directory, const char *name)
{
  char *path = g_strdup_printf ("%s/%s.png", directory, name);
  cairo_surface_write_to_png (surface, path);
  cairo_surface_destroy (surface);
  g_free (path);
}

static cairo_t *
open_page (int width, int height, cairo_surface_t **surface)
{
  *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  return cairo_create (*surface);
}

static void
view_page (const Stage *s, const char *directory, const char *name, FwView view, FwTheme theme,
           double size, int width, int height, guint show)
{
  cairo_surface_t *surface;
  cairo_t *cr = open_page (width, height, &surface);
  FwStyle style = fw_style (theme, size);
  FwBox page = { 0, 0, width, height };
  FwCamera camera
      = fw_camera_fit (view, fw_view_extent (&s->scene, view), page, 0.07 * MIN (width, height));
  fw_draw_view (cr, &s->scene, &camera, &style, page, show, NULL);
  cairo_destroy (cr);
  save (surface, directory, name);
}

/* A whole sheet: front and side at one scale, the turn strip below. */
static void
sheet (const Stage *s, const char *directory, const char *name, FwTheme theme, double size,
       int width, int height, guint show)
{
  cairo_surface_t *surface;
  cairo_t *cr = open_page (width, height, &surface);
  FwStyle style = fw_style (theme, size);
  int strip = height * 28 / 100, split = width * 62 / 100;
  FwBox left = { 0, 0, split, height - strip }, right = { split, 0, width - split, height - strip };
  FwBox foot = { 0, height - strip, width, strip };
  FwCamera front
      = fw_camera_fit (FW_VIEW_FRONT, fw_view_extent (&s->scene, FW_VIEW_FRONT), left, 36 * size);
  FwCamera side
      = fw_camera_fit (FW_VIEW_SIDE, fw_view_extent (&s->scene, FW_VIEW_SIDE), right, 36 * size);
  fw_draw_view (cr, &s->scene, &front, &style, left, show, NULL);
  fw_draw_view (cr, &s->scene, &side, &style, right, show, NULL);
  FwStripState state
      = { .curves = { { FW_Q_ANGLE, 0 }, { FW_Q_ANGLE, 2 }, { FW_Q_BODY_Z, 0 }, { FW_Q_PUSH, 0 } },
          .n_curves = 4,
          .crank = s->pose->crank,
          .picked_trouble = -1 };
  fw_draw_turn_strip (cr, &s->scene, &state, &style, foot);
  cairo_destroy (cr);
  save (surface, directory, name);
}

/* Every picture of one design file. */
static gboolean
draw_file (const char *dir, const char *path)
{
  GError *error = NULL;
  FwDocument *doc = fw_document_load (path, &error);
  if (doc == NULL)
    {
      fprintf (stderr, "render: %s\n", error->message);
      g_error_free (error);
      return FALSE;
    }
  const guint plain = FW_SHOW_SIDES | FW_SHOW_SCALE_BAR;
  char *base = g_path_get_basename (path), *name = g_strconcat (base, "-sheet", NULL);
  char *three = g_strconcat (base, "-three", NULL),
       *strip_name = g_strconcat (dir, "/", base, "-strip.png", NULL);
  Stage *s = stage_new (fw_design_copy (fw_document_design (doc)), 65);
  sheet (s, dir, name, FW_THEME_LIGHT, 1, 1600, 1000, plain | FW_SHOW_TRACES | FW_SHOW_TROUBLE);
  view_page (s, dir, three, FW_VIEW_THREE_QUARTER, FW_THEME_LIGHT, 1, 1200, 900, plain);
  FwMotionStrip strip = fw_motion_strip_default ();
  gboolean fine
      = fw_motion_strip_write_png (&s->scene, &strip, fw_document_title (doc), strip_name, NULL);
  stage_free (s);
  fw_document_free (doc);
  g_free (base);
  g_free (name);
  g_free (three);
  g_free (strip_name);
  return fine;
}

int
main (int argc, char **argv)
{
  if (argc < 2)
    {
      fprintf (stderr, "render: expected a directory to write PNGs into\n");
      return 2;
    }
  const char *dir = argv[1];
  gboolean fine = TRUE;
  for (int i = 2; i < argc; i++)
    fine = draw_file (dir, argv[i]) && fine;
  if (argc > 2)
    return fine ? 0 : 1;
  const guint plain = FW_SHOW_SIDES | FW_SHOW_SCALE_BAR;
  const guint all = 0x3ff & ~(guint)FW_SHOW_SWEPT;
  Stage *heron = stage_new (heron_design (), 65);
  sheet (heron, dir, "sheet-light", FW_THEME_LIGHT, 1, 1600, 1000, plain | FW_SHOW_TRACES);
  sheet (heron, dir, "sheet-dark", FW_THEME_DARK, 1, 1600, 1000,
         plain | FW_SHOW_TRACES | FW_SHOW_GHOSTS);
  sheet (heron, dir, "sheet-all", FW_THEME_LIGHT, 1, 1600, 1000, all);
  view_page (heron, dir, "front", FW_VIEW_FRONT, FW_THEME_LIGHT, 1, 1600, 1100,
             plain | FW_SHOW_DIMENSIONS);
  view_page (heron, dir, "side", FW_VIEW_SIDE, FW_THEME_LIGHT, 1, 1000, 1000,
             plain | FW_SHOW_DIMENSIONS);
  view_page (heron, dir, "three", FW_VIEW_THREE_QUARTER, FW_THEME_LIGHT, 1, 1600, 1200, plain);
  view_page (heron, dir, "three-dark", FW_VIEW_THREE_QUARTER, FW_THEME_DARK, 1, 1200, 900,
             plain | FW_SHOW_TRACES);
  view_page (heron, dir, "small", FW_VIEW_FRONT, FW_THEME_LIGHT, 1, 300, 240, plain);
  view_page (heron, dir, "swept", FW_VIEW_FRONT, FW_THEME_LIGHT, 1, 900, 700,
             plain | FW_SHOW_SWEPT | FW_SHOW_STOPS);
  for (int i = 0; i < 8; i++)
    {
      char name[32];
      g_snprintf (name, sizeof name, "turn-%03d", i * 45);
      stage_turn_to (heron, i * 45);
      view_page (heron, dir, name, FW_VIEW_THREE_QUARTER, FW_THEME_LIGHT, 1, 500, 420, 0);
    }
  FwMotionStrip strip = fw_motion_strip_default ();
  GError *error = NULL;
  char *path = g_build_filename (dir, "strip.png", NULL);
  if (!fw_motion_strip_write_png (&heron->scene, &strip, "Night heron", path, &error))
    fprintf (stderr, "render: %s\n", error->message);
  g_clear_error (&error);
  g_free (path);
  stage_free (heron);

  Stage *broken = stage_new (short_heron_design (), 200);
  sheet (broken, dir, "broken", FW_THEME_LIGHT, 1, 1600, 1000, plain | FW_SHOW_TROUBLE);
  stage_free (broken);

  Stage *moth = stage_new (moth_design (), 30);
  sheet (moth, dir, "moth", FW_THEME_LIGHT, 1, 1600, 1000,
         plain | FW_SHOW_TRACES | FW_SHOW_TROUBLE);
  view_page (moth, dir, "moth-three", FW_VIEW_THREE_QUARTER, FW_THEME_LIGHT, 1, 900, 800, plain);
  stage_free (moth);
  return 0;
}
