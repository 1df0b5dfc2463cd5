/* Joints with play: where the load changes sign, how long the gap takes to cross, how hard it
 * knocks. Derivation: docs/forces.md, "Bounce". */
#pragma once

#include "core/loadturn.h"
#include "core/trouble.h"

/* Play assumed of a joint that has none, for fw_reversals (), mm: our own round figure for a fit
 * that has worn. */
#define FW_WORN_PLAY_MM 0.2

typedef struct
{
  FwPart part;  /* link: its two joints together, along the rod; member: its hinge; body: post in
                 * guide or slide, or the rocker's link */
  double crank; /* where the load changes sign, rad, [0, 2 pi) */
  double knock; /* where the gap is crossed, rad, [0, 2 pi) */
  double gap_mm;
  bool crosses;     /* false: the load turns back first and the joint lands where it left */
  double cross_s;   /* from change of sign to knock */
  double speed_mps; /* of the knock: relative, across the gap */
  double energy_J;  /* of it: half the mass felt at the joint times speed squared; (1 -
                       restitution^2) of it is lost */
  double mass_kg;   /* felt at the joint along its direction, where the load changes sign */
  double slope_Nps; /* size of the load's rate there */
  int before,
      after; /* sign of the load: a rod's tension; guide and link as FW_LOAD_GUIDE, a slide's push
              * along +h; a hinge: always -1 and +1 (along the load's own change) */
  double turning; /* hinge: |d gamma / dt| / R, rad/(N s), gamma the load's direction and R its size
                   * (ratio of Earles and Wu, 1973, from memory): ranks joints, no limit; INFINITY
                   * for the others, whose load turns round at once */
} FwBounce;

/* Every bounce of every joint with play over a turn, joint by joint, ascending in crank angle. A
 * hinge whose load swings round rather than through nothing rolls in its play, and is not listed.
 * The turn must be solved at a speed above 0; its pose and loads are overwritten. Writes at most
 * `capacity`, returns how many there are. No allocation. */
int fw_bounces (const FwLoadTurn *turn, const FwMechanism *mechanism, FwBounce *list, int capacity);

/* The same of all joints, those without play as if they had FW_WORN_PLAY_MM: what would knock when
 * worn. `stop`, which may be NULL, is asked before each place that is looked at closely; -1: it
 * was told to stop, and the list holds only some. */
int fw_reversals (const FwLoadTurn *turn, const FwMechanism *mechanism, FwBounce *list,
                  int capacity, FwStop stop, void *stop_data);

/* The mass felt at a joint along its direction in a solved pose, g: what the load must move when
 * the joint gives way while the crank stands. Hinge: `along` is a unit vector, world axes; ignored
 * for the others. `loads` gives the masses; its demands are overwritten. */
double fw_joint_mass (const FwMechanism *mechanism, const FwPose *pose, FwLoads *loads, FwPart part,
                      FwVec3 along);

/* Play of a joint, mm. */
double fw_joint_play (const FwMechanism *mechanism, FwPart part);
