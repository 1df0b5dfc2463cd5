/* The crank as built: its pieces with true lengths, and where its throws really come out.
 *
 * mm and degrees; stations along the crank axis (+x across, +y along), phases as a throw's (from up,
 * growing with the turn, at crank angle 0). Pieces stand in order from the lowest station (the handle
 * end) to the highest. Derivations and rules: docs/workshop.md. No GTK, no file access. */
#pragma once

#include <glib.h>

#include "core/mechanism.h"
#include "core/trouble.h"
#include "doc/units.h"

G_BEGIN_DECLS

typedef enum
{
  FW_BUILT_GRIP, /* of the handle */
  FW_BUILT_ARM,  /* of the handle: a web of the handle's radius */
  FW_BUILT_AXIS, /* turns in bearings */
  FW_BUILT_WEB,
  FW_BUILT_PIN,
  FW_BUILT_WIRE, /* bent: the whole crank as one length */
} FwBuiltKind;

#define FW_BUILT_ON_AXIS (-1)    /* in FwBuiltPiece.a and b: no throw, the axis */
#define FW_BUILT_HANDLE_END (-2) /* axis pieces: beyond the first throw */
#define FW_BUILT_FAR_END (-3)    /* axis pieces: beyond the last throw */

typedef struct
{
  FwBuiltKind kind;
  int a, b;          /* throws (index in the design) it stands between or joins, lower station first, or
                      * one of the above; a pin: both its own throw */
  double centre_mm;  /* between the centres of its two ends: elbow centres, holes, or web planes */
  double cut_mm;     /* as it is cut: tube, rod, flat bar or (wire) the whole blank */
  double from_mm, to_mm; /* stations of its ends as built (a web: both its middle plane) */
  double phase_deg;  /* pin: of its axis; web and arm: the way it points, from its lower-station end
                      * (arm: from the grip) to the other; axis: 0 */
  double radius_mm;  /* pin and grip: from the crank axis */
  int design;        /* which of the different pieces this one is: equal numbers are cut alike */
} FwBuiltPiece;

/* Where one pin comes out. */
typedef struct
{
  int pin;           /* in the mechanism */
  int throw_index;   /* in the design */
  double station_mm; /* as designed */
  double built_mm;   /* as it comes out: the middle of the length that was asked for */
  double clear_mm;   /* clear length as built: what was asked for, or more */
  double shortest_mm; /* least centre distance that a web of this pin can have, as made */
  double from_mm, to_mm; /* stations of the ends of the clear length */
} FwBuiltThrow;

typedef enum
{
  FW_FIT_ELBOW,
  FW_FIT_BOLT,   /* threaded rod through web, pin or axis, web */
  FW_FIT_NUT,
  FW_FIT_WASHER,
} FwFitKind;

/* Of coarse metric threads: nut (ISO 4032), washer (ISO 7089), pitch (ISO 261); from memory. */
typedef struct
{
  double thread_mm, across_flats_mm, nut_mm, washer_mm, pitch_mm;
} FwThread;

/* The thread of that size, or the next larger one in the table; beyond it in proportion. */
FwThread fw_thread (double size_mm);

typedef struct
{
  FwFitKind kind;
  double size_mm;   /* elbow: tube's outside diameter; else thread */
  double length_mm; /* bolt: as cut; else 0 */
  int count;
} FwBuiltFit;

/* One bend of a bent crank. */
typedef struct
{
  double mark_mm;  /* from the handle end of the blank: where the bend starts */
  double turn_deg; /* of the bend: 90 */
  double roll_deg; /* turn the blank about itself by this since the bend before (right-hand rule along the
                    * blank; the first bend: 0) */
  double leg_mm;   /* straight length before it */
} FwBend;

/* Something that turns on the crank: a rod's eye, the post's foot, a bearing. */
typedef struct
{
  FwPart part;      /* FW_PART_LINK, FW_PART_BODY, FW_PART_BASE (a bearing) */
  int bearing;      /* which bearing, from the handle on; else -1 */
  int pin;          /* in the mechanism; a bearing: -1 */
  int piece;        /* of `pieces` that it sits on */
  gboolean closed;  /* it must be threaded on */
  gboolean gets_on; /* FALSE: no order of assembly puts it there */
  double bore_mm, needed_mm; /* closed and on a bent crank: least bore that gets round the bends; 0: none does */
} FwBuiltRing;

/* The whole. */
typedef struct
{
  const FwDesign *design; /* borrowed: must outlive it */
  FwCrankBuild make;      /* with every default filled in; `pipe` borrowed */
  gboolean assumed;       /* the design does not say how: bent if thin wire, else bolted */
  FwBuiltPiece *pieces;
  int n_pieces;
  FwBuiltThrow *throws; /* by station, twins included */
  int n_throws;
  FwBuiltFit *fits;
  int n_fits;
  FwBend *bends; /* bent only */
  int n_bends;
  FwVec3 *line; /* centre line at crank angle 0, world, handle grip first */
  int n_line;
  double *fittings_mm; /* of each link: length of pin that its fitting takes */
  FwBuiltRing *rings; /* in the order they are put on */
  int n_rings;
  double start_mm, end_mm; /* stations of the ends of the axis */
  double allowance_mm;     /* bent: length of wire in one bend */
  FwTroubleList troubles;  /* throw-too-short, throws-collide, no-way-in; owned */
} FwBuild;

/* Works out the crank of a mechanism. Never fails for a design that builds: what cannot be made is in
 * `troubles`, and lengths below zero are given as zero. Allocates with GLib. */
FwBuild *fw_build_new (const FwMechanism *mechanism);
void fw_build_free (FwBuild *build);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwBuild, fw_build_free)

/* Shortest distance, mm, between the centres of the two ends of a web, as made:
 * elbows 2 (take_off + cup); bolted (nut across corners + pipe) / 2, where webs lie flat on each other
 * (nut across corners + web width) / 2; bent 2 bend_radius + leg. */
double fw_build_shortest (const FwCrankBuild *make, gboolean flat);

/* Bolted: how far a washer, a nut and two turns of thread stand out from a web. */
double fw_build_nut (const FwCrankBuild *make);

/* How far a ring of a bore and width gets round a bend of the pipe: TRUE if it passes. A rigid ring of
 * width w needs (R + D/2) - sqrt ((R - D/2)^2 - (w/2)^2) of bore. */
gboolean fw_build_ring_passes (double pipe_mm, double bend_radius_mm, double bore_mm, double width_mm);

/* "Pin of arm", "Web of arm", "Web from arm to tip", "Axis between body and arm", "Handle arm";
 * translated, free with g_free. */
char *fw_build_piece_name (const FwBuild *build, const FwBuiltPiece *piece);

/* The steps of assembly, in order, as sentences; NULL-terminated, g_strfreev. Found by taking apart:
 * nothing that comes off ever bars the way of another part, so taking off whatever will come off until
 * nothing does decides it, and the reverse is an order of assembly. */
char **fw_build_assembly (const FwBuild *build, const FwMechanism *mechanism);

/* Adds throw-too-short, throws-collide and no-way-in of a design that says how its crank is made
 * (crank.build given), and sorts the list. */
void fw_shop_trouble_find (const FwMechanism *mechanism, FwTroubleList *list);

/* Numbers that mend such a trouble, as fw_remedies (): each tried on a copy over the whole turn with
 * its forces, strength and making. None for other kinds. */
int fw_shop_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity,
                      FwStop stop, void *stop_data);

/* Ways of making that have no such trouble on this part: writes at most 3, returns how many. Only
 * the design's own other numbers and the defaults are used. */
int fw_shop_other_makes (const FwDesign *design, const FwTrouble *trouble, FwMake *makes);

/* The swing (greatest less least angle, deg) of every panel, and what it becomes with one number
 * changed. One item a member of the mechanism; g_free. NULL where the change cannot be solved. */
typedef struct
{
  double before_deg, after_deg;
} FwSwingChange;
FwSwingChange *fw_shop_swing_change (const FwMechanism *mechanism, FwParam param, double value);

/* "Made of elbows and tube this goes." for each way of making that has no such trouble; NULL-terminated,
 * g_strfreev. */
char **fw_shop_words_other_makes (const FwDesign *design, const FwTrouble *trouble);

/* "The shortest throw that can be made this way is 32 mm. Then ..." or that it does not go round then;
 * *radius_mm is that throw. NULL for trouble other than a throw that is too short on its own. g_free. */
char *fw_shop_words_nearest (const FwMechanism *mechanism, const FwTrouble *trouble, FwLengths lengths,
                             double *radius_mm);

/* "Then arm.right swings through 61.2° instead of 58°, ..." of right-hand and middle panels whose swing changes by a
 * tenth of a degree or more; NULL where none does. g_free. */
char *fw_shop_words_swing (const FwMechanism *mechanism, const FwRemedy *remedy);

G_END_DECLS
