/* Inside the core: a design being tried, with all its trouble of motion and of forces. */
#pragma once

#include "core/loadtrouble.h"

#define FW_QUICK_STEPS 72
#define FW_SURE_STEPS 360

typedef struct
{
  FwDesign *design; /* a copy: change it and run again */
  FwMechanism *mech;
  FwTurn *turn;
  FwLoadTurn *forces;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
} FwLoadTrial;

/* A trouble to be mended: the design as it is, and one to change. */
typedef struct
{
  FwLoadTrial now, trial;
  FwTrouble trouble;
  FwStop stop;
  void *stop_data;
} FwLoadMending;

/* Solves the design as it stands. False: it cannot be built, or memory ran out. */
bool fw_load_trial_run (FwLoadTrial *trial, int steps);

/* Takes memory that fw_load_mending_close () gives back, whatever is returned. */
bool fw_load_mending_open (FwLoadMending *mending, const FwDesign *design, const FwTrouble *trouble,
                           FwStop stop, void *stop_data);
void fw_load_mending_close (FwLoadMending *mending);

bool fw_load_stopped (const FwLoadMending *mending);

/* Greatest size of a joint's load; whether it keeps one sign over the turn of the trial just run. */
double fw_load_peak_of (const FwLoadTurn *turn, const FwMechanism *mechanism, FwPart part);
bool fw_load_keeps_sign (const FwLoadTrial *trial, FwPart part);

/* In the trial just run the trouble is gone from its part and its twin, and nothing as bad has
 * come. */
bool fw_load_mended (const FwLoadMending *mending);
