/* The greatest of every load over the turn, as rows of a table. No widget inside. */
#pragma once

#include "app/session.h"

G_BEGIN_DECLS

typedef enum
{
  FW_PEAKS_TORQUE,
  FW_PEAKS_RODS,
  FW_PEAKS_POST,
  FW_PEAKS_CRANK,
  FW_PEAKS_HINGES,
  FW_PEAKS_STRESS,
  FW_PEAKS_SAG,
  FW_N_PEAK_GROUPS
} FwPeakGroup;

typedef struct
{
  FwPeakGroup group;
  FwQuantity quantity;
  int sign;      /* of the load at this peak: +1, -1; 0 for one that has none */
  FwPart part;   /* to pick */
  double value;  /* size, in the unit shown */
  FwUnit unit;
  double crank;  /* rad */
  double over;   /* value over what is allowed; 0: not known */
  char *name;    /* of the part: "arm-rod", without the side where both sides bear the same */
  char *kind;    /* "pull", "push", "drives", "holds back", "load", ... */
} FwPeakRow;

/* Rows in the order of the groups, the greatest of each first. Free with g_ptr_array_unref (). */
GPtrArray *fw_peak_rows (FwSession *session);

const char *fw_peak_group_words (FwPeakGroup group);

/* "0.42 N", with three figures or so; "120°"; free with g_free. */
char *fw_peak_value_words (const FwPeakRow *row, FwLengths lengths);
char *fw_peak_crank_words (const FwPeakRow *row);

G_END_DECLS
