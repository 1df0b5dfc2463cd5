/* A second way to solve the same linkage, which shares nothing with the core but the design.
 *
 * Every part is placed by rotation matrices (Rodrigues' formula) straight from docs/model.md, every
 * loop is left as the raw equation "this rod has its length", and all unknowns (body h, z and tilt,
 * and every driven angle) are found together by GSL's hybrid multiroot solver, following the
 * linkage in small steps of the crank from its pose at 0. */
#pragma once

#include <stdbool.h>

#include "core/design.h"

typedef struct
{
  double o[3];    /* origin, mm */
  double m[3][3]; /* columns are the axes u, v, w */
} SecondFrame;

typedef struct
{
  int panel; /* in the design */
  bool left;
  int parent; /* second member, or -1: the body */
  int link;   /* that drives it, or -1 */
} SecondMember;

typedef struct
{
  int rod;
  bool left;
  int member;
} SecondLink;

#define SECOND_ROOM 32

typedef struct
{
  const FwDesign *design;
  int n_members, n_links;
  SecondMember members[SECOND_ROOM];
  SecondLink links[SECOND_ROOM];
  double crank;
  double x[3 + SECOND_ROOM]; /* body h, z, tilt; then the members' angles */
  bool found[SECOND_ROOM];   /* the member could be assembled at crank angle 0 */
  bool body_found;
  double residual; /* greatest, mm, after the last solve */
  double scale;    /* mm: residuals are divided by it */
} SecondSolver;

/* Numbers members and links; angles 0. */
void second_init (SecondSolver *s, const FwDesign *design);

/* Frames of body and members for the unknowns in s->x; pins and anchors for s->crank. */
void second_body (const SecondSolver *s, SecondFrame *frame);
void second_place (const SecondSolver *s, SecondFrame *body, SecondFrame members[SECOND_ROOM]);
void second_point (const SecondFrame *frame, FwVec3 local, double world[3]);
void second_link_ends (const SecondSolver *s, int link, double from[3], double to[3]);

/* Body alone: the pose at crank angle s->crank with the root nearest upright. */
void second_assemble_body (SecondSolver *s);

/* Looks through every angle at crank angle s->crank, part after part, and takes the root nearest
 * `near` (body: nearest upright). A part without a root, and what depends on it, is not `found`. */
void second_assemble (SecondSolver *s);

/* Solves all that was found, from the present unknowns, at a crank angle. False if it does not
 * converge. */
bool second_solve (SecondSolver *s, double crank);

/* The same with a solver and a vector that the caller has made for the unknowns that
 * are found now. */
typedef struct SecondWorkspace SecondWorkspace;
SecondWorkspace *second_workspace_new (const SecondSolver *s);
void second_workspace_free (SecondWorkspace *workspace);
bool second_solve_in (SecondSolver *s, double crank, SecondWorkspace *workspace);

/* Drops member i, and all that depends on it, from the unknowns. */
void second_drop (SecondSolver *s, int member);

/* True if any angle of member i gives its rod its length, all else as it stands. Looks at every
 * quarter of a degree. */
bool second_has_root (SecondSolver *s, int member);

/* The greatest error of any equation at the present unknowns, mm. */
double second_residual (const SecondSolver *s);

/* Index of the second member, or -1. */
int second_find (const SecondSolver *s, int panel, bool left);
