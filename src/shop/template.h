/* What is cut from sheet, at true size and as plain numbers: panels, stop wedges, the base plate, the
 * gauges that set phases and rod lengths. Paper pages, laser sheets and tests all read these numbers.
 *
 * mm. A part lies as it is seen from above, x to the right, y down the page (a panel: x = u, the left
 * one x = -u; y = -v, so its front points up the page). Choices are derived in docs/templates.md. */
#pragma once

#include "doc/units.h"
#include "shop/letters.h"

G_BEGIN_DECLS

typedef enum
{
  FW_LINE_CUT,   /* through: the edge is the middle of the line */
  FW_LINE_SCORE, /* half through, to crease */
  FW_LINE_HINGE, /* where a hinge's axis lies */
  FW_LINE_MARK,  /* on the surface only */
  FW_N_LINE_KINDS
} FwLineKind;

typedef struct
{
  FwLineKind kind;
  gboolean closed; /* the last point joins the first */
  int first, n;    /* in the part's points */
} FwCutLine;

typedef struct
{
  FwVec2 at_mm;
  double diameter_mm;
} FwCutHole;

typedef struct
{
  char *text;      /* may have several lines */
  FwVec2 at_mm;    /* middle of its box, before it is turned */
  FwVec2 half_mm;  /* half its box: across the text, down the lines */
  double size_mm;  /* of the type */
  double turn_rad; /* clockwise on the page, about the middle */
  gboolean bold_first;
  gboolean inside; /* on the part; else beside it, where a laser has nothing to engrave */
} FwCutText;

typedef enum
{
  FW_TEMPLATE_PANEL,
  FW_TEMPLATE_WEDGE,
  FW_TEMPLATE_PLATE,
  FW_TEMPLATE_PHASE_GAUGE,
  FW_TEMPLATE_ROD_GAUGE
} FwTemplateKind;

typedef struct
{
  FwTemplateKind kind;
  char *letter; /* "" for a gauge */
  char *name;   /* "arm.right", "Base plate" */
  int count;    /* cut alike */
  char *material;
  FwStuff stuff;        /* of the material, as the design has it; zeros: not known */
  double thickness_mm;
  GArray *points; /* FwVec2 */
  GArray *lines;  /* FwCutLine; the first is the outline */
  GArray *holes;  /* FwCutHole, cut through */
  GArray *texts;  /* FwCutText */
  FwVec2 low, high; /* around all of it, words too */
  FwVec2 cut_low, cut_high; /* around what is cut */
} FwCutPart;

typedef struct
{
  char *title;
  FwLengths lengths;
  GPtrArray *parts; /* FwCutPart, grouped by kind, then as in the design */
  char **notes;     /* what has no template, or stands off: sentences; NULL-terminated */
} FwTemplate;

/* What a hole has beyond the rod or dowel that goes through it, across. Common practice: a drill one
 * size up. */
#define FW_HOLE_CLEARANCE 0.3

/* Words in templates are translated, their lengths as `lengths` says. Never fails. */
FwTemplate *fw_template_new (const FwMechanism *mechanism, const char *title, FwLengths lengths);
void fw_template_free (FwTemplate *tmpl);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwTemplate, fw_template_free)

/* "Kraft card, 2 mm, 4 times": what to cut it from, and how often. Free with g_free. */
char *fw_cut_part_stock (const FwCutPart *part, FwLengths lengths);

/* The line's n points, mm; the part's own, and good until a line is added to it. */
static inline const FwVec2 *
fw_cut_line_points (const FwCutPart *part, const FwCutLine *line)
{
  return &g_array_index (part->points, FwVec2, line->first);
}

G_END_DECLS
