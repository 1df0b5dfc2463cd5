/* The kit sheet: a booklet from the design, to build it from. Every page is laid out as plain items first,
 * in points; one function paints a page for preview, print and PDF. */
#pragma once

#include "draw/motionstrip.h"
#include "shop/cut.h"
#include "shop/progress.h"
#include "shop/solidparts.h"

G_BEGIN_DECLS

typedef enum { FW_KIT_A5, FW_KIT_A4, FW_KIT_LETTER } FwKitPaper;

/* The steps, in the order of assembly. */
typedef enum
{
  FW_STEP_BASE,
  FW_STEP_CRANK,
  FW_STEP_POST,
  FW_STEP_BODY,
  FW_STEP_PANELS,
  FW_STEP_RODS,
  FW_STEP_STOPS,
  FW_KIT_N_STEPS
} FwKitStep;

typedef enum
{
  FW_KIT_TEXT,
  FW_KIT_RULE,  /* thin line along the top of its box */
  FW_KIT_BADGE, /* a letter or figure in a ring */
  FW_KIT_BAR,   /* a piece cut from a bar; index: of the cut list */
  FW_KIT_SHEET, /* a piece cut from a sheet */
  FW_KIT_SOLID, /* a printed part; index: of the printed parts */
  FW_KIT_VIEW,  /* the sculpture; index: FwKitStep up to which it is built, or FW_KIT_N_STEPS for all of it */
  FW_KIT_STRIP, /* the motion strip; index: FwStripViews */
} FwKitKind;

typedef struct
{
  FwKitKind kind;
  FwBox box;   /* points from the upper left corner */
  char *text;  /* TEXT, BADGE */
  double size; /* TEXT, BADGE: of the type, points */
  gboolean bold, faint;
  double align; /* TEXT without wrapping: 0, 0.5, 1 of its place at box.x; its box.width is then 0 */
  int index;
} FwKitItem;

typedef struct
{
  const FwMechanism *mechanism; /* borrowed */
  const FwTurn *turn;           /* borrowed, solved */
  char *title;
  FwLengths lengths;
  double width, height; /* of a page, points */
  GPtrArray *pages;     /* GArray of FwKitItem */
  FwCutList *cut;
  FwSolidParts *solids;
  FwPose *pose, *scratch;
} FwKit;

/* Lays the whole booklet out. The mechanism and the solved turn must outlive it. NULL: no memory. */
FwKit *fw_kit_new (const FwMechanism *mechanism, const FwTurn *turn, const char *title, FwKitPaper paper,
                   FwLengths lengths);
void fw_kit_free (FwKit *kit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwKit, fw_kit_free)

/* How many pages it has, cover included. */
int fw_kit_pages (const FwKit *kit);

/* Paints a page (from 0) in points, on white. Not from two threads at once: it solves poses in `scratch`. */
void fw_kit_page_draw (cairo_t *cr, const FwKit *kit, int page);

/* All pages as a PDF, whole or not at all. */
gboolean fw_kit_write_pdf (const FwKit *kit, const char *path, const FwProgress *progress, GError **error);

/* "a5", "a4", "letter"; FALSE: none of them. */
gboolean fw_kit_paper_of (const char *name, FwKitPaper *paper);

G_END_DECLS
