/* Paint for templates on paper; internal to them. mm on the page. */
#pragma once

#include "draw/style.h"
#include "shop/templatepages.h"

G_BEGIN_DECLS

#define FW_CHECK_SQUARE 100.0 /* mm: what the printer is checked with */
#define FW_ONE_LEAST 190.0    /* mm of width that the words round one sheet need */

/* ISO 128: two widths, 2:1. */
#define FW_WIDE 0.7
#define FW_THIN 0.35

/* The part as it lies; with its words or not. */
void fw_paint_part (cairo_t *cr, const FwCutPart *part, const FwPagePart *at);
/* Its edge as a path, for small maps. */
void fw_paint_edge (cairo_t *cr, const FwCutPart *part, const FwPagePart *at);

/* A line of its kind, in its width, dashes and colour. */
void fw_paint_kind (cairo_t *cr, FwLineKind kind, const FwStyle *style);

/* Words with their top at y; align 0 left of, 0.5 about, 1 right of x. `width` above 0: broken into
 * lines, or, with `one_line`, cut short. Returns their height. */
typedef struct
{
  double size; /* mm */
  gboolean bold, one_line;
  double width, align; /* mm; share of the width, 0 to 1 */
  FwColour colour;
} FwPageWords;
double fw_paint_words (cairo_t *cr, const char *text, double x, double y, const FwPageWords *how);
double fw_words_width (const char *text, const FwPageWords *how);
double fw_words_height (const char *text, const FwPageWords *how);

/* The square, its corner at x, y (mm), with its words and `below` under them (may be NULL). */
void fw_paint_square (cairo_t *cr, double x, double y, FwLengths lengths, const char *below);

/* What is known of a design's templates beside the parts, one sentence a line; free with g_free. */
char *fw_overview_notes (const FwTemplatePages *pages);
/* Indices of all parts as they are listed, by letter; free with g_free. */
int *fw_overview_rows (const FwTemplatePages *pages);

/* The overview pages that the pages laid so far need (FwTemplatePage), whose list is measured; free with g_array_free. */
GArray *fw_overview_plan (FwTemplatePages *pages);
void fw_overview_draw (cairo_t *cr, const FwTemplatePages *pages, const FwTemplatePage *page);

G_END_DECLS
