/* The animated GIF read back by an outside tool (ImageMagick's convert) and laid against the frames
 * as cairo drew them; its palette; its timing. */
#include <math.h>
#include <string.h>

#include <gio/gio.h>
#include <glib/gstdio.h>

#include "doc/document.h"
#include "shop/animate.h"
#include "shop/logbook.h"
#include "shop/palette.h"

static FwLogState *
open_state (const char *name)
{
  g_autofree char *path = g_strconcat (FW_DEMOS "/", name, ".flap", NULL);
  FwDocument *doc = fw_document_load (path, NULL);
  g_assert_nonnull (doc);
  FwLogState *state = fw_log_state_new (fw_document_design (doc));
  g_assert_nonnull (state);
  fw_document_free (doc);
  return state;
}

/* Frame `i` of a GIF as bytes r, g, b. */
static GBytes *
decode (const char *path, int i)
{
  g_autofree char *range = g_strdup_printf ("0-%d", i);
  g_autofree char *from = g_strdup_printf ("%s[%s]", path, range);
  const char *argv[] = { "convert", from, "-coalesce", "-delete", "0--2", "-depth", "8", "rgb:-", NULL };
  if (i == 0)
    {
      argv[3] = "-depth";
      argv[4] = "8";
      argv[5] = "rgb:-";
      argv[6] = NULL;
    }
  g_autoptr (GSubprocess) convert = g_subprocess_newv (argv, G_SUBPROCESS_FLAGS_STDOUT_PIPE, NULL);
  GBytes *bytes = NULL;
  g_assert_nonnull (convert);
  g_assert_true (g_subprocess_communicate (convert, NULL, NULL, &bytes, NULL, NULL));
  return bytes;
}

/* All eight neighbours are of the same colour. */
static gboolean
is_flat (const guint32 *pixels, int p, int width, int height)
{
  int x = p % width, y = p / width;
  if (x < 1 || y < 1 || x > width - 2 || y > height - 2)
    return FALSE;
  for (int dy = -1; dy <= 1; dy++)
    for (int dx = -1; dx <= 1; dx++)
      if (pixels[p + dy * width + dx] != pixels[p])
        return FALSE;
  return TRUE;
}

static void
frames_are_those_that_were_drawn (void)
{
  FwLogState *state = open_state ("heron");
  FwScene scene = fw_log_state_scene (state);
  FwAnimation animation = fw_animation_default ();
  GError *error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("animate-XXXXXX", NULL), *path = g_build_filename (folder, "a.gif", NULL);
  int width, height;

  animation.frames = 10;
  animation.width = 360;
  fw_animation_size (&scene, &animation, &width, &height);
  g_assert_true (fw_animation_write_gif (&scene, &animation, path, NULL, &error));
  g_assert_no_error (error);
  for (int i = 0; i < 10; i += 3)
    {
      g_autoptr (GBytes) bytes = decode (path, i);
      gsize size;
      const guint8 *found = g_bytes_get_data (bytes, &size);
      g_assert_cmpuint (size, ==, (gsize)width * (gsize)height * 3);

      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
      cairo_t *cr = cairo_create (surface);
      fw_animation_draw (cr, &scene, &animation, state->scratch, 2 * G_PI * i / 10);
      cairo_destroy (cr);
      cairo_surface_flush (surface);
      const guint32 *drawn = (const guint32 *)(void *)cairo_image_surface_get_data (surface);
      double sum = 0;
      int worst = 0, flat_wrong = 0;
      for (int p = 0; p < width * height; p++)
        for (int c = 0; c < 3; c++)
          {
            int off = abs (found[3 * p + c] - (int)(drawn[p] >> (16 - 8 * c) & 0xFF));
            sum += off;
            worst = MAX (worst, off);
            flat_wrong += off > 3 && is_flat (drawn, p, width, height);
          }
      g_test_message ("frame %d: mean %.3f, worst %d, flat fills wrong %d", i, sum / (3.0 * width * height), worst, flat_wrong);
      g_assert_cmpfloat (sum / (3.0 * width * height), <, 0.3);
      g_assert_cmpint (worst, <, 40);     /* in the soft edge of a thin line */
      g_assert_cmpint (flat_wrong, ==, 0);
      g_assert_cmpint (found[0], ==, 0xfa); /* the paper's own colour, exactly */
      g_assert_cmpint (found[1], ==, 0xf6);
      g_assert_cmpint (found[2], ==, 0xee);
      cairo_surface_destroy (surface);
    }
  g_unlink (path);
  g_rmdir (folder);
  fw_log_state_free (state);
}

/* 36 turns a minute: 166.67 hundredths a turn. */
static void
a_turn_takes_as_long_as_it_does (void)
{
  FwLogState *state = open_state ("heron");
  const FwDesign *design = state->mechanism->design;
  FwAnimation animation = fw_animation_default ();
  int turn, frames, most;

  g_assert_cmpfloat (design->crank.turns_per_minute, ==, 36);
  g_assert_true (fw_animation_timing (&animation, design, &turn, &frames, &most));
  g_assert_cmpint (turn, ==, 167);
  g_assert_cmpint (frames, ==, 42);
  g_assert_cmpint (most, ==, 83);
  animation.speed = 0.5;
  g_assert_true (fw_animation_timing (&animation, design, &turn, &frames, &most));
  g_assert_cmpint (turn, ==, 333);
  animation.speed = 4;
  animation.frames = 30;
  g_assert_false (fw_animation_timing (&animation, design, &turn, &frames, &most));
  g_assert_cmpint (most, ==, 21);
  animation.speed = 1000;
  g_assert_false (fw_animation_timing (&animation, design, &turn, &frames, &most));
  g_assert_cmpint (most, ==, 0);
  fw_log_state_free (state);
}

static gboolean
stop_late (double fraction, const char *what, gpointer data)
{
  double *last = data;
  g_assert_cmpfloat (fraction, >=, *last);
  g_assert_cmpuint (strlen (what), >, 3);
  *last = fraction;
  return fraction < 0.7;
}

static void
stopped_midway_nothing_is_written (void)
{
  FwLogState *state = open_state ("moth");
  FwScene scene = fw_log_state_scene (state);
  FwAnimation animation = fw_animation_default ();
  double last = 0;
  const FwProgress progress = { stop_late, &last };
  GError *error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("animate-XXXXXX", NULL), *path = g_build_filename (folder, "a.gif", NULL);

  animation.width = 100;
  g_assert_false (fw_animation_write_gif (&scene, &animation, path, &progress, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_error_free (error);
  g_assert_cmpint (g_rmdir (folder), ==, 0); /* it is empty */
  fw_log_state_free (state);
}

/* ---- The palette ---- */

static void
few_colours_are_kept_exactly (void)
{
  guint32 pixels[200];
  guint8 indices[200];
  for (guint i = 0; i < 200; i++)
    pixels[i] = i * 1234567u & 0xFFFFFFu;
  FwPalette *palette = fw_palette_new ();
  fw_palette_count (palette, pixels, 200);
  fw_palette_choose (palette);
  g_assert_cmpint (fw_palette_size (palette), ==, 200);
  fw_palette_map (palette, pixels, 200, indices);
  const guint8 *bytes = fw_palette_bytes (palette);
  for (guint i = 0; i < 200; i++)
    for (int c = 0; c < 3; c++)
      g_assert_cmpint (bytes[3 * indices[i] + c], ==, pixels[i] >> (16 - 8 * c) & 0xFF);
  fw_palette_free (palette);
}

/* A smooth ramp and three flat fills: the fills exactly, the ramp nearly. */
static void
flat_fills_stay_and_ramps_come_near (void)
{
  static const guint32 fills[] = { 0xfaf6ee, 0x0b6e75, 0xc4421a };
  gsize n = 60000;
  guint32 *pixels = g_new (guint32, n);
  guint8 *indices = g_malloc (n);
  for (guint i = 0; i < n; i++)
    pixels[i] = i % 3 ? fills[i / 3 % 3] : (guint32)((i * 255 / n) << 16 | (i / 3 % 256) << 8 | 0x40);
  FwPalette *palette = fw_palette_new ();
  fw_palette_count (palette, pixels, n);
  fw_palette_choose (palette);
  g_assert_cmpint (fw_palette_size (palette), ==, FW_PALETTE_MOST);
  fw_palette_map (palette, pixels, n, indices);
  const guint8 *bytes = fw_palette_bytes (palette);
  double sum = 0;
  for (guint i = 0; i < n; i++)
    for (int c = 0; c < 3; c++)
      {
        int off = abs (bytes[3 * indices[i] + c] - (int)(pixels[i] >> (16 - 8 * c) & 0xFF));
        if (i % 3)
          g_assert_cmpint (off, ==, 0);
        sum += i % 3 ? 0 : off;
      }
  g_assert_cmpfloat (sum / (double)n, <, 12); /* 256 by 256 shades by some 127 */
  fw_palette_free (palette);
  g_free (pixels);
  g_free (indices);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shop/animate/few-colours-are-kept-exactly", few_colours_are_kept_exactly);
  g_test_add_func ("/shop/animate/flat-fills-stay-and-ramps-come-near", flat_fills_stay_and_ramps_come_near);
  g_test_add_func ("/shop/animate/a-turn-takes-as-long-as-it-does", a_turn_takes_as_long_as_it_does);
  g_test_add_func ("/shop/animate/frames-are-those-that-were-drawn", frames_are_those_that_were_drawn);
  g_test_add_func ("/shop/animate/stopped-midway-nothing-is-written", stopped_midway_nothing_is_written);
  return g_test_run ();
}
