/* The same motion at another size: from the paper one to the big one, of other stock if need be.
 * Rules and exponents: docs/scale.md. */
#pragma once

#include "aim/sizing.h"
#include "doc/document.h"

G_BEGIN_DECLS

/* Other stock for one kind of part. Sizes are of the big one, mm. */
typedef struct
{
  const char *material;  /* NULL: as it was */
  double size_mm;        /* thickness or diameter; 0: scaled like all lengths */
  double wall_mm;        /* of a tube; 0: scaled if there is one and `size_mm` is 0, else solid */
} FwScaleStock;

typedef struct
{
  double factor; /* above 0, finite */
  FwScaleStock sheet, rods, crank, post;
  gboolean keep_speed; /* else turns per minute go down with the root of the factor: what swings and what
                        * falls then keep step (Froude's rule), and the motion looks the same */
} FwScaleWish;

/* The design at the new size, as a document of its own: lengths by the factor, weights that are stated
 * by its cube and moments of inertia by its fifth power (or as other sheet has it), spring rates by its
 * square; what was left to its default is written out, since a default does not grow. Spreads, prices,
 * stock, fits of printed parts and fittings stay what they are; log, versions and wishes stay behind. NULL
 * and an error where the result is no valid design. */
FwDocument *fw_scale (const FwDocument *doc, const FwScaleWish *wish, GError **error);

/* A trouble that the small one does not have, and the factor at which it begins. */
typedef struct
{
  FwTroubleKind kind;
  FwPart part;  /* in the scaled mechanism */
  double factor; /* to 1 %; of this kind on this part or its twin */
} FwScaleLimit;

/* In order of their factors, between 1 (or below) and the wished one. Whatever stock the wish names is
 * used from the start. Returns how many were written; -1: there is no valid design at
 * the wished factor (fw_scale () says why), or memory ran out. `stop` may be NULL. */
int fw_scale_limits (const FwDocument *doc, const FwScaleWish *wish, FwScaleLimit *list, int capacity, FwStop stop,
                     void *data);

/* What makes the scaled design free of a trouble, best first, as every remedy: tried. */
int fw_scale_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity, FwStop stop,
                       void *data);

G_END_DECLS
