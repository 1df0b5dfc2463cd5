/* What the workshop shows of one state of a design: cut list, templates, printed parts and kit sheet, laid
 * out together from a copy of it. Made beside the main loop; counted references. */
#pragma once

#include "shop/kit.h"
#include "shop/sheet.h"

G_BEGIN_DECLS

/* What can be chosen about it. */
typedef struct
{
  FwLengths lengths;
  FwPaper paper;                     /* of the templates */
  FwKitPaper kit_paper;
  double sheet_width, sheet_height;  /* mm, for the laser; 0: the stock's */
} FwLaidOrder;

typedef struct
{
  FwLaidOrder order;
  FwDesign *design;       /* owned, all of these */
  FwMechanism *mechanism;
  void *turn_room;
  FwTurn *turn;
  char *title;
  FwTemplate *tmpl;
  FwTemplatePages *pages;
  FwLaserSheets *sheets;
  FwKit *kit; /* with the cut list and the printed parts */
} FwLaid;

/* Takes the design over. NULL: no memory, or `progress` said stop. Painting solves poses in it: painted on the
 * main thread or, where it never gets there, on the one that made it. */
FwLaid *fw_laid_new (FwDesign *design, const char *title, const FwLaidOrder *order, const FwProgress *progress);

/* Not from two threads at once. */
FwLaid *fw_laid_ref (FwLaid *laid);
void fw_laid_unref (FwLaid *laid); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwLaid, fw_laid_unref)

static inline const FwCutList *
fw_laid_cut (const FwLaid *laid)
{
  return laid->kit->cut;
}

static inline const FwSolidParts *
fw_laid_solids (const FwLaid *laid)
{
  return laid->kit->solids;
}

G_END_DECLS
