#include "app/aimghosts.h"

#include <stdlib.h>

#include "app/sessionprivate.h"

#define STEPS 180

typedef struct
{
  FwMechanism *mech; /* NULL: empty */
  FwPose *pose;
  FwTurn *turn;
  char *name;
  int member;
  double angle; /* of the member, if one */
} Slot;

struct FwGhostSet
{
  Slot slots[FW_GHOSTS];
  FwGhost list[FW_GHOSTS];
  int n;
};

static void
slot_clear (Slot *slot)
{
  free (slot->pose);
  free (slot->turn);
  fw_mechanism_free (slot->mech);
  g_free (slot->name);
  *slot = (Slot) { .member = -1 };
}

static void
slot_turn_to (Slot *slot, double crank)
{
  fw_pose_solve (slot->pose, slot->mech, crank);
  if (slot->member >= 0)
    fw_ghost_turn_panel (slot->pose, slot->mech, slot->member, slot->angle);
}

/* Versions first, so that an answer lies over them. */
static void
set_list (FwGhostSet *set)
{
  static const FwGhostSlot order[FW_GHOSTS] = { FW_GHOST_B, FW_GHOST_A, FW_GHOST_ANSWER, FW_GHOST_PULL };
  set->n = 0;
  for (int i = 0; i < FW_GHOSTS; i++)
    {
      const Slot *slot = &set->slots[order[i]];
      if (slot->mech == NULL)
        continue;
      set->list[set->n++] = (FwGhost) { .mechanism = slot->mech, .pose = slot->pose, .turn = slot->turn,
                                        .name = slot->name, .member = slot->member,
                                        .style = order[i] == FW_GHOST_B ? FW_GHOST_SECOND : FW_GHOST_FIRST };
    }
}

FwGhostSet *
fw_ghost_set_new (void)
{
  FwGhostSet *set = g_new0 (FwGhostSet, 1);
  for (int i = 0; i < FW_GHOSTS; i++)
    set->slots[i].member = -1;
  return set;
}

void
fw_ghost_set_free (FwGhostSet *set)
{
  for (int i = 0; i < FW_GHOSTS; i++)
    slot_clear (&set->slots[i]);
  g_free (set);
}

static gboolean
slot_fill (Slot *slot, const FwDesign *design, gboolean curves, double crank)
{
  if (fw_mechanism_build (design, &slot->mech, NULL) != FW_OK)
    return FALSE;
  slot->pose = fw_pose_new (slot->mech);
  slot->turn = curves ? fw_turn_new (slot->mech, STEPS) : NULL;
  if (slot->pose == NULL || (curves && slot->turn == NULL))
    {
      slot_clear (slot);
      return FALSE;
    }
  if (curves)
    fw_turn_solve (slot->turn, slot->mech);
  slot_turn_to (slot, crank);
  return TRUE;
}

gboolean
fw_ghost_set_put (FwGhostSet *set, FwGhostSlot slot, const FwDesign *design, const char *name, double crank)
{
  Slot *s = &set->slots[slot];
  slot_clear (s);
  gboolean good = design == NULL || slot_fill (s, design, TRUE, crank);
  if (s->mech != NULL)
    s->name = g_strdup (name);
  set_list (set);
  return good;
}

/* A panel alone, at an angle (rad). */
static gboolean
ghost_pull (FwGhostSet *set, const FwDesign *design, int member, double angle, const char *name, double crank)
{
  Slot *s = &set->slots[FW_GHOST_PULL];
  slot_clear (s);
  gboolean good = member < 0 || slot_fill (s, design, FALSE, crank);
  if (s->mech != NULL && member < s->mech->n_members)
    {
      s->member = member;
      s->angle = angle;
      s->name = g_strdup (name);
      slot_turn_to (s, crank);
    }
  else
    slot_clear (s);
  set_list (set);
  return good;
}

void
fw_ghost_set_turn_to (FwGhostSet *set, double crank)
{
  slot_clear (&set->slots[FW_GHOST_PULL]);
  for (int i = 0; i < FW_GHOSTS; i++)
    if (set->slots[i].mech != NULL)
      slot_turn_to (&set->slots[i], crank);
  set_list (set);
}

static const FwGhost *
ghost_list (FwGhostSet *set, int *n)
{
  *n = set->n;
  return set->list;
}

/* ---- Of a session ---- */

void
fw_session_place_ghosts (FwSession *self)
{
  self->solved.scene.ghosts = ghost_list (self->ghosts, &self->solved.scene.n_ghosts);
}

static void
session_ghosts_changed (FwSession *self)
{
  fw_session_place_ghosts (self);
  fw_session_emit (self, FW_SESSION_GHOSTS);
}

void
fw_session_set_ghost (FwSession *self, FwGhostSlot slot, const FwDesign *design, const char *name)
{
  fw_ghost_set_put (self->ghosts, slot, design, name, self->crank);
  session_ghosts_changed (self);
}

void
fw_session_pull_ghost (FwSession *self, int member, double angle, const char *name)
{
  if (self->doc == NULL || (member < 0 && self->ghosts->slots[FW_GHOST_PULL].mech == NULL))
    return;
  ghost_pull (self->ghosts, fw_document_design (self->doc), member, angle, name, self->crank);
  session_ghosts_changed (self);
}
