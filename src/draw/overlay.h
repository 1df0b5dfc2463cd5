/* What is laid over the sculpture: where it has been and will be, how far it may go, what is wrong.
 */
#pragma once

#include "draw/labels.h"
#include "draw/paint.h"

G_BEGIN_DECLS

/* Outline of a member in a pose on the page: its sheet, or the profile of its solid. Points written to `out`
 * (capacity FW_MOST_OUTLINE); returns how many. */
int fw_member_on_page (const FwDrawing *drawing, const FwPose *pose, int member, FwVec2 *out);

/* Under the work. */
void fw_overlay_swept (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);
void fw_overlay_ghosts (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);
/* The rest of panels that are drawn where they swing: `rest` is the scene's own pose. */
void fw_overlay_rest (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style, const FwPose *rest);
/* Over the work. */
/* Paths of the turn as dots, in the colour that is set: they stand still. */
void fw_overlay_trace_dots (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);
/* An arrowhead on each of them. */
void fw_overlay_trace_arrows (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);
/* `wedges`: at the ends of each arc, where no grips stand. */
void fw_overlay_stops (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style, gboolean wedges);
void fw_overlay_throws (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);
void fw_overlay_broken (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style,
                        FwLabels *labels);
/* `elsewhere`: faintly, what is wrong at other crank angles too. */
void fw_overlay_trouble (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style,
                         FwLabels *labels, gboolean elsewhere);
/* Half the height of a grip, px. */
double fw_handle_size (const FwStyle *style);
void fw_overlay_handles (cairo_t *cr, const FwDrawing *drawing, const FwStyle *style);

/* True if the crank angle (rad) lies in the trouble's interval, which may run past a whole turn. */
gboolean fw_trouble_holds (const FwTrouble *trouble, double crank);

/* True if trouble i of the list is the one whose number its part bears at this crank angle (rad): its worst of those
 * that hold there. */
gboolean fw_trouble_is_marked (const FwTroubleList *list, int i, double crank);

/* A stop's ray: the point `reach` mm from the hinge along the panel's u at an angle, world. */
FwVec3 fw_stop_point (const FwScene *scene, int member, double angle, double reach);
double fw_stop_reach (const FwScene *scene, int member);

/* Words: sides, view's name, scale bar, names and dimensions. */
void fw_words_sides (FwLabels *labels, const FwDrawing *drawing, gboolean title);
void fw_words_names (FwLabels *labels, const FwDrawing *drawing);
void fw_words_dimensions (cairo_t *cr, FwLabels *labels, const FwDrawing *drawing);
void fw_scale_bar (cairo_t *cr, FwLabels *labels, double scale, FwBox page);
void fw_words_lines (FwLabels *labels, const FwDrawing *drawing);

G_END_DECLS
