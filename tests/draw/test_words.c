/* Words on pictures never cover each other and never leave the page. */
#include <math.h>
#include <string.h>

#include "draw/forcerows.h"
#include "draw/layout.h"
#include "draw/overlay.h"
#include "draw/striplayout.h"
#include "draw/unbroken.h"
#include "heron.h"

#define MOST 400

static void
assert_apart (const FwTilted *boxes, int n, FwBox page)
{
  for (int i = 0; i < n; i++)
    {
      double rx, ry;
      fw_tilted_reach (&boxes[i], &rx, &ry);
      g_assert_true (boxes[i].centre.x - rx >= page.x - 1e-6
                     && boxes[i].centre.x + rx <= page.x + page.width + 1e-6);
      g_assert_true (boxes[i].centre.y - ry >= page.y - 1e-6
                     && boxes[i].centre.y + ry <= page.y + page.height + 1e-6);
      for (int k = 0; k < i; k++)
        if (fw_tilted_overlap (&boxes[i], &boxes[k]))
          g_error ("label %d at (%g, %g) lies on label %d at (%g, %g)", i, boxes[i].centre.x,
                   boxes[i].centre.y, k, boxes[k].centre.x, boxes[k].centre.y);
    }
}

static void
check_views (FwDesign *design, double text)
{
  static const FwBox pages[] = { { 0, 0, 300, 220 }, { 20, 10, 900, 700 }, { 0, 0, 3200, 2000 } };
  FwTilted boxes[MOST];
  Stage *s = stage_new (design, 0);
  for (int view = 0; view < 3; view++)
    for (guint p = 0; p < G_N_ELEMENTS (pages); p++)
      for (int step = 0; step < 8; step++)
        {
          FwStyle style = fw_style (FW_THEME_LIGHT, 1);
          style.text *= text;
          stage_turn_to (s, 45 * step + 3);
          FwCamera c = fw_camera_fit ((FwView)view, fw_view_extent (&s->scene, (FwView)view),
                                      pages[p], 30);
          int n = fw_view_label_boxes (&s->scene, &c, &style, pages[p], 0xfff, boxes, MOST);
          g_assert_cmpint (n, >, 0);
          g_assert_cmpint (n, <=, MOST);
          assert_apart (boxes, n, pages[p]);
        }
  stage_free (s);
}

static void
view_words_keep_apart (void)
{
  check_views (heron_design (), 1);
}

static void
view_words_keep_apart_in_trouble (void)
{
  check_views (short_heron_design (), 1);
}

static void
view_words_keep_apart_on_a_small_thing (void)
{
  check_views (moth_design (), 1);
}

static void
dimensions_are_there_where_there_is_room (void)
{
  FwTilted boxes[MOST];
  Stage *s = stage_new (heron_design (), 65);
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwBox page = { 0, 0, 1600, 1100 };
  FwCamera c = fw_camera_fit (FW_VIEW_FRONT, fw_view_extent (&s->scene, FW_VIEW_FRONT), page, 60);
  /* Two spans and two rods of the right wing. */
  g_assert_cmpint (
      fw_view_label_boxes (&s->scene, &c, &style, page, FW_SHOW_DIMENSIONS, boxes, MOST), ==, 4);
  c = fw_camera_fit (FW_VIEW_SIDE, fw_view_extent (&s->scene, FW_VIEW_SIDE), page, 60);
  /* Three throws, post, guide, neck and tail with a tie each. */
  g_assert_cmpint (
      fw_view_label_boxes (&s->scene, &c, &style, page, FW_SHOW_DIMENSIONS, boxes, MOST), >=, 7);
  stage_free (s);
}

static void
figures_have_no_digit_too_many (void)
{
  char *whole = fw_figure (412, FW_UNIT_MM, FW_LENGTHS_MM),
       *half = fw_figure (412.5, FW_UNIT_MM, FW_LENGTHS_MM);
  g_assert_null (strchr (whole, '.'));
  g_assert_nonnull (strstr (whole, "412"));
  g_assert_nonnull (strstr (half, "412.5"));
  g_free (whole);
  g_free (half);
}

/* No figure of the curves' field runs out of it, into the names of the curves. */
static void
assert_in_field_or_beside (const FwTilted *boxes, int n, const FwStyle *style, FwBox page)
{
  FwStripField field = fw_strip_field (style, page, 0);
  for (int i = 0; i < n; i++)
    {
      const FwTilted *b = &boxes[i];
      if (b->centre.y < field.top || b->centre.y > field.ruler)
        continue;
      g_assert_cmpfloat (b->centre.x - b->half_width, >=, field.left - 0.5);
      g_assert_true (b->centre.x - b->half_width >= field.right || b->centre.x + b->half_width <= field.right + 0.5);
    }
}

static void
check_strips (FwDesign *design, double text)
{
  static const double widths[] = { 500, 900, 1600, 3000 };
  FwTilted boxes[MOST];
  Stage *s = stage_new (design, 0);
  for (guint w = 0; w < G_N_ELEMENTS (widths); w++)
    for (int step = 0; step < 12; step++)
      {
        FwStyle style = fw_style (FW_THEME_DARK, 1);
        style.text *= text;
        FwBox page = { 5, 7, widths[w], 260 };
        stage_turn_to (s, 30 * step + 1);
        FwStripState state = { .n_curves = 5, .crank = s->pose->crank, .picked_trouble = -1 };
        for (int i = 0; i < 5; i++)
          state.curves[i] = fw_quantity_nth (s->mechanism, 2 + 2 * i);
        int n = fw_turn_strip_label_boxes (&s->scene, &state, &style, page, boxes, MOST);
        /* The ruler, the scrub line and the curves have their words at least. */
        g_assert_cmpint (n, >=, 3 + 1 + 5);
        assert_apart (boxes, MIN (n, MOST), page);
        assert_in_field_or_beside (boxes, MIN (n, MOST), &style, page);
      }
  stage_free (s);
}

static void
strip_words_keep_apart (void)
{
  check_strips (heron_design (), 1);
  check_strips (short_heron_design (), 1);
  check_strips (moth_design (), 1);
}

/* Boxes as high as those of the curves' names, but left of them: what is read off at the scrub line. */
static int
values_told (const FwTilted *boxes, int n, const FwStripField *field)
{
  double high = NAN;
  int told = 0;
  for (int i = 0; i < n; i++)
    if (boxes[i].centre.x - boxes[i].half_width >= field->right)
      high = boxes[i].half_height;
  for (int i = 0; i < n; i++)
    told += boxes[i].centre.x < field->right && fabs (boxes[i].half_height - high) < 0.01 * high;
  return told;
}

static void
values_of_all_curves_are_told_in_a_low_strip_with_trouble (void)
{
  FwTilted boxes[MOST];
  Stage *s = stage_new (short_heron_design (), 0);
  FwStyle style = fw_style (FW_THEME_LIGHT, 4); /* sizes of words are apart by whole pixels */
  FwBox page = { 0, 0, 4000, 560 };
  for (int step = 0; step < 36; step++)
    {
      stage_turn_to (s, 10 * step);
      FwStripState state = { .curves = { { FW_Q_ANGLE, 0 }, { FW_Q_ANGLE, 1 }, { FW_Q_ANGLE, 2 } },
                             .n_curves = 3, .crank = s->pose->crank, .picked_trouble = -1 };
      FwStripField field = fw_strip_field (&style, page, 0);
      int known = 0, n = fw_turn_strip_label_boxes (&s->scene, &state, &style, page, boxes, MOST);
      for (int c = 0; c < 3; c++)
        known += isfinite (fw_scene_value (&s->scene, state.curves[c]));
      assert_apart (boxes, MIN (n, MOST), page);
      g_assert_cmpint (values_told (boxes, MIN (n, MOST), &field), ==, known);
    }
  stage_free (s);
}

static void
a_long_name_is_cut_in_its_middle (void)
{
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  const FwWording how = { .size = 0.9 };
  const char *name = "Winkelgeschwindigkeit von tip.right";
  double width, height;
  FwLabels labels;
  fw_labels_open (&labels, cr, &style, (FwBox){ 0, 0, 400, 200 }, NULL);
  fw_labels_measure (&labels, name, &how, &width, &height);
  g_autofree char *whole = fw_labels_fit (&labels, name, &how, width);
  g_assert_cmpstr (whole, ==, name);
  for (double room = 0.98 * width; room > 4 * style.text; room -= 5)
    {
      double cut;
      g_autofree char *fitting = fw_labels_fit (&labels, name, &how, room);
      fw_labels_measure (&labels, fitting, &how, &cut, &height);
      g_assert_cmpfloat (cut, <=, room);
      g_assert_true (g_str_has_prefix (fitting, "Win") && strstr (fitting, "…") != NULL);
      /* The name of the part while there is room for more than its letters. */
      g_assert_true (g_str_has_suffix (fitting, room > 8.5 * style.text ? "tip.right" : "ht"));
    }
  fw_labels_close (&labels);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
trouble_lanes_never_overlap_and_wrap_across_the_turn (void)
{
  enum
  {
    N = 6
  };
  FwTrouble items[N] = {
    { .kind = FW_WEAK_PUSH, .part = { FW_PART_LINK, 0 }, .from = 5.5, .to = 7.5, .worst = 6.6 },
    { .kind = FW_SNAP, .part = { FW_PART_MEMBER, 0 }, .from = 0.1, .to = 1, .worst = 0.5 },
    { .kind = FW_HITS, .part = { FW_PART_MEMBER, 1 }, .from = 0.9, .to = 2, .worst = 1 },
    { .kind = FW_MAY_FLIP, .part = { FW_PART_MEMBER, 2 }, .from = 3, .to = 3.01, .worst = 3 },
    { .kind = FW_CANNOT_CLOSE, .part = { FW_PART_LINK, 1 }, .from = 0, .to = 2 * G_PI, .worst = 1 },
    { .kind = FW_PAST_STOP, .part = { FW_PART_MEMBER, 3 }, .from = 3.2, .to = 4, .worst = 4 }
  };
  FwTroubleList list = { items, N, N, false };
  const double widths[N] = { 90, 90, 90, 90, 90, 90 };
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwBox page = { 0, 0, 1000, 250 };
  FwStripBand bands[FW_MOST_BANDS];
  int lanes, n = fw_strip_bands (&list, &style, page, widths, 4, bands, FW_MOST_BANDS, &lanes);
  FwStripField f = fw_strip_field (&style, page, lanes);
  g_assert_cmpint (n, ==, N + 1); /* the first runs across 360 degrees and has two stretches */
  g_assert_cmpint (bands[0].trouble, ==, 0);
  g_assert_cmpint (bands[1].trouble, ==, 0);
  g_assert_cmpint (bands[0].lane, ==, bands[1].lane);
  g_assert_cmpfloat_with_epsilon (bands[0].to, f.right, 1e-6);
  g_assert_cmpfloat_with_epsilon (bands[1].from, f.left, 1e-6);
  g_assert_cmpfloat_with_epsilon (bands[1].to, fw_strip_x (&style, page, 7.5 - 2 * G_PI), 1e-6);
  g_assert_true (isnan (bands[0].worst) && isfinite (bands[1].worst));
  for (int i = 0; i < n; i++)
    for (int k = 0; k < i; k++)
      if (bands[i].lane >= 0 && bands[i].lane == bands[k].lane)
        g_assert_true (bands[i].from >= bands[k].to || bands[i].to <= bands[k].from);
}

static void
flags_come_in_order_of_the_crank (void)
{
  Stage *s = stage_new (short_heron_design (), 0);
  FwFlag flags[200];
  FwStripState state
      = { .curves = { { FW_Q_ANGLE, 0 }, { FW_Q_BODY_Z, 0 }, { FW_Q_ANGLE, 999 } }, .n_curves = 3 };
  int n = fw_strip_flags (&s->scene, &state, flags, 200);
  int turning = 0, worst = 0;
  g_assert_cmpint (n, >=, 4);
  for (int i = 0; i < n; i++)
    {
      g_assert_true (flags[i].crank >= 0 && flags[i].crank <= 2 * G_PI);
      g_assert_true (i == 0 || flags[i].crank >= flags[i - 1].crank);
      turning += flags[i].kind == FW_FLAG_TURNING;
      worst += flags[i].kind == FW_FLAG_WORST;
    }
  g_assert_cmpint (turning, >=, 4); /* the body and the wing each turn at top and bottom */
  g_assert_cmpint (worst, ==, s->troubles.n);
  g_assert_cmpint (fw_strip_flags (&s->scene, &state, flags, 3), <=, 3);
  stage_free (s);
}

static void
the_ruler_reads_both_ways (void)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwBox page = { 30, 0, 1200, 200 };
  for (double crank = 0; crank <= 2 * G_PI; crank += 0.1)
    g_assert_cmpfloat_with_epsilon (fw_strip_crank (&style, page, fw_strip_x (&style, page, crank)),
                                    crank, 1e-9);
  g_assert_cmpfloat (fw_strip_crank (&style, page, -1000), ==, 0);
  g_assert_cmpfloat_with_epsilon (fw_strip_crank (&style, page, 1e6), 2 * G_PI, 1e-12);
}

/* Words as large as a desktop may ask for. */
static void
words_twice_as_large_keep_apart (void)
{
  check_views (heron_design (), 2);
  check_views (short_heron_design (), 2);
}

static void
strip_words_twice_as_large_keep_apart (void)
{
  check_strips (heron_design (), 2);
  check_strips (short_heron_design (), 2);
}

/* Relative luminance and contrast ratio as WCAG 2.2 defines them (W3C Recommendation, section "Relative
 * luminance"); what is asked for by its success criteria 1.4.6 (7:1, text) and 1.4.11 (3:1, what is no text). */
static double
linear (double c)
{
  return c <= 0.04045 ? c / 12.92 : pow ((c + 0.055) / 1.055, 2.4);
}

static double
luminance (FwColour c)
{
  return 0.2126 * linear (c.r) + 0.7152 * linear (c.g) + 0.0722 * linear (c.b);
}

static double
contrast (FwColour a, FwColour b)
{
  double la = luminance (a), lb = luminance (b);
  return (fmax (la, lb) + 0.05) / (fmin (la, lb) + 0.05);
}

static void
colours_of_high_contrast_stand_out (void)
{
  static const FwTheme themes[] = { FW_THEME_LIGHT_CONTRAST, FW_THEME_DARK_CONTRAST };
  for (guint t = 0; t < G_N_ELEMENTS (themes); t++)
    {
      FwStyle s = fw_style (themes[t], 1), plain = fw_style (FW_THEME_LIGHT, 1);
      const FwColour words[] = { s.ink, s.faint_ink, s.motion, s.trouble, s.remark, s.highlight };
      for (guint i = 0; i < G_N_ELEMENTS (words); i++)
        {
          g_assert_cmpfloat (contrast (words[i], s.ground), >=, 7);
          g_assert_cmpfloat (contrast (words[i], s.panel_ground), >=, 7);
        }
      g_assert_cmpfloat (contrast (s.grid, s.ground), >=, 3);
      g_assert_cmpfloat (s.thin, >, plain.thin);
      g_assert_cmpfloat (fabs (s.wide / s.thin - 2), <, 1e-9); /* ISO 128: 2 to 1 */
      FwMaterialLook paper = fw_material_look ("paper", themes[t]);
      g_assert_cmpfloat (contrast (paper.edge, s.ground), >=, 7);
    }
}

static void
words_of_the_plain_themes_can_be_read (void)
{
  static const FwTheme themes[] = { FW_THEME_LIGHT, FW_THEME_DARK, FW_THEME_PRINT };
  for (guint t = 0; t < G_N_ELEMENTS (themes); t++)
    {
      FwStyle s = fw_style (themes[t], 1);
      const FwColour words[] = { s.ink, s.faint_ink, s.motion, s.trouble };
      /* 1.4.3: 4.5:1 */
      for (guint i = 0; i < G_N_ELEMENTS (words); i++)
        g_assert_cmpfloat (contrast (words[i], s.ground), >=, 4.5);
    }
}

/* In a frame of a turn the marks of what is wrong at other angles would be noise. */
static void
a_frame_marks_only_the_trouble_of_its_angle (void)
{
  Stage *s = stage_new (short_heron_design (), 0);
  FwTilted boxes[MOST];
  const FwBox page = { 0, 0, 900, 700 };
  FwStyle style = fw_style (FW_THEME_PRINT, 1);
  FwCamera camera = fw_camera_fit (FW_VIEW_FRONT, fw_view_extent (&s->scene, FW_VIEW_FRONT), page, 40);
  int fewer = 0;
  for (int step = 0; step < 12; step++)
    {
      int holds = 0;
      stage_turn_to (s, 30 * step);
      for (int i = 0; i < s->scene.troubles->n; i++)
        holds += fw_trouble_holds (&s->scene.troubles->items[i], s->pose->crank);
      int all = fw_view_label_boxes (&s->scene, &camera, &style, page, FW_SHOW_TROUBLE, boxes, MOST);
      int here = fw_view_label_boxes (&s->scene, &camera, &style, page, FW_SHOW_TROUBLE | FW_SHOW_TROUBLE_HERE, boxes, MOST);
      g_assert_cmpint (here, <=, all);
      if (holds == 0)
        g_assert_cmpint (here, ==, 0);
      fewer += here < all;
    }
  g_assert_cmpint (fewer, >, 3);
  stage_free (s);
}

/* Whatever the width, until a line has no room for the figure itself. */
static void
no_line_ends_between_a_figure_and_its_unit (void)
{
  static const char *const texts[] = { "Hinge height of tip: 0 mm to -1 mm", "Length of rod: 3 1/2 in to 16 13/64 in",
                                       "Peak torque 0.083 N m, before 12 N m at 36 turns/min" };
  static const char *const parted[] = { "0\n", "1\n", "3\n", "2\n", "6\n", "N\n" };
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  int broken = 0;
  for (guint t = 0; t < G_N_ELEMENTS (texts); t++)
    for (int width = 110; width < 400; width += 3)
      {
        PangoLayout *layout = pango_layout_new (context);
        PangoAttrList *held = fw_unbroken_figures (texts[t]);
        GString *lines = g_string_new (NULL);
        pango_layout_set_text (layout, texts[t], -1);
        pango_layout_set_attributes (layout, held);
        pango_layout_set_width (layout, width * PANGO_SCALE);
        pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
        for (GSList *at = pango_layout_get_lines_readonly (layout); at != NULL; at = at->next)
          {
            const PangoLayoutLine *line = at->data;
            g_autofree char *words = g_strndup (texts[t] + line->start_index, (gsize)line->length);
            g_string_append_printf (lines, "%s\n", g_strchomp (words));
          }
        g_string_truncate (lines, lines->len - 1);
        broken += strchr (lines->str, '\n') != NULL;
        for (guint i = 0; i < G_N_ELEMENTS (parted); i++)
          if (strstr (lines->str, parted[i]) != NULL)
            g_error ("at %d px: %s", width, lines->str);
        g_string_free (lines, TRUE);
        pango_attr_list_unref (held);
        g_object_unref (layout);
      }
  g_assert_cmpint (broken, >, 60);
  g_object_unref (context);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/words/of a view keep apart", view_words_keep_apart);
  g_test_add_func ("/words/of a view keep apart in trouble", view_words_keep_apart_in_trouble);
  g_test_add_func ("/words/of a view keep apart on a small thing",
                   view_words_keep_apart_on_a_small_thing);
  g_test_add_func ("/words/dimensions are there where there is room",
                   dimensions_are_there_where_there_is_room);
  g_test_add_func ("/words/figures have no digit too many", figures_have_no_digit_too_many);
  g_test_add_func ("/words/a frame marks only the trouble of its angle", a_frame_marks_only_the_trouble_of_its_angle);
  g_test_add_func ("/words/no line ends between a figure and its unit", no_line_ends_between_a_figure_and_its_unit);
  g_test_add_func ("/words/of a strip keep apart", strip_words_keep_apart);
  g_test_add_func ("/words/values of all curves are told in a low strip with trouble", values_of_all_curves_are_told_in_a_low_strip_with_trouble);
  g_test_add_func ("/words/a long name is cut in its middle", a_long_name_is_cut_in_its_middle);
  g_test_add_func ("/strip/trouble lanes never overlap and wrap across the turn",
                   trouble_lanes_never_overlap_and_wrap_across_the_turn);
  g_test_add_func ("/strip/flags come in order of the crank", flags_come_in_order_of_the_crank);
  g_test_add_func ("/strip/the ruler reads both ways", the_ruler_reads_both_ways);
  g_test_add_func ("/words/twice as large keep apart", words_twice_as_large_keep_apart);
  g_test_add_func ("/words/of a strip twice as large keep apart", strip_words_twice_as_large_keep_apart);
  g_test_add_func ("/colours/of high contrast stand out as WCAG 2.2 asks", colours_of_high_contrast_stand_out);
  g_test_add_func ("/colours/words of the plain themes can be read", words_of_the_plain_themes_can_be_read);
  return g_test_run ();
}
