/* What was really built, from what was measured on it. Method: docs/fit.md. */
#pragma once

#include "aim/measured.h"
#include "aim/tolerance.h"

G_BEGIN_DECLS

typedef struct
{
  const FwParam *numbers; /* that may be off; NULL: the few that explain the measurements are looked for */
  int n_numbers;
  double angle_sd_deg;    /* of one measured angle; default (0) 1: weighs angles against lengths */
  double length_sd_mm;    /* of one measured length; default (0) 1 */
  FwStop stop;            /* may be NULL */
  void *data;
} FwFitWish;

typedef struct
{
  gboolean is_zero; /* the mark on the crank: all measured crank angles are off by this, deg */
  FwParam param;    /* else this number */
} FwFitName;

/* What it is called, translated; free with g_free (). `design` is the one that was fitted. */
char *fw_fit_name_words (const FwDesign *design, FwFitName name);

/* The unit its values are in, as the file has it. */
FwUnit fw_fit_name_unit (FwFitName name);

#define FW_FIT_OTHERS 4

typedef struct
{
  FwFitName name;
  double from, to;     /* as drawn, as built; file unit */
  double sure;         /* half of the 95 % interval about `to` */
  FwFitName others[FW_FIT_OTHERS]; /* that would explain it as well in its place */
  double others_to[FW_FIT_OTHERS]; /* what each would then be, file unit */
  int n_others;
} FwFitNumber;

typedef enum
{
  FW_FIT_FOUND,       /* `numbers` explain it best */
  FW_FIT_AS_DRAWN,    /* nothing was off by more than the measurements tell */
  FW_FIT_TOO_FEW,     /* fewer measurements than numbers and one more */
  FW_FIT_CANNOT_TELL, /* the numbers asked for cannot be told apart by these measurements: numbers[0] and [1] */
  FW_FIT_STOPPED,
  FW_FIT_FAILED,      /* no memory, or it cannot be built */
} FwFitStatus;

#define FW_FIT_MOST 12

typedef struct
{
  FwFitStatus status;
  FwFitNumber numbers[FW_FIT_MOST];
  int n;
  double angle_before_deg, angle_after_deg;   /* root mean square miss; NAN: none measured */
  double length_before_mm, length_after_mm;
  int n_measurements;
} FwFit;

/* `design`: as drawn. Numbers are those of the design: a number of both sides is one. */
FwFitStatus fw_fit (const FwDesign *design, const FwMeasurement *list, int n, const FwFitWish *wish, FwFit *fit);

/* Quantile 0.975 of Student's t; degrees of freedom from 1. Abramowitz and Stegun 26.7.5 from 3 on, the
 * closed forms below. */
double fw_student_975 (int freedom);

G_END_DECLS
