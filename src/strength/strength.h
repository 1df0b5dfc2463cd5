/* Strength and stiffness of a whole mechanism over a turn: what sags, what is stressed, what may
 * swing.
 *
 * SI; crank angles in rad. Looked at every fifth degree. Parts whose stock or stuff is not known
 * are left out. */
#pragma once

#include "core/loadturn.h"
#include "core/trouble.h"
#include "strength/natural.h"
#include "strength/vibration.h"

#define FW_STRENGTH_STEPS 72

/* The greatest size of something over the turn, and where; NaN where nothing can be assembled. */
typedef struct
{
  double value, crank;
} FwPeak;

typedef struct
{
  FwPart part;      /* FW_PART_CRANK, BODY (its post or rail rod), LINK (a rod), MEMBER (a panel) */
  FwPeak sag;       /* m: crank: of any pin; post and panel: tip; rod: middle; rail rod: none */
  FwPeak stress;    /* Pa */
  double allowed;   /* Pa: half of yield, or of the stress the stuff is allowed; 0: not known */
  FwPeak push;      /* N: rods and posts; most negative where it is only pulled */
  double bears;     /* N: Euler's load, at that crank angle; 0: does not buckle */
  double natural;   /* rad/s; 0: not known */
  FwSwing swing;    /* m: of what `sag` measures (crank: of the pin along its circle) */
  double *stresses; /* [FW_STRENGTH_STEPS] */
  double *swings;   /* likewise: what it would move without mass */
  double *pushes;   /* likewise, over `bears` as it stands; NULL for what does not buckle */
} FwPartStrength;

typedef struct
{
  const FwMechanism *mechanism;
  double speed;          /* rad/s, of the last solve */
  int n_open;            /* steps of it that cannot be assembled */
  FwPartStrength *parts; /* crank, body, rods, panels */
  int n_parts;
  FwCrankFlex
      *crank; /* look at its status: what follows is of no use where it is not FW_FRAME_OK */
  FwPeak *pin_sag, *pin_wind_up; /* of each pin: m; rad, signed as fw_crank_flex_wind_up () */
  FwPeak *bearings;              /* N, of each of crank->n_bearings */
  /* Inside: */
  FwPostFlex post;
  FwRodFlex *rods;     /* of each link */
  FwStripFlex *strips; /* of each member */
  double *lags;        /* [pin][step], m */
  double *masses;      /* [pin], kg */
  double *slowness;    /* [part] */
  double *rows;
} FwStrength;

/* Works out what does not change over a turn. The mechanism must outlive it. NULL when memory runs
 * out. */
FwStrength *fw_strength_new (const FwMechanism *mechanism);
void fw_strength_free (FwStrength *strength);

/* Solves a turn at the speed of `turn`, whose pose and loads are overwritten. No allocation. */
void fw_strength_solve (FwStrength *strength, const FwLoadTurn *turn);

/* The same for who solves the poses of a turn anyway: begin, at a crank speed in rad/s; then each
 * step 0 .. FW_STRENGTH_STEPS - 1 with the pose at the crank angle 2 pi step / FW_STRENGTH_STEPS
 * and its loads at that speed; then end, with any loads of the mechanism. No allocation. */
void fw_strength_begin (FwStrength *strength, double speed);
void fw_strength_step (FwStrength *strength, const FwPose *pose, const FwLoads *loads, int step);
void fw_strength_end (FwStrength *strength, const FwLoads *loads);
