/* Panels without a rod as they really move: between their stops, under gravity and the motion of what
 * carries them, with friction in the hinge, at a steady speed of the crank.
 *
 * They start from the rest pose at crank angle 0, moving as it moves, and are followed turn after turn
 * until angle and rate at crank angle 0 come back. The air is left out. Derivation and rules:
 * docs/swing.md. Angles rad, time s, crank angle rad; blows in SI. */
#pragma once

#include "core/trouble.h"

#define FW_SWING_KEPT 8  /* turns that are kept; also the longest period looked for */
#define FW_SWING_BLOWS 1024

typedef enum
{
  FW_FATE_DRIVEN,    /* not a hanging panel */
  FW_FATE_REPEATS,   /* after `turns`, every `period` turns */
  FW_FATE_UNSETTLED, /* not within the stated number of turns: the last ones are given */
  FW_FATE_STILL,     /* the crank stands: the rest pose */
  FW_FATE_OPEN,      /* what carries it cannot be assembled all the way round */
  FW_FATE_BINDS,     /* it swings to where something it drives cannot be assembled */
  FW_FATE_LOST,      /* too many swings or blows in a turn to follow */
} FwFate;

typedef struct
{
  FwFate fate;
  int period;         /* turns in the rows; 0: none (OPEN, BINDS, LOST, driven) */
  int turns;          /* that were run */
  double spread;      /* UNSETTLED: of the angle at crank angle 0 over the turns kept, rad */
  double at;          /* OPEN, BINDS: crank angle, rad */
  double *angle;      /* [period * steps], rad; not wrapped */
  double *rate;       /* d(angle)/d(crank); at a blow that of the moment before */
  double *rest;       /* [steps]: rest pose, rad; NaN where it is adrift */
  FwExtreme least, greatest; /* angle over the rows, and crank angle */
  double astray;      /* greatest size of angle less rest angle, rad */
  double astray_at;   /* crank angle there */
  bool on_low, on_high; /* rests on that stop all the time */
} FwSwingMember;

typedef struct
{
  int member;
  bool high;           /* the upper stop */
  int turn;            /* 0 .. period - 1 of the rows */
  double crank;        /* [0, 2 pi) */
  double speed_mps;    /* of the tip, to the stop */
  double energy_J;     /* half the inertia felt times speed squared; 1 - restitution^2 of it is lost */
  double impulse_Ns;   /* as if the stop met it at the tip */
  double turning_Nms;  /* moment impulse about the hinge line */
} FwSwingBlow;

typedef struct
{
  const FwMechanism *mechanism;
  int steps;
  double speed; /* rad/s */

  /* May be changed before solving. */
  int most_turns;      /* 64 */
  double tolerance;    /* 1e-4 rad (0.006 deg); rates count divided by what it would swing with */
  double friction_mm;  /* coefficient times pin radius: the design's */
  double restitution;  /* the design's */
  const double *start, *start_rate; /* by member, rad and rad/s; NULL: the rest pose's */

  FwSwingMember *members; /* [members] */
  FwSwingBlow *blows;     /* member by member, in time */
  int n_blows;
  bool blows_full; /* there were more */
  long looks;      /* at the equations of motion */
  double *rows;    /* room of angle, rate and rest */
} FwSwings;

typedef enum { FW_SWING_OK, FW_SWING_NO_MEMORY, FW_SWING_STOPPED } FwSwingStatus;

/* NULL when memory runs out. The mechanism must outlive it. */
FwSwings *fw_swing_new (const FwMechanism *mechanism, int steps);
void fw_swing_free (FwSwings *swing);

/* Solves at a crank speed, rad/s (below 1e-6: STILL). `stop` may be NULL; it is asked every few
 * hundred steps. Members hold nothing of use unless the status is OK. */
FwSwingStatus fw_swing_solve (FwSwings *swing, double speed, FwStop stop, void *stop_data);

/* Angle (rad) and rate (by crank, may be NULL) of a member at a crank angle counted from the first
 * row on, any number of turns; cubic between the rows. NaN where there are no rows. */
double fw_swing_angle (const FwSwings *swing, int member, double crank, double *rate);

/* The pose at a crank angle (rad) in which all hanging panels are where they really are (at rest where there are no rows).
 * `room`: 3 * members numbers, for the caller to lend. */
void fw_swing_pose (const FwSwings *swing, FwPose *pose, double crank, double *room);
