#include "strength/bearings.h"

#include <stdlib.h>

#include "core/pose.h"

#define TURN 6.28318530717958647692

/* One step: the frame's answer lies in the crank's own axes. */
static void
bear (FwCrankFlex *flex, const FwVec3 *pins, double speed, double crank, int steps, FwVec3 *forces)
{
  double cosine = cos (crank), sine = sin (crank), h, z;
  fw_crank_flex_load (flex, pins, cosine, sine, speed);
  for (int i = 0; i < flex->n_bearings; i++)
    {
      fw_crank_flex_reaction (flex, i, &h, &z);
      FwVec3 own
          = fw_vec3_add (fw_vec3_scale (fw_crank_h (flex->runs), h), fw_vec3 (0, 0, z));
      forces[i * steps] = fw_crank_turn (flex->runs, own, cosine, sine);
    }
}

bool
fw_bearing_forces (FwCrankFlex *flex, const FwMechanism *mech, const FwLoadTurn *turn, int steps,
                   FwVec3 *forces)
{
  int every = turn->steps / steps;
  FwVec3 *pins = malloc (sizeof *pins * ((size_t)mech->n_pins + 1));
  if (pins == NULL)
    return false;
  for (int step = 0; step < steps; step++)
    {
      for (int i = 0; i < mech->n_pins; i++)
        pins[i] = turn->pins[(size_t)i * (size_t)turn->steps + (size_t)(step * every)];
      bear (flex, pins, turn->speed, TURN * step / steps, steps, forces + step);
    }
  free (pins);
  return true;
}
