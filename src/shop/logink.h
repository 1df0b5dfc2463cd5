/* Words on a page of points, and a PDF of such pages: for the log, the flip-book and the templates. */
#pragma once

#include <pango/pangocairo.h>

#include "draw/style.h"
#include "shop/progress.h"

G_BEGIN_DECLS

typedef struct
{
  double size; /* points */
  gboolean bold;
  double width; /* points to wrap in; 0: one line */
  double align; /* 0 left, 0.5 centred on x, 1 right; where it wraps, within the width from x on */
} FwInk;

/* Height the words take, points. */
double fw_ink_height (const char *text, const FwInk *ink);
double fw_ink_width (const char *text, const FwInk *ink);
/* Paints with the upper edge at y; returns the height. */
double fw_ink_draw (cairo_t *cr, const char *text, const FwInk *ink, double x, double y, FwColour colour);

/* The words line by line as they are broken at the ink's width: char*. */
GPtrArray *fw_ink_lines (const char *text, const FwInk *ink);

/* A PDF in memory: pages of one size in points. */
typedef struct
{
  cairo_surface_t *surface;
  cairo_t *cr;
  GByteArray *bytes;
} FwPdf;

/* Begins it, width and height in points, with the title that a reader's window shows. */
void fw_pdf_open (FwPdf *pdf, double width, double height, const char *title);
/* Writes it in the place of `path`, whole or not at all; `onward` FALSE: it was told to stop. */
gboolean fw_pdf_close (FwPdf *pdf, gboolean onward, const char *path, GError **error);

G_END_DECLS
