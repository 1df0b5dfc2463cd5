/* The drawings behind draw/explainpicture.h, family by family. Internal to this layer. */
#pragma once

#include "draw/sketch.h"

G_BEGIN_DECLS

/* Draws one drawing of a family; `what` is the family's own number. */
typedef void (*FwSketchDraw) (FwSketch *sketch, int what);

typedef struct
{
  const char *id; /* as in doc/explain.h */
  FwSketchDraw draw;
  int what;
} FwSketchEntry;

/* The drawings of each family, n of them; static. */
const FwSketchEntry *fw_sketches_crank (int *n);
const FwSketchEntry *fw_sketches_body (int *n);
const FwSketchEntry *fw_sketches_wing (int *n);
const FwSketchEntry *fw_sketches_part (int *n);
const FwSketchEntry *fw_sketches_joint (int *n);
const FwSketchEntry *fw_sketches_curve (int *n);
const FwSketchEntry *fw_sketches_making (int *n);

/* ---- Shared pieces ---- */

/* A wing as the core solves it: hinged at a fixed point, driven by a rod from a throw; page px. */
typedef struct
{
  double throw_px, rod_px, hold_px, span_px, near_deg, crank_deg;
  FwVec2 axis, hinge; /* on the page */
} FwSketchWing;

typedef struct
{
  FwVec2 pin, hold, tip;
  FwVec2 other_hold, other_tip; /* assembled the other way */
  double angle_deg, push_deg;
  double rate, rate2;           /* of the angle, by the crank angle as it turns on the page */
  double missing_px; /* 0 where it closes */
} FwSketchPose;

extern const FwSketchWing fw_sketch_wing; /* the one that most drawings show */
void fw_sketch_wing_solve (const FwSketchWing *wing, FwSketchPose *pose);

/* A bird's body from the side, nose to the right, about a point; `turn` in degrees, clockwise. */
void fw_sketch_bird (FwSketch *sketch, FwVec2 at, double turn, double size);
/* Ground or wall: a line with hatching on the side that (dx, dy) says. */
void fw_sketch_ground (FwSketch *sketch, FwVec2 a, FwVec2 b, double dx, double dy);
G_END_DECLS
