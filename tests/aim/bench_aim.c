/* Designs judged a second on one core, and the share of known designs found again from their own motion.
 *   bench-aim FILE.flap [DESIGNS [METHOD]]
 * METHOD 0: as the program does; 1: NLopt's controlled random search before each descent; 2: DIRECT-L;
 * 3: MLSL with SLSQP alone. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "aim/aim.h"
#include "aim/runs.h"
#include "refind.h"

/* Of this process on all cores: other work on the machine does not count. */
static double
processor_seconds (void)
{
  return (double)clock () / CLOCKS_PER_SEC;
}

static double
seconds_since (gint64 start)
{
  return (double)(g_get_monotonic_time () - start) / G_TIME_SPAN_SECOND;
}

static void
judged_a_second (const char *file)
{
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_document_load (file, &error);
  if (doc == NULL)
    g_error ("%s", error->message);
  const FwDesign *design = fw_document_design (doc);
  const char *asked[] = { "arm.top=30", "arm.bottom=-25", "tip.top=20", "tip.bottom=-30" };
  const char *loose[] = { "arm-rod.length", "arm.radius", "tip-rod.length", "tip.radius", "tip.phase" };
  FwWishes *wishes = fw_wishes_new ();
  for (gsize i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      FwWish wish;
      if (!fw_wish_parse (design, asked[i], &wish, &error))
        g_error ("%s", error->message);
      fw_wishes_add (wishes, wish);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (loose); i++)
    {
      FwFree item;
      if (!fw_free_parse (design, loose[i], &item, &error))
        g_error ("%s", error->message);
      fw_wishes_add_free (wishes, item);
    }
  FwProblem *problem = fw_problem_new (design, wishes);
  FwJudge *judge = fw_judge_new (problem);
  double *rows = g_new (double, fw_problem_rows (problem));
  double *slopes = g_new (double, fw_problem_rows (problem) * problem->n);
  for (int with = 0; with < 2; with++)
    {
      double start = processor_seconds ();
      int n = 20000;
      for (int i = 0; i < n; i++)
        {
          double x[5];
          for (int k = 0; k < problem->n; k++)
            x[k] = problem->start[k] + 1e-4 * (i % 100);
          fw_judge_rows (judge, x, rows, NULL);
          if (with)
            fw_judge_slopes (judge, x, slopes);
        }
      printf ("%-40s %8.0f a second\n", with ? "designs judged, with all slopes" : "designs judged",
              n / (processor_seconds () - start));
    }
  g_free (rows);
  g_free (slopes);
  fw_judge_free (judge);
  fw_problem_free (problem);
  fw_wishes_free (wishes);
  fw_document_free (doc);
}

static double
search (const Refind *r, FwStarts method, guint32 seed)
{
  if (method == FW_STARTS_BATCH)
    {
      FwAimOptions options = { .seed = seed, .answers = 1 };
      FwAimed *aimed = fw_aim (r->start, r->wishes, &options, NULL, NULL, NULL);
      double apart = refind_apart (r, aimed->answers[0].design);
      fw_aimed_free (aimed);
      return apart;
    }
  FwProblem *problem = fw_problem_new (r->start, r->wishes);
  FwStartRuns runs = { .problem = problem, .starts = method, .seed = seed, .deadline = g_get_monotonic_time () + 2 * G_TIME_SPAN_SECOND };
  FwPoint points[128], best = { NULL, INFINITY };
  double apart = 180;
  int n = 0;
  for (int i = 0; i < 128; i++)
    points[i].x = NULL;
  n = fw_runs (&runs, points, 32);
  for (int i = 0; i < n; i++)
    if (points[i].x != NULL && points[i].cost < best.cost)
      best = points[i];
  if (best.x != NULL)
    {
      FwDesign *design = fw_problem_design (problem, best.x);
      apart = refind_apart (r, design);
      fw_design_free (design);
    }
  for (int i = 0; i < n; i++)
    g_free (points[i].x);
  fw_problem_free (problem);
  return apart;
}

int
main (int argc, char **argv)
{
  int n = argc > 2 ? atoi (argv[2]) : 200, method = argc > 3 ? atoi (argv[3]) : 0, found = 0, late = 0;
  double most = 0, sum = 0;
  if (argc < 2)
    return 2;
  judged_a_second (argv[1]);
  GRand *rand = g_rand_new_with_seed (42);
  double processor = processor_seconds ();
  for (int i = 0; i < n; i++)
    {
      Refind r = refind_new (rand);
      gint64 start = g_get_monotonic_time ();
      double apart = search (&r, (FwStarts)method, (guint32)i + 1), took = seconds_since (start);
      found += apart <= 0.1 && took < 2;
      late += took >= 2;
      sum += took;
      most = fmax (most, took);
      refind_free (&r);
    }
  g_rand_free (rand);
  printf ("%d of %d known designs found again within 0.1 degree in under 2 s (%d took longer)\n"
          "mean %.3f s, longest %.3f s; %.3f s of processor each\n", found, n, late, sum / n, most,
          (processor_seconds () - processor) / n);
  return 0;
}
