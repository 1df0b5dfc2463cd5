/* How the crank is made (`crank.build`) and what there is to cut from (`stock`), changed by hand: each
 * change is one step of undo and is refused like any other where the design would not be valid. */
#pragma once

#include <cjson/cJSON.h>

#include "doc/document.h"

G_BEGIN_DECLS

typedef enum { FW_STOCK_BARS, FW_STOCK_SHEETS } FwStockKind;

/* Puts a key of `crank.build` in place, taking `value` over; NULL removes it, so that its default holds.
 * Where the design has no `crank.build` it gets one made as `make` says ("elbows", "bolted", "bent").
 * `label` and `merge_key` as of fw_document_change (). */
gboolean fw_document_set_build (FwDocument *doc, const char *make, const char *key, cJSON *value,
                                const char *label, const char *merge_key, GError **error);

/* Takes `crank.build` away: how the crank is made is then no longer said, nor judged. */
gboolean fw_document_drop_build (FwDocument *doc, const char *label, GError **error);

/* A key of `stock` itself ("kerf"); NULL removes it. */
gboolean fw_document_set_stock (FwDocument *doc, const char *key, cJSON *value, const char *label,
                                const char *merge_key, GError **error);

/* Puts an entry behind the others, taking it over. Its name is made unlike those of the other bars and
 * sheets: "tube", "tube 2". */
gboolean fw_document_add_stock (FwDocument *doc, FwStockKind kind, cJSON *entry, const char *label,
                                GError **error);

/* Puts a key of the nth entry in place, taking `value` over; NULL removes it. A new name of a bar also
 * takes the old one's place as the crank's pipe. */
gboolean fw_document_set_stock_entry (FwDocument *doc, FwStockKind kind, int nth, const char *key,
                                      cJSON *value, const char *label, const char *merge_key,
                                      GError **error);

/* Takes the nth entry away. A crank whose pipe it names keeps that pipe, by its measures. */
gboolean fw_document_remove_stock (FwDocument *doc, FwStockKind kind, int nth, const char *label,
                                   GError **error);

G_END_DECLS
