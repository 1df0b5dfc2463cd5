#include "app/ghostdrag.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>

#include "app/aimedits.h"
#include "app/aimghosts.h"

#define DEGREES (180 / G_PI)
#define GRAIN 0.5 /* degrees: what a hand can mean */
#define REACH 6.0
#define REST_MS 900 /* presses closer together than this are one step of undo */

struct FwGhostDrag
{
  FwScene scene; /* mechanism and pose are owned: of the beginning */
  FwCamera camera;
  int member;
  FwVec2 from;
  double angle;  /* rad, now */
  gboolean moved;
};

static void
drag_free (FwGhostDrag *drag)
{
  fw_mechanism_free ((FwMechanism *) drag->scene.mechanism);
  free ((FwPose *) drag->scene.pose);
  g_free (drag);
}

/* The document's own, not the hanging one that is shown swinging. */
static FwGhostDrag *
drag_new (FwCanvas *self, int member, FwVec2 from)
{
  FwMechanism *mech = NULL;
  if (fw_mechanism_build (fw_document_design (fw_session_document (self->session)), &mech, NULL) != FW_OK)
    return NULL;
  FwPose *pose = fw_pose_new (mech);
  if (pose == NULL || member >= mech->n_members)
    {
      free (pose);
      fw_mechanism_free (mech);
      return NULL;
    }
  fw_pose_solve (pose, mech, fw_session_crank (self->session));
  FwGhostDrag *drag = g_new0 (FwGhostDrag, 1);
  *drag = (FwGhostDrag) { .scene = { .mechanism = mech, .pose = pose }, .camera = self->camera, .member = member, .from = from,
                          .angle = fw_pose_angle (pose, mech, member) };
  return drag;
}

/* The name by which wishes speak of a panel: its own for the right one, NAME.left for the other. */
static const char *
wished_name (const FwMechanism *mech, int member)
{
  const FwMember *m = &mech->members[member];
  return m->left ? m->name : mech->design->panels[m->panel].name;
}

/* The wish there is for this panel at this crank angle; NULL: none. */
static const FwWish *
wish_there (FwCanvas *self, const FwMechanism *mech, int member)
{
  const FwWishes *wishes = fw_session_wishes (self->session);
  double crank = round (fw_session_crank (self->session) * DEGREES * 10) / 10;
  for (int i = 0; i < wishes->n_list; i++)
    {
      const FwWish *w = &wishes->list[i];
      if (w->kind == FW_WISH_ANGLE && g_strcmp0 (w->part, wished_name (mech, member)) == 0 && fabs (w->crank_deg - crank) < 0.05
          && w->least == w->most)
        return w;
    }
  return NULL;
}

static void
drag_show (FwCanvas *self)
{
  FwGhostDrag *drag = self->pull;
  g_autofree char *angle = fw_units_format (drag->angle * DEGREES, FW_UNIT_DEG, FW_LENGTHS_MM, 1);
  /* Translators: a panel and the angle it is pulled to */
  g_autofree char *name = g_strdup_printf (_ ("%s at %s"), drag->scene.mechanism->members[drag->member].name, angle);
  fw_session_pull_ghost (self->session, drag->member, drag->angle, name);
}

gboolean
fw_ghost_drag_begin (FwCanvas *self, double x, double y)
{
  FwPart part;
  if (!fw_view_pick (fw_session_scene (self->session), &self->camera, x, y, REACH, &part) || part.kind != FW_PART_MEMBER)
    return FALSE;
  fw_ghost_drag_cancel (self);
  self->pull = drag_new (self, part.index, (FwVec2) { x, y });
  return self->pull != NULL;
}

void
fw_ghost_drag_to (FwCanvas *self, double dx, double dy)
{
  FwGhostDrag *drag = self->pull;
  if (drag == NULL)
    return;
  FwVec2 to = { drag->from.x + dx, drag->from.y + dy };
  double angle = fw_ghost_pulled (&drag->scene, &drag->camera, drag->member, drag->from, to, drag->angle);
  drag->angle = round (angle * DEGREES / GRAIN) * GRAIN / DEGREES;
  drag->moved = TRUE;
  drag_show (self);
}

static void
drag_wish (FwCanvas *self)
{
  const FwGhostDrag *drag = self->pull;
  double degrees = round (drag->angle * DEGREES * 10) / 10;
  const char *part = wished_name (drag->scene.mechanism, drag->member);
  FwWish wish = { .kind = FW_WISH_ANGLE, .part = g_strdup (part), .least = degrees, .most = degrees, .weight = 1,
                  .crank_deg = round (fw_session_crank (self->session) * DEGREES * 10) / 10 };
  g_autoptr (GError) error = NULL;
  FwWishes *wishes = fw_wishes_copy (fw_session_wishes (self->session));
  int at = fw_wishes_put (wishes, wish);
  g_autofree char *words = fw_wish_words (&wishes->list[at], fw_session_lengths (self->session));
  if (!fw_session_check_wishes (self->session, wishes, &error))
    {
      fw_wishes_free (wishes);
      fw_session_say (self->session, "%s", error->message);
      fw_session_pull_ghost (self->session, -1, 0, NULL);
      return;
    }
  if (fw_session_set_wishes (self->session, wishes, _ ("Wish where a panel should be")))
    /* Translators: %s is a wish, e.g. "arm at crank angle 90° 12°" */
    fw_session_say (self->session, _ ("Wished for: %s"), words);
}

void
fw_ghost_drag_finish (FwCanvas *self)
{
  g_clear_handle_id (&self->pull_end, g_source_remove);
  if (self->pull == NULL)
    return;
  if (self->pull->moved)
    drag_wish (self);
  g_clear_pointer (&self->pull, drag_free);
}

void
fw_ghost_drag_cancel (FwCanvas *self)
{
  g_clear_handle_id (&self->pull_end, g_source_remove);
  if (self->pull == NULL)
    return;
  g_clear_pointer (&self->pull, drag_free);
  fw_session_pull_ghost (self->session, -1, 0, NULL);
}

/* ---- Keys ---- */

static gboolean
on_rest (gpointer data)
{
  FwCanvas *self = data;
  self->pull_end = 0;
  fw_ghost_drag_finish (self);
  return G_SOURCE_REMOVE;
}

gboolean
fw_ghost_nudge (FwCanvas *self, double degrees)
{
  const FwPart *part = fw_session_picked (self->session);
  if (part == NULL || part->kind != FW_PART_MEMBER || !fw_canvas_is_ready (self))
    return FALSE;
  g_clear_handle_id (&self->pull_end, g_source_remove);
  if (self->pull == NULL || self->pull->member != part->index)
    {
      fw_ghost_drag_finish (self);
      self->pull = drag_new (self, part->index, (FwVec2) { 0, 0 });
      if (self->pull == NULL)
        return FALSE;
      const FwWish *there = wish_there (self, self->pull->scene.mechanism, part->index);
      if (there != NULL)
        self->pull->angle = there->least / DEGREES;
    }
  FwGhostDrag *drag = self->pull;
  const FwMember *m = &drag->scene.mechanism->members[drag->member];
  double to = round (drag->angle * DEGREES / GRAIN) * GRAIN + degrees;
  drag->angle = m->has_stops ? CLAMP (to / DEGREES, m->stop_min, m->stop_max) : to / DEGREES;
  drag->moved = TRUE;
  drag_show (self);
  self->pull_end = g_timeout_add (REST_MS, on_rest, self);
  return TRUE;
}

void
fw_canvas_set_pulling (FwCanvas *self, gboolean pulling)
{
  if (self->pulling && !pulling)
    fw_ghost_drag_finish (self);
  self->pulling = pulling;
}
