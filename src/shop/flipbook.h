/* One turn as a flip-book: leaves to print, cut and staple. */
#pragma once

#include "draw/motionstrip.h"
#include "shop/progress.h"

G_BEGIN_DECLS

typedef enum
{
  FW_FLIPBOOK_A4,
  FW_FLIPBOOK_LETTER
} FwFlipbookPaper;

#define FW_FLIPBOOK_LEAST_FRAMES 8
#define FW_FLIPBOOK_MOST_FRAMES 180

typedef struct
{
  int frames; /* of one turn, 8..180; default 48 */
  FwStripViews views;
  FwFlipbookPaper paper;
  FwLengths lengths;
} FwFlipbook;

/* 48 frames of both views on A4, lengths in mm. */
FwFlipbook fw_flipbook_default (void);

/* Where things stand on the paper; points, y down. */
typedef struct
{
  double width, height;       /* of the paper */
  double left, top;           /* of the grid of leaves */
  double leaf_width, leaf_height, stub; /* the stub is the leaf's left end */
  int columns, rows;
  int leaves; /* cover and frames */
  int sheets; /* of leaves; the PDF has one page before them that says how */
} FwFlipbookLayout;

/* How many frames are asked for is not checked here. */
FwFlipbookLayout fw_flipbook_layout (const FwFlipbook *book);

/* Which leaf lies in a place of a sheet: 0 the cover, 1 the first frame; -1: none. Sheets are stacked
 * and cut together, so that each place gives one pile, and the piles laid on each other in the order
 * of the places are the book. */
int fw_flipbook_leaf (const FwFlipbookLayout *layout, int sheet, int place);

/* A page of the PDF: 0 the one that says how, 1 the first sheet. Nothing where memory runs out. */
void fw_flipbook_draw_page (cairo_t *cr, const FwScene *scene, const FwFlipbook *book, const char *title,
                            int page);

/* As PDF, whole or not at all. FALSE: error set; G_IO_ERROR_CANCELLED if it was told to stop. */
gboolean fw_flipbook_write_pdf (const FwScene *scene, const FwFlipbook *book, const char *title,
                                const char *path, const FwProgress *progress, GError **error);

G_END_DECLS
