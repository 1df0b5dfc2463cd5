#include "aim/sizing.h"

#include <math.h>
#include <stdlib.h>

#include "core/inertia.h"
#include "core/loadtrouble.h"
#include "core/people.h"
#include "strength/strengthtrouble.h"

#define STEPS 360

/* How far along u a panel reaches from its hinge. */
static double
reach_of (const FwPanel *panel)
{
  double far = 0;
  for (int i = 0; i < panel->n_outline; i++)
    far = fmax (far, panel->outline_mm[i].x);
  return panel->n_outline > 0 ? far : panel->span_mm;
}

double
fw_flat_span (const FwDesign *design)
{
  double half = 0;

  for (int i = 0; i < design->n_panels; i++)
    {
      double x = reach_of (&design->panels[i]);
      int p = i;
      for (; design->panels[p].on != FW_ON_BODY; p = design->panels[p].on)
        x += design->panels[p].hinge_mm.x;
      if (design->panels[p].reach == FW_REACH_SIDE && design->panels[p].side != FW_SIDE_MIDDLE)
        half = fmax (half, x + design->panels[p].hinge_mm.x);
    }
  return 2 * half;
}

static double
outline_area (const FwPanel *p)
{
  double twice = 0;
  for (int i = 0; i < p->n_outline; i++)
    {
      FwVec2 a = p->outline_mm[i], b = p->outline_mm[(i + 1) % p->n_outline];
      twice += a.x * b.y - b.x * a.y;
    }
  return fabs (twice) / 2;
}

static double
all_area (const FwDesign *design)
{
  double area = 0;
  for (int i = 0; i < design->n_panels; i++)
    area += outline_area (&design->panels[i]) * (design->panels[i].side == FW_SIDE_BOTH ? 2 : 1);
  return area * 1e-6;
}

static double
greatest_size (const double *row, int n)
{
  double most = 0;
  for (int i = 0; i < n; i++)
    most = isnan (row[i]) ? NAN : fmax (most, fabs (row[i]));
  return most;
}

static void
measure_forces (FwSizing *s, const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwHand hand;
  FwMotor motor;
  FwStand stand;

  s->value[FW_SIZE_WEIGHT] = turn->mass_g;
  s->value[FW_SIZE_TORQUE] = greatest_size (fw_load_turn_row (turn, mech, (FwLoad){ FW_LOAD_TORQUE, 0 }), turn->steps);
  s->value[FW_SIZE_KNOCK] = mech->n_links > 0 ? 0 : NAN;
  for (int i = 0; i < mech->n_links; i++)
    s->value[FW_SIZE_KNOCK] = fmax (s->value[FW_SIZE_KNOCK],
                                    greatest_size (fw_load_turn_row (turn, mech, (FwLoad){ FW_LOAD_TENSION, i }),
                                                   turn->steps));
  if (fw_hand (turn, mech, &hand))
    s->value[FW_SIZE_HANDLE] = fmax (hand.peak_N, hand.back_N);
  if (fw_motor (turn, mech, &motor))
    s->value[FW_SIZE_POWER] = motor.peak_W;
  if (fw_stand (turn, mech, &stand))
    s->value[FW_SIZE_TILT] = stand.tilt_deg;
}

static void
keep_greatest (FwSizing *s, FwSize size, double value, FwPart part)
{
  if (isnan (value) || !(isnan (s->value[size]) || value > s->value[size]))
    return;
  s->value[size] = value;
  s->part[size] = part;
}

static void
measure_strength (FwSizing *s, const FwStrength *strength)
{
  for (int i = 0; i < strength->n_parts; i++)
    {
      const FwPartStrength *p = &strength->parts[i];
      if (p->part.kind != FW_PART_LINK)
        keep_greatest (s, FW_SIZE_SAG, 1000 * fabs (p->sag.value), p->part);
      if (p->allowed > 0)
        keep_greatest (s, FW_SIZE_STRESS, p->stress.value / p->allowed, p->part);
      if (p->bears > 0)
        keep_greatest (s, FW_SIZE_BUCKLING, fmax (0, p->push.value) / p->bears, p->part);
      if (p->natural > 0 && !(p->natural / (2 * G_PI) >= s->value[FW_SIZE_NATURAL]))
        {
          s->value[FW_SIZE_NATURAL] = p->natural / (2 * G_PI);
          s->part[FW_SIZE_NATURAL] = s->part[FW_SIZE_CALM] = p->part;
        }
    }
  if (strength->speed > 0)
    s->value[FW_SIZE_CALM] = s->value[FW_SIZE_NATURAL] * 2 * G_PI / strength->speed;
}

static FwLoadTurn *
solve_forces (const FwMechanism *mech)
{
  FwLoadTurn *turn = fw_load_turn_new (mech, STEPS);
  if (turn)
    fw_load_turn_solve (turn, mech, mech->design->crank.turns_per_minute * 2 * G_PI / 60);
  return turn;
}

gboolean
fw_sizing_of (const FwDesign *design, FwSizing *sizing)
{
  FwMechanism *mech = NULL;

  for (int i = 0; i < FW_N_SIZES; i++)
    {
      sizing->value[i] = NAN;
      sizing->part[i] = (FwPart){ FW_PART_CRANK, 0 };
    }
  sizing->value[FW_SIZE_SPAN] = fw_flat_span (design);
  sizing->value[FW_SIZE_BASE] = design->base.mass_g;
  sizing->value[FW_SIZE_AREA] = all_area (design);
  sizing->value[FW_SIZE_SPEED] = design->crank.turns_per_minute;
  if (fw_mechanism_build (design, &mech, NULL) != FW_OK)
    return FALSE;
  FwLoadTurn *turn = solve_forces (mech);
  FwStrength *strength = fw_strength_new (mech);
  gboolean good = turn && strength;
  if (good)
    {
      measure_forces (sizing, turn, mech);
      fw_strength_solve (strength, turn);
      measure_strength (sizing, strength);
    }
  fw_strength_free (strength);
  free (turn);
  fw_mechanism_free (mech);
  return good;
}

gboolean
fw_motion_and_force_trouble (const FwDesign *design, FwTroubleList *list)
{
  FwMechanism *mech = NULL;

  list->n = 0;
  list->full = false;
  if (fw_mechanism_build (design, &mech, NULL) != FW_OK)
    return FALSE;
  FwTurn *motion = fw_turn_new (mech, STEPS);
  FwLoadTurn *forces = solve_forces (mech);
  gboolean good = motion && forces;
  if (good)
    {
      fw_turn_solve (motion, mech);
      fw_trouble_find (motion, mech, list);
      fw_load_trouble_find (forces, mech, list);
      fw_strength_trouble_find (forces, mech, list);
      fw_trouble_sort (list);
    }
  free (motion);
  free (forces);
  fw_mechanism_free (mech);
  return good;
}
