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

/* Whether the search has been told to stop. */
bool fw_load_stopped (const FwLoadMending *mending);

/* Sets a number of the trial, runs it and puts the number back. True: it mends. */
typedef bool (*FwLoadMends) (FwLoadMending *mending, FwParam param, double value, int steps);

/* Whether a number is changed by a share of itself rather than by its own unit, the furthest it is
 * worth changing, what it is rounded to, coarse first, and how many halvings may be spent between a
 * value that fails and one that mends. */
typedef struct
{
  bool share;
  double most;
  double grid[3];
  int finest;
} FwLoadReach;

/* The smallest change in one direction (the number +1 or -1) that mends, rounded away from the present value. */
bool fw_load_smallest_change (FwLoadMending *mending, FwLoadMends mends, FwParam param,
                              const FwLoadReach *reach, double direction, FwRemedy *out);

/* Puts a remedy into a list of n in order of effort, where it belongs there; how many there are then. */
typedef double (*FwEffort) (const FwRemedy *remedy);
int fw_load_keep_best (FwRemedy *list, int n, int capacity, FwRemedy remedy, FwEffort effort);

/* Sets a number of the trial, asks `good` and puts the number back; false outside its limits. */
bool fw_load_with (FwLoadMending *mending, FwParam param, double value, int steps,
                   bool (*good) (FwLoadMending *mending, int steps));

/* Greatest size of a joint's load; whether it keeps one sign over the turn of the trial just run. */
double fw_load_peak_of (const FwLoadTurn *turn, const FwMechanism *mechanism, FwPart part);
bool fw_load_keeps_sign (const FwLoadTrial *trial, FwPart part);

/* In the trial just run the trouble is gone from its part and its twin, and nothing as bad has
 * come. */
bool fw_load_mended (const FwLoadMending *mending);
