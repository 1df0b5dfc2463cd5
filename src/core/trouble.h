/* What goes wrong over one turn, and the smallest change that mends it. */
#pragma once

#include "core/turn.h"

typedef enum
{
  FW_CANNOT_CLOSE, /* value: missing length, mm (negative: too long); limit 0 */
  FW_PAST_STOP,    /* value: angle the linkage asks for, deg; limit: the stop */
  FW_WEAK_PUSH,    /* value: least push angle, deg; limit 45 (remark) or 30 (warning) */
  FW_MAY_FLIP,     /* value: turn to the other root, deg; limit 30; no stop bars the way */
  FW_SNAP,         /* value: peak of rate or second rate over its mean size; limit 3 or 6 */
  FW_LEAN_LIMIT,   /* value: lean, deg; limit: the rod's */
  FW_BEND_LIMIT,   /* value: bend, deg; limit: the rod's */
  FW_HITS,         /* value: clearance, mm, negative inside; limit 0 */
  FW_LEAVES_GUIDE, /* value: by how much the post is too short to reach through its guide, mm; limit 0 */
  /* Of forces; found by fw_load_trouble_find () and the search for flexing. */
  FW_LOAD_REVERSAL, /* value: speed of the knock, m/s, or (warning) its energy, J; limit: the mark */
  FW_OVER_RUN,      /* value: push back at the handle, N; limit 22 */
  FW_MAY_BUCKLE,    /* value: push in the rod, N; limit: what it bears */
  FW_RESONANCE,     /* value: natural frequency, Hz; limit: the harmonic near it */
  FW_OVER_STRESS,   /* value: stress, MPa; limit: yield or allowed stress */
  FW_MAY_TIP,       /* value: tilt at which it tips, deg; limit 10 */
  FW_PINCH,         /* value: least gap, mm; limit 25 */
  FW_SELF_LOCKS,    /* value: friction that a joint's load adds to itself, for each 1 of it; limit 1 */
  FW_SLAMS,         /* value: speed of a hanging panel's tip as it meets its stop, m/s, or (warning) the energy
                     * of the blow, J; limit: the mark (swing/swingtrouble.h) */
  /* Of the crank as it is made (shop/build.h); only where the design says how. */
  FW_THROW_TOO_SHORT, /* value: between the centres of a web's ends, mm; limit: the shortest */
  FW_THROWS_COLLIDE,  /* value: room along the axis, mm; limit: what webs, fittings, rods or bearing need */
  FW_NO_WAY_IN,       /* value: bore of a closed ring, mm; limit: what would pass the bends (0: none does) */
  FW_N_TROUBLE_KINDS
} FwTroubleKind;

typedef enum { FW_REMARK, FW_WARNING, FW_FAILURE } FwSeverity;

typedef enum { FW_PART_BODY, FW_PART_MEMBER, FW_PART_LINK, FW_PART_CRANK, FW_PART_BASE, FW_PART_FLOOR,
               FW_PART_SPRING, FW_PART_WEIGHT } FwPartKind; /* the last two are only drawn and picked: no trouble is theirs */

typedef struct
{
  FwPartKind kind;
  int index; /* member, link or coil in the mechanism; counterweight of the design's crank; crank: 0 as a whole, else 1 + throw of the design */
} FwPart;

typedef struct
{
  FwTroubleKind kind;
  FwSeverity severity;
  FwPart part;
  bool has_other; /* FW_HITS: what it runs into */
  FwPart other;
  double from, to, worst; /* rad; as FwInterval */
  double value, limit;
  FwUnit unit;            /* of both */
  bool second;            /* FW_SNAP: the second rate, not the rate */
} FwTrouble;

typedef struct
{
  FwTrouble *items;
  int n, capacity;
  bool full; /* there was more than fits */
} FwTroubleList;

/* Room that is enough for any sane design; fw_trouble_find () never writes beyond capacity. */
#define FW_TROUBLE_ROOM 256

/* All trouble of a solved turn, worst first (failures, warnings, remarks; then by excess over the
 * limit). The turn should have at least 72 steps. Within one step of a stretch that
 * cannot be assembled other trouble may go unlisted. No allocation. */
void fw_trouble_find (const FwTurn *turn, const FwMechanism *mechanism, FwTroubleList *list);

/* Worst first, as fw_trouble_find () leaves it; for whoever adds to a list. */
void fw_trouble_sort (FwTroubleList *list);

/* "cannot-close", ... (static string) */
const char *fw_trouble_name (FwTroubleKind kind);

/* Name of a part: "inner.right", "body", "crank", "base", "floor". */
const char *fw_part_name (const FwMechanism *mechanism, FwPart part);

/* The same part of the same mechanism. */
static inline bool
fw_part_equal (FwPart a, FwPart b)
{
  return a.kind == b.kind && a.index == b.index;
}

/* Same kind, part and other part (and, for a snap, same rate). */
bool fw_trouble_same (const FwTrouble *a, const FwTrouble *b);

/* The same kind of trouble on the same part or its twin (and the same other part or its twin). */
bool fw_trouble_twins (const FwMechanism *mechanism, const FwTrouble *a, const FwTrouble *b);

/* A change to one number that was tried: with it the trouble is gone and nothing new came. */
typedef struct
{
  FwParam param;
  double from, to; /* file units */
} FwRemedy;

/* Asked before each trial by long searches; true: stop now. Whoever counts how often it is asked bounds the work
 * without a clock, so that the same design always gets the same answer. */
typedef bool (*FwStop) (void *data);

/* Remedies for one trouble of a design, best (smallest relative change) first. Every one returned
 * was applied to a copy, solved over the whole turn and found free of that trouble on this part
 * and its twin, with no trouble of equal or worse severity that was not there before.
 * Values are rounded to what can be cut (0.5 mm or 0.5 degree where that suffices). Allocates.
 * `stop` may be NULL. Returns how many were written (<= capacity). */
int fw_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity,
                 FwStop stop, void *stop_data);

typedef enum { FW_TRIAL_REFUSED, FW_TRIAL_OPEN, FW_TRIAL_TROUBLED, FW_TRIAL_FREE } FwTrial;

/* How the design fares with one number changed: it cannot be built, it does not close all the way
 * round, it goes round with trouble (warning or worse), or it goes round free of trouble. */
FwTrial fw_try_value (const FwDesign *design, FwParam param, double value);

typedef struct
{
  double from, to; /* file units */
  FwTrial trial;   /* TROUBLED or FREE */
} FwBand;

/* The values of one number, between lower and upper, for which the turn closes, told apart by
 * whether it is free of trouble; ascending, touching where they do. Edges are bisected to 1/2000
 * of the range. Allocates. Returns how many were written. */
int fw_bands (const FwDesign *design, FwParam param, double lower, double upper, FwBand *bands,
              int capacity, FwStop stop, void *stop_data);
