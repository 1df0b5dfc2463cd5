/* A design file open for editing.
 *
 * The document's truth is the JSON tree that was read, so that keys this program does not know
 * survive; the FwDesign is read from it after every change. Undo keeps whole trees. */
#pragma once

#include <glib.h>

#include "core/design.h"

G_BEGIN_DECLS

#define FW_DOC_ERROR (fw_doc_error_quark ())
typedef enum
{
  FW_DOC_ERROR_SYNTAX,  /* not JSON as RFC 8259, or not UTF-8 */
  FW_DOC_ERROR_INVALID, /* JSON, but not a valid design */
  FW_DOC_ERROR_VERSION, /* written by a newer program, or not a design file */
  FW_DOC_ERROR_IO,      /* cannot be read or written */
} FwDocError;
GQuark fw_doc_error_quark (void);

typedef struct FwDocument FwDocument;

/* Every error message is one line: "NAME: PLACE: what was expected, what was found", PLACE being
 * "line N, column N" or a key path such as "rods[1].length". NAME is as given. NULL with the error set. */
FwDocument *fw_document_new_from_text (const char *text, gssize length, const char *name, GError **error);
FwDocument *fw_document_load (const char *path, GError **error);
void fw_document_free (FwDocument *doc);

/* The tree as JSON, indented, ending in a newline. Numbers always have a point, whatever the locale. */
char *fw_document_to_text (const FwDocument *doc);

/* Writes beside the target, syncs, renames; the old file is whole if anything fails. On success the
 * present state is the saved one. */
gboolean fw_document_save (FwDocument *doc, const char *path, GError **error);

const FwDesign *fw_document_design (const FwDocument *doc); /* valid until the next change */
const char *fw_document_title (const FwDocument *doc);      /* "" if none */
gboolean fw_document_set_title (FwDocument *doc, const char *title);

/* Grows with every change, undo and redo included; that of another document is never the same. Above 0. */
guint64 fw_document_serial (const FwDocument *doc);
gboolean fw_document_is_modified (const FwDocument *doc); /* since load or save */

typedef struct
{
  FwParam param;
  double value; /* file unit */
} FwChange;

/* Sets numbers as one step of undo. `label` is what the step is called in the menu ("Length of
 * inrod"). `merge_key` not NULL: a step with the same key directly before takes this one in, until
 * fw_document_end_merge () (a drag is one step). A change that would make the design invalid is
 * refused: FALSE, error set, nothing changed. Values equal to the present ones make no step. */
gboolean fw_document_change (FwDocument *doc, const FwChange *changes, int n_changes,
                             const char *label, const char *merge_key, GError **error);
void fw_document_end_merge (FwDocument *doc);

/* Replaces the whole content (e.g. edited text) as one step of undo. */
gboolean fw_document_replace (FwDocument *doc, const char *text, const char *label, GError **error);
/* The same with what the document's file holds by now: that state counts as saved. */
gboolean fw_document_reload (FwDocument *doc, const char *text, gsize length, const char *label,
                             GError **error);

struct cJSON;

/* A section of the file that is no part of the mechanism ("wishes", "versions"), as it stands, or NULL;
 * valid until the next change. */
const struct cJSON *fw_document_section (const FwDocument *doc, const char *key);

/* Puts a section in its place as one step of undo, taking `section` over; NULL removes the key. Refused
 * like a change (the section is freed all the same); what is the same as before makes no step. */
gboolean fw_document_set_section (FwDocument *doc, const char *key, struct cJSON *section,
                                  const char *label, const char *merge_key, GError **error);

gboolean fw_document_undo (FwDocument *doc);
gboolean fw_document_redo (FwDocument *doc);
const char *fw_document_undo_label (const FwDocument *doc); /* NULL: nothing to undo */
const char *fw_document_redo_label (const FwDocument *doc);

/* ---- Names for people (translated) ---- */

/* "Length of inrod", "Phase of mid", "Guide height"; free with g_free. */
char *fw_param_label (const FwDesign *design, FwParam param);
/* The part a number belongs to: "Crank", "Throw mid", "Body", "Panel inner", "Rod inrod", "Base". */
char *fw_param_group (const FwDesign *design, FwParam param);
/* Short, within its group: "Length", "Hinge across", "Hold out along". */
char *fw_param_short_label (const FwDesign *design, FwParam param);
/* Stable key path: "rods.inrod.length", "panels.inner.hinge.0", "crank.turns_per_minute". */
char *fw_param_path (const FwDesign *design, FwParam param);
gboolean fw_param_from_path (const FwDesign *design, const char *path, FwParam *param);

/* The file's words for rides and sides, by FwRide and FwSide; a NULL ends each. */
extern const char *const fw_ride_words[];
extern const char *const fw_side_words[];

G_END_DECLS
