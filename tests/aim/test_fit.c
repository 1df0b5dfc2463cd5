/* Planted errors found again from noisy measurements. */
#include "aim/fit.h"

#include <stdlib.h>
#include <string.h>

#include "doc/document.h"
#include "near.h"

static FwDocument *
heron (void)
{
  FwDocument *doc = fw_document_load (DEMOS "/heron.flap", NULL);
  g_assert_nonnull (doc);
  return doc;
}

static FwParam
number (const FwDesign *design, const char *path)
{
  FwParam param;
  g_assert_true (fw_param_from_path (design, path, &param));
  return param;
}

static double
normal (GRand *rand)
{
  return sqrt (-2 * log (1 - g_rand_double (rand))) * cos (2 * G_PI * g_rand_double (rand));
}

/* Angles of both wings' arm and tip and the body's height at so many crank angles. */
static GArray *
measure (const FwDesign *built, int cranks, double angle_sd, double length_sd, double zero_deg, GRand *rand)
{
  FwMechanism *mech = NULL;
  g_assert_cmpint (fw_mechanism_build (built, &mech, NULL), ==, FW_OK);
  FwPose *pose = fw_pose_new (mech);
  GArray *list = g_array_new (FALSE, FALSE, sizeof (FwMeasurement));
  for (int i = 0; i < cranks; i++)
    {
      double crank = 360.0 * i / cranks;
      fw_pose_solve (pose, mech, (crank + zero_deg) * RAD);
      for (int m = 0; m < 4; m++)
        {
          double angle = fw_pose_angle (pose, mech, m) / RAD + angle_sd * normal (rand);
          g_array_append_val (list, ((FwMeasurement){ FW_MEASURED_ANGLE, m, crank, angle }));
        }
      double z = pose->body.z_mm + length_sd * normal (rand);
      g_array_append_val (list, ((FwMeasurement){ FW_MEASURED_Z, 0, crank, z }));
    }
  free (pose);
  fw_mechanism_free (mech);
  return list;
}

static void
test_exact_measurements_give_exact_numbers (void)
{
  GRand *rand = g_rand_new_with_seed (1);
  FwDocument *doc = heron ();
  FwDesign *built = fw_design_copy (fw_document_design (doc));
  FwParam free_numbers[] = { number (built, "rods.arm-rod.length"), number (built, "crank.throws.arm.phase"),
                             number (built, "crank.throws.tip.radius") };
  const double off[] = { -3, 6, 2 };
  for (int i = 0; i < 3; i++)
    fw_param_set (built, free_numbers[i], fw_param_get (built, free_numbers[i]) + off[i]);
  GArray *list = measure (built, 12, 0, 0, 0, rand);
  FwFit fit;
  FwFitWish wish = { .numbers = free_numbers, .n_numbers = 3 };
  g_assert_cmpint (fw_fit (fw_document_design (doc), (void *)list->data, (int)list->len, &wish, &fit), ==, FW_FIT_FOUND);
  for (int i = 0; i < 3; i++)
    {
      assert_near (fit.numbers[i].to, fit.numbers[i].from + off[i], 1e-6);
      assert_near (fit.numbers[i].sure, 0, 1e-5);
    }
  assert_near (fit.angle_after_deg, 0, 1e-6);
  g_assert_cmpfloat (fit.angle_before_deg, >, 1);
  g_array_unref (list);
  fw_design_free (built);
  fw_document_free (doc);
  g_rand_free (rand);
}

/* A 95 % interval holds the truth in 95 of 100 cases: of 600 intervals 570 on average, with a standard
 * deviation of 5.3 if they were independent; four of these are allowed. */
static void
test_intervals_hold_the_truth (void)
{
  GRand *rand = g_rand_new_with_seed (20);
  FwDocument *doc = heron ();
  FwParam list_of[] = { number (fw_document_design (doc), "rods.arm-rod.length"),
                        number (fw_document_design (doc), "crank.throws.tip.phase"),
                        number (fw_document_design (doc), "body.post") };
  int held = 0, runs = 200;
  for (int run = 0; run < runs; run++)
    {
      FwDesign *built = fw_design_copy (fw_document_design (doc));
      double truth[3];
      for (int i = 0; i < 3; i++)
        {
          truth[i] = fw_param_get (built, list_of[i]) + 3 * normal (rand);
          fw_param_set (built, list_of[i], truth[i]);
        }
      GArray *list = measure (built, 8, 0.7, 0.7, 0, rand);
      FwFit fit;
      FwFitWish wish = { .numbers = list_of, .n_numbers = 3 };
      g_assert_cmpint (fw_fit (fw_document_design (doc), (void *)list->data, (int)list->len, &wish, &fit), ==, FW_FIT_FOUND);
      for (int i = 0; i < 3; i++)
        held += fabs (fit.numbers[i].to - truth[i]) <= fit.numbers[i].sure;
      g_array_unref (list);
      fw_design_free (built);
    }
  g_test_message ("%d of %d intervals held the truth", held, 3 * runs);
  g_assert_cmpint (held, >=, 570 - 21);
  g_assert_cmpint (held, <=, 570 + 21);
  fw_document_free (doc);
  g_rand_free (rand);
}

static gboolean
names (const FwFit *fit, FwParam param)
{
  for (int i = 0; i < fit->n; i++)
    {
      const FwFitNumber *n = &fit->numbers[i];
      if (!n->name.is_zero && fw_param_equal (n->name.param, param))
        return TRUE;
      for (int k = 0; k < n->n_others; k++)
        if (!n->others[k].is_zero && fw_param_equal (n->others[k].param, param))
          return TRUE;
    }
  return FALSE;
}

/* Nobody says which number is off: the right one is named, or stands among those that explain it as well. */
static void
test_the_number_that_is_off_is_named (void)
{
  static const char *const paths[] = { "rods.arm-rod.length", "crank.throws.arm.phase", "crank.throws.tip.radius",
                                       "rods.tip-rod.length", "crank.throws.body.radius", "panels.tip.hinge.0" };
  GRand *rand = g_rand_new_with_seed (33);
  FwDocument *doc = heron ();
  int found = 0, runs = 0;
  for (gsize k = 0; k < G_N_ELEMENTS (paths); k++)
    for (int sign = -1; sign <= 1; sign += 2)
      {
        FwDesign *built = fw_design_copy (fw_document_design (doc));
        FwParam param = number (built, paths[k]);
        double by = sign * (fw_param_unit (param) == FW_UNIT_DEG ? 6 : 3);
        fw_param_set (built, param, fw_param_get (built, param) + by);
        GArray *list = measure (built, 12, 0.4, 0.4, 0, rand);
        FwFit fit;
        fw_fit (fw_document_design (doc), (void *)list->data, (int)list->len, &(FwFitWish){ 0 }, &fit);
        runs++;
        found += names (&fit, param);
        g_assert_cmpfloat (fit.angle_after_deg, <, 0.6);
        g_assert_cmpint (fit.n, <=, 3);
        g_array_unref (list);
        fw_design_free (built);
      }
  g_test_message ("%d of %d named", found, runs);
  g_assert_cmpint (found, >=, runs - 1);
  fw_document_free (doc);
  g_rand_free (rand);
}

static void
test_a_mark_that_is_off_is_told_apart (void)
{
  GRand *rand = g_rand_new_with_seed (4);
  FwDocument *doc = heron ();
  GArray *list = measure (fw_document_design (doc), 12, 0.3, 0.3, 8, rand);
  FwFit fit;
  fw_fit (fw_document_design (doc), (void *)list->data, (int)list->len, &(FwFitWish){ 0 }, &fit);
  g_assert_cmpint (fit.n, ==, 1);
  g_assert_true (fit.numbers[0].name.is_zero);
  assert_near (fit.numbers[0].to, 8, 0.5);
  g_array_unref (list);
  fw_document_free (doc);
  g_rand_free (rand);
}

static void
test_nothing_is_off (void)
{
  GRand *rand = g_rand_new_with_seed (6);
  FwDocument *doc = heron ();
  int quiet = 0;
  for (int i = 0; i < 20; i++)
    {
      GArray *list = measure (fw_document_design (doc), 12, 0.5, 0.5, 0, rand);
      FwFit fit;
      quiet += fw_fit (fw_document_design (doc), (void *)list->data, (int)list->len, &(FwFitWish){ 0 }, &fit) == FW_FIT_AS_DRAWN;
      g_array_unref (list);
    }
  g_assert_cmpint (quiet, >=, 18);
  fw_document_free (doc);
  g_rand_free (rand);
}

/* All phases together cannot be told from the mark on a wheel, but phases and a rod's length twice can not
 * either: here the same number by two names of its effect. */
static void
test_what_cannot_be_told_apart_is_said (void)
{
  GRand *rand = g_rand_new_with_seed (6);
  FwDocument *doc = heron ();
  GArray *list = measure (fw_document_design (doc), 12, 0.2, 0.2, 0, rand);
  FwParam same[] = { number (fw_document_design (doc), "body.post"), number (fw_document_design (doc), "rods.arm-rod.near") };
  FwFit fit;
  FwFitWish wish = { .numbers = same, .n_numbers = 2 };
  g_assert_cmpint (fw_fit (fw_document_design (doc), (void *)list->data, (int)list->len, &wish, &fit), ==, FW_FIT_CANNOT_TELL);
  g_assert_true (fw_param_equal (fit.numbers[0].name.param, same[1]));
  wish.n_numbers = 2;
  g_assert_cmpint (fw_fit (fw_document_design (doc), (void *)list->data, 2, &wish, &fit), ==, FW_FIT_TOO_FEW);
  g_array_unref (list);
  fw_document_free (doc);
  g_rand_free (rand);
}

/* Student's t, upper 2.5 %: table values as handbooks print them (Abramowitz and Stegun, table 26.10; from
 * memory). */
static void
test_students_t (void)
{
  const struct { int freedom; double t; } table[] = { { 1, 12.706 }, { 2, 4.303 }, { 3, 3.182 }, { 4, 2.776 },
    { 5, 2.571 }, { 10, 2.228 }, { 20, 2.086 }, { 30, 2.042 }, { 120, 1.980 } };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    assert_near (fw_student_975 (table[i].freedom), table[i].t, table[i].freedom == 3 ? 0.01 : 0.003);
}

static void
refuse (const FwMechanism *mech, const char *text, const char *part)
{
  GError *error = NULL;
  g_assert_null (fw_measured_read (text, "M.csv", mech, &error));
  g_assert_nonnull (strstr (error->message, part));
  g_assert_true (g_str_has_prefix (error->message, "M.csv:"));
  g_assert_null (strchr (error->message, '\n'));
  g_error_free (error);
}

static void
test_tables (void)
{
  FwDocument *doc = heron ();
  FwMechanism *mech = NULL;
  g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), &mech, NULL), ==, FW_OK);
  GArray *list = fw_measured_read ("crank_deg, arm.right.angle_deg ,\"body.z_mm\",tip.left.tip_z_mm\r\n90,1.5,,2e1\r\n\r\n0,,410,\n",
                                   "M.csv", mech, NULL);
  g_assert_nonnull (list);
  g_assert_cmpint (list->len, ==, 3);
  const FwMeasurement *m = (void *)list->data;
  g_assert_true (m[0].kind == FW_MEASURED_Z && m[0].crank_deg == 0 && m[0].value == 410);
  g_assert_true (m[1].crank_deg == 90 && m[2].crank_deg == 90);
  g_array_unref (list);
  refuse (mech, "", "measured");
  refuse (mech, "crank_deg\n0\n", "measured");
  refuse (mech, "arm.right.angle_deg\n0\n", "line 1");
  refuse (mech, "crank_deg,nobody.angle_deg\n0,1\n", "nobody.angle_deg");
  refuse (mech, "crank_deg,body.z_mm,body.z_mm\n0,1,1\n", "twice");
  refuse (mech, "crank_deg,body.z_mm\n0,nan\n", "line 2");
  refuse (mech, "crank_deg,body.z_mm\n0,inf\n", "line 2");
  refuse (mech, "crank_deg,body.z_mm\n0,0x10\n", "line 2");
  refuse (mech, "crank_deg,body.z_mm\n0,1\n,1\n", "line 3");
  refuse (mech, "crank_deg,body.z_mm\n0,1,2\n", "line 2");
  refuse (mech, "crank_deg,body.z_mm\n0,1e9\n", "line 2");
  refuse (mech, "crank_deg,\xff\n0,1\n", "UTF-8");
  fw_mechanism_free (mech);
  fw_document_free (doc);
}

/* A tip's height, by its own route: what `turn` would print plus geometry of the panel's frame. */
static void
test_tip_heights_fit_too (void)
{
  FwDocument *doc = heron ();
  FwDesign *built = fw_design_copy (fw_document_design (doc));
  FwParam param = number (built, "rods.arm-rod.length");
  fw_param_set (built, param, fw_param_get (built, param) - 4);
  FwMechanism *mech = NULL;
  g_assert_cmpint (fw_mechanism_build (built, &mech, NULL), ==, FW_OK);
  FwPose *pose = fw_pose_new (mech);
  GArray *list = g_array_new (FALSE, FALSE, sizeof (FwMeasurement));
  for (int i = 0; i < 8; i++)
    {
      fw_pose_solve (pose, mech, i * G_PI / 4);
      FwVec3 tip = fw_frame_to_world (&pose->members[2].motion.at, (FwVec3){ mech->members[2].span_mm, 0, 0 });
      g_array_append_val (list, ((FwMeasurement){ FW_MEASURED_TIP_Z, 2, i * 45.0, tip.z }));
      g_array_append_val (list, ((FwMeasurement){ FW_MEASURED_TIP_X, 2, i * 45.0, tip.x }));
    }
  FwFit fit;
  FwFitWish wish = { .numbers = &param, .n_numbers = 1 };
  g_assert_cmpint (fw_fit (fw_document_design (doc), (void *)list->data, (int)list->len, &wish, &fit), ==, FW_FIT_FOUND);
  assert_near (fit.numbers[0].to, fit.numbers[0].from - 4, 1e-6);
  g_array_unref (list);
  free (pose);
  fw_mechanism_free (mech);
  fw_design_free (built);
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/exact measurements give exact numbers", test_exact_measurements_give_exact_numbers);
  g_test_add_func ("/fit/95 of 100 intervals hold the truth", test_intervals_hold_the_truth);
  g_test_add_func ("/fit/the number that is off is named", test_the_number_that_is_off_is_named);
  g_test_add_func ("/fit/a mark that is off is told apart from parts", test_a_mark_that_is_off_is_told_apart);
  g_test_add_func ("/fit/what is as drawn is left as drawn", test_nothing_is_off);
  g_test_add_func ("/fit/numbers that cannot be told apart are said", test_what_cannot_be_told_apart_is_said);
  g_test_add_func ("/fit/heights of tips fit too", test_tip_heights_fit_too);
  g_test_add_func ("/fit/quantiles of Student's t are those of the tables", test_students_t);
  g_test_add_func ("/fit/tables are read strictly", test_tables);
  return g_test_run ();
}
