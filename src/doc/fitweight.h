/* Hardware fitted to an open design as one step of undo. */
#pragma once

#include "core/loadremedy.h"
#include "doc/document.h"

G_BEGIN_DECLS

/* A counterweight: on the body a further entry of `lumps`, on a panel its mass, centre and inertia as
 * weighed with it (a panel that was known by its sheet is then known by its weight). FALSE: error
 * set, nothing changed. */
gboolean fw_document_fit_weight (FwDocument *doc, const FwCounterweight *weight, const char *label,
                                 GError **error);

struct cJSON;

/* Writes a panel's moments of inertia into its object, under the key that holds numbers of that size:
 * `inertia`, else `inertia_kgm2`. FALSE: no memory. */
gboolean fw_inertia_put (struct cJSON *panel, const double *inertia_gmm2);

G_END_DECLS
