/* The build log worked out: every entry solved again, with what changed since the last one, what that
 * did to the motion, and the trouble there was. Text, Markdown, PDF and window read the same lines. */
#pragma once

#include "doc/log.h"
#include "draw/view.h"
#include "shop/progress.h"

G_BEGIN_DECLS

/* A design solved over one turn. */
typedef struct
{
  FwMechanism *mechanism;
  FwTurn *turn; /* FW_LOG_STEPS steps */
  FwPose *pose; /* at crank angle 0 */
  FwPose *scratch;
  FwTroubleList troubles; /* all that `check` finds, worst first */
  gboolean goes_round;
  double torque_Nm; /* greatest size at the design's own speed; NaN if it does not go round */
} FwLogState;

#define FW_LOG_STEPS 360

/* NULL when memory runs out. The design must be one that can be built, as any that was read. */
FwLogState *fw_log_state_new (const FwDesign *design);
void fw_log_state_free (FwLogState *state);
FwScene fw_log_state_scene (const FwLogState *state);

/* What the change from one design to another did to the motion, the forces and the trouble. */
GPtrArray *fw_log_effects (const FwLogState *before, const FwLogState *after, FwLengths lengths);
/* The trouble of a design, twins once; one line that says so where there is none. */
GPtrArray *fw_log_troubles (const FwLogState *state, FwLengths lengths);

typedef struct
{
  int index;        /* of the entry; that of the page behind the last for the present design */
  gboolean present; /* not an entry: the design as it is now, where it is no longer that of the last */
  char *date, *note, *title; /* date as people read it: 2026-03-14 18:30; "" for the present design */
  GPtrArray *pictures;       /* char*: file, caption, file, caption ... */
  FwLogState *state;
  GPtrArray *changes, *effects, *troubles; /* FwLogLine*; effects NULL for the first */
} FwLogPage;

typedef struct
{
  char *title;   /* of the design now */
  char *folder;  /* the pictures' paths start here */
  FwLengths lengths;
  GPtrArray *pages;   /* FwLogPage*, oldest first */
  GPtrArray *remarks; /* FwLogLine*: many pictures, a large log */
} FwLogbook;

/* `folder`: where the design lies. FALSE from `progress`: NULL and G_IO_ERROR_CANCELLED. */
FwLogbook *fw_logbook_new (const FwDocument *doc, const char *folder, FwLengths lengths,
                           const FwProgress *progress, GError **error);
void fw_logbook_free (FwLogbook *book);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwLogbook, fw_logbook_free)

/* "14. 2026-03-14" as a heading; the present design: "Since then". Free with g_free. */
char *fw_log_page_heading (const FwLogPage *page);

/* Twelve rows of the turn, from crank angle 0 in steps of 30 degrees: the first row holds the names
 * of the columns (crank, body height and tilt, every panel's angle, every rod's push), twins with an
 * exact mirror image once. Rows of char*; free with g_ptr_array_unref (). */
GPtrArray *fw_log_page_table (const FwLogPage *page, FwLengths lengths);

/* The log as plain text. Free with g_free. */
char *fw_logbook_text (const FwLogbook *book);

/* A part's name without the side, where the other side is its exact mirror image. */
const char *fw_log_member_name (const FwMechanism *mechanism, int member);
const char *fw_log_link_name (const FwMechanism *mechanism, int link);

G_END_DECLS
