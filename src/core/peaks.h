/* The forces of a turn one by one, and their peaks. */
#pragma once

#include "core/loads.h"
#include "core/turn.h"

typedef enum
{
  FW_LOAD_TORQUE,  /* of the crank, N m, signed */
  FW_LOAD_TENSION, /* of a link, N, signed */
  FW_LOAD_HINGE,   /* of a member, N, size */
  FW_LOAD_PIN,     /* of a pin, N, size: all that it carries */
  FW_LOAD_POST,    /* at the post's or rail rod's foot, N, size; not for a fixed body */
  FW_LOAD_GUIDE,   /* sleeve: guide on post, N, signed; rocker: link tension, N, signed */
} FwLoadKind;

typedef struct
{
  FwLoadKind kind;
  int index; /* link, member or pin in the mechanism */
} FwLoad;

/* How many there are, and the i-th: torque first, then links, members, pins, post, guide. */
int fw_load_count (const FwMechanism *mechanism);
FwLoad fw_load_nth (const FwMechanism *mechanism, int i);

/* Of one pose, in the unit of its kind; NaN where it cannot be assembled. */
double fw_load_value (const FwLoads *loads, FwLoad load);

/* Least and greatest of every force over a turn at a crank speed in rad/s, refined between `steps`
 * equal steps; arrays of fw_load_count (). NaN where nothing can be assembled. `pose` and `loads` are
 * overwritten. Allocates nothing. */
void fw_load_peaks (const FwMechanism *mechanism, FwPose *pose, FwLoads *loads, double speed, int steps,
                    FwExtreme *least, FwExtreme *greatest);

/* The same of the first n of them, at a crank speed in rad/s. */
void fw_load_peaks_of (const FwMechanism *mechanism, FwPose *pose, FwLoads *loads, double speed, int steps, int n,
                       FwExtreme *least, FwExtreme *greatest);

/* Mean size of the crank torque over the steps that can be assembled, N m: without friction as much
 * work goes in as comes back, and this is how much. NaN where nothing can be assembled. */
double fw_load_mean_size (const FwMechanism *mechanism, FwPose *pose, FwLoads *loads, double speed, int steps);
