/* The turn strip laid out as numbers. */
#pragma once

#include "draw/labels.h"
#include "draw/turnstrip.h"

G_BEGIN_DECLS

typedef struct
{
  double left, right, top, bottom; /* of the curves' field, px */
  double lane_height;
  int lanes;                       /* trouble lanes below the field */
  double ruler;                    /* y of the ruler's line */
} FwStripField;

#define FW_MOST_BANDS 96

/* A stretch of trouble on a lane. A trouble that runs across 360 degrees has two. */
typedef struct
{
  int trouble;
  double from, to; /* px */
  int lane;        /* -1: no room */
  gboolean worded; /* the part of it that carries the words */
  double word_x;   /* left end of the words */
  double worst;    /* px; NaN: in the other stretch */
} FwStripBand;

FwStripField fw_strip_field (const FwStyle *style, FwBox page, int lanes);

/* Puts bands on lanes. `word_width` gives the width of a trouble's words, px. Returns how many bands;
 * *lanes: how many lanes are used (at most `most`). */
int fw_strip_bands (const FwTroubleList *troubles, const FwStyle *style, FwBox page, const double *word_width,
                    int most, FwStripBand *bands, int capacity, int *lanes);

/* Boxes of all words of the strip, page px; as fw_view_label_boxes (). */
int fw_turn_strip_label_boxes (const FwScene *scene, const FwStripState *state, const FwStyle *style,
                               FwBox page, FwTilted *boxes, int capacity);

G_END_DECLS
