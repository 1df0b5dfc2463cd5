/* What the core costs. Run through bench.sh, which counts instructions with callgrind.
 *
 *   bench_core count CASE N   does CASE N times (twice with different N, the difference is the
 * cost) bench_core cases          lists the cases bench_core ratio          times the core against
 * GSL on the same poses, in this run
 *
 * All cases solve at crank angles that differ by a little over a degree, so nothing repeats. */
#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "build_design.h"
#include "core/loadtrouble.h"
#include "near.h"
#include "second_solver.h"

/* Crank along, a body in a sleeve and n panels of one side, each on a hinge and a rod of its own:
 * no two parts alike, so nothing can be copied from a twin. */
static FwDesign *
flock (int n)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "mid", 20, 0, 0);
  build_sleeve (d, 0, 420, 0, 180);
  for (int i = 0; i < n; i++)
    {
      char *throw = g_strdup_printf ("t%d", i), *panel = g_strdup_printf ("p%d", i),
           *rod = g_strdup_printf ("r%d", i);
      build_throw (d, throw, 18 + i % 5, 40 * i, 30 * (i + 1));
      build_panel (d, panel, FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (45, 30 * (i + 1) - 4, 0), 210);
      d->panels[i].sweep_deg = 3 + i % 4;
      d->panels[i].cant_deg = 2;
      build_rod (d, rod, FW_SIDE_RIGHT, from_throw (i + 1), i, fw_vec3 (140, 4, -12), 460, 0);
      g_free (throw);
      g_free (panel);
      g_free (rod);
    }
  return d;
}

typedef struct
{
  Rig rig;
  FwTurn *turn;
  FwLoadTurn *forces;
  FwTrouble room[FW_TROUBLE_ROOM];
  double cosine[1024], sine[1024];
} Bench;

typedef void (*Work) (Bench *b, int n);

/* Called from outside so that no caller is folded into it. */
static void __attribute__ ((noinline)) poses (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    fw_pose_solve_at (b->rig.pose, b->rig.mechanism, b->cosine[i & 1023], b->sine[i & 1023], false);
}

static void __attribute__ ((noinline)) poses_with_rates (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    fw_pose_solve_at (b->rig.pose, b->rig.mechanism, b->cosine[i & 1023], b->sine[i & 1023], true);
}

static void __attribute__ ((noinline)) turns (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    fw_turn_solve (b->turn, b->rig.mechanism);
}

static void __attribute__ ((noinline)) turns_with_trouble (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    {
      FwTroubleList list = { .items = b->room, .capacity = FW_TROUBLE_ROOM };
      fw_turn_solve (b->turn, b->rig.mechanism);
      fw_trouble_find (b->turn, b->rig.mechanism, &list);
    }
}

#define SPEED 4.0 /* of the crank, rad/s */

static void __attribute__ ((noinline)) forces (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    fw_load_turn_solve (b->forces, b->rig.mechanism, SPEED);
}

/* All that is drawn and listed while a number is dragged, but for strength. */
static void __attribute__ ((noinline)) everything (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    {
      FwTroubleList list = { .items = b->room, .capacity = FW_TROUBLE_ROOM };
      fw_load_turn_solve_both (b->forces, b->turn, b->rig.mechanism, SPEED);
      fw_trouble_find (b->turn, b->rig.mechanism, &list);
      fw_load_trouble_find (b->forces, b->rig.mechanism, &list);
    }
}

typedef struct
{
  const char *name;
  Work work;
  int panels; /* 0: the heron */
  int steps;
} Case;

static const Case cases[] = {
  { "pose-heron", poses, 0, 360 },
  { "pose-rates-heron", poses_with_rates, 0, 360 },
  { "pose-4", poses, 4, 360 },
  { "pose-rates-4", poses_with_rates, 4, 360 },
  { "pose-8", poses, 8, 360 },
  { "pose-rates-8", poses_with_rates, 8, 360 },
  { "pose-16", poses, 16, 360 },
  { "pose-rates-16", poses_with_rates, 16, 360 },
  { "turn-heron", turns, 0, 360 },
  { "turn-720-heron", turns, 0, 720 },
  { "turn-trouble-heron", turns_with_trouble, 0, 360 },
  { "turn-trouble-720-heron", turns_with_trouble, 0, 720 },
  { "turn-forces-heron", forces, 0, 360 },
  { "turn-everything-heron", everything, 0, 360 },
  { "turn-trouble-4", turns_with_trouble, 4, 360 },
  { "turn-trouble-8", turns_with_trouble, 8, 360 },
};

static Bench *
bench_new (int panels, int steps)
{
  Bench *b = g_new0 (Bench, 1);
  b->rig = rig_new (panels == 0 ? build_heron () : flock (panels));
  b->turn = fw_turn_new (b->rig.mechanism, steps);
  b->forces = fw_load_turn_new (b->rig.mechanism, steps);
  for (int i = 0; i < 1024; i++)
    {
      b->cosine[i] = cos (i * 1.01 * RAD);
      b->sine[i] = sin (i * 1.01 * RAD);
    }
  return b;
}

static void
bench_free (Bench *b)
{
  free (b->turn);
  free (b->forces);
  rig_free (&b->rig);
  g_free (b);
}

static double
seconds (void)
{
  struct timespec now;
  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Greatest error of a rod's length in the core's pose, mm. */
static double
core_residual (const Rig *rig)
{
  double worst = 0;
  for (int i = 0; i < rig->mechanism->n_links; i++)
    {
      double length = fw_vec3_distance (rig->pose->links[i].from.at, rig->pose->links[i].to.at);
      worst = fmax (worst, fabs (length - rig->mechanism->links[i].length_mm));
    }
  return worst;
}

/* GSL follows the linkage in steps of `step` degrees: from the last pose, as good a start as it can
 * have. It begins off 0, since its difference quotients lose their footing where an unknown is
 * almost zero. */
static int
ratio_of (const char *name, int panels, double step)
{
  const int n = 2000, repeat = 50;
  Bench *b = bench_new (panels, 360);
  SecondSolver s;
  double worst_core = 0, worst_gsl = 0;
  int failed = 0;
  second_init (&s, b->rig.design);
  second_assemble (&s);
  SecondWorkspace *w = second_workspace_new (&s);
  double start = seconds ();
  for (int i = 0; i < n; i++)
    {
      failed += !second_solve_in (&s, (0.37 + i * step) * RAD, w);
      worst_gsl = fmax (worst_gsl, s.residual);
    }
  double gsl = (seconds () - start) / n;
  second_workspace_free (w);
  double core[2];
  for (int rates = 0; rates < 2; rates++)
    {
      start = seconds ();
      for (int k = 0; k < repeat; k++)
        (rates ? poses_with_rates : poses) (b, n);
      core[rates] = (seconds () - start) / n / repeat;
    }
  for (int i = 0; i < 1024; i++)
    {
      fw_pose_solve_at (b->rig.pose, b->rig.mechanism, b->cosine[i], b->sine[i], false);
      if (!fw_pose_closes (b->rig.pose, b->rig.mechanism))
        failed++;
      worst_core = fmax (worst_core, core_residual (&b->rig));
    }
  printf ("%-26s every %g deg: core %7.0f ns (with rates %7.0f), GSL %8.0f ns a pose: ratio %5.0f "
          "(with rates %5.0f); "
          "worst residual core %.1e, GSL %.1e mm\n",
          name, step, core[0] * 1e9, core[1] * 1e9, gsl * 1e9, gsl / core[0], gsl / core[1],
          worst_core, worst_gsl);
  if (failed > 0)
    printf ("%d poses could not be assembled or solved\n", failed);
  bench_free (b);
  return failed > 0;
}

int
main (int argc, char **argv)
{
  gsl_set_error_handler_off ();
  if (argc == 2 && strcmp (argv[1], "cases") == 0)
    {
      for (size_t i = 0; i < G_N_ELEMENTS (cases); i++)
        puts (cases[i].name);
      return 0;
    }
  if (argc == 2 && strcmp (argv[1], "ratio") == 0)
    return ratio_of ("heron (body, 2 x 2 panels)", 0, 1)
           | ratio_of ("heron (body, 2 x 2 panels)", 0, 5)
           | ratio_of ("body, 4 unlike panels", 4, 1) | ratio_of ("body, 4 unlike panels", 4, 5);
  if (argc == 4 && strcmp (argv[1], "count") == 0)
    for (size_t i = 0; i < G_N_ELEMENTS (cases); i++)
      if (strcmp (argv[2], cases[i].name) == 0)
        {
          Bench *b = bench_new (cases[i].panels, cases[i].steps);
          cases[i].work (b, atoi (argv[3]));
          bench_free (b);
          return 0;
        }
  fprintf (stderr, "usage: %s cases | ratio | count CASE N\n", argv[0]);
  return 2;
}
