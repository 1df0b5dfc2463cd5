/* Proportions of a guided start. All of it is our own common practice: what looks right and leaves
 * room for the joints. */
#include "doc/plan.h"

#include <math.h>

#define DEG (G_PI / 180)
#define LEAST_DROP_DEG 4 /* the rod's fitting hangs below the sheet */
#define MOST_DROP_DEG 55

static double
sine_half_swing (const FwGuide *guide)
{
  return sin ((guide->top_deg - guide->bottom_deg) / 2 * DEG);
}

/* 1, 2 or 5 times a power of ten: 0.5 mm for a span of 900 mm, 0.1 mm at the least. */
static double
rounding_step (double span_mm)
{
  double wanted = MAX (span_mm / 1500, 0.1);
  double power = pow (10, floor (log10 (wanted)));
  double lead = wanted / power;
  return power * (lead < 2 ? 1 : lead < 5 ? 2 : 5);
}

void
fw_plan_start (FwPlan *plan, const FwGuide *guide)
{
  static const double parts[FW_PLAN_PANELS][FW_PLAN_PANELS]
      = { { 1, 0, 0 }, { 0.5, 0.5, 0 }, { 0.4, 0.33, 0.27 } };

  *plan = (FwPlan){ .guide = *guide };
  plan->step = rounding_step (guide->span_mm);
  plan->half = guide->span_mm / 2;
  plan->hinge = round (0.07 * plan->half / plan->step) * plan->step;
  plan->wing = plan->half - plan->hinge;
  plan->mid_deg = (guide->top_deg + guide->bottom_deg) / 2;
  double left = plan->wing;
  for (int i = 0; i < guide->panels_a_side; i++)
    {
      double part = plan->wing * parts[guide->panels_a_side - 1][i];
      gboolean last = i == guide->panels_a_side - 1;
      plan->spans[i] = last ? left : round (part / plan->step) * plan->step;
      left -= plan->spans[i];
    }
}

void
fw_plan_shape (FwPlan *plan, double hold, double lift, double share)
{
  const FwGuide *guide = &plan->guide;
  gboolean along = guide->runs == FW_RUNS_ALONG;

  plan->has_stops = FALSE;
  plan->arm = MIN (hold * plan->wing, 0.85 * plan->spans[0]);
  plan->height = lift * plan->wing;
  double stroke = plan->arm * sine_half_swing (guide);
  plan->body_radius = guide->ride == FW_RIDE_FIXED ? 0 : share * stroke;
  plan->wing_radius = stroke - plan->body_radius;

  /* The rod should meet the arm squarely in the middle of the swing. With the crank along, the rod
   * itself slants outward. */
  double reach = plan->hinge + plan->arm;
  double slant = along ? atan2 (reach, plan->height) / DEG : 0;
  plan->arm_deg = CLAMP (-plan->mid_deg - slant, -MOST_DROP_DEG, -LEAST_DROP_DEG);
  double angle = (plan->mid_deg + plan->arm_deg) * DEG;
  double out = plan->hinge + plan->arm * cos (angle);
  double up = plan->height + plan->arm * sin (angle);
  gboolean alone = guide->ride == FW_RIDE_FIXED;
  plan->station = along ? (alone ? 0 : 0.14 * plan->half) : out;
  plan->rod = along ? hypot (out, up) : up;
}

static void
round_to (double *value, double step)
{
  *value = round (*value / step) * step;
}

void
fw_plan_round (FwPlan *plan)
{
  round_to (&plan->height, plan->step);
  round_to (&plan->body_radius, plan->step);
  round_to (&plan->wing_radius, plan->step);
  round_to (&plan->station, plan->step);
  round_to (&plan->rod, plan->step);
}
