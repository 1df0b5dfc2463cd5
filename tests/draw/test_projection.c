/* Where things come to lie on the page. Lengths in mm and px, all exact but for rounding. */
#include <math.h>

#include "draw/projection.h"
#include "heron.h"

static const FwView views[] = { FW_VIEW_FRONT, FW_VIEW_SIDE, FW_VIEW_THREE_QUARTER };

static void
assert_near (double a, double b, double tolerance)
{
  if (!(fabs (a - b) <= tolerance))
    g_error ("%.12g is not within %g of %.12g", a, tolerance, b);
}

static FwCamera
camera_of (FwView view)
{
  return (FwCamera){ view, 2, 400, 300 };
}

static void
front_is_seen_from_ahead (void)
{
  FwCamera c = camera_of (FW_VIEW_FRONT);
  double depth;
  FwVec2 p = fw_camera_project (&c, fw_vec3 (10, 7, 5), &depth);
  assert_near (p.x, 400 - 20, 1e-12); /* its right hand on the viewer's left */
  assert_near (p.y, 300 - 10, 1e-12); /* up on the page is a smaller y */
  assert_near (depth, 7, 1e-12);      /* ahead is nearer */
}

static void
side_is_seen_from_the_right (void)
{
  FwCamera c = camera_of (FW_VIEW_SIDE);
  double depth;
  FwVec2 p = fw_camera_project (&c, fw_vec3 (10, 7, 5), &depth);
  assert_near (p.x, 400 + 14, 1e-12); /* nose to the right */
  assert_near (p.y, 300 - 10, 1e-12);
  assert_near (depth, 10, 1e-12); /* the right wing is nearer */
}

static void
three_quarter_shows_ahead_right_and_above (void)
{
  FwViewAxes axes = fw_view_axes (FW_VIEW_THREE_QUARTER);
  g_assert_true (axes.toward.x > 0.2 && axes.toward.y > 0.2 && axes.toward.z > 0.1);
  FwCamera c = camera_of (FW_VIEW_THREE_QUARTER);
  g_assert_true (fw_camera_project (&c, fw_vec3 (0, 0, 10), NULL).y < 300); /* up is up */
  g_assert_true (fw_camera_project (&c, fw_vec3 (0, 10, 0), NULL).x
                 > 400); /* the nose to the right */
  g_assert_true (fw_camera_project (&c, fw_vec3 (10, 0, 0), NULL).x
                 < 400); /* the right wing to the left */
}

static void
axes_are_square_and_right_handed (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      FwViewAxes a = fw_view_axes (views[i]);
      assert_near (fw_vec3_length (a.right), 1, 1e-12);
      assert_near (fw_vec3_length (a.up), 1, 1e-12);
      assert_near (fw_vec3_dot (a.right, a.up), 0, 1e-12);
      FwVec3 toward = fw_vec3_cross (a.right, a.up);
      assert_near (fw_vec3_distance (toward, a.toward), 0, 1e-12);
    }
}

static void
page_vectors_come_back (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      FwCamera c = camera_of (views[i]);
      FwVec3 world = fw_camera_unproject_vector (&c, 13, -8);
      FwVec2 page = fw_camera_project_vector (&c, world);
      assert_near (page.x, 13, 1e-12);
      assert_near (page.y, -8, 1e-12);
      assert_near (fw_vec3_dot (world, fw_view_axes (views[i]).toward), 0, 1e-12);
    }
}

static void
a_drag_is_shared_out_between_two_directions (void)
{
  double c1, c2;
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      FwCamera c = camera_of (views[i]);
      FwVec3 e1 = fw_vec3 (0.8, -0.6, 0), e2 = fw_vec3 (0, 0, 1);
      int seen = fw_camera_resolve (&c, e1, e2, 9, 4, 0.1, &c1, &c2);
      FwVec2 page = fw_camera_project_vector (&c, fw_vec3_along (fw_vec3_scale (e1, c1), c2, e2));
      g_assert_cmpint (seen, ==, 3);
      assert_near (page.x, 9, 1e-9);
      assert_near (page.y, 4, 1e-9);
    }
  FwCamera front = camera_of (FW_VIEW_FRONT);
  g_assert_cmpint (
      fw_camera_resolve (&front, fw_vec3 (0, 1, 0), fw_vec3 (0, 0, 1), 9, 4, 0.1, &c1, &c2), ==, 2);
  assert_near (c1, 0, 0);
  assert_near (c2, -2, 1e-12);
  g_assert_cmpint (
      fw_camera_resolve (&front, fw_vec3 (0, 1, 0), fw_vec3 (0, -1, 0), 9, 4, 0.1, &c1, &c2), ==,
      0);
}

static void
assert_inside (FwBox page, double margin, FwVec2 p)
{
  double slack = 1e-6;
  if (p.x < page.x + margin - slack || p.x > page.x + page.width - margin + slack
      || p.y < page.y + margin - slack || p.y > page.y + page.height - margin + slack)
    g_error ("(%g, %g) lies outside the page's margin", p.x, p.y);
}

static void
the_fit_holds_the_whole_turn (void)
{
  const FwBox pages[] = { { 0, 0, 800, 600 }, { 40, 70, 300, 900 }, { -10, 5, 3840, 400 } };
  Stage *s = stage_new (heron_design (), 0);
  for (guint v = 0; v < G_N_ELEMENTS (views); v++)
    for (guint p = 0; p < G_N_ELEMENTS (pages); p++)
      {
        FwCamera c = fw_camera_fit (views[v], fw_view_extent (&s->scene, views[v]), pages[p], 12);
        /* Only angles the extent was measured at, so that none may lie outside. */
        for (int step = 0; step < 48; step++)
          {
            stage_turn_to (s, 7.5 * step);
            for (int i = 0; i < s->mechanism->n_links; i++)
              {
                assert_inside (pages[p], 12, fw_camera_project (&c, s->pose->links[i].to.at, NULL));
                assert_inside (pages[p], 12,
                               fw_camera_project (&c, s->pose->links[i].from.at, NULL));
              }
            for (int i = 0; i < s->mechanism->n_members; i++)
              {
                const FwPanel *panel = &s->design->panels[s->mechanism->members[i].panel];
                for (int k = 0; k < panel->n_outline; k++)
                  assert_inside (
                      pages[p], 12,
                      fw_camera_project (&c,
                                         fw_frame_to_world (&s->pose->members[i].motion.at,
                                                            fw_vec3 (panel->outline_mm[k].x,
                                                                     panel->outline_mm[k].y, 0)),
                                         NULL));
              }
          }
      }
  stage_free (s);
}

static void
the_page_stands_still_while_the_crank_turns (void)
{
  Stage *s = stage_new (heron_design (), 10);
  FwBox before = fw_view_extent (&s->scene, FW_VIEW_FRONT);
  stage_turn_to (s, 97.5); /* one of the angles measured in any case */
  FwBox after = fw_view_extent (&s->scene, FW_VIEW_FRONT);
  assert_near (before.x, after.x, 1);
  assert_near (before.y, after.y, 1);
  assert_near (before.width, after.width, 1);
  assert_near (before.height, after.height, 1);
  stage_free (s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/projection/front is seen from ahead", front_is_seen_from_ahead);
  g_test_add_func ("/projection/side is seen from the right", side_is_seen_from_the_right);
  g_test_add_func ("/projection/three-quarter shows ahead, right and above",
                   three_quarter_shows_ahead_right_and_above);
  g_test_add_func ("/projection/axes are square and right-handed",
                   axes_are_square_and_right_handed);
  g_test_add_func ("/projection/page vectors come back", page_vectors_come_back);
  g_test_add_func ("/projection/a drag is shared out between two directions",
                   a_drag_is_shared_out_between_two_directions);
  g_test_add_func ("/projection/the fit holds the whole turn", the_fit_holds_the_whole_turn);
  g_test_add_func ("/projection/the page stands still while the crank turns",
                   the_page_stands_still_while_the_crank_turns);
  return g_test_run ();
}
