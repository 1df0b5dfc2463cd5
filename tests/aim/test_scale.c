/* The same motion at another size: exponents of similar machines, other stock, and where it stops. */
#include "aim/scale.h"

#include <stdlib.h>

#include "near.h"

static FwDocument *
load (const char *name)
{
  g_autofree char *file = g_strconcat (name, ".flap", NULL);
  g_autofree char *path = g_build_filename (DEMOS, file, NULL);
  FwDocument *doc = fw_document_load (path, NULL);
  g_assert_nonnull (doc);
  return doc;
}

static FwDocument *
scaled (const FwDocument *doc, FwScaleWish wish)
{
  GError *error = NULL;
  FwDocument *big = fw_scale (doc, &wish, &error);
  g_assert_no_error (error);
  return big;
}

static const char *const demos[] = { "dragonfly", "heron", "manta", "moth", "owl" };

static void
assert_similar_motion (const FwDesign *small, const FwDesign *big, double factor)
{
  FwMechanism *a = NULL, *b = NULL;
  g_assert_cmpint (fw_mechanism_build (small, &a, NULL), ==, FW_OK);
  g_assert_cmpint (fw_mechanism_build (big, &b, NULL), ==, FW_OK);
  FwTurn *x = fw_turn_new (a, 72), *y = fw_turn_new (b, 72);
  fw_turn_solve (x, a);
  fw_turn_solve (y, b);
  for (int i = 0; i < fw_quantity_count (a); i++)
    {
      FwQuantity q = fw_quantity_nth (a, i);
      double by = q.kind == FW_Q_BODY_H || q.kind == FW_Q_BODY_Z ? factor : 1;
      const double *row = fw_turn_row (x, a, q), *other = fw_turn_row (y, b, q);
      for (int k = 0; k < 72; k++)
        if (isnan (row[k])) /* what hangs has no other root */
          g_assert_true (isnan (other[k]));
        else
          assert_near (other[k], by * row[k], 1e-8 * (1 + fabs (by * row[k])));
    }
  free (x);
  free (y);
  fw_mechanism_free (a);
  fw_mechanism_free (b);
}

static void
test_motion_is_similar (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    for (int k = 0; k < 3; k++)
      {
        double factor = k == 0 ? 4 : k == 1 ? 0.5 : 2.54;
        FwDocument *doc = load (demos[i]), *big = scaled (doc, (FwScaleWish){ .factor = factor });
        assert_similar_motion (fw_document_design (doc), fw_document_design (big), factor);
        fw_document_free (doc);
        fw_document_free (big);
      }
}

/* Similar machines of the same stuff whose speed goes by Froude's rule: weight and inertia forces both go
 * with the cube of the size; what follows from beams is dimensional analysis (F L^3 / E I and so on). */
static void
test_exponents_are_exact (void)
{
  const struct { FwSize size; double power; } laws[] = {
    { FW_SIZE_SPAN, 1 }, { FW_SIZE_AREA, 2 }, { FW_SIZE_WEIGHT, 3 }, { FW_SIZE_BASE, 3 }, { FW_SIZE_SPEED, -0.5 },
    { FW_SIZE_TORQUE, 4 }, { FW_SIZE_KNOCK, 3 }, { FW_SIZE_HANDLE, 3 }, { FW_SIZE_POWER, 3.5 }, { FW_SIZE_SAG, 2 },
    { FW_SIZE_STRESS, 1 }, { FW_SIZE_BUCKLING, 1 }, { FW_SIZE_NATURAL, -1 }, { FW_SIZE_CALM, -0.5 }, { FW_SIZE_TILT, 0 },
  };
  int checked = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      const double factor = 3;
      FwDocument *doc = load (demos[i]), *big = scaled (doc, (FwScaleWish){ .factor = factor });
      FwSizing a, b;
      g_assert_true (fw_sizing_of (fw_document_design (doc), &a));
      g_assert_true (fw_sizing_of (fw_document_design (big), &b));
      for (gsize k = 0; k < G_N_ELEMENTS (laws); k++)
        {
          FwSize size = laws[k].size;
          if (isnan (a.value[size]) || a.value[size] == 0)
            continue;
          checked++;
          /* A bar that is pushed bows more than its load grows, and rings lower: a little in a post, much in
           * a thin rod. */
          double power = log (b.value[size] / a.value[size]) / log (factor);
          gboolean bent = size == FW_SIZE_STRESS || size == FW_SIZE_SAG;
          gboolean softens = bent || size == FW_SIZE_NATURAL || size == FW_SIZE_CALM;
          if (softens && a.part[size].kind == FW_PART_LINK)
            assert_near (power, laws[k].power + (bent ? 0.25 : -0.1), 0.25);
          else
            assert_near (power, laws[k].power, bent ? 2e-3 : 1e-6);
        }
      fw_document_free (doc);
      fw_document_free (big);
    }
  g_assert_cmpint (checked, >, 40);
}

/* There and back again. */
static void
test_scaling_back_restores_the_numbers (void)
{
  FwDocument *doc = load ("heron"), *big = scaled (doc, (FwScaleWish){ .factor = 4 });
  FwDocument *back = scaled (big, (FwScaleWish){ .factor = 0.25 });
  const FwDesign *a = fw_document_design (doc), *b = fw_document_design (back);
  int n = fw_design_params (a, NULL, 0);
  FwParam *list = g_new (FwParam, n);
  fw_design_params (a, list, n);
  g_assert_cmpint (fw_design_params (b, NULL, 0), ==, n);
  for (int i = 0; i < n; i++)
    assert_near (fw_param_get (b, list[i]), fw_param_get (a, list[i]), 1e-9 * (1 + fabs (fw_param_get (a, list[i]))));
  g_free (list);
  fw_document_free (doc);
  fw_document_free (big);
  fw_document_free (back);
}

/* A default does not grow, so it is written out. */
static void
test_defaults_are_written_out (void)
{
  static const char text[]
      = "{\"format\":\"flapwright design\",\"version\":1,\"crank\":{\"runs\":\"across\",\"throws\":"
        "[{\"name\":\"a\",\"radius\":20}]},\"body\":{\"ride\":\"rail\",\"throw\":\"a\",\"rod\":100,\"offset\":0},"
        "\"panels\":[{\"name\":\"w\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[10,0,0],\"span\":90}],"
        "\"rods\":[{\"name\":\"r\",\"side\":\"both\",\"from\":{\"base\":[60,0,100]},\"to\":{\"panel\":\"w\",\"at\":[50,0,0]},"
        "\"length\":30}],\"spread\":{\"rods.r.length\":0.5}}";
  FwDocument *doc = fw_document_new_from_text (text, -1, "test", NULL);
  g_assert_nonnull (doc);
  FwDocument *big = scaled (doc, (FwScaleWish){ .factor = 4 });
  const FwDesign *d = fw_document_design (big);
  assert_near (d->crank.diameter_mm, 32, 1e-12);
  assert_near (d->crank.throws[0].width_mm, 80, 1e-12);
  assert_near (d->body.diameter_mm, 32, 1e-12);
  assert_near (d->panels[0].thickness_mm, 8, 1e-12);
  assert_near (d->rods[0].diameter_mm, 12, 1e-12);
  assert_near (d->base.handle_mm, 240, 1e-12);
  assert_near (d->crank.turns_per_minute, 15, 1e-12);
  g_autofree char *told = fw_document_to_text (big);
  g_assert_nonnull (strstr (told, "\"rods.r.length\": 0.5"));
  fw_document_free (doc);
  fw_document_free (big);
}

/* Other sheet: by hand from area, density and thickness of data/materials.json. */
static void
test_other_sheet_weighs_what_it_weighs (void)
{
  FwDocument *doc = load ("moth");
  FwDocument *card = scaled (doc, (FwScaleWish){ .factor = 2, .sheet = { "birch ply", 4, 0 } });
  FwDocument *thick = scaled (doc, (FwScaleWish){ .factor = 2, .sheet = { "birch ply", 6, 0 } });
  FwSizing a, b;
  g_assert_true (fw_sizing_of (fw_document_design (card), &a));
  g_assert_true (fw_sizing_of (fw_document_design (thick), &b));
  double density = fw_document_design (card)->panels[0].stuff.density_kgm3;
  g_assert_cmpfloat (density, >, 400);
  /* 2 mm more of it over all the area, in g. */
  assert_near (b.value[FW_SIZE_WEIGHT] - a.value[FW_SIZE_WEIGHT], a.value[FW_SIZE_AREA] * density * 0.002 * 1000,
               1e-6 * b.value[FW_SIZE_WEIGHT]);
  fw_document_free (doc);
  fw_document_free (card);
  fw_document_free (thick);
}

static void
test_speed_is_kept_if_asked (void)
{
  FwDocument *doc = load ("moth"), *big = scaled (doc, (FwScaleWish){ .factor = 4, .keep_speed = TRUE });
  assert_near (fw_document_design (big)->crank.turns_per_minute, fw_document_design (doc)->crank.turns_per_minute, 0);
  fw_document_free (doc);
  fw_document_free (big);
}

/* Stress over what is allowed grows with the size, and so does push over Euler's load: what begins first
 * begins where its law says. */
static void
test_limits_stand_where_the_laws_say (void)
{
  int checked = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      FwDocument *doc = load (demos[i]);
      FwScaleWish wish = { .factor = 5 };
      FwScaleLimit list[64];
      FwSizing s;
      g_assert_true (fw_sizing_of (fw_document_design (doc), &s));
      int n = fw_scale_limits (doc, &wish, list, 64, NULL, NULL);
      g_assert_cmpint (n, >=, 0);
      double stress = INFINITY, buckle = INFINITY;
      for (int k = 0; k < n; k++)
        {
          g_assert_cmpfloat (list[k].factor, >=, k > 0 ? list[k - 1].factor : 1);
          if (list[k].kind == FW_OVER_STRESS)
            stress = fmin (stress, list[k].factor);
          if (list[k].kind == FW_MAY_BUCKLE)
            buckle = fmin (buckle, list[k].factor);
        }
      if (isfinite (stress))
        {
          checked++;
          assert_near (stress * s.value[FW_SIZE_STRESS], 1, 0.03);
        }
      if (isfinite (buckle))
        {
          checked++;
          assert_near (buckle * s.value[FW_SIZE_BUCKLING] * 3, 1, 0.03);
        }
      fw_document_free (doc);
    }
  g_assert_cmpint (checked, >=, 1);
}

static void
test_nonsense_is_refused (void)
{
  FwDocument *doc = load ("moth");
  const double bad[] = { 0, -2, NAN, INFINITY, 1e5 };
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      GError *error = NULL;
      FwScaleWish wish = { .factor = bad[i] };
      g_assert_null (fw_scale (doc, &wish, &error));
      g_assert_nonnull (error);
      g_assert_null (strchr (error->message, '\n'));
      g_clear_error (&error);
    }
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/scale/the motion stays the same", test_motion_is_similar);
  g_test_add_func ("/scale/every figure grows with its exact power", test_exponents_are_exact);
  g_test_add_func ("/scale/scaling back restores the numbers", test_scaling_back_restores_the_numbers);
  g_test_add_func ("/scale/defaults are written out, spreads stay", test_defaults_are_written_out);
  g_test_add_func ("/scale/other sheet weighs what it weighs", test_other_sheet_weighs_what_it_weighs);
  g_test_add_func ("/scale/the speed is kept if asked", test_speed_is_kept_if_asked);
  g_test_add_func ("/scale/what stops working begins where its law says", test_limits_stand_where_the_laws_say);
  g_test_add_func ("/scale/a factor that makes no sense is refused in one line", test_nonsense_is_refused);
  return g_test_run ();
}
