/* A design: the numbers the maker chooses, as the design file states them.
 *
 * Units are the file's: mm, g, degrees, turns/min. Frames and signs: docs/model.md.
 * A design is plain data in flat arrays; parts refer to each other by index. What the file leaves
 * out is filled in with the stated default, so that whoever reads a design need not ask.
 * No field is checked here: fw_mechanism_build () refuses what cannot be computed. */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "core/vec.h"

typedef enum { FW_RUNS_ACROSS, FW_RUNS_ALONG } FwRuns;
typedef enum { FW_RIDE_FIXED, FW_RIDE_RAIL, FW_RIDE_SLEEVE, FW_RIDE_ROCKER } FwRide;
typedef enum { FW_SIDE_MIDDLE, FW_SIDE_BOTH, FW_SIDE_RIGHT, FW_SIDE_LEFT } FwSide;
typedef enum { FW_REACH_SIDE, FW_REACH_FORWARD, FW_REACH_BACK } FwReach;
typedef enum { FW_FROM_THROW, FW_FROM_BASE, FW_FROM_BODY, FW_FROM_PANEL } FwFrom;

#define FW_ON_BODY (-1)

/* One cut through a solid of round parts (body, head): an ellipse square to the reach. */
typedef struct
{
  double at_mm;         /* along the reach: y for the body, u for a panel */
  double low_mm;        /* z or w of the underside */
  double high_mm;       /* z or w of the top */
  double half_width_mm; /* to either side of the middle */
} FwSection;

/* A rounded solid through its sections, in order along the reach. Looks only: no mass, no contact. */
typedef struct
{
  FwSection *sections;
  int n_sections; /* 0: none */
  bool has_eye;
  double eye_mm[3]; /* along the reach, up, radius; one on each side */
} FwSolid;

/* What a part is made of, as far as strength and stiffness go; all 0: not known, and not judged. */
typedef struct
{
  double density_kgm3;
  double young_GPa, shear_GPa;
  double yield_MPa; /* or the stress it is allowed to reach, for wood and board */
} FwStuff;

/* A weighed thing on the body: a head, a lamp, a counterweight. */
typedef struct
{
  char *name;
  double mass_g;
  FwVec3 at_mm; /* body frame */
} FwLump;

typedef struct
{
  char *name;
  double radius_mm;  /* of the throw: crank axis to pin axis */
  double phase_deg;  /* pin angle at crank angle 0, from "up", growing with the turn */
  double station_mm; /* along the crank axis: +x (across) or +y (along) */
  bool both;         /* a twin stands at -station (across only; along, one pin serves both sides) */
  double width_mm;   /* clear length of the pin along the axis; default 20 */
} FwThrow;

/* A weight on the crank, against what hangs on the throws. */
typedef struct
{
  char *name;
  double mass_g;
  double radius_mm;  /* of its centre, from the crank axis */
  double phase_deg;  /* as of a throw */
  double station_mm;
} FwCrankWeight;

typedef enum { FW_MAKE_ELBOWS, FW_MAKE_BOLTED, FW_MAKE_BENT } FwMake;

/* How the crank is made (crank.build). Lengths in mm. The defaults stand here whether `given` or
 * not; only a build that is given is judged. Fittings are measured, never trusted: no standard fixes
 * them. */
typedef struct
{
  bool given;
  FwMake make;
  char *pipe;               /* name of a bar of the stock or of a common tube; NULL: by its diameter */
  double pipe_mm;           /* outside diameter of pins and axis; default: the crank's */
  double wall_mm;           /* of that pipe; 0: solid */
  double take_off_mm;       /* elbows: tube stop to centre; default 9.525, or the named tube's */
  double cup_mm;            /* elbows: depth of the cup; default 12.7, or the named tube's */
  double web_thickness_mm;  /* bolted: of the flat bar; default 6 */
  double web_width_mm;      /* bolted: of the flat bar; default 20 */
  double bolt_mm;           /* bolted: of the bolts through pins and axis; default 6 */
  double bend_radius_mm;    /* bent: of the centre line; default twice the diameter */
  double neutral;           /* bent: neutral line from the inside, share of the diameter; default 0.5 */
  double leg_mm;            /* bent: shortest straight between bends; default twice the diameter */
  bool returns;             /* back to the axis between throws (default); false: from pin to pin */
  double clamp_mm;          /* room along the pin that one rod's fitting takes; default 8 */
  bool clamp_given;         /* else a rod's fitting is as wide as its printed clamp comes out */
  bool open_eyes;           /* rods' fittings and the post's foot open to go on a pin (default: closed) */
  double eye_bore_mm;       /* of a closed one; default: pipe and 0.4 */
  bool open_bearings;       /* bearings open to lay the crank in (default: closed) */
  double bearing_mm;        /* room along the axis that a bearing takes; default 10 */
  double bearing_bore_mm;   /* of a closed one; default: pipe and 0.4 */
  double grip_mm;           /* length of the handle's grip; default 90 */
} FwCrankBuild;

typedef struct
{
  FwRuns runs;
  double turns_per_minute; /* default 30 */
  double diameter_mm;      /* outside, of the pipe or wire it is made of; default 8 */
  char *material;          /* default "copper" */
  FwThrow *throws;
  int n_throws;
  FwCrankWeight *weights;
  int n_weights;
  double wall_mm; /* of the pipe; 0: solid */
  FwStuff stuff;
  FwCrankBuild build;
} FwCrank;

typedef struct
{
  FwRide ride;
  FwVec3 at_mm;             /* fixed: the datum, world */
  double tilt_deg;          /* fixed */
  int throw_index;          /* rail, sleeve, rocker */
  double rod_mm, offset_mm; /* rail: rod from pin to datum; h of the vertical it slides on */
  double post_mm;           /* sleeve, rocker: pin to datum along the post */
  FwVec2 guide_mm;          /* sleeve: (h, z) of the swivelling guide */
  FwVec2 pivot_mm;          /* rocker: (h, z) of the link's base pivot */
  double link_mm;           /* rocker: length of the link */
  double on_mm;             /* rocker: where on the post the link holds it, from the pin */
  double diameter_mm;       /* of post or rail rod; default the crank's */
  char *material;           /* of post or rail rod; default "copper" */
  double mass_g;
  FwVec3 centre_mm;    /* body frame */
  double gyration_mm;  /* radius of gyration about the tilt axis through the centre; default 0 */
  FwSolid solid;       /* body frame: at = y, low and high = z, half width along x */
  double wall_mm;      /* of the post; 0: solid */
  FwStuff stuff;       /* of the post */
  double play_mm;      /* clearance of post in guide, slide or link: from touching one side to the other */
  FwLump *lumps;       /* beside `mass` */
  int n_lumps;
} FwBody;

typedef struct
{
  char *name;
  FwSide side;
  int on; /* panel index, or FW_ON_BODY */
  FwVec3 hinge_mm; /* parent's frame, of the right-hand or middle member */
  FwReach reach;   /* of a panel on the body; one on a panel takes its parent's frame */
  double sweep_deg, cant_deg;
  double span_mm;
  FwVec2 *outline_mm; /* (u, v), simple polygon; NULL: none given */
  int n_outline;
  bool has_stops;
  double stops_deg[2]; /* min, max */
  bool has_mass;
  double mass_g;
  FwVec3 centre_mm;       /* u, v, w */
  double inertia_gmm2[4]; /* Iuu, Ivv, Iww, Iuv about the centre, Iuv = +integral u v dm */
  double thickness_mm;    /* of the sheet; default 2 */
  double areal_gm2;       /* sheet mass per area, where `mass` is absent; 0: none */
  char *material;         /* default "card" */
  FwSolid solid;          /* panel frame: at = u, low and high = w, half width along v */
  FwStuff stuff;
  double play_mm;         /* clearance of its hinge */
} FwPanel;

typedef struct
{
  FwFrom kind;
  int index;     /* throw or panel index */
  FwVec3 at_mm;  /* base: world; body: body frame; panel: panel frame */
} FwAnchor;

typedef struct
{
  char *name;
  FwSide side; /* both: twins; right, left: that side; middle: for a middle panel */
  FwAnchor from;
  int panel;      /* the panel it drives */
  FwVec3 at_mm;   /* where it holds that panel, panel frame */
  double length_mm;
  double near_deg; /* the driven panel is near this as assembled at crank angle 0 */
  double diameter_mm; /* default 3 */
  char *material;     /* default "brass" */
  double mass_g;
  double lean_limit_deg; /* what the lower fitting allows; default 25 */
  double bend_limit_deg; /* what the upper joint allows; default 45 */
  double wall_mm;        /* of a tube; 0: solid */
  FwStuff stuff;
  double play_mm;        /* clearance of its two joints together, along the rod */
} FwRod;

/* A spring between two points, or a cord that only pulls. Its own mass is not counted. */
typedef struct
{
  char *name;
  FwSide side;        /* as of a rod */
  FwAnchor from, to;  /* base, body or panel, but no panel that hangs: those find their rest by weight alone */
  double rate_Npmm;   /* above 0 */
  double free_mm;     /* length at which it gives nothing */
  bool cord;          /* slack, instead of pushing, where it is shorter than that */
} FwSpringPart;

/* What it stands on. World coordinates; the plate is centred on the origin in x and y. */
typedef struct
{
  double plate_mm[3]; /* width along x, depth along y, thickness; {0,0,0}: chosen to suit (fw_design_base) */
  double top_mm;      /* z of the plate's upper face (negative: below the crank); used if plate is given */
  double *bearings_mm; /* stations along the crank axis; NULL: one beyond the throws at each end */
  int n_bearings;
  double handle_mm;   /* crank handle: radius; 0: no handle; default 60 */
  double mass_g;      /* of plate, uprights and what stands on it */
  bool hung;          /* hangs from above instead of standing */
} FwBase;

/* How it is turned, and what its joints are like. */
typedef struct
{
  double friction;      /* coefficient; 0: none */
  double pin_radius_mm; /* of the joints' pins, for the friction moment, but for what turns on the
                         * crank, which is half its diameter; default 2 */
  double restitution;   /* of a panel on its stop or a joint across its play, 0..1; default 0.3 */
  bool motor;           /* driven by a motor, not by hand */
  double margin;        /* ratio of the motor's torque to the greatest computed; default 2 */
} FwDrive;

#define FW_STOCK_ENDLESS (-1) /* as many as it takes */

/* What the maker has to cut from (stock). Bars are round (diameter, wall) or flat (width, thickness). */
typedef struct
{
  char *name;
  char *material;
  double diameter_mm;           /* 0: flat */
  double wall_mm;               /* of a tube; 0: solid */
  double width_mm, thickness_mm; /* of a flat bar */
  double length_mm;
  int count;                    /* or FW_STOCK_ENDLESS */
  double price;                 /* each, in whatever money; negative: not known */
  FwStuff stuff;
} FwStockBar;

typedef enum { FW_GRAIN_NONE, FW_GRAIN_WIDTH, FW_GRAIN_HEIGHT } FwGrain;

typedef struct
{
  char *name;
  char *material;
  double thickness_mm;
  double width_mm, height_mm;
  FwGrain grain;   /* along which side; panels lie with their span (u) along it */
  double areal_gm2; /* 0: from density and thickness */
  int count;       /* or FW_STOCK_ENDLESS */
  double price;    /* each; negative: not known */
  FwStuff stuff;
} FwStockSheet;

typedef struct
{
  FwStockBar *bars;
  int n_bars;
  FwStockSheet *sheets;
  int n_sheets;
  double kerf_mm;        /* lost at every cut; default 1 */
  double rod_ends_mm[2]; /* lower, upper: what a rod is cut longer than from joint centre to joint
                          * centre (thread, eye), negative where a fitting holds it short; default 0 */
} FwStock;

/* How printed parts are made (print). Lengths in mm. */
typedef struct
{
  double fit_mm;          /* running clearance on the diameter; default 0.4 */
  double tight_mm;        /* how much smaller than its bore a pressed or glued outside is; default 0.1 */
  double wall_mm;         /* least wall round a bore; default 2.4 */
  double chamfer_mm;      /* of edges and bores; 0: sharp; default 0.6 */
  double lean_margin_deg; /* beyond the lean that the turn needs, to either side; default 3 */
  double end_play_mm;     /* of all clamps on a throw along its clear width; default 0.5 */
  double tee_bore_mm;     /* inside of the tee that a bushing goes in; 0: the least common one */
  double tee_depth_mm;    /* of its cup; 0: the common one's */
  double screw_mm;        /* that guides turn on and are held by; default 3 */
  double pin_mm;          /* through a rod's lower end; 0: chosen by the rod */
} FwPrint;

typedef struct FwDesign
{
  FwCrank crank;
  FwBody body;
  FwPanel *panels;
  int n_panels;
  FwRod *rods;
  int n_rods;
  FwSpringPart *springs;
  int n_springs;
  FwBase base;
  FwDrive drive;
  FwStock stock;
  FwPrint print;
} FwDesign;

/* Allocated with malloc: every pointer above is owned by the design. */

/* A deep copy; NULL when memory runs out. */
FwDesign *fw_design_copy (const FwDesign *design);

/* Frees a design and all it owns; NULL is allowed. */
void fw_design_free (FwDesign *design);

/* The base as it is drawn and checked: the given one, or one that clears the crank and carries it.
 * Out: plate (width, depth, thickness) and z of its upper face, mm. The floor is the plate's
 * underside. */
void fw_design_base (const FwDesign *design, double plate_mm[3], double *top_mm);

/* The bearing stations as drawn and checked, mm, ascending. Writes at most `capacity`; returns how
 * many there are. */
int fw_design_bearings (const FwDesign *design, double *stations_mm, int capacity);

/* ---- The numbers of a design, one by one: what sliders move and remedies change. ---- */

typedef enum
{
  FW_UNIT_NONE,          /* a plain number */
  FW_UNIT_MM,
  FW_UNIT_DEG,
  FW_UNIT_G,
  FW_UNIT_TURNS_PER_MINUTE,
  FW_UNIT_PER_RAD,       /* rate: rad/rad */
  FW_UNIT_PER_RAD2,      /* second rate */
  FW_UNIT_N,             /* force */
  FW_UNIT_NM,            /* moment, N m */
  FW_UNIT_MPA,           /* stress */
  FW_UNIT_HZ,
  FW_UNIT_J,
  FW_UNIT_MPS,           /* m/s */
  FW_UNIT_NPMM,          /* stiffness of a spring, N/mm */
  FW_UNIT_GPM2,          /* mass of a sheet per area, g/m² */
  FW_N_UNITS
} FwUnit;

typedef enum
{
  FW_PARAM_SPEED,          /* crank.turns_per_minute */
  FW_PARAM_CRANK_DIAMETER,
  FW_PARAM_THROW_RADIUS,   /* index: throw */
  FW_PARAM_THROW_PHASE,
  FW_PARAM_THROW_STATION,
  FW_PARAM_THROW_WIDTH,
  FW_PARAM_BODY_AT,        /* component 0..2 */
  FW_PARAM_BODY_TILT,
  FW_PARAM_BODY_ROD,
  FW_PARAM_BODY_OFFSET,
  FW_PARAM_BODY_POST,
  FW_PARAM_BODY_GUIDE,     /* component 0 h, 1 z */
  FW_PARAM_BODY_PIVOT,     /* component 0 h, 1 z */
  FW_PARAM_BODY_LINK,
  FW_PARAM_BODY_ON,
  FW_PARAM_BODY_MASS,
  FW_PARAM_BODY_CENTRE,    /* component 0..2 */
  FW_PARAM_BODY_GYRATION,
  FW_PARAM_PANEL_HINGE,    /* index: panel; component 0..2 */
  FW_PARAM_PANEL_SWEEP,
  FW_PARAM_PANEL_CANT,
  FW_PARAM_PANEL_SPAN,
  FW_PARAM_PANEL_STOP,     /* component 0 min, 1 max; only if the panel has stops */
  FW_PARAM_PANEL_THICKNESS,
  FW_PARAM_PANEL_MASS,     /* only if given */
  FW_PARAM_PANEL_CENTRE,   /* component 0..2 */
  FW_PARAM_ROD_FROM,       /* index: rod; component 0..2; only base, body and panel anchors */
  FW_PARAM_ROD_AT,         /* component 0..2 */
  FW_PARAM_ROD_LENGTH,
  FW_PARAM_ROD_NEAR,
  FW_PARAM_ROD_DIAMETER,
  FW_PARAM_ROD_MASS,
  FW_PARAM_ROD_LEAN_LIMIT,
  FW_PARAM_ROD_BEND_LIMIT,
  FW_PARAM_HANDLE,         /* base.handle */
  FW_PARAM_ROD_PLAY,       /* index: rod */
  FW_PARAM_BODY_PLAY,
  FW_PARAM_PANEL_PLAY,     /* index: panel */
  FW_PARAM_SPRING_RATE,    /* index: spring */
  FW_PARAM_SPRING_FREE,
  FW_PARAM_SPRING_FROM,    /* component 0..2 */
  FW_PARAM_SPRING_TO,      /* component 0..2 */
  FW_PARAM_WEIGHT_MASS,    /* index: counterweight of the crank */
  FW_PARAM_WEIGHT_RADIUS,
  FW_PARAM_WEIGHT_PHASE,
  FW_PARAM_WEIGHT_STATION,
  FW_PARAM_BODY_DIAMETER,  /* of the post's stock; not for a fixed body */
  FW_PARAM_CRANK_WALL,     /* 0: solid, as the next two */
  FW_PARAM_BODY_WALL,      /* of the post; not for a fixed body */
  FW_PARAM_ROD_WALL,       /* index: rod */
  FW_PARAM_PANEL_AREAL,    /* index: panel; only if its mass is not given */
  FW_PARAM_LUMP_MASS,      /* index: lump of the body */
  FW_PARAM_LUMP_AT,        /* component 0..2 */
  FW_PARAM_PLATE,          /* base.plate; component 0..2: width, depth, thickness; only if given, as the next */
  FW_PARAM_PLATE_TOP,
  FW_PARAM_BEARING,        /* index: of base.bearings; only if given */
  FW_PARAM_BASE_MASS,
  FW_PARAM_FRICTION,       /* drive, as the next three */
  FW_PARAM_PIN_RADIUS,
  FW_PARAM_RESTITUTION,
  FW_PARAM_MARGIN,         /* only with a motor */
  FW_N_PARAM_KINDS
} FwParamKind;

typedef struct
{
  FwParamKind kind;
  int index;     /* of its owner (fw_param_owner ()) in the design's array of them; a bearing's own; else 0 */
  int component; /* of a point or pair; else 0 */
} FwParam;

/* All numbers this design has, part by part in file order. Writes at most `capacity` (list may be
 * NULL with 0); returns how many there are. */
int fw_design_params (const FwDesign *design, FwParam *list, int capacity);

/* Value in the file's unit. The parameter must be one that fw_design_params () lists. */
double fw_param_get (const FwDesign *design, FwParam param);
void fw_param_set (FwDesign *design, FwParam param, double value);

/* Whose number it is. Of throws, counterweights, lumps, panels, rods and springs there are many: the number's `index`
 * says which. */
typedef enum
{
  FW_OWNER_CRANK,
  FW_OWNER_THROW,
  FW_OWNER_WEIGHT, /* a counterweight of the crank */
  FW_OWNER_BODY,
  FW_OWNER_LUMP,   /* that the body carries */
  FW_OWNER_PANEL,
  FW_OWNER_ROD,
  FW_OWNER_SPRING,
  FW_OWNER_BASE,   /* with its bearings and the handle */
  FW_OWNER_DRIVE,  /* and joints */
} FwParamOwner;

/* Of any kind of number, whether the design has it or not. */
FwParamOwner fw_param_owner (FwParam param);

/* The unit its value is in; whether two are the same number of the same part. */
FwUnit fw_param_unit (FwParam param);
bool fw_param_equal (FwParam a, FwParam b);

/* True if the number shapes the motion (geometry), false if only weight, size or looks. */
bool fw_param_moves (FwParam param);

/* The values the file format allows, in the number's unit: lengths, spans and rods above 0, radii and masses not below,
 * all below 1e6 in size; a stop stays on its side of the other stop. */
void fw_param_limits (const FwDesign *design, FwParam param, double *lower, double *upper);

/* A range worth trying around the present value, in the number's unit, inside fw_param_limits (): what a slider spans. */
void fw_param_range (const FwDesign *design, FwParam param, double *lower, double *upper);
