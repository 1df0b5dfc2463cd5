/* A mechanism: a design made ready for solving.
 *
 * Both sides are written out as parts of their own (twins NAME.right and NAME.left, right first),
 * every reference is an index, every constant of every hinge is worked out, and the panels stand
 * in an order in which each one's parent and each rod's anchor are already known.
 * A mechanism is read-only once built, so any number of threads may solve it at once. */
#pragma once

#include "core/design.h"
#include "core/frame.h"

typedef enum
{
  FW_OK,
  FW_NO_MEMORY,      /* an allocation failed */
  FW_BAD_NUMBER,     /* a number is not finite or outside the model: `part` and `what` name it */
  FW_BAD_REFERENCE,  /* a part refers to one that is not there, or is there only on the other side */
  FW_RING,           /* rods drive each other in a ring: `part` is one of them */
  FW_TWO_RODS,       /* a second rod drives the panel that `part` drives */
  FW_ON_HANGING,     /* a spring is held by a panel that hangs */
} FwStatus;

/* Which part is at fault, for the sentence the caller writes. */
typedef struct
{
  char kind;        /* 't'hrow, 'b'ody, 'p'anel, 'r'od, 'c'rank, 's' base, 'e' spring, 'w' counterweight of the crank */
  int index;        /* in the design's array of that kind */
  const char *what; /* key at fault, a static string such as "length"; NULL: the part as a whole */
} FwFault;

/* A panel on one side. */
typedef struct
{
  char *name;   /* NAME, NAME.right or NAME.left */
  int panel;    /* index in the design */
  bool left;    /* the mirror image */
  int parent;   /* index in the mechanism, or FW_ON_BODY */
  int rod;      /* that drives it: index in the mechanism; -1: it hangs */
  int mirror_of; /* its right-hand twin, where it moves as the exact mirror image of it; else -1 */
  int image;     /* the other way round: its left-hand twin; else -1 */
  bool has_stops;
  double stop_min, stop_max; /* rad */
  double near;  /* rad: angles are reported within half a turn of this */
  double span_mm;

  /* Constants of the hinge. In the parent's frame (of this side): */
  FwVec3 hinge;       /* its point */
  FwVec3 axis;        /* unit; turned by the parent's frame into the world, it is the line about which a growing
                       * angle turns by the right-hand rule (so it is reversed in a left-handed parent) */
  FwVec3 fixed[2];    /* u and w of the panel at angle a: fixed + cos a * even + sin a * odd */
  FwVec3 even[2];
  FwVec3 odd[2];
  double handed;      /* of the panel's frame: +1, or -1 for a left-hand member */
  FwVec3 flip;        /* +1 or -1: the file's hinge times this, component by component, is `hinge` */

  /* Of the driven point, in the parent's frame, from the hinge: along the hinge line and square to it. */
  FwVec3 q_par, q_perp, q_odd; /* q_odd = axis x q_perp */
  FwVec3 centre;               /* hinge + q_par: of the circle that the point goes round */
  double q2;                   /* |q_perp|^2 */
  double q2_less_length2;      /* |q_perp|^2 - rod length^2 */
  double lever_scale;          /* 1 / (rod length * |q_perp|); 0 where the point is on the hinge line */
  double root;                 /* +1 or -1: which of the two roots the assembled linkage keeps */

  double mass_g;     /* for hanging: own, and the rod ends it carries */
  FwVec3 moment_gmm; /* mass times centre in the panel's frame; a weightless outline counts as a thin sheet */
  bool hangs_with_parent; /* it hangs and so does its parent: they find their rest together */
  int hanging_group;      /* hanging, on one that does not: how many members hang together, itself included;
                           * they follow each other in `order` */
} FwMember;

/* A rod on one side. */
typedef struct
{
  char *name;
  int rod;          /* index in the design */
  bool left;
  FwFrom from;
  int index;        /* FROM_THROW: pin index; FROM_PANEL: member index */
  FwVec3 from_mm;   /* base: world; body and panel: that frame, of this side */
  FwVec3 flip;      /* +1 or -1: the file's anchor times this, component by component, is `from_mm` */
  int member;       /* that it drives */
  int mirror_of, image; /* as of a member */
  FwVec3 at_mm;     /* in the member's frame */
  double length_mm;
} FwLink;

typedef struct
{
  FwFrom kind;  /* FROM_BASE, FROM_BODY or FROM_PANEL */
  int index;    /* FROM_PANEL: member index */
  FwVec3 at_mm; /* base: world; body and panel: that frame, of this side */
} FwCoilEnd;

/* A spring or cord on one side. It shapes no motion. */
typedef struct
{
  char *name;
  int spring;      /* index in the design */
  bool left;
  FwCoilEnd ends[2]; /* from, to */
} FwCoil;

/* A pin of the crank. */
typedef struct
{
  int throw_index; /* in the design */
  bool twin;       /* at -station */
  double radius_mm, station_mm;
  double cos_phase, sin_phase;
} FwPin;

typedef struct FwMechanism
{
  FwDesign *design; /* its own copy */
  FwPin *pins;      /* throw by throw; the twin follows its throw */
  int n_pins;
  FwMember *members; /* in file order, right before left */
  int n_members;
  FwLink *links;
  int n_links;
  FwCoil *coils;    /* spring by spring, right before left */
  int n_coils;
  int *order;       /* member indices in the order they are solved */
  int body_pin;     /* that carries the body; -1: fixed */
  double body_root; /* rocker: +1 or -1 */
} FwMechanism;

/* Builds the mechanism of a design. *out is untouched on error; `fault` may be NULL.
 * The root of every loop is chosen here: nearest `near` (body: nearest upright) at crank angle 0,
 * or, where that cannot be assembled at 0, at the first whole degree of the turn at which it can. */
FwStatus fw_mechanism_build (const FwDesign *design, FwMechanism **out, FwFault *fault);

/* NULL: nothing to do. The design is not freed. */
void fw_mechanism_free (FwMechanism *mechanism);

/* True if it has a panel without a rod. */
bool fw_mechanism_hangs (const FwMechanism *mechanism);

/* Of a middle panel's own axes, or those of what hangs on it, which runs across the sculpture: 0 for u, 1 for v. */
int fw_across_axis (const FwDesign *design, int panel);

/* What a status means, in English, without the names (static string). */
const char *fw_status_text (FwStatus status);
