#include "app/whole.h"

#include "shop/trouble.h"
#include "strength/bearings.h"

/* Parts whose whole turn is solved in about 30 ms; a bird with a beast on it has a third of them. Panels that hang on
 * each other find their rest round by round, and cost as HANGING times the square of their number. */
#define MOST_PARTS 60.0
#define HANGING 10.0
#define STEPS_AT_ONCE 20 /* of the turn, between two looks whether to stop */
#define STEPS_APART (FW_SOLVED_STEPS / FW_STRENGTH_STEPS) /* that strength looks at */
G_STATIC_ASSERT (FW_SOLVED_STEPS % STEPS_AT_ONCE == 0 && STEPS_AT_ONCE % STEPS_APART == 0
                 && STEPS_APART * FW_STRENGTH_STEPS == FW_SOLVED_STEPS);

double
fw_whole_parts (const FwMechanism *mech)
{
  double parts = mech->n_members + mech->n_links;
  for (int i = 0; i < mech->n_members; i++)
    {
      double group = mech->members[i].hanging_group;
      parts += group > 1 ? HANGING * group * group : 0;
    }
  return parts;
}

gboolean
fw_whole_is_large (const FwMechanism *mech)
{
  return fw_whole_parts (mech) > MOST_PARTS;
}

void
fw_whole_empty (FwWhole *self)
{
  g_clear_pointer (&self->strength, fw_strength_free); /* reads the mechanism */
  g_clear_pointer (&self->own, fw_mechanism_free);
  self->turn = NULL;
  self->forces = NULL;
  self->n_bounces = 0;
  self->bearings = (FwBearingLoads) { 0 };
  self->troubles = (FwTroubleList) { .items = self->trouble_room, .capacity = FW_TROUBLE_ROOM };
}

void
fw_whole_free (FwWhole *self)
{
  if (self == NULL)
    return;
  fw_whole_empty (self);
  g_free (self->turn_room.memory);
  g_free (self->forces_room.memory);
  g_free (self->bearings_room.memory);
  g_free (self);
}

static gboolean
told (FwStop stop, void *stop_data)
{
  return stop != NULL && stop (stop_data);
}

static void
solve_steps (FwWhole *self, const FwMechanism *mech, double speed, int from)
{
  for (int step = from; step < from + STEPS_AT_ONCE; step += STEPS_APART)
    {
      fw_load_turn_solve_some (self->forces, self->turn, mech, speed, step, step + 1);
      if (self->strength != NULL)
        fw_strength_step (self->strength, self->turn->scratch, self->forces->loads, step / STEPS_APART);
      fw_load_turn_solve_some (self->forces, self->turn, mech, speed, step + 1, step + STEPS_APART);
    }
}

/* Motion, forces and what the parts bear, from the same poses. */
static gboolean
solve_turn (FwWhole *self, const FwMechanism *mech, FwStop stop, void *stop_data)
{
  double speed = fw_crank_speed (mech->design);

  self->turn = fw_turn_place (fw_room_for (&self->turn_room, fw_turn_size (mech, FW_SOLVED_STEPS)), mech,
                              FW_SOLVED_STEPS);
  self->forces = fw_load_turn_place (fw_room_for (&self->forces_room, fw_load_turn_size (mech, FW_SOLVED_STEPS)), mech,
                                     FW_SOLVED_STEPS);
  self->strength = fw_strength_new (mech);
  if (self->strength != NULL)
    fw_strength_begin (self->strength, speed);
  for (int from = 0; from < FW_SOLVED_STEPS; from += STEPS_AT_ONCE)
    {
      if (told (stop, stop_data))
        return FALSE;
      solve_steps (self, mech, speed, from);
    }
  if (self->strength != NULL)
    fw_strength_end (self->strength, self->forces->loads);
  return TRUE;
}

void
fw_whole_find_bearings (FwWhole *self, const FwMechanism *mech)
{
  FwCrankFlex *flex = self->strength == NULL ? NULL : self->strength->crank;

  if (self->bearings.n > 0 || flex == NULL || flex->status != FW_FRAME_OK)
    return;
  FwVec3 *forces = fw_room_for (&self->bearings_room, (gsize) flex->n_bearings * FW_STRENGTH_STEPS * sizeof *forces);
  if (fw_bearing_forces (flex, mech, self->forces, FW_STRENGTH_STEPS, forces))
    self->bearings = (FwBearingLoads) { flex->n_bearings, FW_STRENGTH_STEPS, flex->bearings_mm, forces };
}

gboolean
fw_whole_solve (FwWhole *self, const FwMechanism *mech, gboolean bearings, FwStop stop, void *stop_data)
{
  fw_whole_empty (self);
  if (!solve_turn (self, mech, stop, stop_data))
    return FALSE;
  if (!fw_all_trouble_but_slams (self->turn, self->forces, self->strength, mech, &self->troubles, self->bounces,
                                 &self->n_bounces, stop, stop_data))
    return FALSE;
  if (bearings)
    fw_whole_find_bearings (self, mech);
  return TRUE;
}
