/* A design with its turn solved and its trouble listed. */
#pragma once

#include "core/trouble.h"
#include "near.h"

typedef struct
{
  Rig rig;
  FwTurn *turn;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
} Look;

static inline Look *
look_new (FwDesign *design, int steps)
{
  Look *l = g_new0 (Look, 1);
  l->rig = rig_new (design);
  l->turn = fw_turn_new (l->rig.mechanism, steps);
  l->list = (FwTroubleList){ .items = l->room, .capacity = FW_TROUBLE_ROOM };
  fw_turn_solve (l->turn, l->rig.mechanism);
  fw_trouble_find (l->turn, l->rig.mechanism, &l->list);
  return l;
}

static inline void
look_free (Look *l)
{
  free (l->turn);
  rig_free (&l->rig);
  g_free (l);
}
