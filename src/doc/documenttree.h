/* The JSON tree of an open document, for those who keep a section of their own in it. */
#pragma once

#include <cjson/cJSON.h>

#include "doc/document.h"

G_BEGIN_DECLS

/* The present tree; borrowed until the next change. */
const cJSON *fw_document_tree (const FwDocument *doc);

/* A copy to change and give to fw_document_take_tree (); its `log` and `versions` are shared, not copied,
 * so they must not be changed in place. NULL when memory runs out. */
cJSON *fw_document_copy_tree (const FwDocument *doc);

/* Takes the tree over as a new present state, one step of undo, if it states a valid design and can be
 * read again once written; else deletes it and says why. `label` and `merge_key` as of fw_document_change (). */
gboolean fw_document_take_tree (FwDocument *doc, cJSON *tree, const char *label,
                                const char *merge_key, GError **error);

/* Memory ran out: sets that error. FALSE. */
gboolean fw_document_no_memory (const FwDocument *doc, GError **error);

/* What messages call the document. */
const char *fw_document_name (const FwDocument *doc);

G_END_DECLS
