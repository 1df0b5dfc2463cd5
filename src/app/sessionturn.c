/* What comes of a design after its pose: its whole turn, how it swings, what would knock when worn, and the trouble
 * of all of that. */
#include "app/sessionprivate.h"

#include <glib/gi18n.h>
#include <math.h>

#define REST_MS 200

/* ---- The picked trouble ---- */

/* How far apart two crank angles are, the short way round. */
static double
crank_distance (double a, double b)
{
  return fabs (remainder (a - b, 2 * G_PI));
}

/* What was picked is kept in mind while the whole turn is not known. */
void
fw_session_mind_trouble (FwSession *self)
{
  if (!self->solved.known)
    return;
  int picked = self->strip.picked_trouble;
  self->minds_trouble = picked >= 0;
  self->minded = picked >= 0 ? self->solved.troubles.items[picked] : (FwTrouble) { 0 };
}

/* Trouble is known again by what it is, not by its place in the list; of several alike, the one whose
 * worst angle is nearest. */
void
fw_session_find_trouble_again (FwSession *self)
{
  double nearest = INFINITY;

  self->strip.picked_trouble = -1;
  for (int i = 0; self->minds_trouble && i < self->solved.troubles.n; i++)
    {
      const FwTrouble *t = &self->solved.troubles.items[i];
      double away = crank_distance (t->worst, self->minded.worst);
      if (!fw_trouble_same (&self->minded, t) || away >= nearest)
        continue;
      nearest = away;
      self->strip.picked_trouble = i;
    }
}

/* ---- What would knock when worn ---- */

void
fw_session_on_worn (gpointer data, const FwBounce *list, int n)
{
  FwSession *self = data;

  fw_solved_take_worn (&self->solved, list, n);
  fw_session_emit (self, FW_SESSION_BOUNCES);
}

static gboolean
on_rest (gpointer data)
{
  FwSession *self = data;

  self->rest = 0;
  if (!self->dragging && self->solved.known)
    fw_worn_job_ask (self->worn, self->solved.mech->design);
  return G_SOURCE_REMOVE;
}

/* What would knock when worn is looked for when the hand has let go. */
void
fw_session_rest_soon (FwSession *self)
{
  g_clear_handle_id (&self->rest, g_source_remove);
  fw_worn_job_forget (self->worn);
  if (self->solved.mech != NULL)
    self->rest = g_timeout_add (REST_MS, on_rest, self);
}

/* ---- The whole turn ---- */

/* Ordinary designs at once, so that a drag shows all of it in each frame; large ones beside the main loop. */
void
fw_session_solve (FwSession *self, FwMechanism *mech)
{
  if (fw_whole_is_large (mech))
    {
      fw_solved_take_pose (&self->solved, mech, self->crank);
      fw_whole_job_ask (self->wholes, mech->design);
      return;
    }
  fw_whole_job_forget (self->wholes);
  fw_solved_take (&self->solved, mech, self->crank);
}

/* The list of trouble is new, the design is not. */
static void
session_trouble_changed (FwSession *self)
{
  fw_session_find_trouble_again (self);
  fw_worker_set_troubles (self->worker, self->solved.troubles.n);
  fw_session_emit (self, FW_SESSION_DESIGN);
}

/* The whole turn of the design as it stands: that of any other was told to stop. */
void
fw_session_on_whole (gpointer data, FwWhole *whole)
{
  FwSession *self = data;

  if (whole == NULL)
    {
      fw_session_say (self, _("This design cannot be solved: there is not enough memory."));
      return;
    }
  fw_solved_take_whole (&self->solved, whole);
  fw_session_rest_soon (self);
  session_trouble_changed (self);
}

/* Slamming is trouble like any other, and comes after the rest of it. */
void
fw_session_on_swing (gpointer data)
{
  FwSession *self = data;
  int n = self->solved.troubles.n;

  fw_session_mind_trouble (self);
  fw_solved_take_swings (&self->solved, fw_swing_job_swings (self->swing));
  if (self->solved.troubles.n == n)
    fw_session_emit (self, FW_SESSION_DISPLAY);
  else
    session_trouble_changed (self);
}
