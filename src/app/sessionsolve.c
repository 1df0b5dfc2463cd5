#include "app/sessionsolve.h"

#include <math.h>

#include "core/loadtrouble.h"
#include "doc/loadwords.h"
#include "shop/build.h"
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
  FwLoadRow *rows = fw_room_for (&self->rows_room, 2 * sizeof *rows * (gsize) MAX (n, 1));

  self->scene.rows = rows;
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
}

/* One step: the frame's answer lies in the crank's own axes. */
static void
bear (FwSolved *self, FwCrankFlex *flex, FwVec3 *pins, FwVec3 *forces, int step)
{
  int steps = FW_STRENGTH_STEPS, every = FW_SOLVED_STEPS / FW_STRENGTH_STEPS;
  double crank = 2 * G_PI * step / steps, cosine = cos (crank), sine = sin (crank), h, z;
  FwRuns runs = self->mech->design->crank.runs;

  for (int i = 0; i < self->mech->n_pins; i++)
    pins[i] = self->forces->pins[i * FW_SOLVED_STEPS + step * every];
  fw_crank_flex_load (flex, pins, cosine, sine, self->forces->speed);
  for (int i = 0; i < flex->n_bearings; i++)
    {
      fw_crank_flex_reaction (flex, i, &h, &z);
      FwVec3 own = fw_vec3_add (fw_vec3_scale (fw_crank_h (runs), h), fw_vec3 (0, 0, z));
      forces[i * steps + step] = fw_crank_turn (runs, own, cosine, sine);
    }
}

void
fw_solved_find_bearings (FwSolved *self)
{
  FwCrankFlex *flex = self->strength == NULL ? NULL : self->strength->crank;

  if (self->mech == NULL || self->scene.bearings.n > 0 || flex == NULL || flex->status != FW_FRAME_OK)
    return;
  gsize n = (gsize) flex->n_bearings * FW_STRENGTH_STEPS, n_pins = (gsize) self->mech->n_pins;
  FwVec3 *forces = fw_room_for (&self->bearings_room, (n + n_pins) * sizeof *forces);
  for (int step = 0; step < FW_STRENGTH_STEPS; step++)
    bear (self, flex, forces + n, forces, step);
  self->scene.bearings = (FwBearingLoads) { flex->n_bearings, FW_STRENGTH_STEPS, flex->bearings_mm, forces };
}

static void
take_bounces (FwSolved *self, int found)
{
  self->scene.bounces = self->bounces;
  self->scene.n_bounces = MIN (found, FW_SOLVED_BOUNCES);
}

void
fw_solved_find_worn (FwSolved *self)
{
  if (self->mech != NULL)
    take_bounces (self, fw_reversals (self->forces, self->mech, self->bounces, FW_SOLVED_BOUNCES));
}

void
fw_solved_take (FwSolved *self, FwMechanism *mech, double crank)
{
  gsize pose_size = fw_pose_size (mech), turn_size = fw_turn_size (mech, FW_SOLVED_STEPS);

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
  g_free (self->rows_room.memory);
  g_free (self->bearings_room.memory);
}
