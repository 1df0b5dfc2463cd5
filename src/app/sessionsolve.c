#include "app/sessionsolve.h"

#include <math.h>
#include <string.h>

#include "core/loadtrouble.h"
#include "doc/loadwords.h"
#include "shop/build.h"
#include "strength/bearings.h"
#include "strength/strengthtrouble.h"
#include "swing/swingtrouble.h"

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
  fw_shop_trouble_find (self->mech, &self->troubles);
}

/* ---- For curves and arrows ---- */

static gboolean
has_values (const double *row)
{
  for (int i = 0; i < FW_STRENGTH_STEPS; i++)
    if (isfinite (row[i]) && row[i] != 0)
      return TRUE;
  return FALSE;
}

static void
add_row (FwSolved *self, FwLoadRow *rows, FwQuantityKind kind, int index, const double *values)
{
  if (has_values (values))
    rows[self->scene.n_rows++] = (FwLoadRow) { { kind, index }, FW_STRENGTH_STEPS, values };
}

/* Stress and sag of what strength knows. */
static void
list_rows (FwSolved *self)
{
  int n = self->strength == NULL ? 0 : self->strength->n_parts;
  FwLoadRow *rows = fw_room_for (&self->rows_room, sizeof *rows * (gsize) (2 * n + self->mech->n_members + 1));

  self->scene.rows = rows;
  self->scene.n_rows = 0;
  for (int pass = 0; pass < 2; pass++)
    for (int i = 0; i < n; i++)
      {
        const FwPartStrength *part = &self->strength->parts[i];
        int index = fw_stress_index (self->mech, part->part);
        if (pass == 0)
          add_row (self, rows, FW_Q_STRESS, index, part->stresses);
        else
          add_row (self, rows, FW_Q_SAG, index, part->swings);
      }
  for (int i = 0; self->swings != NULL && i < self->mech->n_members; i++)
    if (self->swings->members[i].period > 0)
      rows[self->scene.n_rows++]
          = (FwLoadRow) { { FW_Q_SWING, i }, self->swings->steps, self->swings->members[i].angle };
}

void
fw_solved_find_bearings (FwSolved *self)
{
  FwCrankFlex *flex = self->strength == NULL ? NULL : self->strength->crank;

  if (self->mech == NULL || self->scene.bearings.n > 0 || flex == NULL || flex->status != FW_FRAME_OK)
    return;
  FwVec3 *forces = fw_room_for (&self->bearings_room, (gsize) flex->n_bearings * FW_STRENGTH_STEPS * sizeof *forces);
  if (!fw_bearing_forces (flex, self->mech, self->forces, FW_STRENGTH_STEPS, forces))
    return;
  self->scene.bearings = (FwBearingLoads) { flex->n_bearings, FW_STRENGTH_STEPS, flex->bearings_mm, forces };
}

static void
take_bounces (FwSolved *self, int found)
{
  self->scene.bounces = self->bounces;
  self->scene.n_bounces = MIN (found, FW_SOLVED_BOUNCES);
}

void
fw_solved_take_worn (FwSolved *self, const FwBounce *list, int n)
{
  memcpy (self->bounces, list, sizeof *list * (gsize) MIN (n, FW_SOLVED_BOUNCES));
  take_bounces (self, n);
}

void
fw_solved_take (FwSolved *self, FwMechanism *mech, double crank)
{
  gsize pose_size = fw_pose_size (mech), turn_size = fw_turn_size (mech, FW_SOLVED_STEPS);

  self->swings = NULL;
  self->turns = 0;
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
                            .troubles = &self->troubles, .scratch = scratch, .loads = self->forces,
                            .arrow_N = self->arrow_N };
  list_rows (self);
  take_bounces (self, fw_bounces (self->forces, mech, self->bounces, FW_SOLVED_BOUNCES));
  if (self->bearings)
    fw_solved_find_bearings (self);
}

/* ---- Where hanging panels really are ---- */

static void
swing_to (FwSolved *self)
{
  self->scene.swung = NULL;
  if (self->swings == NULL || !self->show_swing)
    return;
  double *room = fw_room_for (&self->swing_room, 3 * sizeof *room * (gsize) (self->mech->n_members + 1));
  self->swung = fw_pose_place (fw_room_for (&self->swung_room, fw_pose_size (self->mech)), self->mech);
  fw_swing_pose (self->swings, self->swung, self->pose->crank + 2 * G_PI * self->turns, room);
  self->scene.swung = self->swung;
}

void
fw_solved_take_swings (FwSolved *self, const FwSwings *swings)
{
  self->swings = swings;
  fw_swing_trouble_find (swings, &self->troubles);
  list_rows (self);
  swing_to (self);
}

void
fw_solved_show_swing (FwSolved *self, gboolean show)
{
  self->show_swing = show;
  if (self->mech != NULL)
    swing_to (self);
}

/* The crank goes the short way: from just below a whole turn to just above nothing is a turn on. */
void
fw_solved_turn_to (FwSolved *self, double crank)
{
  double way = crank - self->pose->crank;
  self->turns += way < -G_PI ? 1 : way > G_PI ? -1 : 0;
  fw_pose_solve (self->pose, self->mech, crank);
  swing_to (self);
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
  g_free (self->rows_room.memory);
  g_free (self->bearings_room.memory);
  g_free (self->swung_room.memory);
  g_free (self->swing_room.memory);
}
