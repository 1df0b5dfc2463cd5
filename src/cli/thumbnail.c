/* thumbnail: a small picture of the design, for file managers. It draws whatever can be read, and is careful with what
 * comes its way: a regular file of moderate size on this machine, a PNG of the size asked for, nothing else. */
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "cli/scene.h"
#include "draw/picturefile.h"

#define STEPS 72
#define LEAST_SIZE 16
#define MOST_SIZE 2048
#define MOST_BYTES (8 << 20) /* a folder full of pictures must not take for ever; real designs have a few KB */
#define NARROWEST 0.6        /* of the longer side: a tall post or a long wing still makes a picture */
#define MARGIN 0.06          /* of the longer side */

/* A path from a path or a file: URI. NULL: a line was written, as for any other kind of address. */
static char *
path_from (const char *file)
{
  g_autofree char *scheme = g_uri_parse_scheme (file);
  if (scheme == NULL || g_file_test (file, G_FILE_TEST_EXISTS))
    return g_strdup (file);
  g_autofree char *host = NULL;
  g_autofree char *path = g_filename_from_uri (file, &host, NULL);
  if (path != NULL && host == NULL)
    return g_steal_pointer (&path);
  fw_cli_refuse (_ ("thumbnail: %s: expected a path, or a file: address on this machine"), file);
  return NULL;
}

/* No pipe that never ends, no device, nothing huge. FALSE: a line was written. */
static gboolean
is_fit_to_read (const char *path)
{
  GStatBuf info;
  if (strcmp (path, "-") == 0 || g_stat (path, &info) != 0)
    return TRUE; /* reading says why not */
  if (S_ISREG (info.st_mode) && info.st_size <= MOST_BYTES)
    return TRUE;
  fw_cli_refuse (_ ("thumbnail: %s: expected a design file of at most 8 MB"), path);
  return FALSE;
}

/* Width and height of a picture that holds `extent`, its longer side `size` px. */
static void
picture_size (FwBox extent, int size, int *width, int *height)
{
  double ratio = CLAMP (extent.width / extent.height, NARROWEST, 1 / NARROWEST);
  *width = MAX ((int)lround (size * fmin (ratio, 1)), 1);
  *height = MAX ((int)lround (size / fmax (ratio, 1)), 1);
}

static int
write_picture (const FwCliScene *stage, int size, const char *path)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwScene still = stage->scene;
  still.scratch = NULL; /* as large as this pose allows: nothing moves here */
  FwBox extent = fw_view_extent (&still, FW_VIEW_THREE_QUARTER);
  int width, height;
  picture_size (extent, size, &width, &height);

  FwBox page = { 0, 0, width, height };
  FwCamera camera = fw_camera_fit (FW_VIEW_THREE_QUARTER, extent, page, MARGIN * size);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  fw_set_colour (cr, style.ground);
  cairo_paint (cr);
  fw_draw_view (cr, &still, &camera, &style, page, 0, NULL);
  cairo_destroy (cr);
  g_autoptr (GError) error = NULL;
  gboolean written = fw_picture_write_png (surface, path, &error);
  cairo_surface_destroy (surface);
  return written ? FW_EXIT_FINE : fw_cli_refuse ("%s", error->message);
}

int
fw_verb_thumbnail (int argc, char **argv)
{
  int status, size = 256;
  g_autofree char *out = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &out, N_ ("The PNG file to write"), N_ ("OUT.png") },
    { "size", 0, 0, G_OPTION_ARG_INT, &size, N_ ("Longer side in pixels, 16 to 2048 (256)"), N_ ("PX") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "thumbnail",
      _ ("A small picture for file managers. FILE may be a file: address. Exit status 0: the picture is written."),
      entries, &status);
  if (file == NULL)
    return status;
  if (out == NULL)
    return fw_cli_refuse (_ ("thumbnail: expected -o with the name of the PNG file to write"));
  if (size < LEAST_SIZE || size > MOST_SIZE)
    return fw_cli_refuse (_ ("thumbnail: --size: expected %d to %d pixels, found %d"), LEAST_SIZE, MOST_SIZE, size);
  g_autofree char *path = path_from (file);
  if (path == NULL || !is_fit_to_read (path))
    return FW_EXIT_REFUSED;

  FwJob job;
  FwCliScene stage;
  if (!fw_job_open (&job, path, STEPS))
    return FW_EXIT_REFUSED;
  status = FW_EXIT_REFUSED;
  if (fw_cli_scene_open (&stage, &job))
    {
      status = write_picture (&stage, size, out);
      fw_cli_scene_close (&stage);
    }
  fw_job_close (&job);
  return status;
}
