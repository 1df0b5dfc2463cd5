/* Building blocks of templates; internal to them. */
#pragma once

#include "shop/template.h"

G_BEGIN_DECLS

/* Everything the makers of parts need. */
typedef struct
{
  const FwMechanism *mechanism;
  const FwMadeList *made;
  FwLengths lengths;
  FwTemplate *tmpl;
  GPtrArray *notes; /* char * */
} FwTemplateJob;

/* Without lines. Strings are copied; `made` NULL: it has no letter. */
FwCutPart *fw_cut_part_new (FwTemplateKind kind, const FwMade *made, const char *name, int count,
                            const char *material, double thickness_mm);
/* With all that is in it; the template does so with those that were handed over. */
void fw_cut_part_free (FwCutPart *part);

/* Adds a line; its points are copied. */
void fw_cut_line (FwCutPart *part, FwLineKind kind, gboolean closed, const FwVec2 *points, int n);
void fw_cut_segment (FwCutPart *part, FwLineKind kind, FwVec2 a, FwVec2 b);
void fw_cut_hole (FwCutPart *part, FwVec2 centre, double diameter_mm);
/* An arrow with a slim head at b. */
void fw_cut_arrow (FwCutPart *part, FwVec2 a, FwVec2 b);

/* Measures the part, its words included, and hands it over. */
void fw_cut_part_add (FwTemplateJob *job, FwCutPart *part);

/* The pieces of a segment inside an outline (its edge counts as inside), written as pairs of points.
 * Returns how many pairs, at most `capacity`. */
int fw_cut_clip (const FwVec2 *outline, int n, FwVec2 a, FwVec2 b, FwVec2 *pairs, int capacity);

/* Whether the point is in the outline, and how far from its edge, mm. */
gboolean fw_cut_holds (const FwVec2 *outline, int n, FwVec2 p);
double fw_cut_edge_distance (const FwVec2 *outline, int n, FwVec2 p);

/* ---- Words ---- */

/* Half size of the words' box. */
FwVec2 fw_cut_text_half (const char *text, double size_mm, gboolean bold_first);

/* Puts the words where they fit: inside the outline near `near`, clear of holes, of lines and of the
 * words before, in the largest of the sizes from `size_mm` down to `least_mm` that fits; at the least,
 * over lines if need be. FALSE: they fit nowhere. */
gboolean fw_cut_words (FwCutPart *part, const char *text, FwVec2 near, double size_mm,
                       double least_mm, gboolean bold_first);

/* Puts words under all that is there. */
void fw_cut_words_below (FwCutPart *part, const char *text, double size_mm, gboolean bold_first);

/* Puts words at a place, turned. */
void fw_cut_words_at (FwCutPart *part, const char *text, FwVec2 at, double size_mm,
                      double turn_rad);

/* True if words of this half size at this place, turned, meet no hole, no words and no edge. */
gboolean fw_cut_words_fit (const FwCutPart *part, FwVec2 at, FwVec2 half, double turn_rad,
                           gboolean lines_too);

/* "12 mm", "12.5 mm", "1/2 in"; free with g_free. */
char *fw_cut_length (double mm, FwLengths lengths);

/* ---- Makers ---- */

/* Each adds its parts to the job's template, and what is to be said of them to its notes. */
void fw_template_panels (FwTemplateJob *job);
void fw_template_wedges (FwTemplateJob *job);
void fw_template_plate (FwTemplateJob *job);
void fw_template_gauges (FwTemplateJob *job);

G_END_DECLS
