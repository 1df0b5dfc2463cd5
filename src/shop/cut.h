/* The cut list: every part with its true length, laid into the stock that the maker has.
 *
 * mm, g. The cli, the window and the kit sheet all show this one. Words are translated. */
#pragma once

#include "doc/units.h"
#include "shop/letters.h"

G_BEGIN_DECLS

typedef enum { FW_CUT_BAR, FW_CUT_SHEET } FwCutShape;

/* Parts that are cut alike. */
typedef struct
{
  FwMade made;       /* with its letter; without a name (see `part`) */
  FwCutShape shape;
  char *part;        /* "Pin of arm" */
  char *what;        /* "copper tube 10 mm" */
  const char *material; /* as the file has it, for its look; NULL: no matter which */
  int stock;         /* index of the bar or sheet of the design's stock; -1: the design has none for it */
  const char *stock_name; /* its name, or NULL */
  double length_mm;  /* bar: as cut, ends counted; sheet: along the grain (a panel's u) */
  double width_mm;   /* sheet: across; bar: 0 */
  double centres_mm; /* between the joint centres it spans; 0: none */
  int count;
  double mass_g;     /* of one; NaN: not known */
  char *note;        /* "left ones are mirror images"; may be NULL */
} FwCutPiece;

typedef struct
{
  char *what; /* "90° elbow", "threaded rod M6", "nut M6" */
  char *size; /* "for 10 mm pipe; measure yours" */
  int count;
} FwCutFitting;

/* One piece as it lies in a bar (at along it) or in a sheet (lower left corner at, up; width along the
 * sheet's width). */
typedef struct
{
  int piece;
  double at_mm, up_mm;
  double length_mm, width_mm; /* as it lies: bar: length; sheet: along its width and its height */
  gboolean turned;            /* sheet: the piece's length lies along the sheet's height */
} FwCutPlace;

/* One bar or sheet with what is cut from it. */
typedef struct
{
  int stock;     /* index in the design's bars or sheets */
  FwCutShape shape;
  FwCutPlace *places;
  int n_places;
  double left_mm; /* bar: what remains at its end */
  double used;    /* share of length or area that becomes parts, 0..1 */
} FwCutLayout;

/* How well the bars (or sheets) that serve the same pieces are used. */
typedef struct
{
  FwCutShape shape;
  int stock;       /* the first of them */
  int used;        /* bars or sheets */
  int at_least;    /* no layout can do with less */
  double opened, least; /* length (mm) or area (mm2) of those used, and what no layout can do below */
  gboolean proven; /* no layout opens less */
  double cost;     /* money, as the stock's prices; NaN: no price */
} FwCutUse;

typedef struct
{
  FwCutPiece *pieces;
  int n_pieces;
  FwCutFitting *fittings;
  int n_fittings;
  FwCutLayout *layouts;
  int n_layouts;
  FwCutUse *uses;
  int n_uses;
  char **problems; /* what cannot be made, is missing or fits nothing: sentences; NULL-terminated */
  char **notes;    /* what was assumed, what to measure; NULL-terminated */
  char **settings; /* to mark: phase of each throw, rod lengths between joint centres */
  char **assembly; /* order of assembly */
  double mass_g;   /* of all that is known */
  gboolean all_weighed;
  double cost;     /* of the bars and sheets used; NaN: no price given */
  gboolean all_priced;
  FwMadeList *made; /* the letters; owned */
  FwBuild *build;   /* the crank as built; owned */
} FwCutList;

/* Lengths in words are as `lengths` says. The mechanism must outlive it. */
FwCutList *fw_cut_list_new (const FwMechanism *mechanism, FwLengths lengths);
void fw_cut_list_free (FwCutList *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwCutList, fw_cut_list_free)

G_END_DECLS
