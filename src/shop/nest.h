/* Laying pieces into bars and boxes into sheets so that the least stock is opened. Plain numbers, mm. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define FW_NEST_EXACT 28       /* so many pieces are tried in every way that matters */
#define FW_NEST_STEPS 2000000  /* and so many steps spent on it */

typedef struct
{
  double length;
  int count; /* -1: as many as it takes */
} FwNestBar;

typedef struct
{
  int n_bins;
  int *bin_kind; /* [n_bins]: which of the bars (sheets) it is */
  int *bin_of;   /* [n]: where each piece lies; -1: nowhere */
  int n_left;    /* pieces that lie nowhere */
  double opened; /* length (area) of all that is opened */
  double least;  /* no layout of what is laid opens less */
  gboolean proven; /* nor does any open less than `opened` */
} FwNest;

/* Bars, lengths and kerf in mm: a saw cut of `kerf` is lost between two pieces, and after the last one unless it ends with the
 * bar. Up to FW_NEST_EXACT pieces by branch and bound, beyond by the better of two rules of best fit,
 * longest first. Pieces longer than every bar, or beyond its count, lie nowhere. Free with
 * fw_nest_free (). */
FwNest *fw_nest_bars (const double *lengths, int n, const FwNestBar *bars, int n_bars, double kerf);
void fw_nest_free (FwNest *nest);

typedef struct
{
  double width, height; /* a box as it lies unturned */
  gboolean may_turn;
} FwNestBox;

typedef struct
{
  double width, height;
  int count; /* -1: as many as it takes */
} FwNestSheet;

typedef struct
{
  double x, y;
  gboolean turned;
} FwNestPlace;

/* Sheets, kerf in mm, by cuts that go right through (a knife or table saw can follow): the best of several orders
 * and rules. `places` [n] is filled for those that lie somewhere. */
FwNest *fw_nest_sheets (const FwNestBox *boxes, int n, const FwNestSheet *sheets, int n_sheets, double kerf,
                        FwNestPlace *places);

G_END_DECLS
