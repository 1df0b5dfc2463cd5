/* Work to be counted, layer by layer, on the night heron: run under callgrind by counts.py.
 *
 *   counted cases        lists the cases, with how often each is worth doing
 *   counted CASE N       does it N times (twice with different N: the difference is the cost)
 *
 * Poses and the like stand in tests/core/bench_core.c with ratios of their own. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "aim/problem.h"
#include "aim/wish.h"
#include "core/loadtrouble.h"
#include "doc/document.h"
#include "draw/still.h"
#include "strength/strengthtrouble.h"

enum
{
  STEPS = 360,
  WIDTH = 1000,
  HEIGHT = 720
};

typedef struct
{
  FwDocument *doc;
  char *text;
  FwMechanism *mech;
  FwPose *pose, *scratch;
  FwTurn *turn;
  FwLoadTurn *loads;
  FwStrength *strength;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList troubles;
  FwScene scene;
  cairo_t *cr;
} Bench;

static void
pose (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    fw_pose_solve (b->pose, b->mech, 0.0177 * i);
}

static void
turn (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    fw_turn_solve (b->turn, b->mech);
}

/* All that a dragged number asks for between two frames, but for strength. */
static void
everything (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    {
      b->troubles.n = 0;
      fw_load_turn_solve_both (b->loads, b->turn, b->mech, fw_crank_speed (b->mech->design));
      fw_trouble_find (b->turn, b->mech, &b->troubles);
      fw_load_trouble_find (b->loads, b->mech, &b->troubles);
    }
}

static void
strength (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    fw_strength_solve (b->strength, b->loads);
}

static void
build (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    {
      FwMechanism *m = NULL;
      if (fw_mechanism_build (fw_document_design (b->doc), &m, NULL) == FW_OK)
        fw_mechanism_free (m);
    }
}

static void
load (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    fw_document_free (fw_document_new_from_text (b->text, -1, "heron", NULL));
}

static void
text (Bench *b, int n)
{
  for (int i = 0; i < n; i++)
    g_free (fw_document_to_text (b->doc));
}

/* A slider that moves: a change, the design read anew, and the way back kept. */
static void
change (Bench *b, int n)
{
  FwParam length = { 0 };
  if (!fw_param_from_path (fw_document_design (b->doc), "rods.arm-rod.length", &length))
    g_error ("no rod arm-rod");
  double value = fw_param_get (fw_document_design (b->doc), length);
  for (int i = 0; i < n; i++)
    {
      FwChange one = { length, value + 0.01 * (i % 2) };
      if (!fw_document_change (b->doc, &one, 1, "drag", "drag", NULL))
        g_error ("not taken");
    }
}

static void
judge (Bench *b, int n)
{
  const char *asked[] = { "arm.top=30", "arm.bottom=-25", "tip.top=20", "tip.bottom=-30" };
  const char *loose[] = { "arm-rod.length", "arm.radius", "tip-rod.length", "tip.radius", "tip.phase" };
  const FwDesign *design = fw_document_design (b->doc);
  FwWishes *wishes = fw_wishes_new ();
  FwWish wish;
  FwFree item;
  for (gsize i = 0; i < G_N_ELEMENTS (asked); i++)
    if (fw_wish_parse (design, asked[i], &wish, NULL))
      fw_wishes_add (wishes, wish);
  for (gsize i = 0; i < G_N_ELEMENTS (loose); i++)
    if (fw_free_parse (design, loose[i], &item, NULL))
      fw_wishes_add_free (wishes, item);
  FwProblem *problem = fw_problem_new (design, wishes);
  FwJudge *j = fw_judge_new (problem);
  g_autofree double *rows = g_new (double, fw_problem_rows (problem));
  g_autofree double *slopes = g_new (double, fw_problem_rows (problem) * problem->n);
  double x[G_N_ELEMENTS (loose)];
  for (int i = 0; i < n; i++)
    {
      for (int k = 0; k < problem->n; k++)
        x[k] = problem->start[k] + 1e-4 * (i % 100);
      fw_judge_rows (j, x, rows, NULL);
      fw_judge_slopes (j, x, slopes);
    }
  fw_judge_free (j);
  fw_problem_free (problem);
  fw_wishes_free (wishes);
}

/* `still`: what the window keeps while only the crank moves; NULL: all is drawn. */
static void
view (Bench *b, int n, FwView from, FwStill *still)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwBox page = { 0, 0, WIDTH, HEIGHT };
  FwCamera camera = fw_camera_fit (from, fw_view_extent (&b->scene, from), page, 36);
  for (int i = 0; i < n; i++)
    {
      fw_pose_solve (b->pose, b->mech, 0.11 * i);
      fw_draw_view_kept (b->cr, still, &b->scene, &camera, &style, page,
                         FW_SHOW_SIDES | FW_SHOW_SCALE_BAR | FW_SHOW_TRACES | FW_SHOW_TROUBLE, NULL);
    }
}

static void
front (Bench *b, int n)
{
  view (b, n, FW_VIEW_FRONT, NULL);
}

static void
side (Bench *b, int n)
{
  view (b, n, FW_VIEW_SIDE, NULL);
}

static void
turn_strip (Bench *b, int n, FwStill *still)
{
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwStripState state
      = { .curves = { { FW_Q_ANGLE, 0 }, { FW_Q_ANGLE, 2 } }, .n_curves = 2, .picked_trouble = -1 };
  for (int i = 0; i < n; i++)
    {
      fw_pose_solve (b->pose, b->mech, 0.11 * i);
      state.crank = 0.11 * i;
      fw_draw_turn_strip_kept (b->cr, still, &b->scene, &state, &style, (FwBox){ 0, 0, 1600, 280 });
    }
}

static void
strip (Bench *b, int n)
{
  turn_strip (b, n, NULL);
}

/* A frame of the window while the crank turns. Kept is from the second frame on: in the difference of two runs every
 * frame is one of those. */
static void
frame (Bench *b, int n)
{
  FwStill *front_still = fw_still_new (), *side_still = fw_still_new (), *strip_still = fw_still_new ();
  view (b, n, FW_VIEW_FRONT, front_still);
  view (b, n, FW_VIEW_SIDE, side_still);
  turn_strip (b, n, strip_still);
  fw_still_free (front_still);
  fw_still_free (side_still);
  fw_still_free (strip_still);
}

typedef struct
{
  const char *name;
  int times;
  void (*work) (Bench *b, int n);
} Case;

static const Case cases[] = {
  { "pose-with-rates", 2000, pose },
  { "turn", 4, turn },
  { "turn-forces-trouble", 4, everything },
  { "strength-of-a-turn", 2, strength },
  { "build-mechanism", 50, build },
  { "open-design", 10, load },
  { "write-design", 10, text },
  { "change-a-number", 10, change },
  { "judge-with-slopes", 20, judge },
  { "draw-front", 2, front },
  { "draw-side", 2, side },
  { "draw-turn-strip", 2, strip },
  { "draw-frame-crank-moved", 4, frame },
};

static Bench *
bench_open (const char *file)
{
  g_autoptr (GError) error = NULL;
  Bench *b = g_new0 (Bench, 1);
  if (!g_file_get_contents (file, &b->text, NULL, &error))
    g_error ("%s", error->message);
  b->doc = fw_document_new_from_text (b->text, -1, "heron", &error);
  if (b->doc == NULL)
    g_error ("%s", error->message);
  if (fw_mechanism_build (fw_document_design (b->doc), &b->mech, NULL) != FW_OK)
    g_error ("cannot be built");
  b->pose = fw_pose_new (b->mech);
  b->scratch = fw_pose_new (b->mech);
  b->turn = fw_turn_new (b->mech, STEPS);
  b->loads = fw_load_turn_new (b->mech, STEPS);
  b->strength = fw_strength_new (b->mech);
  b->troubles = (FwTroubleList){ .items = b->room, .capacity = FW_TROUBLE_ROOM };
  everything (b, 1);
  b->scene = (FwScene){ .mechanism = b->mech,
                        .pose = b->pose,
                        .turn = b->turn,
                        .troubles = &b->troubles,
                        .scratch = b->scratch,
                        .loads = b->loads };
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 1600, 1000);
  b->cr = cairo_create (surface);
  cairo_surface_destroy (surface);
  return b;
}

/* Ends without tidying up: the process is over. */
int
main (int argc, char **argv)
{
  if (argc == 2 && strcmp (argv[1], "cases") == 0)
    {
      for (size_t i = 0; i < G_N_ELEMENTS (cases); i++)
        printf ("%s %d\n", cases[i].name, cases[i].times);
      return 0;
    }
  if (argc == 4)
    for (size_t i = 0; i < G_N_ELEMENTS (cases); i++)
      if (strcmp (argv[2], cases[i].name) == 0)
        {
          cases[i].work (bench_open (argv[1]), atoi (argv[3]));
          return 0;
        }
  fprintf (stderr, "usage: %s cases | DESIGN CASE N\n", argv[0]);
  return 2;
}
