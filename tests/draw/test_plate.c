/* The motion strip: its size, and a file that is whole or not there. */
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "doc/document.h"
#include "draw/motionstrip.h"
#include "draw/overlay.h"
#include "draw/platewords.h"
#include "heron.h"

static void
the_png_is_exactly_as_large_as_told (void)
{
  Stage *s = stage_new (heron_design (), 0);
  char *dir = g_dir_make_tmp ("plate-XXXXXX", NULL),
       *path = g_build_filename (dir, "strip.png", NULL);
  const int frames[] = { 1, 5, 8, 12, 37, 72 };
  for (guint i = 0; i < G_N_ELEMENTS (frames); i++)
    for (int views = FW_STRIP_BOTH; views <= FW_STRIP_SIDE; views++)
      {
        FwMotionStrip strip = fw_motion_strip_default ();
        strip.frames = frames[i];
        strip.views = (FwStripViews)views;
        strip.frame_width = 120 + 40 * (int)i;
        strip.captions = i != 1;
        strip.settings = i != 2;
        strip.scale_bar = i != 3;
        int width, height;
        GError *error = NULL;
        fw_motion_strip_size (&s->scene, &strip, &width, &height);
        g_assert_true (fw_motion_strip_write_png (&s->scene, &strip, "Heron", path, &error));
        g_assert_no_error (error);
        cairo_surface_t *back = cairo_image_surface_create_from_png (path);
        g_assert_cmpint (cairo_image_surface_get_width (back), ==, width);
        g_assert_cmpint (cairo_image_surface_get_height (back), ==, height);
        cairo_surface_destroy (back);
      }
  g_unlink (path);
  g_assert_cmpint (g_rmdir (dir), ==, 0); /* nothing else was left beside it */
  g_free (path);
  g_free (dir);
  stage_free (s);
}

static void
frames_are_equal_and_wide_as_asked (void)
{
  Stage *s = stage_new (heron_design (), 0);
  FwMotionStrip strip = fw_motion_strip_default ();
  int one, four, height;
  strip.frames = 1;
  strip.settings = strip.scale_bar = FALSE;
  fw_motion_strip_size (&s->scene, &strip, &one, &height);
  strip.frames = 4;
  fw_motion_strip_size (&s->scene, &strip, &four, &height);
  /* The margins are the same, so what comes on top is whole frames. */
  g_assert_cmpint ((four - one) % strip.frame_width, ==, 0);
  g_assert_cmpint (four, >, one);
  stage_free (s);
}

static void
a_strip_that_cannot_be_written_leaves_the_old_file_whole (void)
{
  Stage *s = stage_new (heron_design (), 0);
  char *dir = g_dir_make_tmp ("plate-XXXXXX", NULL),
       *path = g_build_filename (dir, "strip.png", NULL);
  char *nowhere = g_build_filename (dir, "no", "such", "folder.png", NULL);
  GError *error = NULL;
  FwMotionStrip strip = fw_motion_strip_default ();
  g_assert_false (fw_motion_strip_write_png (&s->scene, &strip, "", nowhere, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
  g_assert_nonnull (strstr (error->message, nowhere));
  g_assert_null (strchr (error->message, '\n'));
  g_clear_error (&error);

  /* Too large a picture is refused before the old one is touched. */
  g_assert_true (g_file_set_contents (path, "old", 3, NULL));
  strip.frames = 72;
  strip.frame_width = 4000;
  g_assert_false (fw_motion_strip_write_png (&s->scene, &strip, "", path, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  char *content;
  g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
  g_assert_cmpstr (content, ==, "old");
  g_free (content);

  /* Only a regular file gives way; a link to one stays a link, and what it leads to is new. */
  char *folder = g_build_filename (dir, "folder", NULL), *pipe = g_build_filename (dir, "pipe", NULL),
       *link = g_build_filename (dir, "link.png", NULL), *device = g_build_filename (dir, "device", NULL);
  g_assert_cmpint (g_mkdir (folder, 0700), ==, 0);
  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  g_assert_cmpint (symlink ("strip.png", link), ==, 0);
  /* A null device of its own for who may make one: a mistake would take the machine's away. */
  if (mknod (device, S_IFCHR | 0600, makedev (1, 3)) != 0)
    g_assert_cmpint (symlink ("/dev/null", device), ==, 0);
  strip = fw_motion_strip_default ();
  strip.frame_width = 100;
  const char *refused[] = { folder, pipe, device };
  for (int i = 0; i < 3; i++)
    {
      g_assert_false (fw_motion_strip_write_png (&s->scene, &strip, "", refused[i], &error));
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO);
      g_assert_true (g_str_has_prefix (error->message, refused[i]));
      g_assert_null (strchr (error->message, '\n'));
      g_clear_error (&error);
      g_assert_false (g_file_test (refused[i], G_FILE_TEST_IS_REGULAR));
    }
  g_assert_true (fw_motion_strip_write_png (&s->scene, &strip, "", link, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
  g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
  g_assert_true (g_str_has_prefix (content, "\x89PNG"));
  g_free (content);
  const char *made[] = { pipe, link, device, path };
  for (int i = 0; i < 4; i++)
    g_assert_cmpint (g_unlink (made[i]), ==, 0);
  g_free (pipe);
  g_free (link);
  g_free (device);
  g_rmdir (folder);
  g_assert_cmpint (g_rmdir (dir), ==, 0);
  g_free (folder);
  g_free (nowhere);
  g_free (path);
  g_free (dir);
  stage_free (s);
}

static void
the_words_say_what_matters (void)
{
  Stage *s = stage_new (heron_design (), 0);
  char *settings = fw_plate_settings (&s->scene, FW_LENGTHS_MM),
       *trouble = fw_plate_trouble (&s->scene, 8);
  g_assert_nonnull (strstr (settings, "mid R 40 mm at 0"));
  g_assert_nonnull (strstr (settings, "inrod 412 mm"));
  g_assert_nonnull (strstr (settings, "post 420 mm"));
  g_assert_nonnull (strstr (settings, "40 turns/min"));
  g_assert_nonnull (strstr (trouble, "free of trouble"));
  g_free (settings);
  g_free (trouble);
  stage_free (s);

  s = stage_new (short_heron_design (), 0);
  trouble = fw_plate_trouble (&s->scene, 8);
  g_assert_null (strstr (trouble, "free of trouble"));
  g_assert_nonnull (strstr (trouble, "outrod"));
  g_free (trouble);
  stage_free (s);
}

/* A line of its own holds this number among those before the two spaces. */
static gboolean
has_number (const char *words, int number)
{
  g_auto (GStrv) lines = g_strsplit (words, "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    {
      g_auto (GStrv) parts = g_strsplit (*line, "  ", 2);
      g_auto (GStrv) numbers = g_strsplit (parts[0] == NULL ? "" : parts[0], ", ", -1);
      for (char **n = numbers; *n != NULL; n++)
        if (atoi (*n) == number)
          return TRUE;
    }
  return FALSE;
}

/* Trouble made up for the heron: twenty on its left and right rods and arms in turn, each at its own angle. */
static int
many_troubles (FwTroubleList *list, FwSeverity severity)
{
  list->n = 0;
  for (int i = 0; i < 20; i++)
    {
      double from = i / 2 * 0.3;
      FwPart part = { i % 4 < 2 ? FW_PART_LINK : FW_PART_MEMBER, i % 2 };
      list->items[list->n++]
          = (FwTrouble){ .kind = FW_WEAK_PUSH, .severity = severity, .part = part, .from = from, .to = from + 0.1 };
    }
  return list->n;
}

/* Twins share a line; whatever has its number in a frame has a line, and what has none is counted. */
static void
the_key_has_every_number_of_the_frames (void)
{
  Stage *s = stage_new (heron_design (), 0);
  FwTrouble room[20];
  FwTroubleList list = { .items = room, .capacity = 20 };
  s->scene.troubles = &list;
  const int frames[] = { 1, 8, 72 };
  many_troubles (&list, FW_WARNING);
  for (guint i = 0; i < G_N_ELEMENTS (frames); i++)
    {
      g_autofree char *words = fw_plate_trouble (&s->scene, frames[i]);
      g_auto (GStrv) lines = g_strsplit (words, "\n", -1);
      int missing = 0;
      for (int k = 0; k < list.n; k++)
        {
          gboolean marked = FALSE;
          for (int f = 0; f < frames[i]; f++)
            marked = marked || fw_trouble_is_marked (&list, k, f * 2 * G_PI / frames[i]);
          g_assert_true (!marked || has_number (words, k + 1));
          missing += has_number (words, k + 1) ? 0 : 1;
        }
      g_test_message ("%d frames: %s", frames[i], words);
      g_assert_true (g_str_has_prefix (words, "1, 2  weak push: "));
      g_autofree char *more = g_strdup_printf ("and %d more", missing / 2);
      g_assert_cmpint (strstr (words, more) != NULL, ==, missing > 0);
      g_assert_cmpint (missing, ==, frames[i] == 72 ? 0 : frames[i] == 8 ? 8 : 10);
    }
  s->scene.troubles = NULL;
  stage_free (s);
}

/* What is only remarked upon is told too: that is not free of trouble. */
static void
remarks_are_told (void)
{
  Stage *s = stage_new (heron_design (), 0);
  FwTrouble room[20];
  FwTroubleList list = { .items = room, .capacity = 20 };
  s->scene.troubles = &list;
  many_troubles (&list, FW_REMARK);
  list.n = 1;
  g_autofree char *words = fw_plate_trouble (&s->scene, 8);
  g_assert_null (strstr (words, "free of trouble"));
  g_assert_true (g_str_has_prefix (words, "1  weak push: inrod, 0° to 6°"));
  list.items[0] = (FwTrouble){ .kind = FW_THROWS_COLLIDE, .severity = FW_WARNING, .part = { FW_PART_CRANK, 1 } };
  g_autofree char *made = fw_plate_trouble (&s->scene, 8);
  g_assert_true (g_str_has_suffix (made, "1  throws collide: mid\n")); /* at no angle */
  s->scene.troubles = NULL;
  stage_free (s);
}

static void
odd_wishes_are_bounded (void)
{
  Stage *s = stage_new (moth_design (), 0);
  FwMotionStrip strip = fw_motion_strip_default ();
  int width, height;
  strip.frames = -5;
  strip.frame_width = 0;
  fw_motion_strip_size (&s->scene, &strip, &width, &height);
  g_assert_true (width >= 80 && width < 400 && height > 20 && height < 2000);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  FwScene bare = { .mechanism = s->mechanism, .pose = s->pose };
  fw_draw_motion_strip (cr, &bare, &strip, NULL);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  stage_free (s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plate/the PNG is exactly as large as told",
                   the_png_is_exactly_as_large_as_told);
  g_test_add_func ("/plate/frames are equal and wide as asked", frames_are_equal_and_wide_as_asked);
  g_test_add_func ("/plate/a strip that cannot be written leaves the old file whole",
                   a_strip_that_cannot_be_written_leaves_the_old_file_whole);
  g_test_add_func ("/plate/the words say what matters", the_words_say_what_matters);
  g_test_add_func ("/plate/the key has every number of the frames", the_key_has_every_number_of_the_frames);
  g_test_add_func ("/plate/remarks are told", remarks_are_told);
  g_test_add_func ("/plate/odd wishes are bounded", odd_wishes_are_bounded);
  return g_test_run ();
}
