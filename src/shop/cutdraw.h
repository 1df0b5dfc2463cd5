/* Bars and sheets of the cut list drawn as they are laid. */
#pragma once

#include "draw/style.h"
#include "shop/cut.h"

G_BEGIN_DECLS

/* Page px (or points) per mm at which the longest bar (the widest or highest sheet) of the list fits in a
 * width, so that bars can be compared with bars and sheets with sheets. */
double fw_cut_layout_scale (const FwCutList *list, const FwStock *stock, FwCutShape shape, double width,
                            const FwStyle *style);

/* Height, page px, that a layout takes at that scale (px per mm), its line of words included. */
double fw_cut_layout_height (const FwCutList *list, const FwStock *stock, const FwCutLayout *layout,
                             double scale, const FwStyle *style);

/* Draws one from (0, 0), at most `width` px wide, at a scale in px per mm: its name and size, pieces with their letters (of a panel
 * its outline), what remains hatched. */
void fw_cut_layout_draw (cairo_t *cr, const FwCutList *list, const FwDesign *design,
                         const FwCutLayout *layout, double width, double scale, const FwStyle *style);

/* Left ends, px, of `n` figures in a row (middles of their pieces and own widths in px too), each as near below the middle of
 * its piece as the others allow, none past `right`. False: they have no room between 0 and there. */
gboolean fw_cut_figures_place (const double *middles, const double *widths, int n, double right, double *places);

/* "tube 10, 1000 mm: A 120 mm, B 80 mm; left over 798 mm": the same in words; g_free. */
char *fw_cut_layout_words (const FwCutList *list, const FwStock *stock, const FwCutLayout *layout,
                           FwLengths lengths);

G_END_DECLS
