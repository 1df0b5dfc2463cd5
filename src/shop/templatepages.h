/* Templates on paper: which part lies where on which page, and the drawing of a page.
 *
 * mm on the page, y down. The PDF, the system's print dialog and a preview all call
 * fw_template_page_draw (), so they cannot differ. */
#pragma once

#include <cairo.h>

#include "shop/template.h"

G_BEGIN_DECLS

typedef enum
{
  FW_PAPER_A4,
  FW_PAPER_A3,
  FW_PAPER_LETTER,
  FW_PAPER_TABLOID,
  FW_PAPER_ONE, /* one sheet as large as it takes */
  FW_N_PAPERS
} FwPaper;

/* "a4", "a3", "letter", "tabloid", "one". */
gboolean fw_paper_from_name (const char *name, FwPaper *paper);

/* What neighbouring tiles share. */
#define FW_TILE_OVERLAP 12.0

typedef enum
{
  FW_PAGE_OVERVIEW,
  FW_PAGE_PARTS, /* parts that are whole on it */
  FW_PAGE_TILE   /* a part of a part */
} FwPageKind;

/* A part on a page, turned a quarter clockwise or not. */
typedef struct
{
  int part;      /* in the template; -1: the square that checks the printer */
  FwVec2 at_mm;  /* where the part's origin lies on the page */
  gboolean turned;
} FwPagePart;

typedef struct
{
  FwPageKind kind;
  int first, n;              /* of `placed` */
  int column, row;           /* of a tile, from 0 */
  int columns, rows;
  int first_row, n_rows;     /* overview: of the list of parts */
  int first_cell, n_cells;   /* overview: of the map */
  gboolean square;           /* overview: has the square, and the words that go with it */
} FwTemplatePage;

/* One picture of the map: a page with whole parts, or all tiles of a part. */
typedef struct
{
  int page, n_pages;
} FwMapCell;

typedef struct
{
  const FwTemplate *tmpl; /* borrowed */
  FwPaper paper;
  double width_mm, height_mm;                      /* of every page */
  double frame_x, frame_y, frame_width, frame_height; /* where parts may lie */
  GArray *pages;   /* FwTemplatePage */
  GArray *placed;  /* FwPagePart */
  GArray *cells;   /* FwMapCell */
  int *page_of;    /* first page of each part; -1: left out */
  int *pages_of;   /* how many pages it takes */
  int n_parts_placed;
  char **left_out; /* parts that no page takes: one sentence each; NULL-terminated */
  double names_mm, stocks_mm; /* room in the overview's list for the longest name, for the longest stock */
} FwTemplatePages;

/* The template must outlive the pages. */
FwTemplatePages *fw_template_pages_new (const FwTemplate *tmpl, FwPaper paper);
void fw_template_pages_free (FwTemplatePages *pages);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwTemplatePages, fw_template_pages_free)

/* An overview comes first but on FW_PAPER_ONE, which is a single page; all are of one size, mm. */
int fw_template_pages_count (const FwTemplatePages *pages);
void fw_template_pages_size (const FwTemplatePages *pages, double *width_mm, double *height_mm);

/* Draws page 0 .. count - 1. One unit of the context is a mm, its origin the page's upper left corner:
 * scale by 72 / 25.4 where the surface counts points. */
void fw_template_page_draw (cairo_t *cr, const FwTemplatePages *pages, int page);

/* ceil ((whole - overlap) / (tile - overlap)), at least 1: tiles that cover a length. */
int fw_tiles_along (double whole_mm, double tile_mm);

/* "A1", "B1", .. "A2": column letters and row numbers. */
void fw_tile_name (int column, int row, char name[24]);

/* Page from part, for a placement. */
static inline FwVec2
fw_page_point (const FwPagePart *p, FwVec2 v)
{
  return p->turned ? (FwVec2){ p->at_mm.x - v.y, p->at_mm.y + v.x }
                   : (FwVec2){ p->at_mm.x + v.x, p->at_mm.y + v.y };
}

G_END_DECLS
