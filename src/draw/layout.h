/* Where the words of a picture are put, as numbers: for tests and for whoever lays more beside
 * them. */
#pragma once

#include "draw/shapes.h"
#include "draw/view.h"

G_BEGIN_DECLS

/* Boxes of all words fw_draw_view () would paint with the same arguments, page px. Writes at most
 * `capacity`, returns how many there are. */
int fw_view_label_boxes (const FwScene *scene, const FwCamera *camera, const FwStyle *style,
                         FwBox page, guint show, FwTilted *boxes, int capacity);

/* The style with line widths and type as a page of this size wants them. */
FwStyle fw_style_for_page (const FwStyle *style, FwBox page);

/* What lines, type and arrows are sized by: the page, or a square as large as the sheet that it shares. */
FwBox fw_style_sheet (const FwStyle *style, FwBox page);

/* A length or angle, in its own unit, with no more digits than it needs and a maker can cut; free with g_free. */
char *fw_figure (double value, FwUnit unit, FwLengths lengths);

G_END_DECLS
