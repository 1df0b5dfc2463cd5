/* What the forces of a turn ask of hand, motor and stand, and where fingers can be caught.
 * Derivations: docs/forces.md. The numbers are for comparing designs; where people stand under,
 * beside or reach into a sculpture, local codes and licensed practice come first. */
#pragma once

#include "core/loadturn.h"
#include "core/trouble.h"

/* Light load of a hand crank, N (5 lb): MIL-STD-1472, figure on cranks, from memory, medium sure.
 */
#define FW_HAND_LIGHT_N 22.0
/* The most one person keeps up at a hand crank, N: engineeringtoolbox.com, "Human force and power".
 */
#define FW_HAND_HARD_N 130.0
/* Of hand and forearm going round with the handle, kg: anthropometry from memory, a rough figure.
 */
#define FW_HAND_MASS_KG 1.5
/* Tilt in any direction that must not tip it, deg: IEC 62368-1. */
#define FW_STAND_TILT_DEG 10.0
/* Breaking strength over load of what hangs over people: entertainment rigging practice. */
#define FW_HANG_FACTOR 5.0
/* Least gap that does not crush a finger, mm: ISO 13854. */
#define FW_FINGER_GAP_MM 25.0

typedef struct
{
  double peak_N, peak_crank; /* greatest push forward at the handle */
  double back_N, back_crank; /* greatest holding back, as a positive number; 0: never */
  double mean_N;             /* mean size */
} FwHand;

/* False where there is no handle or the turn does not go all the way round. */
bool fw_hand (const FwLoadTurn *turn, const FwMechanism *mechanism, FwHand *hand);

typedef struct
{
  double torque_Nm;  /* greatest it must give, without margin */
  double rated_Nm;   /* times the design's margin */
  double holding_Nm; /* greatest it must hold back, positive */
  double turns_per_minute;
  double mean_W, peak_W; /* while it drives; power that flows back is not counted as won */
} FwMotor;

/* What a motor at the crank needs over a turn. False, and `motor` as it was, where it cannot go all the way round. */
bool fw_motor (const FwLoadTurn *turn, const FwMechanism *mechanism, FwMotor *motor);

/* How the speed of a crank ripples that is pushed with an even torque, from the energy that moving
 * parts and weight take up and give back, and friction takes (as at steady speed). */
typedef struct
{
  double energy_J;    /* greatest less least of kinetic and potential energy at steady speed */
  double coefficient; /* of fluctuation, (greatest - least) / mean speed, from the energy kept
                         exactly */
  double flywheel;    /* the same by the flywheel formula, energy / (J omega^2) */
  double low, high;   /* rad/s */
} FwRipple;

/* `hand_kgm2`: moment of inertia of hand or flywheel about the crank axis. False where the turn
 * does not go all the way round, stands still, or nothing has mass. */
bool fw_ripple (const FwLoadTurn *turn, const FwMechanism *mechanism, double hand_kgm2,
                FwRipple *ripple);

typedef struct
{
  double tilt_deg, tilt_crank; /* least slope of the floor at which it tips, over the turn and all
                                * four rims; below 0: it tips by itself */
  int tilt_rim;                /* 0: +x, 1: -x, 2: +y, 3: -y */
  double margin_mm, margin_crank; /* least way from zero-moment point to rim; negative: outside;
                                   * -INFINITY: it leaps */
} FwStand;

/* Inertia at the turn's speed included; the driving torque as a motor on the base gives it. The
 * base's own mass counts at the plate's upper face. False where no plate or no base mass is given,
 * it hangs, nothing else has mass, or the turn does not go all the way round. */
bool fw_stand (const FwLoadTurn *turn, const FwMechanism *mechanism, FwStand *stand);

/* The same at one step and for one rim: slope at which it tips, rad; a positive turn is toward that
 * rim. */
double fw_stand_tilt (const FwLoadTurn *turn, const FwMechanism *mechanism, int step, int rim);

/* Greatest pull on what it hangs from, N, and that times FW_HANG_FACTOR; false where it does not
 * hang or does not go all the way round. */
bool fw_hanger (const FwLoadTurn *turn, const FwMechanism *mechanism, double *peak_N,
                double *strength_N);

/* Everything but base and crank pipe: total mass, and the box that its centre of mass moves in. */
typedef struct
{
  double mass_g;
  FwVec3 low_mm, high_mm;
} FwCentre;

/* False where nothing has mass or the turn does not go all the way round. */
bool fw_centre_of_mass (const FwLoadTurn *turn, const FwMechanism *mechanism, FwCentre *centre);

/* Two parts between which a finger fits at one time and is caught at another. */
typedef struct
{
  FwPart a, b;
  double gap_mm, crank; /* least, and where, rad */
  double widest_mm;
} FwPinch;

/* Every pair of panels, rods, pins of the crank and plate whose gap falls below FW_FINGER_GAP_MM,
 * was wide enough for a fingertip before and moves by more than 3 mm; joints themselves are left
 * out. Of a solved turn: gaps are looked at on its kept steps (5 degrees apart as a rule), the least
 * ones found exactly. Writes at most `capacity` and returns how many; capacity + 1 where there are
 * more, which are not looked for. No allocation. */
int fw_pinches (const FwTurn *turn, const FwMechanism *mechanism, FwPinch *list, int capacity);

/* The same as trouble, added to a list; for designs that people can reach into. */
void fw_pinch_trouble_find (const FwTurn *turn, const FwMechanism *mechanism, FwTroubleList *list);
