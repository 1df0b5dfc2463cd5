/* Pages to leaf through: small ones in a column, one of them large, which can be enlarged further.
 *
 * Small pages are painted one at a time when nothing else is to do, so that any number of them opens at once. */
#pragma once

#include "app/workshoplaid.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Draws a page; one unit of the context is a mm, its origin the page's upper left corner. */
typedef void (*FwPageDraw) (cairo_t *cr, const FwLaid *laid, int page);

#define FW_TYPE_PAGE_VIEW (fw_page_view_get_type ())
G_DECLARE_FINAL_TYPE (FwPageView, fw_page_view, FW, PAGE_VIEW, GtkWidget)

/* `name` is what the pages are of: "Templates". */
GtkWidget *fw_page_view_new (const char *name, FwPageDraw draw);

/* Shows other pages, all of one size; the same page stays in sight if there still is one. */
void fw_page_view_set (FwPageView *self, FwLaid *laid, int n, double width_mm, double height_mm);

void fw_page_view_zoom (FwPageView *self, double factor); /* 0: the whole page */

G_END_DECLS
