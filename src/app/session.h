/* What one window works on: a document, its mechanism, its solved turn and trouble, the crank angle
 * shown, what is picked. No widget inside. Widgets read from it and listen to its signals.
 *
 * Signals:
 *   design-changed   the document changed or was replaced: mechanism, turn, trouble and pose are new; or the turn
 *                    of a large design came to be known
 *   pose-changed     the crank angle moved: only the pose is new
 *   picked-changed   the picked part or trouble changed
 *   display-changed  what is shown (overlays, curves, units, theme) changed
 *   bands-changed    bands of a number arrived (argument: guint, index in fw_session_params)
 *   remedies-changed remedies of the trouble list arrived (argument: guint, trouble index)
 *   bounces-changed  what would knock when worn was found: bounces of the scene are new
 *   ghosts-changed   other designs shown beside this one changed (app/aimghosts.h)
 *   message          (string) one line for the user: an error or what was done */
#pragma once

#include <glib-object.h>

#include "core/loadremedy.h"
#include "doc/document.h"
#include "doc/units.h"
#include "draw/turnstrip.h"
#include "draw/view.h"
#include "strength/strength.h"

G_BEGIN_DECLS

#define FW_TYPE_SESSION (fw_session_get_type ())
G_DECLARE_FINAL_TYPE (FwSession, fw_session, FW, SESSION, GObject)

FwSession *fw_session_new (void);

/* Takes the document over; path NULL: never saved. */
void fw_session_set_document (FwSession *self, FwDocument *doc, const char *path);
FwDocument *fw_session_document (FwSession *self); /* NULL before the first one */
const char *fw_session_path (FwSession *self);     /* NULL: never saved */
void fw_session_set_path (FwSession *self, const char *path);

/* Mechanism, pose, turn, troubles, scratch of the present state. */
const FwScene *fw_session_scene (FwSession *self);

/* FALSE: the design is so large that its whole turn is solved beside the main loop, and that is not done yet. Until
 * then the scene has no turn, no loads, and an empty list of trouble, which does not mean that there is none. When
 * it is known, design-changed is sent again. */
gboolean fw_session_turn_is_known (FwSession *self);

double fw_session_crank (FwSession *self); /* rad, [0, 2 pi) */
void fw_session_set_crank (FwSession *self, double crank);

/* Edits: through these, so that everything is solved again and signals go out once. The error is
 * also sent as "message". */
gboolean fw_session_change (FwSession *self, const FwChange *changes, int n, const char *label, const char *merge_key);
void fw_session_end_merge (FwSession *self);
/* After the document was changed by a function of its own (doc/makeedit.h): solves anew. `error`, which is taken
 * over, says that it was refused; NULL: it was not. */
gboolean fw_session_edited (FwSession *self, GError *error);
void fw_session_undo (FwSession *self);
void fw_session_redo (FwSession *self);

/* While a number is dragged the page's scale holds still. */
void fw_session_set_dragging (FwSession *self, gboolean dragging);
gboolean fw_session_dragging (FwSession *self);

/* The numbers, in order; valid until design-changed. */
const FwParam *fw_session_params (FwSession *self, int *n);

/* Bands under a slider (solved off the main loop). NULL, 0 until they arrive; asking again for the same
 * state costs nothing. */
const FwBand *fw_session_bands (FwSession *self, int param_index, double lower, double upper, int *n);

/* Remedies of a trouble in the list, as above. *done FALSE while they are being looked for. */
const FwRemedy *fw_session_remedies (FwSession *self, int trouble, int *n, gboolean *done);
/* Not everything was tried for it: the design is large. */
gboolean fw_session_remedies_cut_short (FwSession *self, int trouble);
void fw_session_apply_remedy (FwSession *self, const FwRemedy *remedy);

/* What is more than a number of the design, for a load-reversal. The spring costs nothing; the
 * counterweight comes with the remedies: NULL until then, and where none helps. */
gboolean fw_session_spring (FwSession *self, int trouble, FwSpring *spring);
const FwCounterweight *fw_session_counterweight (FwSession *self, int trouble);
const FwSpringFit *fw_session_spring_fit (FwSession *self, int trouble); /* comes and stays as a counterweight */
/* Puts it on the design: a step of undo. */
void fw_session_fit_weight (FwSession *self, const FwCounterweight *weight);
void fw_session_fit_spring (FwSession *self, const FwSpringFit *fit);

/* What the parts bear over the turn, for peaks; NULL: not known. Bearings of the scene are solved while
 * they are shown or chosen as curves, and when asked for. */
const FwStrength *fw_session_strength (FwSession *self);
void fw_session_find_bearings (FwSession *self);

const FwPart *fw_session_picked (FwSession *self); /* NULL: none */
void fw_session_pick (FwSession *self, const FwPart *part);
void fw_session_go_to (FwSession *self, double crank, FwPart part); /* and picks the part */
int fw_session_picked_trouble (FwSession *self); /* -1: none */
void fw_session_pick_trouble (FwSession *self, int trouble); /* also goes to its worst angle and picks its part */

guint fw_session_show (FwSession *self); /* FwShow bits */
void fw_session_set_show (FwSession *self, guint show);
FwLengths fw_session_lengths (FwSession *self);
void fw_session_set_lengths (FwSession *self, FwLengths lengths);

/* The curves of the turn strip. */
FwStripState *fw_session_strip (FwSession *self); /* change curves through set_curves */
void fw_session_set_curves (FwSession *self, const FwQuantity *curves, int n);

void fw_session_say (FwSession *self, const char *format, ...) G_GNUC_PRINTF (2, 3);

G_END_DECLS
