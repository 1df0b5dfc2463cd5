/* Parts of an open design added, taken away and renamed: each one step of undo, and only where what
 * comes out is a valid design. */
#pragma once

#include "core/loadremedy.h"
#include "doc/document.h"

G_BEGIN_DECLS

typedef enum
{
  FW_PLACE_THROW,
  FW_PLACE_PANEL,
  FW_PLACE_ROD,
  FW_PLACE_SPRING,
  FW_PLACE_WEIGHT, /* counterweight of the crank */
  FW_PLACE_LUMP,   /* weighed thing on the body */
  FW_N_PLACES
} FwPlace;

/* A part by where it stands in the design's list of its kind. */
typedef struct
{
  FwPlace place;
  int index;
} FwPartRef;

int fw_part_count (const FwDesign *design, FwPlace place);
const char *fw_part_ref_name (const FwDesign *design, FwPartRef ref); /* the ref must be there */

/* Adds a part of sensible size beside `near` (NULL: beside the last of its kind), under a name that is
 * free; *added is where it stands. A throw comes a quarter turn after its neighbour and beyond it, a
 * panel on the tip of the panel picked, else on the body; it hangs until a rod is added. A rod is fitted
 * to the picked panel, else to the first that hangs, with throw, hold and length of those tried that
 * give least trouble over the turn. A counterweight stands opposite its throw. FALSE: error set, nothing
 * changed; a rod or spring where no panel can take one is such an error. */
gboolean fw_document_add_part (FwDocument *doc, FwPlace place, const FwPartRef *near, FwPartRef *added,
                               GError **error);

/* Takes a part away, and what cannot be without it: rods, panels and springs that hold it. *also: their
 * names, "a, b", NULL if none; free with g_free. FALSE: the body rides on the throw. */
gboolean fw_document_remove_part (FwDocument *doc, FwPartRef ref, char **also, GError **error);

/* Gives a part another name wherever the file speaks of it, wishes, measurements and spreads included. */
gboolean fw_document_rename_part (FwDocument *doc, FwPartRef ref, const char *name, GError **error);

/* The spring of a fw_spring_fit_for (). */
gboolean fw_document_fit_spring (FwDocument *doc, const FwSpringFit *fit, const char *label, GError **error);

struct cJSON;

/* ---- Inside this layer ---- */

/* The list of a kind in a tree, made where there is none; NULL: no memory. */
struct cJSON *fw_part_list (struct cJSON *tree, FwPlace place);
/* A name of the list's that is not taken: "rod", "rod 2"; free with g_free. */
char *fw_part_free_name (const struct cJSON *list, const char *stem);

G_END_DECLS
