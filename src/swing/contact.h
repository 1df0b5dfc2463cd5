/* What touches a hanging panel: its hinge's friction and its stops. Derivation: docs/swing.md.
 *
 * Friction is Coulomb's: while it slides, the moment coefficient x pin radius x (force in the
 * hinge) against the motion, as of the driven hinges (loads.h); while it sticks, whatever holds it, up to the same. A stop pushes
 * and never pulls; a blow turns the speed round, times the restitution. Units as in equations.h: crank angles and coordinates q in rad,
 * rates qd by time in rad/s. */
#pragma once

#include "swing/equations.h"

typedef enum
{
  FW_MOVES,    /* no friction, clear of the stops */
  FW_SLIDES_UP,
  FW_SLIDES_DOWN,
  FW_STICKS,   /* held by friction */
  FW_ON_LOW,   /* rests on its lower stop */
  FW_ON_HIGH,
  FW_INERT,    /* nothing in it can be turned: it stays where it is */
} FwTouch;

typedef struct
{
  FwFree *free;
  double friction_mm; /* coefficient x pin radius; 0: none */
  double restitution; /* 0..1 */
  FwTouch *touch;     /* [n] */
  double *low, *high; /* [n]: stops, rad; infinite where there are none */
  double *pace;       /* [n]: rad/s, about what it would swing with, or the crank if that is faster */
  double *tip_mm;     /* [n] */

  /* Of the state last looked at: */
  double *qdd;   /* [n] */
  double *need;  /* [n]: moment that holds those that do not move */
  double *limit; /* [n]: most that friction gives */
  double *room;  /* n * (n + 4) */
} FwContact;

/* NULL when memory runs out; free () releases it. Takes nothing of `f` but its place. */
FwContact *fw_contact_new (FwFree *f);

/* Sets pace, and FW_INERT where nothing can be turned, from a state: crank angle and q, rad. False: it cannot be assembled. */
bool fw_contact_begin (FwContact *c, double crank, const double *q);

/* qdd, need and limit in a state (rad, rad, rad/s), all touching as `touch` says. False: it cannot be assembled. */
bool fw_contact_accelerate (FwContact *c, double crank, const double *q, const double *qd);

/* Decides anew in a state (rad, rad, rad/s), for all that stick or rest on a stop, whether they go on doing so or start to move;
 * their rates must be 0. False: it cannot be assembled. */
bool fw_contact_decide (FwContact *c, double crank, const double *q, const double *qd);

/* A blow: every panel that stands at a stop and runs into it turns round. Rates are changed, and who
 * is thrown off what held it starts to move. Before: rates of those that hit (0 for others);
 * impulse: moment impulses from the stops, g mm^2/s; felt: inertia felt by each alone, g mm^2.
 * False: it cannot be assembled. */
bool fw_contact_blow (FwContact *c, double crank, const double *q, double *qd, double *before,
                      double *impulse, double *felt);

/* Puts to rest those at a stop whose rebound would not rise by FW_SWING_CALM rad. */
bool fw_contact_calm (FwContact *c, double crank, const double *q, double *qd);

#define FW_SWING_CALM 1e-6 /* a third of a micrometre at 300 mm: ours */
