/* Strength from poses that were solved for something else says what it says of poses of its own. */
#include "near.h"
#include "random_design.h"
#include "strength/strength.h"

#define STEPS 360
#define APART (STEPS / FW_STRENGTH_STEPS)

/* With stuff and masses everywhere, so that every part is known. */
static FwDesign *
solid_design (GRand *rand)
{
  const FwStuff stuff = { .density_kgm3 = 2700, .young_GPa = 70, .shear_GPa = 26, .yield_MPa = 200 };
  FwDesign *d = random_design (rand, RANDOM_ANY);
  d->crank.stuff = d->body.stuff = stuff;
  d->body.mass_g = 700;
  for (int i = 0; i < d->n_rods; i++)
    {
      d->rods[i].stuff = stuff;
      d->rods[i].mass_g = 20;
    }
  for (int i = 0; i < d->n_panels; i++)
    {
      d->panels[i].stuff = stuff;
      d->panels[i].areal_gm2 = 400;
    }
  return d;
}

/* But for the rounding of crank angles. What weighs nothing rings infinitely high. */
static void
assert_row_same (const double *a, const double *b, int n)
{
  for (int i = 0; i < n; i++)
    if (a[i] != b[i] && !(isnan (a[i]) && isnan (b[i])))
      assert_near (a[i], b[i], 1e-8 * fabs (b[i]) + 1e-12);
}

static void
assert_same (const FwStrength *a, const FwStrength *b)
{
  g_assert_cmpint (a->n_open, ==, b->n_open);
  g_assert_cmpfloat (a->speed, ==, b->speed);
  for (int i = 0; i < a->n_parts; i++)
    {
      const FwPartStrength *p = &a->parts[i], *q = &b->parts[i];
      const double of_p[] = { p->stress.value, p->sag.value, p->push.value, p->bears, p->natural, p->swing.swing },
                   of_q[] = { q->stress.value, q->sag.value, q->push.value, q->bears, q->natural, q->swing.swing };
      assert_row_same (p->stresses, q->stresses, FW_STRENGTH_STEPS);
      assert_row_same (p->swings, q->swings, FW_STRENGTH_STEPS);
      assert_row_same (of_p, of_q, G_N_ELEMENTS (of_p));
    }
}

static void
solve_in_steps (FwStrength *strength, const FwMechanism *mech, FwLoadTurn *turn, FwTurn *motion, double speed)
{
  fw_strength_begin (strength, speed);
  for (int i = 0; i < STEPS; i += APART)
    {
      fw_load_turn_solve_some (turn, motion, mech, speed, i, i + 1);
      fw_strength_step (strength, motion->scratch, turn->loads, i / APART);
      fw_load_turn_solve_some (turn, motion, mech, speed, i + 1, i + APART);
    }
  fw_strength_end (strength, turn->loads);
}

/* At a second speed too: nothing is left of the first. */
static void
test_step_by_step (void)
{
  GRand *rand = g_rand_new_with_seed (23);
  int parts = 0, open = 0;
  for (int n = 0; n < random_rounds (30); n++)
    {
      FwDesign *d = solid_design (rand);
      FwMechanism *mech;
      g_assert_cmpint (fw_mechanism_build (d, &mech, NULL), ==, FW_OK);
      FwLoadTurn *turn = fw_load_turn_new (mech, STEPS);
      FwTurn *motion = fw_turn_new (mech, STEPS);
      FwStrength *own = fw_strength_new (mech), *in_steps = fw_strength_new (mech);
      for (int round = 0; round < 2; round++)
        {
          solve_in_steps (in_steps, mech, turn, motion, 2 + 3 * round);
          fw_strength_solve (own, turn);
          assert_same (in_steps, own);
        }
      parts += own->n_parts;
      open += own->n_open > 0;
      fw_strength_free (own);
      fw_strength_free (in_steps);
      free (motion);
      free (turn);
      fw_mechanism_free (mech);
      fw_design_free (d);
    }
  g_assert_cmpint (parts, >, 90);
  g_assert_cmpint (open, >, 0);
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/strength/step by step it is the same", test_step_by_step);
  return g_test_run ();
}
