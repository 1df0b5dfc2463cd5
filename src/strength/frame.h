/* A frame in space of straight bars, joined stiffly at nodes: small movements, Hooke's law.
 *
 * Bars of Euler and Bernoulli (no shear deflection) with St Venant's torsion; twelve movements a
 * bar. SI: m, N, N m, Pa, kg, rad. A node has six movements, in the order x, y, z, then turns about
 * x, y, z, in the axes in which the nodes stand; an array of movements or loads holds six a node.
 */
#pragma once

#include <stdbool.h>

#include "core/vec.h"
#include "strength/section.h"

enum
{
  FW_HOLD_X = 1 << 0,
  FW_HOLD_Y = 1 << 1,
  FW_HOLD_Z = 1 << 2,
  FW_HOLD_TURN_X = 1 << 3,
  FW_HOLD_TURN_Y = 1 << 4,
  FW_HOLD_TURN_Z = 1 << 5,
  FW_HOLD_ALL = (1 << 6) - 1,
};

typedef struct
{
  FwVec3 at;
  unsigned held; /* FW_HOLD_ bits */
  double mass;   /* what sits there beside the bars */
} FwFrameNode;

typedef struct
{
  int from, to; /* nodes */
  FwVec3 up;    /* with the bar it spans the plane of the section's z; {0,0,0}: any */
  FwBarSection section;
  double young, shear;
  double density; /* for masses only */
  FwVec3 axes[3]; /* filled by fw_space_frame_factorise (): local x, y, z */
  double length;  /* likewise */
} FwFrameBar;

typedef enum
{
  FW_FRAME_OK,
  FW_FRAME_NO_MEMORY,
  FW_FRAME_BAD,   /* a bar without length or stiffness, a number that is not finite, or no node is
                     free */
  FW_FRAME_LOOSE, /* it can move without bending anything */
} FwFrameStatus;

/* Numbering nodes along the frame keeps the band, and so the cost, small. */
typedef struct
{
  FwFrameNode *nodes;
  int n_nodes;
  FwFrameBar *bars;
  int n_bars;
  /* Filled by fw_space_frame_factorise (): */
  int *places; /* row of each movement among the free ones; -1: held */
  int n_free;
  int band;       /* number of diagonals below the main one */
  double *factor; /* Cholesky factor of the stiffness, lower band by columns */
  double *work;   /* n_free numbers of room */
} FwSpaceFrame;

/* Nodes and bars are zero and for the caller to fill. NULL when memory runs out. */
FwSpaceFrame *fw_space_frame_new (int n_nodes, int n_bars);
void fw_space_frame_free (FwSpaceFrame *frame);

/* To be called again when nodes or bars have changed. */
FwFrameStatus fw_space_frame_factorise (FwSpaceFrame *frame);

/* In place: loads in (N, N m), movements out (m, rad), six a node; what is held does not move. Not to be called from two threads
 * with one frame. */
void fw_space_frame_solve (const FwSpaceFrame *frame, double *loads);

/* Adds the nodal loads that do the same as a uniform load per length (N/m) along a bar. */
void fw_space_frame_add_uniform (const FwSpaceFrame *frame, int bar, FwVec3 per_length,
                                 double *loads);

/* What the nodes do to the ends of a bar, in its own axes: forces (N), moments (N m) at `from`, then at `to`, given the movements (m, rad).
 * `per_length`: the uniform load on it (N/m) that is among the loads. */
void fw_space_frame_ends (const FwSpaceFrame *frame, int bar, const double *moves,
                          FwVec3 per_length, double ends[12]);

/* What the supports do to the nodes (N, N m), given movements (m, rad) and loads (N, N m): six a node, zero (to rounding) where nothing is held. */
void fw_space_frame_reactions (const FwSpaceFrame *frame, const double *moves, const double *loads,
                               double *reactions);

typedef enum
{
  FW_MASS_CONSISTENT,
  FW_MASS_LUMPED
} FwFrameMass;

/* The lowest `n` natural frequencies, rad/s, ascending, and (unless NULL) their shapes, six a node
 * and one after the other, scaled so that shape . M . shape = 1 / omega^2 up to sign. Movements
 * without mass give INFINITY. n is at most the number of free movements. Allocates. */
FwFrameStatus fw_space_frame_frequencies (const FwSpaceFrame *frame, FwFrameMass mass, int n,
                                          double *omega, double *shapes);
