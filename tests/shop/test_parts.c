/* Printed parts: sound surfaces, volumes in closed form, and that what must move can. */
#include <glib.h>
#include <stdlib.h>
#include <string.h>

#include "demo_mechanism.h"
#include "shop/meshform.h"
#include "shop/solidparts.h"

#define TO_DEG (180 / G_PI)

static const char *const demos[] = { "heron", "manta", "moth", "owl", "dragonfly" };

static const FwSolidPart *
part_of (const FwSolidParts *parts, FwMadeKind kind)
{
  for (int i = 0; i < parts->n_parts; i++)
    if (parts->parts[i].kind == kind)
      return &parts->parts[i];
  g_assert_not_reached ();
}

/* ---- Surfaces ---- */

static int
holes_through (const FwSolidPart *part)
{
  switch (part->kind)
    {
    case FW_MADE_CLAMP: /* the bore unless it is open below, and a cheek's hole on each side of the slot */
      return part->as.clamp.mouth_deg > 0 ? 2 : 3;
    case FW_MADE_BUSHING:
      return 1;
    case FW_MADE_WEDGE:
      return part->as.wedge.hole_mm > 0 ? 1 : 0;
    default: /* bore, and the flange's four screws; a swivel's screws do not come through */
      return part->as.guide.swivels ? 1 : 5;
    }
}

static void
check_all (FwMechanism *m)
{
  FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
  g_assert_cmpint (parts->n_parts, >, 2);
  for (int i = 0; i < parts->n_parts; i++)
    if (parts->parts[i].problem != NULL)
      g_test_message ("%s", parts->parts[i].problem);
  g_assert_cmpint (parts->n_problems, ==, 0);
  for (int i = 0; i < parts->n_parts; i++)
    {
      const FwSolidPart *part = &parts->parts[i];
      FwMeshCheck check = fw_mesh_check (part->mesh);
      g_test_message ("%s: %d triangles, Euler %d", part->name, check.triangles, check.euler);
      g_assert_cmpint (check.open_edges, ==, 0);
      g_assert_cmpint (check.pinched, ==, 0);
      g_assert_cmpint (check.flat, ==, 0);
      g_assert_cmpint (check.shells, ==, 1);
      g_assert_true (check.outward);
      g_assert_cmpint (check.euler, ==, 2 - 2 * holes_through (part));
      g_assert_cmpint (check.points, ==, part->mesh->n_points); /* none left over */
    }
  fw_solid_parts_free (parts);
  fw_mechanism_free (m);
}

static void
every_part_of_every_demo_is_one_closed_outward_surface (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    check_all (mechanism_of (demos[i], NULL, NULL));
}

static void
so_it_is_without_chamfers_and_with_clamps_that_spring_on (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      FwMechanism *sharp = mechanism_of (demos[i], NULL, NULL), *open = mechanism_of (demos[i], NULL, NULL);
      sharp->design->print.chamfer_mm = 0;
      check_all (sharp);
      open->design->crank.build.open_eyes = TRUE;
      check_all (open);
    }
}

/* A cube of side 1 from the origin; optional shift. */
static void
add_cube (FwMesh *mesh, FwVec3 at)
{
  const FwFrame frame = { at, { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
  const FwVec2 square[4] = { { 0, 0 }, { 1, 0 }, { 1, 1 }, { 0, 1 } };
  FwPrism prism;
  g_assert_true (fw_mesh_prism (mesh, &frame, square, 4, 1, 0, FALSE, NULL, &prism));
  g_assert_true (fw_mesh_face (mesh, fw_vec3 (0, 0, -1), (const int *const[]){ prism.rings[0] },
                               (const int[]){ 4 }, 1));
  g_assert_true (fw_mesh_face (mesh, fw_vec3 (0, 0, 1), (const int *const[]){ prism.rings[3] },
                               (const int[]){ 4 }, 1));
}

static void
a_cube_measures_as_a_cube (void)
{
  FwMesh *cube = fw_mesh_new ();
  add_cube (cube, fw_vec3 (5, -2, 7));
  FwMeshCheck check = fw_mesh_check (cube);
  g_assert_cmpint (check.points, ==, 8);
  g_assert_cmpint (check.edges, ==, 18);
  g_assert_cmpint (check.triangles, ==, 12);
  g_assert_cmpint (check.euler, ==, 2);
  g_assert_true (check.outward);
  g_assert_cmpfloat_with_epsilon (fw_mesh_volume (cube), 1, 1e-12);
  g_assert_cmpfloat_with_epsilon (fw_mesh_area (cube), 6, 1e-12);
  g_assert_true (fw_mesh_holds (cube, fw_vec3 (5.5, -1.5, 7.5)));
  g_assert_true (fw_mesh_holds (cube, fw_vec3 (5.01, -1.01, 7.99)));
  g_assert_false (fw_mesh_holds (cube, fw_vec3 (5.5, -1.5, 8.01)));
  g_assert_false (fw_mesh_holds (cube, fw_vec3 (4.99, -1.5, 7.5)));
  fw_mesh_free (cube);
}

static void
a_spoilt_surface_is_noticed (void)
{
  FwMesh *cube = fw_mesh_new ();
  add_cube (cube, fw_vec3 (0, 0, 0));
  cube->n_triangles--;
  g_assert_cmpint (fw_mesh_check (cube).open_edges, ==, 3);
  g_assert_false (fw_mesh_check (cube).closed);
  cube->n_triangles++;
  int keep = cube->triangles[4][0];
  cube->triangles[4][0] = cube->triangles[4][1];
  cube->triangles[4][1] = keep;
  g_assert_false (fw_mesh_check (cube).closed); /* one faces the wrong way */
  for (int i = 0; i < cube->n_triangles; i++)
    if (i != 4)
      {
        keep = cube->triangles[i][0];
        cube->triangles[i][0] = cube->triangles[i][1];
        cube->triangles[i][1] = keep;
      }
  g_assert_true (fw_mesh_check (cube).closed); /* now all do */
  g_assert_false (fw_mesh_check (cube).outward);
  fw_mesh_free (cube);

  FwMesh *two = fw_mesh_new ();
  add_cube (two, fw_vec3 (0, 0, 0));
  add_cube (two, fw_vec3 (3, 0, 0));
  g_assert_cmpint (fw_mesh_check (two).shells, ==, 2);
  for (int i = 12; i < 24; i++) /* hang them together by one corner */
    for (int k = 0; k < 3; k++)
      if (two->triangles[i][k] == 8)
        two->triangles[i][k] = 6;
  g_assert_cmpint (fw_mesh_check (two).pinched, ==, 1);
  g_assert_false (fw_mesh_check (two).closed);
  fw_mesh_free (two);
}

static void
a_mirrored_surface_still_faces_outward (void)
{
  const FwFrame mirror = { { 1, 2, 3 }, { -1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
  FwMechanism *m = mechanism_of ("heron", NULL, NULL);
  FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
  FwMesh *mesh = fw_mesh_copy (part_of (parts, FW_MADE_CLAMP)->mesh);
  double volume = fw_mesh_volume (mesh);
  fw_mesh_place (mesh, &mirror);
  g_assert_true (fw_mesh_check (mesh).outward);
  g_assert_cmpfloat_with_epsilon (fw_mesh_volume (mesh), volume, 1e-9 * volume);
  fw_mesh_free (mesh);
  fw_solid_parts_free (parts);
  fw_mechanism_free (m);
}

/* A star with up to 4 holes in it, at random: the triangles fill exactly what the loops leave. */
static void
faces_with_holes_are_filled_exactly (void)
{
  for (int trial = 0; trial < 400; trial++)
    {
      FwMesh *mesh = fw_mesh_new ();
      int rim[40], holes[4][12], sizes[5] = { g_test_rand_int_range (5, 40) };
      int n_holes = g_test_rand_int_range (0, 5);
      const int *loops[5] = { rim };
      double area = 0;
      FwVec2 points[40];
      for (int i = 0; i < sizes[0]; i++)
        {
          double angle = 2 * G_PI * i / sizes[0], r = g_test_rand_double_range (9, 30);
          points[i] = (FwVec2){ r * cos (angle), r * sin (angle) };
          rim[i] = fw_mesh_point (mesh, fw_vec3 (points[i].x, 3, points[i].y));
        }
      area = fw_outline_area (points, sizes[0]);
      for (int h = 0; h < n_holes; h++)
        {
          /* Within 4.5 of the middle: a chord between neighbours of at least 5 rays at 9 is farther. */
          const FwVec3 at = { (h & 1 ? 2.1 : -2.1), 3, (h & 2 ? 2.1 : -2.1) };
          sizes[h + 1] = 12;
          fw_mesh_ring (mesh, at, fw_vec3 (1, 0, 0), fw_vec3 (0, 0, 1), 1.8, 12, holes[h]);
          loops[h + 1] = holes[h];
          area -= 12 * 1.8 * 1.8 * sin (2 * G_PI / 12) / 2;
        }
      if (cos (G_PI / sizes[0]) * 9 > 5)
        {
          g_assert_true (fw_mesh_face (mesh, fw_vec3 (0, 1, 0), loops, sizes, n_holes + 1));
          g_assert_cmpfloat_with_epsilon (fw_mesh_area (mesh), area, 1e-9 * area);
          int corners = sizes[0] + 12 * n_holes;
          g_assert_cmpint (mesh->n_triangles, ==, corners + 2 * n_holes - 2);
          for (int i = 0; i < mesh->n_triangles; i++)
            g_assert_cmpfloat (fw_mesh_normal (mesh, i).y, >, 0.999);
        }
      fw_mesh_free (mesh);
    }
}

/* ---- Volumes ---- */

/* Area of a regular polygon of n sides whose flats are r from its middle. */
static double
flats_area (double r, int n)
{
  return n * r * r * tan (G_PI / n);
}

/* A hole of that polygon, `length` long, widened to r + c at `ends` of its ends. */
static double
bore_volume (double r, int n, double length, double c, int ends)
{
  double cone = n * tan (G_PI / n) * (pow (r + c, 3) - pow (r, 3)) / 3;
  return flats_area (r, n) * (length - ends * c) + ends * cone;
}

/* An outline extruded, both ends chamfered by c. Inset by x it keeps A - P x + T x^2 (P the perimeter, T the
 * sum of tan (half the turn) over its corners): integrate that over both chamfers. */
static double
prism_volume (const FwVec2 *p, int n, double length, double c)
{
  double perimeter = 0, turns = 0;
  for (int i = 0; i < n; i++)
    {
      FwVec2 a = p[i], b = p[(i + 1) % n], d = p[(i + 2) % n];
      double turn = atan2 ((b.x - a.x) * (d.y - b.y) - (b.y - a.y) * (d.x - b.x),
                           (b.x - a.x) * (d.x - b.x) + (b.y - a.y) * (d.y - b.y));
      perimeter += hypot (b.x - a.x, b.y - a.y);
      turns += tan (turn / 2);
    }
  double area = fw_outline_area (p, n);
  return area * length - 2 * (perimeter * c * c / 2 - turns * c * c * c / 3);
}

/* The clamp: a half round and a rectangle with its upper corners off, less bore, slot and cross pin. */
static double
clamp_volume (const FwClampSize *s, double c)
{
  double r = s->outer_mm, cut = fmax (c, 0.05 * r), up = s->top_mm - s->pivot_mm, e = s->eye_mm;
  int arc = fw_facets (r) / 2, n = 0;
  FwVec2 side[128] = { { r, 0 }, { r, s->top_mm - cut }, { r - cut, s->top_mm }, { cut - r, s->top_mm },
                       { -r, s->top_mm - cut } };
  for (int i = 0; i < arc; i++)
    side[5 + i] = (FwVec2){ -r * cos (G_PI * i / arc), -r * sin (G_PI * i / arc) };
  n = 5 + arc;
  double area = r * r / 2 * arc * sin (G_PI / arc) + 2 * r * s->top_mm - cut * cut;
  g_assert_cmpfloat_with_epsilon (fw_outline_area (side, n), area, 1e-9 * area);
  /* The slot: kites round the eye, a right triangle along each wall, and one under the mouth. */
  double left = s->free_deg[0] / TO_DEG, right = s->free_deg[1] / TO_DEG;
  double span = G_PI - (right - left);
  int kites = MAX (6, fw_facets (e) / 2);
  double walls = (up + e * sin (right)) / cos (right) + (up - e * sin (left)) / cos (left);
  double mouth = (up * sin (right) + e) / cos (right) - (up * sin (left) - e) / cos (left);
  double slot = kites * e * e * tan (span / kites / 2) + e * walls / 2 + up * mouth / 2;
  double cheek = r - s->slot_mm / 2, small = fmin (c, 0.5 * s->cross_mm);
  return prism_volume (side, n, s->width_mm, c)
         - bore_volume (s->bore_mm / 2, fw_facets (s->bore_mm / 2), s->width_mm, c, 2)
         - slot * s->slot_mm
         - 2 * bore_volume (s->cross_mm / 2, fw_facets (s->cross_mm / 2), cheek, small, 1);
}

static void
near (double found, double expected)
{
  g_assert_cmpfloat_with_epsilon (found, expected, 1e-9 * fabs (expected));
}

static void
volumes_are_those_of_the_polygons_in_closed_form (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      FwMechanism *m = mechanism_of (demos[d], NULL, NULL);
      FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
      double c = m->design->print.chamfer_mm;
      g_assert_cmpfloat (c, <=, 0.3 * m->design->print.wall_mm); /* so no wall makes it less */
      for (int i = 0; i < parts->n_parts; i++)
        {
          const FwSolidPart *part = &parts->parts[i];
          if (part->kind == FW_MADE_CLAMP)
            near (part->volume_mm3, clamp_volume (&part->as.clamp, c));
          if (part->kind != FW_MADE_WEDGE)
            continue;
          const FwWedgeSize *w = &part->as.wedge;
          FwVec2 outline[8];
          int n = fw_wedge_outline (w, outline);
          double third = (180 - w->stop_deg) / TO_DEG / 3, bite = (180 - w->stop_deg) / TO_DEG;
          double area = 1.5 * w->reach_mm * w->reach_mm * sin (third)
                        - (w->relief_mm > 0 ? w->relief_mm * w->relief_mm * sin (bite) / 2 : 0);
          near (fw_outline_area (outline, n), area);
          near (part->volume_mm3,
                prism_volume (outline, n, w->length_mm, c)
                    - (w->hole_mm > 0 ? bore_volume (w->hole_mm / 2, fw_facets (w->hole_mm / 2),
                                                     w->length_mm, c, 2)
                                      : 0));
        }
      fw_solid_parts_free (parts);
      fw_mechanism_free (m);
    }
}

/* Frustums of a regular polygon of n sides, from corner radius a to b over a height. */
static double
frustum (double a, double b, double height, int n)
{
  return n * sin (2 * G_PI / n) / 2 * (a * a + a * b + b * b) * height / 3;
}

static void
a_bushing_and_guides_have_their_closed_volumes (void)
{
  const FwBushingSize b = { .bore_mm = 10.4, .outer_mm = 16, .flange_mm = 18.4, .flange_thick_mm = 1.2,
                            .length_mm = 14 };
  int n = fw_facets (9.2);
  double inner = 5.2 / cos (G_PI / n), c = 0.6, rim = 0.4 * 1.2;
  g_autoptr (FwMesh) bushing = fw_bushing_mesh (&b, c);
  near (fw_mesh_volume (bushing),
        frustum (9.2 - rim, 9.2, rim, n) + frustum (9.2, 9.2, 1.2 - rim, n)
            + frustum (8, 8, 14 - 1.2 - c, n) + frustum (8, 8 - c, c, n)
            - frustum (inner, inner, 14 - 2 * c, n) - 2 * frustum (inner, inner + c, c, n));

  const FwGuideSize swivel = { .swivels = TRUE, .bore_mm = 12.4, .height_mm = 30, .half_x_mm = 14,
                               .half_y_mm = 9, .screw_mm = 2.6, .screw_deep_mm = 6 };
  double small = 0.2 * 2.6, cut = fmin (0.35 * 9, 0.6 * (9 - 1.3 - small));
  const FwVec2 block[8] = { { 14 - cut, -9 }, { 14, cut - 9 }, { 14, 9 - cut }, { 14 - cut, 9 },
                            { cut - 14, 9 }, { -14, 9 - cut }, { -14, cut - 9 }, { cut - 14, -9 } };
  g_autoptr (FwMesh) turning = fw_guide_mesh (&swivel, c);
  near (fw_mesh_volume (turning), prism_volume (block, 8, 30, c) - bore_volume (6.2, fw_facets (6.2), 30, c, 2)
                                      - 2 * bore_volume (1.3, fw_facets (1.3), 6, small, 1));

  const FwGuideSize fixed = { .bore_mm = 4.4, .height_mm = 10, .half_x_mm = 12.8, .half_y_mm = 8,
                              .boss_mm = 9.2, .flange_thick_mm = 2.4, .screw_mm = 3.4,
                              .screw_at_mm = { 8.7, 2.9 } };
  rim = 0.6;
  cut = 0.6 * (12.8 - 8.7);
  const FwVec2 flange[8] = { { 12.8 - cut, -8 }, { 12.8, cut - 8 }, { 12.8, 8 - cut }, { 12.8 - cut, 8 },
                             { cut - 12.8, 8 }, { -12.8, 8 - cut }, { -12.8, cut - 8 }, { cut - 12.8, -8 } };
  n = fw_facets (4.6);
  g_autoptr (FwMesh) straight = fw_guide_mesh (&fixed, c);
  near (fw_mesh_volume (straight),
        prism_volume (flange, 8, 2.4, rim) + frustum (4.6, 4.6, 10 - 2.4 - c, n)
            + frustum (4.6, 4.6 - c, c, n) - bore_volume (2.2, fw_facets (2.2), 10, c, 2)
            - 4 * bore_volume (1.7, fw_facets (1.7), 2.4, rim, 2));
}

/* ---- What must move ---- */

/* True if some point of the rod, a round bar with a round end about the cross pin, is in the clamp. */
static gboolean
rod_meets_clamp (const FwMesh *mesh, const FwClampSize *s, double lean_deg)
{
  double lean = lean_deg / TO_DEG, reach = (s->top_mm - s->pivot_mm) / cos (lean) + 2;
  FwVec3 along = { sin (lean), 0, cos (lean) }, across = { cos (lean), 0, -sin (lean) };
  for (int i = -16; i <= 60; i++)
    for (int k = 0; k < 36; k++)
      {
        double angle = k / 18.0 * G_PI, r = s->stem_mm, up = reach * i / 60;
        if (i < 0)
          {
            double latitude = G_PI / 2 * i / 16;
            up = s->stem_mm * sin (latitude);
            r = s->stem_mm * cos (latitude);
          }
        FwVec3 p = fw_vec3_along (fw_vec3 (0, r * sin (angle), s->pivot_mm), up, along);
        if (fw_mesh_holds (mesh, fw_vec3_along (p, r * cos (angle), across)))
          return TRUE;
      }
  return FALSE;
}

static void
the_rod_leans_freely_as_far_as_it_must_and_no_farther (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      FwMechanism *m = mechanism_of (demos[d], NULL, NULL);
      FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
      for (int i = 0; i < parts->n_parts; i++)
        {
          const FwSolidPart *part = &parts->parts[i];
          if (part->kind != FW_MADE_CLAMP)
            continue;
          const FwClampSize *s = &part->as.clamp;
          g_test_message ("%s %s: %.2f to %.2f, free %.2f to %.2f, width %.2f of %.2f, slip %.3f", demos[d],
                          part->name, s->lean_deg[0], s->lean_deg[1], s->free_deg[0], s->free_deg[1],
                          s->width_mm, s->room_mm, s->slip_mm);
          near (s->free_deg[0], s->lean_deg[0] - m->design->print.lean_margin_deg);
          near (s->free_deg[1], s->lean_deg[1] + m->design->print.lean_margin_deg);
          for (int k = 0; k <= 2; k++)
            g_assert_false (rod_meets_clamp (part->mesh, s,
                                             s->free_deg[0] + (s->free_deg[1] - s->free_deg[0]) * k / 2));
          /* The rod has half the fit (0.2) to spare on either side, or the eye's excess over the stem. */
          double spare = asin (fmin (1, (s->eye_mm - s->stem_mm + 0.1) / (s->top_mm - s->pivot_mm))) * TO_DEG;
          g_assert_true (rod_meets_clamp (part->mesh, s, s->free_deg[1] + spare + 3));
          g_assert_true (rod_meets_clamp (part->mesh, s, s->free_deg[0] - spare - 3));
          g_assert_cmpfloat (s->width_mm, <=, s->room_mm + 1e-9);
        }
      fw_solid_parts_free (parts);
      fw_mechanism_free (m);
    }
}

/* Points on a cylinder about an axis through `at` along `along`. */
static gboolean
bar_meets (const FwMesh *mesh, FwVec3 at, FwVec3 along, double radius, double half)
{
  FwVec3 u = fabs (along.x) > 0.5 ? fw_vec3 (0, 1, 0) : fw_vec3 (1, 0, 0);
  FwVec3 v = fw_vec3_cross (along, u);
  for (int i = -20; i <= 20; i++)
    for (int k = 0; k < 180; k++)
      {
        FwVec3 p = fw_vec3_along (at, half * i / 20, along);
        p = fw_vec3_along (p, radius * cos (k / 90.0 * G_PI), u);
        if (fw_mesh_holds (mesh, fw_vec3_along (p, radius * sin (k / 90.0 * G_PI), v)))
          return TRUE;
      }
  return FALSE;
}

static void
pins_pipe_and_post_go_through_their_bores_with_the_fit_to_spare (void)
{
  FwMechanism *m = mechanism_of ("heron", NULL, NULL);
  FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
  const FwSolidPart *clamp = part_of (parts, FW_MADE_CLAMP), *guide = part_of (parts, FW_MADE_GUIDE);
  const FwClampSize *s = &clamp->as.clamp;
  FwVec3 x = { 1, 0, 0 }, y = { 0, 1, 0 }, z = { 0, 0, 1 };
  near (s->bore_mm, 10.4); /* pipe of 10 and a running fit of 0.4 */
  g_assert_false (bar_meets (clamp->mesh, fw_vec3 (0, 0, 0), x, 5.199, 20));
  g_assert_true (bar_meets (clamp->mesh, fw_vec3 (0, 0, 0), x, 5.25, 20));
  g_assert_false (bar_meets (clamp->mesh, fw_vec3 (0, 0, s->pivot_mm), y, s->cross_pin_mm / 2, 30));
  g_assert_true (bar_meets (clamp->mesh, fw_vec3 (0, 0, s->pivot_mm), y, s->cross_mm / 2 + 0.05, 30));
  g_assert_false (bar_meets (guide->mesh, fw_vec3 (0, 0, 15), z, 6.199, 40));
  g_assert_true (bar_meets (guide->mesh, fw_vec3 (0, 0, 15), z, 6.25, 40));
  const FwSolidPart *bushing = part_of (parts, FW_MADE_BUSHING);
  g_assert_false (bar_meets (bushing->mesh, fw_vec3 (0, 0, 5), z, 5.199, 40));
  g_assert_true (bar_meets (bushing->mesh, fw_vec3 (0, 0, 5), z, 5.25, 40));
  /* Cup of a 1/2 in. fitting, 0.631 in. inside at most, 0.50 in. deep: outside 0.1 less. */
  near (bushing->as.bushing.outer_mm, 0.631 * 25.4 - 0.1);
  near (bushing->as.bushing.length_mm, 12.7 + 1.2);
  fw_solid_parts_free (parts);
  fw_mechanism_free (m);
}

static void
the_lean_is_that_of_the_solved_turn (void)
{
  FwMechanism *m = mechanism_of ("heron", NULL, NULL);
  FwTurn *turn = fw_turn_new (m, 360);
  fw_turn_solve (turn, m);
  for (int k = 0; k < m->n_links; k++)
    {
      const FwLink *link = &m->links[k];
      double lean[2], slip, rise = 12, length = link->length_mm;
      FwExtreme least, greatest;
      if (link->from != FW_FROM_THROW)
        continue;
      g_assert_true (fw_clamp_lean (m, link->rod, rise, lean, &slip));
      g_assert_true (fw_turn_extremes (turn, m, (FwQuantity){ FW_Q_LEAN, k }, &least, &greatest));
      double most = fmax (fabs (lean[0]), fabs (lean[1])) / TO_DEG;
      /* The end is as far aside, on a rod that is `rise` shorter. */
      g_assert_cmpfloat_with_epsilon (sin (most) * (length - rise), sin (greatest.value) * length, 1e-3);
      /* Crank pin to upper joint, from upright (or the least lean) to the greatest, by the law of cosines. */
      double rest = length - rise, small = lean[0] < 0 && lean[1] > 0 ? 0 : fmin (fabs (lean[0]), fabs (lean[1]));
      double from = sqrt (rise * rise + rest * rest + 2 * rise * rest * cos (small / TO_DEG));
      double to = sqrt (rise * rise + rest * rest + 2 * rise * rest * cos (most));
      g_assert_cmpfloat_with_epsilon (slip, from - to, 1e-9);
    }
  free (turn);
  fw_mechanism_free (m);
}

static void
a_wedge_seats_the_panel_at_its_stop (void)
{
  FwMechanism *m = mechanism_of ("heron", NULL, NULL);
  const FwPanel *arm = &m->design->panels[0];
  FwWedgeSize lower, upper;
  FwVec2 p[8];
  char *problem = NULL;
  g_assert_true (fw_wedge_size (m->design, 0, 0, &lower, &problem));
  g_assert_true (fw_wedge_size (m->design, 0, 1, &upper, &problem));
  near (lower.stop_deg, -arm->stops_deg[0]);
  near (upper.stop_deg, arm->stops_deg[1]);
  int n = fw_wedge_outline (&upper, p);
  /* From the hinge both seats go straight out: one along the parent, one at the stop's angle. */
  near (atan2 (p[1].y - p[0].y, p[1].x - p[0].x) * TO_DEG, arm->stops_deg[1]);
  g_assert_cmpfloat_with_epsilon (p[n - 1].y, 0, 1e-12);
  g_assert_cmpfloat_with_epsilon (p[n - 2].y, 0, 1e-12);
  near (hypot (p[1].x, p[1].y), upper.reach_mm);
  near (-p[n - 2].x, upper.reach_mm);
  fw_mechanism_free (m);
}

/* ---- Numbers that cannot be ---- */

static void
refused (const char *print, const char *first_words, const char *word, int others)
{
  g_autofree char *to = g_strdup_printf ("\"print\": %s, \"crank\": {", print);
  FwMechanism *m = mechanism_of ("heron", "\"crank\": {", to);
  FwSolidParts *parts = fw_solid_parts_new (m, NULL, FW_LENGTHS_MM);
  int found = 0, made = 0;
  for (int i = 0; i < parts->n_parts; i++)
    {
      const FwSolidPart *part = &parts->parts[i];
      g_assert_true ((part->mesh == NULL) == (part->problem != NULL));
      made += part->mesh != NULL;
      if (part->problem == NULL)
        continue;
      g_test_message ("%s", part->problem);
      found += g_str_has_prefix (part->problem, first_words) && strstr (part->problem, word) != NULL;
    }
  g_assert_cmpint (found, >, 0);
  g_assert_cmpint (made, >=, others);
  fw_solid_parts_free (parts);
  fw_mechanism_free (m);
}

static void
impossible_numbers_are_told_by_part_and_the_rest_is_made (void)
{
  refused ("{\"tee_bore\": 10}", "Bushing", "does not go into", 8);
  refused ("{\"tee_bore\": 12}", "Bushing", "wall of", 8);
  refused ("{\"pin\": 5}", "Rod clamp of arm-rod", "cross pin", 7);
  refused ("{\"chamfer\": 2.5}", "Rod clamp of arm-rod", "chamfer", 1);
  refused ("{\"chamfer\": 2.5}", "Post guide", "chamfer", 1);
  refused ("{\"wall\": 9, \"chamfer\": 0.5}", "Rod clamp of arm-rod", "widen the throw", 1);
  refused ("{\"lean_margin\": 44}", "Rod clamp of tip-rod", "widen the throw", 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shop/parts/a-cube-measures-as-a-cube", a_cube_measures_as_a_cube);
  g_test_add_func ("/shop/parts/a-spoilt-surface-is-noticed", a_spoilt_surface_is_noticed);
  g_test_add_func ("/shop/parts/a-mirrored-surface-still-faces-outward", a_mirrored_surface_still_faces_outward);
  g_test_add_func ("/shop/parts/faces-with-holes-are-filled-exactly", faces_with_holes_are_filled_exactly);
  g_test_add_func ("/shop/parts/every-part-of-every-demo-is-one-closed-outward-surface",
                   every_part_of_every_demo_is_one_closed_outward_surface);
  g_test_add_func ("/shop/parts/so-it-is-without-chamfers-and-with-clamps-that-spring-on",
                   so_it_is_without_chamfers_and_with_clamps_that_spring_on);
  g_test_add_func ("/shop/parts/volumes-are-those-of-the-polygons-in-closed-form",
                   volumes_are_those_of_the_polygons_in_closed_form);
  g_test_add_func ("/shop/parts/a-bushing-and-guides-have-their-closed-volumes",
                   a_bushing_and_guides_have_their_closed_volumes);
  g_test_add_func ("/shop/parts/the-rod-leans-freely-as-far-as-it-must-and-no-farther",
                   the_rod_leans_freely_as_far_as_it_must_and_no_farther);
  g_test_add_func ("/shop/parts/pins-pipe-and-post-go-through-their-bores-with-the-fit-to-spare",
                   pins_pipe_and_post_go_through_their_bores_with_the_fit_to_spare);
  g_test_add_func ("/shop/parts/the-lean-is-that-of-the-solved-turn", the_lean_is_that_of_the_solved_turn);
  g_test_add_func ("/shop/parts/a-wedge-seats-the-panel-at-its-stop", a_wedge_seats_the_panel_at_its_stop);
  g_test_add_func ("/shop/parts/impossible-numbers-are-told-by-part-and-the-rest-is-made",
                   impossible_numbers_are_told_by_part_and_the_rest_is_made);
  return g_test_run ();
}
