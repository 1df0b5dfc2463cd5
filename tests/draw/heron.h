/* Designs for the tests of the drawing layer: a heron on a sleeve, and others. Free with
 * fw_design_free (). */
#pragma once

#include "draw/view.h"

FwDesign *heron_design (void);
/* A moth on a wire crank along, two panels a side, without outlines or solids. */
FwDesign *moth_design (void);
/* The heron with one rod far too short for part of the turn. */
FwDesign *short_heron_design (void);

typedef struct
{
  FwDesign *design;
  FwMechanism *mechanism;
  FwPose *pose, *scratch;
  FwTurn *turn;
  FwTroubleList troubles;
  FwLoadTurn *loads; /* at the design's own speed */
  FwBounce bounces[64];
  FwScene scene;
} Stage;

/* Builds, solves and takes over the design. */
Stage *stage_new (FwDesign *design, double crank_deg);
void stage_free (Stage *stage);
void stage_turn_to (Stage *stage, double crank_deg);
