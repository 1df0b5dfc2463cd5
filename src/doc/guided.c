/* A working design from a few answers: proportions are tried one after the other, for each the
 * throw and the rod are fitted to the swing, and the first free of trouble is taken. */
#include "doc/guided.h"

#include <math.h>
#include <stdlib.h>

#include <glib/gi18n.h>

#include "core/trouble.h"
#include "doc/document.h"
#include "doc/json.h"
#include "doc/plan.h"
#include "doc/read.h"

#define DEG (G_PI / 180)
#define STEPS 144
#define MOST_FITTINGS 14
#define CLOSE_ENOUGH_DEG 0.05 /* before rounding */
#define ROUNDED_ENOUGH_DEG 1.5
#define STOP_ROOM_DEG 5

/* A solved turn of a plan. */
typedef struct
{
  FwMechanism *mechanism;
  FwTurn *turn;
} Trial;

static void
trial_clear (Trial *trial)
{
  free (trial->turn);
  fw_mechanism_free (trial->mechanism);
  *trial = (Trial){ 0 };
}

/* FALSE if the plan states no design that can be built. */
static gboolean
trial_solve (Trial *trial, const FwPlan *plan)
{
  cJSON *tree = fw_plan_to_tree (plan, "");
  FwDesign *design = tree ? fw_design_read (tree, "", NULL) : NULL;
  gboolean built = design && fw_mechanism_build (design, &trial->mechanism, NULL) == FW_OK;

  cJSON_Delete (tree);
  fw_design_free (design);
  if (!built)
    return FALSE;
  trial->turn = fw_turn_new (trial->mechanism, STEPS);
  if (!trial->turn)
    {
      trial_clear (trial);
      return FALSE;
    }
  fw_turn_solve (trial->turn, trial->mechanism);
  return TRUE;
}

/* Least and greatest angle over the turn, degrees. */
static gboolean
swing_of (const Trial *trial, int member, double *least, double *most)
{
  FwExtreme low, high;

  if (!fw_turn_extremes (trial->turn, trial->mechanism, (FwQuantity){ FW_Q_ANGLE, member }, &low,
                         &high))
    return FALSE;
  *least = low.value / DEG;
  *most = high.value / DEG;
  return TRUE;
}

/* Number of troubles that count: warnings and failures; and of remarks beside them. */
static int
count_trouble (const Trial *trial, int *remarks)
{
  FwTroubleList list = { .items = g_new (FwTrouble, FW_TROUBLE_ROOM), .capacity = FW_TROUBLE_ROOM };
  int counts = 0;

  *remarks = 0;
  fw_trouble_find (trial->turn, trial->mechanism, &list);
  for (int i = 0; i < list.n; i++)
    if (list.items[i].severity >= FW_WARNING)
      counts++;
    else
      (*remarks)++;
  g_free (list.items);
  return counts;
}

/* How far the innermost panel's swing is from the one asked for: too narrow by *narrow, too low by
 * *low, degrees. FALSE: it does not go round. */
static gboolean
measure (const FwPlan *plan, double *narrow, double *low)
{
  Trial trial = { 0 };
  double least = 0, most = 0;

  if (!trial_solve (&trial, plan))
    return FALSE;
  gboolean good
      = fw_turn_closes (trial.turn, trial.mechanism) && swing_of (&trial, 0, &least, &most);
  trial_clear (&trial);
  if (!good)
    return FALSE;
  *narrow = (plan->guide.top_deg - plan->guide.bottom_deg) - (most - least);
  *low = plan->mid_deg - (most + least) / 2;
  return TRUE;
}

/* Throw and rod so that the innermost panel swings as asked. The arm turns by about the pin's
 * travel over its length, so each step mends most of what is left. */
static gboolean
fit (FwPlan *plan)
{
  double narrow, low;

  for (int i = 0; i < MOST_FITTINGS; i++)
    {
      if (!measure (plan, &narrow, &low))
        return FALSE;
      if (fabs (narrow) < CLOSE_ENOUGH_DEG && fabs (low) < CLOSE_ENOUGH_DEG)
        break;
      plan->wing_radius += plan->arm * narrow / 2 * DEG;
      plan->rod += plan->arm * low * DEG;
      if (plan->wing_radius < plan->step || plan->rod < plan->step)
        return FALSE;
    }
  fw_plan_round (plan);
  return measure (plan, &narrow, &low) && fabs (narrow) < ROUNDED_ENOUGH_DEG
         && fabs (low) < ROUNDED_ENOUGH_DEG;
}

/* Stops a little outside of what each panel does. Twins swing alike: only the right is asked. */
static gboolean
place_stops (FwPlan *plan)
{
  Trial trial = { 0 };
  if (!trial_solve (&trial, plan))
    return FALSE;

  gboolean good = TRUE;
  for (int i = 0; i < plan->guide.panels_a_side && good; i++)
    {
      double least = 0, most = 0;
      good = swing_of (&trial, plan->guide.both_sides ? 2 * i : i, &least, &most);
      plan->stops[i][0] = floor (least) - STOP_ROOM_DEG;
      plan->stops[i][1] = ceil (most) + STOP_ROOM_DEG;
    }
  plan->has_stops = good;
  trial_clear (&trial);
  return good;
}

/* TRUE if the plan, fitted, goes round without trouble. */
static gboolean
works (FwPlan *plan, int *remarks)
{
  Trial trial = { 0 };

  if (!fit (plan) || !place_stops (plan) || !trial_solve (&trial, plan))
    return FALSE;
  gboolean good
      = fw_turn_closes (trial.turn, trial.mechanism) && count_trouble (&trial, remarks) == 0;
  trial_clear (&trial);
  return good;
}

/* The best of the proportions tried: the first without a remark, else the one with the fewest. */
static gboolean
search (const FwGuide *guide, FwPlan *best)
{
  static const double holds[] = { 0.26, 0.20, 0.33, 0.15, 0.42, 0.11 };
  static const double lifts[] = { 1.0, 1.3, 0.8, 1.7 };
  static const double shares[] = { 0.4, 0.25, 0.12 };
  int fewest = G_MAXINT;

  for (gsize h = 0; h < G_N_ELEMENTS (holds); h++)
    for (gsize l = 0; l < G_N_ELEMENTS (lifts); l++)
      for (gsize s = 0; s < G_N_ELEMENTS (shares); s++)
        {
          FwPlan plan;
          int remarks;
          fw_plan_start (&plan, guide);
          fw_plan_shape (&plan, holds[h], lifts[l], shares[s]);
          if (works (&plan, &remarks) && remarks < fewest)
            {
              fewest = remarks;
              *best = plan;
            }
          if (fewest == 0)
            return TRUE;
          if (guide->ride == FW_RIDE_FIXED)
            break; /* there is no body throw to share with */
        }
  return fewest < G_MAXINT;
}

static gboolean
answers_make_sense (const FwGuide *guide, GError **error)
{
  const char *wrong = NULL;

  if (!(guide->span_mm >= 60 && guide->span_mm <= 6000))
    wrong = _("a span from 60 mm to 6000 mm was expected");
  else if (guide->panels_a_side < 1 || guide->panels_a_side > FW_PLAN_PANELS)
    wrong = _("one to three panels a side were expected");
  else if (!(guide->top_deg <= 80 && guide->bottom_deg >= -80
             && guide->top_deg - guide->bottom_deg >= 4))
    wrong = _("a swing of 4 degrees or more, within 80 degrees up and down, was expected");
  if (wrong)
    g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, wrong);
  return wrong == NULL;
}

gboolean
fw_guided_design (const FwGuide *guide, const char *title, char **text, GError **error)
{
  FwPlan plan;

  if (!answers_make_sense (guide, error))
    return FALSE;
  if (!search (guide, &plan))
    {
      g_set_error (
          error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID,
          _("no linkage was found that swings from %.0f° to %.0f° without trouble; a smaller "
             "swing was expected"),
          guide->bottom_deg, guide->top_deg);
      return FALSE;
    }
  cJSON *tree = fw_plan_to_tree (&plan, title);
  if (!tree)
    {
      g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("there is not enough memory"));
      return FALSE;
    }
  *text = fw_json_print (tree);
  cJSON_Delete (tree);
  return TRUE;
}
