/* What bends, buckles or swings too much over one turn. */
#pragma once

#include "strength/strength.h"

/* Common practice, without source: a rod may be pushed with a third of Euler's load, stressed to
 * half of yield (`allowed` in FwPartStrength). Our own marks: a part swings where its mass makes it
 * move half as far again, and by half a millimetre more, than it would without. */
#define FW_BUCKLING_FACTOR 3.0
#define FW_SWING_GROWTH 1.5
#define FW_SWING_LEAST_MM 0.5

/* Adds to a list, part by part (fw_trouble_sort () puts them in order):
 * FW_MAY_BUCKLE: value the greatest push, limit a third of Euler's load there, N; a failure beyond
 * Euler's load; FW_OVER_STRESS: value the greatest stress, limit half of yield or allowed stress,
 * MPa; a failure beyond all of it; FW_RESONANCE: value the natural frequency, limit the harmonic of
 * the turn that feeds it, Hz. Only of parts whose stock and stuff are known, and only where the
 * whole turn can be assembled: beside a gap forces grow without bound. */
void fw_strength_troubles (const FwStrength *strength, FwTroubleList *list);

/* The same for a solved turn of forces, whose pose and loads are overwritten. Allocates; where
 * memory runs out the list is marked as full, since it does not hold all. */
void fw_strength_trouble_find (const FwLoadTurn *turn, const FwMechanism *mechanism,
                               FwTroubleList *list);
