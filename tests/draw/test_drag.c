/* What is dragged moves by what it was dragged. Each handle is dragged, the changes are made, the
 * design is solved again, and the handle is looked for where the hand is. Tolerance: 0.02 px on a
 * drag of some px. */
#include <math.h>

#include "draw/view.h"
#include "heron.h"

static FwDesign *
rail_heron (void)
{
  FwDesign *d = heron_design ();
  d->body.ride = FW_RIDE_RAIL;
  d->body.rod_mm = 420;
  d->body.offset_mm = 5;
  return d;
}

static FwDesign *
rocker_heron (void)
{
  FwDesign *d = heron_design ();
  d->body.ride = FW_RIDE_ROCKER;
  d->body.pivot_mm = (FwVec2){ -200, 200 };
  d->body.link_mm = 200;
  d->body.on_mm = 180;
  return d;
}

/* The outer panels held by rods from the base; neck and tail by rods from the body. */
static FwDesign *
tied_heron (void)
{
  FwDesign *d = heron_design ();
  d->rods[1].from = (FwAnchor){ .kind = FW_FROM_BASE, .at_mm = { 300, 10, -40 } };
  d->rods[1].length_mm = 470;
  return d;
}

static FwCamera
camera_on (const Stage *s, FwView view)
{
  return fw_camera_fit (view, fw_view_extent (&s->scene, view), (FwBox){ 0, 0, 1200, 900 }, 40);
}

static gboolean
find_again (const Stage *s, const FwCamera *camera, const FwHandle *wanted, FwVec2 *at)
{
  FwHandle handles[256];
  int n = fw_view_handles (&s->scene, camera, handles, 256);
  g_assert_cmpint (n, <=, 256);
  for (int i = 0; i < n; i++)
    if (handles[i].kind == wanted->kind && handles[i].index == wanted->index
        && handles[i].component == wanted->component)
      {
        *at = handles[i].at;
        return TRUE;
      }
  return FALSE;
}

/* Drags one handle; returns how far from the hand it lands, px; NaN if the view cannot move it. */
static double
drag_and_measure (FwDesign *(*design) (void), FwView view, double crank_deg, const FwHandle *handle,
                  double dx, double dy, FwDragChange changes[3], int *n_changes)
{
  Stage *s = stage_new (design (), crank_deg);
  FwCamera camera = camera_on (s, view);
  int n = fw_view_drag (&s->scene, &camera, handle, dx, dy, changes);
  *n_changes = n;
  g_assert_cmpint (n, <=, 3);
  double off = NAN;
  if (n > 0)
    {
      FwDesign *changed = fw_design_copy (s->design);
      for (int i = 0; i < n; i++)
        fw_param_set (changed, changes[i].param, changes[i].value);
      Stage *after = stage_new (changed, crank_deg);
      FwVec2 at = { NAN, NAN };
      g_assert_true (find_again (after, &camera, handle, &at));
      off = hypot (at.x - handle->at.x - dx, at.y - handle->at.y - dy);
      stage_free (after);
    }
  stage_free (s);
  return off;
}

static void
check_kind (FwDesign *(*design) (void), FwView view, FwHandleKind kind, int expected_changes,
            double tolerance)
{
  const double crank = 28;
  Stage *s = stage_new (design (), crank);
  FwCamera camera = camera_on (s, view);
  FwHandle handles[256];
  int n = fw_view_handles (&s->scene, &camera, handles, 256), tried = 0;
  for (int i = 0; i < n; i++)
    {
      if (handles[i].kind != kind)
        continue;
      FwDragChange changes[3];
      int count;
      double off = drag_and_measure (design, view, crank, &handles[i], 4, -3, changes, &count);
      if (count != expected_changes || !(off <= tolerance))
        g_error ("handle %d of kind %d in view %d: %d changes, %g px off the hand", i, kind, view,
                 count, off);
      tried++;
    }
  g_assert_cmpint (tried, >, 0);
  stage_free (s);
}

static void
pins_follow_the_hand (void)
{
  check_kind (heron_design, FW_VIEW_SIDE, FW_HANDLE_PIN, 2, 0.02);
  check_kind (heron_design, FW_VIEW_FRONT, FW_HANDLE_PIN, 2, 0.02);
  check_kind (heron_design, FW_VIEW_THREE_QUARTER, FW_HANDLE_PIN, 2, 0.02);
  check_kind (moth_design, FW_VIEW_FRONT, FW_HANDLE_PIN, 2, 0.02);
}

static void
hinges_follow_the_hand_on_both_sides (void)
{
  check_kind (heron_design, FW_VIEW_FRONT, FW_HANDLE_HINGE, 2, 0.02);
  check_kind (heron_design, FW_VIEW_SIDE, FW_HANDLE_HINGE, 2, 0.02);
  check_kind (moth_design, FW_VIEW_THREE_QUARTER, FW_HANDLE_HINGE, 2, 0.02);
}

static void
guide_and_pivot_follow_the_hand (void)
{
  check_kind (heron_design, FW_VIEW_SIDE, FW_HANDLE_GUIDE, 2, 0.02);
  check_kind (rocker_heron, FW_VIEW_SIDE, FW_HANDLE_GUIDE, 2, 0.02);
}

static void
a_rail_and_a_fixed_body_follow_the_hand (void)
{
  check_kind (rail_heron, FW_VIEW_SIDE, FW_HANDLE_POST_TOP, 2, 0.02);
  check_kind (moth_design, FW_VIEW_FRONT, FW_HANDLE_POST_TOP, 2, 0.02);
  check_kind (moth_design, FW_VIEW_SIDE, FW_HANDLE_POST_TOP, 2, 0.02);
}

static void
feet_of_rods_follow_the_hand_on_both_sides (void)
{
  check_kind (tied_heron, FW_VIEW_FRONT, FW_HANDLE_ROD_FOOT, 2, 0.02);
  check_kind (tied_heron, FW_VIEW_SIDE, FW_HANDLE_ROD_FOOT, 2, 0.02);
}

static const FwHandle *
pick_handle (const FwHandle *handles, int n, FwHandleKind kind, int index, int component)
{
  for (int i = 0; i < n; i++)
    if (handles[i].kind == kind && handles[i].index == index && handles[i].component == component)
      return &handles[i];
  g_error ("no such handle");
}

static void
lengths_grow_by_what_is_dragged_along_them (void)
{
  Stage *s = stage_new (heron_design (), 28);
  FwCamera c = camera_on (s, FW_VIEW_FRONT);
  FwHandle handles[256];
  int n = fw_view_handles (&s->scene, &c, handles, 256);
  for (int link = 0; link < 4; link++)
    {
      const FwHandle *h = pick_handle (handles, n, FW_HANDLE_ROD_LENGTH, link, 0);
      FwVec2 a = fw_camera_project (&c, s->pose->links[link].from.at, NULL);
      FwVec2 b = fw_camera_project (&c, s->pose->links[link].to.at, NULL);
      double seen = hypot (b.x - a.x, b.y - a.y);
      FwDragChange change[3];
      g_assert_cmpint (
          fw_view_drag (&s->scene, &c, h, 6 * (b.x - a.x) / seen, 6 * (b.y - a.y) / seen, change),
          ==, 1);
      g_assert_cmpint (change[0].param.kind, ==, FW_PARAM_ROD_LENGTH);
      /* 6 px of the page, drawn back to the rod's true length. */
      double length = s->mechanism->links[link].length_mm;
      g_assert_cmpfloat_with_epsilon (change[0].value - length, 6 / seen * length, 1e-9);
    }
  stage_free (s);
}

static void
twins_drive_the_same_numbers_the_mirrored_way (void)
{
  Stage *s = stage_new (heron_design (), 28);
  FwCamera c = camera_on (s, FW_VIEW_FRONT);
  FwHandle handles[256];
  int n = fw_view_handles (&s->scene, &c, handles, 256);
  FwDragChange right[3], left[3];
  /* The right wing lies on the left of the page: outward is to the left there. */
  g_assert_cmpint (
      fw_view_drag (&s->scene, &c, pick_handle (handles, n, FW_HANDLE_HINGE, 0, 0), -8, 2, right),
      ==, 2);
  g_assert_cmpint (
      fw_view_drag (&s->scene, &c, pick_handle (handles, n, FW_HANDLE_HINGE, 1, 0), 8, 2, left), ==,
      2);
  for (int i = 0; i < 2; i++)
    {
      g_assert_true (fw_param_equal (right[i].param, left[i].param));
      g_assert_cmpfloat_with_epsilon (right[i].value, left[i].value, 1e-9);
      if (right[i].param.component == 0)
        g_assert_cmpfloat (right[i].value, >, s->design->panels[0].hinge_mm.x);
    }
  g_assert_cmpint (
      fw_view_drag (&s->scene, &c, pick_handle (handles, n, FW_HANDLE_PIN, 1, 0), -8, 0, right), >=,
      1);
  g_assert_cmpint (
      fw_view_drag (&s->scene, &c, pick_handle (handles, n, FW_HANDLE_PIN, 1, 1), 8, 0, left), >=,
      1);
  g_assert_cmpint (right[0].param.kind, ==, FW_PARAM_THROW_STATION);
  g_assert_cmpfloat_with_epsilon (right[0].value, 150 + 8 / c.scale, 1e-9);
  g_assert_cmpfloat_with_epsilon (left[0].value, 150 + 8 / c.scale, 1e-9);
  stage_free (s);
}

static void
rod_ends_slide_in_the_panels_frame (void)
{
  Stage *s = stage_new (heron_design (), 28);
  FwCamera c = camera_on (s, FW_VIEW_FRONT);
  FwHandle handles[256];
  int n = fw_view_handles (&s->scene, &c, handles, 256);
  for (int link = 0; link < 4; link++)
    {
      const FwFrame *f = &s->pose->members[s->mechanism->links[link].member].motion.at;
      FwVec3 point = fw_vec3_add (s->mechanism->links[link].at_mm, fw_vec3 (7, 0, 3));
      FwVec2 to = fw_camera_project (&c, fw_frame_to_world (f, point), NULL);
      const FwHandle *h = pick_handle (handles, n, FW_HANDLE_ROD_END, link, 0);
      FwDragChange change[3];
      int found = fw_view_drag (&s->scene, &c, h, to.x - h->at.x, to.y - h->at.y, change);
      g_assert_cmpint (found, ==, 2);
      for (int i = 0; i < 2; i++)
        {
          g_assert_cmpint (change[i].param.kind, ==, FW_PARAM_ROD_AT);
          g_assert_cmpfloat_with_epsilon (change[i].value,
                                          change[i].param.component == 0 ? point.x : point.z, 1e-6);
        }
    }
  stage_free (s);
}

static void
stops_turn_about_their_hinge (void)
{
  Stage *s = stage_new (heron_design (), 28);
  FwCamera c = camera_on (s, FW_VIEW_FRONT);
  FwHandle handles[256];
  int n = fw_view_handles (&s->scene, &c, handles, 256);
  for (int member = 0; member < 2; member++)
    {
      const FwHandle *h = pick_handle (handles, n, FW_HANDLE_STOP, member, 1);
      FwVec2 hinge = fw_camera_project (&c, s->pose->members[member].motion.at.origin, NULL);
      /* A tenth of a radian about the hinge, upward: clockwise on the page for the wing on its
       * left. */
      double turn = (member == 0 ? 0.1 : -0.1), x = h->at.x - hinge.x, y = h->at.y - hinge.y;
      double dx = x * cos (turn) - y * sin (turn) - x, dy = x * sin (turn) + y * cos (turn) - y;
      FwDragChange change[3];
      g_assert_cmpint (fw_view_drag (&s->scene, &c, h, dx, dy, change), ==, 1);
      /* The hinge line leans with the body, so the arc is a little flattened on the page. */
      g_assert_cmpfloat_with_epsilon (change[0].value, 40 + 0.1 * 180 / G_PI, 0.02);
    }
  stage_free (s);
}

static void
nothing_moves_that_the_view_cannot_show (void)
{
  Stage *s = stage_new (heron_design (), 0);
  FwCamera c = camera_on (s, FW_VIEW_FRONT);
  FwDragChange change[3];
  FwHandle pin = { .kind = FW_HANDLE_ROD_FOOT, .index = 0 };
  g_assert_cmpint (fw_view_drag (&s->scene, &c, &pin, 5, 5, change), ==,
                   0); /* it stands on a pin */
  FwHandle post = { .kind = FW_HANDLE_POST_TOP };
  g_assert_cmpint (fw_view_drag (&s->scene, &c, &post, NAN, 5, change), ==, 0);
  stage_free (s);
}

static void
radius_never_goes_below_nothing (void)
{
  Stage *s = stage_new (heron_design (), 0);
  FwCamera c = camera_on (s, FW_VIEW_FRONT);
  FwHandle pin = { .kind = FW_HANDLE_PIN, .index = 0 };
  FwDragChange change[3];
  int n = fw_view_drag (&s->scene, &c, &pin, 0, 5000, change);
  for (int i = 0; i < n; i++)
    if (change[i].param.kind == FW_PARAM_THROW_RADIUS)
      g_assert_cmpfloat (change[i].value, >=, 0);
  stage_free (s);
}

static void
every_handle_has_a_name (void)
{
  Stage *s = stage_new (heron_design (), 0);
  FwHandle handles[256];
  FwCamera c = camera_on (s, FW_VIEW_FRONT);
  int n = fw_view_handles (&s->scene, &c, handles, 256);
  for (int i = 0; i < n; i++)
    {
      char *label = fw_handle_label (s->mechanism, &handles[i]);
      g_assert_cmpuint (strlen (label), >, 3);
      g_free (label);
    }
  g_assert_cmpint (fw_view_handles (&s->scene, &c, handles, 3), ==, 3);
  stage_free (s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drag/pins follow the hand", pins_follow_the_hand);
  g_test_add_func ("/drag/hinges follow the hand on both sides",
                   hinges_follow_the_hand_on_both_sides);
  g_test_add_func ("/drag/guide and pivot follow the hand", guide_and_pivot_follow_the_hand);
  g_test_add_func ("/drag/a rail and a fixed body follow the hand",
                   a_rail_and_a_fixed_body_follow_the_hand);
  g_test_add_func ("/drag/feet of rods follow the hand on both sides",
                   feet_of_rods_follow_the_hand_on_both_sides);
  g_test_add_func ("/drag/lengths grow by what is dragged along them",
                   lengths_grow_by_what_is_dragged_along_them);
  g_test_add_func ("/drag/twins drive the same numbers the mirrored way",
                   twins_drive_the_same_numbers_the_mirrored_way);
  g_test_add_func ("/drag/rod ends slide in the panel's frame", rod_ends_slide_in_the_panels_frame);
  g_test_add_func ("/drag/stops turn about their hinge", stops_turn_about_their_hinge);
  g_test_add_func ("/drag/nothing moves that the view cannot show",
                   nothing_moves_that_the_view_cannot_show);
  g_test_add_func ("/drag/a radius never goes below nothing", radius_never_goes_below_nothing);
  g_test_add_func ("/handles/every handle has a name", every_handle_has_a_name);
  return g_test_run ();
}
