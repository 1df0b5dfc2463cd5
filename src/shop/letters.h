/* Letters of everything that is made: A, B, ... Z, AA, ...: the same on cut list, templates, printed
 * parts and kit sheet.
 *
 * Letters go by the design alone and in this order: panels, rods, the body's post (or rail rod) and
 * link, pieces of the crank from the handle on, base, printed parts. Twins and pieces cut alike share
 * a letter. A changed length changes no letter; an added part moves those after it. */
#pragma once

#include "shop/build.h"

G_BEGIN_DECLS

typedef enum
{
  FW_MADE_PANEL,   /* index: panel of the design; a left one is the mirror image */
  FW_MADE_ROD,     /* index: rod */
  FW_MADE_POST,    /* of a sleeve or rocker, or the rod of a rail */
  FW_MADE_LINK,    /* of a rocker */
  FW_MADE_CRANK,   /* index: FwBuiltPiece.design */
  FW_MADE_PLATE,   /* base plate */
  FW_MADE_UPRIGHT, /* a leg of a crank bearing: two each (draw/stand.h) */
  FW_MADE_COLUMN,  /* one of two columns that carry guide, rail, the link's pivot or the body */
  FW_MADE_BEAM,    /* nth 0: between those columns; 1: one of two arms from columns that stand aside */
  FW_MADE_ANCHOR,  /* index: rod from the base; the upright under its anchor */
  /* Printed: */
  FW_MADE_CLAMP,   /* index: rod that starts from a throw */
  FW_MADE_BUSHING, /* in the crank's bearings */
  FW_MADE_WEDGE,   /* index: panel; nth 0: lower stop, 1: upper */
  FW_MADE_GUIDE,   /* of the post */
} FwMadeKind;

typedef struct
{
  FwMadeKind kind;
  int index, nth;   /* 0 where the kind says nothing of it */
  char letter[8];
  char *name;       /* translated: "Panel arm", "Rod arm-rod", "Post" */
  int count;        /* how many are made, twins included */
  gboolean printed; /* as a printed part */
} FwMade;

typedef struct
{
  FwMade *items;
  int n;
} FwMadeList;

/* Everything that this design makes. Nothing of mechanism and build is kept. */
FwMadeList *fw_made_list_new (const FwMechanism *mechanism, const FwBuild *build);
/* NULL: nothing to do. */
void fw_made_list_free (FwMadeList *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwMadeList, fw_made_list_free)

/* NULL: there is no such part. */
const FwMade *fw_made_find (const FwMadeList *list, FwMadeKind kind, int index, int nth);

/* (h, z) of what the columns carry: guide, link pivot, the top of the rail, the fixed body. */
FwVec2 fw_made_carried_at (const FwMechanism *mechanism);

/* "A" of 0, "Z" of 25, "AA" of 26. */
void fw_made_letter (int nth, char letter[8]);

G_END_DECLS
