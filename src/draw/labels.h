/* Words on a picture: measured and placed first, so that none covers another, painted last. */
#pragma once

#include <pango/pangocairo.h>

#include "draw/shapes.h"
#include "draw/still.h"

G_BEGIN_DECLS

typedef enum
{
  FW_MARK_NONE,
  FW_MARK_TRIANGLE,
  FW_MARK_DIAMOND,
  FW_MARK_RING
} FwMark;

/* A place to try: the box lies beside `anchor`, on the side that (dx, dy) says (-1, 0 or 1 each, in
 * the text's own directions), `gap` px away, turned by `angle`. */
typedef struct
{
  FwVec2 anchor;
  double dx, dy, gap, angle;
} FwSpot;

typedef struct
{
  char *text;
  PangoLayout *layout; /* NULL: only a mark */
  FwTilted box;
  FwColour colour;
  FwMark mark; /* drawn around the text instead of a plain ground */
  gboolean filled;
  gboolean bare;   /* no ground behind the words */
  gboolean leader; /* a thin line from `from` to the box */
  FwVec2 from;
} FwLabel;

typedef struct
{
  cairo_t *cr;
  const FwStyle *style;
  FwBox page;
  PangoContext *context;
  PangoFontDescription *font;
  GArray *labels;   /* FwLabel, placed */
  GArray *keep_off; /* FwTilted: nothing may be put there */
  GArray *lines;    /* FwVec2 pairs: better not on these */
  FwStill *still;   /* keeps words laid out; NULL: nothing does */
} FwLabels;

/* `cr` lends its font settings; nothing is painted until fw_labels_paint (). `still` keeps words laid out until the
 * next frame of the same surface; NULL: each is laid out anew. */
void fw_labels_open (FwLabels *labels, cairo_t *cr, const FwStyle *style, FwBox page, FwStill *still);
void fw_labels_close (FwLabels *labels);

/* No words are put on this box, or only where there is no place else on this line, page px. */
void fw_labels_keep_off (FwLabels *labels, FwTilted box);
void fw_labels_line (FwLabels *labels, FwVec2 a, FwVec2 b);

typedef struct
{
  double size; /* times the style's text; 0: 1 */
  gboolean bold;
  FwColour colour;
  FwMark mark;
  gboolean filled, bare, leader;
  FwVec2 from;
} FwWording;

/* Measures the words (`half` out, may be NULL), tries the spots in order of preference and takes
 * the best that collides with nothing and lies on the page. FALSE: none; nothing is added. */
gboolean fw_labels_add (FwLabels *labels, const char *text, const FwWording *wording,
                        const FwSpot *spots, int n);

/* Page px that the words take, with their mark. */
void fw_labels_measure (FwLabels *labels, const char *text, const FwWording *wording, double *width,
                        double *height);

/* The name, or where it is wider than `room` px cut short in its middle: its last word tells of which
 * part it is, and stays as far as it can. Free with g_free. */
char *fw_labels_fit (FwLabels *labels, const char *name, const FwWording *wording, double room);

/* All that found a place, in the order of adding. */
void fw_labels_paint (const FwLabels *labels);

/* The eight spots around a point, `gap` px away, above first. Returns 8. */
int fw_spots_around (FwVec2 anchor, double gap, FwSpot spots[8]);

/* An outline of a mark of the given half size, px. */
void fw_mark_path (cairo_t *cr, FwMark mark, FwVec2 centre, double half);

G_END_DECLS
