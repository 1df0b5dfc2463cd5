/* The picture as numbers: what lies before what, what can be picked, what may be painted together.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "draw/overlay.h"
#include "heron.h"

static FwCamera
camera_on (const Stage *s, FwView view)
{
  return fw_camera_fit (view, fw_view_extent (&s->scene, view), (FwBox){ 0, 0, 1200, 900 }, 40);
}

static FwDrawing
build (const Stage *s, const FwCamera *camera)
{
  FwDrawing d;
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  fw_drawing_build (&d, &s->scene, camera, &style);
  return d;
}

static int
place_of (const FwDrawing *d, FwPieceKind kind, FwPartKind part, int index)
{
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *p = &g_array_index (d->pieces, FwPiece, i);
      if (p->kind == kind && p->part.kind == part && p->part.index == index)
        return (int)i;
    }
  g_error ("no such piece");
}

static void
nearer_parts_are_painted_later (void)
{
  Stage *s = stage_new (heron_design (), 65);
  FwCamera side = camera_on (s, FW_VIEW_SIDE);
  FwDrawing d = build (s, &side);
  int body = place_of (&d, FW_PIECE_SOLID, FW_PART_BODY, 0);
  /* Members 0 and 1 are the right and left inner panel; the right one is nearer from the right. */
  g_assert_cmpint (place_of (&d, FW_PIECE_SHEET, FW_PART_MEMBER, 1), <, body);
  g_assert_cmpint (place_of (&d, FW_PIECE_SHEET, FW_PART_MEMBER, 0), >, body);
  g_assert_cmpint (place_of (&d, FW_PIECE_SHEET, FW_PART_MEMBER, 2), >,
                   place_of (&d, FW_PIECE_SHEET, FW_PART_MEMBER, 0));
  fw_drawing_clear (&d);
  stage_free (s);
}

static void
the_body_covers_the_post_in_every_view (void)
{
  Stage *s = stage_new (heron_design (), 0);
  for (int view = 0; view < 3; view++)
    for (int step = 0; step < 12; step++)
      {
        stage_turn_to (s, 30 * step);
        FwCamera c = camera_on (s, (FwView)view);
        FwDrawing d = build (s, &c);
        g_assert_cmpint (place_of (&d, FW_PIECE_TUBE, FW_PART_BODY, 0), <,
                         place_of (&d, FW_PIECE_SOLID, FW_PART_BODY, 0));
        fw_drawing_clear (&d);
      }
  stage_free (s);
}

/* The rule that makes painting in batches safe: a piece is never painted before one that it covers.
 */
static void
batches_keep_what_overlaps_in_order (void)
{
  const double line = 1.5;
  Stage *s = stage_new (heron_design (), 0);
  for (int view = 0; view < 3; view++)
    for (int step = 0; step < 12; step++)
      {
        stage_turn_to (s, 30 * step + 7);
        FwCamera c = camera_on (s, (FwView)view);
        FwDrawing d = build (s, &c);
        guint *batch = g_new (guint, d.pieces->len);
        guint n = fw_batches (&d, line, batch);
        g_assert_cmpuint (n, <=, d.pieces->len);
        g_assert_cmpuint (n, <, d.pieces->len); /* some are painted together at all */
        for (guint i = 0; i < d.pieces->len; i++)
          for (guint j = 0; j < i; j++)
            {
              const FwPiece *p = &g_array_index (d.pieces, FwPiece, i),
                            *q = &g_array_index (d.pieces, FwPiece, j);
              if (p->joint > 0 && q->joint > 0)
                continue;
              /* The middle of the later piece's own shape, if the earlier one lies under it. */
              FwVec2 middle
                  = { p->bounds.x + p->bounds.width / 2, p->bounds.y + p->bounds.height / 2 };
              if (fw_piece_holds (&d, p, middle) && fw_piece_holds (&d, q, middle))
                g_assert_cmpuint (batch[i], >, batch[j]);
            }
        g_free (batch);
        fw_drawing_clear (&d);
      }
  stage_free (s);
}

static void
parts_are_picked_where_they_are_seen (void)
{
  Stage *s = stage_new (heron_design (), 65);
  FwCamera c = camera_on (s, FW_VIEW_FRONT);
  FwPart part;
  for (int i = 0; i < 4; i++)
    {
      FwVec3 from = s->pose->links[i].from.at, to = s->pose->links[i].to.at;
      FwVec2 p = fw_camera_project (&c, fw_vec3_scale (fw_vec3_add (from, to), 0.5), NULL);
      g_assert_true (fw_view_pick (&s->scene, &c, p.x + 2, p.y, 4, &part));
      g_assert_cmpint (part.kind, ==, FW_PART_LINK);
      g_assert_cmpint (part.index, ==, i);
    }
  for (int i = 0; i < 4; i++)
    {
      FwVec2 p = fw_camera_project (
          &c, fw_frame_to_world (&s->pose->members[i].motion.at, fw_vec3 (100, 0, 0)), NULL);
      g_assert_true (fw_view_pick (&s->scene, &c, p.x, p.y, 4, &part));
      g_assert_true (part.kind == FW_PART_MEMBER || part.kind == FW_PART_LINK);
      if (part.kind == FW_PART_MEMBER)
        g_assert_cmpint (part.index, ==, i);
    }
  FwVec2 shaft = fw_camera_project (&c, fw_vec3 (80, 0, 0), NULL);
  g_assert_true (fw_view_pick (&s->scene, &c, shaft.x, shaft.y, 4, &part));
  g_assert_cmpint (part.kind, ==, FW_PART_CRANK);
  g_assert_false (fw_view_pick (&s->scene, &c, 1190, 10, 4, &part));
  stage_free (s);
}

static void
a_solid_has_a_silhouette_and_a_contour (void)
{
  Stage *s = stage_new (heron_design (), 65);
  for (int view = 0; view < 3; view++)
    {
      FwCamera c = camera_on (s, (FwView)view);
      FwDrawing d = build (s, &c);
      const FwPiece *body
          = &g_array_index (d.pieces, FwPiece, place_of (&d, FW_PIECE_SOLID, FW_PART_BODY, 0));
      g_assert_cmpint (body->n_faces, >=, 1);
      g_assert_cmpint (body->n_contours, >=, 1);
      g_assert_cmpint (body->n_strips, >=, 3);
      /* Its middle is inside, and so are the middles of its sections. */
      for (int i = 1; i < s->design->body.solid.n_sections - 1; i++)
        {
          const FwSection *cut = &s->design->body.solid.sections[i];
          FwVec3 p = fw_vec3 (0, cut->at_mm, (cut->low_mm + cut->high_mm) / 2);
          g_assert_true (fw_piece_holds (
              &d, body, fw_drawing_project (&d, fw_frame_to_world (&s->pose->body.motion.at, p))));
        }
      /* No contour strays outside the silhouette by more than a px. */
      for (int k = 0; k < body->n_contours; k++)
        {
          const FwFace *line = &g_array_index (d.faces, FwFace, body->first_contour + k);
          for (int i = 0; i < line->n; i++)
            g_assert_cmpfloat (fw_piece_distance (&d, body, fw_drawing_points (&d, line->first)[i]),
                               <, 1);
        }
      fw_drawing_clear (&d);
    }
  stage_free (s);
}

static void
the_guide_does_not_hang_in_the_air (void)
{
  Stage *s = stage_new (heron_design (), 65);
  FwCamera c = camera_on (s, FW_VIEW_SIDE);
  FwDrawing d = build (s, &c);
  double plate[3], top;
  fw_design_base (s->design, plate, &top);
  FwVec2 guide = fw_drawing_project (&d, fw_vec3 (0, 0, 180)),
         floor = fw_drawing_project (&d, fw_vec3 (0, 0, top));
  gboolean arm = FALSE, column = FALSE;
  for (guint i = 0; i < d.pieces->len; i++)
    {
      const FwPiece *p = &g_array_index (d.pieces, FwPiece, i);
      if (p->kind != FW_PIECE_TUBE || p->part.kind != FW_PART_BASE)
        continue;
      const FwVec2 *line = fw_drawing_points (&d, p->first);
      double low = fmax (line[0].y, line[1].y), high = fmin (line[0].y, line[1].y);
      arm = arm || fw_page_segment_distance (guide, line[0], line[1]) < 1;
      column = column || (fabs (low - floor.y) < 1 && high <= guide.y + 1);
    }
  g_assert_true (arm);
  g_assert_true (column);
  fw_drawing_clear (&d);
  stage_free (s);
}

static void
trouble_holds_within_its_interval_across_the_turn (void)
{
  FwTrouble t = { .from = 6, .to = 7 };
  g_assert_true (fw_trouble_holds (&t, 6.1));
  g_assert_true (fw_trouble_holds (&t, 0.5));
  g_assert_true (fw_trouble_holds (&t, 0.5 + 4 * G_PI));
  g_assert_false (fw_trouble_holds (&t, 0.9));
  g_assert_false (fw_trouble_holds (&t, 5.9));
  FwTrouble always = { .from = 0, .to = 2 * G_PI };
  for (double crank = -7; crank < 14; crank += 0.3)
    g_assert_true (fw_trouble_holds (&always, crank));
}

static void
a_rod_that_cannot_reach_ends_where_its_length_ends (void)
{
  Stage *s = stage_new (short_heron_design (), 200);
  int broken = 0;
  for (int i = 0; i < s->mechanism->n_links; i++)
    {
      FwVec3 end;
      if (!fw_link_broken (&s->scene, i, &end))
        continue;
      broken++;
      g_assert_cmpfloat_with_epsilon (fw_vec3_distance (s->pose->links[i].from.at, end),
                                      s->mechanism->links[i].length_mm, 1e-9);
      /* The gap left is what the pose says is missing. */
      g_assert_cmpfloat_with_epsilon (
          fw_vec3_distance (end, s->pose->links[i].to.at),
          fabs (s->pose->members[s->mechanism->links[i].member].missing_mm), 1e-6);
    }
  g_assert_cmpint (broken, ==, 2);
  stage_free (s);
}

static void
a_solid_of_many_sections_has_an_outline_from_end_to_end (void)
{
  const int many = 300; /* more than an outline has room for, twice */
  FwDesign *design = heron_design ();
  FwSolid *neck = &design->panels[2].solid;
  free (neck->sections);
  neck->sections = malloc (sizeof (FwSection) * (size_t)many);
  neck->n_sections = many;
  for (int i = 0; i < many; i++)
    neck->sections[i] = (FwSection){ i, -12, 20, 9 };
  Stage *s = stage_new (design, 65);
  int member = 0;
  while (s->mechanism->members[member].panel != 2)
    member++;
  FwCamera side = camera_on (s, FW_VIEW_SIDE);
  FwDrawing d = build (s, &side);
  FwVec2 p[FW_MOST_OUTLINE];
  int n = fw_member_on_page (&d, s->pose, member, p);
  g_assert_cmpint (n, ==, FW_MOST_OUTLINE);
  const FwFrame *at = &s->pose->members[member].motion.at;
  const struct
  {
    int point;
    FwVec3 corner;
  } ends[] = { { 0, { 0, 0, 20 } }, { n / 2 - 1, { many - 1, 0, 20 } }, { n / 2, { many - 1, 0, -12 } }, { n - 1, { 0, 0, -12 } } };
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    g_assert_cmpfloat (fw_vec2_distance (p[ends[i].point], fw_drawing_project (&d, fw_frame_to_world (at, ends[i].corner))), <, 1e-9);
  fw_drawing_clear (&d);
  stage_free (s);
}

/* A wing whose middle third, but for its root, is cut away: what begins in the gap is not drawn, nor over it. */
static void
score_lines_keep_to_the_sheet (void)
{
  FwDesign *design = heron_design ();
  FwPanel *wing = &design->panels[0];
  double span = wing->span_mm, root = 0.3 * span;
  const FwVec2 notched[] = { { 0, -50 }, { span, -50 }, { span, -20 }, { root, -20 }, { root, 20 }, { span, 20 }, { span, 50 }, { 0, 50 } };
  wing->outline_mm = realloc (wing->outline_mm, sizeof notched);
  memcpy (wing->outline_mm, notched, sizeof notched);
  wing->n_outline = G_N_ELEMENTS (notched);
  Stage *s = stage_new (design, 0);
  FwCamera c = camera_on (s, FW_VIEW_THREE_QUARTER);
  FwDrawing d = build (s, &c);
  const FwPiece *sheet = &g_array_index (d.pieces, FwPiece, place_of (&d, FW_PIECE_SHEET, FW_PART_MEMBER, 0));
  const FwFace *top = &g_array_index (d.faces, FwFace, sheet->first_face + sheet->n_faces - 1);
  g_assert_cmpint (sheet->n_ribs, >, 0);
  for (int i = 0; i < sheet->n_ribs; i++)
    {
      const FwFace *rib = &g_array_index (d.faces, FwFace, sheet->first_rib + i);
      const FwVec2 *end = fw_drawing_points (&d, rib->first);
      for (int k = 0; k <= 8; k++)
        g_assert_true (fw_polygon_holds (fw_drawing_points (&d, top->first), top->n, fw_vec2_mix (end[0], end[1], k / 8.0)));
    }
  fw_drawing_clear (&d);
  stage_free (s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/pieces/nearer parts are painted later", nearer_parts_are_painted_later);
  g_test_add_func ("/pieces/the body covers the post in every view",
                   the_body_covers_the_post_in_every_view);
  g_test_add_func ("/pieces/batches keep what overlaps in order",
                   batches_keep_what_overlaps_in_order);
  g_test_add_func ("/pieces/parts are picked where they are seen",
                   parts_are_picked_where_they_are_seen);
  g_test_add_func ("/pieces/a solid has a silhouette and a contour",
                   a_solid_has_a_silhouette_and_a_contour);
  g_test_add_func ("/pieces/a solid of many sections has an outline from end to end",
                   a_solid_of_many_sections_has_an_outline_from_end_to_end);
  g_test_add_func ("/pieces/score lines keep to the sheet", score_lines_keep_to_the_sheet);
  g_test_add_func ("/pieces/the guide does not hang in the air",
                   the_guide_does_not_hang_in_the_air);
  g_test_add_func ("/pieces/trouble holds within its interval across the turn",
                   trouble_holds_within_its_interval_across_the_turn);
  g_test_add_func ("/pieces/a rod that cannot reach ends where its length ends",
                   a_rod_that_cannot_reach_ends_where_its_length_ends);
  return g_test_run ();
}
