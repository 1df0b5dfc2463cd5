/* What a design weighs, asks and bears, in a few figures: to compare sizes by. */
#pragma once

#include <glib.h>

#include "core/trouble.h"

G_BEGIN_DECLS

typedef enum
{
  FW_SIZE_SPAN,     /* mm: tip to tip with all panels flat (angle 0); 0: it has no wings */
  FW_SIZE_WEIGHT,   /* g: all that moves, but for the crank pipe */
  FW_SIZE_BASE,     /* g */
  FW_SIZE_AREA,     /* m^2: of all panels */
  FW_SIZE_SPEED,    /* turns/min */
  FW_SIZE_TORQUE,   /* N m: greatest size of the crank's */
  FW_SIZE_HANDLE,   /* N: greatest push at the handle; NAN: no handle */
  FW_SIZE_POWER,    /* W: greatest */
  FW_SIZE_KNOCK,    /* N: greatest size of a rod's load */
  FW_SIZE_SAG,      /* mm: greatest of crank, post and panels (rods bow from a crooked start, which is no sag) */
  FW_SIZE_STRESS,   /* greatest of any part over what it is allowed */
  FW_SIZE_BUCKLING, /* greatest push over Euler's load, of rods and post */
  FW_SIZE_NATURAL,  /* Hz: lowest of any part */
  FW_SIZE_CALM,     /* lowest natural frequency over that of the turn */
  FW_SIZE_TILT,     /* deg: slope at which it tips; NAN: not known */
  FW_N_SIZES
} FwSize;

typedef struct
{
  double value[FW_N_SIZES]; /* NAN where it is not known, or the turn does not close */
  FwPart part[FW_N_SIZES];  /* of SAG, STRESS, BUCKLING and NATURAL: the one meant */
} FwSizing;

/* FALSE when memory runs out or it cannot be built. */
gboolean fw_sizing_of (const FwDesign *design, FwSizing *sizing);

/* Tip to tip with all panels flat, mm; 0 without wings. */
double fw_flat_span (const FwDesign *design);

/* All trouble of motion, forces and strength, worst first. FALSE when memory runs out or it cannot be
 * built. */
gboolean fw_motion_and_force_trouble (const FwDesign *design, FwTroubleList *list);

G_END_DECLS
