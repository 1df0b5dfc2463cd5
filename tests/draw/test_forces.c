/* Force arrows, force curves, bounce points and the torque plot as numbers. Forces are compared with the
 * core's own, which its tests hold against a second method; lengths with a projection written out here. */
#include <glib/gstdio.h>
#include <math.h>

#include "doc/document.h"
#include "draw/forces.h"
#include "draw/layout.h"
#include "draw/striplayout.h"
#include "draw/torqueplot.h"
#include "heron.h"

static const char *const demos[] = { "heron", "manta", "owl", "dragonfly", "moth" };

static FwDesign *
demo_design (const char *name)
{
  g_autofree char *path = g_strdup_printf ("%s/%s.flap", DEMOS, name);
  FwDocument *doc = fw_document_load (path, NULL);
  g_assert_nonnull (doc);
  FwDesign *design = fw_design_copy (fw_document_design (doc));
  fw_document_free (doc);
  return design;
}

static const FwBox page = { 0, 0, 900, 700 };

static FwCamera
camera_of (const Stage *s, FwView view)
{
  return fw_camera_fit (view, fw_view_extent (&s->scene, view), page, 30);
}

static int
arrows_of (const Stage *s, FwView view, guint show, FwArrow *list)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwCamera camera = camera_of (s, view);
  FwDrawing d;
  fw_drawing_build (&d, &s->scene, &camera, &style);
  int n = fw_force_arrows (&d, &style, page, show, list, FW_MOST_ARROWS);
  fw_drawing_clear (&d);
  return n;
}

/* What front (x and z) or side (y and z) shows of a vector. */
static double
seen (FwVec3 v, FwView view)
{
  return hypot (view == FW_VIEW_FRONT ? v.x : v.y, v.z);
}

static double
length_of (const FwArrow *a)
{
  return fw_vec2_distance (a->from, a->to);
}

static void
rod_arrows_are_as_long_as_their_force_and_shaped_by_its_sign (void)
{
  int found = 0, pulled = 0, pushed = 0;
  for (guint k = 0; k < G_N_ELEMENTS (demos); k++)
    for (int step = 0; step < 12; step++)
      for (int view = FW_VIEW_FRONT; view <= FW_VIEW_SIDE; view++)
        {
          Stage *s = stage_new (demo_design (demos[k]), 30 * step + 5);
          FwArrow list[FW_MOST_ARROWS];
          FwStyle style = fw_style (FW_THEME_LIGHT, 1);
          double scale = fw_arrow_scale (&s->scene, page);
          int n = arrows_of (s, (FwView)view, FW_SHOW_FORCES, list);
          fw_loads_solve (s->loads->loads, s->mechanism, s->pose, s->loads->speed);
          for (int i = 0; i < n; i++)
            {
              if (list[i].part.kind != FW_PART_LINK)
                continue;
              int link = list[i].part.index;
              double tension = s->loads->loads->tension[link];
              FwVec3 along = fw_vec3_sub (s->pose->links[link].to.at, s->pose->links[link].from.at);
              double shown = fabs (tension) * seen (along, (FwView)view) / fw_vec3_length (along);
              g_assert_cmpfloat_with_epsilon (list[i].force_N, fabs (tension), 1e-9);
              g_assert_cmpfloat_with_epsilon (list[i].seen_N, shown, 1e-6);
              g_assert_cmpfloat_with_epsilon (length_of (&list[i]) / 2 - FW_BAR_GAP * style.wide,
                                              shown * scale, 1e-6);
              g_assert_true (list[i].bar);
              g_assert_cmpint (list[i].kind, ==, tension > 0 ? FW_ARROW_PULL : FW_ARROW_PUSH);
              found++;
              pulled += tension > 0;
              pushed += tension < 0;
            }
          stage_free (s);
        }
  g_assert_cmpint (found, >, 100);
  g_assert_cmpint (pulled, >, 10);
  g_assert_cmpint (pushed, >, 10);
}

static void
the_scale_stands_still_over_the_turn (void)
{
  for (guint k = 0; k < G_N_ELEMENTS (demos); k++)
    {
      Stage *s = stage_new (demo_design (demos[k]), 0);
      double scale = fw_arrow_scale (&s->scene, page), longest = 0;
      FwArrow list[FW_MOST_ARROWS];
      for (int step = 0; step < 72; step++)
        {
          stage_turn_to (s, 5 * step);
          int n = arrows_of (s, FW_VIEW_SIDE, FW_SHOW_FORCES, list);
          for (int i = 0; i < n; i++)
            longest = fmax (longest, list[i].seen_N);
          g_assert_cmpfloat (fw_arrow_scale (&s->scene, page), ==, scale);
        }
      /* The greatest arrow reaches the share of the page that the scale stands for, no arrow more. */
      g_assert_cmpfloat (longest * scale, <, 0.17 * 700 * 1.0001);
      g_assert_cmpfloat (longest * scale, >, 0.17 * 700 * 0.8);
      stage_free (s);
    }
}

static void
while_a_number_is_dragged_the_scale_is_the_one_held (void)
{
  Stage *s = stage_new (demo_design ("heron"), 40);
  double peak = fw_arrow_peak (&s->scene), scale = fw_arrow_scale (&s->scene, page);
  s->scene.arrow_N = 2 * peak;
  g_assert_cmpfloat_with_epsilon (fw_arrow_scale (&s->scene, page), scale / 2, 1e-9);
  stage_free (s);
}

static void
two_pages_of_one_sheet_have_arrows_and_words_of_one_size (void)
{
  Stage *s = stage_new (demo_design ("heron"), 40);
  const FwBox wide = { 0, 0, 600, 500 }, narrow = { 0, 0, 300, 500 };
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  double alone = fw_arrow_scale (&s->scene, fw_style_sheet (&style, narrow));
  g_assert_cmpfloat (alone, <, fw_arrow_scale (&s->scene, fw_style_sheet (&style, wide)));
  g_assert_cmpfloat (fw_style_for_page (&style, narrow).text, <, fw_style_for_page (&style, wide).text);
  style.sheet = 500;
  g_assert_cmpfloat (fw_arrow_scale (&s->scene, fw_style_sheet (&style, narrow)), ==,
                     fw_arrow_scale (&s->scene, fw_style_sheet (&style, wide)));
  FwStyle a = fw_style_for_page (&style, narrow), b = fw_style_for_page (&style, wide);
  g_assert_cmpfloat (a.text, ==, b.text);
  g_assert_cmpfloat (a.wide, ==, b.wide);
  stage_free (s);
}

static void
the_peak_is_the_greatest_force_of_the_turn (void)
{
  for (guint k = 0; k < G_N_ELEMENTS (demos); k++)
    {
      Stage *s = stage_new (demo_design (demos[k]), 0);
      int n = fw_load_count (s->mechanism);
      FwExtreme *least = g_new (FwExtreme, n), *greatest = g_new (FwExtreme, n);
      double most = 0;
      fw_load_peaks (s->mechanism, s->scratch, s->loads->loads, s->loads->speed, 360, least, greatest);
      for (int i = 0; i < n; i++)
        {
          FwLoadKind kind = fw_load_nth (s->mechanism, i).kind;
          if (kind != FW_LOAD_TORQUE && kind != FW_LOAD_HINGE)
            most = fmax (most, fmax (fabs (least[i].value), fabs (greatest[i].value)));
        }
      /* Between two steps of a degree a force rises by less than a thousandth more. */
      g_assert_cmpfloat_with_epsilon (fw_arrow_peak (&s->scene) / most, 1, 1e-3);
      g_free (least);
      g_free (greatest);
      stage_free (s);
    }
}

static void
an_arrow_at_a_pin_lies_on_its_free_side (void)
{
  Stage *s = stage_new (demo_design ("heron"), 65);
  FwCamera camera = camera_of (s, FW_VIEW_FRONT);
  FwArrow list[FW_MOST_ARROWS];
  int n = arrows_of (s, FW_VIEW_FRONT, FW_SHOW_FORCES, list), looked = 0;
  for (int i = 0; i < n; i++)
    {
      if (list[i].part.kind != FW_PART_CRANK)
        continue;
      /* Every rod and the post stand above their pins here, and press down on them. */
      FwVec2 middle = fw_vec2_mix (list[i].from, list[i].to, 0.5);
      double nearest = INFINITY;
      FwVec2 pin = { 0, 0 };
      for (int p = 0; p < s->mechanism->n_pins; p++)
        {
          FwVec2 at = fw_camera_project (&camera, s->pose->pins[p].at, NULL);
          if (fw_vec2_distance (at, middle) < nearest)
            {
              nearest = fw_vec2_distance (at, middle);
              pin = at;
            }
        }
      g_assert_cmpfloat (middle.y, >, pin.y);
      g_assert_cmpint (list[i].kind, ==, FW_ARROW_PUSH);
      g_assert_cmpfloat (list[i].to.y, >, list[i].from.y);
      looked++;
    }
  g_assert_cmpint (looked, ==, s->mechanism->n_pins);
  stage_free (s);
}

static void
weights_add_up_to_the_mass (void)
{
  Stage *s = stage_new (demo_design ("manta"), 20);
  FwArrow list[FW_MOST_ARROWS];
  int n = arrows_of (s, FW_VIEW_FRONT, FW_SHOW_WEIGHTS, list);
  double sum = 0, pins = 0;
  for (int i = 0; i < n; i++)
    {
      g_assert_cmpint (list[i].kind, ==, FW_ARROW_WEIGHT);
      g_assert_cmpfloat (list[i].to.y, >, list[i].from.y);
      sum += list[i].force_N;
    }
  for (int i = 0; i < s->mechanism->n_pins; i++)
    pins += s->loads->loads->pin_mass[i];
  /* Half-rods on the pins have no arrow; what is too light to be seen has none: three hundredths at most. */
  g_assert_cmpfloat_with_epsilon (sum / ((s->loads->mass_g - pins) * 1e-3 * FW_GRAVITY), 1, 0.03);
  stage_free (s);
}

static void
what_cannot_be_assembled_has_no_arrows (void)
{
  Stage *s = stage_new (short_heron_design (), 200);
  FwArrow list[FW_MOST_ARROWS];
  g_assert_false (fw_pose_closes (s->pose, s->mechanism));
  g_assert_cmpint (arrows_of (s, FW_VIEW_FRONT, FW_SHOW_FORCES | FW_SHOW_WEIGHTS, list), ==, 0);
  stage_free (s);
}

static void
words_keep_off_arrows_and_each_other (void)
{
  FwTilted boxes[400];
  FwArrow list[FW_MOST_ARROWS];
  FwStyle style = fw_style (FW_THEME_DARK, 1);
  for (guint k = 0; k < 4; k++)
    for (int step = 0; step < 6; step++)
      for (int view = 0; view < 3; view++)
        {
          Stage *s = stage_new (demo_design (demos[k]), 60 * step + 7);
          FwCamera camera = camera_of (s, (FwView)view);
          guint show = FW_SHOW_FORCES | FW_SHOW_NAMES | FW_SHOW_TROUBLE | FW_SHOW_SCALE_BAR;
          int n = fw_view_label_boxes (&s->scene, &camera, &style, page, show, boxes, 400);
          int arrows = arrows_of (s, (FwView)view, show, list);
          for (int i = 0; i < n; i++)
            {
              for (int j = 0; j < i; j++)
                g_assert_false (fw_tilted_overlap (&boxes[i], &boxes[j]));
              for (int j = 0; j < arrows; j++)
                g_assert_false (fw_tilted_meets_segment (&boxes[i], list[j].from, list[j].to));
            }
          stage_free (s);
        }
}

/* ---- Curves ---- */

static void
a_load_curve_is_the_load (void)
{
  Stage *s = stage_new (demo_design ("heron"), 90);
  FwQuantity list[200];
  int n = fw_scene_loads (&s->scene, list, 200);
  g_assert_cmpint (n, >, 10);
  for (int i = 0; i < n; i++)
    {
      FwRow row = fw_scene_row (&s->scene, list[i]);
      g_assert_cmpint (row.steps, ==, 360);
      g_assert_cmpfloat_with_epsilon (fw_scene_value (&s->scene, list[i]), row.values[90], 1e-9);
      g_free (row.owned);
    }
  FwRow torque = fw_scene_row (&s->scene, (FwQuantity){ FW_Q_TORQUE, 0 });
  FwRow handle = fw_scene_row (&s->scene, (FwQuantity){ FW_Q_HANDLE, 0 });
  for (int i = 0; i < 360; i++)
    g_assert_cmpfloat_with_epsilon (handle.values[i] * s->mechanism->design->base.handle_mm / 1000,
                                    torque.values[i], 1e-12);
  g_free (handle.owned);
  stage_free (s);
}

static void
a_curve_of_the_torque_turns_at_its_peaks (void)
{
  Stage *s = stage_new (demo_design ("manta"), 0);
  int n = fw_load_count (s->mechanism);
  FwExtreme *least = g_new (FwExtreme, n), *greatest = g_new (FwExtreme, n), points[16];
  double low = INFINITY, high = -INFINITY, low_at = 0, high_at = 0;
  int found = fw_scene_turning_points (&s->scene, (FwQuantity){ FW_Q_TORQUE, 0 }, points, 16);
  g_assert_cmpint (found, >=, 2);
  fw_load_peaks (s->mechanism, s->scratch, s->loads->loads, s->loads->speed, 360, least, greatest);
  for (int i = 0; i < found; i++)
    {
      if (points[i].value < low)
        low_at = points[i].crank;
      if (points[i].value > high)
        high_at = points[i].crank;
      low = fmin (low, points[i].value);
      high = fmax (high, points[i].value);
    }
  g_assert_cmpfloat_with_epsilon (low, least[0].value, 1e-5 * fabs (low));
  g_assert_cmpfloat_with_epsilon (high, greatest[0].value, 1e-5 * high);
  g_assert_cmpfloat_with_epsilon (low_at, least[0].crank, 2e-3);
  g_assert_cmpfloat_with_epsilon (high_at, greatest[0].crank, 2e-3);
  g_free (least);
  g_free (greatest);
  stage_free (s);
}

static void
quantities_of_parts_that_are_not_there_are_unknown (void)
{
  Stage *s = stage_new (demo_design ("moth"), 0);
  for (int kind = 0; kind < FW_N_CURVE_KINDS; kind++)
    {
      g_assert_false (fw_quantity_known (s->mechanism, (FwQuantity){ (FwQuantityKind)kind, -1 }));
      if (kind != FW_Q_TORQUE && kind != FW_Q_HANDLE && kind > FW_Q_BODY_TILT && kind != FW_Q_GUIDE
          && kind != FW_Q_FOOT)
        g_assert_false (fw_quantity_known (s->mechanism, (FwQuantity){ (FwQuantityKind)kind, 9999 }));
    }
  g_assert_false (fw_quantity_known (s->mechanism, (FwQuantity){ FW_N_CURVE_KINDS, 0 }));
  g_assert_true (isnan (fw_scene_value (&s->scene, (FwQuantity){ FW_Q_FORCE, 9999 })));
  stage_free (s);
}

/* ---- Bounce points ---- */

static void
flags_stand_at_the_bounces (void)
{
  FwDesign *design = demo_design ("heron");
  design->body.play_mm = 0.5;
  Stage *s = stage_new (design, 0);
  FwFlag flags[512];
  FwStripState state = { .picked_trouble = -1 };
  int n = fw_strip_flags (&s->scene, &state, flags, 512), bounces = 0, real = 0;
  for (int i = 0; i < n; i++)
    {
      g_assert_true (i == 0 || flags[i].crank >= flags[i - 1].crank);
      if (flags[i].kind != FW_FLAG_BOUNCE)
        continue;
      const FwBounce *b = &s->bounces[flags[i].bounce];
      g_assert_cmpfloat_with_epsilon (flags[i].crank, b->crank, 1e-12);
      g_assert_cmpint (flags[i].trouble, ==, -1);
      g_assert_true (fw_bounce_holds (b, b->crank) && fw_bounce_holds (b, b->knock));
      g_assert_false (fw_bounce_holds (b, b->crank - 0.1));
      real += fw_bounce_is_real (s->mechanism, b);
      bounces++;
    }
  g_assert_cmpint (bounces, ==, s->scene.n_bounces);
  g_assert_cmpint (real, ==, fw_bounces (s->loads, s->mechanism, s->bounces, 64));
  g_assert_cmpint (real, >, 0);
  stage_free (s);
}

/* ---- Torque plot ---- */

static void
the_plot_has_radius_by_torque_and_round_rings (void)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  for (guint k = 0; k < G_N_ELEMENTS (demos); k++)
    {
      Stage *s = stage_new (demo_design (demos[k]), 0);
      const double *row = fw_load_turn_row (s->loads, s->mechanism, (FwLoad){ FW_LOAD_TORQUE, 0 });
      FwTorquePlot p;
      gboolean zero = FALSE;
      g_assert_true (fw_torque_plot_lay (&s->scene, &style, (FwBox){ 10, 20, 400, 420 }, &p));
      for (int i = 0; i < 360; i++)
        {
          FwVec2 at = fw_torque_plot_point (&p, i * G_PI / 180, row[i]);
          double radius = fw_vec2_distance (at, p.centre);
          g_assert_cmpfloat_with_epsilon (radius, p.zero + p.px_per_Nm * row[i], 1e-9);
          g_assert_true (radius <= p.outer + 1e-6 && radius > 0);
          g_assert_true ((radius > p.zero) == (row[i] > 0));
          g_assert_cmpfloat_with_epsilon (fw_torque_plot_crank (&p, at), i * G_PI / 180, 1e-9);
        }
      for (int i = 0; i < p.n_rings; i++)
        {
          double ring = fabs (p.rings_Nm[i]), step = p.rings_Nm[1] - p.rings_Nm[0];
          double power = pow (10, floor (log10 (step) + 1e-9)), share = step / power;
          zero = zero || ring < 1e-12;
          g_assert_true (fabs (share - 1) < 1e-6 || fabs (share - 2) < 1e-6 || fabs (share - 5) < 1e-6);
          g_assert_cmpfloat (fabs (remainder (ring, step)), <, 1e-9 * step);
        }
      g_assert_true (zero && p.n_rings >= 3 && p.n_rings <= 8);
      g_assert_cmpfloat (p.rings_Nm[0], <=, p.least.value);
      g_assert_cmpfloat (p.rings_Nm[p.n_rings - 1], >=, p.greatest.value);
      stage_free (s);
    }
}

/* The crank turns clockwise from the top: a quarter turn is to the right. */
static void
the_plot_turns_clockwise_from_the_top (void)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  Stage *s = stage_new (demo_design ("heron"), 0);
  FwTorquePlot p;
  g_assert_true (fw_torque_plot_lay (&s->scene, &style, (FwBox){ 0, 0, 400, 400 }, &p));
  FwVec2 top = fw_torque_plot_point (&p, 0, 0), right = fw_torque_plot_point (&p, G_PI / 2, 0);
  g_assert_cmpfloat (top.y, <, p.centre.y - 1);
  g_assert_cmpfloat (right.x, >, p.centre.x + 1);
  stage_free (s);
}

/* Of a box that is not turned. */
static gboolean
lies_outside (const FwTilted *b, const FwTorquePlot *p)
{
  double dx = fmax (fabs (b->centre.x - p->centre.x) - b->half_width, 0);
  double dy = fmax (fabs (b->centre.y - p->centre.y) - b->half_height, 0);
  return hypot (dx, dy) >= p->outer;
}

static void
peaks_of_the_plot_are_told_outside_its_rings (void)
{
  static const FwBox pages[] = { { 0, 0, 340, 270 }, { 0, 0, 900, 700 } };
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  /* All but the moth, whose torque is so little that its figures are too wide for the narrow page. */
  for (guint k = 0; k < (G_N_ELEMENTS (demos) - 1) * 12 * G_N_ELEMENTS (pages); k++)
    {
      Stage *s = stage_new (demo_design (demos[k / 24]), k % 12 * 30 + 1);
      const FwBox at = pages[k / 12 % 2];
      FwTorquePlot p;
      FwTilted boxes[64];
      g_assert_true (fw_torque_plot_lay (&s->scene, &style, at, &p));
      int n = fw_torque_plot_label_boxes (&s->scene, &style, at, boxes, 64), outside = 0;
      FwVec2 rim = fw_vec2 (p.centre.x + p.outer * sin (s->pose->crank), p.centre.y - p.outer * cos (s->pose->crank));
      g_assert_cmpint (n, <=, 64);
      for (int i = 0; i < n; i++)
        {
          outside += lies_outside (&boxes[i], &p);
          g_assert_false (fw_tilted_meets_segment (&boxes[i], p.centre, rim));
          for (int o = 0; o < i; o++)
            g_assert_false (fw_tilted_overlap (&boxes[i], &boxes[o]));
        }
      /* Four angles and the two words of the key are there always. */
      g_assert_cmpint (outside, ==, 4 + 2 + (p.greatest.value > 0) + (p.least.value < 0));
      stage_free (s);
    }
}

static void
a_plot_without_loads_is_refused (void)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  Stage *s = stage_new (demo_design ("heron"), 0);
  FwTorquePlot p;
  s->scene.loads = NULL;
  g_assert_false (fw_torque_plot_lay (&s->scene, &style, (FwBox){ 0, 0, 400, 400 }, &p));
  stage_free (s);
}

static void
the_plot_is_written_as_png_svg_and_pdf (void)
{
  static const char *const starts[3][2]
      = { { "plot.png", "\x89PNG" }, { "plot.svg", "<?xml" }, { "plot.pdf", "%PDF" } };
  Stage *s = stage_new (demo_design ("heron"), 65);
  g_autofree char *folder = g_dir_make_tmp ("fw-plot-XXXXXX", NULL);
  for (int i = 0; i < 3; i++)
    {
      g_autofree char *path = g_build_filename (folder, starts[i][0], NULL), *text = NULL;
      gsize length;
      g_assert_true (fw_torque_plot_write (&s->scene, FW_THEME_PRINT, "Heron", path, NULL));
      g_assert_true (g_file_get_contents (path, &text, &length, NULL));
      g_assert_cmpuint (length, >, 1000);
      g_assert_true (memcmp (text, starts[i][1], strlen (starts[i][1])) == 0);
      g_unlink (path);
    }
  g_autoptr (GError) error = NULL;
  g_autofree char *nowhere = g_build_filename (folder, "none", "plot.png", NULL);
  g_assert_false (fw_torque_plot_write (&s->scene, FW_THEME_PRINT, "", nowhere, &error));
  g_assert_nonnull (error);
  g_rmdir (folder);
  stage_free (s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/arrows/rod arrows are as long as their force and shaped by its sign",
                   rod_arrows_are_as_long_as_their_force_and_shaped_by_its_sign);
  g_test_add_func ("/arrows/the scale stands still over the turn", the_scale_stands_still_over_the_turn);
  g_test_add_func ("/arrows/while a number is dragged the scale is the one held",
                   while_a_number_is_dragged_the_scale_is_the_one_held);
  g_test_add_func ("/arrows/two pages of one sheet have arrows and words of one size",
                   two_pages_of_one_sheet_have_arrows_and_words_of_one_size);
  g_test_add_func ("/arrows/the peak is the greatest force of the turn",
                   the_peak_is_the_greatest_force_of_the_turn);
  g_test_add_func ("/arrows/an arrow at a pin lies on its free side",
                   an_arrow_at_a_pin_lies_on_its_free_side);
  g_test_add_func ("/arrows/weights add up to the mass", weights_add_up_to_the_mass);
  g_test_add_func ("/arrows/what cannot be assembled has no arrows",
                   what_cannot_be_assembled_has_no_arrows);
  g_test_add_func ("/arrows/words keep off arrows and each other", words_keep_off_arrows_and_each_other);
  g_test_add_func ("/curves/a load curve is the load", a_load_curve_is_the_load);
  g_test_add_func ("/curves/a curve of the torque turns at its peaks",
                   a_curve_of_the_torque_turns_at_its_peaks);
  g_test_add_func ("/curves/quantities of parts that are not there are unknown",
                   quantities_of_parts_that_are_not_there_are_unknown);
  g_test_add_func ("/bounces/flags stand at the bounces", flags_stand_at_the_bounces);
  g_test_add_func ("/plot/the plot has radius by torque and round rings",
                   the_plot_has_radius_by_torque_and_round_rings);
  g_test_add_func ("/plot/the plot turns clockwise from the top", the_plot_turns_clockwise_from_the_top);
  g_test_add_func ("/plot/peaks of the plot are told outside its rings", peaks_of_the_plot_are_told_outside_its_rings);
  g_test_add_func ("/plot/a plot without loads is refused", a_plot_without_loads_is_refused);
  g_test_add_func ("/plot/the plot is written as PNG, SVG and PDF",
                   the_plot_is_written_as_png_svg_and_pdf);
  return g_test_run ();
}
