/* Exact derivatives by the design's numbers against differences of the solver, on random designs. */
#include "core/sensitivity.h"

#include "build_design.h"
#include "near.h"
#include "random_design.h"

typedef struct
{
  FwDesign *design;
  FwMechanism *mech;
  FwPose *pose;
} Solved;

static gboolean
solve (Solved *s, const FwDesign *design, FwParam param, double step, double crank)
{
  *s = (Solved) { .design = fw_design_copy (design) };
  fw_param_set (s->design, param, fw_param_get (s->design, param) + step);
  if (fw_mechanism_build (s->design, &s->mech, NULL) != FW_OK)
    return FALSE;
  s->pose = fw_pose_new (s->mech);
  fw_pose_solve (s->pose, s->mech, crank);
  return TRUE;
}

static void
done (Solved *s)
{
  free (s->pose);
  fw_mechanism_free (s->mech);
  fw_design_free (s->design);
}

/* The design with one number a little off, six ways, solved once for all that is asked of it. */
#define STEP 1e-3

typedef struct
{
  Solved at[6]; /* at -4, -2, -1, 1, 2 and 4 steps */
  gboolean good[6];
} Around;

static void
look_around (Around *a, const FwDesign *design, FwParam param, double crank)
{
  static const double steps[6] = { -4, -2, -1, 1, 2, 4 };
  for (int i = 0; i < 6; i++)
    a->good[i] = solve (&a->at[i], design, param, steps[i] * STEP, crank);
}

static void
around_done (Around *a)
{
  for (int i = 0; i < 6; i++)
    done (&a->at[i]);
}

/* Fourth-order central difference of a quantity, or of a missing length (`missing` >= 0). */
static gboolean
difference (const Around *a, FwQuantity q, int missing, gboolean wide, double *out)
{
  static const int which[2][4] = { { 1, 2, 3, 4 }, { 0, 1, 4, 5 } };
  static const double weights[4] = { 1, -8, 8, -1 };
  double sum = 0, first = NAN;
  for (int i = 0; i < 4; i++)
    {
      const Solved *s = &a->at[which[wide][i]];
      if (!a->good[which[wide][i]])
        return FALSE;
      double value = missing < 0    ? fw_quantity_value (s->pose, s->mech, q)
                     : missing == 0 ? s->pose->body.missing_mm
                                    : s->pose->members[missing - 1].missing_mm;
      if (isnan (first))
        first = value;
      if (isnan (value)
          || (missing < 0 && q.kind == FW_Q_ANGLE && fabs (value - first) >= 0.05)) /* the root flips */
        return FALSE;
      sum += weights[i] * value;
    }
  *out = sum / (12 * STEP * (wide ? 2 : 1));
  return TRUE;
}

/* A kink (|x| through 0) or a root of infinite slope lies near: two steps tell. */
static gboolean
smooth_difference (const Around *a, FwQuantity q, int missing, double *out)
{
  double by;
  return difference (a, q, missing, TRUE, &by) && difference (a, q, missing, FALSE, out)
         && fabs (by - *out) <= 1e-7 * (1 + fabs (*out));
}

static int
check_number (const Rig *rig, const FwSensitivity *s, const FwDesign *design, double crank, int k, gboolean closed,
              const double *exact)
{
  FwParam param = s->params[k];
  int checked = 0;
  Around around;
  look_around (&around, design, param, crank);
  for (int i = 0; i < fw_quantity_count (rig->mechanism); i++)
    {
      FwQuantity q = fw_quantity_nth (rig->mechanism, i);
      double by, is = exact[i * s->n + k];
      if (isnan (is) || !smooth_difference (&around, q, -1, &by))
        continue;
      if (!(fabs (by - is) <= 2e-6 * (1 + fabs (by))))
        g_error ("quantity %d/%d by number %d/%d/%d: exact %.10g, difference %.10g", q.kind, q.index, param.kind,
                 param.index, param.component, is, by);
      checked++;
    }
  for (int member = 0; member <= rig->mechanism->n_members && !closed; member++)
    {
      double by;
      gboolean is_short = member == 0 ? rig->pose->body.closure == FW_SHORT
                                      : rig->pose->members[member - 1].closure == FW_SHORT;
      if (!is_short || !smooth_difference (&around, (FwQuantity) { 0, 0 }, member, &by))
        continue;
      assert_near (s->missing[member * s->n + k], by, 2e-6 * (1 + fabs (by)));
      checked++;
    }
  around_done (&around);
  return checked;
}

static int
check_design (const FwDesign *design, double crank, gboolean *closed)
{
  FwParam params[400];
  int n = fw_design_params (design, params, 400), checked = 0;
  Rig rig = rig_new (fw_design_copy (design));
  int count = fw_quantity_count (rig.mechanism);
  FwSensitivity *s = fw_sensitivity_new (rig.mechanism, params, n);
  double *exact = g_new (double, n * count);
  fw_pose_solve (rig.pose, rig.mechanism, crank);
  *closed = fw_pose_closes (rig.pose, rig.mechanism);
  g_assert_true (fw_sensitivity_solve (s, rig.mechanism, rig.pose));
  for (int i = 0; i < count; i++)
    if (!fw_sensitivity_quantity (s, rig.mechanism, rig.pose, fw_quantity_nth (rig.mechanism, i), &exact[i * n]))
      for (int k = 0; k < n; k++)
        exact[i * n + k] = NAN; /* rates are not covered */
  for (int k = 0; k < n; k++)
    checked += check_number (&rig, s, design, crank, k, *closed, exact);
  g_free (exact);
  free (s);
  rig_free (&rig);
  return checked;
}

static void
test_random_designs (void)
{
  GRand *rand = g_rand_new_with_seed (11);
  int checked = 0, open = 0;
  for (int i = random_rounds (12); i > 0; i--)
    {
      RandomWish wish = RANDOM_ANY;
      wish.ride = i % 4;
      FwDesign *design = random_design (rand, wish);
      for (int turn = 0; turn < 2; turn++)
        {
          gboolean closed;
          checked += check_design (design, g_rand_double_range (rand, 0, 2 * G_PI), &closed);
          open += closed ? 0 : 1;
        }
      fw_design_free (design);
    }
  g_rand_free (rand);
  g_test_message ("%d derivatives compared, %d poses not assembled", checked, open);
  g_assert_cmpint (checked, >, 20000);
  g_assert_cmpint (open, >, 2);
}

/* A hanging panel's angle is differenced; what it carries must follow. */
static void
test_hanging (void)
{
  FwDesign *d = build_heron ();
  int tag = build_panel (d, "tag", FW_SIDE_BOTH, 0, fw_vec3 (150, 0, 0), 60);
  build_mass (d, tag, 40, 20, 5, -6);
  build_panel (d, "tassel", FW_SIDE_BOTH, tag, fw_vec3 (60, 0, 0), 30);
  build_mass (d, tag + 1, 10, 12, 0, 2);
  gboolean closed;
  g_assert_cmpint (check_design (d, 1.1, &closed), >, 500);
  fw_design_free (d);
}

/* By hand: a fixed body, a crank that stands still at radius 0, everything in one plane. Then
 * dangle/dlength = 1 / (lever of the rod about the hinge). */
static void
test_by_hand (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "t", 0, 0, 0);
  build_fixed (d, 0, 0, 300, 0);
  int panel = build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 200);
  build_rod (d, "rod", FW_SIDE_RIGHT, from_throw (0), panel, fw_vec3 (100, 0, 0), hypot (100, 300), 0);
  Rig rig = rig_new (d);
  FwParam length = { FW_PARAM_ROD_LENGTH, 0, 0 };
  FwSensitivity *s = fw_sensitivity_new (rig.mechanism, &length, 1);
  fw_pose_solve (rig.pose, rig.mechanism, 0);
  g_assert_true (fw_sensitivity_solve (s, rig.mechanism, rig.pose));
  /* The rod from (0, 0) to (100, 300) pulls on the hinge (0, 300) with a lever of 100 * 300 / length. */
  assert_near (s->angles[0], hypot (100, 300) / (100 * 300), 1e-12);
  free (s);
  rig_free (&rig);
}

/* The peak of a curve moves as the curve does where it peaks. */
static void
test_peaks (void)
{
  FwDesign *d = build_heron ();
  FwParam params[400];
  int n = fw_design_params (d, params, 400);
  Rig rig = rig_new (fw_design_copy (d));
  FwTurn *turn = fw_turn_new (rig.mechanism, 360);
  FwSensitivity *s = fw_sensitivity_new (rig.mechanism, params, n);
  double *exact = g_new (double, n);
  FwQuantity q = { FW_Q_ANGLE, 0 };
  FwExtreme least, most, low, high;
  fw_turn_solve (turn, rig.mechanism);
  g_assert_true (fw_turn_extremes (turn, rig.mechanism, q, &least, &most));
  fw_pose_solve (rig.pose, rig.mechanism, most.crank);
  g_assert_true (fw_sensitivity_solve (s, rig.mechanism, rig.pose));
  fw_sensitivity_quantity (s, rig.mechanism, rig.pose, q, exact);
  for (int k = 0; k < n; k++)
    {
      double peaks[2];
      for (int i = 0; i < 2; i++)
        {
          Solved other;
          g_assert_true (solve (&other, d, params[k], i ? 0.01 : -0.01, 0));
          FwTurn *t = fw_turn_new (other.mech, 360);
          fw_turn_solve (t, other.mech);
          g_assert_true (fw_turn_extremes (t, other.mech, q, &low, &high));
          peaks[i] = high.value;
          free (t);
          done (&other);
        }
      assert_near (exact[k], (peaks[1] - peaks[0]) / 0.02, 1e-7);
    }
  g_free (exact);
  free (s);
  free (turn);
  rig_free (&rig);
  fw_design_free (d);
}

/* A body that its rod or link does not reach: what is missing follows every number of the body, on each side on which
 * it may be missing. */
static void
test_open_bodies (void)
{
  FwDesign *designs[6];
  for (int i = 0; i < 6; i++)
    {
      designs[i] = build_design (i % 2 ? FW_RUNS_ALONG : FW_RUNS_ACROSS);
      build_throw (designs[i], "t", 40, 20, 10);
    }
  build_rail (designs[0], 0, 30, 95);
  build_rail (designs[1], 0, 30, -95);
  build_rocker (designs[2], 0, 300, 400, 100, 60, 150); /* the pivot is too far away */
  build_rocker (designs[3], 0, 400, 60, 60, 50, 300);   /* the post holds the link beyond its reach */
  build_rocker (designs[4], 0, 400, 100, 100, 500, 60); /* the link is too long: the post points away */
  build_rocker (designs[5], 0, 400, -100, 100, 500, 60);
  for (int i = 0; i < 6; i++)
    {
      gboolean closed;
      g_assert_cmpint (check_design (designs[i], 1.3, &closed), >=, 10);
      g_assert_false (closed);
      fw_design_free (designs[i]);
    }
}

/* What hangs follows a number at the edge of what is allowed too: by the side that is. */
static void
test_hanging_at_the_edge (void)
{
  FwDesign *d = build_heron ();
  int tag = build_panel (d, "tag", FW_SIDE_RIGHT, 0, fw_vec3 (150, 0, 0), 60);
  build_mass (d, tag, 40, 20, 5, -6);
  d->crank.throws[1].radius_mm = 0;
  d->rods[1].bend_limit_deg = 90;
  const FwParam at_edge[3] = { { FW_PARAM_THROW_RADIUS, 1, 0 }, { FW_PARAM_ROD_BEND_LIMIT, 1, 0 }, { FW_PARAM_PANEL_CANT, tag, 0 } };
  double lower, upper;
  fw_param_limits (d, at_edge[0], &lower, &upper);
  assert_near (lower, 0, 0);
  fw_param_limits (d, at_edge[1], &lower, &upper);
  assert_near (upper, 90, 0);
  Rig rig = rig_new (fw_design_copy (d));
  int member = rig.mechanism->n_members - 1;
  g_assert_cmpint (rig.mechanism->members[member].panel, ==, tag);
  fw_pose_solve (rig.pose, rig.mechanism, 1.1);
  FwSensitivity *s = fw_sensitivity_new (rig.mechanism, at_edge, 3);
  g_assert_true (fw_sensitivity_solve (s, rig.mechanism, rig.pose));
  Solved more;
  g_assert_true (solve (&more, d, at_edge[0], 1e-3, 1.1));
  double by = (fw_pose_angle (more.pose, more.mech, member) - fw_pose_angle (rig.pose, rig.mechanism, member)) / 1e-3;
  g_assert_cmpfloat (fabs (by), >, 1e-4); /* it does turn it */
  assert_near (s->angles[member * 3], by, 1e-6);
  assert_near (s->angles[member * 3 + 1], 0, 0); /* a limit moves nothing */
  g_assert_cmpfloat (fabs (s->angles[member * 3 + 2]), >, 1e-4);
  done (&more);
  free (s);
  rig_free (&rig);
  fw_design_free (d);
}

/* Where the pin stands in the guide itself, or a rod holds its panel on the hinge line, nothing says which way it
 * turns: no slope is made up, and none is without end. */
static void
test_no_lever (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_sleeve (d, build_throw (d, "t", 40, 0, 0), 400, 0, 40);
  int wing = build_panel (d, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (30, 0, 0), 200);
  build_rod (d, "rod", FW_SIDE_RIGHT, from_base (60, 20, 300), wing, fw_vec3 (0, 20, 0), 120, 0);
  FwParam params[400];
  int n = fw_design_params (d, params, 400);
  Rig rig = rig_new (d);
  FwSensitivity *s = fw_sensitivity_new (rig.mechanism, params, n);
  double *by = g_new (double, n);
  for (int turn = 0; turn < 2; turn++) /* in the guide, and out of it */
    {
      fw_pose_solve (rig.pose, rig.mechanism, turn * 0.7);
      g_assert_true (fw_sensitivity_solve (s, rig.mechanism, rig.pose));
      for (int k = 0; k < n; k++)
        g_assert_true (turn == 1 || s->tilt[k] == 0);
      const FwQuantityKind kinds[] = { FW_Q_ANGLE, FW_Q_OTHER_ROOT, FW_Q_PUSH, FW_Q_LEAN, FW_Q_BEND };
      for (int i = 0; i < 5; i++)
        {
          g_assert_true (fw_sensitivity_quantity (s, rig.mechanism, rig.pose, (FwQuantity) { kinds[i], 0 }, by));
          for (int k = 0; k < n; k++)
            if (!isfinite (by[k]) || (kinds[i] == FW_Q_PUSH && by[k] != 0))
              g_error ("pose %d, quantity %d by number %d/%d: %g", turn, kinds[i], params[k].kind, params[k].component, by[k]);
        }
    }
  g_free (by);
  free (s);
  rig_free (&rig);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sensitivity/a rod's length turns its panel by one over the rod's lever", test_by_hand);
  g_test_add_func ("/sensitivity/derivatives agree with differences on random designs", test_random_designs);
  g_test_add_func ("/sensitivity/what hangs and what hangs on it follow every number", test_hanging);
  g_test_add_func ("/sensitivity/a peak moves as its curve does there", test_peaks);
  g_test_add_func ("/sensitivity/what a body lacks to be assembled follows its numbers", test_open_bodies);
  g_test_add_func ("/sensitivity/at the edge of what is allowed the side that is tells the slope", test_hanging_at_the_edge);
  g_test_add_func ("/sensitivity/without a lever no slope is made up", test_no_lever);
  return g_test_run ();
}
