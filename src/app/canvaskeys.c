#include "app/canvasprivate.h"

#include <glib/gi18n.h>

#include "app/ghostdrag.h"

#define NUDGE_MM 1.0
#define PAN_STEP 40.0
#define REST_MS 900 /* presses closer together than this are one step of undo */

void
fw_canvas_end_nudge (FwCanvas *self)
{
  if (self->move_end == 0)
    return;
  g_clear_handle_id (&self->move_end, g_source_remove);
  fw_canvas_move_finish (self);
}

static gboolean
on_rest (gpointer data)
{
  FwCanvas *self = data;

  self->move_end = 0;
  fw_canvas_move_finish (self);
  return G_SOURCE_REMOVE;
}

static void
canvas_nudge (FwCanvas *self, double x_mm, double y_mm)
{
  if (self->move_end != 0)
    g_clear_handle_id (&self->move_end, g_source_remove);
  if (self->move == NULL)
    {
      if (!fw_canvas_move_begin (self, &self->marked))
        return;
      self->nudge_x = self->nudge_y = 0;
    }
  self->nudge_x += x_mm * self->camera.scale;
  self->nudge_y += y_mm * self->camera.scale;
  fw_canvas_move_to (self, self->nudge_x, self->nudge_y);
  self->move_end = g_timeout_add (REST_MS, on_rest, self);
}

/* From handle to handle; from none to the first or last. */
static gboolean
canvas_mark_next (FwCanvas *self, int direction)
{
  int at = direction > 0 ? -1 : self->n_handles;

  fw_canvas_end_nudge (self);
  fw_canvas_find_handles (self);
  if (self->n_handles == 0)
    return FALSE;
  for (int i = 0; self->has_marked && i < self->n_handles; i++)
    if (fw_handle_same (&self->handles[i], &self->marked))
      at = i;
  at = (at + direction + self->n_handles) % self->n_handles;
  fw_canvas_mark (self, &self->handles[at]);
  return TRUE;
}

static gboolean
key_arrow (guint keyval, int *x, int *y)
{
  *x = *y = 0;
  switch (keyval)
    {
    case GDK_KEY_Left: case GDK_KEY_KP_Left: *x = -1; return TRUE;
    case GDK_KEY_Right: case GDK_KEY_KP_Right: *x = 1; return TRUE;
    case GDK_KEY_Up: case GDK_KEY_KP_Up: *y = -1; return TRUE;
    case GDK_KEY_Down: case GDK_KEY_KP_Down: *y = 1; return TRUE;
    default: return FALSE;
    }
}

static gboolean
canvas_arrow (FwCanvas *self, int x, int y, GdkModifierType state)
{
  double mm = state & GDK_SHIFT_MASK ? 10 * NUDGE_MM : NUDGE_MM;

  double degrees = state & GDK_SHIFT_MASK ? 5 : 0.5;

  if (self->pulling && !self->has_marked && y != 0 && !(state & GDK_CONTROL_MASK) && self->hold == FW_HOLD_NOTHING
      && fw_ghost_nudge (self, -y * degrees))
    return TRUE;
  if (state & GDK_CONTROL_MASK)
    fw_canvas_pan_to (self, self->camera.x - x * PAN_STEP, self->camera.y - y * PAN_STEP);
  else if (self->hold != FW_HOLD_NOTHING)
    return TRUE;
  else if (!self->has_marked)
    return canvas_mark_next (self, x + y);
  else
    canvas_nudge (self, x * mm, y * mm);
  return TRUE;
}

static gboolean
canvas_zoom_key (FwCanvas *self, guint keyval)
{
  switch (keyval)
    {
    case GDK_KEY_plus: case GDK_KEY_equal: case GDK_KEY_KP_Add:
      fw_canvas_zoom_in (self);
      return TRUE;
    case GDK_KEY_minus: case GDK_KEY_KP_Subtract:
      fw_canvas_zoom_out (self);
      return TRUE;
    case GDK_KEY_0: case GDK_KEY_KP_0:
      fw_canvas_fit (self);
      return TRUE;
    default:
      return FALSE;
    }
}

/* Escape takes a move back, or lets the handle go. */
static gboolean
canvas_escape (FwCanvas *self)
{
  if (self->move != NULL)
    {
      self->hold = self->hold == FW_HOLD_HANDLE ? FW_HOLD_NOTHING : self->hold;
      g_clear_handle_id (&self->move_end, g_source_remove);
      fw_canvas_move_cancel (self);
      return TRUE;
    }
  if (self->pull != NULL)
    {
      self->hold = self->hold == FW_HOLD_PANEL ? FW_HOLD_NOTHING : self->hold;
      fw_ghost_drag_cancel (self);
      return TRUE;
    }
  if (!self->has_marked)
    return FALSE;
  fw_canvas_mark (self, NULL);
  return TRUE;
}

static gboolean
on_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, FwCanvas *self)
{
  int x, y;

  if (!fw_canvas_is_ready (self) || (state & GDK_ALT_MASK))
    return GDK_EVENT_PROPAGATE;
  if (key_arrow (keyval, &x, &y))
    return canvas_arrow (self, x, y, state);
  if (keyval == GDK_KEY_bracketleft || keyval == GDK_KEY_bracketright)
    return canvas_mark_next (self, keyval == GDK_KEY_bracketleft ? -1 : 1);
  if (keyval == GDK_KEY_Escape)
    return canvas_escape (self);
  if (state & GDK_CONTROL_MASK)
    return canvas_zoom_key (self, keyval);
  return GDK_EVENT_PROPAGATE;
}

static void
on_focus_left (GtkEventControllerFocus *controller, FwCanvas *self)
{
  fw_canvas_end_nudge (self);
  if (self->hold == FW_HOLD_NOTHING)
    fw_canvas_mark (self, NULL);
}

void
fw_canvas_add_keys (FwCanvas *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  g_signal_connect (focus, "leave", G_CALLBACK (on_focus_left), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}
