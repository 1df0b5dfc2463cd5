/* Ghosts of other designs as numbers: what is drawn of them and where, panels turned by hand, what helps as a
 * picture, the bar of a wish. */
#include <math.h>

#include "draw/ghost.h"
#include "draw/helpsplot.h"
#include "draw/layout.h"
#include "heron.h"

#define DEGREES (180 / G_PI)

static FwCamera
camera_on (const Stage *s, FwView view)
{
  return fw_camera_fit (view, fw_view_extent (&s->scene, view), (FwBox){ 0, 0, 1200, 900 }, 40);
}

/* The heron with one rod longer: its wings stand elsewhere. */
static Stage *
other_heron (double crank_deg)
{
  FwDesign *design = heron_design ();
  design->rods[0].length_mm += 12;
  return stage_new (design, crank_deg);
}

static FwGhost
ghost_of (const Stage *s, int member)
{
  return (FwGhost){ .mechanism = s->mechanism, .pose = s->pose, .turn = s->turn, .name = "other", .member = member };
}

/* Laid over `s`; free with fw_drawing_clear (). */
static FwDrawing
lay (const Stage *s, const FwGhost *ghost, const FwCamera *camera, FwScene *room)
{
  FwDrawing present, laid;
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  fw_drawing_build (&present, &s->scene, camera, &style);
  fw_ghost_build (&laid, room, ghost, &present, &style);
  fw_drawing_clear (&present);
  return laid;
}

static void
a_ghost_of_the_same_design_shows_nothing (void)
{
  for (int view = 0; view < 3; view++)
    {
      Stage *s = stage_new (heron_design (), 40), *same = stage_new (heron_design (), 40);
      FwCamera camera = camera_on (s, (FwView)view);
      FwGhost ghost = ghost_of (same, -1);
      FwScene room;
      FwDrawing laid = lay (s, &ghost, &camera, &room);
      g_assert_cmpuint (laid.pieces->len, ==, 0);
      fw_drawing_clear (&laid);
      stage_free (same);
      stage_free (s);
    }
}

static gboolean
shows (const FwDrawing *d, FwPartKind kind, int index)
{
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      if (piece->part.kind == kind && piece->part.index == index)
        return TRUE;
    }
  return FALSE;
}

static void
a_ghost_shows_the_parts_that_stand_elsewhere_and_no_others (void)
{
  Stage *s = stage_new (heron_design (), 40), *other = other_heron (40);
  FwCamera camera = camera_on (s, FW_VIEW_FRONT);
  FwGhost ghost = ghost_of (other, -1);
  FwScene room;
  FwDrawing laid = lay (s, &ghost, &camera, &room);
  int link = 0, moved = other->mechanism->links[link].member;
  g_assert_cmpfloat (fabs (fw_pose_angle (s->pose, s->mechanism, moved) - fw_pose_angle (other->pose, other->mechanism, moved)), >, 0.02);
  g_assert_true (shows (&laid, FW_PART_MEMBER, moved));
  g_assert_true (shows (&laid, FW_PART_LINK, link));
  for (guint i = 0; i < laid.pieces->len; i++)
    {
      FwPartKind kind = g_array_index (laid.pieces, FwPiece, i).part.kind;
      g_assert_cmpint (kind, !=, FW_PART_BODY); /* the body rides as before */
      g_assert_cmpint (kind, !=, FW_PART_BASE);
    }
  fw_drawing_clear (&laid);
  stage_free (other);
  stage_free (s);
}

static void
a_ghost_stands_where_its_own_pose_says (void)
{
  Stage *s = stage_new (heron_design (), 40), *other = other_heron (40);
  FwCamera camera = camera_on (s, FW_VIEW_FRONT);
  FwGhost ghost = ghost_of (other, -1);
  FwScene room;
  FwDrawing laid = lay (s, &ghost, &camera, &room);
  int member = other->mechanism->links[0].member, n;
  FwVec2 outline[FW_MOST_OUTLINE];
  n = fw_panel_on_page (&other->scene, &camera, other->pose, member, outline);
  g_assert_cmpint (n, >, 2);
  double left = INFINITY, right = -INFINITY;
  for (int i = 0; i < n; i++)
    {
      left = fmin (left, outline[i].x);
      right = fmax (right, outline[i].x);
    }
  gboolean found = FALSE;
  for (guint i = 0; i < laid.pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (laid.pieces, FwPiece, i);
      if (piece->kind != FW_PIECE_SHEET || piece->part.kind != FW_PART_MEMBER || piece->part.index != member)
        continue;
      found = TRUE;
      /* Half the sheet's thickness to either side. */
      g_assert_cmpfloat_with_epsilon (piece->bounds.x, left, 3);
      g_assert_cmpfloat_with_epsilon (piece->bounds.x + piece->bounds.width, right, 3);
    }
  g_assert_true (found);
  fw_drawing_clear (&laid);
  stage_free (other);
  stage_free (s);
}

static void
a_panel_pulled_alone_shows_itself_and_what_it_carries (void)
{
  Stage *s = stage_new (heron_design (), 40), *pulled = stage_new (heron_design (), 40);
  const FwMechanism *m = pulled->mechanism;
  double to = fw_pose_angle (pulled->pose, m, 0) + 0.2;
  FwVec3 hinge = pulled->pose->members[0].motion.at.origin;
  fw_ghost_turn_panel (pulled->pose, m, 0, to);
  FwCamera camera = camera_on (s, FW_VIEW_FRONT);
  FwGhost ghost = ghost_of (pulled, 0);
  FwScene room;
  FwDrawing laid = lay (s, &ghost, &camera, &room);
  g_assert_cmpuint (laid.pieces->len, >, 0);
  for (guint i = 0; i < laid.pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (laid.pieces, FwPiece, i);
      g_assert_cmpint (piece->part.kind, ==, FW_PART_MEMBER);
      g_assert_true (fw_ghost_carries (m, 0, piece->part.index));
    }
  g_assert_cmpfloat_with_epsilon (fw_vec3_distance (hinge, pulled->pose->members[0].motion.at.origin), 0, 1e-9);
  fw_drawing_clear (&laid);
  stage_free (pulled);
  stage_free (s);
}

/* Turned by hand to the angle that another rod gives, a panel stands where that rod puts it. */
static void
a_panel_turned_by_hand_stands_as_a_rod_would_put_it (void)
{
  Stage *s = stage_new (heron_design (), 40), *other = other_heron (40);
  int member = other->mechanism->links[0].member;
  fw_ghost_turn_panel (s->pose, s->mechanism, member, fw_pose_angle (other->pose, other->mechanism, member));
  const FwFrame *a = &s->pose->members[member].motion.at, *b = &other->pose->members[member].motion.at;
  g_assert_cmpfloat_with_epsilon (fw_vec3_distance (a->origin, b->origin), 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (fw_vec3_distance (a->u, b->u), 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (fw_vec3_distance (a->v, b->v), 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (fw_vec3_distance (a->w, b->w), 0, 1e-9);
  stage_free (other);
  stage_free (s);
}

/* The hand goes exactly to where the held point is at some angle: that angle comes out. */
static void
a_pull_gives_the_angle_that_brings_the_held_point_to_the_hand (void)
{
  for (int view = 0; view < 3; view++)
    for (int step = -4; step <= 4; step++)
      {
        Stage *s = stage_new (heron_design (), 130), *turned = stage_new (heron_design (), 130);
        FwCamera camera = camera_on (s, (FwView)view);
        double angle = fw_pose_angle (s->pose, s->mechanism, 0), to = angle + step * 4 / DEGREES;
        double span = s->mechanism->members[0].span_mm;
        fw_ghost_turn_panel (turned->pose, turned->mechanism, 0, to);
        const FwFrame *before = &s->pose->members[0].motion.at, *after = &turned->pose->members[0].motion.at;
        FwVec2 from = fw_camera_project (&camera, fw_vec3_along (before->origin, 0.8 * span, before->u), NULL);
        FwVec2 hand = fw_camera_project (&camera, fw_vec3_along (after->origin, 0.8 * span, after->u), NULL);
        double got = fw_ghost_pulled (&s->scene, &camera, 0, from, hand, to);
        g_assert_cmpfloat_with_epsilon (got * DEGREES, to * DEGREES, 0.1);
        stage_free (turned);
        stage_free (s);
      }
}

static void
a_pull_stops_at_the_panels_stops (void)
{
  Stage *s = stage_new (heron_design (), 40);
  FwCamera camera = camera_on (s, FW_VIEW_FRONT);
  const FwMember *m = &s->mechanism->members[0];
  const FwFrame *f = &s->pose->members[0].motion.at;
  FwVec2 from = fw_camera_project (&camera, fw_vec3_along (f->origin, m->span_mm, f->u), NULL);
  g_assert_true (m->has_stops);
  for (int side = -1; side <= 1; side += 2)
    {
      double angle = fw_ghost_pulled (&s->scene, &camera, 0, from, fw_vec2 (from.x, from.y + side * 5000), 0);
      g_assert_cmpfloat (angle, >=, m->stop_min - 1e-9);
      g_assert_cmpfloat (angle, <=, m->stop_max + 1e-9);
    }
  stage_free (s);
}

/* Parts are known by name: in a design with its panels in another order the curve is that of the same panel. */
static void
curves_of_a_ghost_are_those_of_the_part_of_the_same_name (void)
{
  Stage *s = stage_new (heron_design (), 0), *moth = stage_new (moth_design (), 0);
  FwGhost same = ghost_of (s, -1), stranger = ghost_of (moth, -1);
  FwQuantity q = { FW_Q_ANGLE, 0 }, out;
  int steps = 0;
  const double *row = fw_ghost_row (&same, s->mechanism, q, &steps);
  g_assert_true (row == fw_turn_row (s->turn, s->mechanism, q));
  g_assert_cmpint (steps, ==, s->turn->steps);
  g_assert_cmpint (fw_ghost_quantity (&stranger, s->mechanism, q, &out), ==,
                   g_str_equal (s->mechanism->members[0].name, moth->mechanism->members[0].name));
  g_assert_true (fw_ghost_quantity (&stranger, s->mechanism, (FwQuantity){ FW_Q_BODY_Z, 0 }, &out));
  g_assert_false (fw_ghost_quantity (&same, s->mechanism, (FwQuantity){ FW_Q_TORQUE, 0 }, &out));
  stage_free (moth);
  stage_free (s);
}

/* The name has a place, and no words of the view collide with it. */
static void
a_ghosts_name_collides_with_nothing (void)
{
  Stage *s = stage_new (heron_design (), 40), *other = other_heron (40);
  FwGhost ghost = ghost_of (other, -1);
  FwTilted boxes[400];
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  guint show = FW_SHOW_NAMES | FW_SHOW_DIMENSIONS | FW_SHOW_SIDES | FW_SHOW_SCALE_BAR | FW_SHOW_TROUBLE;
  FwCamera camera = camera_on (s, FW_VIEW_FRONT);
  FwBox page = { 0, 0, 1200, 900 };
  s->scene.ghosts = &ghost;
  s->scene.n_ghosts = 1;
  int n = fw_view_label_boxes (&s->scene, &camera, &style, page, show, boxes, 400);
  for (int i = 0; i < n; i++)
    for (int j = 0; j < i; j++)
      g_assert_false (fw_tilted_overlap (&boxes[i], &boxes[j]));
  ghost.name = NULL;
  g_assert_cmpint (fw_view_label_boxes (&s->scene, &camera, &style, page, FW_SHOW_SIDES, boxes, 400), <, n);
  stage_free (other);
  stage_free (s);
}

/* ---- What helps ---- */

static void
rows_of_what_helps_lie_below_each_other_with_bars_on_the_right_side (void)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwBox page = { 0, 0, 316, 400 };
  FwHelpBar up = { .name = "a", .effect = "+1", .reach = "20 to 40", .share = 1, .exact = TRUE, .lower = 0, .upper = 100,
                   .value = 25, .from = 20, .to = 40 };
  FwHelpBar down = up;
  down.share = -0.5;
  down.reach = NULL;
  FwHelpPlace a = fw_helps_place (&style, page, &up, 0), b = fw_helps_place (&style, page, &down, 1);
  g_assert_cmpfloat (a.row.y + a.row.height, <=, b.row.y + 1e-9);
  g_assert_cmpfloat (a.fill.x, ==, a.zero);
  g_assert_cmpfloat_with_epsilon (b.fill.x + b.fill.width, b.zero, 1e-9);
  g_assert_cmpfloat_with_epsilon (b.fill.width, a.fill.width / 2, 1e-9);
  g_assert_cmpfloat (a.fill.x + a.fill.width, <, a.range.x);
  g_assert_cmpfloat_with_epsilon (a.now, a.range.x + a.range.width / 4, 1e-9);
  g_assert_cmpfloat_with_epsilon (a.free.width, a.range.width / 5, 1e-9);
  g_assert_cmpfloat (a.range.x + a.range.width, <=, page.width);
  g_assert_cmpfloat (b.range.width, ==, 0);
  g_assert_cmpint (fw_helps_row_at (&style, page, 2, 100, b.row.y + 1), ==, 1);
  g_assert_cmpint (fw_helps_row_at (&style, page, 2, 100, b.row.y + b.row.height + 1), ==, -1);
  g_assert_cmpint (fw_helps_row_at (&style, page, 2, -1, 1), ==, -1);
}

static void
the_bar_of_a_wish_shows_what_is_missing_on_the_side_where_it_is (void)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwBox box = { 10, 0, 200, 12 };
  FwMissPlace little = fw_miss_place (&style, box, 30, 30, 20), much = fw_miss_place (&style, box, 20, 30, 45);
  FwMissPlace met = fw_miss_place (&style, box, 20, INFINITY, 45), unknown = fw_miss_place (&style, box, 20, 30, NAN);
  g_assert_cmpfloat (little.now, <, little.asked.x);
  g_assert_cmpfloat (little.miss_to, >, little.miss_from);
  g_assert_cmpfloat (much.now, >, much.asked.x + much.asked.width);
  g_assert_cmpfloat_with_epsilon (much.miss_from, much.asked.x + much.asked.width, 1e-9);
  g_assert_cmpfloat (met.miss_from, ==, met.miss_to);
  g_assert_cmpfloat_with_epsilon (met.asked.x + met.asked.width, box.x + box.width, 1e-9);
  g_assert_true (isnan (unknown.now));
  for (double now = -1e5; now <= 1e5; now += 7919)
    {
      FwMissPlace p = fw_miss_place (&style, box, 20, 30, now);
      g_assert_cmpfloat (p.now, >=, box.x);
      g_assert_cmpfloat (p.now, <=, box.x + box.width);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ghost/a ghost of the same design shows nothing", a_ghost_of_the_same_design_shows_nothing);
  g_test_add_func ("/ghost/a ghost shows the parts that stand elsewhere and no others",
                   a_ghost_shows_the_parts_that_stand_elsewhere_and_no_others);
  g_test_add_func ("/ghost/a ghost stands where its own pose says", a_ghost_stands_where_its_own_pose_says);
  g_test_add_func ("/ghost/a panel pulled alone shows itself and what it carries",
                   a_panel_pulled_alone_shows_itself_and_what_it_carries);
  g_test_add_func ("/ghost/a panel turned by hand stands as a rod would put it",
                   a_panel_turned_by_hand_stands_as_a_rod_would_put_it);
  g_test_add_func ("/ghost/a pull gives the angle that brings the held point to the hand",
                   a_pull_gives_the_angle_that_brings_the_held_point_to_the_hand);
  g_test_add_func ("/ghost/a pull stops at the panel's stops", a_pull_stops_at_the_panels_stops);
  g_test_add_func ("/ghost/curves of a ghost are those of the part of the same name",
                   curves_of_a_ghost_are_those_of_the_part_of_the_same_name);
  g_test_add_func ("/ghost/a ghost's name collides with nothing", a_ghosts_name_collides_with_nothing);
  g_test_add_func ("/helps/rows lie below each other with bars on the right side",
                   rows_of_what_helps_lie_below_each_other_with_bars_on_the_right_side);
  g_test_add_func ("/wish/the bar shows what is missing on the side where it is",
                   the_bar_of_a_wish_shows_what_is_missing_on_the_side_where_it_is);
  return g_test_run ();
}
