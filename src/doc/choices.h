/* What of a part is not a number but one of a few words: material, side, what it hangs on, how the body
 * rides. Each is changed as one step of undo, and only where what comes out is a valid design. */
#pragma once

#include "doc/partedit.h"

G_BEGIN_DECLS

/* Whose choices: a listed part, or what there is one of. */
typedef enum
{
  FW_HOLDER_PART, /* `ref` says which */
  FW_HOLDER_CRANK,
  FW_HOLDER_BODY,
  FW_HOLDER_BASE,
  FW_HOLDER_DRIVE
} FwHolderKind;

typedef struct
{
  FwHolderKind kind;
  FwPartRef ref;
} FwHolder;

typedef struct
{
  FwHolder holder;
  const char *key;   /* what is chosen: "material", "side"; static */
  const char *label; /* translated: "Material" */
  GPtrArray *ids;    /* char*: as the file has them, or names of parts */
  GPtrArray *words;  /* char*: as people read them */
  int now;           /* which stands at present */
} FwChoice;

/* Those that a part has in this design (FwChoice*); g_ptr_array_unref () frees them. */
GPtrArray *fw_choices_of (const FwDocument *doc, FwHolder holder);

/* Takes the option-th. What the design then needs and does not have is added: stops of 60 degrees either
 * way, the weight that the sheet had, the base as it was chosen, lengths that hold the body where it
 * stands at crank angle 0. FALSE: error set, nothing changed. */
gboolean fw_document_choose (FwDocument *doc, const FwChoice *choice, int option, GError **error);

G_END_DECLS
