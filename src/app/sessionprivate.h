/* The inside of FwSession, shared by its own files: session.c, sessionturn.c and sessionmends.c. */
#pragma once

#include "aim/wish.h"
#include "app/aimghosts.h"
#include "app/session.h"
#include "app/sessionsolve.h"
#include "app/swingjob.h"
#include "app/wholejob.h"
#include "app/worker.h"
#include "app/wornjob.h"

G_BEGIN_DECLS

struct _FwSession
{
  GObject parent_instance;

  FwDocument *doc;
  char *path;
  FwSolved solved;
  GArray *params; /* FwParam */
  FwWorker *worker;
  FwWholeJob *wholes; /* of large designs */
  FwSwingJob *swing;
  FwWornJob *worn;

  double crank;
  gboolean dragging;
  FwPart picked;
  gboolean has_picked;
  gboolean minds_trouble; /* was picked, in the whole turn last known */
  FwTrouble minded;
  guint show;
  FwLengths lengths;
  FwTheme theme;
  double text; /* look.h; 0 means 1 */
  FwStripState strip;
  guint rest; /* timeout: looks for what would knock when worn */
  struct
  {
    const FwSpreadBand *spreads; /* borrowed */
    int n_spreads;
    const struct FwPhoto *photo; /* borrowed */
    FwDesign *built_design;      /* owned, as the next two; NULL: nothing was fitted */
    FwMechanism *built;
    FwPose *built_pose;
  } real; /* the thing as it is made (tolerancesession.c) */
  FwGhostSet *ghosts;
  FwWishes *wishes;      /* of the document `wishes_of` at `wishes_serial`; NULL: not read yet */
  const FwDocument *wishes_of; /* only compared */
  guint64 wishes_serial;
};

typedef enum
{
  FW_SESSION_DESIGN,
  FW_SESSION_POSE,
  FW_SESSION_PICKED,
  FW_SESSION_DISPLAY,
  FW_SESSION_BANDS,
  FW_SESSION_REMEDIES,
  FW_SESSION_BOUNCES,
  FW_SESSION_GHOSTS,
  FW_SESSION_MESSAGE,
  FW_N_SESSION_SIGNALS
} FwSessionSignal;

void fw_session_emit (FwSession *self, FwSessionSignal signal);
void fw_session_emit_index (FwSession *self, FwSessionSignal signal, int index);

/* Solves the document anew after a change and says so. `kept`: see fw_worker_set_design (). */
void fw_session_refresh (FwSession *self, int kept);

/* Takes a mechanism over: solves it at once, or the pose alone where the whole turn is large and comes later. */
void fw_session_solve (FwSession *self, FwMechanism *mech);

/* Before a new list of trouble: which one is picked; after it: that one again. */
void fw_session_mind_trouble (FwSession *self);
void fw_session_find_trouble_again (FwSession *self);

/* What would knock when worn is looked for anew when the hand has let go. */
void fw_session_rest_soon (FwSession *self);

/* Answers from beside the main loop. */
void fw_session_on_whole (gpointer session, FwWhole *whole);
void fw_session_on_swing (gpointer session);
void fw_session_on_worn (gpointer session, const FwBounce *list, int n);

/* Puts the ghosts into the scene; after every change of it (aimghosts.c). */
void fw_session_place_ghosts (FwSession *self);

/* Puts the thing as it is made into the scene; after every change of it. */
void fw_session_place_real (FwSession *self, gboolean design_is_new);
void fw_session_clear_built (FwSession *self);

/* Answers of the worker. */
void fw_session_bands_arrived (gpointer session, int index);
void fw_session_remedies_arrived (gpointer session, int index);

G_END_DECLS
