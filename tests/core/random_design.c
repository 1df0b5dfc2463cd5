#include <stdlib.h>
#include "random_design.h"

#include <math.h>

#include "build_design.h"
#include "second_solver.h"

static double
between (GRand *r, double a, double b)
{
  return g_rand_double_range (r, a, b);
}

static bool
chance (GRand *r, double p)
{
  return g_rand_double (r) < p;
}

static void
random_throws (GRand *r, FwDesign *d)
{
  build_throw (d, "mid", between (r, 15, 50), between (r, -180, 180), 0);
  int n = g_rand_int_range (r, 1, 4);
  for (int i = 0; i < n; i++)
    {
      char *name = g_strdup_printf ("t%d", i);
      build_twin_throw (d, name, between (r, 10, 40), between (r, -180, 180), 60.0 + 60 * i);
      g_free (name);
    }
  if (d->crank.runs == FW_RUNS_ALONG)
    for (int i = 0; i < d->crank.n_throws; i++)
      {
        d->crank.throws[i].both = false;
        d->crank.throws[i].station_mm -= 90;
      }
}

static void
random_ride (GRand *r, FwDesign *d, int ride)
{
  const FwThrow *mid = &d->crank.throws[0];
  switch (ride)
    {
    case FW_RIDE_FIXED:
      build_fixed (d, 0, between (r, -60, 60), between (r, 200, 400), between (r, -25, 25));
      if (d->crank.runs == FW_RUNS_ALONG)
        d->body.tilt_deg = between (r, -10, 10);
      break;
    case FW_RIDE_RAIL:
      build_rail (d, 0, between (r, 150, 400), between (r, -40, 40));
      break;
    case FW_RIDE_SLEEVE:
      build_sleeve (d, 0, between (r, 300, 500), between (r, -50, 50), between (r, 100, 250));
      break;
    default:
      {
        /* As long a link as holds the post at a tilt of a few degrees at crank angle 0. */
        double on = between (r, 120, 260), tilt = between (r, -0.2, 0.2),
               p = mid->phase_deg * G_PI / 180;
        double h = mid->radius_mm * sin (p) + on * sin (tilt),
               z = mid->radius_mm * cos (p) + on * cos (tilt);
        double ph = between (r, 60, 200) * (chance (r, 0.5) ? 1 : -1), pz = between (r, 60, 260);
        build_rocker (d, 0, between (r, 300, 450), ph, pz, hypot (h - ph, z - pz), on);
      }
    }
}

static void
random_panel (GRand *r, FwDesign *d, RandomWish wish)
{
  int i = d->n_panels;
  char *name = g_strdup_printf ("p%d", i);
  int on = i > 0 && chance (r, 0.6) ? g_rand_int_range (r, 0, i) : FW_ON_BODY;
  FwSide side = FW_SIDE_BOTH;
  FwReach reach = FW_REACH_SIDE;
  if (on != FW_ON_BODY)
    side = d->panels[on].side;
  else if (chance (r, 0.25))
    {
      side = FW_SIDE_MIDDLE;
      reach = chance (r, 0.5) ? FW_REACH_FORWARD : FW_REACH_BACK;
    }
  else if (!wish.mirrored && chance (r, 0.3))
    side = chance (r, 0.5) ? FW_SIDE_LEFT : FW_SIDE_RIGHT;
  if (on != FW_ON_BODY && side == FW_SIDE_BOTH && !wish.mirrored && chance (r, 0.2))
    side = chance (r, 0.5) ? FW_SIDE_LEFT : FW_SIDE_RIGHT;
  double span = between (r, 100, 260);
  FwVec3 hinge = on == FW_ON_BODY
                     ? fw_vec3 (between (r, 20, 80), between (r, -60, 60), between (r, -40, 40))
                     : fw_vec3 (d->panels[on].span_mm, between (r, -20, 20), between (r, -10, 10));
  if (on == FW_ON_BODY && side == FW_SIDE_MIDDLE)
    hinge = fw_vec3 (wish.mirrored ? 0 : between (r, -20, 20), between (r, 20, 80),
                     between (r, -20, 40));
  if (wish.mirrored && side == FW_SIDE_MIDDLE)
    hinge = on == FW_ON_BODY ? hinge : fw_vec3 (hinge.x, 0, hinge.z);
  build_panel (d, name, side, on, hinge, span);
  FwPanel *p = &d->panels[i];
  p->reach = reach;
  if (!wish.mirrored || side != FW_SIDE_MIDDLE)
    {
      p->sweep_deg = between (r, -30, 30);
      p->cant_deg = between (r, -25, 25);
    }
  g_free (name);
}

static FwAnchor
random_anchor (GRand *r, const FwDesign *d, int panel, RandomWish wish)
{
  const FwPanel *p = &d->panels[panel];
  bool middle = p->side == FW_SIDE_MIDDLE, square = wish.mirrored && middle;
  double x = square ? 0 : between (r, 30, 160);
  for (int tries = 0;; tries++)
    {
      int kind = tries > 20 ? 2 : g_rand_int_range (r, 0, 4);
      if (kind == 0)
        return from_throw (square ? 0 : g_rand_int_range (r, 0, d->crank.n_throws));
      if (kind == 1 && !wish.no_base)
        return from_base (x, between (r, -80, 80), between (r, -40, 60));
      if (kind == 2)
        return from_body (x, between (r, -60, 60), between (r, -120, 60));
      if (kind == 3 && panel > 0)
        {
          int other = g_rand_int_range (r, 0, panel);
          FwSide side = d->panels[other].side;
          bool ok = side == p->side || side == FW_SIDE_MIDDLE || (side == FW_SIDE_BOTH && !middle);
          if (ok && other != p->on && !(wish.mirrored && side == FW_SIDE_MIDDLE && !middle))
            return from_panel (other, between (r, 20, d->panels[other].span_mm),
                               square ? 0 : between (r, -30, 30), between (r, -40, 40));
        }
    }
}

/* Poses the panel at `angle` (rad) and cuts its rod to suit. The last rod's pose must be square
 * enough to the panel's motion, or another anchor is drawn. */
static void
random_rod (GRand *r, FwDesign *d, int panel, const double *angles, RandomWish wish)
{
  const FwPanel *p = &d->panels[panel];
  bool square = wish.mirrored && p->side == FW_SIDE_MIDDLE;
  char *name = g_strdup_printf ("r%d", panel);
  FwVec3 at = fw_vec3 (between (r, 30, 0.8 * p->span_mm), square ? 0 : between (r, -30, 30),
                       between (r, -30, 20));
  int rod = build_rod (d, name, p->side, random_anchor (r, d, panel, wish), panel, at, 1,
                       angles[panel] * 180 / G_PI + between (r, -3, 3));
  for (int tries = 0; tries < 50; tries++)
    {
      SecondSolver s;
      double from[3], to[3], away[3];
      second_init (&s, d);
      second_assemble_body (&s);
      for (int i = 0; i < s.n_members; i++)
        s.x[3 + i] = angles[s.members[i].panel];
      int link = s.members[second_find (&s, panel, p->side == FW_SIDE_LEFT)].link;
      second_link_ends (&s, link, from, to);
      double length
          = sqrt (pow (to[0] - from[0], 2) + pow (to[1] - from[1], 2) + pow (to[2] - from[2], 2));
      for (int i = 0; i < s.n_members; i++)
        if (s.members[i].panel == panel)
          s.x[3 + i] += 1e-4;
      second_link_ends (&s, link, from, away);
      double moved
          = sqrt (pow (away[0] - to[0], 2) + pow (away[1] - to[1], 2) + pow (away[2] - to[2], 2));
      double longer = sqrt (pow (away[0] - from[0], 2) + pow (away[1] - from[1], 2)
                            + pow (away[2] - from[2], 2));
      d->rods[rod].length_mm = length;
      if (length > 40 && moved > 0 && fabs (longer - length) > 0.2 * moved)
        break;
      d->rods[rod].from = random_anchor (r, d, panel, wish);
    }
  g_free (name);
}

FwDesign *
random_design (GRand *r, RandomWish wish)
{
  double angles[8];
  FwDesign *d = build_design (wish.runs >= 0    ? (FwRuns)wish.runs
                              : chance (r, 0.5) ? FW_RUNS_ACROSS
                                                : FW_RUNS_ALONG);
  random_throws (r, d);
  random_ride (r, d, wish.ride >= 0 ? wish.ride : g_rand_int_range (r, 0, 4));
  int n = g_rand_int_range (r, 1, 6);
  for (int i = 0; i < n; i++)
    {
      random_panel (r, d, wish);
      angles[i] = between (r, -0.6, 0.6);
      random_rod (r, d, i, angles, wish);
    }
  return d;
}

int
random_rounds (int few)
{
  const char *rounds = g_getenv ("FW_ROUNDS");
  return few * (rounds ? MAX (1, atoi (rounds)) : 1);
}
