/* Putting items on the pages of a kit sheet, from the top down. Internal to the kit. */
#pragma once

#include "shop/kit.h"

G_BEGIN_DECLS

/* Sizes in points of an A5 page; larger pages scale them. */
typedef struct
{
  FwKit *kit;
  GArray *page;
  double unit;                  /* points of this paper per point of A5 */
  double left, right, top, foot; /* of the type area */
  double y;                     /* where the next thing goes */
} FwKitFlow;

/* Sets the type area for the kit's paper; there is no page yet. Nothing to free: pages belong to the kit. */
void fw_kit_flow_open (FwKitFlow *flow, FwKit *kit);
/* Width of the type area, points of this paper. */
double fw_kit_flow_width (const FwKitFlow *flow);

/* Begins a page, with a heading and a rule under it; NULL: a bare page. */
void fw_kit_flow_page (FwKitFlow *flow, const char *heading);
/* A new page if less than `height` points of this paper are left; the heading is then given again. */
void fw_kit_flow_need (FwKitFlow *flow, double height, const char *heading);

/* Words in a column from x, `width` wide; size in points of A5. Returns the height. Does not move y. */
double fw_kit_text_at (FwKitFlow *flow, const char *text, double x, double y, double width, double size,
                       gboolean bold, gboolean faint);
double fw_kit_text_height (const FwKitFlow *flow, const char *text, double width, double size, gboolean bold);

/* A paragraph across the page; moves on, with a little air. */
void fw_kit_paragraph (FwKitFlow *flow, const char *text, double size, gboolean bold, const char *heading);
/* Sentences with a mark, or (from 1) a number, before each. */
void fw_kit_list (FwKitFlow *flow, char *const *lines, gboolean numbered, const char *heading);
/* A small heading within a page. */
void fw_kit_subheading (FwKitFlow *flow, const char *text, const char *heading);

/* Adds an item, whose box is in points of this paper. The answer is the page's, and good until the next item. */
FwKitItem *fw_kit_put (FwKitFlow *flow, FwKitKind kind, double x, double y, double width, double height);
/* A ring of twice `size` (points of A5) with its upper left corner at x, y (points of this paper). Does not move y. */
void fw_kit_badge (FwKitFlow *flow, const char *text, double x, double y, double size);

/* The contents, kitpages.c and kitparts.c. */
void fw_kit_fill (FwKitFlow *flow);
void fw_kit_fill_parts (FwKitFlow *flow);

G_END_DECLS
