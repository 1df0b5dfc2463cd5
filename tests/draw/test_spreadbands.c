/* Bands of what is made, as numbers; a photograph's place by two points; an angle read off a picture of a heron that
 * was built otherwise than drawn, laid crooked and at another scale. */
#include <math.h>

#include "draw/photo.h"
#include "draw/spreadbands.h"
#include "heron.h"

#define DEGREES (180 / G_PI)
#define STEPS 8

/* ---- Bands ---- */

static void
test_band_between_steps (void)
{
  const double low[STEPS] = { 0, 1, 2, 3, 4, 5, 6, 7 }, middle[STEPS] = { 1, 2, 3, 4, 5, 6, 7, 8 },
               high[STEPS] = { 3, 4, 5, 6, 7, 8, 9, 10 };
  const FwSpreadBand band = { { FW_Q_ANGLE, 0 }, STEPS, low, middle, high };
  FwSpreadValues v;
  g_assert_true (fw_spread_at (&band, 2.5 / STEPS * 2 * G_PI, &v));
  g_assert_cmpfloat_with_epsilon (v.low, 2.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (v.middle, 3.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (v.high, 5.5, 1e-9);
  /* Behind the last step comes the first. */
  g_assert_true (fw_spread_at (&band, 7.5 / STEPS * 2 * G_PI, &v));
  g_assert_cmpfloat_with_epsilon (v.low, 3.5, 1e-9);
  double least, most;
  g_assert_true (fw_spread_reach (&band, &least, &most));
  g_assert_cmpfloat (least, ==, 0);
  g_assert_cmpfloat (most, ==, 10);
}

static void
test_band_with_gap (void)
{
  double low[STEPS] = { 0, 1, NAN, NAN, 4, 5, NAN, 7 }, high[STEPS];
  FwVec2 p[2 * (STEPS + 1)];
  FwSpreadValues v;
  int next = 0, pieces = 0, first[3], counts[3];
  for (int i = 0; i < STEPS; i++)
    high[i] = low[i] + 2;
  const FwSpreadBand band = { { FW_Q_ANGLE, 0 }, STEPS, low, low, high };
  for (int from = 0; from <= STEPS; from = next)
    {
      int n = fw_spread_outline (&band, from, p, &next);
      if (n == 0)
        continue;
      g_assert_cmpint (pieces, <, 3);
      first[pieces] = (int)p[0].x;
      counts[pieces++] = n;
      for (int i = 0; i < n / 2; i++)
        {
          g_assert_cmpfloat (p[i].x, ==, p[n - 1 - i].x);
          g_assert_cmpfloat (p[n - 1 - i].y - p[i].y, ==, 2);
        }
    }
  /* 0-1, 4-5, and 7 with the first step of the next turn. */
  g_assert_cmpint (pieces, ==, 3);
  g_assert_cmpint (first[0], ==, 0);
  g_assert_cmpint (first[1], ==, 4);
  g_assert_cmpint (first[2], ==, 7);
  for (int i = 0; i < 3; i++)
    g_assert_cmpint (counts[i], ==, 4);
  g_assert_false (fw_spread_at (&band, 1.5 / STEPS * 2 * G_PI, &v));
}

/* A panel turned about its hinge is where its rod puts it at the crank angle of that angle. */
static void
test_turned_as_by_its_rod (void)
{
  Stage *stage = stage_new (heron_design (), 40);
  const FwMechanism *m = stage->mechanism;
  for (int i = 0; i < m->n_members; i++)
    {
      FwFrame there = fw_member_turned (&stage->pose->members[i], 0.3), here = stage->pose->members[i].motion.at;
      g_assert_cmpfloat_with_epsilon (fw_vec3_distance (there.origin, here.origin), 0, 1e-12);
      g_assert_cmpfloat_with_epsilon (fw_vec3_dot (there.u, there.v), 0, 1e-12);
    }
  /* The heron's crank sets arm and body; only what does not ride on a moved body can be compared: angles. */
  for (int i = 0; i < m->n_members; i++)
    if (m->members[i].parent < 0)
      {
        double before = fw_pose_angle (stage->pose, m, i);
        FwMemberPose *member = &stage->pose->members[i];
        FwFrame rest = member->motion.at;
        const double c = member->cosine, s = member->sine;
        member->motion.at = fw_member_turned (member, 0.2);
        member->cosine = cos (before + 0.2);
        member->sine = sin (before + 0.2);
        /* fixed + cos a * even + sin a * odd, in the body's frame: the mechanism's own formula. */
        const FwMember *k = &m->members[i];
        FwVec3 u = fw_frame_turn (&stage->pose->body.motion.at,
                                  fw_vec3_add (k->fixed[0], fw_vec3_add (fw_vec3_scale (k->even[0], member->cosine),
                                                                         fw_vec3_scale (k->odd[0], member->sine))));
        g_assert_cmpfloat_with_epsilon (fw_vec3_distance (u, member->motion.at.u), 0, 1e-9);
        member->motion.at = rest;
        member->cosine = c;
        member->sine = s;
      }
  stage_free (stage);
}

static cairo_surface_t *
painted (const FwScene *scene, FwView view, guint show)
{
  FwBox page = { 0, 0, 500, 400 };
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwCamera camera = fw_camera_fit (view, fw_view_extent (scene, view), page, 20);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 500, 400);
  cairo_t *cr = cairo_create (surface);
  fw_draw_view (cr, scene, &camera, &style, page, show, NULL);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static int
pixels_unlike (cairo_surface_t *a, cairo_surface_t *b)
{
  int stride = cairo_image_surface_get_stride (a), height = cairo_image_surface_get_height (a), n = 0;
  const guint32 *p = (const guint32 *)(const void *)cairo_image_surface_get_data (a),
                *q = (const guint32 *)(const void *)cairo_image_surface_get_data (b);
  for (int i = 0; i < stride / 4 * height; i++)
    n += ((p[i] ^ q[i]) & 0xffffff) != 0;
  return n;
}

static void
test_band_is_seen (void)
{
  Stage *stage = stage_new (heron_design (), 40);
  const double *row = fw_turn_row (stage->turn, stage->mechanism, (FwQuantity){ FW_Q_ANGLE, 0 });
  int steps = stage->turn->steps;
  double *low = g_new (double, steps), *high = g_new (double, steps);
  for (int i = 0; i < steps; i++)
    {
      low[i] = row[i] - 0.1;
      high[i] = row[i] + 0.1;
    }
  const FwSpreadBand band = { { FW_Q_ANGLE, 0 }, steps, low, row, high };
  FwScene with = stage->scene;
  with.spreads = &band;
  with.n_spreads = 1;
  cairo_surface_t *a = painted (&stage->scene, FW_VIEW_FRONT, 0), *b = painted (&with, FW_VIEW_FRONT, 0);
  g_assert_cmpint (pixels_unlike (a, b), >, 200);
  cairo_surface_destroy (a);
  cairo_surface_destroy (b);
  g_free (low);
  g_free (high);
  stage_free (stage);
}

/* ---- The photograph's place ---- */

static void
test_place_by_points (void)
{
  /* 0.4 mm a px, 12 degrees clockwise on the page, (-150, 80) mm. */
  double c = 0.4 * cos (12 / DEGREES), s = 0.4 * sin (12 / DEGREES);
  const FwPhotoPlace truth = { c, s, -150, 80 };
  const FwVec2 pixels[2] = { { 120, 900 }, { 1490, 333 } };
  const FwVec2 plane[2] = { fw_photo_to_plane (&truth, pixels[0]), fw_photo_to_plane (&truth, pixels[1]) };
  FwPhotoPlace found;
  g_assert_true (fw_photo_place_by_points (pixels, plane, &found));
  g_assert_cmpfloat_with_epsilon (fw_photo_scale (&found), 0.4, 1e-12);
  g_assert_cmpfloat_with_epsilon (fw_photo_tilt_deg (&found), 12, 1e-9);
  g_assert_cmpfloat_with_epsilon (found.x0, -150, 1e-9);
  g_assert_cmpfloat_with_epsilon (found.y0, 80, 1e-9);
  FwVec2 back = fw_photo_from_plane (&found, plane[1]);
  g_assert_cmpfloat_with_epsilon (back.x, 1490, 1e-9);
  g_assert_cmpfloat_with_epsilon (back.y, 333, 1e-9);

  const FwVec2 one[2] = { { 5, 5 }, { 5, 5 } };
  g_assert_false (fw_photo_place_by_points (one, plane, &found));
  g_assert_false (fw_photo_place_by_points (pixels, one, &found));
  g_assert_cmpfloat_with_epsilon (fw_photo_tilt_deg (&found), 12, 1e-9);
}

static void
test_place_by_distance (void)
{
  FwPhotoPlace place = fw_photo_place_in (1000, 500, (FwBox){ -100, -200, 200, 300 });
  g_assert_cmpfloat_with_epsilon (fw_photo_scale (&place), 0.2, 1e-12);
  g_assert_cmpfloat_with_epsilon (place.y0, -100, 1e-9);
  const FwVec2 pixels[2] = { { 100, 100 }, { 400, 500 } };
  FwVec2 kept = fw_photo_to_plane (&place, pixels[0]);
  g_assert_true (fw_photo_place_by_distance (pixels, 250, &place));
  g_assert_cmpfloat_with_epsilon (fw_photo_scale (&place), 0.5, 1e-12);
  FwVec2 now = fw_photo_to_plane (&place, pixels[0]), other = fw_photo_to_plane (&place, pixels[1]);
  g_assert_cmpfloat_with_epsilon (fw_vec2_distance (now, kept), 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (fw_vec2_distance (now, other), 250, 1e-9);
  g_assert_false (fw_photo_place_by_distance (pixels, 0, &place));
  g_assert_false (fw_photo_place_by_distance (pixels, NAN, &place));
}

/* ---- Angles off a picture ---- */

static FwVec3
tip_of (const FwMechanism *m, const FwPose *pose, int member)
{
  FwVec2 tip = fw_form_tip (m->design, m->members[member].panel);
  return fw_frame_to_world (&pose->members[member].motion.at, fw_vec3 (tip.x, tip.y, 0));
}

/* Stickers on the real thing, each of a colour that nothing else has. */
static const double stickers[4][3] = { { 1, 0, 1 }, { 0, 1, 0 }, { 0, 0, 1 }, { 1, 0, 0 } };

/* A picture of the stage, 1.7 px a mm, turned by -9 degrees, with stickers at four points. */
static cairo_surface_t *
photograph (const Stage *stage, FwView view, const FwVec3 at[4])
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 2200, 1700);
  cairo_t *cr = cairo_create (surface);
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  const FwCamera camera = { view, 1.7, 1100, 1300 };
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_translate (cr, 1100, 850);
  cairo_rotate (cr, -9 / DEGREES);
  cairo_translate (cr, -1100, -850);
  fw_draw_view (cr, &stage->scene, &camera, &style, (FwBox){ -400, -400, 3000, 2500 }, 0, NULL);
  for (int i = 0; i < 4; i++)
    {
      FwVec2 p = fw_camera_project (&camera, at[i], NULL);
      cairo_arc (cr, p.x, p.y, 5, 0, 2 * G_PI);
      cairo_set_source_rgb (cr, stickers[i][0], stickers[i][1], stickers[i][2]);
      cairo_fill (cr);
    }
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* The middle of a sticker, px, found in the picture. */
static FwVec2
find_sticker (cairo_surface_t *picture, int sticker)
{
  int stride = cairo_image_surface_get_stride (picture), n = 0;
  double x = 0, y = 0;
  const unsigned char *data = cairo_image_surface_get_data (picture);
  guint32 wanted = (stickers[sticker][0] > 0 ? 0xff0000u : 0) | (stickers[sticker][1] > 0 ? 0xff00u : 0)
                   | (stickers[sticker][2] > 0 ? 0xffu : 0);
  for (int row = 0; row < cairo_image_surface_get_height (picture); row++)
    for (int column = 0; column < cairo_image_surface_get_width (picture); column++)
      if ((((const guint32 *)(const void *)(data + row * stride))[column] & 0xffffff) == wanted)
        {
          x += column + 0.5;
          y += row + 0.5;
          n++;
        }
  g_assert_cmpint (n, >, 20);
  return fw_vec2 (x / n, y / n);
}

static int
member_named (const FwMechanism *m, const char *name)
{
  for (int i = 0; i < m->n_members; i++)
    if (g_str_equal (m->members[i].name, name))
      return i;
  g_assert_not_reached ();
}

/* Reads a member of the built heron off its picture, by what the drawn one knows. */
static double
read_off (const Stage *drawn, const Stage *built, const double *known, int member)
{
  /* Crank axis, and a point 200 mm above it on the middle: what one would mark on the stand. */
  const FwVec3 at[4] = { { 0, 0, 0 }, { 0, 0, 200 }, built->pose->members[member].motion.at.origin,
                         tip_of (built->mechanism, built->pose, member) };
  cairo_surface_t *picture = photograph (built, FW_VIEW_FRONT, at);
  const FwVec2 pixels[2] = { find_sticker (picture, 0), find_sticker (picture, 1) };
  const FwVec2 plane[2] = { { 0, 0 }, { 0, -200 } };
  FwPhotoPlace place;
  double angle = NAN;
  g_assert_true (fw_photo_place_by_points (pixels, plane, &place));
  g_assert_cmpfloat_with_epsilon (fw_photo_scale (&place), 1 / 1.7, 1e-3);
  g_assert_cmpfloat_with_epsilon (fw_photo_tilt_deg (&place), 9, 0.1);
  g_assert_true (fw_photo_read_angle (drawn->mechanism, drawn->pose, known, FW_VIEW_FRONT, member,
                                      fw_photo_to_plane (&place, find_sticker (picture, 2)),
                                      fw_photo_to_plane (&place, find_sticker (picture, 3)), &angle));
  cairo_surface_destroy (picture);
  return angle;
}

static void
test_angle_off_a_picture (void)
{
  FwDesign *other = heron_design ();
  for (int i = 0; i < other->n_rods; i++)
    other->rods[i].length_mm += 3;
  Stage *drawn = stage_new (heron_design (), 0), *built = stage_new (other, 0);
  double known[64];
  for (double crank = 0; crank < 360; crank += 45)
    {
      stage_turn_to (drawn, crank);
      stage_turn_to (built, crank);
      for (int i = 0; i < 64; i++)
        known[i] = NAN;
      for (int i = 0; i < drawn->mechanism->n_members; i++)
        {
          const char *name = drawn->mechanism->members[i].name;
          int member = member_named (built->mechanism, name);
          /* What nods fore and aft is not seen from the front. */
          FwVec3 axis = drawn->pose->members[i].axis;
          if (fabs (axis.y) < 0.9 || built->pose->members[member].closure != FW_CLOSES)
            continue;
          double truth = fw_pose_angle (built->pose, built->mechanism, member);
          known[i] = read_off (drawn, built, known, i);
          g_assert_cmpfloat_with_epsilon (known[i] * DEGREES, truth * DEGREES, 0.2);
        }
    }
  /* It was another heron. */
  g_assert_cmpfloat (fabs (fw_pose_angle (built->pose, built->mechanism, 0) - fw_pose_angle (drawn->pose, drawn->mechanism, 0)),
                     >, 0.5 / DEGREES);
  stage_free (drawn);
  stage_free (built);
}

static void
test_what_a_view_cannot_tell (void)
{
  Stage *stage = stage_new (heron_design (), 30);
  int arm = 0;
  double angle = 7;
  FwVec3 hinge = stage->pose->members[arm].motion.at.origin, tip = tip_of (stage->mechanism, stage->pose, arm);
  /* Wings seen from the side flap towards the viewer. */
  const FwCamera side = { FW_VIEW_SIDE, 1, 0, 0 };
  FwVec2 a = fw_camera_project (&side, hinge, NULL), b = fw_camera_project (&side, tip, NULL);
  g_assert_false (fw_photo_read_angle (stage->mechanism, stage->pose, NULL, FW_VIEW_FRONT, arm, a, a, &angle));
  g_assert_cmpfloat (angle, ==, 7);
  if (fw_photo_read_angle (stage->mechanism, stage->pose, NULL, FW_VIEW_SIDE, arm, a, b, &angle))
    g_assert_cmpfloat_with_epsilon (angle, fw_pose_angle (stage->pose, stage->mechanism, arm), 1e-6);
  stage_free (stage);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draw/a band is known between its steps and across the end of the turn", test_band_between_steps);
  g_test_add_func ("/draw/a band stops where nothing can be assembled and goes on behind it", test_band_with_gap);
  g_test_add_func ("/draw/a panel turned about its hinge is where its hinge's own formula puts it", test_turned_as_by_its_rod);
  g_test_add_func ("/draw/a band is seen as a fan in the view", test_band_is_seen);
  g_test_add_func ("/draw/two points give a photograph's scale, tilt and place", test_place_by_points);
  g_test_add_func ("/draw/a distance gives a photograph's scale and leaves its first point", test_place_by_distance);
  g_test_add_func ("/draw/an angle is read off a crooked picture to a fifth of a degree", test_angle_off_a_picture);
  g_test_add_func ("/draw/what a view cannot tell is not read", test_what_a_view_cannot_tell);
  return g_test_run ();
}
