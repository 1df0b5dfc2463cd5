/* What strength costs, and what it says of a design: bench-strength FILE [TURNS_PER_MINUTE].
 *
 * Prints every part's figures, then the time of working out a design once, of a turn of strength,
 * and of the crank alone under 360 steps of pin forces, against the forces of the same 360 steps.
 * The best of many rounds counts: the rest is the machine's. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "doc/document.h"
#include "strength/strengthtrouble.h"

enum
{
  STEPS = 360,
  ROUNDS = 40
};

typedef struct
{
  const FwMechanism *mech;
  FwLoadTurn *turn;
  FwStrength *strength;
  double speed;
} Bench;

static double
seconds (void)
{
  struct timespec t;
  clock_gettime (CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static void
solve_forces (Bench *b)
{
  fw_load_turn_solve (b->turn, b->mech, b->speed);
}

static void
build_once (Bench *b)
{
  fw_strength_free (b->strength);
  b->strength = fw_strength_new (b->mech);
}

static void
solve_strength (Bench *b)
{
  fw_strength_solve (b->strength, b->turn);
}

static void
crank_alone (Bench *b)
{
  FwVec3 *forces = g_newa (FwVec3, b->mech->n_pins + 1);
  for (int i = 0; i < STEPS; i++)
    {
      for (int k = 0; k < b->mech->n_pins; k++)
        forces[k] = b->turn->pins[k * STEPS + i];
      double crank = 2 * G_PI * i / STEPS;
      fw_crank_flex_load (b->strength->crank, forces, cos (crank), sin (crank), b->speed);
      fw_crank_flex_stress (b->strength->crank, NULL);
    }
}

static double
best_us (Bench *b, void (*work) (Bench *))
{
  double best = INFINITY;
  for (int i = 0; i < ROUNDS; i++)
    {
      double start = seconds ();
      work (b);
      best = fmin (best, seconds () - start);
    }
  return best * 1e6;
}

static void
print_parts (const Bench *b)
{
  printf ("%-16s %9s %8s %9s %9s %10s %10s %9s %9s %8s %3s\n", "part", "sag mm", "at deg", "MPa",
          "allowed", "push N", "bears N", "Hz", "still mm", "swing", "x");
  for (int i = 0; i < b->strength->n_parts; i++)
    {
      const FwPartStrength *p = &b->strength->parts[i];
      printf ("%-16s %9.4f %8.0f %9.3f %9.1f %10.3f %10.1f %9.2f %9.4f %8.4f %3d\n",
              fw_part_name (b->mech, p->part), p->sag.value * 1000, p->sag.crank * 180 / G_PI,
              p->stress.value / 1e6, p->allowed / 1e6, p->push.value, p->bears,
              p->natural / (2 * G_PI), p->swing.still * 1000, p->swing.swing * 1000,
              p->swing.harmonic);
    }
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  fw_strength_troubles (b->strength, &list);
  for (int i = 0; i < list.n; i++)
    printf ("%s: %s %.4g over %.4g from %.1f to %.1f\n", fw_trouble_name (room[i].kind),
            fw_part_name (b->mech, room[i].part), room[i].value, room[i].limit,
            room[i].from * 180 / G_PI, room[i].to * 180 / G_PI);
}

int
main (int argc, char **argv)
{
  GError *error = NULL;
  FwDocument *doc = fw_document_load (argc > 1 ? argv[1] : HERON, &error);
  if (doc == NULL)
    {
      fprintf (stderr, "%s\n", error->message);
      return 2;
    }
  FwMechanism *mech;
  if (fw_mechanism_build (fw_document_design (doc), &mech, NULL) != FW_OK)
    return 2;
  double rpm = argc > 2 ? g_ascii_strtod (argv[2], NULL) : mech->design->crank.turns_per_minute;
  Bench b = { .mech = mech, .turn = fw_load_turn_new (mech, STEPS), .speed = rpm * 2 * G_PI / 60 };
  double forces = best_us (&b, solve_forces), once = best_us (&b, build_once),
         turn = best_us (&b, solve_strength);
  solve_forces (&b);
  double crank = b.strength->crank->status == FW_FRAME_OK ? best_us (&b, crank_alone) : 0;
  print_parts (&b);
  printf ("forces of 360 steps   %8.1f us\n", forces);
  printf ("worked out once       %8.1f us  (%d nodes, %d diagonals)\n", once,
          b.strength->crank->frame ? b.strength->crank->frame->n_nodes : 0,
          b.strength->crank->frame ? b.strength->crank->frame->band : 0);
  printf ("strength of a turn    %8.1f us\n", turn);
  printf ("crank alone, 360      %8.1f us\n", crank);
  fw_strength_free (b.strength);
  free (b.turn);
  fw_mechanism_free (mech);
  fw_document_free (doc);
  return 0;
}
