#include "app/canvasprivate.h"
#include "app/ghostdrag.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>

#define CLICK 4.0      /* px a press may wander and still be a click */
#define PICK_REACH 6.0

gboolean
fw_handle_same (const FwHandle *a, const FwHandle *b)
{
  return a->kind == b->kind && a->index == b->index && a->component == b->component;
}

static const FwHandle *
handle_at (FwCanvas *self, double x, double y)
{
  const FwHandle *nearest = NULL;
  double best = FW_CANVAS_REACH;

  for (int i = 0; i < self->n_handles; i++)
    {
      double distance = hypot (self->handles[i].at.x - x, self->handles[i].at.y - y);
      if (distance < best)
        {
          best = distance;
          nearest = &self->handles[i];
        }
    }
  return nearest;
}

/* ---- A handle on the move ---- */

static void
move_free (FwHandleMove *move)
{
  fw_mechanism_free ((FwMechanism *) move->scene.mechanism);
  free ((FwPose *) move->scene.pose);
  free (move->scene.scratch);
  g_free (move);
}

/* The session's mechanism is rebuilt at every step, so the move keeps one of its own. */
static FwHandleMove *
move_new (FwSession *session, const FwCamera *camera, const FwHandle *handle)
{
  FwMechanism *mechanism = NULL;
  const FwDesign *design = fw_document_design (fw_session_document (session));

  if (fw_mechanism_build (design, &mechanism, NULL) != FW_OK)
    return NULL;
  FwHandleMove *move = g_new0 (FwHandleMove, 1);
  FwPose *pose = fw_pose_new (mechanism);
  *move = (FwHandleMove) { .scene = { .mechanism = mechanism, .pose = pose, .scratch = fw_pose_new (mechanism) },
                           .camera = *camera,
                           .handle = *handle };
  if (pose == NULL || move->scene.scratch == NULL)
    {
      move_free (move);
      return NULL;
    }
  fw_pose_solve (pose, mechanism, fw_session_crank (session));
  return move;
}

gboolean
fw_canvas_move_begin (FwCanvas *self, const FwHandle *handle)
{
  fw_canvas_move_finish (self);
  if (fw_session_document (self->session) == NULL)
    return FALSE;
  self->move = move_new (self->session, &self->camera, handle);
  if (self->move == NULL)
    return FALSE;
  fw_session_end_merge (self->session);
  fw_session_set_dragging (self->session, TRUE);
  return TRUE;
}

void
fw_canvas_move_to (FwCanvas *self, double dx, double dy)
{
  FwHandleMove *move = self->move;
  FwDragChange moved[3];
  FwChange changes[3];

  int n = fw_view_drag (&move->scene, &move->camera, &move->handle, dx, dy, moved);
  if (n <= 0)
    return;
  for (int i = 0; i < n; i++)
    changes[i] = (FwChange) { .param = moved[i].param, .value = moved[i].value };
  char *label = fw_param_label (move->scene.mechanism->design, changes[0].param);
  char *key = g_strdup_printf ("handle %d %d %d", move->handle.kind, move->handle.index, move->handle.component);

  if (fw_session_change (self->session, changes, n, label, key))
    move->changed = TRUE;
  g_free (label);
  g_free (key);
}

void
fw_canvas_move_finish (FwCanvas *self)
{
  if (self->move == NULL)
    return;
  g_clear_pointer (&self->move, move_free);
  fw_session_set_dragging (self->session, FALSE);
  fw_session_end_merge (self->session);
}

void
fw_canvas_move_cancel (FwCanvas *self)
{
  gboolean changed = self->move != NULL && self->move->changed;

  fw_canvas_move_finish (self);
  if (changed)
    fw_session_undo (self->session);
}

char *
fw_canvas_handle_words (FwCanvas *self, const FwHandle *handle)
{
  const FwScene *scene = fw_session_scene (self->session);
  FwDragChange numbers[3];
  GString *words = g_string_new (NULL);

  int n = fw_view_drag (scene, &self->camera, handle, 0, 0, numbers);
  for (int i = 0; i < n; i++)
    {
      const FwDesign *design = scene->mechanism->design;
      char *label = fw_param_label (design, numbers[i].param);
      char *value = fw_units_format (fw_param_get (design, numbers[i].param), fw_param_unit (numbers[i].param),
                                     fw_session_lengths (self->session), -1);
      if (i > 0)
        g_string_append_c (words, '\n');
      /* Translators: name of a number and its value. */
      g_string_append_printf (words, C_("number", "%s: %s"), label, value);
      g_free (label);
      g_free (value);
    }
  if (n > 0)
    return g_string_free (words, FALSE);
  g_string_free (words, TRUE);
  return fw_handle_label (scene->mechanism, handle);
}

/* ---- Mouse ---- */

static void
canvas_set_cursor (FwCanvas *self)
{
  const char *name = NULL;

  if (self->hold == FW_HOLD_PAN || self->hold == FW_HOLD_HANDLE || self->hold == FW_HOLD_PANEL)
    name = "grabbing";
  else if (self->has_marked)
    name = "grab";
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), name);
}

static void
on_motion (GtkEventControllerMotion *controller, double x, double y, FwCanvas *self)
{
  /* The toolkit repeats the place of a pointer at rest; what the keys chose stands meanwhile. */
  gboolean rests = x == self->pointer.x && y == self->pointer.y;

  self->pointer = (FwVec2) { x, y };
  if (rests || self->pointed || self->hold != FW_HOLD_NOTHING)
    return;
  fw_canvas_find_handles (self);
  const FwHandle *handle = handle_at (self, x, y);
  if (handle == NULL && self->move != NULL)
    return; /* the keys are at work on it */
  if ((handle != NULL) != self->has_marked || (handle != NULL && !fw_handle_same (handle, &self->marked)))
    {
      fw_canvas_end_nudge (self);
      fw_canvas_mark (self, handle);
    }
  canvas_set_cursor (self);
}

static void
on_leave (GtkEventControllerMotion *controller, FwCanvas *self)
{
  if (self->hold == FW_HOLD_NOTHING && self->move == NULL)
    fw_canvas_mark (self, NULL);
}

static void
canvas_hold_pan (FwCanvas *self)
{
  self->hold = FW_HOLD_PAN;
  self->pan_camera = self->camera;
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, FwCanvas *self)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (!fw_canvas_is_ready (self) || button > GDK_BUTTON_MIDDLE)
    return;
  gtk_widget_grab_focus (GTK_WIDGET (self));
  fw_canvas_end_nudge (self);
  fw_canvas_find_handles (self);
  const FwHandle *handle = handle_at (self, x, y);

  if (button == GDK_BUTTON_MIDDLE || (state & GDK_SHIFT_MASK))
    canvas_hold_pan (self);
  else if (handle != NULL && fw_canvas_move_begin (self, handle))
    {
      self->hold = FW_HOLD_HANDLE;
      fw_canvas_mark (self, handle);
    }
  else if ((self->pulling || (state & GDK_CONTROL_MASK)) && fw_ghost_drag_begin (self, x, y))
    self->hold = FW_HOLD_PANEL;
  else
    self->hold = FW_HOLD_PRESS;
  canvas_set_cursor (self);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, FwCanvas *self)
{
  if (self->hold == FW_HOLD_PAN)
    fw_canvas_pan_to (self, self->pan_camera.x + dx, self->pan_camera.y + dy);
  else if (self->hold == FW_HOLD_HANDLE && (self->move->changed || hypot (dx, dy) >= CLICK / 2))
    fw_canvas_move_to (self, dx, dy);
  else if (self->hold == FW_HOLD_PANEL && hypot (dx, dy) >= CLICK)
    fw_ghost_drag_to (self, dx, dy);
}

static void
canvas_pick (FwCanvas *self, double x, double y)
{
  FwPart part;
  gboolean found = fw_view_pick (fw_session_scene (self->session), &self->camera, x, y, PICK_REACH, &part);

  fw_session_pick (self->session, found ? &part : NULL);
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, FwCanvas *self)
{
  FwHoldKind hold = self->hold;
  double x, y;

  self->hold = FW_HOLD_NOTHING;
  fw_canvas_move_finish (self);
  fw_ghost_drag_finish (self);
  canvas_set_cursor (self);
  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if ((hold == FW_HOLD_PRESS || hold == FW_HOLD_HANDLE || hold == FW_HOLD_PANEL) && hypot (dx, dy) < CLICK)
    canvas_pick (self, x, y);
}

static void
on_drag_cancel (GtkGesture *gesture, GdkEventSequence *sequence, FwCanvas *self)
{
  self->hold = FW_HOLD_NOTHING;
  fw_canvas_move_cancel (self);
  fw_ghost_drag_cancel (self);
  canvas_set_cursor (self);
}

static void
on_pressed (GtkGestureClick *gesture, int n_press, double x, double y, FwCanvas *self)
{
  FwPart part;

  if (n_press != 2 || !fw_canvas_is_ready (self) || handle_at (self, x, y) != NULL)
    return;
  if (!fw_view_pick (fw_session_scene (self->session), &self->camera, x, y, PICK_REACH, &part))
    fw_canvas_fit (self);
}

static gboolean
on_scroll (GtkEventControllerScroll *controller, double dx, double dy, FwCanvas *self)
{
  if (self->hold != FW_HOLD_NOTHING || dy == 0)
    return GDK_EVENT_PROPAGATE;
  fw_canvas_end_nudge (self);
  fw_canvas_zoom_about (self, exp (-0.15 * dy), self->pointer.x, self->pointer.y);
  return GDK_EVENT_STOP;
}

static void
on_pinch_begin (GtkGesture *gesture, GdkEventSequence *sequence, FwCanvas *self)
{
  fw_canvas_move_cancel (self);
  self->hold = FW_HOLD_NOTHING;
  self->zoom_scale = self->camera.scale;
}

static void
on_pinch (GtkGestureZoom *gesture, double scale, FwCanvas *self)
{
  double x = self->width / 2.0, y = self->height / 2.0;

  gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y);
  if (self->camera.scale > 0 && self->zoom_scale > 0)
    fw_canvas_zoom_about (self, self->zoom_scale * scale / self->camera.scale, x, y);
}

static void
canvas_add_drag (FwCanvas *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), 0);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), self);
  g_signal_connect (drag, "cancel", G_CALLBACK (on_drag_cancel), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
}

void
fw_canvas_add_mouse (FwCanvas *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkGesture *pinch = gtk_gesture_zoom_new ();

  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect (motion, "leave", G_CALLBACK (on_leave), self);
  g_signal_connect (click, "pressed", G_CALLBACK (on_pressed), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (on_scroll), self);
  g_signal_connect (pinch, "begin", G_CALLBACK (on_pinch_begin), self);
  g_signal_connect (pinch, "scale-changed", G_CALLBACK (on_pinch), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pinch));
  canvas_add_drag (self);
}
