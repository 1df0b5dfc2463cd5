/* Poses in which hanging panels are given, against differences; the equations of motion against the
 * inverse dynamics of core/loads.c, which shares no code with them but the inertias. */
#include <string.h>

#include "build_design.h"
#include "near.h"
#include "random_design.h"
#include "swing/equations.h"
#include "swing/swing.h"

typedef struct
{
  Rig rig;
  double *angle, *rate, *rate2;
  double *mean, *size, *pace; /* angle = mean + size sin (pace * crank) */
} Free;

static void
drop_rod (FwDesign *d, int rod)
{
  free (d->rods[rod].name);
  free (d->rods[rod].material);
  for (int i = rod; i + 1 < d->n_rods; i++)
    d->rods[i] = d->rods[i + 1];
  d->n_rods--;
}

/* From the body to a driven panel, which may hang on a hanging one. */
static void
add_spring (FwDesign *d, const FwRod *rod)
{
  d->springs = calloc (1, sizeof *d->springs);
  d->springs[0] = (FwSpringPart){ .name = strdup ("spring"), .side = rod->side, .from = from_body (10, 20, 30),
                                  .to = from_panel (rod->panel, 40, 10, 0), .rate_Npmm = 0.2, .free_mm = 50 };
  d->n_springs = 1;
}

/* A random design in which about a third of the panels hang, with masses everywhere. */
static Free
free_new (GRand *rand)
{
  FwDesign *d = random_design (rand, RANDOM_ANY);
  double near[64] = { 0 };
  for (int i = 0; i < d->n_rods; i++)
    {
      near[d->rods[i].panel] = d->rods[i].near_deg * RAD;
      d->rods[i].mass_g = g_rand_double_range (rand, 0, 40);
    }
  for (int i = d->n_rods - 1; i >= 0; i--)
    if (g_rand_int_range (rand, 0, 3) == 0 || (i == 0 && d->n_rods == d->n_panels))
      drop_rod (d, i);
  for (int i = 0; i < d->n_panels; i++)
    {
      build_mass (d, i, g_rand_double_range (rand, 20, 300), g_rand_double_range (rand, 20, 100),
                  g_rand_double_range (rand, -30, 30), g_rand_double_range (rand, -10, 10));
      const double inertia[4] = { 1e5, 2e5, 3e5, 3e4 };
      for (int k = 0; k < 4; k++)
        d->panels[i].inertia_gmm2[k] = inertia[k] * g_rand_double_range (rand, 0.8, 1.2);
    }
  if (d->n_rods > 0)
    add_spring (d, &d->rods[g_rand_int_range (rand, 0, d->n_rods)]);
  Free f = { .rig = rig_new (d) };
  int n = f.rig.mechanism->n_members;
  double **rows[] = { &f.angle, &f.rate, &f.rate2, &f.mean, &f.size, &f.pace };
  for (int i = 0; i < 6; i++)
    *rows[i] = g_new0 (double, n);
  for (int i = 0; i < n; i++)
    {
      f.mean[i] = near[f.rig.mechanism->members[i].panel] + g_rand_double_range (rand, -0.1, 0.1);
      f.size[i] = g_rand_double_range (rand, 0.05, 0.4);
      f.pace[i] = g_rand_double_range (rand, 0.5, 3);
    }
  return f;
}

static void
free_clear (Free *f)
{
  double *rows[] = { f->angle, f->rate, f->rate2, f->mean, f->size, f->pace };
  for (int i = 0; i < 6; i++)
    g_free (rows[i]);
  rig_free (&f->rig);
}

/* False where it does not close, or stands so near a dead position that differences mean nothing. */
static gboolean
free_at (Free *f, double crank)
{
  const FwMechanism *mech = f->rig.mechanism;
  for (int i = 0; i < mech->n_members; i++)
    {
      f->angle[i] = f->mean[i] + f->size[i] * sin (f->pace[i] * crank);
      f->rate[i] = f->size[i] * f->pace[i] * cos (f->pace[i] * crank);
      f->rate2[i] = -f->size[i] * f->pace[i] * f->pace[i] * sin (f->pace[i] * crank);
    }
  const FwFreeState state = { .angle = f->angle, .rate = f->rate, .rate2 = f->rate2 };
  f->rig.pose->crank = crank;
  fw_pose_solve_free (f->rig.pose, mech, cos (crank), sin (crank), &state);
  for (int i = 0; i < mech->n_members; i++)
    if (f->rig.pose->members[i].squareness < 0.3)
      return FALSE;
  return fw_pose_closes (f->rig.pose, mech);
}

/* A point of each member off its axes, by crank: place, rate, second rate. */
static FwPointMotion
point_of (const Free *f, int member)
{
  return fw_motion_point (&f->rig.pose->members[member].motion, fw_vec3 (70, -30, 20));
}

static void
derivatives (void)
{
  GRand *rand = g_rand_new_with_seed (611);
  int poses = 0;
  for (int trial = 0; trial < 400; trial++)
    {
      Free f = free_new (rand);
      int n = f.rig.mechanism->n_members;
      double crank = g_rand_double_range (rand, -0.3, 0.3), h = 1e-5;
      g_autofree FwPointMotion *back = g_new (FwPointMotion, n), *here = g_new (FwPointMotion, n),
                               *on = g_new (FwPointMotion, n);
      FwPointMotion *rows[] = { back, on, here };
      const double at[] = { crank - h, crank + h, crank };
      gboolean fit = TRUE;
      for (int k = 0; k < 3; k++)
        {
          fit = fit && free_at (&f, at[k]);
          for (int i = 0; i < n; i++)
            rows[k][i] = point_of (&f, i);
        }
      for (int i = 0; i < n && fit; i++)
        {
          FwVec3 v = fw_vec3_scale (fw_vec3_sub (on[i].at, back[i].at), 0.5 / h);
          FwVec3 a = fw_vec3_scale (fw_vec3_sub (on[i].velocity, back[i].velocity), 0.5 / h);
          double speed = 100 + fw_vec3_length (v), gain = speed + fw_vec3_length (a);
          /* Central differences: h^2 / 6 of the third derivative, which grows fast towards a dead position. */
          g_assert_cmpfloat (fw_vec3_distance (v, here[i].velocity), <, 1e-7 * gain);
          g_assert_cmpfloat (fw_vec3_distance (a, here[i].acceleration), <, 1e-6 * gain);
        }
      poses += fit;
      free_clear (&f);
    }
  g_assert_cmpint (poses, >, 60);
  g_rand_free (rand);
}

/* At the rest pose's own angles and rates the free pose is the rest pose. */
static void
rest_pose (void)
{
  GRand *rand = g_rand_new_with_seed (612);
  int poses = 0;
  for (int trial = 0; trial < 200; trial++)
    {
      Free f = free_new (rand);
      const FwMechanism *mech = f.rig.mechanism;
      FwPose *rest = fw_pose_new (mech);
      double crank = g_rand_double_range (rand, 0, 6);
      fw_pose_solve (rest, mech, crank);
      for (int i = 0; i < mech->n_members; i++)
        {
          f.angle[i] = fw_pose_angle (rest, mech, i);
          f.rate[i] = rest->members[i].rate;
          f.rate2[i] = rest->members[i].rate2;
        }
      const FwFreeState state = { .angle = f.angle, .rate = f.rate, .rate2 = f.rate2 };
      fw_pose_solve_free (f.rig.pose, mech, cos (crank), sin (crank), &state);
      for (int i = 0; i < mech->n_members; i++)
        {
          const FwMemberPose *a = &rest->members[i], *b = &f.rig.pose->members[i];
          g_assert_cmpint (a->closure, ==, b->closure);
          if (a->closure != FW_CLOSES || (mech->members[i].rod >= 0 && a->squareness < 0.1))
            break;
          FwPointMotion p = fw_motion_point (&a->motion, fw_vec3 (50, 20, 9)),
                        q = fw_motion_point (&b->motion, fw_vec3 (50, 20, 9));
          double size = 100 + fw_vec3_length (p.velocity) + fw_vec3_length (p.acceleration);
          g_assert_cmpfloat (fw_vec3_distance (p.at, q.at), <, 1e-9);
          g_assert_cmpfloat (fw_vec3_distance (p.velocity, q.velocity), <, 1e-9 * size);
          g_assert_cmpfloat (fw_vec3_distance (p.acceleration, q.acceleration), <, 1e-8 * size);
          poses++;
        }
      free (rest);
      free_clear (&f);
    }
  g_assert_cmpint (poses, >, 200);
  g_rand_free (rand);
}

/* M q'' + b must be the moment about the hinge line that inverse dynamics finds for the same motion;
 * and M q'' . q'' twice the kinetic energy of q' = q'' with the crank still. */
static void
check_group (Free *f, const int *group, int label, double crank, double speed)
{
  const FwMechanism *mech = f->rig.mechanism;
  FwFree *e = fw_free_new (mech, group, label, speed);
  FwLoads *loads = fw_loads_new (mech);
  g_assert_nonnull (e);
  double q[64], qd[64], qdd[64], size[64];
  for (int k = 0; k < e->n; k++)
    {
      q[k] = f->angle[e->coordinate[k]];
      qd[k] = f->rate[e->coordinate[k]] * speed;
      qdd[k] = f->rate2[e->coordinate[k]] * speed * speed;
    }
  g_assert_true (fw_free_at (e, crank, q, qd));
  fw_free_hinge_forces (e, qdd, size);
  fw_loads_solve (loads, mech, f->rig.pose, speed);
  for (int k = 0; k < e->n; k++)
    {
      int member = e->coordinate[k];
      double moment = e->bias[k], scale = fabs (e->bias[k]);
      for (int j = 0; j < e->n; j++)
        {
          moment += e->mass[k * e->n + j] * qdd[j];
          scale += fabs (e->mass[k * e->n + j] * qdd[j]);
        }
      const FwReaction *hinge = &loads->hinges[member];
      double about = fw_vec3_dot (hinge->moment, f->rig.pose->members[member].axis);
      assert_near (moment * FW_SWING_NM, about, 1e-9 * (scale * FW_SWING_NM + fw_vec3_length (hinge->moment)));
      assert_near (size[k] * 1e-6, fw_vec3_length (hinge->force), 1e-9 * (1 + fw_vec3_length (hinge->force)));
    }
  free (loads);
  free (e);
}

static void
equations (void)
{
  GRand *rand = g_rand_new_with_seed (613);
  int poses = 0;
  for (int trial = 0; trial < 400; trial++)
    {
      Free f = free_new (rand);
      const FwMechanism *mech = f.rig.mechanism;
      double crank = g_rand_double_range (rand, -0.3, 0.3), speed = g_rand_double_range (rand, 0.5, 9);
      g_autofree int *group = g_new (int, mech->n_members);
      fw_free_groups (mech, group);
      if (free_at (&f, crank))
        for (int i = 0; i < mech->n_members; i++)
          if (group[i] == i)
            {
              check_group (&f, group, i, crank, speed);
              poses++;
            }
      free_clear (&f);
    }
  g_assert_cmpint (poses, >, 100);
  g_rand_free (rand);
}

/* Two hanging panels that share nothing are apart; a driven panel between them joins them. */
static void
groups (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  int a = build_panel (d, "a", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 0, 0), 100);
  int b = build_panel (d, "b", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (40, 80, 0), 100);
  int c = build_panel (d, "c", FW_SIDE_RIGHT, a, fw_vec3 (100, 0, 0), 100);
  FwMechanism *mech;
  int group[3];
  g_assert_cmpint (fw_mechanism_build (d, &mech, NULL), ==, FW_OK);
  fw_free_groups (mech, group);
  g_assert_cmpint (group[a], ==, group[c]);
  g_assert_cmpint (group[a], !=, group[b]);
  fw_mechanism_free (mech);
  build_rod (d, "tie", FW_SIDE_RIGHT, from_panel (b, 60, 0, 0), c, fw_vec3 (30, 0, 5), 130, 0);
  g_assert_cmpint (fw_mechanism_build (d, &mech, NULL), ==, FW_OK);
  fw_free_groups (mech, group);
  g_assert_cmpint (group[a], ==, group[b]);
  g_assert_cmpint (group[a], ==, group[c]);
  fw_mechanism_free (mech);
  fw_design_free (d);
}

/* ---- Whatever hangs, something comes out ---- */

static void
check_member (const FwSwings *s, int member)
{
  const FwSwingMember *m = &s->members[member];
  const FwMember *panel = &s->mechanism->members[member];
  g_assert_cmpint (m->fate, !=, FW_FATE_DRIVEN);
  for (int row = 0; row < m->period * s->steps; row++)
    {
      g_assert_true (isfinite (m->angle[row]) && isfinite (m->rate[row]));
      if (!panel->has_stops)
        continue;
      g_assert_cmpfloat (m->angle[row], >=, panel->stop_min - 1e-6);
      g_assert_cmpfloat (m->angle[row], <=, panel->stop_max + 1e-6);
    }
}

static void
anything (void)
{
  GRand *rand = g_rand_new_with_seed (614);
  int fates[FW_FATE_LOST + 1] = { 0 };
  for (int trial = 0; trial < 150; trial++)
    {
      Free f = free_new (rand);
      FwDesign *d = f.rig.design;
      d->drive.friction = g_rand_boolean (rand) ? g_rand_double_range (rand, 0, 1) : 0;
      d->drive.pin_radius_mm = g_rand_double_range (rand, 1, 10);
      d->drive.restitution = g_rand_boolean (rand) ? g_rand_double_range (rand, 0, 1) : g_rand_int_range (rand, 0, 2);
      for (int i = 0; i < d->n_panels; i++)
        if (g_rand_boolean (rand))
          {
            double low = g_rand_double_range (rand, -120, 30);
            build_stops (d, i, low, low + g_rand_double_range (rand, 0.1, 90));
          }
      FwMechanism *mech;
      g_assert_cmpint (fw_mechanism_build (d, &mech, NULL), ==, FW_OK);
      FwSwings *s = fw_swing_new (mech, 90);
      s->most_turns = 12;
      g_assert_cmpint (fw_swing_solve (s, exp (g_rand_double_range (rand, -1, 4)), NULL, NULL), ==, FW_SWING_OK);
      for (int i = 0; i < mech->n_members; i++)
        if (mech->members[i].rod < 0)
          {
            check_member (s, i);
            fates[s->members[i].fate]++;
          }
      for (int i = 0; i < s->n_blows; i++)
        {
          const FwSwingBlow *b = &s->blows[i];
          g_assert_true (b->speed_mps >= 0 && b->energy_J >= 0 && b->turning_Nms >= 0);
          g_assert_true (b->crank >= 0 && b->crank < 2 * G_PI);
          g_assert_cmpint (b->turn, <, s->members[b->member].period);
        }
      g_test_message ("%d: %ld looks", trial, s->looks);
      fw_swing_free (s);
      fw_mechanism_free (mech);
      free_clear (&f);
    }
  g_test_message ("repeats %d, unsettled %d, open %d, binds %d, lost %d", fates[FW_FATE_REPEATS],
                  fates[FW_FATE_UNSETTLED], fates[FW_FATE_OPEN], fates[FW_FATE_BINDS], fates[FW_FATE_LOST]);
  g_assert_cmpint (fates[FW_FATE_REPEATS], >, 20);
  g_assert_cmpint (fates[FW_FATE_UNSETTLED], >, 20);
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/free/derivatives of a pose with given hanging panels match differences", derivatives);
  g_test_add_func ("/free/at its own angles and rates it is the rest pose", rest_pose);
  g_test_add_func ("/free/mass times second rate plus bias is the moment that inverse dynamics asks for", equations);
  g_test_add_func ("/free/what shares nothing moves apart", groups);
  g_test_add_func ("/free/random designs stay finite and between their stops", anything);
  return g_test_run ();
}
