/* Crank torque around the turn: radius by torque about a circle of no torque. The crank angle runs
 * clockwise from the top, as the crank seen from its right or from behind turns forward. Where the hand
 * drives, the field outside the zero circle is filled; where it holds back, the field inside is
 * hatched. */
#pragma once

#include "draw/shapes.h"
#include "draw/view.h"

G_BEGIN_DECLS

#define FW_MOST_RINGS 16

/* The plot as numbers, page px. */
typedef struct
{
  FwVec2 centre;
  double outer;       /* radius of the outermost ring */
  double zero;        /* radius of no torque */
  double px_per_Nm;   /* radius = zero + this times torque */
  double rings_Nm[FW_MOST_RINGS]; /* round values, ascending, 0 among them */
  int n_rings;
  FwExtreme least, greatest; /* torque, N m, and crank angle */
} FwTorquePlot;

/* False: no loads, or nothing can be assembled. */
gboolean fw_torque_plot_lay (const FwScene *scene, const FwStyle *style, FwBox page,
                             FwTorquePlot *plot);

/* The page point of a torque at a crank angle, rad. */
FwVec2 fw_torque_plot_point (const FwTorquePlot *plot, double crank, double torque_Nm);

/* The crank angle under a page point, rad, [0, 2 pi). */
double fw_torque_plot_crank (const FwTorquePlot *plot, FwVec2 point);

/* Draws into the page box; `title` NULL: none. The hand stands at the pose's crank angle. */
void fw_draw_torque_plot (cairo_t *cr, const FwScene *scene, const FwStyle *style, FwBox page,
                          const char *title);

/* Boxes of the words, page px, as fw_view_label_boxes (); without a title. */
int fw_torque_plot_label_boxes (const FwScene *scene, const FwStyle *style, FwBox page, FwTilted *boxes,
                                int capacity);

/* Writes it as PNG, SVG or PDF by the ending of `path` (else PNG), whole or not at all. */
gboolean fw_torque_plot_write (const FwScene *scene, FwTheme theme, const char *title,
                               const char *path, GError **error);

G_END_DECLS
