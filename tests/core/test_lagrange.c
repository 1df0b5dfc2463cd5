/* The torque of the crank against Lagrange's equation worked out by differences alone: all mass stands
 * in points, places come from poses, and no rate, inertia or force of the core is used. */
#include <string.h>

#include "build_design.h"
#include "core/springs.h"
#include "near.h"
#include "random_design.h"

#define POINTS 4 /* of a panel */

typedef struct
{
  Rig rig;
  double speed;
  FwVec3 (*panels)[POINTS]; /* of each design panel, its own frame, right-hand side, each a quarter of its mass */
} Points;

/* A panel's mass in four points of one height, and the same as mass, centre and inertia. */
static void
put_points (FwPanel *p, double mass, FwVec3 at[POINTS], GRand *rand)
{
  double w = g_rand_double_range (rand, -20, 20);
  FwVec3 sum = { 0, 0, 0 };
  for (int i = 0; i < POINTS; i++)
    {
      at[i] = fw_vec3 (g_rand_double_range (rand, 0, p->span_mm), g_rand_double_range (rand, -60, 60), w);
      sum = fw_vec3_add (sum, at[i]);
    }
  p->has_mass = true;
  p->mass_g = mass;
  p->centre_mm = fw_vec3_scale (sum, 1.0 / POINTS);
  for (int k = 0; k < 4; k++)
    p->inertia_gmm2[k] = 0;
  for (int i = 0; i < POINTS; i++)
    {
      double u = at[i].x - p->centre_mm.x, v = at[i].y - p->centre_mm.y, m = mass / POINTS;
      p->inertia_gmm2[0] += m * v * v;
      p->inertia_gmm2[1] += m * u * u;
      p->inertia_gmm2[2] += m * (u * u + v * v);
      p->inertia_gmm2[3] += m * u * v;
    }
}

/* All points of mass in one pose, world, mm, with their masses, g. */
typedef struct
{
  FwVec3 at[256];
  double mass[256];
  int n;
} Cloud;

static void
add_point (Cloud *c, FwVec3 at, double mass)
{
  g_assert_cmpint (c->n, <, 256);
  c->at[c->n] = at;
  c->mass[c->n++] = mass;
}

static void
cloud_at (Points *p, double crank, Cloud *c)
{
  const FwMechanism *m = p->rig.mechanism;
  const FwPose *pose = p->rig.pose;
  const FwBody *body = &m->design->body;
  fw_pose_solve (p->rig.pose, m, crank);
  c->n = 0;
  double far = body->gyration_mm * sqrt (1.5); /* six points at this way have that radius about every axis */
  const FwVec3 ways[6] = { { far, 0, 0 }, { -far, 0, 0 }, { 0, far, 0 }, { 0, -far, 0 }, { 0, 0, far }, { 0, 0, -far } };
  for (int i = 0; i < 6; i++)
    add_point (c, fw_frame_to_world (&pose->body.motion.at, fw_vec3_add (body->centre_mm, ways[i])), body->mass_g / 6);
  for (int i = 0; i < m->n_members; i++)
    for (int k = 0; k < POINTS; k++)
      add_point (c, fw_frame_to_world (&pose->members[i].motion.at, p->panels[m->members[i].panel][k]),
                 m->design->panels[m->members[i].panel].mass_g / POINTS);
  for (int i = 0; i < m->n_links; i++)
    {
      double half = m->design->rods[m->links[i].rod].mass_g / 2;
      add_point (c, pose->links[i].from.at, half);
      add_point (c, pose->links[i].to.at, half);
    }
  for (int i = 0; i < m->design->crank.n_weights; i++)
    {
      const FwCrankWeight *w = &m->design->crank.weights[i];
      double a = crank + w->phase_deg * RAD, r = w->radius_mm;
      bool across = m->design->crank.runs == FW_RUNS_ACROSS;
      add_point (c, fw_vec3 (across ? w->station_mm : r * sin (a), across ? r * sin (a) : w->station_mm, r * cos (a)),
                 w->mass_g);
    }
}

static double
potential_at (Points *p, double crank)
{
  Cloud c;
  double sum = 0;
  cloud_at (p, crank, &c);
  for (int i = 0; i < c.n; i++)
    sum += c.mass[i] * 1e-3 * 9.80665 * c.at[i].z * 1e-3;
  for (int i = 0; i < p->rig.mechanism->n_coils; i++)
    {
      FwCoilPose coil = fw_coil_pose (p->rig.mechanism, p->rig.pose, i);
      const FwSpringPart *s = &p->rig.design->springs[p->rig.mechanism->coils[i].spring];
      double x = fw_vec3_distance (coil.from, coil.to) - s->free_mm;
      sum += s->rate_Npmm * x * x / 2 * 1e-3;
    }
  return sum;
}

/* Kinetic energy at a speed of the crank, rad/s, J: velocities by differences of fourth order. */
static double
kinetic_at (Points *p, double crank, double rate)
{
  static const double weights[4] = { 1, -8, 8, -1 };
  const double h = 2e-3;
  Cloud c[4];
  double sum = 0;
  for (int k = 0; k < 4; k++)
    cloud_at (p, crank + (k < 2 ? k - 2 : k - 1) * h, &c[k]);
  for (int i = 0; i < c[0].n; i++)
    {
      FwVec3 v = { 0, 0, 0 };
      for (int k = 0; k < 4; k++)
        v = fw_vec3_along (v, weights[k] / (12 * h), c[k].at[i]);
      sum += c[0].mass[i] * 1e-9 * fw_vec3_dot (v, v) * rate * rate / 2;
    }
  return sum;
}

/* d/dt (dT/dq') - dT/dq + dV/dq along q = crank, q' = speed; all derivatives by differences. dT/dq'
 * is known by two speeds, as T is a square in q'. */
static double
lagrange (Points *p, double crank)
{
  static const double weights[4] = { 1, -8, 8, -1 };
  const double h = 5e-3;
  double momentum = 0, slope_t = 0, slope_v = 0, w = p->speed;
  for (int k = 0; k < 4; k++)
    {
      double q = crank + (k < 2 ? k - 2 : k - 1) * h;
      double by_rate = (kinetic_at (p, q, w * 1.01) - kinetic_at (p, q, w * 0.99)) / (0.02 * w);
      momentum += weights[k] * by_rate / (12 * h) * w;
      slope_t += weights[k] * kinetic_at (p, q, w) / (12 * h);
      slope_v += weights[k] * potential_at (p, q) / (12 * h);
    }
  return momentum - slope_t + slope_v;
}

static gboolean
suits (const Rig *rig)
{
  for (int i = 0; i < rig->mechanism->n_members; i++)
    if (rig->mechanism->members[i].rod < 0) /* those that hang move slowly in this model */
      return FALSE;
  for (int i = 0; i < 72; i++)
    {
      fw_pose_solve (rig->pose, rig->mechanism, i * 5 * RAD);
      if (!fw_pose_closes (rig->pose, rig->mechanism))
        return FALSE;
      for (int k = 0; k < rig->mechanism->n_members; k++)
        if (rig->pose->members[k].squareness < 0.3)
          return FALSE;
    }
  return TRUE;
}

static FwDesign *
pointed_design (GRand *rand, FwVec3 (*panels)[POINTS])
{
  FwDesign *d = random_design (rand, RANDOM_ANY);
  d->body.mass_g = g_rand_double_range (rand, 100, 2000);
  d->body.gyration_mm = g_rand_double_range (rand, 20, 200);
  d->body.centre_mm = fw_vec3 (g_rand_double_range (rand, -30, 30), g_rand_double_range (rand, -50, 50), 40);
  for (int i = 0; i < d->n_panels; i++)
    put_points (&d->panels[i], g_rand_double_range (rand, 20, 300), panels[i], rand);
  for (int i = 0; i < d->n_rods; i++)
    d->rods[i].mass_g = g_rand_double_range (rand, 0, 60);
  d->crank.weights = calloc (1, sizeof *d->crank.weights);
  d->crank.weights[0] = (FwCrankWeight){ strdup ("weight"), g_rand_double_range (rand, 0, 300), 40, 77, 30 };
  d->crank.n_weights = 1;
  d->springs = calloc (1, sizeof *d->springs);
  d->springs[0] = (FwSpringPart){ .name = strdup ("spring"),
                                  .side = FW_SIDE_RIGHT,
                                  .from = from_base (10, 20, 700),
                                  .to = from_body (0, 30, 50),
                                  .rate_Npmm = 0.05,
                                  .free_mm = 120 };
  d->n_springs = 1;
  return d;
}

static void
test_random (void)
{
  GRand *rand = g_rand_new_with_seed (1788);
  FwVec3 panels[16][POINTS];
  int seen = 0;
  double worst = 0;
  for (int n = 0; n < 4000 && seen < 60; n++)
    {
      Points p = { .rig = rig_new (pointed_design (rand, panels)), .panels = panels };
      if (suits (&p.rig))
        {
          FwLoads *loads = fw_loads_new (p.rig.mechanism);
          double peak = 0, torque[8], crank[8];
          p.speed = g_rand_double_range (rand, 0.5, 8);
          for (int i = 0; i < 72; i++)
            {
              fw_pose_solve (p.rig.pose, p.rig.mechanism, i * 5 * RAD);
              fw_loads_solve (loads, p.rig.mechanism, p.rig.pose, p.speed);
              peak = fmax (peak, fabs (loads->torque));
            }
          for (int i = 0; i < 8; i++)
            {
              crank[i] = g_rand_double_range (rand, 0, 2 * G_PI);
              fw_pose_solve (p.rig.pose, p.rig.mechanism, crank[i]);
              fw_loads_solve (loads, p.rig.mechanism, p.rig.pose, p.speed);
              torque[i] = loads->torque;
            }
          for (int i = 0; i < 8; i++)
            {
              assert_near (lagrange (&p, crank[i]), torque[i], 1e-7 * peak); /* fourth order at steps of 2e-3 and 5e-3 */
              worst = fmax (worst, fabs (lagrange (&p, crank[i]) - torque[i]) / peak);
            }
          seen++;
          free (loads);
        }
      rig_free (&p.rig);
    }
  g_assert_cmpint (seen, ==, 60);
  g_test_message ("worst difference %.2g of the peak", worst);
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/lagrange/torque is Lagrange's equation by differences of points of mass", test_random);
  return g_test_run ();
}
