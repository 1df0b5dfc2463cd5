#include "app/sessionsolve.h"

#include "core/loadtrouble.h"
#include "strength/strengthtrouble.h"

/* What the parts bear over the turn, kept for the curves and the table; its trouble. */
static void
solve_strength (FwSolved *self)
{
  fw_strength_free (self->strength);
  self->strength = fw_strength_new (self->mech);
  if (self->strength == NULL)
    {
      self->troubles.full = true;
      return;
    }
  fw_strength_solve (self->strength, self->forces);
  fw_strength_troubles (self->strength, &self->troubles);
}

/* What goes wrong in the motion, and what the forces of it do at the design's own speed. */
static void
find_trouble (FwSolved *self)
{
  size_t size = fw_load_turn_size (self->mech, FW_SOLVED_STEPS);

  self->forces = fw_load_turn_place (fw_room_for (&self->forces_room, size), self->mech, FW_SOLVED_STEPS);
  self->troubles = (FwTroubleList) { .items = self->trouble_room, .capacity = FW_TROUBLE_ROOM };
  fw_trouble_find (self->turn, self->mech, &self->troubles);
  fw_load_turn_solve (self->forces, self->mech, fw_crank_speed (self->mech->design));
  solve_strength (self);
  fw_load_trouble_find (self->forces, self->mech, &self->troubles);
}

void
fw_solved_take (FwSolved *self, FwMechanism *mech, double crank)
{
  size_t pose_size = fw_pose_size (mech), turn_size = fw_turn_size (mech, FW_SOLVED_STEPS);

  g_clear_pointer (&self->strength, fw_strength_free); /* reads the mechanism before */
  fw_mechanism_free (self->mech);
  self->mech = mech;
  self->pose = fw_pose_place (fw_room_for (&self->pose_room, pose_size), mech);
  fw_pose_solve (self->pose, mech, crank);
  FwPose *scratch = fw_pose_place (fw_room_for (&self->scratch_room, pose_size), mech);
  self->turn = fw_turn_place (fw_room_for (&self->turn_room, turn_size), mech, FW_SOLVED_STEPS);
  fw_turn_solve (self->turn, mech);
  find_trouble (self);
  self->scene = (FwScene) { .mechanism = mech, .pose = self->pose, .turn = self->turn,
                            .troubles = &self->troubles, .scratch = scratch };
}

void
fw_solved_turn_to (FwSolved *self, double crank)
{
  fw_pose_solve (self->pose, self->mech, crank);
}

void
fw_solved_clear (FwSolved *self)
{
  g_clear_pointer (&self->strength, fw_strength_free);
  g_clear_pointer (&self->mech, fw_mechanism_free);
  g_free (self->pose_room.memory);
  g_free (self->scratch_room.memory);
  g_free (self->turn_room.memory);
  g_free (self->forces_room.memory);
}
