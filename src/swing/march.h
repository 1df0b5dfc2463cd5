/* One group of hanging panels followed in time. Inside src/swing. */
#pragma once

#include "swing/contact.h"
#include "swing/swing.h"

typedef struct
{
  FwSwings *swing; /* settings; looks are counted */
  FwFree *free;
  FwContact *contact;
  FwStop stop;
  void *stop_data;

  /* What comes out. */
  FwFate fate;
  int period, turns;
  double at;        /* crank angle of what went wrong, rad */
  double *rows;     /* [(kept * steps + 1)][2 n]: angles, then rates (rad/s), as a ring */
  long n_rows;      /* written since the start, that at crank angle 0 included */
  FwSwingBlow *blows; /* of the turns kept; `turn` counts from the start */
  int n_blows;
  bool blows_full;
} FwMarch;

/* Follows the group from angles and rates (rad/s) at crank angle 0. */
FwSwingStatus fw_march (FwMarch *march, const double *q, const double *qd);

/* The row at a step counted from the start, n angles (rad), then n rates (rad/s); it must be among those kept. The march's own. */
const double *fw_march_row (const FwMarch *march, long step);
