/* Designs whose own motion is wished for, from a start drawn at random. */
#pragma once

#include <glib.h>

#include "aim/wish.h"

typedef struct
{
  FwDesign *known, *start;
  FwWishes *wishes; /* the panel's angle at 12 crank angles; the numbers of its drive are free */
  char *part;
} Refind;

/* A random design of the whole model that goes round, one of its panels, and a start. */
Refind refind_new (GRand *rand);
void refind_free (Refind *refind);

/* Greatest difference over the turn between that panel's motion in a design and the known one, degrees. */
double refind_apart (const Refind *refind, const FwDesign *design);
