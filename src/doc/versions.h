/* Versions: designs kept by name in the file, beside the one being worked on.
 *
 * A version holds the whole file as it was, keys of a newer program included, but for the versions and the
 * log. Every change is one step of undo. To overlay one, build a mechanism of its design and solve it. */
#pragma once

#include "doc/log.h"

G_BEGIN_DECLS

#define FW_VERSIONS_MOST 200 /* more is refused */
#define FW_VERSION_NOW (-1)  /* the present design */

int fw_versions_count (const FwDocument *doc);
/* Borrowed until the next change; NULL if there is none such. Versions stand in the order of the file. */
const char *fw_versions_name (const FwDocument *doc, int version);
int fw_versions_find (const FwDocument *doc, const char *name); /* -1: none */

/* The design of a version; free with fw_design_free (). NULL with one line where it cannot be read (the
 * file is opened all the same). */
FwDesign *fw_versions_design (const FwDocument *doc, int version, GError **error);

/* Keeps the present design under a name of its own, at the end. FALSE with one line: the name is empty,
 * holds control characters or is taken, or there are too many. */
gboolean fw_versions_keep (FwDocument *doc, const char *name, GError **error);
gboolean fw_versions_rename (FwDocument *doc, int version, const char *name, GError **error);
gboolean fw_versions_remove (FwDocument *doc, int version, GError **error);

/* The design becomes that of the version; versions and log stay as they are. */
gboolean fw_versions_bring_back (FwDocument *doc, int version, GError **error);

/* What is different in `after` from `before`, in words, as the log tells it (list of FwLogLine*). NULL with
 * one line where one of them cannot be read. */
GPtrArray *fw_versions_changes (const FwDocument *doc, int before, int after, FwLengths lengths, GError **error);

G_END_DECLS
