/* Every quantity there is has words and a drawing; the words of a drawing stay on it and off each other, and figures
 * in drawings are those of the core. */
#include <string.h>

#include "aim/wish.h"
#include "doc/explain.h"
#include "draw/explainpicture.h"
#include "draw/sketches.h"

#define MOST_WORDS 32

static void
check_whole (const FwExplain *e, const char *what, int kind)
{
  if (e == NULL)
    g_error ("%s %d has no explanation", what, kind);
  g_assert_cmpint ((int)strlen (e->title), >, 0);
  g_assert_cmpint ((int)strlen (e->text), >, 20);
  g_assert_nonnull (e->usual);
}

static void
test_complete (void)
{
  for (int k = 0; k < FW_N_PARAM_KINDS; k++)
    check_whole (fw_explain_param ((FwParamKind)k), "number", k);
  for (int k = 0; k < FW_N_CURVE_KINDS; k++)
    check_whole (fw_explain_quantity ((FwQuantityKind)k), "quantity", k);
  for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
    check_whole (fw_explain_trouble ((FwTroubleKind)k), "trouble", k);
  for (int k = 0; k < FW_N_WISH_KINDS; k++)
    check_whole (fw_explain_wish (fw_wish_kind_name ((FwWishKind)k)), "wish", k);
}

/* Against the core: what a slider shows and what the words say has one unit. */
static void
test_units (void)
{
  for (int k = 0; k < FW_N_PARAM_KINDS; k++)
    g_assert_cmpint (fw_explain_param ((FwParamKind)k)->unit, ==, fw_param_unit ((FwParam){ .kind = (FwParamKind)k }));
}

static void
test_once (void)
{
  int n;
  const FwExplain *const *all = fw_explain_all (&n);
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
  for (int i = 0; i < n; i++)
    {
      g_assert_true (g_hash_table_add (ids, (gpointer)all[i]->id));
      g_assert_true (fw_explain_find (all[i]->id) == all[i]);
      g_autoptr (GPtrArray) found = fw_explain_search (all[i]->id);
      g_assert_cmpint ((int)found->len, >=, 1);
      g_assert_true (g_ptr_array_index (found, 0) == all[i]);
    }
}

/* Springs, motors, weights, cutting and tipping: local codes and licensed practice have the last word. */
static void
test_cautions (void)
{
  static const char *const dangerous[] = { "spring-rate", "spring-free", "margin", "counterweight-mass", "plate", "may-tip", "kerf",
                                           "template", "fit", "pinch", "handle", "stress" };
  for (guint i = 0; i < G_N_ELEMENTS (dangerous); i++)
    g_assert_nonnull (fw_explain_caution_words (fw_explain_find (dangerous[i])->caution));
  g_assert_null (fw_explain_caution_words (fw_explain_find ("sweep")->caution));
}

/* ---- Drawings ---- */

static void
check_words (const char *id, const FwSketch *sketch)
{
  FwBox boxes[MOST_WORDS];
  int n = fw_sketch_text_boxes (sketch, boxes, MOST_WORDS);
  g_assert_cmpint (n, <=, MOST_WORDS);
  for (int i = 0; i < n; i++)
    {
      const FwBox *a = &boxes[i];
      if (a->x < 1 || a->y < 0 || a->x + a->width > FW_SKETCH_WIDTH - 1 || a->y + a->height > FW_SKETCH_HEIGHT)
        g_error ("%s: words %d run out of the drawing", id, i);
      for (int k = 0; k < i; k++)
        {
          const FwBox *b = &boxes[k];
          if (a->x < b->x + b->width && b->x < a->x + a->width && a->y + 2 < b->y + b->height && b->y + 2 < a->y + a->height)
            g_error ("%s: words %d and %d cover each other", id, k, i);
        }
    }
}

static void
test_words_apart (void)
{
  int n;
  const FwExplain *const *all = fw_explain_all (&n);
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  for (int i = 0; i < n; i++)
    {
      FwSketch *sketch = fw_explain_sketch (all[i]->id, &style);
      if (sketch == NULL)
        g_error ("%s has no drawing", all[i]->id);
      check_words (all[i]->id, sketch);
      FwBox reach = fw_sketch_reach (sketch);
      g_assert_cmpfloat (reach.width, >, 40);
      fw_sketch_free (sketch);
    }
}

/* How much of the picture is not the ground. */
static int
count_ink (const char *id, FwTheme theme, int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  FwStyle style = fw_style (theme, 1);
  int ink = 0;
  fw_draw_explain (cr, id, &style, (FwBox){ 0, 0, width, height });
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  const unsigned char *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  const guint32 ground = *(const guint32 *)(data + stride * (height - 1) + 4 * (width - 1)) & 0xffffff;
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      ink += (*(const guint32 *)(data + stride * y + 4 * x) & 0xffffff) != ground;
  cairo_surface_destroy (surface);
  return ink;
}

static void
test_painted (void)
{
  static const FwTheme themes[] = { FW_THEME_LIGHT, FW_THEME_DARK, FW_THEME_PRINT };
  int n;
  const FwExplain *const *all = fw_explain_all (&n);
  for (int i = 0; i < n; i++)
    g_assert_cmpint (count_ink (all[i]->id, themes[i % 3], 240, 150), >, 400);
  g_assert_cmpint (count_ink ("push-angle", FW_THEME_LIGHT, 480, 300), >, 2 * count_ink ("push-angle", FW_THEME_LIGHT, 240, 150));
  g_assert_cmpint (count_ink ("no such word", FW_THEME_LIGHT, 240, 150), ==, 0);
}

/* The push angle that is written is that of the triangle drawn: the angle at the hold between rod and panel, whose
 * sine is what law of sines and cosines give (plane geometry, no part of the core). */
static void
test_push_is_true (void)
{
  FwSketchWing wing = fw_sketch_wing;
  for (wing.crank_deg = 0; wing.crank_deg < 360; wing.crank_deg += 15)
    {
      FwSketchPose pose;
      fw_sketch_wing_solve (&wing, &pose);
      double a = fw_vec2_distance (pose.hold, pose.pin), b = wing.hold_px, c = fw_vec2_distance (wing.hinge, pose.pin);
      double cosine = (a * a + b * b - c * c) / (2 * a * b);
      g_assert_cmpfloat_with_epsilon (a, wing.rod_px, 1e-6);
      g_assert_cmpfloat_with_epsilon (sin (pose.push_deg * G_PI / 180), sqrt (1 - cosine * cosine), 1e-6);
      g_assert_cmpfloat_with_epsilon (fw_vec2_distance (pose.other_hold, pose.pin), wing.rod_px, 1e-6);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/explain/every number, quantity, trouble and wish has words", test_complete);
  g_test_add_func ("/explain/the unit told is the unit of the slider", test_units);
  g_test_add_func ("/explain/no word is there twice, and each is found by its name", test_once);
  g_test_add_func ("/explain/what can hurt says so and defers to local codes", test_cautions);
  g_test_add_func ("/explain/every word has a drawing whose words stay on it and off each other", test_words_apart);
  g_test_add_func ("/explain/every drawing is painted, in light, dark and print, and at twice the size", test_painted);
  g_test_add_func ("/explain/angles of a drawn wing are those of its triangle", test_push_is_true);
  return g_test_run ();
}
