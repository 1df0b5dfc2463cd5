/* What a window keeps between two frames gives the same pixels as drawing all of the picture anew. */
#include <string.h>

#include "doc/document.h"
#include "draw/still.h"
#include "heron.h"

enum
{
  WIDTH = 460,
  HEIGHT = 380,
  ROUNDING = 2 /* of 255: a mask is rounded once, its colour again */
};

typedef struct
{
  FwStill *still;
  FwTheme theme;
  int scale;
  guint show;
  int picked; /* trouble, from 1 on; 0: none */
} Way;

/* view 0..2, or 3: the strip. */
static cairo_surface_t *
draw (const Stage *s, const Way *way, int view, FwStill *still)
{
  FwBox page = { 0, 0, WIDTH, HEIGHT };
  FwStyle style = fw_style (way->theme, 1);
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH * way->scale, HEIGHT * way->scale);
  cairo_surface_set_device_scale (surface, way->scale, way->scale);
  cairo_t *cr = cairo_create (surface);
  if (view < 3)
    {
      FwCamera camera = fw_camera_fit ((FwView)view, fw_view_extent (&s->scene, (FwView)view), page, 20);
      fw_draw_view_kept (cr, still, &s->scene, &camera, &style, page, way->show, NULL);
    }
  else
    {
      FwStripState state = { .curves = { { FW_Q_ANGLE, 0 }, { FW_Q_BODY_Z, 0 } },
                             .n_curves = 2,
                             .crank = s->pose->crank,
                             .picked_trouble = way->picked - 1 };
      fw_draw_turn_strip_kept (cr, still, &s->scene, &state, &style, page);
    }
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* The greatest difference of a colour of a pixel, of 255. */
static int
apart (cairo_surface_t *a, cairo_surface_t *b)
{
  int most = 0, width = cairo_image_surface_get_width (a), stride = cairo_image_surface_get_stride (a);
  const unsigned char *p = cairo_image_surface_get_data (a), *q = cairo_image_surface_get_data (b);
  for (int y = 0; y < cairo_image_surface_get_height (a); y++)
    for (int x = 0; x < 4 * width; x++)
      if (x % 4 != 3) /* the fourth byte is not used */
        most = MAX (most, ABS (p[y * stride + x] - q[y * stride + x]));
  return most;
}

static int
apart_from_whole (const Stage *s, const Way *way, int view)
{
  cairo_surface_t *whole = draw (s, way, view, NULL), *kept = draw (s, way, view, way->still);
  int most = apart (whole, kept);
  cairo_surface_destroy (whole);
  cairo_surface_destroy (kept);
  return most;
}

/* Three frames: the first is all drawn, with the second pixels are kept, the third is made with them. */
static void
turn_and_compare (Stage *s, Way way)
{
  for (int view = 0; view < 4; view++)
    {
      way.still = fw_still_new ();
      fw_still_set_scale (way.still, way.scale);
      for (int frame = 0; frame < 3; frame++)
        {
          stage_turn_to (s, 40 + 97 * frame);
          g_assert_cmpint (apart_from_whole (s, &way, view), <=, ROUNDING);
        }
      fw_still_free (way.still);
    }
}

static const guint plain = FW_SHOW_SIDES | FW_SHOW_SCALE_BAR | FW_SHOW_TRACES | FW_SHOW_TROUBLE;

static void
every_demo_looks_the_same_in_every_view_light_and_dark (void)
{
  GDir *demos = g_dir_open (DEMOS, 0, NULL);
  int seen = 0;
  for (const char *name; (name = g_dir_read_name (demos)) != NULL;)
    {
      g_autofree char *path = g_build_filename (DEMOS, name, NULL);
      FwDocument *doc = g_str_has_suffix (name, ".flap") ? fw_document_load (path, NULL) : NULL;
      if (doc == NULL)
        continue;
      Stage *s = stage_new (fw_design_copy (fw_document_design (doc)), 40);
      for (int theme = FW_THEME_LIGHT; theme <= FW_THEME_DARK; theme++)
        turn_and_compare (s, (Way){ .theme = (FwTheme)theme, .scale = 1, .show = plain });
      stage_free (s);
      fw_document_free (doc);
      seen++;
    }
  g_dir_close (demos);
  g_assert_cmpint (seen, >=, 5);
}

static void
whatever_is_shown_looks_the_same_at_either_scale (void)
{
  Stage *s = stage_new (heron_design (), 40);
  const guint shows[] = { 0, 0xfff, plain | FW_SHOW_SWEPT, plain | FW_SHOW_GHOSTS | FW_SHOW_HANDLES };
  for (guint i = 0; i < G_N_ELEMENTS (shows); i++)
    turn_and_compare (s, (Way){ .theme = FW_THEME_LIGHT, .scale = 1 + (int)i % 2, .show = shows[i] });
  stage_free (s);
}

static void
another_style_or_scale_is_seen_at_once (void)
{
  Stage *s = stage_new (heron_design (), 40);
  for (int view = 0; view < 4; view++)
    {
      Way way = { .still = fw_still_new (), .theme = FW_THEME_LIGHT, .scale = 1, .show = plain };
      for (int step = 0; step < 12; step++)
        {
          way.theme = step / 3 % 2 == 0 ? FW_THEME_LIGHT : FW_THEME_DARK;
          way.scale = step < 6 ? 1 : 2;
          way.show = step % 4 == 3 ? plain | FW_SHOW_SWEPT : plain;
          fw_still_set_scale (way.still, way.scale);
          g_assert_cmpint (apart_from_whole (s, &way, view), <=, ROUNDING);
        }
      fw_still_free (way.still);
    }
  stage_free (s);
}

static void
another_design_is_seen_once_the_old_is_forgotten (void)
{
  Stage *one = stage_new (heron_design (), 40), *other = stage_new (moth_design (), 40);
  for (int view = 0; view < 4; view++)
    {
      Way way = { .still = fw_still_new (), .theme = FW_THEME_LIGHT, .scale = 1, .show = plain };
      for (int frame = 0; frame < 3; frame++)
        cairo_surface_destroy (draw (one, &way, view, way.still));
      fw_still_forget (way.still);
      for (int frame = 0; frame < 3; frame++)
        g_assert_cmpint (apart_from_whole (other, &way, view), <=, ROUNDING);
      fw_still_free (way.still);
    }
  stage_free (one);
  stage_free (other);
}

/* Without a word that anything changed: results may arrive after the design. */
static void
curves_that_change_are_seen_by_the_strip_itself (void)
{
  Stage *s = stage_new (heron_design (), 40);
  Way way = { .still = fw_still_new (), .theme = FW_THEME_LIGHT, .scale = 1 };
  const FwTurn *turn = s->scene.turn;
  FwTroubleList troubles = s->troubles;
  for (int step = 0; step < 9; step++)
    {
      s->scene.turn = step / 3 == 1 ? NULL : turn;
      s->troubles.n = step / 3 == 2 ? 0 : troubles.n;
      g_assert_cmpint (apart_from_whole (s, &way, 3), <=, ROUNDING);
    }
  s->troubles = troubles;
  fw_still_free (way.still);
  stage_free (s);
}

/* A twin's trouble says nothing new and has no band of its own, but what follows it stands one further on. */
static void
the_strip_shows_which_trouble_is_picked_when_others_come_before_it (void)
{
  Stage *s = stage_new (heron_design (), 40);
  const FwTroubleList given = s->troubles;
  FwTrouble right = { .kind = FW_WEAK_PUSH, .severity = FW_WARNING, .part = { FW_PART_LINK, 0 }, .from = 0.5, .to = 1, .worst = 0.7 };
  FwTrouble left = right, other = right;
  left.part.index = 1;
  other.from = 3;
  other.to = other.worst = 4;
  FwTrouble items[3] = { right, other, other };
  Way way = { .still = fw_still_new (), .theme = FW_THEME_LIGHT, .scale = 1, .picked = 2 };
  s->troubles = (FwTroubleList){ .items = items, .n = 2, .capacity = 3 };
  for (int frame = 0; frame < 3; frame++)
    g_assert_cmpint (apart_from_whole (s, &way, 3), <=, ROUNDING);
  items[1] = left;
  s->troubles.n = 3;
  for (int frame = 0; frame < 3; frame++)
    g_assert_cmpint (apart_from_whole (s, &way, 3), <=, ROUNDING);
  s->troubles = given;
  fw_still_free (way.still);
  stage_free (s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/still/every demo looks the same in every view, light and dark",
                   every_demo_looks_the_same_in_every_view_light_and_dark);
  g_test_add_func ("/still/whatever is shown looks the same at either scale",
                   whatever_is_shown_looks_the_same_at_either_scale);
  g_test_add_func ("/still/another style or scale is seen at once", another_style_or_scale_is_seen_at_once);
  g_test_add_func ("/still/another design is seen once the old is forgotten",
                   another_design_is_seen_once_the_old_is_forgotten);
  g_test_add_func ("/still/curves that change are seen by the strip itself",
                   curves_that_change_are_seen_by_the_strip_itself);
  g_test_add_func ("/still/the strip shows which trouble is picked when others come before it",
                   the_strip_shows_which_trouble_is_picked_when_others_come_before_it);
  return g_test_run ();
}
