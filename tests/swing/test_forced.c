/* A hanging panel on a body that rides: against a Runge-Kutta integration of fixed step in this file, which
 * shares no code with the program; a double pendulum by its published equations; the limit of a slow turn. */
#include <string.h>

#include "swing_rig.h"

/* ---- The body's ride, in m and rad, by the formulas of docs/model.md, section 2 ---- */

typedef struct
{
  double h, z, tilt;
} Place;

typedef Place (*Ride) (double crank);

static Place
rail (double t) /* throw 0.04, rod 0.16 */
{
  return (Place){ 0, 0.04 * cos (t) + sqrt (0.16 * 0.16 - pow (0.04 * sin (t), 2)), 0 };
}

static Place
sleeve (double t) /* throw 0.04, guide 0.18 above the crank, post 0.42 */
{
  double h = -0.04 * sin (t), z = 0.18 - 0.04 * cos (t), l = sqrt (h * h + z * z);
  return (Place){ 0.04 * sin (t) + 0.42 * h / l, 0.04 * cos (t) + 0.42 * z / l, atan2 (h, z) };
}

static FwDesign *
ride_design (Ride ride)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 0, 0);
  if (ride == rail)
    build_rail (d, 0, 160, 0);
  else
    build_sleeve (d, 0, 420, 0, 180);
  int i = add_pendulum (d, FW_ON_BODY, 0, 150, 70);
  d->panels[i].side = FW_SIDE_MIDDLE;
  d->panels[i].reach = FW_REACH_FORWARD;
  return d;
}

/* ---- The second integration ---- */

/* A point mass on an arm that reaches forward from the datum: its direction is a - tilt above level. */
typedef struct
{
  Ride ride;
  double speed, length, rub; /* rub: coefficient times pin radius, m */
  double low, high, restitution;
  double a, rate, t;
  int way;    /* of sliding, where there is friction */
  bool rests;
} Reference;

/* Second derivatives in time of the ride, by differences of fourth order. */
static Place
pull (const Reference *r, double t, double *tilt_rate)
{
  const double d = 2e-3, c[] = { -1. / 12, 4. / 3, -5. / 2, 4. / 3, -1. / 12 }, f[] = { 1. / 12, -2. / 3, 0, 2. / 3, -1. / 12 };
  Place sum = { 0, 0, 0 };
  *tilt_rate = 0;
  for (int i = 0; i < 5; i++)
    {
      Place p = r->ride (t * r->speed + (i - 2) * d);
      double s = c[i] * r->speed * r->speed / (d * d);
      sum = (Place){ sum.h + s * p.h, sum.z + s * p.z, sum.tilt + s * p.tilt };
      *tilt_rate += f[i] * p.tilt * r->speed / d;
    }
  return sum;
}

/* a'' with a given sense of sliding; with `hold` the moment per mass that keeps a at rest and the limit. */
static double
gain (const Reference *r, double t, double a, double rate, int way, double *hold, double *limit)
{
  double tilt_rate, phi = a - r->ride (t * r->speed).tilt;
  Place p = pull (r, t, &tilt_rate);
  double spin = rate - tilt_rate;
  double bare = (p.h * sin (phi) - (G + p.z) * cos (phi)) / r->length, gained = bare, force = 0;
  if (hold != NULL)
    gained = -p.tilt;
  for (int i = 0; i < 40; i++)
    {
      double x = p.h - r->length * (sin (phi) * gained + cos (phi) * spin * spin);
      double z = p.z + G + r->length * (cos (phi) * gained - sin (phi) * spin * spin);
      force = hypot (x, z);
      if (hold != NULL || r->rub == 0)
        break;
      gained = bare - way * r->rub * force / (r->length * r->length);
    }
  if (hold != NULL)
    {
      *hold = r->length * r->length * (gained - bare);
      *limit = r->rub * force;
    }
  return gained + p.tilt;
}

static void
runge_kutta (const Reference *r, double dt, double *a, double *rate)
{
  double k[4][2], b[] = { 0, dt / 2, dt / 2, dt };
  for (int i = 0; i < 4; i++)
    {
      double x = r->a + (i ? b[i] * k[i - 1][0] : 0), v = r->rate + (i ? b[i] * k[i - 1][1] : 0);
      k[i][0] = v;
      k[i][1] = gain (r, r->t + b[i], x, v, r->way, NULL, NULL);
    }
  *a = r->a + dt / 6 * (k[0][0] + 2 * k[1][0] + 2 * k[2][0] + k[3][0]);
  *rate = r->rate + dt / 6 * (k[0][1] + 2 * k[1][1] + 2 * k[2][1] + k[3][1]);
}

static bool
passed (const Reference *r, double a, double rate)
{
  return a < r->low || a > r->high || (r->rub > 0 && rate * r->way < 0);
}

/* Does it go on resting? If not, which way does it start. */
static void
try_rest (Reference *r)
{
  double hold, limit;
  gain (r, r->t, r->a, 0, 0, &hold, &limit);
  bool up = hold < -limit && r->a < r->high, down = hold > limit && r->a > r->low;
  r->rests = !up && !down;
  r->way = up ? 1 : -1;
  r->rate = 0;
}

/* To the end of the step, or to where it meets a stop or stands. */
static void
step (Reference *r, double dt)
{
  double end = r->t + dt;
  for (int events = 0; r->t < end && events < 50; events++)
    {
      if (r->rests)
        {
          r->t = end;
          try_rest (r);
          return;
        }
      double a, rate, least = 0, most = end - r->t;
      runge_kutta (r, most, &a, &rate);
      bool event = passed (r, a, rate);
      for (int i = 0; event && i < 50; i++)
        {
          double middle = (least + most) / 2;
          runge_kutta (r, middle, &a, &rate);
          *(passed (r, a, rate) ? &most : &least) = middle;
        }
      runge_kutta (r, most, &a, &rate);
      bool stop = a < r->low || a > r->high;
      r->a = fmin (fmax (a, r->low), r->high);
      r->rate = rate;
      r->t += most;
      if (!event)
        continue;
      r->rate = stop ? -r->restitution * rate : 0;
      r->way = r->rate > 0 ? 1 : -1;
      if (fabs (r->rate) < 2e-3)
        try_rest (r);
    }
}

/* Follows both for some turns from the same start; rows apart by no more than `allowed`. */
static FwSwings *
compare (Reference r, SwingRig *rig, int turns, double allowed)
{
  const double start = r.a, still = r.rate;
  double turn_s = 2 * G_PI / r.speed;
  r.way = 1;
  if (r.rub > 0 || r.a <= r.low || r.a >= r.high)
    try_rest (&r);
  rig->swing->friction_mm = r.rub * 1000;
  rig->swing->restitution = r.restitution;
  rig->swing->tolerance = -1; /* follow it to the end */
  swing_rig_run (rig, turn_s, &start, &still);
  const FwSwingMember *m = &rig->swing->members[0];
  g_assert_cmpint (m->period, ==, turns);
  for (int row = 0; row < 360 * turns; row++)
    {
      assert_near (m->angle[row], r.a, allowed);
      for (int i = 0; i < 10; i++)
        step (&r, turn_s / 3600);
    }
  return rig->swing;
}

static void
moving_pivot (gconstpointer data)
{
  Ride ride = data ? sleeve : rail;
  SwingRig rig = swing_rig_new (ride_design (ride), 6);
  Reference r = { .ride = ride, .speed = 9, .length = 0.15, .low = -100, .high = 100, .a = -0.4 };
  compare (r, &rig, 6, 2e-6);
  swing_rig_free (&rig);
}

static void
with_friction (gconstpointer data)
{
  Ride ride = data ? sleeve : rail;
  SwingRig rig = swing_rig_new (ride_design (ride), 8);
  Reference r = { .ride = ride, .speed = ride == rail ? 7 : 4, .length = 0.15, .rub = 0.003, .low = -100, .high = 100, .a = -0.9 };
  compare (r, &rig, 8, 1e-5);
  swing_rig_free (&rig);
}

/* So much friction, so slow a turn, that it sticks for part of every turn. */
static void
stick_and_slip (void)
{
  SwingRig rig = swing_rig_new (ride_design (sleeve), 4);
  Reference r = { .ride = sleeve, .speed = 3, .length = 0.15, .rub = 0.02, .low = -100, .high = 100, .a = -G_PI / 2 };
  FwSwings *s = compare (r, &rig, 4, 2e-5);
  int stuck = 0;
  for (int row = 360; row < 1440; row++)
    stuck += s->members[0].angle[row] == s->members[0].angle[row - 1];
  g_assert_cmpint (stuck, >, 60);
  g_assert_cmpint (stuck, <, 1000);
  swing_rig_free (&rig);
}

/* Fast enough to be thrown up from its stop, slow enough to come down on it again and lie there. */
static void
thrown_from_its_stop (void)
{
  FwDesign *d = ride_design (rail);
  build_stops (d, 0, -25, 40);
  SwingRig rig = swing_rig_new (d, 3);
  Reference r = { .ride = rail, .speed = 17.5, .length = 0.15, .rub = 0.0008, .restitution = 0.3, .a = -25 * RAD,
                  .low = -25 * RAD, .high = 40 * RAD };
  FwSwings *s = compare (r, &rig, 3, 2e-4); /* the reference rests from 2 mrad/s on */
  g_assert_cmpint (s->n_blows, >, 3);
  int lying = 0;
  for (int row = 0; row < 1080; row++)
    lying += s->members[0].angle[row] == -25 * RAD;
  g_assert_cmpint (lying, >, 300);
  swing_rig_free (&rig);
}

/* Started on its stop it stays on it while the body's downward acceleration is below g, and not beyond: for
 * a rail that is throw (1 + throw / rod) w^2 at the top. */
static void
lift_off (void)
{
  double w = sqrt (G / (0.04 * 1.25));
  for (int fast = 0; fast < 2; fast++)
    {
      FwDesign *d = ride_design (rail);
      build_stops (d, 0, 0, 40);
      SwingRig rig = swing_rig_new (d, 2);
      const double start = 0, still = 0;
      swing_rig_run (&rig, 2 * G_PI / (w * (fast ? 1.001 : 0.999)), &start, &still);
      const FwSwingMember *m = &rig.swing->members[0];
      g_assert_cmpint (m->on_low, ==, !fast);
      g_assert_true (fast ? m->greatest.value > 1e-8 : m->greatest.value == 0);
      swing_rig_free (&rig);
    }
}

/* ---- Two on each other ---- */

/* The usual equations of two point pendulums (angles from hanging, m1, m2, L1, L2), as printed in many
 * textbooks and course notes; written down here from memory and held against energy in test_pendulum.c. */
static void
two_pendulums (const double y[4], double dy[4])
{
  const double m1 = 0.08, m2 = 0.05, l1 = 0.2, l2 = 0.15;
  double a = y[0], b = y[1], u = y[2], v = y[3], c = a - b;
  double bottom = 2 * m1 + m2 - m2 * cos (2 * c);
  dy[0] = u;
  dy[1] = v;
  dy[2] = (-G * (2 * m1 + m2) * sin (a) - m2 * G * sin (a - 2 * b) - 2 * sin (c) * m2 * (v * v * l2 + u * u * l1 * cos (c)))
          / (l1 * bottom);
  dy[3] = 2 * sin (c) * (u * u * l1 * (m1 + m2) + G * (m1 + m2) * cos (a) + v * v * l2 * m2 * cos (c)) / (l2 * bottom);
}

static void
double_pendulum (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  add_pendulum (d, FW_ON_BODY, 0, 200, 80);
  add_pendulum (d, 0, 200, 150, 50);
  SwingRig rig = swing_rig_new (d, 3);
  rig.swing->tolerance = -1;
  const double start[] = { -0.9, -0.8 }, rate[] = { 0.5, -1 };
  swing_rig_run (&rig, 1, start, rate);
  double y[4] = { start[0] + G_PI / 2, start[0] + start[1] + G_PI / 2, rate[0], rate[0] + rate[1] };
  const double dt = 1. / 7200;
  for (int row = 0; row < 1080; row++)
    {
      double a = rig.swing->members[0].angle[row], b = a + rig.swing->members[1].angle[row];
      assert_near (a + G_PI / 2, y[0], 3e-6);
      assert_near (b + G_PI / 2, y[1], 3e-6);
      for (int i = 0; i < 20; i++)
        {
          double k[4][4], z[4];
          const double part[] = { 0, 0.5, 0.5, 1 };
          for (int s = 0; s < 4; s++)
            {
              for (int j = 0; j < 4; j++)
                z[j] = y[j] + (s ? part[s] * dt * k[s - 1][j] : 0);
              two_pendulums (z, k[s]);
            }
          for (int j = 0; j < 4; j++)
            y[j] += dt / 6 * (k[0][j] + 2 * k[1][j] + 2 * k[2][j] + k[3][j]);
        }
    }
  swing_rig_free (&rig);
}

/* ---- Slow turns ---- */

static double
astray (double turns_per_minute)
{
  SwingRig rig = swing_rig_new (ride_design (sleeve), 3);
  g_assert_cmpint (fw_swing_solve (rig.swing, turns_per_minute * 2 * G_PI / 60, NULL, NULL), ==, FW_SWING_OK);
  double most = rig.swing->members[0].astray;
  swing_rig_free (&rig);
  return most;
}

/* What the acceleration of the pivot turns it by falls with the square of the speed. */
static void
slow_turns (void)
{
  double fast = astray (8), slow = astray (2), slower = astray (0.5);
  g_assert_cmpfloat (fast, <, 0.03);
  g_assert_cmpfloat (slow, <, fast / 8);
  g_assert_cmpfloat (slower, <, slow / 8);
  g_assert_cmpfloat (astray (0), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/forced/on a rail as by Runge and Kutta", GINT_TO_POINTER (0), moving_pivot);
  g_test_add_data_func ("/forced/on a sleeve as by Runge and Kutta", GINT_TO_POINTER (1), moving_pivot);
  g_test_add_data_func ("/forced/on a rail with friction", GINT_TO_POINTER (0), with_friction);
  g_test_add_data_func ("/forced/on a sleeve with friction", GINT_TO_POINTER (1), with_friction);
  g_test_add_func ("/forced/sticks and slips", stick_and_slip);
  g_test_add_func ("/forced/is thrown from its stop, lands and lies", thrown_from_its_stop);
  g_test_add_func ("/forced/leaves its stop when the body falls faster than it can", lift_off);
  g_test_add_func ("/chain/two on each other as the published equations say", double_pendulum);
  g_test_add_func ("/slow/the slower the turn the nearer to rest", slow_turns);
  return g_test_run ();
}
