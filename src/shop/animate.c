#include "shop/animate.h"

#include <cgif.h>
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <math.h>

#include "doc/files.h"
#include "shop/palette.h"
#include "shop/views.h"

#define USUAL_TURNS_PER_MINUTE 30
#define MOST_TURN_CS 60000 /* ten minutes for one turn: slower is no animation */

FwAnimation
fw_animation_default (void)
{
  return (FwAnimation){ .width = 480, .speed = 1, .views = FW_STRIP_BOTH, .theme = FW_THEME_LIGHT };
}

gboolean
fw_animation_timing (const FwAnimation *a, const FwDesign *design, int *turn_cs, int *frames, int *most)
{
  double rate = design->crank.turns_per_minute;
  double turn = 6000 / ((rate > 0 ? rate : USUAL_TURNS_PER_MINUTE) * a->speed);
  *most = 0;
  if (!(turn >= 2 * FW_ANIMATE_LEAST_CS && turn <= MOST_TURN_CS))
    return FALSE;
  *turn_cs = (int)round (turn);
  *most = MIN (*turn_cs / FW_ANIMATE_LEAST_CS, FW_ANIMATE_MOST_FRAMES);
  *frames = a->frames > 0 ? a->frames : MIN (CLAMP ((int)round (turn / 4), 12, 120), *most);
  return *frames <= *most;
}

void
fw_animation_size (const FwScene *scene, const FwAnimation *a, int *width, int *height)
{
  *width = a->width;
  *height = MAX ((int)round (a->width * fw_views_shape (scene, a->views)), 16);
}

void
fw_animation_draw (cairo_t *cr, const FwScene *scene, const FwAnimation *a, FwPose *pose, double crank)
{
  int width, height;
  fw_animation_size (scene, a, &width, &height);
  FwBox box = { 0, 0, width, height };
  FwPairOfViews pair = fw_views_fit (scene, a->views, box, 0.03 * width);
  FwStyle style = fw_style (a->theme, a->width / 480.0);
  FwScene frame = *scene;
  fw_pose_solve (pose, scene->mechanism, crank);
  frame.pose = pose;
  frame.scratch = NULL;
  fw_set_colour (cr, style.ground);
  cairo_paint (cr);
  fw_views_draw (cr, &frame, &pair, &style, 0);
}

/* ---- The file ---- */

typedef struct
{
  const FwScene *scene;
  const FwAnimation *animation;
  FwPose *pose;
  cairo_surface_t *surface;
  FwPalette *palette;
  int width, height, frames, turn_cs;
  guint8 *indices;
  GByteArray *bytes;
} Film;

static int
keep (void *context, const uint8_t *data, const size_t length)
{
  g_byte_array_append (context, data, (guint)length);
  return 0;
}

/* Frame i, one pixel after the other. */
static const guint32 *
draw_frame (Film *film, int i)
{
  cairo_t *cr = cairo_create (film->surface);
  fw_animation_draw (cr, film->scene, film->animation, film->pose, 2 * G_PI * i / film->frames);
  cairo_destroy (cr);
  cairo_surface_flush (film->surface);
  /* 4 bytes a pixel: no padding at the ends of rows. */
  return (const guint32 *)(void *)cairo_image_surface_get_data (film->surface);
}

/* Twice through the turn, so that no more than one frame is held. */
static gboolean
choose_colours (Film *film, const FwProgress *progress)
{
  gsize n = (gsize)film->width * (gsize)film->height;
  for (int i = 0; i < film->frames; i++)
    {
      if (!fw_progress (progress, 0.5 * i / film->frames, _ ("Choosing colours")))
        return FALSE;
      fw_palette_count (film->palette, draw_frame (film, i), n);
    }
  fw_palette_choose (film->palette);
  return TRUE;
}

/* Rounding is spread: the frames together take exactly as long as the turn. */
static int
delay (const Film *film, int i)
{
  gint64 turn = film->turn_cs;
  return (int)((2 * (i + 1) * turn + film->frames) / (2 * film->frames) - (2 * i * turn + film->frames) / (2 * film->frames));
}

/* FALSE: told to stop, or *result says why. */
static gboolean
add_frames (Film *film, CGIF *gif, const FwProgress *progress, int *result)
{
  gsize n = (gsize)film->width * (gsize)film->height;
  for (int i = 0; i < film->frames; i++)
    {
      if (!fw_progress (progress, 0.5 + 0.5 * i / film->frames, _ ("Drawing frames")))
        return FALSE;
      fw_palette_map (film->palette, draw_frame (film, i), n, film->indices);
      CGIF_FrameConfig frame = { .pImageData = film->indices,
                                 .delay = (uint16_t)delay (film, i),
                                 .genFlags = CGIF_FRAME_GEN_USE_TRANSPARENCY | CGIF_FRAME_GEN_USE_DIFF_WINDOW };
      *result = cgif_addframe (gif, &frame);
      if (*result != CGIF_OK)
        return FALSE;
    }
  return TRUE;
}

static gboolean
encode (Film *film, const FwProgress *progress, GError **error)
{
  if (!choose_colours (film, progress))
    return fw_progress_stopped (error);
  CGIF_Config config = { .pGlobalPalette = (uint8_t *)fw_palette_bytes (film->palette),
                         .numGlobalPaletteEntries = (uint16_t)fw_palette_size (film->palette),
                         .attrFlags = CGIF_ATTR_IS_ANIMATED,
                         .numLoops = CGIF_INFINITE_LOOP,
                         .width = (uint16_t)film->width,
                         .height = (uint16_t)film->height,
                         .pWriteFn = keep,
                         .pContext = film->bytes };
  CGIF *gif = cgif_newgif (&config);
  int result = gif != NULL ? CGIF_OK : CGIF_EALLOC;
  gboolean onward = gif != NULL && add_frames (film, gif, progress, &result);
  int closed = gif != NULL ? cgif_close (gif) : CGIF_OK;
  if (result == CGIF_OK && !onward)
    return fw_progress_stopped (error);
  if (result == CGIF_OK && closed == CGIF_OK)
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("The animation cannot be made: there is not enough memory"));
  return FALSE;
}

gboolean
fw_animation_write_gif (const FwScene *scene, const FwAnimation *animation, const char *path,
                        const FwProgress *progress, GError **error)
{
  int most;
  Film film = { .scene = scene, .animation = animation };
  g_autofree char *shown = fw_file_display_name (path);
  if (!fw_animation_timing (animation, scene->mechanism->design, &film.turn_cs, &film.frames, &most))
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                   _ ("%s: at this speed at most %d frames can be shown in one turn"), shown, most);
      return FALSE;
    }
  fw_animation_size (scene, animation, &film.width, &film.height);
  film.pose = fw_pose_new (scene->mechanism);
  film.surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, film.width, film.height);
  film.palette = fw_palette_new ();
  film.indices = g_malloc ((gsize)film.width * (gsize)film.height);
  film.bytes = g_byte_array_new ();
  gboolean fine = film.pose != NULL && cairo_surface_status (film.surface) == CAIRO_STATUS_SUCCESS;
  if (!fine)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("%s: there is not enough memory for the animation"), shown);
  fine = fine && encode (&film, progress, error)
         && fw_file_replace (path, (const char *)film.bytes->data, film.bytes->len, error);
  free (film.pose);
  cairo_surface_destroy (film.surface);
  fw_palette_free (film.palette);
  g_free (film.indices);
  g_byte_array_unref (film.bytes);
  return fine;
}
