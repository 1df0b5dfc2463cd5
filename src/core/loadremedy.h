/* What mends trouble that forces make: tried, as every remedy. */
#pragma once

#include "core/loadtrouble.h"

/* Remedies for load-reversal (slower turn, closer fit, other masses, another phase), over-run
 * (larger handle, slower turn, other masses, another phase), may-tip (heavier base, wider or
 * deeper plate, nearer to the axis, slower turn, other masses, another phase) and self-locks (less
 * friction, thinner pins, another hold, rod, guide or offset), best first. Each was applied to a copy, solved over the whole turn with its forces, and
 * found free of that trouble on this part and its twin, with no trouble of equal or worse severity
 * that was not there before. None for other kinds. fw_remedies () calls this for them. Allocates.
 */
int fw_load_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list,
                      int capacity, FwStop stop, void *stop_data);

/* A spring that keeps the load of a joint to one sign. */
typedef struct
{
  FwPart part;
  double force_N; /* steady, beside the joint: along the rod, or square to the post at its guide */
  bool pulls; /* a rod: a cord that draws its ends together, so that the rod is always pushed; else
               * a spring that spreads them. Guide or link: toward the side of negative load, else
               * positive */
  double peak_N; /* greatest size of the joint's load with it (spring included) */
  double peak_before_N;
} FwSpring;

/* The weakest such spring: the load of a rod, guide, slide or link is what it was less the spring's
 * pull, so the lesser of the greatest pull and the greatest push is enough. False where the load
 * keeps one sign, is not known, or the part is a hinge, whose load turns round. Exact, no solving.
 */
bool fw_spring_for (const FwLoadTurn *turn, const FwMechanism *mechanism, FwPart part,
                    FwSpring *spring);

/* Such a spring as a part of the design. */
typedef struct
{
  FwSpringPart spring;    /* its name is NULL: fw_spring_fit () gives it one */
  double least_N, most_N; /* its pull over the turn; negative: it pushes */
  bool keeps_sign;        /* the joint's load keeps one sign; else it still changes, below the marks of a knock */
  double peak_N;          /* greatest size of the joint's load with it */
  double peak_before_N;
} FwSpringFit;

/* The weakest spring, of those tried, for a load-reversal of a rod, guide, slide or link. Beside a rod
 * that starts from base, body or panel: between the rod's own ends, where its pull is steady. For one
 * that starts from a throw: a soft cord from the crank's line or from the body above the hinge. For the
 * body: a soft cord from the base, across the post. Tried over the whole turn: the trouble is gone from
 * this part and its twin, and no other of equal or worse severity has come. Whether what it is hung on
 * bears it, and where hands can reach it, is for the maker to judge: a stretched spring flies when it
 * breaks. Allocates. False: none of those tried helps. */
bool fw_spring_fit_for (const FwDesign *design, const FwTrouble *trouble, FwSpringFit *fit, FwStop stop,
                        void *stop_data);

/* Puts it on a design. False: out of memory. */
bool fw_spring_fit (FwDesign *design, const FwSpringFit *fit);

/* A lump of metal that quietens a joint. */
typedef struct
{
  int panel; /* design panel it is fixed to; FW_ON_BODY: the body */
  double mass_g;
  FwVec3 at_mm; /* panel's frame (of the right-hand member; mirrored on the left) or body frame */
  bool keeps_sign; /* the load keeps one sign; else it still changes sign, but below the marks of a
                      knock */
  double peak_N;   /* greatest load of the joint with it */
  double peak_before_N;
} FwCounterweight;

/* The lightest counterweight, of those tried, for a load-reversal: on the panel of the rod or the
 * hinge, behind its hinge line or along its reach, or on the body before and behind its datum.
 * Tried over the whole turn: the trouble is gone from this part and its twin, and no other of equal
 * or worse severity has come. Allocates. False: none of those tried helps. */
bool fw_counterweight_for (const FwDesign *design, const FwTrouble *trouble,
                           FwCounterweight *weight, FwStop stop, void *stop_data);

/* Puts it on a design. False: out of memory. */
bool fw_counterweight_fit (FwDesign *design, const FwCounterweight *weight);
