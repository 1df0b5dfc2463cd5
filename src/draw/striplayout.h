/* The turn strip laid out as numbers. */
#pragma once

#include "draw/labels.h"
#include "draw/turnstrip.h"

G_BEGIN_DECLS

typedef struct
{
  double left, right, top, bottom; /* of the curves' field, px */
  double lane_height;
  int lanes;    /* trouble lanes below the field */
  double ruler; /* y of the ruler's line */
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

/* The field of curves and what stands around it, page px, with so many lanes of trouble. */
FwStripField fw_strip_field (const FwStyle *style, FwBox page, int lanes);

/* Puts bands on lanes. `word_width` gives the width of a trouble's words, px. Returns how many
 * bands; *lanes: how many lanes are used (at most `most`). */
int fw_strip_bands (const FwTroubleList *troubles, const FwStyle *style, FwBox page,
                    const double *word_width, int most, FwStripBand *bands, int capacity,
                    int *lanes);

/* A curve of the strip, in the unit it is shown in. */
typedef struct
{
  FwUnit unit;
  double factor;
  double least, most; /* in the shown unit */
  double base, scale; /* y = base - scale * value */
  const double *row;  /* core unit */
  int steps;
  double *owned; /* the row, where it was made here */
  FwColour colour;
} FwCurve;

/* All of a strip before it is painted. */
typedef struct
{
  const FwScene *scene;
  const FwStripState *state;
  const FwStyle *style;
  FwStripField field;
  FwCurve curves[FW_STRIP_CURVES];
  int n_curves;
  FwStripBand bands[FW_MOST_BANDS];
  int n_bands;
  double zero;                /* y of the zero line that curves share; NaN: none */
  int named[FW_STRIP_CURVES]; /* the label that names each curve; -1: it found no place */
} FwStrip;

/* Page y, px, of a value in the core's unit. */
static inline double
fw_curve_y (const FwCurve *k, double core_value)
{
  return k->base - k->scale * core_value * k->factor;
}

/* The part's name as the design has it, without the side. */
const char *fw_part_plain_name (const FwMechanism *mechanism, FwPart part);

/* "weak push: inrod"; free with g_free. */
char *fw_strip_band_words (const FwStrip *strip, int trouble);
FwWording fw_strip_lane_wording (const FwStyle *style);

/* Pennants of the bounce points: filled for joints with play, else an outline. Their masts stand on
 * the field's upper edge. */
void fw_strip_pennants (cairo_t *cr, const FwStrip *strip, FwBox page, const FwFlag *flags, int n);

/* Words keep off them, and rather off the masts of real knocks. */
void fw_strip_keep_off_pennants (const FwStrip *strip, FwLabels *labels, const FwFlag *flags, int n);

/* Curves of the scene's ghosts: what they reach widens the scale of curve `c`, then dashed under the curves. */
void fw_strip_reach_ghosts (FwStrip *strip, int c);
void fw_strip_paint_ghosts (cairo_t *cr, const FwStrip *strip);

/* Finds a place for every word of the strip. */
void fw_strip_words (FwStrip *strip, FwLabels *labels, const FwFlag *flags, int n_flags);

/* Boxes of all words of the strip, page px; as fw_view_label_boxes (). */
int fw_turn_strip_label_boxes (const FwScene *scene, const FwStripState *state,
                               const FwStyle *style, FwBox page, FwTilted *boxes, int capacity);

G_END_DECLS
