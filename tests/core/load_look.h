/* A design with the forces of its turn, the trouble that they make, and what mends it tried on a finer turn. */
#pragma once

#include <glib.h>
#include <stdlib.h>

#include "core/loadremedy.h"
#include "near.h"

typedef struct
{
  FwMechanism *mech;
  FwLoadTurn *turn;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
} Look;

static inline Look *
look_at (const FwDesign *design, int steps)
{
  Look *l = g_new0 (Look, 1);
  l->list = (FwTroubleList){ .items = l->room, .capacity = FW_TROUBLE_ROOM };
  g_assert_cmpint (fw_mechanism_build (design, &l->mech, NULL), ==, FW_OK);
  l->turn = fw_load_turn_new (l->mech, steps);
  fw_load_turn_solve (l->turn, l->mech, fw_crank_speed (design));
  fw_load_trouble_find (l->turn, l->mech, &l->list);
  return l;
}

static inline void
look_free (Look *l)
{
  free (l->turn);
  fw_mechanism_free (l->mech);
  g_free (l);
}

static inline const FwTrouble *
find_twin (const Look *l, const FwTrouble *t)
{
  for (int i = 0; i < l->list.n; i++)
    if (fw_trouble_twins (l->mech, &l->room[i], t))
      return &l->room[i];
  return NULL;
}

static inline const FwRemedy *
by_kind (const FwRemedy *list, int n, FwParamKind kind)
{
  for (int i = 0; i < n; i++)
    if (list[i].param.kind == kind)
      return &list[i];
  return NULL;
}

static inline void
assert_mends (const FwDesign *design, const FwTrouble *t, const FwRemedy *r)
{
  FwDesign *changed = fw_design_copy (design);
  assert_near (fw_param_get (changed, r->param), r->from, 0);
  fw_param_set (changed, r->param, r->to);
  Look *l = look_at (changed, 720);
  const FwTrouble *left = find_twin (l, t);
  if (left != NULL)
    g_error ("number kind %d from %g to %g leaves %g", r->param.kind, r->from, r->to, left->value);
  look_free (l);
  fw_design_free (changed);
}
