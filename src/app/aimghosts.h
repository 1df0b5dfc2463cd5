/* Other designs that a session shows beside its own: solved, and kept at the crank angle shown. */
#pragma once

#include "app/session.h"
#include "draw/ghost.h"

G_BEGIN_DECLS

typedef enum
{
  FW_GHOST_ANSWER, /* of a search: the best so far, or the one chosen */
  FW_GHOST_A,      /* versions to compare with */
  FW_GHOST_B,
  FW_GHOST_PULL,   /* a panel where it is wished to be */
} FwGhostSlot;

typedef struct FwGhostSet FwGhostSet;

FwGhostSet *fw_ghost_set_new (void);
void fw_ghost_set_free (FwGhostSet *set);

/* The design is copied; NULL empties the slot. FALSE: it cannot be put together, and the slot is empty. */
gboolean fw_ghost_set_put (FwGhostSet *set, FwGhostSlot slot, const FwDesign *design, const char *name, double crank);
/* A pulled panel is let go: it was wished for at the crank angle before. */
void fw_ghost_set_turn_to (FwGhostSet *set, double crank);

/* ---- Of a session: signal "ghosts-changed" ---- */

void fw_session_set_ghost (FwSession *self, FwGhostSlot slot, const FwDesign *design, const char *name);
void fw_session_pull_ghost (FwSession *self, int member, double angle, const char *name); /* member -1: none */

G_END_DECLS
