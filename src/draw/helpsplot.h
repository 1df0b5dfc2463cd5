/* What helps as a small picture: a row a number, with how strongly it works and how far it can go. And the bar of
 * a wish: what was asked, what there is. Laid out as numbers first; page px. */
#pragma once

#include "draw/labels.h"

G_BEGIN_DECLS

typedef struct
{
  char *name;       /* of the number */
  char *effect;     /* "+0.41° per mm" */
  char *reach;      /* "405 mm to 431 mm"; NULL: not known */
  double share;     /* -1..1: signed, of the strongest in the list */
  gboolean exact;   /* a derivative: filled; a difference: hatched */
  double lower, upper, value; /* what a slider spans, and the number now */
  double from, to;  /* free of new trouble */
  gboolean from_open, to_open;
} FwHelpBar;

typedef struct
{
  FwBox row;      /* what is pressed */
  double zero;    /* x of no effect */
  FwBox fill;     /* the bar, from zero to the left or right */
  FwBox range;    /* what a slider spans; empty where the reach is not known */
  FwBox free;     /* the part of it that is free of new trouble */
  double now;     /* x of the present value */
} FwHelpPlace;

/* Page px; the same for every row. */
double fw_helps_row_height (const FwStyle *style);

/* Where row `i` lies in a page whose rows begin at the top. */
FwHelpPlace fw_helps_place (const FwStyle *style, FwBox page, const FwHelpBar *bar, int i);

/* The row under a page point (x, y, px); -1: none. */
int fw_helps_row_at (const FwStyle *style, FwBox page, int n, double x, double y);

/* `marked`: the row under the keyboard or the pointer; -1: none. */
void fw_draw_helps (cairo_t *cr, const FwStyle *style, FwBox page, const FwHelpBar *bars, int n, int marked);

/* ---- The bar of a wish ---- */

typedef struct
{
  FwBox asked;           /* the band that was asked for; at least as wide as a line */
  double now;            /* x of what there is; NaN: it cannot be told */
  double miss_from, miss_to; /* x; alike where it is met */
} FwMissPlace;

/* What is asked for, from `least` to `most` (either may be infinite), and what there is `now`, all in one unit, the wish's. */
FwMissPlace fw_miss_place (const FwStyle *style, FwBox box, double least, double most, double now);
void fw_draw_miss (cairo_t *cr, const FwStyle *style, FwBox box, double least, double most, double now, gboolean met);

G_END_DECLS
