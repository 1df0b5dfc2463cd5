/* Analytic derivatives against differences: central differences of fourth order, twice, with the
 * step halved, and Richardson's extrapolation between the two. */
#include <string.h>

#include "build_design.h"
#include "near.h"
#include "random_design.h"

#define WIDTH 512

/* All numbers of a pose in one row, with their analytic derivatives. */
typedef struct
{
  int n;
  double at[WIDTH], rate[WIDTH], rate2[WIDTH], size[WIDTH];
} Row;

static void
put (Row *row, double at, double rate, double rate2, double size)
{
  g_assert_cmpint (row->n, <, WIDTH);
  row->at[row->n] = at;
  row->rate[row->n] = rate;
  row->rate2[row->n] = rate2;
  row->size[row->n++] = size;
}

static void
put_point (Row *row, FwPointMotion p)
{
  put (row, p.at.x, p.velocity.x, p.acceleration.x, 100);
  put (row, p.at.y, p.velocity.y, p.acceleration.y, 100);
  put (row, p.at.z, p.velocity.z, p.acceleration.z, 100);
}

/* Origin and the tips of the three axes at 100 mm fix a frame. */
static void
put_motion (Row *row, const FwMotion *m)
{
  put_point (row, fw_motion_point (m, fw_vec3 (0, 0, 0)));
  put_point (row, fw_motion_point (m, fw_vec3 (100, 0, 0)));
  put_point (row, fw_motion_point (m, fw_vec3 (0, 100, 0)));
  put_point (row, fw_motion_point (m, fw_vec3 (0, 0, 100)));
}

static bool
fill (Row *row, Rig *rig, double crank)
{
  row->n = 0;
  fw_pose_solve (rig->pose, rig->mechanism, crank);
  if (!fw_pose_closes (rig->pose, rig->mechanism))
    return false;
  put_motion (row, &rig->pose->body.motion);
  for (int i = 0; i < rig->mechanism->n_pins; i++)
    put_point (row, rig->pose->pins[i]);
  for (int i = 0; i < rig->mechanism->n_members; i++)
    {
      const FwMemberPose *m = &rig->pose->members[i];
      if (m->squareness < 0.15)
        return false;
      put_motion (row, &m->motion);
      put (row, fw_pose_angle (rig->pose, rig->mechanism, i), m->rate, m->rate2, 1);
    }
  for (int i = 0; i < rig->mechanism->n_links; i++)
    {
      put_point (row, rig->pose->links[i].from);
      put_point (row, rig->pose->links[i].to);
    }
  return true;
}

/* First and second derivative of number k to fourth order in the step. */
static void
differences (const Row rows[5], int k, double step, double *first, double *second)
{
  double a = rows[0].at[k], b = rows[1].at[k], c = rows[2].at[k], d = rows[3].at[k],
         e = rows[4].at[k];
  *first = (a - 8 * b + 8 * d - e) / (12 * step);
  *second = (-a + 16 * b - 30 * c + 16 * d - e) / (12 * step * step);
}

/* Greatest error of the first and second derivatives against the size of the number and its
 * derivatives. False if a pose is unfit: open, or near a dead position. */
static bool
worst_error (Rig *rig, double crank, double step, double *first, double *second)
{
  static Row coarse[5], fine[5];
  for (int i = 0; i < 5; i++)
    if (!fill (&coarse[i], rig, crank + (i - 2) * step)
        || !fill (&fine[i], rig, crank + (i - 2) * step / 2))
      return false;
  *first = *second = 0;
  for (int k = 0; k < coarse[2].n; k++)
    {
      double c1, c2, f1, f2;
      differences (coarse, k, step, &c1, &c2);
      differences (fine, k, step / 2, &f1, &f2);
      double r1 = (16 * f1 - c1) / 15, r2 = (16 * f2 - c2) / 15;
      double size = coarse[2].size[k] + fabs (coarse[2].rate[k]) + fabs (coarse[2].rate2[k]);
      *first = fmax (*first, fabs (coarse[2].rate[k] - r1) / size);
      *second = fmax (*second, fabs (coarse[2].rate2[k] - r2) / size);
    }
  return true;
}

/* The differences' own error falls with the step until rounding takes over; where depends on how
 * sharp the motion is, so the best of three steps counts. */
static bool
best_error (Rig *rig, double crank, double *first, double *second)
{
  *first = *second = INFINITY;
  for (double step = 0.016; step > 0.003; step /= 2)
    {
      double f, s;
      if (!worst_error (rig, crank, step, &f, &s))
        return false;
      *first = fmin (*first, f);
      *second = fmin (*second, s);
    }
  return true;
}

static void
check_ride (gconstpointer data)
{
  RandomWish wish = RANDOM_ANY;
  wish.ride = GPOINTER_TO_INT (data) & 3;
  wish.runs = GPOINTER_TO_INT (data) >> 2;
  GRand *rand = g_rand_new_with_seed (4000 + GPOINTER_TO_UINT (data));
  double worst1 = 0, worst2 = 0;
  int poses = 0;
  for (int n = 0; n < 150; n++)
    {
      Rig rig = rig_new (random_design (rand, wish));
      for (int k = 0; k < 8; k++)
        {
          double first, second;
          if (!best_error (&rig, g_rand_double_range (rand, 0, 2 * G_PI), &first, &second))
            continue;
          poses++;
          worst1 = fmax (worst1, first);
          worst2 = fmax (worst2, second);
          assert_near (first, 0, 1e-8);
          assert_near (second, 0, 1e-7);
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_test_message ("%d poses; worst relative error: first %.2e, second %.2e", poses, worst1, worst2);
  g_assert_cmpint (poses, >, 300);
}

/* Rates of change of body tilt stand in the body's spin. */
static void
test_spin_is_tilt_rate (void)
{
  for (int runs = FW_RUNS_ACROSS; runs <= FW_RUNS_ALONG; runs++)
    {
      FwDesign *d = build_design (runs);
      build_throw (d, "mid", 40, 10, 0);
      build_sleeve (d, 0, 420, 10, 180);
      Rig rig = rig_new (d);
      for (int deg = 0; deg < 360; deg += 15)
        {
          double h = 1e-4, before = rig_solve (&rig, deg - h / RAD)->body.tilt,
                 after = rig_solve (&rig, deg + h / RAD)->body.tilt;
          FwVec3 spin = rig_solve (&rig, deg)->body.motion.spin;
          assert_near (runs == FW_RUNS_ACROSS ? -spin.x : spin.y, (after - before) / (2 * h), 1e-7);
          assert_near (runs == FW_RUNS_ACROSS ? spin.y : spin.x, 0, 1e-15);
          assert_near (spin.z, 0, 1e-15);
        }
      rig_free (&rig);
    }
}

static void
test_without_derivatives (void)
{
  GRand *rand = g_rand_new_with_seed (12);
  for (int n = 0; n < 100; n++)
    {
      Rig rig = rig_new (random_design (rand, RANDOM_ANY));
      double crank = g_rand_double_range (rand, 0, 2 * G_PI);
      FwPose *bare = fw_pose_new (rig.mechanism);
      fw_pose_solve (rig.pose, rig.mechanism, crank);
      fw_pose_solve_at (bare, rig.mechanism, cos (crank), sin (crank), false);
      for (int i = 0; i < rig.mechanism->n_members; i++)
        {
          const FwMemberPose *a = &rig.pose->members[i], *b = &bare->members[i];
          g_assert_cmpint (memcmp (&a->motion.at, &b->motion.at, sizeof a->motion.at), ==, 0);
          g_assert_cmpint (a->closure, ==, b->closure);
          g_assert_cmpfloat (b->rate, ==, 0);
          g_assert_cmpfloat (fw_vec3_length (b->motion.velocity), ==, 0);
          g_assert_cmpfloat (fw_vec3_length (b->motion.spin_rate), ==, 0);
        }
      free (bare);
      rig_free (&rig);
    }
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  static const char *names[] = { "fixed", "rail", "sleeve", "rocker" };
  g_test_init (&argc, &argv, NULL);
  for (int i = 0; i < 8; i++)
    {
      char *path = g_strdup_printf (
          "/derivatives/every frame, point and angle agrees with differences, crank %s, %s",
          i >> 2 ? "along" : "across", names[i & 3]);
      g_test_add_data_func (path, GINT_TO_POINTER (i), check_ride);
      g_free (path);
    }
  g_test_add_func ("/derivatives/the body's spin is the rate of its tilt", test_spin_is_tilt_rate);
  g_test_add_func ("/derivatives/leaving them out changes no position", test_without_derivatives);
  return g_test_run ();
}
