/* Joints that knock: against fine time steps of the same gap, and against published slider-crank
 * values. */
#include <glib.h>
#include <math.h>
#include <stdlib.h>

#include "build_design.h"
#include "core/bounce.h"
#include "near.h"
#include "random_design.h"

#define G (FW_GRAVITY * 1000) /* mm/s^2 */
#define MOST 64

typedef struct
{
  Rig rig;
  FwLoadTurn *turn;
  FwBounce list[MOST];
  int n;
} Knocks;

static void
knocks_open (Knocks *k, FwDesign *design, double turns_per_minute)
{
  design->crank.turns_per_minute = turns_per_minute;
  k->rig = rig_new (design);
  k->turn = fw_load_turn_new (k->rig.mechanism, 360);
  g_assert_nonnull (k->turn);
  fw_load_turn_solve (k->turn, k->rig.mechanism, turns_per_minute * 2 * G_PI / 60);
  k->n = fw_bounces (k->turn, k->rig.mechanism, k->list, MOST);
  g_assert_cmpint (k->n, <=, MOST);
}

static void
knocks_close (Knocks *k)
{
  free (k->turn);
  rig_free (&k->rig);
}

/* ---- A neck on a rod that has play: the neck flies free across it ---- */

#define HINGE_Z 300.0
#define HOLD 60.0
#define THROW 20.0
#define CENTRE 80.0

static FwDesign *
neck (double play)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  int pin = build_throw (d, "pin", THROW, 0, 0);
  build_fixed (d, 0, 0, HINGE_Z, 0);
  int panel = build_panel (d, "neck", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, 0, 0), 200);
  d->panels[panel].reach = FW_REACH_FORWARD;
  build_mass (d, panel, 100, CENTRE, 0, 0);
  const double inertia[4] = { 100, 90000, 90000, 0 };
  for (int i = 0; i < 4; i++)
    d->panels[panel].inertia_gmm2[i] = inertia[i];
  build_rod (d, "rod", FW_SIDE_MIDDLE, from_throw (pin), panel, fw_vec3 (HOLD, 0, 0), 300, 0);
  d->rods[0].play_mm = play;
  return d;
}

typedef struct
{
  double angle, rate, t;
} Free;

/* I a'' = -m g r cos a about the hinge. */
static double
neck_acceleration (double angle)
{
  return -100 * G * CENTRE * cos (angle) / (90000 + 100 * CENTRE * CENTRE);
}

static void
neck_step (Free *f, double dt)
{
  double k1 = neck_acceleration (f->angle), v1 = f->rate;
  double k2 = neck_acceleration (f->angle + v1 * dt / 2), v2 = f->rate + k1 * dt / 2;
  double k3 = neck_acceleration (f->angle + v2 * dt / 2), v3 = f->rate + k2 * dt / 2;
  double k4 = neck_acceleration (f->angle + v3 * dt), v4 = f->rate + k3 * dt;
  f->angle += dt * (v1 + 2 * v2 + 2 * v3 + v4) / 6;
  f->rate += dt * (k1 + 2 * k2 + 2 * k3 + k4) / 6;
  f->t += dt;
}

/* From pin to hold, mm. */
static double
neck_length (const Free *f, double crank, double speed)
{
  double t = crank + speed * f->t;
  double y = HOLD * cos (f->angle) - THROW * sin (t),
         z = HINGE_Z + HOLD * sin (f->angle) - THROW * cos (t);
  return hypot (y, z);
}

static void
assert_like_free_neck (Knocks *k, const FwBounce *b, double tolerance)
{
  double speed = k->turn->speed, dt = 1e-6;
  fw_pose_solve (k->rig.pose, k->rig.mechanism, b->crank);
  Free f = { .angle = fw_pose_angle (k->rig.pose, k->rig.mechanism, 0),
             .rate = k->rig.pose->members[0].rate * speed };
  double before = neck_length (&f, b->crank, speed), way = 0, last = 0;
  assert_near (before, 300, 1e-6);
  for (int i = 0; i < 400000 && way < b->gap_mm; i++)
    {
      neck_step (&f, dt);
      last = way;
      way = fabs (neck_length (&f, b->crank, speed) - before);
    }
  g_assert_true (b->crosses);
  assert_near (b->cross_s, f.t, tolerance * f.t);
  assert_near (b->speed_mps, (way - last) / dt / 1000, tolerance * b->speed_mps);
  assert_near (b->energy_J, b->mass_kg * b->speed_mps * b->speed_mps / 2, 1e-12);
}

static void
test_rod_like_free_flight (void)
{
  const struct
  {
    double play, tolerance;
  } table[] = { { 0.01, 0.002 }, { 0.1, 0.005 }, { 0.5, 0.01 } };
  for (int i = 0; i < 3; i++)
    {
      Knocks k;
      knocks_open (&k, neck (table[i].play), 200);
      g_assert_cmpint (k.n, ==, 2);
      for (int b = 0; b < k.n; b++)
        {
          assert_near (k.list[b].gap_mm, table[i].play, 0);
          g_assert_cmpint (k.list[b].before, ==, -k.list[b].after);
          assert_like_free_neck (&k, &k.list[b], table[i].tolerance);
        }
      g_assert_cmpint (k.list[0].before, ==, k.list[1].after);
      knocks_close (&k);
    }
}

/* A load that grows evenly closes a small gap in the cube root of 6 m c / F'. */
static void
test_small_gap_law (void)
{
  Knocks k;
  knocks_open (&k, neck (1e-6), 200);
  for (int i = 0; i < k.n; i++)
    {
      const FwBounce *b = &k.list[i];
      double even = cbrt (6 * b->mass_kg * 1e-9 / b->slope_Nps);
      assert_near (b->cross_s, even, 2e-3 * even);
      assert_near (b->speed_mps, 3 * 1e-9 / even, 4e-3 * b->speed_mps);
    }
  knocks_close (&k);
}

static void
test_slow_neck_is_quiet (void)
{
  Knocks k;
  knocks_open (&k, neck (0.5), 20); /* its weight keeps the rod pushed */
  g_assert_cmpint (k.n, ==, 0);
  knocks_close (&k);
}

/* ---- A body on a post in a guide that has play ---- */

#define POST 400.0
#define GUIDE_Z 200.0
#define RADIUS 30.0

static FwDesign *
post (double play)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_sleeve (d, build_throw (d, "pin", RADIUS, 0, 0), POST, 0, GUIDE_Z);
  d->body.mass_g = 800;
  d->body.gyration_mm = 120;
  d->body.play_mm = play;
  return d;
}

typedef struct
{
  double h, z, ah, az; /* of the pin, mm, mm/s^2 */
} Pin;

static Pin
pin_at (double crank, double speed)
{
  double s2 = speed * speed;
  return (Pin){ RADIUS * sin (crank), RADIUS * cos (crank), -s2 * RADIUS * sin (crank),
                -s2 * RADIUS * cos (crank) };
}

/* About the pin, which moves: I a = moment of -(m g + m a_pin) at the centre, tilt z toward h. */
static double
post_acceleration (double tilt, Pin p)
{
  double arm_h = POST * sin (tilt), arm_z = POST * cos (tilt), fh = -p.ah, fz = -p.az - G;
  return (arm_z * fh - arm_h * fz) / (POST * POST + 120 * 120);
}

/* How far the guide is off the post, toward the post's forward side. */
static double
off_post (double tilt, Pin p)
{
  return (0 - p.h) * cos (tilt) - (GUIDE_Z - p.z) * sin (tilt);
}

static void
test_guide_like_free_post (void)
{
  Knocks k;
  knocks_open (&k, post (0.3), 40);
  g_assert_cmpint (k.n, >=, 2);
  for (int i = 0; i < k.n; i++)
    {
      const FwBounce *b = &k.list[i];
      double speed = k.turn->speed, dt = 2e-6, t = 0, way = 0, last = 0;
      fw_pose_solve (k.rig.pose, k.rig.mechanism, b->crank);
      double h = 1e-6, tilt = k.rig.pose->body.tilt;
      fw_pose_solve (k.rig.pose, k.rig.mechanism, b->crank + h);
      double rate = (k.rig.pose->body.tilt - tilt) / h * speed;
      for (; t < 1 && fabs (way) < b->gap_mm; t += dt)
        {
          /* half a step of place, a whole one of speed, half a step of place */
          tilt += rate * dt / 2;
          rate += dt * post_acceleration (tilt, pin_at (b->crank + speed * (t + dt / 2), speed));
          tilt += rate * dt / 2;
          last = way;
          way = off_post (tilt, pin_at (b->crank + speed * (t + dt), speed));
        }
      g_assert_true (b->part.kind == FW_PART_BODY && b->crosses);
      assert_near (b->cross_s, t, 0.01 * t);
      assert_near (b->speed_mps, fabs (way - last) / dt / 1000, 0.01 * b->speed_mps);
    }
  knocks_close (&k);
}

/* ---- A hinge that is lifted and dropped ---- */

/* A weight on a vertical slide, n = 4; the panel's mass is at its hinge, so the rod has nothing to
 * do. */
static FwDesign *
lifted (double play)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_rail (d, build_throw (d, "pin", 25, 0, 0), 100, 0);
  int panel = build_panel (d, "weight", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, 0, 0), 100);
  d->panels[panel].reach = FW_REACH_FORWARD;
  build_mass (d, panel, 50, 0, 0, 0);
  build_rod (d, "stay", FW_SIDE_MIDDLE, from_body (0, 0, -50), panel, fw_vec3 (50, 0, 0),
             hypot (50, 50), 0);
  d->panels[panel].play_mm = play;
  return d;
}

/* The greatest fall of a slider-crank is r w^2 (1 + 1/n), at the top (n = 4: 1.25, as handbooks
 * print). */
static void
test_hinge_speed (void)
{
  double speed = sqrt (G / (25 * 1.25)) * 60 / (2 * G_PI);
  const double factor[] = { 0.98, 1.02 };
  for (int i = 0; i < 2; i++)
    {
      Knocks k;
      knocks_open (&k, lifted (0.05), speed * factor[i]);
      g_assert_cmpint (k.n, ==, i == 0 ? 0 : 2);
      knocks_close (&k);
    }
}

static double
slider_acceleration (double crank, double speed)
{
  double s = sqrt (16 - sin (crank) * sin (crank)), s2 = sin (2 * crank);
  return -25 * speed * speed * (cos (crank) + cos (2 * crank) / s + s2 * s2 / (4 * s * s * s));
}

static void
test_hinge_like_free_fall (void)
{
  Knocks k;
  knocks_open (&k, lifted (0.4), 260);
  g_assert_cmpint (k.n, ==, 2);
  for (int i = 0; i < k.n; i++)
    {
      const FwBounce *b = &k.list[i];
      double speed = k.turn->speed, dt = 1e-6, t = 0, way = 0, rate = 0;
      double sign = slider_acceleration (b->crank + 0.01, speed) + G > 0 ? 1 : -1;
      assert_near (b->mass_kg, 0.05, 1e-9);
      assert_near (slider_acceleration (b->crank, speed), -G, 1e-3 * G);
      for (; t < 0.2 && way < b->gap_mm; t += dt)
        {
          rate += dt * sign * (slider_acceleration (b->crank + speed * (t + dt / 2), speed) + G);
          way += dt * rate;
        }
      assert_near (b->cross_s, t, 2e-3 * t);
      assert_near (b->speed_mps, rate / 1000, 2e-3 * b->speed_mps);
    }
  knocks_close (&k);
}

/* Just above that speed the load turns back before a wide gap is crossed: it lands where it left.
 */
static void
test_lands_where_it_left (void)
{
  double speed = sqrt (G / (25 * 1.25)) * 60 / (2 * G_PI);
  Knocks k;
  knocks_open (&k, lifted (5), speed * 1.05);
  int landed = 0;
  for (int i = 0; i < k.n; i++)
    if (!k.list[i].crosses)
      {
        landed++;
        g_assert_cmpfloat (k.list[i].speed_mps, >, 0);
      }
  g_assert_cmpint (landed, ==, 1);
  knocks_close (&k);
}

static void
test_worn (void)
{
  Knocks k;
  knocks_open (&k, neck (0), 200);
  g_assert_cmpint (k.n, ==, 0);
  FwBounce worn[MOST];
  int n = fw_reversals (k.turn, k.rig.mechanism, worn, MOST, NULL, NULL), rods = 0;
  for (int i = 0; i < n; i++)
    {
      rods += worn[i].part.kind == FW_PART_LINK;
      assert_near (worn[i].gap_mm, FW_WORN_PLAY_MM, 0);
    }
  g_assert_cmpint (rods, ==, 2);
  g_assert_cmpint (fw_reversals (k.turn, k.rig.mechanism, worn, 1, NULL, NULL), ==, n);
  fw_load_turn_solve (k.turn, k.rig.mechanism, 0);
  g_assert_cmpint (fw_reversals (k.turn, k.rig.mechanism, worn, MOST, NULL, NULL), ==, 0);
  knocks_close (&k);
}

static bool
stop_after (void *left)
{
  return (*(int *)left)-- <= 0;
}

static void
test_worn_stops (void)
{
  Knocks k;
  FwBounce all[MOST], some[MOST];
  knocks_open (&k, neck (0), 200);
  int n = fw_reversals (k.turn, k.rig.mechanism, all, MOST, NULL, NULL), left = 1000;
  g_assert_cmpint (n, >, 1);
  g_assert_cmpint (fw_reversals (k.turn, k.rig.mechanism, some, MOST, stop_after, &left), ==, n);
  g_assert_cmpmem (some, n * sizeof *some, all, n * sizeof *all);
  int asked = 1000 - left;
  g_assert_cmpint (asked, >, n); /* each place, and each handful of hinges */
  for (int before = 0; before < asked; before++)
    {
      left = before;
      g_assert_cmpint (fw_reversals (k.turn, k.rig.mechanism, some, MOST, stop_after, &left), ==,
                       -1);
      g_assert_cmpint (left, ==, -1); /* not asked again: it went no further */
    }
  knocks_close (&k);
}

/* ---- The mass felt at a joint, against the design with that joint moved by hand ---- */

static void
give_way (FwDesign *d, const FwPose *pose, FwPart part, int rod, double by)
{
  FwBody *b = &d->body;
  if (part.kind == FW_PART_LINK)
    d->rods[rod].length_mm += by;
  else if (b->ride == FW_RIDE_RAIL)
    b->offset_mm += by;
  else if (b->ride == FW_RIDE_ROCKER)
    b->link_mm += by;
  else if (b->ride == FW_RIDE_SLEEVE)
    {
      b->guide_mm.x += by * cos (pose->body.tilt);
      b->guide_mm.y -= by * sin (pose->body.tilt);
    }
}

static double
moved_energy (const FwInertia *inertia, const FwFrame *a, const FwFrame *b, double way)
{
  FwVec3 v = fw_vec3_scale (fw_vec3_sub (b->origin, a->origin), 1 / way), spin = { 0, 0, 0 };
  const FwVec3 *from = &a->u, *to = &b->u;
  for (int i = 0; i < 3; i++)
    spin = fw_vec3_add (spin, fw_vec3_cross (from[i], to[i]));
  spin = fw_vec3_scale (spin, 0.5 / way);
  FwVec3 turning = fw_frame_turn (a, fw_inertia_times (inertia, fw_frame_unturn (a, spin)));
  return inertia->mass_g * fw_vec3_dot (v, v)
         + 2 * fw_vec3_dot (v, fw_vec3_cross (spin, fw_frame_turn (a, inertia->moment_gmm)))
         + fw_vec3_dot (spin, turning);
}

static void
give_masses (FwDesign *d, GRand *rand)
{
  d->body.mass_g = 700;
  d->body.gyration_mm = 90;
  d->body.centre_mm = fw_vec3 (0, 30, 50);
  for (int i = 0; i < d->n_panels; i++)
    {
      build_mass (d, i, g_rand_double_range (rand, 20, 300), 60,
                  g_rand_double_range (rand, -30, 30), 5);
      const double inertia[4] = { 2e5, 3e5, 5e5, 4e4 };
      for (int k = 0; k < 4; k++)
        d->panels[i].inertia_gmm2[k] = inertia[k];
    }
}

static bool
is_square (const Rig *rig)
{
  bool square = fw_pose_closes (rig->pose, rig->mechanism);
  for (int i = 0; i < rig->mechanism->n_members; i++)
    square = square && rig->pose->members[i].squareness > 0.3;
  return square;
}

static void
assert_mass (const Rig *rig, FwPart part)
{
  const FwMechanism *m = rig->mechanism;
  const double h = 1e-3;
  Rig moved[2];
  for (int i = 0; i < 2; i++)
    {
      FwDesign *d = fw_design_copy (rig->design);
      give_way (d, rig->pose, part, part.kind == FW_PART_LINK ? m->links[part.index].rod : 0,
                i == 0 ? -h : h);
      moved[i] = rig_new (d);
      rig_solve (&moved[i], 0);
    }
  FwInertia body = fw_inertia_body (m);
  double sum
      = moved_energy (&body, &moved[0].pose->body.motion.at, &moved[1].pose->body.motion.at, 2 * h);
  for (int i = 0; i < m->n_members; i++)
    {
      FwInertia own = fw_inertia_member (m, i);
      sum += moved_energy (&own, &moved[0].pose->members[i].motion.at,
                           &moved[1].pose->members[i].motion.at, 2 * h);
    }
  FwLoads *loads = fw_loads_new (m);
  double felt = fw_joint_mass (m, rig->pose, loads, part, fw_vec3 (0, 0, 0));
  assert_near (felt, sum, 2e-3 * sum);
  free (loads);
  rig_free (&moved[0]);
  rig_free (&moved[1]);
}

static void
test_mass_felt (void)
{
  GRand *rand = g_rand_new_with_seed (4071);
  int rods = 0, rides[4] = { 0 };
  for (int i = 0; i < 400 && (rods < 60 || rides[1] < 5 || rides[2] < 5 || rides[3] < 5); i++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      give_masses (d, rand);
      Rig rig = rig_new (d);
      rig_solve (&rig, 0);
      for (int l = 0; is_square (&rig) && l < rig.mechanism->n_links; l++)
        if (d->rods[rig.mechanism->links[l].rod].side != FW_SIDE_BOTH) /* alone on its length */
          {
            assert_mass (&rig, (FwPart){ FW_PART_LINK, l });
            rods++;
          }
      if (is_square (&rig) && d->body.ride != FW_RIDE_FIXED)
        {
          assert_mass (&rig, (FwPart){ FW_PART_BODY, 0 });
          rides[d->body.ride]++;
        }
      rig_free (&rig);
    }
  g_assert_cmpint (rods, >=, 30);
  for (int i = 1; i < 4; i++)
    g_assert_cmpint (rides[i], >=, 5);
  g_rand_free (rand);
}

/* Designs at random, many close to a dead position somewhere: every bounce is a number, and within
 * reason. */
static void
test_random_designs (void)
{
  GRand *rand = g_rand_new_with_seed (77);
  int seen = 0;
  for (int n = 0; n < 80; n++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      give_masses (d, rand);
      d->body.play_mm = g_rand_double_range (rand, 0, 2);
      for (int i = 0; i < d->n_panels; i++)
        d->panels[i].play_mm = g_rand_double_range (rand, 0, 1);
      for (int i = 0; i < d->n_rods; i++)
        d->rods[i].play_mm = g_rand_double_range (rand, 0, 1);
      Knocks k;
      knocks_open (&k, d, g_rand_double_range (rand, 5, 200));
      for (int i = 0; i < k.n; i++, seen++)
        {
          const FwBounce *b = &k.list[i];
          g_assert_true (b->cross_s > 0 && b->cross_s * k.turn->speed <= 2.1 * G_PI);
          g_assert_true (b->mass_kg > 0 && b->speed_mps >= 0 && b->speed_mps < 10);
          g_assert_true (b->crank >= 0 && b->crank < 2 * G_PI && b->knock >= 0
                         && b->knock < 2 * G_PI);
          assert_near (fw_joint_play (k.rig.mechanism, b->part), b->gap_mm, 0);
        }
      knocks_close (&k);
    }
  g_assert_cmpint (seen, >, 100);
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/bounce/a rod with play knocks as fine time steps of the free panel say",
                   test_rod_like_free_flight);
  g_test_add_func ("/bounce/a small gap closes by the cube root law of an evenly growing load",
                   test_small_gap_law);
  g_test_add_func ("/bounce/a slow panel keeps its rod pushed and does not knock",
                   test_slow_neck_is_quiet);
  g_test_add_func ("/bounce/a post in a worn guide knocks as fine time steps of the free post say",
                   test_guide_like_free_post);
  g_test_add_func ("/bounce/a lifted hinge knocks from the speed at which it would fall behind",
                   test_hinge_speed);
  g_test_add_func ("/bounce/a lifted hinge knocks as fine time steps of its fall say",
                   test_hinge_like_free_fall);
  g_test_add_func ("/bounce/a load that turns back lands where it left", test_lands_where_it_left);
  g_test_add_func ("/bounce/joints without play are listed as if worn", test_worn);
  g_test_add_func ("/bounce/the search for them stops when told to", test_worn_stops);
  g_test_add_func ("/bounce/the mass felt at a joint is that of the design with the joint moved",
                   test_mass_felt);
  g_test_add_func ("/bounce/bounces of random designs are numbers within reason",
                   test_random_designs);
  return g_test_run ();
}
