#include "app/sessionsolve.h"

#include <math.h>
#include <string.h>

#include "doc/loadwords.h"
#include "swing/swingtrouble.h"

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
  const FwStrength *strength = self->known ? self->whole->strength : NULL;
  int n = strength == NULL ? 0 : strength->n_parts;
  FwLoadRow *rows = fw_room_for (&self->rows_room, sizeof *rows * (gsize) (2 * n + self->mech->n_members + 1));

  self->scene.rows = rows;
  self->scene.n_rows = 0;
  for (int pass = 0; pass < 2; pass++)
    for (int i = 0; i < n; i++)
      {
        const FwPartStrength *part = &strength->parts[i];
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
  if (self->known)
    {
      fw_whole_find_bearings (self->whole, self->mech);
      self->scene.bearings = self->whole->bearings;
    }
}

static void
take_bounces (FwSolved *self, const FwBounce *list, int n)
{
  memcpy (self->bounces, list, sizeof *list * (gsize) MIN (n, FW_SOLVED_BOUNCES));
  self->scene.bounces = self->bounces;
  self->scene.n_bounces = MIN (n, FW_SOLVED_BOUNCES);
}

void
fw_solved_take_worn (FwSolved *self, const FwBounce *list, int n)
{
  self->worn = TRUE;
  take_bounces (self, list, n);
}

/* ---- The design ---- */

/* Mechanism and pose; of the whole turn nothing is known. */
static void
take_mechanism (FwSolved *self, FwMechanism *mech, double crank)
{
  gsize pose_size = fw_pose_size (mech);

  if (self->whole == NULL)
    self->whole = g_new0 (FwWhole, 1);
  fw_whole_empty (self->whole); /* reads the mechanism before */
  self->known = self->worn = FALSE;
  self->swings = NULL;
  self->turns = 0;
  fw_mechanism_free (self->mech);
  self->mech = mech;
  self->pose = fw_pose_place (fw_room_for (&self->pose_room, pose_size), mech);
  fw_pose_solve (self->pose, mech, crank);
  FwPose *scratch = fw_pose_place (fw_room_for (&self->scratch_room, pose_size), mech);
  self->troubles = self->whole->troubles;
  self->scene = (FwScene) { .mechanism = mech, .pose = self->pose, .scratch = scratch, .troubles = &self->troubles,
                            .arrow_N = self->arrow_N };
}

static void
show_whole (FwSolved *self)
{
  self->known = TRUE;
  self->troubles = self->whole->troubles;
  self->scene.turn = self->whole->turn;
  self->scene.loads = self->whole->forces;
  if (self->swings != NULL)
    fw_swing_trouble_find (self->swings, &self->troubles);
  list_rows (self);
  if (!self->worn)
    take_bounces (self, self->whole->bounces, self->whole->n_bounces);
  if (self->bearings)
    fw_solved_find_bearings (self);
}

void
fw_solved_take (FwSolved *self, FwMechanism *mech, double crank)
{
  take_mechanism (self, mech, crank);
  fw_whole_solve (self->whole, mech, self->bearings, NULL, NULL);
  show_whole (self);
}

void
fw_solved_take_pose (FwSolved *self, FwMechanism *mech, double crank)
{
  take_mechanism (self, mech, crank);
}

void
fw_solved_take_whole (FwSolved *self, FwWhole *whole)
{
  fw_whole_free (self->whole);
  self->whole = whole;
  show_whole (self);
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
  if (self->known)
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
  g_clear_pointer (&self->whole, fw_whole_free); /* reads the mechanism */
  g_clear_pointer (&self->mech, fw_mechanism_free);
  g_free (self->pose_room.memory);
  g_free (self->scratch_room.memory);
  g_free (self->rows_room.memory);
  g_free (self->swung_room.memory);
  g_free (self->swing_room.memory);
}
